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

#include "stilling/report.hpp"
#include "stilling/text.hpp"
#include "stilling/visit/comparison.hpp"
#include "stilling/visit/visit.hpp"
#include "stilling/visit/yearly_trend.hpp"

/// Finished tests as they are kept for years, and what they say together: of one appliance, how the
/// figures went, which change is more than chance, what was found each time. Values are canonical
/// (kelvin, mol/mol, pascal), uncertainties standard (k = 1), as everywhere; the writers show them
/// in units people know and expanded. Every writer appends to a string and prints nothing.
namespace stilling {

/// A figure as it was derived then.
struct kept_figure {
  std::optional<double> value;
  double standard_uncertainty = 0;
  std::string by;  // the formula's name; where there is no value the reason for that
  friend bool operator==(const kept_figure&, const kept_figure&) = default;
};

struct kept_reading {
  settled_reading read;
  lanes<estimate> used;  // what figures were made of; with the instrument's error, where stated
  std::array<kept_figure, figure_count> figures;
  std::optional<double> smoke;     // of the newest spot; 0.5 is a trace
  std::vector<std::string> moves;  // notes on what was moved before it
  friend bool operator==(const kept_reading&, const kept_reading&) = default;
};

struct kept_finding {
  instant at{};
  std::string kind, severity;     // by name
  std::string quantity;           // key of what `value` is, in canonical units
  std::optional<double> value, standard_uncertainty, limit;
  std::string basis, brief, text;  // in words, as they were then
  friend bool operator==(const kept_finding&, const kept_finding&) = default;
};

struct kept_note {
  instant at{};
  std::string text;
  friend bool operator==(const kept_note&, const kept_note&) = default;
};

struct kept_test {
  std::int64_t number = 0;      // in its file
  std::int64_t day = 0;         // since 1970-01-01
  std::string identity;         // of log and settings together
  std::string file;             // what the log was called
  particulars about;            // `date` as the person wrote it; empty: the log's own
  std::string version, settings;  // of the program; a settings file that says the same
  std::string fuel, method, outcome;
  std::uint64_t rows = 0, frames = 0, rejected = 0;
  channel_set columns;          // what the log had, and in which units
  std::array<unit, channel_count> units{};
  std::vector<kept_reading> readings;
  std::vector<kept_finding> found;
  std::vector<kept_note> notes;
  std::vector<std::string> assumptions;
};

/// 2026-11-25; the Gregorian calendar, from 0000 to 9999. None of a text that is no such day.
[[nodiscard]] std::string written_day(std::int64_t since_1970);
[[nodiscard]] std::optional<std::int64_t> day_of(std::string_view text) noexcept;
/// The day of a log's time, UTC; none where the log counts from its own beginning.
[[nodiscard]] std::optional<std::int64_t> day_of(instant t) noexcept;

/// The words of particulars, each with the name it is kept and exported under.
struct particular {
  std::string_view name, label;
  std::string particulars::* words;
};
[[nodiscard]] std::span<const particular> all_particulars() noexcept;

/// A finished visit as it is kept. `as`: how it was judged and shown.
[[nodiscard]] kept_test kept(const visit& test, const log_summary& summary, const presentation& as);

/// Tests of one appliance: site and appliance say which; the customer, where no site was said.
[[nodiscard]] bool same_appliance(const kept_test& a, const kept_test& b) noexcept;

namespace history {

/// Which reading stands for a test: the last one, as the appliance was left, or the first.
enum class reading_of_test : std::uint8_t { last, first };

/// A line for each test, under its appliance.
void write_list(std::string& to, std::span<const kept_test> tests, const presentation& as);
/// All of one appliance, in the order of their days: values, changes, yearly trends, findings; 80
/// columns. `as`: units; what else it says is not looked at.
void write_course(std::string& to, std::span<const kept_test> tests, const presentation& as,
                  reading_of_test which);
/// The same as one page that needs nothing but itself, with a picture for each figure.
void write_html(std::string& to, std::span<const kept_test> tests, const presentation& as,
                reading_of_test which);
/// One JSON object: `tests`, with numbers that read back as the same bits, in canonical units.
void write_json(std::string& to, std::span<const kept_test> tests);
/// One row per settled reading, and one for a test without; in the units of `as`.
void write_csv(std::string& to, std::span<const kept_test> tests, const presentation& as);

/// The units of the newest test, or those asked for in `as`, and every column any of them has.
[[nodiscard]] presentation shown_together(std::span<const kept_test> tests, presentation as);

}  // namespace history
}  // namespace stilling
