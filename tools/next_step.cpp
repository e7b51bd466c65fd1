// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "next_step.hpp"

#include <algorithm>
#include <array>

#include "stilling/combustion/advice.hpp"

namespace stilling::command {
namespace {

bool said(const visit& test, saying what) {
  return std::ranges::any_of(test.notes(), [&](const noted& n) { return n.what().what == what; });
}

/// A draft that was read by hand, as a remark.
bool read_a_draft(const visit& test, instant since) {
  return std::ranges::any_of(test.notes(), [&](const noted& n) {
    return n.at >= since && n.what().what == saying::remark &&
           n.text.find("draft") != std::string::npos;
  });
}

std::string while_settled(const visit& test, const presentation& as) {
  const auto rows = test.rows();
  if (rows.empty()) return {};
  const auto& row = rows.back();
  for (const auto& n : test.notes()) {
    const auto what = n.what().what;
    const bool move = what == saying::adjusted_air || what == saying::adjusted_draft;
    if (move && n.at > row.read.declared && test.newest() &&
        test.newest()->row.at - n.at < seconds(90))
      return "wait for what you moved to show.";
  }
  const auto against = judge(row, test, as.limits);
  for (const auto& f : against)
    if (f.grave == severity::danger)
      return "see to the CO before anything else; shut the burner down if you do not know why.";
  const bool has_draft = row.read.channels.has(channel::draft_overfire) ||
                         row.read.channels.has(channel::draft_breech);
  if (!has_draft && !read_a_draft(test, row.read.from))
    return "read the draft over the fire and at the breech, and note them.";
  if (leaves_soot_spots(test.burned()) && !row.smoke)
    return "draw a smoke spot now, and note it.";
  constexpr std::array by_air{finding_kind::smoke_high, finding_kind::co_high,
                              finding_kind::oxygen_low, finding_kind::co2_high};
  for (const auto kind : by_air)
    if (const auto* f = against.find(kind))
      return "adjust: " + brief_words_of(*f, as) + " A little more air, note it, then wait.";
  if (const auto* f = against.find(finding_kind::draft_overfire_off))
    return "adjust: " + brief_words_of(*f, as) + " Set the draft, note it, then wait.";
  if (!against.empty())
    return "look into this: " + brief_words_of(*against.begin(), as) +
           " Whatever you change, note it.";
  if (said(test, saying::reading)) return "nothing speaks against it; the test can end here.";
  return "nothing speaks against it. Adjust for better, or note `reading` and end here.";
}

}  // namespace

std::string next_step(const visit& test, phase in, const presentation& as) {
  switch (in) {
    case phase::no_data: return "see to cable, plug and pump: no row arrives.";
    case phase::instrument_warm_up: return "leave the instrument in fresh air until it stands.";
    case phase::fresh_air:
    case phase::idle:
      if (!test.settled().empty()) return "nothing, or put the probe in and light the burner.";
      if (in == phase::idle && !said(test, saying::fresh_air))
        return "zero in fresh air, zero the draft gauge; then probe in, burner on.";
      return "put the probe in the flue and light the burner.";
    case phase::appliance_warm_up: return "wait, and change nothing; the appliance warms up.";
    case phase::settling:
    case phase::disturbed: return "wait, and change nothing.";
    case phase::steady: return while_settled(test, as);
    case phase::cooling:
      if (test.settled().empty()) return "light the burner again and let it burn longer.";
      return "take the probe out with care, it is hot; look at fresh air once more.";
  }
  return {};
}

}  // namespace stilling::command
