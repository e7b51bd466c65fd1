// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "derive_table.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <optional>
#include <set>
#include <utility>
#include <vector>

#include "stilling/combustion/combustion.hpp"
#include "stilling/combustion/explain.hpp"

namespace stilling::command {
namespace {

struct axis {
  channel of;
  typed_range range;
  [[nodiscard]] std::size_t size() const {
    return static_cast<std::size_t>(std::floor((range.last - range.first) / range.step + 1e-9)) + 1;
  }
  [[nodiscard]] double at(std::size_t i) const {
    return range.first + static_cast<double>(i) * range.step;
  }
  [[nodiscard]] std::string key() const { return key_of(of, range.in); }
};

std::string_view unit_name_of(figure f, const presentation& as) {
  switch (traits_of(f).kind) {
    case shown_as::temperature:
    case shown_as::temperature_difference:
      return traits_of(as.unit_of(channel::stack_temp)).name;
    case shown_as::percent: return "pct";
    case shown_as::ppm: return "ppm";
    case shown_as::pressure_difference: return traits_of(as.unit_of(channel::draft_breech)).name;
    default: return {};
  }
}

std::string heading_of(figure f, const presentation& as) {
  std::string key{traits_of(f).stem};
  if (const auto u = unit_name_of(f, as); !u.empty()) (key += '_') += u;
  return key;
}

/// The figure as the trade reads it; none where it cannot be given.
std::optional<std::string> cell_of(const combustion& y, figure f, const presentation& as) {
  if (!y[f]) return std::nullopt;
  const auto x = explaining::shown_in(y[f]->value, traits_of(f).kind, unit_name_of(f, as));
  const int decimals = traits_of(f).kind == shown_as::ratio                 ? 3
                       : traits_of(f).kind == shown_as::pressure_difference ? 4
                                                                            : 1;
  return fmt::format("{:.{}f}", x.value_or(0), decimals);
}

class grid {
 public:
  explicit grid(const derive_request& r) : r_{r} {
    for (const auto c : {channel::o2, channel::co2, channel::stack_temp, channel::ambient_temp,
                         channel::co, channel::no, channel::draft_breech, channel::draft_overfire})
      if (r.ranges.has(c)) axes_.push_back({c, r.ranges[c]});
  }

  std::string text() {
    if (axes_.size() == 2) matrix();
    else list();
    std::string out = r_.as == derive_request::manner::csv ? in_csv() : in_columns();
    if (r_.as != derive_request::manner::csv) out = about() + out + reasons();
    return out;
  }

 private:
  [[nodiscard]] const presentation& as() const { return r_.log.shown; }

  combustion work(double first, std::optional<double> second = {}) {
    auto in = r_.read;
    in.set(axes_[0].of, {to_canonical(axes_[0].range.in, first), 0});
    if (second) in.set(axes_[1].of, {to_canonical(axes_[1].range.in, *second), 0});
    auto how = as().how;
    how.air_temp.reset();
    return derive(readings_of(r_, in), *as().burned, how);
  }

  std::string cell(const combustion& y, figure f) {
    if (auto text = cell_of(y, f, as())) return *text;
    reasons_.insert(words_of(y[f].error()));
    return "-";
  }

  /// One figure over two ranges; what hangs on the gas alone stands beside it.
  void matrix() {
    const bool gas = axes_[0].of == channel::o2 || axes_[0].of == channel::co2;
    const auto other = axes_[0].of == channel::o2 ? figure::co2 : figure::o2;
    head_ = {axes_[0].key()};
    if (gas) head_.insert(head_.end(), {heading_of(other, as()), "excess_air_pct"});
    for (std::size_t j = 0; j < axes_[1].size(); ++j)
      head_.push_back(fmt::format("{:.10g}", axes_[1].at(j)));
    for (std::size_t i = 0; i < axes_[0].size(); ++i) {
      std::vector<std::string> row{fmt::format("{:.10g}", axes_[0].at(i))};
      if (gas) {
        const auto y = work(axes_[0].at(i), axes_[1].at(0));
        row.push_back(cell(y, other));
        row.push_back(cell(y, figure::excess_air));
      }
      for (std::size_t j = 0; j < axes_[1].size(); ++j)
        row.push_back(cell(work(axes_[0].at(i), axes_[1].at(j)), r_.of_table));
      rows_.push_back(std::move(row));
    }
  }

  /// Some figures over one range: those that can be given anywhere in it.
  void list() {
    constexpr std::array figures{figure::o2,
                                 figure::co2,
                                 figure::excess_air,
                                 figure::excess_air_exact,
                                 figure::air_ratio,
                                 figure::co_air_free,
                                 figure::net_stack_temp,
                                 figure::stack_loss_gross,
                                 figure::efficiency_gross,
                                 figure::stack_loss_net,
                                 figure::efficiency_net,
                                 figure::dew_point};
    std::vector<combustion> worked;
    for (std::size_t i = 0; i < axes_[0].size(); ++i) worked.push_back(work(axes_[0].at(i)));
    head_ = {axes_[0].key()};
    std::vector<figure> given;
    for (const auto f : figures) {
      bool any = false;
      for (const auto& y : worked) any = any || y[f].has_value();
      if (!any) continue;
      given.push_back(f);
      head_.push_back(heading_of(f, as()));
    }
    for (std::size_t i = 0; i < worked.size(); ++i) {
      std::vector<std::string> row{fmt::format("{:.10g}", axes_[0].at(i))};
      for (const auto f : given) row.push_back(cell(worked[i], f));
      rows_.push_back(std::move(row));
    }
  }

