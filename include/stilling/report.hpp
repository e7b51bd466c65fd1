// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "stilling/text.hpp"
#include "stilling/visit/saving.hpp"
#include "stilling/visit/visit.hpp"

/// A finished test told to people: the technician's record, the customer's page, a page with
/// pictures, and the same for programs. Every function appends to a string of the caller's and
/// prints nothing; the same visit always makes the same bytes. Uncertainty is written expanded.
namespace stilling {

/// What a report says besides measurements: who, where, on what, with what. Words of the person who
/// asks for the report; what is empty was not said and is left as a line to fill in by hand.
struct particulars {
  std::string company, technician, phone;
  std::string customer, site, date;             // as it is to be printed
  std::string appliance, burner, nozzle, pump_pressure;
  std::string instrument, instrument_serial, calibrated;
  std::string remarks;
  std::optional<yearly_use> use;
  std::string fuel_unit, currency;              // of `use`: "gal", "$"
};

/// Everything a report is made of.
struct reported {
  const visit& test;
  const log_summary& summary;
  const presentation& as;
  const particulars& about;
  std::string_view log = {};                    // its file; empty: it came through a pipe
  std::span<const std::string> not_used = {};   // the first line of each fault, in words
};

namespace report {

inline constexpr std::size_t least_width = 40;

/// For paper: `width` columns, at least `least_width`. The technician's record, a form feed, a page
/// for the customer. `copies`: the whole of it so often, each called what it is, "copy 1 of 2",
/// with a form feed between.
void write_text(std::string& to, const reported& r, std::size_t width, std::size_t copies);
/// One page that needs nothing but itself.
void write_html(std::string& to, const reported& r);

/// Of the JSON report.
inline constexpr int schema = 1;
/// One JSON object. What `settle --jsonl` has an event for is told as that event.
void write_json(std::string& to, const reported& r);

}  // namespace report
}  // namespace stilling
