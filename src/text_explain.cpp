// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// How each figure came about: formula, numbers filled in, result. What is printed is all that is
// used: every result is worked from the numbers as they stand on the page and rounded, so that
// whoever follows with a pocket calculator finds the same digits.

#include <cmath>
#include <cstdlib>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "stilling/combustion/explain.hpp"
#include "stilling/combustion/worked_steps.hpp"
#include "stilling/text.hpp"
#include "text_number.hpp"
#include "text_readable.hpp"
#include "text_words.hpp"

namespace stilling::plain {
namespace {

using namespace writing;

constexpr int digits_shown = 9;  // of a pocket calculator with ten

/// + - x / brackets and sqrt(…), as on the page. Well-formed text only: it comes from tables.
class calculator {
 public:
  explicit calculator(std::string_view text) : left_{text} {}
  double sum() {
    double x = product();
    for (char c = next(); c == '+' || c == '-'; c = next()) {
      left_.remove_prefix(1);
      const double y = product();
      x = c == '+' ? x + y : x - y;
    }
    return x;
  }

 private:
  char next() {
    while (left_.starts_with(' ')) left_.remove_prefix(1);
    return left_.empty() ? '\0' : left_.front();
  }
  double product() {
    double x = factor();
    for (char c = next(); c == 'x' || c == '/'; c = next()) {
      left_.remove_prefix(1);
      const double y = factor();
      x = c == 'x' ? x * y : x / y;
    }
    return x;
  }
  double factor() {
    constexpr std::string_view root = "sqrt";
    if (next() == 's') {
      left_.remove_prefix(root.size());
      return std::sqrt(factor());
    }
    if (next() == '(') {
      left_.remove_prefix(1);
      const double x = sum();
      if (next() == ')') left_.remove_prefix(1);
      return x;
    }
    std::size_t used = 0;
    while (used < left_.size() && ((left_[used] >= '0' && left_[used] <= '9') ||
                                   left_[used] == '.' || (used == 0 && left_[used] == '-')))
      ++used;
    const double x = written(left_.substr(0, used));
    left_.remove_prefix(used);
    return x;
  }

 public:
  /// A decimal number without an exponent, whatever the host's locale: digits as an integer over a
  /// power of ten, which is exact to the last place for up to 15 digits.
  static double written(std::string_view digits) {
    const bool negative = digits.starts_with('-');
    double x = 0, below = 1;
    bool after = false;
    for (const char c : digits) {
      if (c == '.') after = true;
      if (c < '0' || c > '9') continue;
      x = 10 * x + (c - '0');
      if (after) below *= 10;
    }
    return (negative ? -x : x) / below;
  }

 private:
  std::string_view left_;
};

/// So many significant digits, none of them an exponent, no zeros behind.
std::string in_digits(double x, int digits) {
  std::string to;
  if (x == 0) return "0";
  const int decimals = digits - 1 - leading_power(x);
  append_rounded(to, x, decimals < 0 ? 0 : decimals > 20 ? 20 : decimals);
  return to;
}

/// The unit a formula's result is in.
std::string_view unit_of_formula(shown_as kind) {
  switch (kind) {
    case shown_as::temperature:
    case shown_as::temperature_difference: return "K";
    case shown_as::percent: return "pct";
    case shown_as::ppm: return "ppm";
    case shown_as::pressure_difference:
    case shown_as::pressure: return "Pa";
    case shown_as::ratio: return "";
    case shown_as::amount: return "mol_per_kg";
    case shown_as::heat_capacity: return "J_per_mol_K";
  }
  return {};
}

std::string key_in(std::string_view stem, std::string_view unit_name) {
  std::string key{stem};
  if (!unit_name.empty()) (key += '_') += unit_name;
  return key;
}

class worksheet {
 public:
  worksheet(std::string& to, const combustion& y, const presentation& as)
      : to_{to}, y_{y}, as_{as}, constants_{constants_of(*as.burned)} {}

  /// The figure in the unit it is shown in, after all it leans on.
  void explain(figure f) {
    const auto& traits = traits_of(f);
    if (!y_[f]) return;
    number(key_in(traits.stem, unit_of_formula(traits.kind)));
    number(writing::key_of(f, as_));
    if (!traits.working) tell_uncertainty(f);
  }

 private:
  /// As it stands on the page; works it out above where it does not yet.
  const std::string& number(const std::string& key) {
    if (const auto known = known_.find(key); known != known_.end()) return known->second;
    auto value = work_out(key);
    return known_.emplace(key, std::move(value)).first->second;
  }