  [[nodiscard]] std::string in_csv() const {
    std::string out;
    const auto line = [&](const std::vector<std::string>& cells, bool head) {
      for (std::size_t i = 0; i < cells.size(); ++i) {
        if (i > 0) out += ',';
        const bool column = head && axes_.size() == 2 && i + axes_[1].size() >= cells.size();
        if (column)
          out += fmt::format("{}_at_{}_{}", heading_of(r_.of_table, as()), cells[i],
                             traits_of(axes_[1].range.in).name);
        else if (cells[i] != "-") out += cells[i];
      }
      out += '\n';
    };
    line(head_, true);
    for (const auto& row : rows_) line(row, false);
    return out;
  }

  /// Headings that are keys stand one word above the other, so that columns stay narrow.
  [[nodiscard]] std::string in_columns() const {
    std::vector<std::vector<std::string>> lines;
    std::size_t deepest = 0;
    std::vector<std::vector<std::string>> heads;
    for (const auto& h : head_) {
      std::vector<std::string> words;
      std::size_t start = 0;
      for (std::size_t i = 0; i <= h.size(); ++i) {
        if (i < h.size() && h[i] != '_') continue;
        words.push_back(h.substr(start, i - start));
        start = i + 1;
      }
      deepest = std::max(deepest, words.size());
      heads.push_back(std::move(words));
    }
    for (std::size_t d = 0; d < deepest; ++d) {
      std::vector<std::string> line;
      for (const auto& words : heads)
        line.push_back(d + words.size() < deepest ? "" : words[d + words.size() - deepest]);
      lines.push_back(std::move(line));
    }
    lines.insert(lines.end(), rows_.begin(), rows_.end());
    std::vector<std::size_t> widths(head_.size(), 0);
    for (const auto& line : lines)
      for (std::size_t i = 0; i < line.size(); ++i) widths[i] = std::max(widths[i], line[i].size());
    std::string out;
    if (axes_.size() == 2) {
      std::size_t before = 0;
      for (std::size_t i = 0; i + axes_[1].size() < head_.size(); ++i) before += widths[i] + 2;
      out += fmt::format("{:{}}{} at {}\n", "", before + 2, heading_of(r_.of_table, as()),
                         axes_[1].key());
    }
    std::size_t n = 0;
    for (const auto& line : lines) {
      std::string text;
      for (std::size_t i = 0; i < line.size(); ++i)
        text += fmt::format("{:>{}}", line[i], widths[i] + 2);
      text.erase(text.find_last_not_of(' ') + 1);
      out += text + '\n';
      if (++n == deepest) out += '\n';
    }
    return out;
  }

  /// What all rows have in common; a table on paper is read without the command beside it.
  [[nodiscard]] std::string about() const {
    const auto& f = *as().burned;
    std::string out = fmt::format("{} ({}), method {}", f.label, f.name, name_of(as().how.by));
    auto shared = r_.read;
    if (as().how.air_temp && !shared.has(channel::ambient_temp))
      shared.set(channel::ambient_temp, *as().how.air_temp);
    for (const auto c : all_channels) {
      if (!shared.has(c) || r_.ranges.has(c)) continue;
      out += fmt::format(", {} {:.6g} {}", traits_of(c).name,
                         from_canonical(as().unit_of(c), shared[c].value),
                         traits_of(as().unit_of(c)).name);
    }
    if (const auto& wet = as().how.humidity)
      out += fmt::format(", air of {:.4g} % humidity", 100 * wet->value);
    else out += ", dry air";
    return out + ".\n\n";
  }

  [[nodiscard]] std::string reasons() const {
    std::string out;
    for (const auto& why : reasons_) out += fmt::format("{}- {}\n", out.empty() ? "\n" : "", why);
    return out +
           "\nThe maker's instructions, local codes and licensed practice come first.\n";
  }

  const derive_request& r_;
  std::vector<axis> axes_;
  std::vector<std::string> head_;
  std::vector<std::vector<std::string>> rows_;
  std::set<std::string_view> reasons_;
};

}  // namespace

void choose_units(derive_request& r) {
  auto& as = r.log.shown;
  const auto typed = as.columns;
  const auto unit_in = [&](channel a, channel b, unit otherwise) {
    return typed.contains(a) ? as.unit_of(a) : typed.contains(b) ? as.unit_of(b) : otherwise;
  };
  const auto set = [&](channel a, channel b, unit otherwise, std::optional<unit> asked) {
    const unit of_a = asked.value_or(unit_in(a, b, otherwise));
    const unit of_b = asked.value_or(unit_in(b, a, otherwise));
    as.units[index_of(a)] = of_a;
    as.units[index_of(b)] = of_b;
  };
  set(channel::stack_temp, channel::ambient_temp, unit::fahrenheit, as.temperatures);
  const bool american = as.unit_of(channel::stack_temp) == unit::fahrenheit;
  set(channel::draft_breech, channel::draft_overfire,
      american ? unit::inch_of_water : unit::pascal, as.pressures);
  for (const auto c : {channel::o2, channel::co2})
    if (!typed.contains(c)) as.units[index_of(c)] = unit::percent;
  for (const auto c : {channel::co, channel::no})
    if (!typed.contains(c)) as.units[index_of(c)] = unit::ppm;
}

std::string table_of(const derive_request& r) { return grid{r}.text(); }

}  // namespace stilling::command
