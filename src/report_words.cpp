// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "report_words.hpp"

#include <algorithm>
#include <cmath>

#include "text_number.hpp"
#include "text_readable.hpp"
#include "text_reading.hpp"
#include "text_words.hpp"

namespace stilling::reporting {
namespace {

using namespace writing;

constexpr std::string_view no_break_space = "\xC2\xA0";

int most_decimals_of(figure f) noexcept {
  for (const auto& each : foremost)
    if (each.is == f) return each.most_decimals;
  return 1;
}

severity severity_of(const discovery& d) noexcept {
  if (const auto* o = std::get_if<observation>(&d.what)) return stilling::severity_of(*o);
  return std::get<finding>(d.what).grave;
}

/// Steps of the work and channels are told each for itself, however often a limit is passed.
bool same_kind(const discovery& a, const discovery& b, const presentation& as) {
  if (a.kind() != b.kind() || a.what.index() != b.what.index()) return false;
  const auto* o = std::get_if<observation>(&a.what);
  if (o == nullptr) return std::get<finding>(a.what).of == std::get<finding>(b.what).of;
  if (o->of != std::get<observation>(b.what).of) return false;
  return o->value.has_value() || brief_words_of(a, as) == brief_words_of(b, as);
}

}  // namespace

std::string glued(std::string_view text) {
  std::string to;
  for (const char c : text) c == ' ' ? to += no_break_space : to += c;
  return to;
}

std::string said_or_blank(std::string_view text) {
  if (text.empty()) return std::string{blank};
  return printable(text);
}

std::string listed(const std::vector<std::string>& those) {
  std::string to;
  for (std::size_t i = 0; i < those.size(); ++i) {
    if (i > 0) to += i + 1 == those.size() ? " and " : ", ";
    to += those[i];
  }
  return to;
}

std::string counted(std::size_t n, std::string_view one, std::string_view more) {
  return n == 1 ? fmt::format("one {}", one) : fmt::format("{} {}", n, more);
}

std::string capitalised(std::string sentence) {
  if (!sentence.empty() && sentence.front() >= 'a' && sentence.front() <= 'z')
    sentence.front() = static_cast<char>(sentence.front() - 'a' + 'A');
  return sentence;
}

std::string_view unit_of(channel c, const presentation& as) noexcept {
  return word_of(traits_of(as.unit_of(c)).name);
}

std::string number_of(channel c, const settled_row& row, const presentation& as) {
  if (!row.read.channels.has(c)) return {};
  return glued(readable_value(c, row.read.channels[c], as));
}

std::string value_of(channel c, const settled_row& row, const presentation& as) {
  auto number = number_of(c, row, as);
  if (number.empty()) return number;
  return number += glued(fmt::format(" {}", unit_of(c, as)));
}

std::string number_of(figure f, const settled_row& row, const presentation& as) {
  const auto& d = row.figures[f];
  if (!d) return {};
  return glued(readable_figure(writing::shown(f, *d, as), most_decimals_of(f)));
}

std::string value_of(figure f, const settled_row& row, const presentation& as) {
  auto number = number_of(f, row, as);
  const auto unit_name = word_of(writing::unit_of(f, as));
  if (number.empty() || unit_name.empty()) return number;
  return number += glued(fmt::format(" {}", unit_name));
}

shown_difference shown(channel c, const difference& d, const presentation& as) {
  const unit u = as.unit_of(c);
  return {difference_from_canonical(u, d.value), difference_from_canonical(u, d.expanded()),
          d.real()};
}

shown_difference shown(figure f, const difference& d, const presentation& as) {
  // A dew point differs by as many degrees as any temperature does.
  const auto at = [&](double x) { return writing::shown(f, {x, 0, {}, {}}, as).value; };
  const double zero = at(0);
  return {at(d.value) - zero, at(d.expanded()) - zero, d.real()};
}

std::string size_of(const shown_difference& d, int most) {
  const double value = std::abs(d.value);
  return glued(readable_value({value, d.u > 0 ? std::optional{d.u} : std::nullopt, most}, most));
}

std::string change_of(const shown_difference& d, int most) {
  auto size = size_of(d, most);
  const auto digits = std::string_view{size}.substr(0, size.find("\xC2"));
  if (digits.find_first_of("123456789") != std::string_view::npos)
    size.insert(size.begin(), d.value < 0 ? '-' : '+');
  return d.real ? size : fmt::format("({})", size);
}

figure heat_kept(const std::vector<settled_row>& rows) noexcept {
  const auto gross = [](const settled_row& row) {
    return row.figures[figure::efficiency_gross].has_value();
  };
  const auto net = [](const settled_row& row) {
    return row.figures[figure::efficiency_net].has_value();
  };
  return !std::ranges::any_of(rows, gross) && std::ranges::any_of(rows, net)
             ? figure::efficiency_net
             : figure::efficiency_gross;
}

std::string_view basis_of(figure f) noexcept { return name_of(traits_of(f).basis); }

std::string smoke_of(const settled_row& row, const visit& of) {
  if (!row.smoke) return {};
  const auto spot = of.notes()[*row.smoke].what();
  return spot.trace ? "trace" : fmt::format("{}", spot.smoke);
}

bool anything_moved(const std::vector<settled_row>& rows) noexcept {
  return rows.size() > 1 && std::any_of(rows.begin() + 1, rows.end(), [](const auto& row) {
           return !row.moves.empty() || row.likely.has_value();
         });
}

std::optional<saving> saved_by_moves(const std::vector<settled_row>& rows,
                                     const particulars& about) noexcept {
  if (!anything_moved(rows)) return std::nullopt;
  return saved(rows.front().figures, rows.back().figures, about.use.value_or(yearly_use{}));
}

std::string label_of(finding_kind k) {
  std::string name;
  for (const char c : name_of(k)) name += c == '_' ? ' ' : c;
  for (const auto& [spelled, word] : {std::pair<std::string_view, std::string_view>{
           "overfire", "over the fire"}, {"co ", "CO "}, {"co2 ", "CO2 "}})
    if (const auto at = name.find(spelled); at != name.npos && (at == 0 || spelled.back() != ' '))
      name.replace(at, spelled.size(), word);
  return name;
}

std::string brief_words_of(const discovery& d, const presentation& as) {
  auto text = std::visit([&](const auto& w) { return stilling::brief_words_of(w, as); }, d.what);
  for (std::size_t at; (at = text.find(" ± ")) != text.npos;)
    text.replace(at, std::string_view{" ± "}.size(), glued(" ± "));
  return text;
}

std::vector<found_kind> found_kinds(const reported& r) {
  std::vector<found_kind> all;
  for (const auto& d : r.test.found()) {
    const auto known = std::ranges::find_if(
        all, [&](const found_kind& k) { return same_kind(*k.when.front(), d, r.as); });
    if (known != all.end()) {
      known->when.push_back(&d);
      known->grave = std::max(known->grave, severity_of(d));
    } else {
      all.push_back({severity_of(d), d.kind(), {&d}, std::nullopt});
    }
  }
  std::ranges::stable_sort(all, std::ranges::greater{}, &found_kind::grave);
  const auto rows = r.test.rows();
  if (rows.empty()) return all;
  const auto last = judge(rows.back(), r.test, r.as.limits);
  for (auto& k : all) {
    const auto* f = std::get_if<finding>(&k.when.front()->what);
    if (f == nullptr || k.what == finding_kind::co_in_room) continue;
    if (!judging::look_at(f->of, rows.back().figures, {})) continue;
    k.still = std::ranges::any_of(
        last, [&](const finding& now) { return now.what == k.what && now.of == f->of; });
  }
  return all;
}

}  // namespace stilling::reporting
