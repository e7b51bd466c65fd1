// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Settled readings as the outcomes of experiments: what was moved before each, what that changed,
// which is best, and what it saves in a year.

#include <algorithm>
#include <cmath>
#include <functional>

#include "report_parts.hpp"
#include "report_words.hpp"
#include "text_number.hpp"
#include "text_readable.hpp"
#include "text_reading.hpp"
#include "text_words.hpp"

namespace stilling::reporting {
namespace {

using namespace writing;

constexpr int most_of_a_percentage = 1;

/// What can stand in a column of the table.
struct measure {
  std::string head;
  std::string unit_of_change;
  std::function<std::string(const settled_row&)> value;
  std::function<std::optional<shown_difference>(const comparison&)> change;
  int most_decimals = 3;
};

int most_decimals_in(channel c, const std::vector<settled_row>& rows, const presentation& as) {
  int most = 0;
  for (const auto& row : rows)
    if (row.read.channels.has(c))
      most = std::max(most, writing::most_decimals(c, row.read.channels[c], as));
  return most;
}

std::vector<measure> measures_of(const std::vector<settled_row>& rows, const presentation& as) {
  std::vector<measure> all;
  const auto add_channel = [&](channel c, std::string_view name) {
    if (std::ranges::none_of(rows, [c](const auto& row) { return row.read.channels.has(c); }))
      return;
    all.push_back({fmt::format("{}, {}", name, unit_of(c, as)),
                   std::string{unit_of(c, as)},
                   [c, &as](const settled_row& row) { return number_of(c, row, as); },
                   [c, &as](const comparison& x) {
                     return x.channels.has(c) ? std::optional{shown(c, x.channels[c], as)}
                                              : std::nullopt;
                   },
                   most_decimals_in(c, rows, as)});
  };
  add_channel(channel::stack_temp, "stack");
  add_channel(channel::o2, "O2");
  if (all.size() < 2) add_channel(channel::co2, "CO2");
  add_channel(channel::co, "CO");
  const auto kept = heat_kept(rows);
  if (std::ranges::any_of(rows, [&](const auto& row) { return row.figures[kept].has_value(); }))
    all.push_back({"heat kept, %",
                   "points",
                   [kept, &as](const settled_row& row) { return number_of(kept, row, as); },
                   [kept, &as](const comparison& x) {
                     return x[kept] ? std::optional{shown(kept, *x[kept], as)} : std::nullopt;
                   },
                   most_of_a_percentage});
  return all;
}

std::string quoted(const noted& n, const presentation& as) {
  return fmt::format("\"{}\" ({})", printable(n.text), clock_of(n.at, as));
}

/// What was moved before a reading, in the notes' own words.
std::string moved_before(const std::vector<settled_row>& rows, std::size_t i, const reported& r) {
  const auto& row = rows[i];
  const auto& notes = r.test.notes();
  std::vector<std::string> moves, remarks;
  for (const auto n : row.moves) moves.push_back(quoted(notes[n], r.as));
  for (const auto& n : notes) {
    const bool since = i == 0 || n.at > rows[i - 1].read.declared;
    if (since && n.at <= row.read.declared && n.what().what == saying::remark)
      remarks.push_back(quoted(n, r.as));
  }
  std::string text;
  if (!moves.empty()) {
    text = "moved: " + listed(moves);
  } else if (row.moved_unsaid) {
    text = "the readings left their level; what was moved is not said";
    if (row.likely)
      put(text, ". A guess from what changed: the {}",
          *row.likely == saying::adjusted_draft ? "draft regulator" : "air shutter");
  } else if (i == 0) {
    text = "what was moved is not said";
  } else {
    const auto why = reason_of(rows[i - 1].read.ended, std::nullopt);
    text = fmt::format("{}{}what was moved is not said", why, why.empty() ? "" : "; ");
  }
  if (!remarks.empty()) put(text, "; noted: {}", listed(remarks));
  return text;
}

grid table_of(const std::vector<settled_row>& rows, const reported& r, bool& any_missing) {
  const auto measures = measures_of(rows, r.as);
  const bool smoke =
      std::ranges::any_of(rows, [](const auto& row) { return row.smoke.has_value(); });
  const auto drafts = [&](channel c) {
    return std::ranges::any_of(rows, [c](const auto& row) { return row.read.channels.has(c); });
  };
  grid to;
  to.heads.emplace_back("reading");
  for (const auto& m : measures) to.heads.push_back(m.head);
  if (smoke) to.heads.emplace_back("smoke");
  std::vector<std::pair<channel, int>> pulls;
  for (const auto c : {channel::draft_breech, channel::draft_overfire})
    if (drafts(c)) {
      pulls.emplace_back(c, most_decimals_in(c, rows, r.as));
      to.heads.push_back(fmt::format("{}, {}", c == channel::draft_breech ? "breech" : "over fire",
                                     unit_of(c, r.as)));
    }
  const auto or_dash = [&](std::string text) {
    any_missing = any_missing || text.empty();
    return text.empty() ? std::string{"–"} : text;
  };
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const auto& row = rows[i];
    if (i > 0 || !row.moves.empty())
      to.lines.push_back({capitalised(moved_before(rows, i, r)) + '.', {}});
    std::vector<std::string> cells{glued(fmt::format("{} at {}", i + 1,
                                                     clock_of(row.read.declared, r.as)))};
    for (const auto& m : measures) cells.push_back(or_dash(m.value(row)));
    if (smoke) cells.push_back(or_dash(smoke_of(row, r.test)));
    for (const auto& [c, most] : pulls) cells.push_back(or_dash(number_of(c, row, r.as)));
    to.lines.push_back({{}, std::move(cells)});
    if (!row.since_before) continue;
    std::vector<std::string> changes{"  change"};
    for (const auto& m : measures) {
      const auto d = m.change(*row.since_before);
      changes.push_back(d ? change_of(*d, m.most_decimals) : std::string{});
    }
    if (smoke) changes.emplace_back();
    for (const auto& [c, most] : pulls)
      changes.push_back(row.since_before->channels.has(c)
                            ? change_of(shown(c, row.since_before->channels[c], r.as), most)
                            : std::string{});
    to.lines.push_back({{}, std::move(changes)});
  }
  return to;
}

std::string against(const findings& all) {
  std::vector<std::string> words;
  for (const auto& f : all) {
    auto label = label_of(f.what);
    if (std::ranges::find(words, label) == words.end()) words.push_back(std::move(label));
  }
  return listed(words);
}

std::string which_is_best(const std::vector<settled_row>& rows, const reported& r) {
  const auto best = best_row(rows, r.test, r.as.limits);
  if (!best) return {};
  const auto spoken = judge(rows[*best], r.test, r.as.limits);
  std::string text =
      spoken.empty()
          ? fmt::format("By the limits, nothing speaks against reading {}.", *best + 1)
          : fmt::format("By the limits, reading {} has least against it: {}.", *best + 1,
                        against(spoken));
  if (*best + 1 != rows.size())
    text += " It is not the last reading.";
  if (!rows[*best].smoke) text += " Smoke was not noted for it, and does not count here.";
  return text;
}

/// From the first reading to the last.
std::string before_and_after(const std::vector<settled_row>& rows, const reported& r) {
  const auto both = compare(rows.front(), rows.back());
  std::vector<std::string> words;
  for (const auto& m : measures_of(rows, r.as))
    if (const auto d = m.change(both)) {
      const auto comma = m.head.find(", ");
      words.push_back(fmt::format("{}\u00A0{}", m.head.substr(0, comma),
                                  change_of(*d, m.most_decimals) + glued(" " + m.unit_of_change)));
    }
  if (words.empty()) return {};
  std::string text = fmt::format("Before and after, from reading 1 to reading {}: {}", rows.size(),
                                 listed(words));
  const auto from = smoke_of(rows.front(), r.test), to = smoke_of(rows.back(), r.test);
  if (!from.empty() && !to.empty()) put(text, "; smoke {}, then {}", from, to);
  return text + '.';
}

/// At least two decimals, as prices are written.
std::string price_of(double price) {
  const auto as_written = fmt::format("{:.2f}", price);
  return std::abs(price - std::floor(100 * price + 0.5) / 100) < 1e-9 ? as_written
                                                                      : fmt::format("{:g}", price);
}

/// "23 ± 3 gal (20 to 26)"
std::string amount_of(const difference& d, std::string_view unit_name) {
  const auto x = readable_of(d.expanded(), 2);
  const double value = d.value < 0 ? -d.value : d.value;
  std::string text, low, high;
  append_fixed(text, value, x.decimals);
  text += " ± ";
  append_fixed(text, x.u, x.decimals);
  append_fixed(low, value - x.u, x.decimals);
  append_fixed(high, value + x.u, x.decimals);
  return glued(fmt::format("{} {}", text, printable(unit_name))) +
         glued(fmt::format(" ({} to {})", low, high));
}

}  // namespace

