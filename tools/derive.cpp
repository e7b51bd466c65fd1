// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Combustion figures from readings typed by hand.

#include <fmt/format.h>

#include <string>
#include <utility>

#include "derive_table.hpp"
#include "sources.hpp"
#include "stilling/combustion/combustion.hpp"
#include "verbs.hpp"

namespace stilling::command {
namespace {

/// Not only unknown: what was typed cannot be.
bool is_nonsense(undefined why) noexcept {
  switch (why) {
    case undefined::oxygen_negative:
    case undefined::oxygen_at_air:
    case undefined::co2_near_zero:
    case undefined::co2_above_maximum:
    case undefined::co_negative:
    case undefined::co_out_of_range:
    case undefined::stack_not_above_air:
    case undefined::temperature_out_of_range:
    case undefined::pressure_out_of_range:
    case undefined::humidity_out_of_range:
    case undefined::fuel_inconsistent:
    case undefined::above_whole: return true;
    default: return false;
  }
}

/// Each reason once, with the first figure it takes; empty: nothing that was typed is nonsense.
std::string nonsense_in(const combustion& y) {
  std::string all;
  for (const auto& reason : undefined_table) {
    if (!is_nonsense(reason.is)) continue;
    for (const auto& row : figure_table) {
      if (y[row.is] || y[row.is].error() != reason.is) continue;
      all += fmt::format("{}{}: {}", all.empty() ? "" : "\n", reason.name, reason.words);
      break;
    }
  }
  return all;
}

/// What the room's air holds comes before what the flue's does.
findings found_in(const derive_request& r, const combustion& y) {
  findings all;
  if (r.room_co) {
    frame room;
    room.indication.set(channel::co, r.room_co->value);
    if (auto f = alarm_in(room, phase::fresh_air, r.log.shown.limits)) {
      f->standard_uncertainty = r.room_co->standard_uncertainty;
      all.push(*f);
    }
  }
  for (const auto& f : judge(y, r.log.shown.limits, r.also)) all.push(f);
  return all;
}

}  // namespace

lanes<estimate> readings_of(const derive_request& r, lanes<estimate> in) {
  if (r.log.shown.how.air_temp && !in.has(channel::ambient_temp))
    in.set(channel::ambient_temp, *r.log.shown.how.air_temp);
  if (r.draft_zero) {
    for (const auto c : {channel::draft_breech, channel::draft_overfire}) {
      if (!in.has(c)) continue;
      const uncertainty both = combine({{in[c].standard_uncertainty},
                                        {r.draft_zero->standard_uncertainty}});
      in.set(c, {in[c].value - r.draft_zero->value, both.standard});
    }
  }
  return with_instrument(in, r.log.shown.how.instrument);
}

told_figures figures_of(const derive_request& asked) {
  derive_request r = asked;
  choose_units(r);
  const auto& as = r.log.shown;
  told_figures out;
  using enum derive_request::manner;
  if (r.as == table || r.as == csv) {
    out.text = table_of(r);
    return out;
  }
  auto how = as.how;
  how.air_temp.reset();  // it is among the readings
  const auto y = derive(readings_of(r, r.read), *as.burned, how);
  out.nonsense = nonsense_in(y);
  const typed_test test{y, r.also, found_in(r, y), r.room_co};
  if (r.as == json) jsonl::write(out.text, test, as);
  else if (r.as == explain) plain::write_explanation(out.text, y, as);
  else plain::write(out.text, test, as, r.verbose);
  return out;
}

int derive(const derive_request& r) {
  const auto figures = figures_of(r);
  outlet out;
  out.write(figures.text);
  if (out.is() == outlet::state::failed) {
    complain(fmt::format("standard output: {}", out.fault()));
    return not_understood;
  }
  if (figures.nonsense.empty()) return done;
  complain(figures.nonsense);
  return not_understood;
}

}  // namespace stilling::command
