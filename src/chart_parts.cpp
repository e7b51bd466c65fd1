// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "chart_parts.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>

#include "markup.hpp"
#include "text_number.hpp"
#include "text_words.hpp"

namespace stilling::drawing {

using namespace writing;

ticks round_ticks(double low, double high, std::size_t most) {
  ticks out;
  if (!(high > low)) return out;
  const int power = leading_power((high - low) / static_cast<double>(most)) - 1;
  for (int p = power;; ++p) {
    for (const double lead : {1.0, 2.0, 5.0}) {
      const auto step = lead * std::pow(10.0, p);
      const double first = std::ceil(low / step - 1e-9), last = std::floor(high / step + 1e-9);
      if (last - first + 1 > static_cast<double>(most)) continue;
      out.decimals = std::max(-p, 0);
      for (double k = first; k <= last; ++k) out.at.push_back(k * step);
      return out;
    }
  }
}

namespace {

constexpr std::array<std::int64_t, 22> round_seconds{
    1,    2,    5,    10,   15,    30,    60,    120,    300,    600,     900,
    1200, 1800, 3600, 7200, 10800, 21600, 43200, 86'400, 172800, 604'800, 2'592'000};

std::vector<instant> multiples(instant from, instant to, std::int64_t step) {
  const std::int64_t ns = step * nanoseconds_per_second;
  std::int64_t k = from.time_since_epoch().count() / ns;
  if (k * ns < from.time_since_epoch().count()) ++k;
  std::vector<instant> out;
  for (; k * ns <= to.time_since_epoch().count(); ++k) out.emplace_back(duration{k * ns});
  return out;
}

std::int64_t finest_step(double seconds, std::size_t most) {
  for (const auto step : round_seconds)
    if (seconds / static_cast<double>(step) + 1 <= static_cast<double>(most)) return step;
  // Years and more: as many seconds as it takes.
  return static_cast<std::int64_t>(seconds / static_cast<double>(most)) + 1;
}

}  // namespace

time_ticks round_times(instant from, instant to, std::size_t most, std::size_t most_between) {
  const double length = in_seconds(to - from);
  time_ticks out;
  const auto step = finest_step(length, most);
  out.at = multiples(from, to, step);
  for (const auto finer : round_seconds) {
    if (finer >= step || step % finer != 0) continue;
    if (length / static_cast<double>(finer) + 1 > static_cast<double>(most_between)) continue;
    for (const auto t : multiples(from, to, finer))
      if (std::ranges::find(out.at, t) == out.at.end()) out.between.push_back(t);
    break;
  }
  return out;
}

namespace {

double left_of(const word& w, double width) {
  const double length = letter_width * static_cast<double>(w.letters);
  const double at = w.x * width + w.dx;
  return w.by == anchor::start ? at : w.by == anchor::end ? at - length : at - length / 2;
}
double right_of(const word& w, double width) {
  return left_of(w, width) + letter_width * static_cast<double>(w.letters);
}

/// Places move along straight lines as the width grows: what is apart the same way at both ends is
/// apart in between.
bool apart(const word& a, const word& b, bool on_roomy_pages) {
  constexpr double gap = 4, widest = 2000;
  const double y = a.y - b.y;
  if ((y < 0 ? -y : y) >= letter_height) return true;
  const double least = on_roomy_pages ? roomy : narrow;
  const auto before = [&](const word& first, const word& second) {
    return right_of(first, least) + gap <= left_of(second, least) &&
           right_of(first, widest) + gap <= left_of(second, widest);
  };
  return before(a, b) || before(b, a);
}

}  // namespace

bool words_placed::has_room(const word& w, bool on_roomy_pages) const {
  const double least = on_roomy_pages ? roomy : narrow;
  if (left_of(w, least) < -2 || right_of(w, least) > least + 2) return false;
  return std::ranges::all_of(all_, [&](const taken& t) {
    return apart(w, t.at, on_roomy_pages || t.on_roomy_pages);
  });
}

place words_placed::take(const word& w, bool only_roomy_will_do) {
  for (const bool on_roomy_pages : {false, true}) {
    if (on_roomy_pages && !only_roomy_will_do) break;
    if (!has_room(w, on_roomy_pages)) continue;
    all_.push_back({w, on_roomy_pages});
    return on_roomy_pages ? place::on_roomy_pages : place::taken;
  }
  return place::nowhere;
}

std::string share(double x) {
  std::string to;
  append_rounded(to, 100 * x, 2);
  return to += '%';
}

std::string pixels(double x) {
  std::string to;
  append_rounded(to, x, 1);
  return to;
}

void put_word(std::string& to, const word& w, std::string_view classes, std::string_view text) {
  constexpr double to_base_line = 4;
  put(to, "<text x=\"{}\" y=\"{}\"", share(w.x), pixels(w.y + to_base_line));
  if (w.dx != 0) put(to, " dx=\"{}\"", pixels(w.dx));
  if (w.by != anchor::start)
    put(to, " text-anchor=\"{}\"", w.by == anchor::middle ? "middle" : "end");
  if (!classes.empty()) put(to, " class=\"{}\"", classes);
  put(to, ">{}</text>\n", marked_up(text));
}

void put_line(std::string& to, double x1, double y1, double x2, double y2,
              std::string_view classes) {
  put(to, "<line x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\" class=\"{}\"/>\n", share(x1), pixels(y1),
      share(x2), pixels(y2), classes);
}

void put_box(std::string& to, double x1, double y1, double x2, double y2,
             std::string_view classes) {
  put(to, "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" class=\"{}\"/>\n", share(x1),
      pixels(y1), share(x2 - x1), pixels(y2 - y1), classes);
}

}  // namespace stilling::drawing
