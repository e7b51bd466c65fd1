// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <stdexcept>
#include <string>
#include <string_view>

// One SQLite file: open, ask, change. The only place that knows SQLite. What is asked is a text
// that stands in the source, prepared; what comes from people is bound to it, never written into
// it: a text made at run time does not compile.

struct sqlite3;
struct sqlite3_stmt;

namespace stilling::command {

/// Words of SQL as they stand in the source.
class sql {
 public:
  consteval sql(const char* text) : text_{text} {}  // not explicit: a literal is what is meant
  [[nodiscard]] std::string_view text() const noexcept { return text_; }

 private:
  std::string_view text_;
};

/// What went wrong with the file, and what would mend it.
struct database_fault : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// A prepared statement. Places for values count from 1, as in SQL; columns of a row from 0.
class statement {
 public:
  /// Begins anew, with these values in the order of the call.
  template <class... T> statement& bind(const T&... values) {
    reset();
    int place = 0;
    (bind_one(++place, values), ...);
    return *this;
  }
  /// The next row; false where there is none.
  [[nodiscard]] bool next();
  /// To its end, and ready to be bound again. For what returns no rows.
  void run();

  [[nodiscard]] bool is_null(int column) const;
  [[nodiscard]] std::int64_t whole(int column) const;
  [[nodiscard]] double real(int column) const;
  [[nodiscard]] std::string text(int column) const;  // bytes of a blob, too
  [[nodiscard]] std::optional<double> maybe_real(int column) const;
  [[nodiscard]] std::optional<std::int64_t> maybe_whole(int column) const;

 private:
  friend class database;
  struct finalise {
    void operator()(sqlite3_stmt* s) const noexcept;
  };
  statement(sqlite3* of, std::string_view name, sqlite3_stmt* s) : of_{of}, name_{name}, s_{s} {}

  void bind_one(int place, std::int64_t x);
  void bind_one(int place, int x) { bind_one(place, std::int64_t{x}); }
  void bind_one(int place, bool x) { bind_one(place, std::int64_t{x}); }
  void bind_one(int place, double x);
  void bind_one(int place, std::string_view text);
  void bind_one(int place, const std::string& text) { bind_one(place, std::string_view{text}); }
  void bind_one(int place, std::span<const unsigned char> bytes);
  void bind_one(int place, std::nullopt_t);
  template <class T> void bind_one(int place, const std::optional<T>& x) {
    if (x) bind_one(place, *x);
    else bind_one(place, std::nullopt);
  }
  void reset() noexcept;
  void must(int code) const;

  sqlite3* of_;
  std::string_view name_;  // of the file, for complaints
  std::unique_ptr<sqlite3_stmt, finalise> s_;
};

class database {
 public:
  enum class access : std::uint8_t { existing, made_where_missing };

  /// Any name is a path: none is a URI or memory. Throws database_fault, as all below.
  database(std::string path, access how);
  database(const database&) = delete;  // its statements know it by its place
  database& operator=(const database&) = delete;

  [[nodiscard]] statement prepare(sql words);
  void run(sql words) { prepare(words).run(); }
  [[nodiscard]] std::int64_t newest_row() const noexcept;
  [[nodiscard]] const std::string& path() const noexcept { return path_; }

 private:
  struct close {
    void operator()(sqlite3* d) const noexcept;
  };
  std::string path_;  // as it was given
  std::unique_ptr<sqlite3, close> handle_;
};

/// All or nothing. What is not committed when this ends is undone.
class transaction {
 public:
  enum class kind : std::uint8_t { reading, writing };
  transaction(database& of, kind is);
  transaction(const transaction&) = delete;
  transaction& operator=(const transaction&) = delete;
  ~transaction();
  /// When this returns it is on the disk, and stays there when the power goes.
  void commit();

 private:
  database& of_;
  bool open_ = true;
};

}  // namespace stilling::command
