// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <string_view>

/// Something the input left open, or said in passing, and how it was taken. Nothing is guessed in
/// silence: each kind is said once for each layout, at the line where it was first needed.
namespace stilling {

enum class assumed : std::uint8_t {
  column_ignored,      // a column of unknown name
  column_doubled,      // a second column for the same channel: the first is used
  column_proposed,     // a foreign name whose words and unit leave no doubt
  trailing_separator,  // one empty field after the last column
  decimal_comma,       // the decimal sign is a comma
  cell_unit,           // a cell names a unit of its own; it is honoured
  bound,               // a cell says "above" or "below" a value
  padding,             // a run of NUL bytes was passed over
  utc,                 // stamps without an offset read as UTC
  time_in_seconds,     // a time column without a unit, small numbers
  epoch,               // a time column without a unit, recognised by its magnitude
  day_first,           // a date in numbers is day, month, year
  month_first,         // a date in numbers is month, day, year
  year,                // dates without a year
  date,                // clock times without a date
  fold,                // a clock set back within its zone: the order of the rows decided
  spacing,             // rows share a stamp and were spread
  interval,            // rows carry no time and were spaced as the settings say
  units_switched,      // values changed as from one temperature scale to the other
  thousands,           // a sign parts groups of three digits
  units_contradict,    // the row of units says other than the names, which were followed
};
inline constexpr std::size_t assumed_count = 21;

[[nodiscard]] constexpr std::string_view name_of(assumed a) noexcept {
  constexpr std::string_view names[assumed_count]{"column_ignored",
                                                  "column_doubled",
                                                  "column_proposed",
                                                  "trailing_separator",
                                                  "decimal_comma",
                                                  "cell_unit",
                                                  "bound",
                                                  "padding",
                                                  "utc",
                                                  "time_in_seconds",
                                                  "epoch",
                                                  "day_first",
                                                  "month_first",
                                                  "year",
                                                  "date",
                                                  "fold",
                                                  "spacing",
                                                  "interval",
                                                  "units_switched",
                                                  "thousands",
                                                  "units_contradict"};
  return names[static_cast<std::size_t>(a)];
}

struct assumption {
  std::uint64_t line = 0;
  assumed what = assumed::column_ignored;
  std::uint16_t field = 0;   // counts from 1; 0 where no single field is meant
  std::string_view seen{};   // the text that led to it; lives until the push returns
  std::string_view taken{};  // what it was taken for, where that is not plain from `what`
};

}  // namespace stilling
