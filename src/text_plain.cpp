// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "stilling/text.hpp"
#include "text_number.hpp"
#include "text_readable.hpp"
#include "text_words.hpp"

namespace stilling::plain {
namespace {

using namespace writing;

// --- words ---------------------------------------------------------------------------------

std::string_view words_of(phase p) noexcept {
  switch (p) {
    case phase::no_data: return "nothing heard any more";
    case phase::instrument_warm_up: return "the instrument warms up";
    case phase::fresh_air: return "the probe is in fresh air";
    case phase::idle: return "no fire";
    case phase::appliance_warm_up: return "fire; the appliance warms up";
    case phase::settling: return "settling";
    case phase::steady: return "steady";
    case phase::disturbed: return "no longer settled";
    case phase::cooling: return "burner off, the flue cools";
  }
  return {};
}

/// Why a settled phase ended; empty where the phase after it says as much.
std::string reason_of(const phase_change& p) {
  const auto who = p.which ? label_of(*p.which) : std::string_view{"a reading"};
  switch (p.why) {
    case cause::departed: return fmt::format("{} left its level", who);
    case cause::burner_off: return "the burner went off";
    case cause::probe_out: return "the probe came out of the flue";
    case cause::diluted: return "room air got into the sample; did the probe slip?";
    case cause::stage_change: return "the burner fires at another rate";
    case cause::stuck: return fmt::format("{} stands still, as if stuck", who);
    case cause::gap: return fmt::format("{} was not heard for a while", who);
    case cause::said: return "you said so";
    default: return {};
  }
}

// --- numbers -------------------------------------------------------------------------------

/// One decimal more than the instrument shows: beyond that nobody reads.
int most_decimals(channel c, const channel_reading& r, const presentation& as) {
  const double step = difference_from_canonical(as.unit_of(c), r.step);
  return step > 0 ? std::max(1 - leading_power(step), 0) : 3;
}

std::string readable_value(channel c, const channel_reading& r, const presentation& as) {
  const auto value = shown(c, r, as);
  return readable_value(value, most_decimals(c, r, as)) + (value.u ? "" : " ± ?");
}

/// "about 70 s"
std::string about(double seconds) {
  const double step = seconds < 20 ? 1 : 5;
  return fmt::format("about {:.0f} s", step * std::floor(seconds / step + 0.5));
}

/// "+0.6, under 1.9"
std::string movement(channel c, const channel_reading& r, const presentation& as) {
  if (!r.rate_bound) return {};
  const unit u = as.unit_of(c);
  const double rate = seconds_per_minute * difference_from_canonical(u, r.rate);
  const double bound = seconds_per_minute * difference_from_canonical(u, *r.rate_bound);
  if (!(bound > 0)) return {};
  const auto most = readable_of(bound, most_decimals(c, r, as));
  std::string size, to;
  append_fixed(size, rate, most.decimals);
  if (size.front() != '-' && size.find_first_not_of("0.") != std::string::npos) to += '+';
  to += size;
  to += ", under ";
  append_fixed(to, most.u, most.decimals);
  return to;
}

// --- the table -----------------------------------------------------------------------------

constexpr std::size_t cells_abreast = 3;
constexpr std::size_t least_label_width = 26, least_cell_width = 18;  // together 80 columns

/// Rows of a label and a cell for each reading, the cells flush right.
class table {
 public:
  explicit table(std::span<const settled_reading> readings) : readings_{readings} {}

  /// A row no reading has anything to say in is left out.
  template <class Cell> void row(std::string label, Cell cell) {
    std::vector<std::string> cells;
    for (const auto& r : readings_) cells.push_back(cell(r));
    if (std::ranges::all_of(cells, [](const std::string& c) { return c.empty(); })) return;
    label_width_ = std::max(label_width_, width_of(label) + 1);
    for (const auto& c : cells) cell_width_ = std::max(cell_width_, width_of(c) + 2);
    rows_.push_back({std::move(label), std::move(cells)});
  }
  void gap() { rows_.push_back({}); }

  void write(std::string& to) const {
    for (const auto& [label, cells] : rows_) {
      to += label;
      auto at = label_width_ - (cells.empty() ? label_width_ : width_of(label));
      for (const auto& c : cells) {
        to.append(at + cell_width_ - width_of(c), ' ');
        to += c;
        at = 0;
      }
      to.erase(to.find_last_not_of(' ') + 1);
      to += '\n';
    }
  }

