// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "scenario.hpp"

#include <algorithm>
#include <array>
#include <string>

#include "scripts.hpp"

namespace stilling::invented {
namespace {

constexpr auto all = std::to_array<scenario>({
    {"first_visit", "A whole visit: fresh air, warm-up, two air adjustments with notes.",
     first_visit},
    {"whole_visit", "A visit as it should be: zero, draft, smoke, two settings, last reading.",
     whole_visit, true},
    {"flawed_visit", "A visit in haste, with six faults in the work and the appliance.",
     flawed_visit, true},
    {"cold_start", "A cold appliance is lit, warms up, settles and is switched off.", cold_start},
    {"warm_start", "The same with an appliance still warm from its last burn.", warm_start},
    {"under_way", "The burner already runs when the probe goes in or the log begins.", under_way},
    {"air_adjustments", "The air shutter is moved several times, sometimes too far.",
     air_adjustments},
    {"draft_adjustments", "The draft regulator is moved, and the air follows a little.",
     draft_adjustments},
    {"probe_slips", "The probe slips and draws room air, or is pulled and put back.", probe_slips},
    {"short_cycling", "Burns too short to settle, with a longer one between.", short_cycling},
    {"staged_firing", "The burner changes between low and high fire.", staged_firing},
    {"cold_instrument", "The instrument was not given time to warm up.", cold_instrument},
    {"warming_instrument", "The instrument warms up as a whole: all channels drift in step.",
     warming_instrument},
    {"drifting_cells", "Zero or span of the cells drifts, slowly or too fast.", drifting_cells},
    {"drifting_between", "Cells drift between fresh air before the test and after it.",
     drifting_between},
    {"hunting", "Air or fire swings with a period, from the start or later.", hunting},
    {"wandering", "The air ratio wanders slowly and irregularly.", wandering},
    {"creeping", "Stack temperature creeps at a constant rate near the limit.", creeping},
    {"restless", "Nothing ever holds still: a ramp above the limits, or a slow wide swing.",
     restless},
    {"never_lit", "The probe is in, the burner does not light, or only tries.", never_lit},
    {"flame_failure", "The flame goes out in the middle and is lit again.", flame_failure},
    {"faulty_sensors", "A stuck channel, blank cells, missing rows, bursts of spikes.",
     faulty_sensors},
    {"slow_logger", "One row in 5 or 10 s, and something happens between.", slow_logger},
    {"broken_clock", "The clock jumps, rows repeat, the logger pauses.", broken_clock},
    {"rising_monoxide", "CO climbs while the stack temperature stays flat.", rising_monoxide},
    {"gusty_day", "Gusts at the chimney pull at draft and air.", gusty_day},
    {"drifting_room", "The boiler room warms up or cools down during the test.", drifting_room},
    {"rough_signal", "Heavy noise with outliers and lone spikes.", rough_signal},
    {"quiet_display", "Noise far below one step: the display sits still or hops.", quiet_display},
    {"slow_approach", "A heavy appliance stays long at a rate near the limit.", slow_approach},
    {"light_appliance", "A light appliance settles within a few minutes and burns briefly.",
     light_appliance},
    {"long_burn", "One burn of an hour or more in which nothing happens.", long_burn},
    {"eventful", "Adjustments, slips, faults and pauses, one after another.", eventful},
});

}  // namespace

std::span<const scenario> scenarios() noexcept { return all; }

const scenario* find_scenario(std::string_view name) noexcept {
  const auto found =
      std::find_if(all.begin(), all.end(), [&](const scenario& it) { return it.name == name; });
  return found == all.end() ? nullptr : &*found;
}

simulation simulate(std::string_view name, std::uint64_t seed, const simulation_options& options) {
  auto script = course{name, seed, options.draws};
  if (options.adjust != nullptr) options.adjust(script.plan, options.adjust_to);
  find_scenario(name)->write(script);
  if (!options.remarks) script.plan.remarks.clear();
  auto result = run(script.plan, seed, options.noise_scale);
  const auto family = options.family.empty() ? name : options.family;
  result.name = std::string{family} + "-s" + std::to_string(seed);
  result.scenario = name;
  result.family = family;
  return result;
}

}  // namespace stilling::invented