  std::string work_out(const std::string& key) {
    for (const auto c : all_channels) {
      const auto in = explaining::unit_after(key, traits_of(c).name);
      if (!in || !y_.inputs.has(c)) continue;
      if (const auto u = find_unit(*in, traits_of(c).kind))
        return in_unit(key, traits_of(c).name, label_of(c), as_.unit_of(c), *u,
                       y_.inputs[c].value, true);
    }
    for (const auto& row : figure_table) {
      const auto in = explaining::unit_after(key, row.stem);
      if (!in || !y_[row.is] || !explaining::shown_in(1, row.kind, *in)) continue;
      return of_figure(key, row, *in);
    }
    if (const auto* step = find_step(key))
      return worked(key, step->label, {}, step->text, step->source, {});
    if (const auto* c = constants_.find(key)) {
      auto digits = constant_digits(c->value);
      put(to_, "{} = {}{}{}\n", key, digits, c->unit.empty() ? "" : " ", c->unit);
      paragraph(fmt::format("{}: {}", c->label, c->source), 4);
      to_ += '\n';
      return digits;
    }
    const auto x = number_named(key, y_, *as_.burned);
    auto digits = constant_digits(x.value_or(0));
    if (key == "barometer_Pa" || key == "humidity" || key == "chimney_height_m" ||
        key == "outdoor_temp_K")
      put(to_, "{} = {}\n    as typed or assumed\n\n", key, digits);
    return digits;
  }

  /// Published constants as they were published; what was worked out beforehand, rounded.
  static std::string constant_digits(double x) {
    auto whole = in_digits(x, 14);
    return whole.size() <= 15 && calculator::written(whole) == x ? whole
                                                                 : in_digits(x, digits_shown);
  }

  /// A quantity known in one unit, wanted in another. `stands`: the first is on the page.
  std::string in_unit(const std::string& key, std::string_view stem, std::string_view label,
                      unit known, unit wanted, double canonical, bool point) {
    if (known == wanted) {
      auto digits = in_digits(point ? from_canonical(known, canonical)
                                    : difference_from_canonical(known, canonical),
                              digits_shown);
      put(to_, "{} = {}\n    {}, as typed\n\n", key, digits, label);
      return digits;
    }
    return worked(key, label, {}, conversion(key_in(stem, traits_of(known).name), known, wanted,
                                             point),
                  "units", {});
  }

  static std::string conversion(std::string_view key, unit from, unit into, bool point) {
    std::string text = fmt::format("{{{}}}", key);
    const auto& a = traits_of(from);
    const auto& b = traits_of(into);
    if (point && a.shift != 0) text = fmt::format("({} + {:.10g})", text, a.shift);
    const auto times = [&](double x) { if (x != 1) text += fmt::format(" x {:.15g}", x); };
    const auto over = [&](double x) { if (x != 1) text += fmt::format("/{:.15g}", x); };
    times(a.multiply), over(a.divide), times(b.divide), over(b.multiply);
    if (point && b.shift != 0) text += fmt::format(" - {:.10g}", b.shift);
    return text;
  }

  std::string of_figure(const std::string& key, const figure_traits& row, std::string_view in) {
    const auto own = unit_of_formula(row.kind);
    const auto& made = traits_of(y_[row.is]->by);
    if (made.is == formula::siegert_rounding) return rounded(key, row);
    if (in == own) return worked(key, row.label, made.name, made.text, made.source, row.kind);
    const bool point = row.kind == shown_as::temperature;
    const auto kind = point || row.kind == shown_as::temperature_difference
                          ? quantity::temperature
                      : row.kind == shown_as::percent || row.kind == shown_as::ppm
                          ? quantity::volume_fraction
                          : quantity::pressure_difference;
    const auto from = find_unit(own, kind), into = find_unit(in, kind);
    return worked(key, row.label, {},
                  conversion(key_in(row.stem, own), from.value_or(unit::kelvin),
                             into.value_or(unit::kelvin), point),
                  "units", {});
  }

