// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// The rules pictures are drawn by, and what is in the picture of a course, in words.

#include <algorithm>
#include <initializer_list>
#include <string>
#include <utility>

#include "chart_course.hpp"
#include "text_number.hpp"
#include "text_words.hpp"

namespace stilling {

using namespace writing;

std::string_view chart::style() noexcept {
  return R"(.chart{display:block;overflow:visible;font-size:12px}
.chart text{fill:var(--ink);paint-order:stroke;stroke:var(--paper);stroke-width:3px;
stroke-linejoin:round;font-variant-numeric:tabular-nums}
.chart .tick,.chart .cut,.chart .phase-word{fill:var(--quiet)}
.chart .channel,.chart .value,.chart .number{font-weight:600}
.chart .cut{font-weight:400}
.chart line,.chart path,.chart circle,.chart rect{fill:none;stroke:none;
vector-effect:non-scaling-stroke}
.chart .grid{stroke:var(--faint)}
.chart .axis,.chart .settled-edge{stroke:var(--quiet)}
.chart .band{fill:var(--quiet);fill-opacity:.3}
.chart .trace{stroke:var(--ink);stroke-width:1.3px;stroke-linejoin:round}
.chart .phase{stroke:var(--faint)}
.chart .hatched{fill:url(#course-hatch)}
.chart .dotted{fill:url(#course-dots)}
.chart .pattern{stroke:var(--quiet);stroke-opacity:.55}
.chart .pattern-dot{fill:var(--quiet);fill-opacity:.7}
.chart .settled{fill:var(--accent);fill-opacity:.11}
.chart .level{fill:var(--accent);fill-opacity:.8}
.chart .move{stroke:var(--ink);stroke-dasharray:5 3}
.chart .spot{stroke:var(--quiet);stroke-dasharray:1 3}
.chart .move-sign{fill:var(--ink)}
.chart .spot-sign{fill:var(--paper);stroke:var(--ink);stroke-width:1.4px}
.chart .curve{stroke:var(--ink);stroke-width:1.6px}
.chart .earlier{stroke:var(--quiet);stroke-dasharray:6 4;stroke-width:1.3px}
.chart .way{stroke:var(--accent);stroke-width:1px}
.chart .bar{stroke:var(--accent);stroke-width:1.4px}
.chart .reading{fill:var(--paper);stroke:var(--accent);stroke-width:2px}
.chart .last{fill:var(--accent)}
.chart .roomy{display:none}
@media (min-width:42rem),print{.chart .roomy{display:inline}}
)";
}

std::string chart::words_of_course(const visit& test, const presentation& as) {
  const auto k = drawing::course_of(test);
  if (!k) return {};
  auto to = fmt::format("From {} to {}", clock_of(k->from, as), clock_of(k->to, as));
  to += k->settled.empty()
            ? ": no reading settled."
            : fmt::format(". Shaded and numbered is what settled, with a bar for the mean and "
                          "its ± over the rows it is the mean of; the line is the course, the grey "
                          "about it {}.",
                          test.course().length() > duration{0} || test.course().spans().size() > 400
                              ? "lowest and highest"
                              : "lowest and highest where rows were joined");
  const auto any = [&](std::initializer_list<phase> those) {
    return std::ranges::any_of(test.phases(), [&](const phase_span& p) {
      return k->holds(p.from) && std::ranges::find(those, p.in) != those.end();
    });
  };
  const bool warms = any({phase::instrument_warm_up, phase::appliance_warm_up});
  const bool no_fire = any({phase::no_data, phase::fresh_air, phase::idle, phase::cooling});
  if (warms || no_fire)
    put(to, " In the strip above: {}{}{}.", warms ? "hatched while something warms up" : "",
        warms && no_fire ? ", " : "", no_fire ? "dotted where there was no fire" : "");
  const auto is_smoke = [](const drawing::said_mark& m) { return m.is_smoke; };
  const auto smokes = std::ranges::count_if(k->marks, is_smoke);
  if (std::cmp_less(smokes, k->marks.size()))
    to += " Dashed, with a triangle: what was moved.";
  if (smokes > 0) to += " Dotted, with a ring: how it smoked.";
  if (k->is_part)
    to += " The clock of the log jumped; this is the longest piece between jumps.";
  return to;
}

}  // namespace stilling
