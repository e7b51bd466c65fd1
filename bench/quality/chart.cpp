// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "chart.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace stilling::scoreboard {
namespace {

constexpr double least_share = 3e-4, decades = 3.52288, least_delay = -150, most_delay = 450;
constexpr double letter = 6.3, line_height = 13;
constexpr double left = 80;
constexpr double none_at = left + 40, log_from = left + 100;  // none premature; the scale

/// Where things lie on a picture so many pixels wide.
struct sheet {
  double width = 0;
  [[nodiscard]] bool narrow() const { return width < 800; }
  [[nodiscard]] double height() const { return narrow() ? 860 : 650; }
  [[nodiscard]] double right() const { return width - 30; }
  [[nodiscard]] double top() const { return narrow() ? 100 : 70; }
  [[nodiscard]] double bottom() const { return height() - 60; }
  [[nodiscard]] double x_of(double share) const {
    if (share <= 0) return none_at;
    const double along = std::log10(std::max(share, least_share) / least_share) / decades;
    return log_from + along * (right() - log_from);
  }
  [[nodiscard]] double y_of(double delay) const {
    const double kept = std::clamp(delay, least_delay, most_delay);
    return bottom() - (kept - least_delay) / (most_delay - least_delay) * (bottom() - top());
  }
};

constexpr const char* ink = "#222";
constexpr const char* grey = "#6b7280";
constexpr const char* ours_ink = "#b4380f";

constexpr const char* colours[]{"#1d5f9e", "#2f7d4f", "#7a4a9e", "#8a6d00"};

bool beyond(double delay) { return delay > most_delay || delay < least_delay; }

struct box {
  double x = 0, y = 0, width = 0, height = 0;
  [[nodiscard]] bool meets(const box& o) const {
    return x < o.x + o.width && o.x < x + width && y < o.y + o.height && o.y < y + height;
  }
};

std::string escaped(const std::string& s) {
  std::string out;
  for (const char c : s) out += c == '<' ? "&lt;" : c == '&' ? "&amp;" : std::string{c};
  return out;
}

std::string text(double x, double y, const char* anchor, const char* colour, const std::string& s,
                 const char* more = "") {
  return fmt::format("<text x='{:.1f}' y='{:.1f}' text-anchor='{}' fill='{}' {}>{}</text>\n", x, y,
                     anchor, colour, more, escaped(s));
}

std::string axes(const sheet& on, std::size_t runs) {
  std::string out;
  for (int delay = -150; delay <= 450; delay += 50) {
    const double y = on.y_of(delay);
    out += fmt::format("<path d='M{} {:.1f}H{}' stroke='{}'/>\n", left, y, on.right(),
                       delay == 0 ? "#9ca3af" : "#ececec");
    out += text(left - 8, y + 4, "end", ink, std::to_string(delay));
  }
  for (const auto& [share, name] : {std::pair{0.0, "none"}, {1e-3, "0.1"}, {1e-2, "1"},
                                    {1e-1, "10"}, {1.0, "100"}}) {
    const double x = on.x_of(share);
    out += fmt::format("<path d='M{:.1f} {}V{}' stroke='#ececec'/>\n", x, on.top(), on.bottom());
    out += text(x, on.bottom() + 18, "middle", ink, name);
  }
  const double rule_of_three = 300.0 / static_cast<double>(runs);  // upper 95 % limit of none
  out += text(none_at, on.bottom() + 33, "middle", grey,
              fmt::format("of {}: below {:.2g} %", runs, rule_of_three));
  out += text((log_from + on.right()) / 2, on.bottom() + (on.narrow() ? 50 : 42), "middle", ink,
              on.narrow() ? "premature: runs claimed above the limit, %"
                          : "premature: runs claimed while the true rate is above the limit, %");
  const auto upright = fmt::format("transform='translate(26 {:.0f}) rotate(-90)'",
                                   (on.top() + on.bottom()) / 2);
  out += text(0, 0, "middle", ink,
              "median delay of the claim after the rate is within the limit, s", upright.c_str());
  return out;
}

/// The least delay at each premature share, from the fewest premature on.
std::string path_of(const sheet& on, const plotted& p, const char* colour) {
  auto spots = p.along;
  std::ranges::sort(spots, [](const auto& a, const auto& b) {
    return a.premature != b.premature ? a.premature < b.premature : a.delay < b.delay;
  });
  std::string d;
  double least = most_delay;
  for (const auto& s : spots) {
    if (s.delay >= least || s.delay < least_delay) continue;
    least = s.delay;
    d += fmt::format("{}{:.1f} {:.1f}", d.empty() ? 'M' : 'L', on.x_of(s.premature),
                     on.y_of(s.delay));
  }
  return fmt::format("<path d='{}' fill='none' stroke='{}' stroke-width='{}' opacity='0.75'/>\n", d,
                     colour, p.ours ? 2.5 : 1.3);
}

/// Beside its dot where there is room, else a little further off with a line to it.
std::string label(const sheet& on, const plotted& p, const char* colour,
                  std::vector<box>& taken) {
  const double x = on.x_of(p.at.premature), y = on.y_of(p.at.delay);
  const auto words =
      beyond(p.at.delay) ? fmt::format("{} ({:.0f} s)", p.label, p.at.delay) : p.label;
  const double width = letter * static_cast<double>(words.size()) + 4;
  for (int step = 0; step < 40; ++step) {
    for (const int side : {1, -1}) {
      const double dy = (step % 2 == 0 ? 1 : -1) * ((step + 1) / 2) * line_height;
      const double dx = step == 0 ? 9 : 26;
      const box b{side > 0 ? x + dx : x - dx - width, y + dy - 7, width, line_height};
      if (b.x < left || b.x + b.width > on.right() + 20) continue;
      if (b.y < on.top() - 12 || b.y > on.bottom() - 10) continue;
      if (std::ranges::any_of(taken, [&](const box& o) { return o.meets(b); })) continue;
      taken.push_back(b);
      const char* anchor = side > 0 ? "start" : "end";
      std::string out = text(x + side * dx, y + dy + 4, anchor, colour, words,
                             p.ours ? "font-weight='bold' paint-order='stroke' stroke='#fdfdfb' "
                                    "stroke-width='3'"
                                  : "paint-order='stroke' stroke='#fdfdfb' stroke-width='3'");
      if (step > 0)
        out += fmt::format("<path d='M{:.1f} {:.1f}L{:.1f} {:.1f}' stroke='#b6bcc6'/>\n",
                           x + side * 5, y, x + side * (dx - 2), y + dy);
      return out;
    }
  }
  return {};
}

}  // namespace