 private:
  struct line {
    std::string label;
    std::vector<std::string> cells;
  };
  std::span<const settled_reading> readings_;
  std::vector<line> rows_;
  std::size_t label_width_ = least_label_width;
  std::size_t cell_width_ = least_cell_width;
};

struct foremost_figure {
  std::string_view label;  // shorter than the figure's own
  figure is;
  int most_decimals;  // as the trade reads it aloud
};

/// What a technician looks for first.
constexpr foremost_figure foremost[]{{"net stack temperature", figure::net_stack_temp, 1},
                                     {"O2 from CO2", figure::o2, 1},
                                     {"CO2 from O2", figure::co2, 1},
                                     {"excess air", figure::excess_air, 1},
                                     {"CO air-free", figure::co_air_free, 1},
                                     {"efficiency, gross", figure::efficiency_gross, 1},
                                     {"draft difference", figure::draft_difference, 4}};

std::string label_with_unit(std::string_view label, std::string_view unit_name) {
  return unit_name.empty() ? std::string{label} : fmt::format("{}, {}", label, word_of(unit_name));
}

std::string duration_words(duration d) {
  const std::int64_t s = d.count() / nanoseconds_per_second;
  return s < 60 ? fmt::format("{} s", s) : fmt::format("{} min {} s", s / 60, s % 60);
}

void write_block(std::string& to, std::span<const settled_reading> readings,
                 std::span<const combustion> figures, std::size_t before, const presentation& as,
                 bool every_figure) {
  table t{readings};
  t.row("settled reading", [&](const settled_reading&) { return fmt::format("{}", ++before); });
  t.row("  settled at", [](const settled_reading& r) { return clock_of(r.declared); });
  t.row("  mean of", [](const settled_reading& r) {
    return fmt::format("{}–{}", clock_of(r.from), clock_of(r.to.value_or(r.last_seen)));
  });
  t.row("  still creeping",
        [](const settled_reading& r) { return std::string{r.creeping ? "yes" : ""}; });
  t.row("  swings, period", [](const settled_reading& r) {
    return r.hunting ? fmt::format("{:.0f} s", r.hunting->period) : std::string{};
  });
  t.gap();
  for (const auto c : all_channels) {
    const auto unit_name = traits_of(as.unit_of(c)).name;
    t.row(label_with_unit(label_of(c), unit_name), [&](const settled_reading& r) {
      return r.channels.has(c) ? readable_value(c, r.channels[c], as) : std::string{};
    });
    t.row("  as indicated", [&](const settled_reading& r) {
      const auto& x = r.channels[c];
      if (!x.correction) return std::string{};
      std::string out;
      append_fixed(out, from_canonical(as.unit_of(c), x.mean - *x.correction),
                   std::min(shown(c, x, as).decimals, most_decimals(c, x, as)));
      return out;
    });
    // What makes a reading settled: that these hold still, and how sure that is.
    if (c == channel::stack_temp || c == channel::o2 || c == channel::co)
      t.row("  per minute", [&](const settled_reading& r) {
        return r.channels.has(c) ? movement(c, r.channels[c], as) : std::string{};
      });
    t.row("  behind the stack", [&](const settled_reading& r) {
      return r.channels[c].lag ? about(*r.channels[c].lag) : std::string{};
    });
  }
  t.gap();
  const auto figure_row = [&](figure f, std::string_view label, int most) {
    t.row(label_with_unit(label, unit_of(f, as)), [&](const settled_reading& r) {
      const auto& d = figures[static_cast<std::size_t>(&r - readings.data())][f];
      return d ? readable_figure(shown(f, *d, as), most) : std::string{};
    });
  };
  if (every_figure)
    for (const auto& f : figure_table) figure_row(f.is, f.label, 12);
  else
    for (const auto& f : foremost) figure_row(f.is, f.label, f.most_decimals);
  t.write(to);
}

/// Figures that are in no column, each with the reason of the first.
void write_withheld(std::string& to, std::span<const combustion> figures) {
  bool first = true;
  for (const auto& f : foremost) {
    const auto given = [&](const combustion& y) { return y[f.is].has_value(); };
    if (std::ranges::any_of(figures, given)) continue;
    const auto why = figures.front()[f.is].error();
    switch (why) {
      case undefined::oxygen_measured:
      case undefined::co2_measured:
      case undefined::not_derived:
      case undefined::other_basis:
      case undefined::draft_absent: continue;
      default: break;
    }
    if (std::exchange(first, false)) to += '\n';
    put(to, "No {}: {}.\n", f.label, stilling::words_of(why));
  }
}

/// How far the burns got, none of which has a settled reading.
void write_ends(std::string& to, std::span<const burn> burns, const presentation& as) {
  const auto tell = [&](std::string_view what, channel c, lanes<double> burn::* which) {
    std::optional<double> least, most;
    for (const auto& b : burns) {
      if (!(b.*which).has(c)) continue;
      const double x = (b.*which)[c];
      least = std::min(least.value_or(x), x);
      most = std::max(most.value_or(x), x);
    }
    if (!most) return;
    const unit u = as.unit_of(c);
    put(to, "{} {}: ", what, label_of(c));
    append_rounded(to, from_canonical(u, *least), usual_decimals(u));
    if (*most > *least) append_rounded(to += " to ", from_canonical(u, *most), usual_decimals(u));
    put(to, " {}.\n", word_of(traits_of(u).name));
  };
  tell("Peak of", channel::stack_temp, &burn::peak);
  tell("Peak of", channel::co, &burn::peak);
  for (const auto c : {channel::stack_temp, channel::o2, channel::co})
    tell("At the end of a burn,", c, &burn::last);
}

}  // namespace

void write(std::string& to, const phase_change& p) {
  if (p.to == phase::steady) return;  // the reading that comes with it says more
  const auto why = reason_of(p);
  if (p.from == p.to) {
    // The same phase, explained. What the next phase will say anyway can wait for it.
    if (p.why == cause::diluted || p.why == cause::stage_change || p.why == cause::stuck)
      put(to, "{:>9}  {}\n", clock_of(p.at), why);
    return;
  }
  if (p.to == phase::disturbed && p.from != phase::steady) {
    put(to, "{:>9}  not settled again yet\n", clock_of(p.at));
    return;
  }
  put(to, "{:>9}  {}", clock_of(p.at), words_of(p.to));
  if (p.to == phase::disturbed && !why.empty()) put(to, ": {}", why);
  to += '\n';
}

void write(std::string& to, const settled_reading& opened, const presentation& as) {
  if (opened.to) return;
  put(to, "{:>9}  settled:", clock_of(opened.declared));
  bool first = true;
  for (const auto c : {channel::stack_temp, channel::o2, channel::co2, channel::co}) {
    if (!opened.channels.has(c)) continue;
    put(to, "{} {} {} {}", std::exchange(first, false) ? "" : ",", label_of(c),
        readable_value(c, opened.channels[c], as), word_of(traits_of(as.unit_of(c)).name));
  }
  to += '\n';
  first = true;
  for (const auto c : all_channels) {
    if (!opened.channels[c].lag) continue;
    if (std::exchange(first, false))
      put(to, "{:>9}  {} follows the stack by {}", "", label_of(c), about(*opened.channels[c].lag));
    else put(to, ", {} by {}", label_of(c), about(*opened.channels[c].lag));
  }
  if (!first) to += '\n';
}

void write(std::string& to, const note& n) {
  put(to, "{:>9}  # ", n.at ? clock_of(*n.at) : std::string{});
  append_printable(to, n.text);
  to += '\n';
}

std::string_view words_of(break_kind k) noexcept {
  switch (k) {
    case break_kind::clock_back: return "the clock went back";
    case break_kind::clock_jump: return "the clock jumped ahead";
    case break_kind::repeat: return "rows repeat";
    case break_kind::new_header: return "another header";
    case break_kind::new_units: return "other units from here on";
    case break_kind::restart: return "the instrument restarted";
    case break_kind::reconnect: return "the connection came back";
  }
  return {};
}

void write(std::string& to, const discontinuity& d) {
  put(to, "{:>9}  {} (line {}); what follows is judged anew\n", clock_of(d.at), words_of(d.kind),
      d.line);
}

void write_table(std::string& to, std::span<const settled_reading> closed, const presentation& as,
                 bool every_figure) {
  std::vector<combustion> figures;
  for (const auto& r : closed) figures.push_back(derive(r, *as.burned, as.how));
  const std::span all{figures};
  for (std::size_t i = 0; i < closed.size(); i += cells_abreast) {
    if (i > 0) to += '\n';
    const auto abreast = std::min(cells_abreast, closed.size() - i);
    write_block(to, closed.subspan(i, abreast), all.subspan(i, abreast), i, as, every_figure);
  }
  if (!closed.empty()) write_withheld(to, all);
}

void write(std::string& to, const log_summary& s, const presentation& as) {
  switch (s.came_to()) {
    case outcome::settled: break;
    case outcome::no_data: to += "Nothing settled: the log holds no readings.\n"; break;
    case outcome::idle:
      to += "Nothing settled: no fire was seen. O2 stayed near that of air, or the flue cold.\n";
      break;
    case outcome::cycling: {
      duration longest{};
      for (const auto& b : s.burns)
        if (b.to && *b.to - b.from > longest) longest = *b.to - b.from;
      put(to, "Nothing settled: the burner cycles. {} burns, the longest {}.\n", s.burns.size(),
          duration_words(longest));
      write_ends(to, s.burns, as);
      break;
    }
    case outcome::never_settled:
      to += "Nothing settled: the readings kept moving, or could not be proven to hold still.\n";
      break;
  }
  for (const auto& a : s.questions_and_assumptions()) {
    // Where nothing settled no figure was derived.
    if (s.plateaus == 0 && a.starts_with("fuel: ")) continue;
    const auto words = a.find(": ");
    put(to, "Assumed: {}.\n", words == std::string::npos ? a : a.substr(words + 2));
  }
}

void write_cautions(std::string& to, bool with_readings, const presentation& as) {
  if (with_readings && as.how.instrument.valid.empty())
    to +=
        "± is what the scatter of the readings leaves open (k = 2); the instrument's own error\n"
        "comes on top.\n";
  if (with_readings && as.drift_correction)
    to += "Of a reading corrected for drift it is also what the correction leaves open.\n";
  if (with_readings && !as.how.instrument.valid.empty())
    to += "± is what scatter and the instrument's specification leave open (k = 2).\n";
  to +=
      "CO poisons and hot flue gas burns: the maker's instructions, local codes and licensed\n"
      "practice come before anything printed here.\n";
}

}  // namespace stilling::plain
