// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "stilling/report.hpp"

/// Numbers, lists and names as the sections of a report share them. Private to src/.
namespace stilling::reporting {

/// Blanks become no-break spaces.
[[nodiscard]] std::string glued(std::string_view text);
/// What was said, made printable, or a place to write it on.
[[nodiscard]] std::string said_or_blank(std::string_view text);
/// "a, b and c"
[[nodiscard]] std::string listed(const std::vector<std::string>& those);
[[nodiscard]] std::string counted(std::size_t n, std::string_view one, std::string_view more);
[[nodiscard]] std::string capitalised(std::string sentence);

/// "526.5 ± 0.1", and the same with its unit.
[[nodiscard]] std::string number_of(channel c, const settled_row& row, const presentation& as);
[[nodiscard]] std::string value_of(channel c, const settled_row& row, const presentation& as);
/// Empty where the figure could not be derived.
[[nodiscard]] std::string number_of(figure f, const settled_row& row, const presentation& as);
[[nodiscard]] std::string value_of(figure f, const settled_row& row, const presentation& as);
/// "°F"
[[nodiscard]] std::string_view unit_of(channel c, const presentation& as) noexcept;

/// A difference in the unit it is written in, expanded, k = 2 or Student's t.
struct shown_difference {
  double value = 0, u = 0;
  bool real = false;
};
[[nodiscard]] shown_difference shown(channel c, const difference& d, const presentation& as);
[[nodiscard]] shown_difference shown(figure f, const difference& d, const presentation& as);
/// "+22.3 ± 0.4"; in brackets where it is no more than chance.
[[nodiscard]] std::string change_of(const shown_difference& d, int most_decimals);
/// Without the sign and brackets: "22.3 ± 0.4".
[[nodiscard]] std::string size_of(const shown_difference& d, int most_decimals);

/// The figure that tells how much heat stays: gross where any row has it, else net.
[[nodiscard]] figure heat_kept(const std::vector<settled_row>& rows) noexcept;
[[nodiscard]] std::string_view basis_of(figure f) noexcept;  // "gross"

/// "2", "trace"; empty: no spot was noted.
[[nodiscard]] std::string smoke_of(const settled_row& row, const visit& of);
/// "draft overfire off"
[[nodiscard]] std::string label_of(finding_kind k);

/// Between the first reading and the last something is known, or was guessed, to have been moved.
[[nodiscard]] bool anything_moved(const std::vector<settled_row>& rows) noexcept;
/// From the first reading to the last; none where nothing was moved, or heat is not known.
[[nodiscard]] std::optional<saving> saved_by_moves(const std::vector<settled_row>& rows,
                                                   const particulars& about) noexcept;

/// What was found of one kind: told once, with the times it was seen at.
struct found_kind {
  severity grave = severity::note;
  finding_kind what = finding_kind::co_high;
  std::vector<const discovery*> when;  // in the order they came
  /// At the last reading; none: that reading is not what tells.
  std::optional<bool> still;
};
/// Gravest first.
[[nodiscard]] std::vector<found_kind> found_kinds(const reported& r);
[[nodiscard]] std::string brief_words_of(const discovery& d, const presentation& as);

/// Places to write on.
inline constexpr std::string_view blank = "____________________";
inline constexpr std::string_view short_blank = "__________";

}  // namespace stilling::reporting