section what_moves_changed(const reported& r) {
  section to{"What each move changed", {}};
  const auto rows = r.test.rows();
  if (rows.empty()) return {};
  if (r.test.notes().empty())
    to.parts.emplace_back(paragraph{
        "The log holds no notes, so what was moved, and when, is not known. A line such as "
        "\"# adjusted air\" in the log says it."});
  if (rows.size() == 1) {
    std::string text = "There is one settled reading, so nothing can be held against another.";
    if (!rows[0].moves.empty()) put(text, " Before it: {}.", moved_before(rows, 0, r));
    to.parts.emplace_back(paragraph{text});
    return to;
  }
  bool any_missing = false;
  to.parts.emplace_back(table_of(rows, r, any_missing));
  const auto kept = heat_kept(rows);
  std::string key =
      "A change is told against the reading before, with its ±; in brackets it is no more than "
      "chance would make it (95\u00A0%).";
  if (std::ranges::any_of(rows, [&](const auto& row) { return row.figures[kept].has_value(); }))
    put(key, " Heat kept: of the fuel's heat, {} basis.", basis_of(kept));
  if (any_missing) key += " – stands for what was not read or not noted.";
  to.parts.emplace_back(paragraph{key});
  if (const auto text = before_and_after(rows, r); rows.size() > 2 && !text.empty())
    to.parts.emplace_back(paragraph{text});
  to.parts.emplace_back(paragraph{which_is_best(rows, r)});
  return to;
}

