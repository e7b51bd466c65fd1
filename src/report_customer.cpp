// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// A page for whoever lives with the burner, to be understood when read aloud.

#include <algorithm>
#include <array>
#include <cmath>

#include "report_parts.hpp"
#include "report_words.hpp"
#include "text_number.hpp"
#include "text_readable.hpp"
#include "text_words.hpp"

namespace stilling::reporting {
namespace {

using namespace writing;

/// What a finding means to someone who does not know the trade. Kinds that are the technician's
/// affair alone have none.
struct plain_advice {
  finding_kind is;
  std::string_view text;
};
constexpr std::array plain_advices{
    plain_advice{finding_kind::co_in_room,
                 "There was carbon monoxide in the air of the room. Do not use the burner until "
                 "the cause is found and mended."},
    plain_advice{finding_kind::co_high,
                 "The burned gas in the flue pipe holds too much carbon monoxide. The burner must "
                 "be put right before you rely on it."},
    plain_advice{finding_kind::co_rising,
                 "Carbon monoxide in the flue pipe was rising during the test. The cause must be "
                 "found before you rely on the burner."},
    plain_advice{finding_kind::draft_sign,
                 "The chimney may not be pulling as it should, so that burned gas could come into "
                 "the house. Have the chimney looked at soon."},
    plain_advice{finding_kind::smoke_high,
                 "The burner makes soot. Soot wastes fuel and fills up the inside of the heater. "
                 "Have it cleaned and set."},
    plain_advice{finding_kind::oil_spot,
                 "Some oil leaves the burner unburned. It needs repair."},
    plain_advice{finding_kind::oxygen_low,
                 "The fire has little air to spare. Have it set with a little more, or it will "
                 "make soot when the weather changes."},
    plain_advice{finding_kind::co2_high,
                 "The fire has little air to spare. Have it set with a little more, or it will "
                 "make soot when the weather changes."},
    plain_advice{finding_kind::oxygen_high,
                 "More air goes through the fire than it needs, and takes heat up the chimney with "
                 "it. Ask whether sealing leaks or a new setting would help."},
    plain_advice{finding_kind::co2_low,
                 "More air goes through the fire than it needs, and takes heat up the chimney with "
                 "it. Ask whether sealing leaks or a new setting would help."},
    plain_advice{finding_kind::stack_hot,
                 "Too much heat goes up the chimney. Have the inside of the heater cleaned."},
    plain_advice{finding_kind::stack_loss_high,
                 "Too much heat goes up the chimney. Have the heater cleaned and set."},
    plain_advice{finding_kind::efficiency_low,
                 "Too much heat goes up the chimney. Have the heater cleaned and set."},
    plain_advice{finding_kind::stack_cool,
                 "The chimney stays cool and may get wet inside. Ask whether it is made for that."},
    plain_advice{finding_kind::condensing,
                 "Water forms in the flue pipe. Ask whether heater and chimney are made for that."},
    plain_advice{finding_kind::draft_overfire_off,
                 "The pull of the chimney on the fire is not what it should be. Have it set."},
    plain_advice{finding_kind::draft_difference_high,
                 "The inside of the heater holds the burned gas back, most often because of soot. "
                 "Have it cleaned."},
    plain_advice{finding_kind::short_cycling,
                 "The burner starts and stops very often. That wears it and wastes fuel. Have its "
                 "controls looked at."},
};

constexpr std::array tests_to_repeat{
    finding_kind::draft_not_zeroed,   finding_kind::smoke_not_repeated,
    finding_kind::reading_too_early,  finding_kind::step_missing,
    finding_kind::step_out_of_order,  finding_kind::instrument_cold,
    finding_kind::oxygen_cell_tired,  finding_kind::zeroed_in_dirty_air,
    finding_kind::channel_stuck,      finding_kind::sensor_open,
    finding_kind::wrong_fuel_likely,  finding_kind::dilution,
};

/// "about 80 of every 100": whole numbers, as they are read aloud.
std::string in_a_hundred(const derived_value& d) {
  const double share = 100 * d.value;
  const double u = std::max(1.0, std::ceil(100 * 2 * d.standard_uncertainty - 1e-9));
  return fmt::format("about {:.0f} parts in 100, give or take {:.0f}", std::floor(share + 0.5), u);
}

section what_was_done(const reported& r) {
  section to{"What was done", {}};
  const auto& spans = r.test.course().spans();
  std::string when = printable(r.about.date);
  if (when.empty() && !spans.empty()) when = date_of(spans.back().to, r.as);
  if (when.empty()) when = blank;
  std::string text = fmt::format(
      "On {} the burner was tested. A probe in the flue pipe, which takes the burned gas to the "
      "chimney, measured how hot that gas was and what was in it.",
      when);
  if (r.summary.plateaus > 0)
    text += " The numbers here were taken while everything held still, so they tell about the "
            "burner and not about one moment.";
  to.parts.emplace_back(paragraph{text});
  return to;
}

std::string heat_in_plain_words(const settled_row& row) {
  const auto kept = heat_kept({row});
  const auto& d = row.figures[kept];
  if (!d) return {};
  return fmt::format("Of all the heat in the fuel, {}, are kept while the burner runs. The rest "
                     "goes up the chimney.",
                     in_a_hundred(*d));
}

std::string monoxide_in_plain_words(const settled_row& row, const reported& r) {
  if (!row.read.channels.has(channel::co)) return "Carbon monoxide was not measured.";
  const double share = row.read.channels[channel::co].mean, ppm = 1e6 * share;
  std::string text =
      "Carbon monoxide is a poison that nobody can see or smell. Every fire makes some. ";
  const bool zero_is_wrong = std::ranges::any_of(r.test.found(), [](const discovery& d) {
    return d.kind() == finding_kind::zeroed_in_dirty_air;
  });
  if (zero_is_wrong)
    return text +
           "How much of it was inside the flue pipe is not known: the instrument had not been set "
           "to zero in clean air.";
  if (ppm < 0.5)
    return text + "Inside the flue pipe there was none that the instrument can show. This was "
                  "measured in the pipe, not in your rooms.";
  put(text, "Inside the flue pipe there {} about {:.0f} {} in a million.",
      ppm < 1.5 ? "was" : "were", std::floor(ppm + 0.5), ppm < 1.5 ? "part" : "parts");
  const auto* limit = r.as.limits.find("co_high");
  if (limit != nullptr && limit->value)
    put(text, " {} {:.0f}, from where on a burner needs work.",
        share < *limit->value ? "That is below" : "That is not below",
        std::floor(1e6 * *limit->value + 0.5));
  text += " This was measured in the pipe, not in your rooms.";
  return text;
}

std::string soot_in_plain_words(const settled_row& row, const visit& of) {
  if (!row.smoke) return {};
  const auto spot = of.notes()[*row.smoke].what();
  const std::string scale =
      "For soot, some of the gas is drawn through white paper: 0 is a white paper, 9 a black one. ";
  if (spot.trace) return scale + "Yours showed a trace, less than 1.";
  return scale + fmt::format("Yours showed {}.", spot.smoke);
}

section what_it_means(const reported& r) {
  section to{"What it means", {}};
  const auto rows = r.test.rows();
  if (rows.empty()) {
    std::string_view why;
    switch (r.summary.came_to()) {
      case outcome::settled:
      case outcome::never_settled:
        why = "The burner never held still long enough to be measured.";
        break;
      case outcome::cycling:
        why = "The burner kept starting and stopping, too quickly to be measured.";
        break;
      case outcome::idle: why = "No fire was seen during the test."; break;
      case outcome::no_data: why = "The instrument recorded nothing."; break;
    }
    to.parts.emplace_back(paragraph{fmt::format(
        "{} So this test cannot say how well it burns. It does not mean that the burner is good, "
        "nor that it is bad.",
        why)});
    return to;
  }
  for (auto text : {heat_in_plain_words(rows.back()), monoxide_in_plain_words(rows.back(), r),
                    soot_in_plain_words(rows.back(), r.test)})
    if (!text.empty()) to.parts.emplace_back(paragraph{std::move(text)});
  return to;
}

section what_to_do(const reported& r) {
  section to{"What to do", {}};
  const auto kinds = found_kinds(r);
  std::vector<std::string_view> told;
  const auto tell = [&](std::string_view text) {
    if (std::ranges::find(told, text) != told.end()) return;
    told.push_back(text);
    to.parts.emplace_back(bullet{std::string{text}});
  };
  if (r.test.settled().empty()) tell("Have the test made again.");
  bool repeat = false;
  for (const auto& k : kinds) {
    repeat = repeat || std::ranges::find(tests_to_repeat, k.what) != tests_to_repeat.end();
    if (k.still && !*k.still && k.grave != severity::danger) continue;
    if (k.what == finding_kind::co_in_room && k.grave == severity::note) {
      tell("A little carbon monoxide was read in the air of the room. Have someone find out soon "
           "where it comes from.");
      continue;
    }
    const auto at = std::ranges::find(plain_advices, k.what, &plain_advice::is);
    if (at != plain_advices.end()) tell(at->text);
  }
  if (repeat && !r.test.settled().empty())
    tell("Part of the test was not done as it should be. Ask what that means for these numbers, "
         "and whether it is worth doing again.");
  if (to.parts.empty())
    tell("By what was measured, nothing needs to be done now.");
  tell("Have the burner cleaned and tested once a year.");
  return to;
}

/// "between 20 and 26 gal"
std::string between(const difference& d, std::string_view unit_name, int most) {
  const double value = std::abs(d.value);
  const auto x = readable_of(d.expanded(), most);
  std::string low, high;
  append_fixed(low, value - x.u, x.decimals);
  append_fixed(high, value + x.u, x.decimals);
  return fmt::format("between {} and {}", low, glued(high + " " + printable(unit_name)));
}

section what_it_saves(const reported& r) {
  const auto rows = r.test.rows();
  if (rows.size() < 2) return {};
  const auto& use = r.about.use;
  const auto year = saved_by_moves(rows, r.about);
  if (!year) return {};
  section to{"What it saves", {}};
  if (!year->share.real()) {
    to.parts.emplace_back(paragraph{
        "The burner uses about as much fuel at the end of this visit as at its beginning. A "
        "difference could not be shown."});
    return to;
  }
  const bool more = year->share.value < 0;
  const difference in_percent{100 * year->share.value, 100 * year->share.standard_uncertainty,
                              year->share.factor};
  std::string text = fmt::format(
      "For the same heat the burner uses {} fuel at the end of this visit than at its beginning: "
      "{} {}.",
      more ? "more" : "less", between(in_percent, "%", 1), more ? "more" : "less");
  if (use) {
    put(text, " If you burn {:g} {} in a year, that is {} {}", use->amount,
        printable(r.about.fuel_unit), between(year->amount, r.about.fuel_unit, 0),
        more ? "more" : "less");
    if (year->money)
      put(text, ", or {} at the price stated", between(*year->money, r.about.currency, 0));
    text += '.';
  }
  text += " That holds if you heat as much as before.";
  const auto first = smoke_number(rows.front(), r.test);
  const auto last = smoke_number(rows.back(), r.test);
  if (more && first && last && *last < *first)
    text += " In return it burns with less soot, which keeps the inside of the heater clean.";
  to.parts.emplace_back(paragraph{text});
  return to;
}

section if_there_is_monoxide() {
  section to{"If there is carbon monoxide in the house", {}};
  for (const std::string_view text :
       {"If an alarm for carbon monoxide sounds, or several people feel dizzy, sick, very tired or "
        "have headaches: everyone out of the house at once, animals too.",
        "Call the emergency number from outside. Do not go back in until the fire service says so.",
        "Do not use the heater again until someone has found the cause.",
        "Have an alarm for carbon monoxide near every place where people sleep, and test it as its "
        "maker says. Never heat with a stove for cooking, a grill or a running engine."})
    to.parts.emplace_back(bullet{std::string{text}});
  return to;
}

section for_your_safety(const reported& r) {
  section to{"For your safety", {}};
  for (const std::string_view text :
       {"The flue pipe is hot while the burner runs, and for a long time after. Keep children and "
        "anything that burns away from it.",
        "Keep the openings free through which air comes to the burner.",
        "If you smell oil or see smoke or oil on the floor, switch the burner off and call for "
        "service. If it does not start, do not press its reset button again and again.",
        "Leave covers closed: behind them are hot metal and electricity."})
    to.parts.emplace_back(bullet{std::string{text}});
  to.parts.emplace_back(paragraph{
      "What the maker of your heater says, the local rules and a licensed technician come first; "
      "this page only says what was measured."});
  const auto& p = r.about;
  to.parts.emplace_back(paragraph{fmt::format(
      "Questions? {}, {}, telephone {}.", said_or_blank(p.technician), said_or_blank(p.company),
      said_or_blank(p.phone))});
  return to;
}

}  // namespace

page customer_page(const reported& r) {
  page to{"Your burner test in plain words", {}};
  if (!r.about.customer.empty())
    to.title = fmt::format("Your burner test in plain words, for {}", printable(r.about.customer));
  for (auto each : {what_was_done(r), what_it_means(r), what_to_do(r), what_it_saves(r),
                    if_there_is_monoxide(), for_your_safety(r)})
    if (!each.parts.empty()) to.sections.push_back(std::move(each));
  return to;
}

}  // namespace stilling::reporting
