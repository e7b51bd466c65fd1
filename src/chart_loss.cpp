// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Where the readings lie on the curve of heat lost up the stack against O2.

#include <algorithm>
#include <optional>
#include <vector>

#include "chart_parts.hpp"
#include "markup.hpp"
#include "stilling/chart.hpp"
#include "text_number.hpp"
#include "text_readable.hpp"
#include "text_words.hpp"

namespace stilling {
namespace {

using namespace writing;
using namespace drawing;

constexpr double top = 24, height = 216, ruled = 4000;
constexpr double percent = 100;

struct spot {
  std::size_t number = 0;
  double o2 = 0, o2_u = 0, loss = 0, loss_u = 0;  // percent
  const combustion* of = nullptr;
};

/// Of the gross heating value where it can be said, else of the net.
std::optional<figure> loss_figure(const visit& test) {
  for (const auto f : {figure::stack_loss_gross, figure::stack_loss_net})
    for (const auto& s : test.settled())
      if (s.figures[f]) return f;
  return std::nullopt;
}

std::optional<estimate> oxygen_of(const combustion& y) {
  if (y.inputs.has(channel::o2)) return y.inputs[channel::o2];
  if (y[figure::o2]) return estimate{y[figure::o2]->value, y[figure::o2]->standard_uncertainty};
  return std::nullopt;
}

std::vector<spot> spots_of(const visit& test, figure loss) {
  std::vector<spot> out;
  std::size_t number = 0;
  for (const auto& s : test.settled()) {
    ++number;
    const auto o2 = oxygen_of(s.figures);
    const auto& lost = s.figures[loss];
    if (!o2 || !lost) continue;
    out.push_back({number, percent * o2->value, 2 * percent * o2->standard_uncertainty,
                   percent * lost->value, 2 * percent * lost->standard_uncertainty, &s.figures});
  }
  return out;
}

/// Loss in percent, had the O2 been `o2` percent with all else as in `y`.
std::optional<double> loss_at(double o2, const combustion& y, figure loss,
                              const presentation& as) {
  auto in = y.inputs;
  in.clear(channel::co2);
  in.set(channel::o2, {o2 / percent, 0});
  const auto moved = derive(in, *as.burned, as.how);
  if (!moved[loss]) return std::nullopt;
  return percent * moved[loss]->value;
}

struct curve_point {
  double o2, loss;
};

struct loss_picture {
  std::vector<spot> spots;
  figure loss = figure::stack_loss_gross;
  scale across, down;
  std::vector<curve_point> last, first;  // curves at the temperatures of these readings
};

std::vector<curve_point> curve_of(const combustion& y, const loss_picture& p,
                                  const presentation& as) {
  constexpr int points = 64;
  std::vector<curve_point> out;
  for (int i = 0; i <= points; ++i) {
    const double o2 = p.across.low + (p.across.high - p.across.low) * i / points;
    if (const auto q = loss_at(o2, y, p.loss, as)) out.push_back({o2, *q});
  }
  return out;
}

std::optional<loss_picture> picture_of(const visit& test, const presentation& as) {
  const auto loss = loss_figure(test);
  if (!loss) return std::nullopt;
  loss_picture p;
  p.loss = *loss;
  p.spots = spots_of(test, *loss);
  if (p.spots.empty()) return std::nullopt;
  const auto [left, right] = std::ranges::minmax_element(p.spots, {}, &spot::o2);
  constexpr double around = 1.5, widest = 20;  // percent of O2
  p.across = {std::max(left->o2 - left->o2_u - around, 0.0),
              std::min(right->o2 + right->o2_u + around, widest)};
  p.last = curve_of(*p.spots.back().of, p, as);
  if (p.spots.size() > 1) p.first = curve_of(*p.spots.front().of, p, as);
  double low = p.spots[0].loss - p.spots[0].loss_u, high = low;
  for (const auto& s : p.spots) {
    low = std::min(low, s.loss - s.loss_u);
    high = std::max(high, s.loss + s.loss_u);
  }
  for (const auto* c : {&p.last, &p.first})
    for (const auto& q : *c) low = std::min(low, q.loss), high = std::max(high, q.loss);
  const double margin = 0.06 * (high - low);
  p.down = {low - margin, high + margin};
  return p;
}

std::string net_of(const combustion& y, const presentation& as) {
  const auto& net = y[figure::net_stack_temp];
  if (!net) return {};
  return fmt::format("{} {}",
                     readable_figure(shown(figure::net_stack_temp, *net, as), 1),
                     word_of(unit_of(figure::net_stack_temp, as)));
}

void put_axes(std::string& to, const loss_picture& p) {
  const auto sides = round_ticks(p.down.low, p.down.high, 6);
  for (const double t : sides.at) {
    const double y = top + p.down.down(t, height);
    put_line(to, 0, y, 1, y, "grid");
    std::string number;
    append_fixed(number, t, sides.decimals);
    put_word(to, {0, -6, y, anchor::end, 0}, "tick", number);
  }
  const auto feet = round_ticks(p.across.low, p.across.high, 7);
  put_line(to, 0, top + height, 1, top + height, "axis");
  for (const double t : feet.at) {
    const double x = p.across.at(t);
    put_line(to, x, top + height, x, top + height + 4, "axis");
    std::string number;
    append_fixed(number, t, feet.decimals);
    const auto by = x < 0.04 ? anchor::start : x > 0.96 ? anchor::end : anchor::middle;
    put_word(to, {x, 0, top + height + 12, by, 0}, "tick", number);
  }
  put_word(to, {1, 0, top + height + 28, anchor::end, 0}, "channel", "O2, %");
  const bool is_gross = p.loss == figure::stack_loss_gross;
  put_word(to, {0, 0, 9, anchor::start, 0}, "channel",
           is_gross ? "Lost up the stack, % of the gross heat"
                    : "Lost up the stack, % of the net heat");
}

std::string path_of(const std::vector<curve_point>& points, const loss_picture& p) {
  std::string d;
  const char* step = "M";
  for (const auto& q : points) {
    put(d, "{}{} {}", step, pixels(ruled * p.across.at(q.o2)), pixels(p.down.down(q.loss, height)));
    step = "L";
  }
  return d;
}

void put_curves(std::string& to, const loss_picture& p) {
  std::vector<curve_point> way;
  for (const auto& s : p.spots) way.push_back({s.o2, s.loss});
  put(to,
      "<svg x=\"0\" y=\"{}\" width=\"100%\" height=\"{}\" viewBox=\"0 0 {} {}\" "
      "preserveAspectRatio=\"none\">\n",
      pixels(top), pixels(height), pixels(ruled), pixels(height));
  if (!p.first.empty()) put(to, "<path class=\"curve earlier\" d=\"{}\"/>\n", path_of(p.first, p));
  put(to, "<path class=\"curve\" d=\"{}\"/>\n", path_of(p.last, p));
  if (way.size() > 1) put(to, "<path class=\"way\" d=\"{}\"/>\n", path_of(way, p));
  to += "</svg>\n";
}

void put_spots(std::string& to, const loss_picture& p) {
  words_placed placed;
  std::string words;
  for (std::size_t i = p.spots.size(); i-- > 0;) {  // the last is named first
    const auto& s = p.spots[i];
    const bool is_last = i + 1 == p.spots.size();
    const double x = p.across.at(s.o2), y = top + p.down.down(s.loss, height);
    put_line(to, p.across.at(s.o2 - s.o2_u), y, p.across.at(s.o2 + s.o2_u), y, "bar");
    put_line(to, x, top + p.down.down(s.loss - s.loss_u, height), x,
             top + p.down.down(s.loss + s.loss_u, height), "bar");
    put(to, "<circle cx=\"{}\" cy=\"{}\" r=\"{}\" class=\"{}\"/>\n", share(x), pixels(y),
        is_last ? "5" : "4", is_last ? "reading last" : "reading");
    std::string text = fmt::format("{}", s.number);
    if (is_last && p.spots.size() > 1) text += ", the last";
    const struct { double dx, dy; anchor by; } places[]{
        {8, 11, anchor::start}, {8, -11, anchor::start}, {-8, -11, anchor::end},
        {-8, 11, anchor::end}};
    for (const auto& at : places) {
      const word w{x, at.dx, y + at.dy, at.by, width_of(text)};
      if (w.y < top || w.y > top + height - 4 || placed.take(w, false) != place::taken) continue;
      put_word(words, w, is_last ? "value" : "said", text);
      break;
    }
  }
  to += words;
}

}  // namespace

bool chart::write_loss(std::string& to, const visit& test, const presentation& as) {
  const auto p = picture_of(test, as);
  if (!p) return false;
  put(to,
      "<svg class=\"chart\" width=\"100%\" height=\"{}\" role=\"img\" "
      "aria-labelledby=\"loss-title loss-desc\" xmlns=\"http://www.w3.org/2000/svg\">\n"
      "<title id=\"loss-title\">Heat lost up the stack against O2</title>\n"
      "<desc id=\"loss-desc\">{}</desc>\n",
      pixels(top + height + 36), marked_up(words_of_loss(test, as)));
  put_axes(to, *p);
  put_curves(to, *p);
  put_spots(to, *p);
  to += "</svg>\n";
  return true;
}

std::string chart::words_of_loss(const visit& test, const presentation& as) {
  const auto p = picture_of(test, as);
  if (!p) return {};
  const auto& last = p->spots.back();
  auto to = fmt::format(
      "Heat lost up the stack against O2, burning {}. The solid curve is at the net stack "
      "temperature of reading {}, {}: along it only the air changes.",
      as.burned->label, last.number, net_of(*last.of, as));
  if (!p->first.empty())
    put(to, " The dashed curve is at that of reading {}, {}. Thin lines join the readings in their "
            "order.",
        p->spots.front().number, net_of(*p->spots.front().of, as));
  to += " The bars are each reading's ±; what all readings share, such as the fuel, is in them and "
        "takes nothing from the differences.";
  return to;
}

}  // namespace stilling