section what_that_saves(const reported& r) {
  const auto rows = r.test.rows();
  if (rows.size() < 2) return {};
  section to{"What that saves in a year", {}};
  const auto& use = r.about.use;
  const auto year = saved_by_moves(rows, r.about);
  if (!anything_moved(rows)) {
    to.parts.emplace_back(paragraph{
        "Nothing is known to have been moved between the first reading and the last, so what they "
        "differ by is no saving."});
    return to;
  }
  if (!year) {
    to.parts.emplace_back(paragraph{
        "Not known: it takes the heat kept at the first and at the last reading, gross."});
    return to;
  }
  auto share = shown(figure::efficiency_gross, year->share, r.as);
  const auto percent = size_of(share, most_of_a_percentage) + glued(" %");
  const std::string_view less = year->share.value < 0 ? "more" : "less";
  if (!share.real) {
    to.parts.emplace_back(paragraph{fmt::format(
        "No saving and no loss is shown: for the same heat the fuel burned at the last reading "
        "differs from that at the first by {}, no more than chance would make it.",
        percent)});
    return to;
  }
  std::string text = fmt::format("For the same heat it burns {} {} fuel at the last reading than "
                                 "at the first.",
                                 percent, less);
  if (use) {
    put(text, " Of {:g} {} a year that is {} {}", use->amount, printable(r.about.fuel_unit),
        amount_of(year->amount, r.about.fuel_unit), less);
    if (year->money)
      put(text, "; at {} {}/{}, {} {}", price_of(*use->price), printable(r.about.currency),
          printable(r.about.fuel_unit), amount_of(*year->money, r.about.currency), less);
    text += '.';
  } else {
    put(text, " Of {} burned in a year that is {} {}, at {} each {}.", short_blank, short_blank,
        less, short_blank, short_blank);
  }
  to.parts.emplace_back(paragraph{text});
  to.parts.emplace_back(paragraph{fmt::format(
      "Taken for granted: the same heat is made as before; all year the burner fires as it did at "
      "these readings;{} what is lost at standstill, in pipes and by starting stays as it is.",
      use ? " the year's use is as stated, before the change;" : "")});
  return to;
}

}  // namespace stilling::reporting
