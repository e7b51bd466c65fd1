// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "stilling/combustion/combustion.hpp"
#include "stilling/combustion/finding.hpp"
#include "stilling/combustion/fuel.hpp"
#include "stilling/items/assumption.hpp"
#include "stilling/items/bookends.hpp"
#include "stilling/items/forecast.hpp"
#include "stilling/items/frame.hpp"
#include "stilling/items/layout.hpp"
#include "stilling/items/observation.hpp"
#include "stilling/items/reading.hpp"
#include "stilling/items/record.hpp"
#include "stilling/items/verdict.hpp"
#include "stilling/terms/channel.hpp"
#include "stilling/terms/unit.hpp"

/// The door where text goes out: items as JSON lines, as rows of CSV, as plain words for a person.
///
/// Every function appends to a string of the caller's and ends with a line feed; none prints.
/// Numbers do not know the host's locale, and the same items always make the same bytes. Times are
/// exact decimals of seconds. Uncertainty is written expanded, k = 2; rates per minute.
namespace stilling {

[[nodiscard]] std::string_view version() noexcept;

/// Words from outside, fit for a screen: control bytes and broken UTF-8 become U+FFFD.
[[nodiscard]] std::string printable(std::string_view text);
/// The exact decimal of a time, in seconds.
[[nodiscard]] std::string decimal_seconds(instant t);

/// How far a zone's clocks are from UTC, as the system's database has it.
struct wall_clock {
  /// Seconds east of UTC at so many Unix seconds; null: times are told as UTC.
  std::int32_t (*offset_at)(const void* zone, std::int64_t unix_seconds) noexcept = nullptr;
  const void* zone = nullptr;
  std::string name{};  // America/New_York
};

/// How results are shown: the log's own units, unless others are asked for, and the fuel whose
/// figures are derived.
struct presentation {
  channel_set columns;  // what the log has
  std::array<unit, channel_count> units{unit::kelvin,   unit::kelvin,   unit::fraction,
                                        unit::fraction, unit::fraction, unit::fraction,
                                        unit::pascal,   unit::pascal};
  std::optional<unit> temperatures, pressures;  // asked for, in place of the log's own
  bool drift_correction = false;              // was asked for
  const fuel* burned = &no2_oil;
  derive_options how{};
  limit_set limits = residential_oil;
  wall_clock clock{};  // of the times in sentences, where the log has dates

  /// Takes columns and units of a layout that came into effect.
  void follow(const layout& l) noexcept;
  [[nodiscard]] unit unit_of(channel c) const noexcept { return units[index_of(c)]; }
};

/// `<channel>_<unit>`, as in the header of a log.
[[nodiscard]] std::string key_of(channel c, unit u);

/// What the whole log came to.
enum class outcome : std::uint8_t { settled, never_settled, cycling, idle, no_data };
[[nodiscard]] std::string_view name_of(outcome o) noexcept;

/// A burner that lit this often without once settling is cycling; our own choice.
inline constexpr std::size_t burns_of_a_cycle = 3;

/// Counts what passes, for the last word.
class log_summary {
 public:
  std::uint64_t rows = 0;    // lines that should have been rows, rejected ones included
  std::uint64_t frames = 0;  // what became of them
  std::uint64_t plateaus = 0;
  std::array<std::uint64_t, fault_count> rejected{};
  std::vector<burn> burns;
  std::vector<std::string> assumptions;  // `<kind>: <sentence>`
  bool fire_asked_for = true;            // no fire seen means idle

  void add(const frame& f) noexcept;
  void add(const rejection& r) noexcept;
  void add(const settled_reading& r) noexcept { plateaus += r.to ? 0U : 1U; }
  void add(const burn& b) { burns.push_back(b); }
  void add(const assumption& a);

  [[nodiscard]] outcome came_to() const noexcept;
  [[nodiscard]] std::uint64_t rejections() const noexcept;
  /// `assumptions`, and a question where a hot flue showed pressure in every row and suction in
  /// none: one of the two signs in use was taken for the other.
  [[nodiscard]] std::vector<std::string> questions_and_assumptions() const;

