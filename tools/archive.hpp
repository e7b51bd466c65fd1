// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "chosen_tests.hpp"
#include "database.hpp"
#include "stilling/history.hpp"

// Finished tests in one file: the bytes of each log, what was judged of it and how, exactly.
// A test is there whole or not at all, whenever the program or the machine stops. Readers see the
// tests of one moment; they and a writer wait for each other for moments only.

namespace stilling::command {

/// What a log and settings are known by: the same bytes judged by the same settings are one test.
/// Name-based UUIDs (RFC 4122, version 5).
struct log_identity {
  std::string of_test;
  std::string of_log;
};
[[nodiscard]] log_identity identity_of(std::string_view log, std::string_view settings);

class archive {
 public:
  enum class access : std::uint8_t { existing, made_where_missing };

  /// Refuses a file that holds something else, or was written by a newer stilling. Throws
  /// database_fault, as all below.
  archive(const std::string& path, access how);

  struct answer {
    std::int64_t number = 0;
    bool was_there = false;                   // the same log, the same settings
    std::optional<std::int64_t> same_log{};   // kept before with other settings
  };
  /// On the disk when it returns. A test that is there already stays as it is, or is `replaced`
  /// under its number: judged anew, with the new particulars.
  answer keep(const kept_test& test, std::string_view log, bool replaced);

  /// In the order of their days. All of one moment.
  [[nodiscard]] std::vector<kept_test> tests(const chosen_tests& which);
  [[nodiscard]] std::string log_of(std::int64_t number);

  /// Deletes them. Nothing of them remains in the file when it returns.
  void forget(const std::vector<kept_test>& those);

 private:
  void look_at_header(access how);
  void write(const kept_test& test, std::string_view log, std::optional<std::int64_t> number);

  database file_;
};

}  // namespace stilling::command
