// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "database.hpp"

#include <fmt/format.h>
#include <sqlite3.h>

#include <cerrno>
#include <utility>

#include "sources.hpp"

namespace stilling::command {
namespace {

constexpr int longest_wait_ms = 30'000;  // for another that writes

std::string_view meaning_of(int code) noexcept {
  switch (code & 0xFF) {
    case SQLITE_NOTADB:
      return "this is no database of tests, nor any other that SQLite knows; it was left as it is";
    case SQLITE_CORRUPT:
      return "the file is damaged: what it says can no longer be trusted. Go back to a copy of it; "
             "`sqlite3 FILE .recover` may save what is left";
    case SQLITE_BUSY:
    case SQLITE_LOCKED: return "another program is writing into it and did not finish; try again";
    case SQLITE_FULL: return "no room is left for it; what it held before is still there";
    case SQLITE_READONLY: return "it may only be read, not written";
    case SQLITE_PERM:
    case SQLITE_AUTH: return "it may not be opened";
    case SQLITE_TOOBIG: return "too large to be kept";
    case SQLITE_CONSTRAINT: return "what was to be written contradicts what is there";
    default: return {};
  }
}

std::string words_for(sqlite3* of, int code) {
  if (code == SQLITE_READONLY_ROLLBACK || code == SQLITE_READONLY_RECOVERY)
    return "a write broke off, and what it left half done can only be undone where the file and "
           "its folder may be written";
  const int error = of != nullptr ? sqlite3_system_errno(of) : 0;
  const auto system = error != 0 ? words_of(error) : std::string{};
  if ((code & 0xFF) == SQLITE_IOERR) {
    if (error == ENOSPC || error == EFBIG || error == EDQUOT)
      return fmt::format("no room is left for it ({}); what it held before is still there", system);
    // SQLite tells no more of a write than that it failed; most often this is why.
    if (code == SQLITE_IOERR_WRITE && error == 0)
      return "writing failed, perhaps as no room is left for it; what it held before is still "
             "there";
    return fmt::format("reading or writing failed{}{}", system.empty() ? "" : ": ", system);
  }
  if (error == EISDIR) return "this is a folder";
  if ((code & 0xFF) == SQLITE_CANTOPEN)
    return fmt::format("cannot be opened{}{}", system.empty() ? "" : ": ", system);
  if (const auto known = meaning_of(code); !known.empty()) return std::string{known};
  return of != nullptr ? sqlite3_errmsg(of) : sqlite3_errstr(code);
}

void must(sqlite3* of, std::string_view name, int code) {
  if (code == SQLITE_OK || code == SQLITE_DONE || code == SQLITE_ROW) return;
  throw database_fault{fmt::format("{}: {}", name, words_for(of, code))};
}

/// SQLite reads meaning into some names: ":memory:", an empty one, "file:...".
std::string plain_path(const std::string& path) {
  return path.starts_with('/') ? path : "./" + path;
}

}  // namespace

void statement::finalise::operator()(sqlite3_stmt* s) const noexcept { sqlite3_finalize(s); }
void database::close::operator()(sqlite3* d) const noexcept { sqlite3_close_v2(d); }

void statement::must(int code) const { command::must(of_, name_, code); }

bool statement::next() {
  const int code = sqlite3_step(s_.get());
  if (code == SQLITE_ROW) return true;
  if (code != SQLITE_DONE) must(code);
  reset();
  return false;
}

void statement::reset() noexcept { sqlite3_reset(s_.get()); }

void statement::run() {
  while (next()) {
  }
}

void statement::bind_one(int place, std::int64_t x) {
  must(sqlite3_bind_int64(s_.get(), place, x));
}
void statement::bind_one(int place, double x) { must(sqlite3_bind_double(s_.get(), place, x)); }
void statement::bind_one(int place, std::nullopt_t) { must(sqlite3_bind_null(s_.get(), place)); }
void statement::bind_one(int place, std::string_view text) {
  // A null pointer would be NULL, and an empty text is not unknown.
  must(sqlite3_bind_text64(s_.get(), place, text.empty() ? "" : text.data(), text.size(),
                           SQLITE_TRANSIENT, SQLITE_UTF8));
}
void statement::bind_one(int place, std::span<const unsigned char> bytes) {
  if (bytes.empty()) return must(sqlite3_bind_zeroblob(s_.get(), place, 0));
  must(sqlite3_bind_blob64(s_.get(), place, bytes.data(), bytes.size(), SQLITE_TRANSIENT));
}

bool statement::is_null(int column) const {
  return sqlite3_column_type(s_.get(), column) == SQLITE_NULL;
}
std::int64_t statement::whole(int column) const { return sqlite3_column_int64(s_.get(), column); }
double statement::real(int column) const { return sqlite3_column_double(s_.get(), column); }
std::string statement::text(int column) const {
  const auto* bytes = static_cast<const char*>(sqlite3_column_blob(s_.get(), column));
  const int size = sqlite3_column_bytes(s_.get(), column);
  return bytes == nullptr ? std::string{} : std::string{bytes, static_cast<std::size_t>(size)};
}
std::optional<double> statement::maybe_real(int column) const {
  if (is_null(column)) return std::nullopt;
  return real(column);
}
std::optional<std::int64_t> statement::maybe_whole(int column) const {
  if (is_null(column)) return std::nullopt;
  return whole(column);
}

database::database(std::string path, access how) : path_{std::move(path)} {
  int flags = SQLITE_OPEN_READWRITE | SQLITE_OPEN_NOMUTEX | SQLITE_OPEN_EXRESCODE;
  if (how == access::made_where_missing) flags |= SQLITE_OPEN_CREATE;
  sqlite3* opened = nullptr;
  const int code = sqlite3_open_v2(plain_path(path_).c_str(), &opened, flags, nullptr);
  handle_.reset(opened);
  must(opened, path_, code);
  sqlite3_busy_timeout(opened, longest_wait_ms);
  // A file from elsewhere must not make us run what is written in it.
  sqlite3_db_config(opened, SQLITE_DBCONFIG_DEFENSIVE, 1, nullptr);
  sqlite3_db_config(opened, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, nullptr);
  sqlite3_db_config(opened, SQLITE_DBCONFIG_ENABLE_TRIGGER, 0, nullptr);
  sqlite3_db_config(opened, SQLITE_DBCONFIG_ENABLE_VIEW, 0, nullptr);
  run("PRAGMA foreign_keys = ON");
  run("PRAGMA synchronous = EXTRA");
  run("PRAGMA secure_delete = ON");
  run("PRAGMA cell_size_check = ON");
  run("PRAGMA temp_store = MEMORY");
}

statement database::prepare(sql words) {
  sqlite3_stmt* made = nullptr;
  const auto text = words.text();
  must(handle_.get(), path_,
       sqlite3_prepare_v2(handle_.get(), text.data(), static_cast<int>(text.size()), &made,
                          nullptr));
  return {handle_.get(), path_, made};
}

std::int64_t database::newest_row() const noexcept {
  return sqlite3_last_insert_rowid(handle_.get());
}

transaction::transaction(database& of, kind is) : of_{of} {
  // Asking for the right to write at once: one that reads first and writes later may find that
  // another was quicker, and would have to begin anew.
  if (is == kind::writing) of_.run("BEGIN IMMEDIATE");
  else of_.run("BEGIN");
}

transaction::~transaction() {
  if (!open_) return;
  try {
    of_.run("ROLLBACK");
  } catch (const database_fault&) {
    // SQLite has already undone it, where the fault was grave; else the next to open the file will.
  }
}

void transaction::commit() {
  of_.run("COMMIT");
  open_ = false;
}

}  // namespace stilling::command
