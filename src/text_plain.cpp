// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "stilling/text.hpp"
#include "text_number.hpp"
#include "text_readable.hpp"
#include "text_reading.hpp"
#include "text_words.hpp"

namespace stilling::plain {
namespace {

using namespace writing;

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

std::string label_with_unit(std::string_view label, std::string_view unit_name) {
  return unit_name.empty() ? std::string{label} : fmt::format("{}, {}", label, word_of(unit_name));
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

}  // namespace

void write(std::string& to, const phase_change& p) {
  if (p.to == phase::steady) return;  // the reading that comes with it says more
  const auto why = reason_of(p.why, p.which);
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
  put(to, "{:>9}  {}", clock_of(p.at), writing::words_of(p.to));
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
  for (const auto& sentence : why_nothing_settled(s, as)) put(to, "{}\n", sentence);
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
