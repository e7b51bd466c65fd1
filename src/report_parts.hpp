// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "stilling/report.hpp"

/// What a report says before it is laid out: the same sentences and tables for paper and for a
/// screen. In all texts a no-break space holds a number, its ± and its unit together, and a run of
/// underscores is a place to write on by hand. Private to src/.
namespace stilling::reporting {

struct paragraph {
  std::string text;
};
/// A question in a few words, and its answer.
struct answer {
  std::string question, text;
};
/// What happened, and when.
struct event {
  std::string time, text;
};
/// One of several.
struct bullet {
  std::string text;
};
/// Cells under heads. A line `across` stands before the cells it is about; those may be none.
struct grid {
  struct line {
    std::string across;
    std::vector<std::string> cells;
  };
  std::vector<std::string> heads;
  std::vector<line> lines;
};
/// Lines to write on by hand, each under its label.
struct blanks {
  std::vector<std::string> labels;
};
using part = std::variant<paragraph, answer, event, bullet, grid, blanks>;

struct section {
  std::string heading;
  std::vector<part> parts;
};
struct page {
  std::string title;
  std::vector<section> sections;
};

[[nodiscard]] page technician_page(const reported& r);
[[nodiscard]] page customer_page(const reported& r);

/// Sections of the technician's page, in the order they stand in; some may have no parts.
[[nodiscard]] section who_and_with_what(const reported& r);
[[nodiscard]] section dangers(const reported& r);
[[nodiscard]] section what_settled(const reported& r);
[[nodiscard]] section what_moves_changed(const reported& r);
[[nodiscard]] section what_that_saves(const reported& r);
[[nodiscard]] section what_was_found(const reported& r);
[[nodiscard]] section how_it_went(const reported& r);
[[nodiscard]] section how_it_was_read(const reported& r);
[[nodiscard]] section before_anything_is_changed(const reported& r);

}  // namespace stilling::reporting