  /// The one rule that is words: to a decimal, then to the integer, halves up.
  std::string rounded(const std::string& key, const figure_traits& row) {
    const auto& made = traits_of(y_[row.is]->by);
    const auto loss = number("stack_loss_net_pct");
    const auto millionths = std::llround(calculator::written(loss) * 1e6);
    const auto tenths = (millionths + 50'000) / 100'000;
    auto digits = fmt::format("{}", (tenths + 5) / 10);
    put(to_, "{}: {} ({})\n", key, row.label, made.name);
    paragraph("stack_loss_net_pct, rounded to one decimal, then to the integer, halves up", 4);
    put(to_, "  ~ {}, {}.{}\n  = {} %\n", loss, tenths / 10, tenths % 10, digits);
    paragraph(made.source, 4);
    to_ += '\n';
    return digits;
  }

  std::string worked(const std::string& key, std::string_view label, std::string_view name,
                     std::string_view text, std::string_view source,
                     std::optional<shown_as> kind) {
    std::string spoken, filled;
    for_each_part(
        text,
        [&](std::string_view words) {
          spoken += words;
          filled += words;
        },
        [&](std::string_view under) {
          spoken += under;
          const auto& digits = number(std::string{under});
          filled += digits.starts_with('-') ? fmt::format("({})", digits) : digits;
        });
    auto digits = in_digits(calculator{filled}.sum(), digits_shown);
    paragraph(name.empty() ? fmt::format("{}: {}", key, label)
                           : fmt::format("{}: {} ({})", key, label, name),
              0, 6);
    if (spoken != filled) paragraph(spoken, 4);
    paragraph("= " + filled, 2);
    const auto unit_name = kind ? word_of(unit_of_formula(*kind)) : std::string_view{};
    if (filled != digits)
      put(to_, "  = {}{}{}\n", digits, unit_name.empty() ? "" : " ", unit_name);
    paragraph(source, 4);
    to_ += '\n';
    return digits;
  }

  /// As it is shown elsewhere, and what its uncertainty is made of.
  void tell_uncertainty(figure f) {
    const auto& d = *y_[f];
    const auto value = shown(f, d, as_);
    to_.pop_back();  // it belongs to the paragraph above
    put(to_, "    shown as {}", readable_figure(value, 12));
    if (const auto u = writing::unit_of(f, as_); !u.empty()) put(to_, " {}", word_of(u));
    to_ += '\n';
    if (!value.u || !(d.standard_uncertainty > 0)) {
      to_ += '\n';
      return;
    }
    const double scale = *value.u / d.standard_uncertainty;
    std::string names, squares;
    for (std::size_t i = 0; i < input_count; ++i) {
      const double part = scale * d.parts.contributions[i];
      if (!(std::abs(part) > 0.001 * *value.u)) continue;
      const auto digits = in_digits(std::abs(part), 3);
      put(squares, "{}{} x {}", squares.empty() ? "" : " + ", digits, digits);
      put(names, "{}{}", names.empty() ? "" : ", ", name_of(static_cast<input>(i)));
    }
    paragraph(fmt::format("± {} = sqrt({}), k = 2, moved by {}",
                          in_digits(calculator{fmt::format("sqrt({})", squares)}.sum(), 3), squares,
                          names),
              4);
    to_ += '\n';
  }

  static std::string_view name_of(input i) {
    constexpr std::string_view beside[]{"barometer",          "humidity",       "fuel_hydrogen",
                                        "fuel_heating_value", "chimney_height", "outdoor_temp"};
    const auto at = static_cast<std::size_t>(i);
    return at < channel_count ? traits_of(static_cast<channel>(at)).name
                              : beside[at - channel_count];
  }

  void paragraph(std::string_view text, std::size_t indent, std::size_t further = 4) {
    constexpr std::size_t width = 80;
    std::size_t at = 0;
    while (!text.empty()) {
      const auto word = text.substr(0, text.find(' '));
      text.remove_prefix(std::min(word.size() + 1, text.size()));
      if (at > 0 && at + 1 + width_of(word) > width) {
        to_ += '\n';
        at = 0;
        indent = further;
      }
      if (at == 0) to_.append(indent, ' '), at = indent;
      else to_ += ' ', ++at;
      to_ += word;
      at += width_of(word);
    }
    to_ += '\n';
  }

  std::string& to_;
  const combustion& y_;
  const presentation& as_;
  fuel_constants constants_;
  std::map<std::string, std::string, std::less<>> known_;
};

}  // namespace

void write_explanation(std::string& to, const combustion& y, const presentation& as) {
  worksheet sheet{to, y, as};
  for (const auto& row : figure_table)
    if (!row.working) sheet.explain(row.is);
  bool first = true;
  for (const auto& row : figure_table) {
    if (row.working || y[row.is]) continue;
    const auto why = y[row.is].error();
    if (why == undefined::not_derived || why == undefined::oxygen_measured ||
        why == undefined::co2_measured)
      continue;
    if (std::exchange(first, false)) to += "Not given:\n";
    put(to, "  {}: {}\n", row.stem, stilling::words_of(why));
  }
}

}  // namespace stilling::plain