std::string chart_of(const std::vector<plotted>& rules, std::size_t runs, double width) {
  const sheet on{width};
  std::string out = fmt::format(
      "<svg xmlns='http://www.w3.org/2000/svg' width='{0}' height='{1}' viewBox='0 0 {0} {1}' "
      "font-family='sans-serif' font-size='11.5'>\n<rect width='{0}' height='{1}' "
      "fill='#fdfdfb'/>\n", on.width, on.height());
  out += text(on.narrow() ? 16 : left, 28, "start", ink,
              on.narrow() ? "How late, and how often too early"
                          : "How late, and how often too early: one stack temperature",
              "font-size='17' font-weight='bold'");
  const auto told = fmt::format("{} invented approaches; dots: rules as they stand; ", runs);
  const std::string more = "lines: what the same rule reaches at other thresholds; ";
  const std::string aim = "lower and further left is better";
  if (on.narrow()) {
    out += text(16, 48, "start", grey, "one stack temperature, " + told);
    out += text(16, 63, "start", grey, more);
    out += text(16, 78, "start", grey, aim);
  } else {
    out += text(left, 48, "start", grey, told + more + aim);
  }
  out += axes(on, runs);

  std::vector<const char*> colour_of(rules.size(), grey);
  std::size_t used = 0;
  std::vector<box> taken;
  std::string dots, labels;
  for (std::size_t i = 0; i < rules.size(); ++i) {
    const plotted& p = rules[i];
    if (p.at.delay >= 1e9) continue;  // never claims
    if (p.ours) colour_of[i] = ours_ink;
    else if (!p.along.empty()) colour_of[i] = colours[used++ % std::size(colours)];
    if (!p.along.empty()) out += path_of(on, p, colour_of[i]);
    const double x = on.x_of(p.at.premature), y = on.y_of(p.at.delay);
    taken.push_back({x - 5, y - 5, 10, 10});
    dots += fmt::format("<circle cx='{:.1f}' cy='{:.1f}' r='{}' fill='{}'/>\n", x, y,
                        p.ours ? 5.5 : 4, colour_of[i]);
  }
  for (std::size_t i = 0; i < rules.size(); ++i)
    if (rules[i].at.delay < 1e9) labels += label(on, rules[i], colour_of[i], taken);
  return out + dots + labels + "</svg>\n";
}

}  // namespace stilling::scoreboard
