// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// How the channels went, drawn.

#include "chart_course.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include "markup.hpp"
#include "text_number.hpp"
#include "text_readable.hpp"
#include "text_words.hpp"

namespace stilling {
namespace {

using namespace writing;
using namespace drawing;

constexpr double strip_height = 18, title_height = 19, panel_gap = 9, lane_height = 15;
constexpr double axis_height = 20;
constexpr double ruled = 4000;  // units across a panel's own drawing
constexpr std::size_t most_lanes = 8;

struct panel {
  channel of;
  double top, height;
  view seen;
};

double height_of(channel c) noexcept {
  if (c == channel::stack_temp) return 92;
  return traits_of(c).kind == quantity::pressure_difference ? 44 : 68;
}

std::vector<panel> panels_of(const course& k, const visit& test, const presentation& as) {
  std::vector<panel> out;
  double top = strip_height + 4;
  for (const auto c : {channel::stack_temp, channel::o2, channel::co2, channel::co,
                       channel::draft_breech, channel::draft_overfire}) {
    if (!k.shown.contains(c) || (c == channel::co2 && k.shown.contains(channel::o2))) continue;
    top += title_height;
    out.push_back({c, top, height_of(c), view_of(c, k, test, as)});
    top += height_of(c) + panel_gap;
  }
  return out;
}

// --- the strip of phases -------------------------------------------------------------------

struct phase_look {
  std::string_view words, classes;
};

phase_look look_of(phase p) noexcept {
  switch (p) {
    case phase::no_data: return {"nothing heard", "dotted"};
    case phase::instrument_warm_up: return {"instrument warms up", "hatched"};
    case phase::fresh_air: return {"fresh air", "dotted"};
    case phase::idle: return {"no fire", "dotted"};
    case phase::appliance_warm_up: return {"warming up", "hatched"};
    case phase::settling: return {"settling", "open"};
    case phase::steady: return {"", "open"};
    case phase::disturbed: return {"moving", "open"};
    case phase::cooling: return {"cooling", "dotted"};
  }
  return {};
}

/// What of a span no settled one covers.
std::pair<double, double> uncovered(double from, double to, const course& k) {
  for (const auto& s : k.settled) {
    if (s.from > from && s.from < to) to = s.from;
    if (s.from <= from && s.to > from) from = std::min(s.to, to);
  }
  return {from, to};
}

void put_strip(std::string& to, const course& k, const visit& test, double bottom) {
  const auto& phases = test.phases();
  words_placed placed;
  std::string words;
  const auto name = [&](double a, double b, std::string_view text, std::string_view classes) {
    const word w{(a + b) / 2, 0, strip_height / 2, anchor::middle, width_of(text)};
    const double needed = letter_width * static_cast<double>(w.letters) + 2;
    if (needed > (b - a) * roomy) return;
    const bool fits = needed <= (b - a) * narrow;
    const auto where = fits ? placed.take(w) : place::on_roomy_pages;
    if (where == place::nowhere) return;
    put_word(words, w, fmt::format("{}{}", classes, where == place::taken ? "" : " roomy"), text);
  };
  for (std::size_t i = 0; i < phases.size(); ++i) {
    const auto& p = phases[i];
    const instant end = i + 1 < phases.size() ? phases[i + 1].from : k.to;
    if (end < p.from || end <= k.from || p.from >= k.to) continue;
    const auto [a, b] = uncovered(k.at(p.from), k.at(end), k);
    const auto look = look_of(p.in);
    if (b <= a) continue;
    put_box(to, a, 1, b, strip_height, fmt::format("phase {}", look.classes));
    name(a, b, look.words, "phase-word");
  }
  for (const auto& s : k.settled) {
    put_box(to, s.from, 1, s.to, bottom, "settled");
    put_line(to, s.from, 1, s.from, bottom, "settled-edge");
    put_line(to, s.to, 1, s.to, bottom, "settled-edge");
    const auto number = fmt::format("{}", s.number);
    const bool in_words = (s.to - s.from) * narrow > 11 * letter_width;
    name(s.from, s.to, in_words ? "reading " + number : number, "phase-word number");
  }
  to += words;
}

// --- a panel -------------------------------------------------------------------------------

/// Means as a line and all between lowest and highest as a band, broken where nothing was heard.
void put_trace(std::string& to, const panel& p, const course& k, const presentation& as) {
  const unit u = as.unit_of(p.of);
  const auto down = [&](double x) {
    return pixels(std::clamp(p.seen.on.down(from_canonical(u, x), p.height), -30.0,
                             p.height + 30));
  };
  const auto across = [](double x) { return pixels(ruled * x); };
  std::vector<const drawn_column*> run;
  std::string band, line;
  const auto draw = [&] {
    if (run.empty()) return;
    const char* step = "M";
    for (const auto* c : run) {
      put(line, "{}{} {}", std::exchange(step, "L"), across((c->from + c->to) / 2),
          down(c->of[p.of].mean()));
    }
    if (run.size() == 1) line += "h1";
    step = "M";
    for (const auto* c : run)
      put(band, "{}{} {}", std::exchange(step, "L"), across((c->from + c->to) / 2),
          down(c->of[p.of].highest));
    for (auto c = run.rbegin(); c != run.rend(); ++c)
      put(band, "L{} {}", across(((*c)->from + (*c)->to) / 2), down((*c)->of[p.of].lowest));
    band += 'Z';
    run.clear();
  };
  // A pause longer than five columns, or five times what columns are apart, is one.
  const double usual = 1.0 / static_cast<double>(std::max<std::size_t>(k.columns.size(), 2) - 1);
  for (const auto& c : k.columns) {
    if (!c.of.has(p.of)) continue;
    if (!run.empty() && c.from - run.back()->to > 5 * usual) draw();
    run.push_back(&c);
  }
  draw();
  put(to,
      "<svg x=\"0\" y=\"{}\" width=\"100%\" height=\"{}\" viewBox=\"0 0 {} {}\" "
      "preserveAspectRatio=\"none\">\n<path class=\"band\" d=\"{}\"/>\n<path class=\"trace\" "
      "d=\"{}\"/>\n</svg>\n",
      pixels(p.top), pixels(p.height), pixels(ruled), pixels(p.height), band, line);
}

void put_levels(std::string& to, const panel& p, const course& k, const visit& test,
                const presentation& as) {
  constexpr double thinnest = 1.5;  // of half a bar, pixels
  const unit u = as.unit_of(p.of);
  words_placed placed;
  for (const auto& s : k.settled) {
    const auto& read = test.settled()[s.number - 1].read;
    if (!read.channels.has(p.of)) continue;
    const auto& r = read.channels[p.of];
    const auto value = shown(p.of, r, as);
    const double middle = p.seen.on.down(value.value, p.height);
    if (middle < 0 || middle > p.height) continue;
    const double half =
        std::max(value.u.value_or(0) * p.height / (p.seen.on.high - p.seen.on.low), thinnest);
    put_box(to, s.mean_from, p.top + std::max(middle - half, 0.0), s.mean_to,
            p.top + std::min(middle + half, p.height), "level");
    const double step = difference_from_canonical(u, r.step);
    const int most = step > 0 ? std::max(1 - leading_power(step), 0) : 3;
    std::string text;
    append_fixed(text, value.value,
                 value.u ? readable_of(*value.u, most).decimals : std::min(value.decimals, most));
    const double above = middle - half - 9, below = middle + half + 9;
    const bool room_above = above > 4;
    word w{(s.mean_from + s.mean_to) / 2, 0, p.top + (room_above ? above : below), anchor::middle,
           width_of(text)};
    if (w.x > 0.9) w.x = s.mean_to, w.by = anchor::end;
    if (w.x < 0.1) w.x = s.mean_from, w.by = anchor::start;
    const auto where = placed.take(w);
    if (where == place::nowhere) continue;
    put_word(to, w, where == place::taken ? "value" : "value roomy", text);
  }
}

/// "O2, %", and how far it went where the picture is cut.
void put_title(std::string& to, const panel& p, const ticks& on, const presentation& as) {
  const double y = p.top - 10;
  auto title = fmt::format("{}, {}", label_of(p.of), word_of(traits_of(as.unit_of(p.of)).name));
  if (title.front() >= 'a') title.front() = static_cast<char>(title.front() - 'a' + 'A');
  std::string cut;
  const auto tell = [&](std::string_view what, const std::optional<double>& x) {
    if (!x) return;
    std::string number;
    append_fixed(number, *x, on.decimals);
    put(cut, "{}{} {}", cut.empty() ? "" : ", ", what, number);
  };
  tell("up to", p.seen.up_to);
  tell("down to", p.seen.down_to);
  if (!cut.empty()) cut = fmt::format(" (went {})", cut);
  const word both{0, 0, y, anchor::start, width_of(title) + width_of(cut)};
  const bool fits = letter_width * static_cast<double>(both.letters) <= narrow;
  put(to, "<text x=\"0\" y=\"{}\" class=\"channel\">{}", pixels(y + 4), marked_up(title));
  if (!cut.empty())
    put(to, "<tspan class=\"cut{}\">{}</tspan>", fits ? "" : " roomy", marked_up(cut));
  to += "</text>\n";
}

void put_panel(std::string& to, const panel& p, const course& k, const visit& test,
               const presentation& as) {
  constexpr double tick_distance = 21;
  const auto on = round_ticks(p.seen.on.low, p.seen.on.high,
                              static_cast<std::size_t>(std::max(p.height / tick_distance, 2.0)));
  put_title(to, p, on, as);
  for (const double t : on.at) {
    const double y = p.top + p.seen.on.down(t, p.height);
    put_line(to, 0, y, 1, y, "grid");
    std::string number;
    append_fixed(number, t, on.decimals);
    put_word(to, {0, -6, y, anchor::end, 0}, "tick", number);
  }
  put_trace(to, p, k, as);
  put_levels(to, p, k, test, as);
}

// --- the axis of time and what was said ----------------------------------------------------

void put_times(std::string& to, const course& k, double bottom, const presentation& as) {
  const auto letters = static_cast<double>(
      std::max(width_of(clock_of(k.from, as)), width_of(clock_of(k.to, as))) + 2);
  const auto fit = [&](double width) {
    return static_cast<std::size_t>(std::max(width / (letters * letter_width), 2.0));
  };
  const auto times = round_times(k.from, k.to, fit(narrow), fit(roomy));
  const auto tell = [&](instant t, std::string_view classes) {
    const double x = k.at(t);
    put_line(to, x, bottom, x, bottom + 4, "axis");
    const double from_end = 1 - x;
    const auto by = x < 0.06 ? anchor::start : from_end < 0.06 ? anchor::end : anchor::middle;
    put_word(to, {x, 0, bottom + 12, by, 0}, classes, clock_of(t, as));
  };
  put_line(to, 0, bottom, 1, bottom, "axis");
  for (const auto t : times.at) tell(t, "tick");
  for (const auto t : times.between) tell(t, "tick roomy");
}

struct mark_place {
  anchor by = anchor::start;
  std::size_t lane = most_lanes;  // none free
};

/// Lanes below the axis, so that no word touches another and no leader crosses a word to its
/// right: from the right, each mark one lane below the deepest it would touch.
std::vector<mark_place> lanes_of(const std::vector<said_mark>& marks) {
  constexpr double gap = 10;
  std::vector<mark_place> out(marks.size());
  const auto length = [&](std::size_t i) {
    return letter_width * static_cast<double>(width_of(marks[i].text)) + gap;
  };
  for (std::size_t i = marks.size(); i-- > 0;) {
    const double x = marks[i].at * narrow;
    if (x + length(i) > narrow + gap) out[i].by = anchor::end;
    const bool to_the_left = out[i].by == anchor::end;
    const double left = to_the_left ? x - length(i) : x, right = to_the_left ? x : x + length(i);
    std::size_t lane = 0;
    for (std::size_t j = i + 1; j < marks.size(); ++j) {
      if (out[j].lane == most_lanes) continue;
      const double other = marks[j].at * narrow;
      const bool other_left = out[j].by == anchor::end;
      const double a = other_left ? other - length(j) : other;
      const double b = other_left ? other : other + length(j);
      if (a < right && left < b) lane = std::max(lane, out[j].lane + 1);
    }
    out[i].lane = std::min(lane, most_lanes);
  }
  return out;
}

double lanes_height(const std::vector<mark_place>& places) {
  std::size_t lanes = 0;
  for (const auto& p : places)
    if (p.lane < most_lanes) lanes = std::max(lanes, p.lane + 1);
  return lane_height * static_cast<double>(lanes);
}

double middle_of(const mark_place& p, double bottom) {
  return bottom + axis_height + lane_height * (static_cast<double>(p.lane) + 0.5);
}

/// Through all panels, and down to the words where there are any.
void put_leaders(std::string& to, const course& k, const std::vector<mark_place>& places,
                 double bottom) {
  for (std::size_t i = 0; i < places.size(); ++i) {
    const bool named = places[i].lane < most_lanes;
    put_line(to, k.marks[i].at, strip_height, k.marks[i].at,
             named ? middle_of(places[i], bottom) - 3 : bottom,
             k.marks[i].is_smoke ? "spot" : "move");
  }
}

void put_marks(std::string& to, const course& k, const std::vector<mark_place>& places,
               double bottom) {
  for (std::size_t i = 0; i < places.size(); ++i) {
    const auto& m = k.marks[i];
    if (places[i].lane == most_lanes) continue;
    const double y = middle_of(places[i], bottom);
    // A move is a triangle, a spot a ring.
    if (m.is_smoke)
      put(to, "<circle cx=\"{}\" cy=\"{}\" r=\"3.5\" class=\"spot-sign\"/>\n", share(m.at),
          pixels(y));
    else
      put(to,
          "<svg x=\"{}\" y=\"{}\" overflow=\"visible\"><path d=\"M-4.5 -4h9l-4.5 8z\" "
          "class=\"move-sign\"/></svg>\n",
          share(m.at), pixels(y));
    const bool to_the_left = places[i].by == anchor::end;
    put_word(to, {m.at, to_the_left ? -8.0 : 8.0, y, places[i].by, 0}, "said", m.text);
  }
}

/// Patterns of the phases; nothing is told by shade alone.
constexpr std::string_view patterns =
    "<defs>\n<pattern id=\"course-hatch\" width=\"6\" height=\"6\" "
    "patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate(45)\"><path d=\"M0 0V6\" "
    "class=\"pattern\"/></pattern>\n<pattern id=\"course-dots\" width=\"6\" height=\"6\" "
    "patternUnits=\"userSpaceOnUse\"><circle cx=\"3\" cy=\"3\" r=\"0.9\" "
    "class=\"pattern-dot\"/></pattern>\n</defs>\n";

}  // namespace

bool chart::write_course(std::string& to, const visit& test, const presentation& as) {
  const auto found = course_of(test);
  if (!found) return false;
  const auto& k = *found;
  const auto panels = panels_of(k, test, as);
  if (panels.empty()) return false;
  const double bottom = panels.back().top + panels.back().height + 4;
  const auto places = lanes_of(k.marks);
  const double height = bottom + axis_height + lanes_height(places) + 2;
  put(to,
      "<svg class=\"chart\" width=\"100%\" height=\"{}\" role=\"img\" "
      "aria-labelledby=\"course-title course-desc\" xmlns=\"http://www.w3.org/2000/svg\">\n"
      "<title id=\"course-title\">How the test went, from {} to {}</title>\n"
      "<desc id=\"course-desc\">{}</desc>\n{}",
      pixels(height), clock_of(k.from, as), clock_of(k.to, as),
      marked_up(words_of_course(test, as)), patterns);
  put_strip(to, k, test, bottom);
  put_leaders(to, k, places, bottom);
  for (const auto& p : panels) put_panel(to, p, k, test, as);
  put_times(to, k, bottom, as);
  put_marks(to, k, places, bottom);
  to += "</svg>\n";
  return true;
}

}  // namespace stilling
