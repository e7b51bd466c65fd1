// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "options.hpp"
#include "proposal.hpp"
#include "spacings.hpp"
#include "stilling/session.hpp"
#include "text_form.hpp"

// How a log reads, without judging it: what `check` tells. Memory is bounded however long the log.

namespace stilling::command {

class survey {
 public:
  static constexpr std::size_t first_rows = 3;
  static constexpr std::size_t most_examples = 8;  // of breaks, notes; the rest is counted

  explicit survey(const log_options& asked);
  survey(const survey&) = delete;
  survey& operator=(const survey&) = delete;

  void push(std::string_view bytes);
  void advance(instant t);
  void finish();
  /// Nothing is said before the end.
  [[nodiscard]] std::string& text() noexcept { return nothing_; }

  struct examples {
    std::uint64_t count = 0;
    std::vector<std::string> first;
    void add(std::string text);
  };
  /// One field of the header, and what it was taken for.
  struct named_field {
    std::string name;
    std::string as;   // `stack_temp`, `time`; empty: not used
    std::string in;   // its unit; empty: none
    std::string why;  // where it is not used
  };
  struct found_break {
    std::uint64_t line;
    break_kind kind;
  };

  text_form bytes;
  std::uint64_t lines = 0;
  std::optional<layout> columns;    // the first
  std::uint64_t header_line = 0;    // 0: none, the names were given
  std::vector<named_field> fields;  // of the first layout
  std::uint64_t layouts = 0;
  std::optional<instant> first, last;
  spacings apart;                     // of rows with no break between them
  std::uint64_t line_of_longest = 0;  // the row after the longest silence
  log_summary summary;
  std::array<std::string, fault_count> first_fault;
  std::uint64_t break_count = 0;
  std::vector<found_break> breaks;
  examples notes;
  std::string rows;                   // header and first rows, as CSV
  std::vector<std::string> openings;  // the first lines that are no notes; of the header on

 private:
  [[nodiscard]] auto sink();
  void take(const record& r);
  void take(const layout& l);
  void take(const frame& f);
  void take(const rejection& r);
  void take(const assumption& a);
  void take(const note& n);
  void take(const discontinuity& d);
  void name_fields(const layout& l);

  using reader = decltype(decoder{decoder_settings{}} | timeline{timeline_settings{}});

  log_options asked_;
  framer<> framer_;
  reader reader_;
  presentation shown_;
  std::string current_, before_;   // lines, while there is no layout
  std::optional<instant> newest_;  // since the last break
  std::size_t shown_rows_ = 0;
  std::string nothing_;
};

/// The options that would explain more of it than is understood.
[[nodiscard]] proposal propose(const survey& s, const log_options& asked);

/// `file` as the person named it.
void write_survey(std::string& to, const survey& s, const log_options& asked,
                  std::string_view file);
void write_survey_json(std::string& to, const survey& s, const log_options& asked,
                       std::string_view file);

}  // namespace stilling::command