 private:
  void count_row(std::uint64_t line) noexcept;
  void count_draft(const frame& f) noexcept;
  std::uint64_t newest_line_ = 0;  // one row can be a frame and have a bad cell besides
  std::uint64_t hot_rows_of_pressure_ = 0;
  bool any_suction_ = false;
};

/// What was found, in words: what was seen, what it may mean, what to check first.
[[nodiscard]] std::string words_of(const observation& o, const presentation& as);
[[nodiscard]] std::string words_of(const finding& f, const presentation& as);
/// What was seen alone: for one that has been told before.
[[nodiscard]] std::string brief_words_of(const observation& o, const presentation& as);
[[nodiscard]] std::string brief_words_of(const finding& f, const presentation& as);
[[nodiscard]] severity severity_of(const observation& o) noexcept;

/// What a cell read in fresh air before and after, and what was made of that, in a sentence without
/// its full stop.
[[nodiscard]] std::string words_of(channel c, const bookend_pair& seen, const presentation& as);

/// Readings typed by hand, what follows from them and what was found.
struct typed_test {
  combustion figures;
  judge_options also;
  findings found;
  std::optional<estimate> room_co = {};  // in the air people breathe, mol/mol
};

/// What is wrong with a line, where, and what would mend it; for a person.
void write(std::string& to, const rejection& r);

/// One JSON object per line, its keys always in the same order.
namespace jsonl {

inline constexpr int schema = 1;

/// `file` empty: there is one log only, so that a file, a pipe and a replay give the same bytes.
/// `as` null: no layout was found.
void write_begin(std::string& to, std::string_view file, const layout* as);
void write(std::string& to, const phase_change& p);
void write(std::string& to, const settled_reading& r, const presentation& as);
void write(std::string& to, const forecast& f, const presentation& as);
void write(std::string& to, const observation& o, const presentation& as);
void write(std::string& to, instant when, const finding& f, const presentation& as);
void write(std::string& to, const discontinuity& d);
void write(std::string& to, const rejection& r);
/// `inputs`, `derived`, `findings`.
void write(std::string& to, const typed_test& t, const presentation& as);
void write(std::string& to, const log_summary& s, const presentation& as);

}  // namespace jsonl

/// One row per plateau. Columns are those of `as`; a value that is unknown is an empty cell.
namespace csv {

void write_header(std::string& to, const presentation& as);
void write(std::string& to, std::string_view file, const settled_reading& r,
           const presentation& as);

/// Frames and verdicts, for a look at one joint of the chain.
void write_frame_header(std::string& to, const presentation& as);
void write(std::string& to, const frame& f, const presentation& as);
void write_verdict_header(std::string& to, const presentation& as);
void write(std::string& to, const verdict& v, const presentation& as);

}  // namespace csv

/// For a person at the burner.
namespace plain {

/// The course of the test, a line at a time, while it happens.
void write(std::string& to, const phase_change& p);
void write(std::string& to, const settled_reading& opened, const presentation& as);
void write(std::string& to, const forecast& f, const presentation& as);
void write(std::string& to, const observation& o, const presentation& as,
           bool told_before = false);
void write(std::string& to, instant when, const finding& f, const presentation& as,
           bool told_before = false);
void write(std::string& to, const note& n);
void write(std::string& to, const discontinuity& d);
/// "the clock went back"
[[nodiscard]] std::string_view words_of(break_kind k) noexcept;

/// Pieces of sentences, for whoever lays a page out: "16:42:07", "stack temperature", "°F",
/// "471.2 ± 0.8 °F", and of a difference with its expanded uncertainty "+0.90 ± 0.20 %". A figure
/// that is a temperature, not a distance of two, has no difference here. `step`: of the display,
/// canonical, 0: unknown; nobody reads more than a decimal beyond it.
[[nodiscard]] std::string time_words(instant t);
[[nodiscard]] std::string_view name_words(channel c) noexcept;
[[nodiscard]] std::string_view unit_words(unit u) noexcept;
[[nodiscard]] std::string value_words(channel c, const channel_reading& r, const presentation& as);
[[nodiscard]] std::string value_words(figure f, const derived_value& d, const presentation& as);
[[nodiscard]] std::string change_words(channel c, double value, double expanded, double step,
                                       const presentation& as);
[[nodiscard]] std::string change_words(figure f, double value, double expanded,
                                       const presentation& as);

/// The settled readings side by side, each with its uncertainty.
void write_table(std::string& to, std::span<const settled_reading> closed, const presentation& as,
                 bool every_figure = false);
/// What was assumed, and where nothing settled, why.
void write(std::string& to, const log_summary& s, const presentation& as);
void write_cautions(std::string& to, bool with_readings, const presentation& as);

/// What was typed, what follows from it and how sure that is, what speaks against it. `steps`: also
/// what was worked out on the way.
void write(std::string& to, const typed_test& t, const presentation& as, bool steps);
/// How each figure came about: formula, numbers filled in, result, what its uncertainty is made of.
/// Every number on the page follows from others on the page, to the last digit.
void write_explanation(std::string& to, const combustion& y, const presentation& as);

}  // namespace plain
}  // namespace stilling
