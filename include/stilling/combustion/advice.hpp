// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <string_view>

#include "stilling/items/observation.hpp"

/// What can be found about a test, and for each what it may mean and what to check first. Words for
/// people who know the trade; the appliance maker's instructions and local codes come first.
namespace stilling {

inline constexpr std::string_view precedence =
    "The appliance maker's instructions, local codes and licensed practice come first.";

struct advice {
  finding_kind is;
  std::string_view name;
  std::string_view meaning;
  std::string_view check_first;
};

inline constexpr std::array<advice, finding_kind_count> advice_table{{
    {finding_kind::co_high, "co_high",
     "The fire does not burn out. CO harms people if flue gas comes into the room.",
     "Keep the room aired. Combustion air, nozzle and spray, flame touching metal, soot in the "
     "passages; above a danger level shut the burner down before anything else."},
    {finding_kind::co_rising, "co_rising", "CO is on its way up while everything else stands.",
     "Watch it; be ready to shut down. Air supply to the room, flame, blocked flue."},
    {finding_kind::co_in_room, "co_in_room",
     "There is CO in the air people breathe.",
     "Get people out, air the room, shut the appliance down, find the source before relighting. "
     "Other appliances and a running engine count too."},
    {finding_kind::oxygen_low, "oxygen_low",
     "Little air is left to spare: smoke and CO are near when the air gets cold or dirty.",
     "Smoke number and CO; then open the air a little."},
    {finding_kind::oxygen_high, "oxygen_high",
     "More air than needed is heated and sent up the chimney, or air leaks in before the probe.",
     "Leaks at doors, sections and the flue connection; then draft; then the air setting. An old "
     "unit that smokes with less air cannot do better: tell the owner plainly what that costs."},
    {finding_kind::co2_low, "co2_low",
     "Much excess air: fuel is spent on heating it. Old units with cast sections and old burner "
     "heads often cannot do better without smoke.",
     "Seal leaks, set draft, clean, fit the right nozzle. If it stays low, tell the owner plainly "
     "what the loss is per season and that a new burner or unit is a choice, not a must."},
    {finding_kind::co2_high, "co2_high",
     "Close to the most this fuel can give: no margin for a dirty filter or a cold day.",
     "Smoke number and CO; then open the air a little."},
    {finding_kind::stack_cool, "stack_cool",
     "An ordinary chimney may stay wet inside and rot.",
     "Firing rate, chimney size and lining. Units made for condensing are another matter."},
    {finding_kind::stack_hot, "stack_hot", "Heat goes up the chimney instead of into the house.",
     "Soot and scale on the surfaces, baffles missing, firing rate too high, draft too strong."},
    {finding_kind::condensing, "condensing",
     "The flue gas is below its water dew point: water forms, and the efficiency shown, which "
     "counts all water as vapour, is too low.",
     "Is the unit and its flue made for condensate? If not, it will corrode."},
    {finding_kind::stack_loss_high, "stack_loss_high",
     "More heat leaves by the flue than the limit allows.",
     "Excess air, then stack temperature: clean, seal, set."},
    {finding_kind::efficiency_low, "efficiency_low", "Less heat stays than the limit asks for.",
     "Excess air, then stack temperature: clean, seal, set."},
    {finding_kind::draft_overfire_off, "draft_overfire_off",
     "The fire does not get the pull it was set for: too little lets flue gas out, too much lets "
     "air in.",
     "Draft regulator, chimney, room air supply. Units built for pressure over the fire are "
     "another matter."},
    {finding_kind::draft_difference_high, "draft_difference_high",
     "The passages hold the gas back more than they should: soot, or air leaking in between.",
     "Brush the passages, check doors and seals, read again."},
    {finding_kind::draft_not_zeroed, "draft_not_zeroed",
     "The gauge did not stand at zero with its hose open: every draft is off by as much.",
     "Zero it level and at its working temperature; read again."},
    {finding_kind::draft_sign, "draft_sign",
     "The breech shows pressure, not suction: swapped hose, blocked chimney, or a fan.",
     "Hose and sign of the gauge first. If it is real, flue gas can come into the room."},
    {finding_kind::smoke_high, "smoke_high", "Soot: fuel is lost and the passages fill up.",
     "Air setting, nozzle, oil pressure and viscosity, flame pattern."},
    {finding_kind::smoke_not_repeated, "smoke_not_repeated",
     "What moves the draft or the air moves the smoke: the last spot is of another setting.",
     "Draw a spot at the setting you leave."},
    {finding_kind::zero_without_trace, "zero_without_trace",
     "Zero smoke was never approached from a trace: nobody knows how much air is too much.",
     "Close the air to a trace, then open it to zero with the margin wanted."},
    {finding_kind::oil_spot, "oil_spot", "Unburned oil on the paper: the spray does not burn out.",
     "Nozzle, cut-off, oil pressure, ignition, cold chamber. A spotted paper gives no number."},
    {finding_kind::reading_too_early, "reading_too_early",
     "The appliance was still warming when the reading was taken.",
     "Wait until the stack temperature stands, then read again."},
    {finding_kind::step_missing, "step_missing", "A step of the test was not made.",
     "Make it, or say why not."},
    {finding_kind::step_out_of_order, "step_out_of_order",
     "A step came before one it leans on.", "Repeat it in its place."},
    {finding_kind::instrument_cold, "instrument_cold",
     "The instrument had not finished warming up.", "Wait, zero in fresh air, read again."},
    {finding_kind::oxygen_cell_tired, "oxygen_cell_tired",
     "The oxygen cell does not reach air level in fresh air any more.",
     "Is it fresh air? Then the cell is due."},
    {finding_kind::zeroed_in_dirty_air, "zeroed_in_dirty_air",
     "The instrument took air with flue gas in it for fresh air.",
     "Zero it again outdoors; air the room; mind the CO."},
    {finding_kind::dilution, "dilution",
     "Gases and temperature moved together as if air got mixed in.",
     "Hole around the probe, probe depth, draft regulator between fire and probe, water trap. If "
     "nothing leaks the air setting itself may have moved."},
    {finding_kind::probe_slipped, "probe_slipped", "The probe left the flue, in part or wholly.",
     "If that was meant, nothing. Else seat and fix it; hot metal and hot gas burn."},
    {finding_kind::channel_stuck, "channel_stuck",
     "A value stands still although its own noise says it should not.",
     "Plug, pump, filter, cell."},
    {finding_kind::sensor_open, "sensor_open",
     "Again and again the same value, and none the sensor can give: it is open or not there.",
     "Plug and cable. The values were set aside."},
    {finding_kind::creeping, "creeping", "Within limits, yet still on its way.",
     "Wait if the last degree matters."},
    {finding_kind::hunting, "hunting", "It swings about a steady mean.",
     "Draft regulator flapping, gusts, pump pulsing, controls."},
    {finding_kind::short_cycling, "short_cycling", "The burner starts too often to settle.",
     "Controls and load; hold the burner on for the test."},
    {finding_kind::ambient_drifts, "ambient_drifts",
     "The air temperature moved during the test.", "Where is the air sensor? In the draught?"},
    {finding_kind::wrong_fuel_likely, "wrong_fuel_likely",
     "O2 and CO2 do not fit each other for this fuel.",
     "Is the right fuel chosen? Then leaks in the sample line, and both cells."},
}};

[[nodiscard]] constexpr const advice& advice_on(finding_kind k) noexcept {
  return advice_table[static_cast<std::size_t>(k)];
}
[[nodiscard]] constexpr std::string_view name_of(finding_kind k) noexcept {
  return advice_on(k).name;
}

}  // namespace stilling
