// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include "database.hpp"

// The tables of a file of tests. Numbers are binary64 in kelvin, mol/mol, pascal and seconds;
// uncertainties standard (k = 1), rates per second; times are nanoseconds on the log's own clock,
// since 1970 UTC where it has dates. NULL is unknown, never 0. A change here is a new schema.

namespace stilling::command {

/// "stil", at offset 68 of the file: what tells it from a database of something else.
inline constexpr std::int64_t application_id = 0x7374696C;
inline constexpr std::int64_t newest_schema = 1;

inline constexpr sql mark_application{"PRAGMA application_id = 1937009004"};
inline constexpr sql mark_schema{"PRAGMA user_version = 1"};

inline constexpr sql schema_1[]{
    "CREATE TABLE test ("
    " number INTEGER PRIMARY KEY AUTOINCREMENT,"  // none is ever given twice
    " identity TEXT NOT NULL UNIQUE,"  // of log and settings
    " log_identity TEXT NOT NULL,"
    " day INTEGER NOT NULL,"  // since 1970-01-01
    " file TEXT NOT NULL,"
    " version TEXT NOT NULL,"
    " settings TEXT NOT NULL,"  // a settings file that says the same
    " fuel TEXT NOT NULL,"
    " method TEXT NOT NULL,"
    " outcome TEXT NOT NULL,"
    " rows INTEGER NOT NULL, frames INTEGER NOT NULL, rejected INTEGER NOT NULL,"
    " log BLOB NOT NULL) STRICT",  // its bytes, as they were
    "CREATE INDEX test_by_log ON test (log_identity)",
    "CREATE TABLE particular ("
    " test INTEGER NOT NULL REFERENCES test ON DELETE CASCADE,"
    " name TEXT NOT NULL, words TEXT NOT NULL,"
    " PRIMARY KEY (test, name)) STRICT, WITHOUT ROWID",
    "CREATE TABLE logged_column ("
    " test INTEGER NOT NULL REFERENCES test ON DELETE CASCADE,"
    " channel TEXT NOT NULL, unit TEXT NOT NULL, present INTEGER NOT NULL,"
    " PRIMARY KEY (test, channel)) STRICT, WITHOUT ROWID",
    "CREATE TABLE reading ("
    " test INTEGER NOT NULL REFERENCES test ON DELETE CASCADE,"
    " place INTEGER NOT NULL,"  // 0: the first
    " declared INTEGER NOT NULL, began INTEGER NOT NULL, ended INTEGER, released INTEGER,"
    " last_seen INTEGER NOT NULL, end_reason TEXT NOT NULL,"
    " creeping INTEGER NOT NULL, hunting_period REAL, drift_corrected INTEGER NOT NULL,"
    " smoke REAL,"  // 0.5: a trace
    " PRIMARY KEY (test, place)) STRICT, WITHOUT ROWID",
    "CREATE TABLE measured ("
    " test INTEGER NOT NULL, reading INTEGER NOT NULL, channel TEXT NOT NULL,"
    " mean REAL NOT NULL, u REAL NOT NULL, degrees_of_freedom REAL NOT NULL,"
    " rate REAL NOT NULL, rate_bound REAL, remaining REAL, peak REAL, lag REAL,"
    " step REAL NOT NULL, coverage REAL NOT NULL, longest_gap REAL NOT NULL,"
    " count INTEGER NOT NULL, effective_count REAL NOT NULL, set_aside INTEGER NOT NULL,"
    " amplitude REAL,"   // of a swing
    " correction REAL,"  // part of the mean that was not indicated
    " PRIMARY KEY (test, reading, channel),"
    " FOREIGN KEY (test, reading) REFERENCES reading ON DELETE CASCADE) STRICT, WITHOUT ROWID",
    "CREATE TABLE used ("  // what figures were derived from; the instrument's error is in u
    " test INTEGER NOT NULL, reading INTEGER NOT NULL, channel TEXT NOT NULL,"
    " value REAL NOT NULL, u REAL NOT NULL,"
    " PRIMARY KEY (test, reading, channel),"
    " FOREIGN KEY (test, reading) REFERENCES reading ON DELETE CASCADE) STRICT, WITHOUT ROWID",
    "CREATE TABLE derived ("
    " test INTEGER NOT NULL, reading INTEGER NOT NULL, figure TEXT NOT NULL,"
    " value REAL, u REAL NOT NULL, by TEXT NOT NULL,"  // formula, or why there is no value
    " PRIMARY KEY (test, reading, figure),"
    " FOREIGN KEY (test, reading) REFERENCES reading ON DELETE CASCADE) STRICT, WITHOUT ROWID",
    "CREATE TABLE move ("
    " test INTEGER NOT NULL, reading INTEGER NOT NULL, place INTEGER NOT NULL,"
    " words TEXT NOT NULL, PRIMARY KEY (test, reading, place),"
    " FOREIGN KEY (test, reading) REFERENCES reading ON DELETE CASCADE) STRICT, WITHOUT ROWID",
    "CREATE TABLE finding ("
    " test INTEGER NOT NULL REFERENCES test ON DELETE CASCADE, place INTEGER NOT NULL,"
    " at INTEGER NOT NULL, finding TEXT NOT NULL, severity TEXT NOT NULL, quantity TEXT NOT NULL,"
    " value REAL, u REAL, threshold REAL, basis TEXT NOT NULL, brief TEXT NOT NULL,"
    " words TEXT NOT NULL, PRIMARY KEY (test, place)) STRICT, WITHOUT ROWID",
    "CREATE TABLE note ("
    " test INTEGER NOT NULL REFERENCES test ON DELETE CASCADE, place INTEGER NOT NULL,"
    " at INTEGER NOT NULL, words TEXT NOT NULL, PRIMARY KEY (test, place)) STRICT, WITHOUT ROWID",
    "CREATE TABLE assumption ("
    " test INTEGER NOT NULL REFERENCES test ON DELETE CASCADE, place INTEGER NOT NULL,"
    " words TEXT NOT NULL, PRIMARY KEY (test, place)) STRICT, WITHOUT ROWID",
};

}  // namespace stilling::command
