// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "rule_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>
#include <vector>

namespace stilling::command {
namespace {

std::string time_in_words(duration d) {
  const double s = in_seconds(d);
  const bool whole_minutes = s >= 60 && d % seconds(60) == duration{};
  return whole_minutes ? fmt::format("{:g} min", s / 60) : fmt::format("{:g} s", s);
}

std::string listed(const std::vector<std::string>& those) {
  std::string text;
  for (std::size_t i = 0; i < those.size(); ++i)
    text += (i == 0 ? "" : i + 1 < those.size() ? ", " : " and ") + those[i];
  return text;
}

std::string names_of(channel_set set) {
  std::vector<std::string> names;
  for (const auto c : all_channels)
    if (set.contains(c)) names.emplace_back(traits_of(c).name);
  return listed(names);
}

std::string amount(const tolerance& t) {
  const auto share = fmt::format("{:g} % of their mean", 100 * t.share_of_mean);
  const auto absolute = fmt::format("{:g} {}", t.absolute, traits_of(t.in).name);
  if (!(t.share_of_mean > 0)) return absolute;
  return t.absolute > 0 ? fmt::format("the larger of {} and {}", absolute, share) : share;
}

std::string condition(const tolerance& t, std::string_view of) {
  const auto most = amount(t);
  switch (t.of) {
    case variation::range:
      return fmt::format("the lowest and the highest{} differ by at most {}", of, most);
    case variation::successive:
      return fmt::format("no two neighbours{} differ by more than {}", of, most);
    case variation::from_mean: break;
  }
  return fmt::format("none{} is farther from their mean than {}", of, most);
}

std::string times(const reading_rule& r) {
  if (r.is_even()) return fmt::format("{} apart", time_in_words(r.apart[0]));
  const bool minutes = std::ranges::all_of(
      r.apart, [](duration d) { return d % seconds(60) == duration{}; });
  std::vector<std::string> at{"0"};
  duration sum{};
  for (std::size_t i = 0; i + 1 < r.readings; ++i) {
    sum += r.apart[i];
    at.push_back(fmt::format("{:g}", in_seconds(sum) / (minutes ? 60 : 1)));
  }
  return fmt::format("at {} {}", listed(at), minutes ? "min" : "s");
}

std::string waiting(const reading_rule& r) {
  if (r.waiting == duration{}) return {};
  return fmt::format(", {} after {}", time_in_words(r.waiting),
                     r.needs_fire ? "the fire was seen" : "the first row");
}

}  // namespace

std::string in_words(const reading_rule& r, channel_set required) {
  if (r.is_one_mean())
    return fmt::format("one mean of {} over {}{}", names_of(required), time_in_words(r.mean),
                       waiting(r));
  const auto means = r.mean > duration{}
                         ? fmt::format(", each a mean over {}", time_in_words(r.mean))
                         : std::string{};
  std::vector<std::string> conditions;
  for (const auto c : all_channels) {
    if (!required.contains(c) || !r.allowed.has(c)) continue;
    const auto of = fmt::format(" of {}", traits_of(c).name);
    conditions.push_back(
        condition(r.allowed[c], required.size() > 1 ? std::string_view{of} : std::string_view{}));
  }
  return fmt::format("{} readings of {}{}, {}{}: {}", r.readings, names_of(required), means,
                     times(r), waiting(r), listed(conditions));
}

}  // namespace stilling::command
