// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <string_view>

#include "stilling/combustion/formula.hpp"

/// Steps on the way to a figure that are no figures themselves, for whoever follows a calculation
/// by hand: what derive() does inside its functions, spelled out with + - x / and square roots.
/// In a text {key} stands for a number, as in formula.hpp, or for another step.
namespace stilling {

struct worked_step {
  std::string_view key;  // <name> or <name>_<unit>
  std::string_view label;
  std::string_view text;
  std::string_view source;
};

// A mean of T^n between two temperatures is (T2^(n+1) - T1^(n+1))/((n+1)(T2 - T1)), multiplied out.
inline constexpr std::array worked_steps{
    worked_step{"mean_t", "mean of T", "({ambient_temp_K} + {stack_temp_K})/2", "integral"},
    worked_step{"mean_t2", "mean of T x T",
                "({ambient_temp_K} x {ambient_temp_K} + {ambient_temp_K} x {stack_temp_K} + "
                "{stack_temp_K} x {stack_temp_K})/3",
                "integral"},
    worked_step{"mean_t3", "mean of T x T x T",
                "({ambient_temp_K} + {stack_temp_K}) x ({ambient_temp_K} x {ambient_temp_K} + "
                "{stack_temp_K} x {stack_temp_K})/4",
                "integral"},
    worked_step{"mean_t4", "mean of T x T x T x T",
                "({stack_temp_K} x ({stack_temp_K} x ({stack_temp_K} x ({stack_temp_K} + "
                "{ambient_temp_K}) + {ambient_temp_K} x {ambient_temp_K}) + {ambient_temp_K} x "
                "{ambient_temp_K} x {ambient_temp_K}) + {ambient_temp_K} x {ambient_temp_K} x "
                "{ambient_temp_K} x {ambient_temp_K})/5",
                "integral"},
    worked_step{"heat_n2", "mean heat capacity of N2, J/(mol K)",
                "8.31446261815324 x ({n2_a1} + {n2_a2} x {mean_t} + {n2_a3} x {mean_t2} + {n2_a4} "
                "x {mean_t3} + {n2_a5} x {mean_t4})",
                sources::nasa},
    worked_step{"heat_o2", "mean heat capacity of O2, J/(mol K)",
                "8.31446261815324 x ({o2_a1} + {o2_a2} x {mean_t} + {o2_a3} x {mean_t2} + {o2_a4} "
                "x {mean_t3} + {o2_a5} x {mean_t4})",
                sources::nasa},
    worked_step{"heat_co2", "mean heat capacity of CO2, J/(mol K)",
                "8.31446261815324 x ({co2_a1} + {co2_a2} x {mean_t} + {co2_a3} x {mean_t2} + "
                "{co2_a4} x {mean_t3} + {co2_a5} x {mean_t4})",
                sources::nasa},
    worked_step{"heat_h2o", "mean heat capacity of water vapour, J/(mol K)",
                "8.31446261815324 x ({h2o_a1} + {h2o_a2} x {mean_t} + {h2o_a3} x {mean_t2} + "
                "{h2o_a4} x {mean_t3} + {h2o_a5} x {mean_t4})",
                sources::nasa},
    worked_step{"heat_co", "mean heat capacity of CO, J/(mol K)",
                "8.31446261815324 x ({co_a1} + {co_a2} x {mean_t} + {co_a3} x {mean_t2} + {co_a4} "
                "x {mean_t3} + {co_a5} x {mean_t4})",
                sources::nasa},
    worked_step{"heat_ar", "heat capacity of argon, J/(mol K)", "8.31446261815324 x {ar_a1}",
                sources::nasa},
    worked_step{"heat_so2", "mean heat capacity of SO2, J/(mol K)",
                "8.31446261815324 x ({so2_a1} + {so2_a2} x {mean_t} + {so2_a3} x {mean_t2} + "
                "{so2_a4} x {mean_t3} + {so2_a5} x {mean_t4})",
                sources::nasa},
    worked_step{"gas_co", "CO in the flue gas, mol per kg of fuel",
                "{co_counted_ppm}/1000000 x {dry_flue_gas_mol_per_kg}", sources::atoms},
    worked_step{"gas_co2", "CO2 in the flue gas, mol per kg of fuel", "{fuel_carbon} - {gas_co}",
                sources::atoms},
    worked_step{"gas_so2", "SO2 in the flue gas, mol per kg of fuel", "{fuel_sulphur}",
                sources::atoms},
    worked_step{"gas_o2", "O2 in the flue gas, mol per kg of fuel",
                "0.20946 x ({dry_air_mol_per_kg} - {theoretical_air_mol_per_kg}) + {gas_co}/2",
                sources::atoms},
    worked_step{"gas_n2", "N2 in the flue gas, mol per kg of fuel",
                "0.7812 x {dry_air_mol_per_kg} + {fuel_nitrogen}/2", sources::atoms},
    worked_step{"gas_ar", "argon in the flue gas, mol per kg of fuel",
                "0.00934 x {dry_air_mol_per_kg}", sources::atoms},
    worked_step{"sat_t", "IF97 Eq. 29 of the air's temperature",
                "{ambient_temp_K} - 0.23855557567849/({ambient_temp_K} - 650.17534844798)",
                sources::if97},
    worked_step{"sat_a", "IF97 A",
                "{sat_t} x {sat_t} + 1167.0521452767 x {sat_t} - 724213.16703206",
                sources::if97},
    worked_step{"sat_b", "IF97 B",
                "12020.82470247 x {sat_t} - 17.073846940092 x {sat_t} x {sat_t} - 3232555.0322333",
                sources::if97},
    worked_step{"sat_c", "IF97 C",
                "14.91510861353 x {sat_t} x {sat_t} - 4823.2657361591 x {sat_t} + "
                "405113.40542057",
                sources::if97},
    worked_step{"sat_root", "IF97, fourth root of the pressure in MPa",
                "2 x {sat_c}/(sqrt({sat_b} x {sat_b} - 4 x {sat_a} x {sat_c}) - {sat_b})",
                sources::if97},
    worked_step{"air_saturation_Pa", "saturation pressure at the air's temperature, Pa",
                "1000000 x {sat_root} x {sat_root} x {sat_root} x {sat_root}", sources::if97},
    worked_step{"dew_root", "IF97, fourth root of the pressure in MPa",
                "sqrt(sqrt({vapour_pressure_Pa}/1000000))", sources::if97},
    worked_step{"dew_e", "IF97 E", "{dew_root} x {dew_root} - 17.073846940092 x {dew_root} + "
                                   "14.91510861353",
                sources::if97},
    worked_step{"dew_f", "IF97 F",
                "1167.0521452767 x {dew_root} x {dew_root} + 12020.82470247 x {dew_root} - "
                "4823.2657361591",
                sources::if97},
    worked_step{"dew_g", "IF97 G",
                "405113.40542057 - 724213.16703206 x {dew_root} x {dew_root} - 3232555.0322333 x "
                "{dew_root}",
                sources::if97},
    worked_step{"dew_d", "IF97 D",
                "(0 - 2 x {dew_g})/({dew_f} + sqrt({dew_f} x {dew_f} - 4 x {dew_e} x {dew_g}))",
                sources::if97},
};

/// Null where no step has that key.
[[nodiscard]] constexpr const worked_step* find_step(std::string_view key) noexcept {
  for (const auto& s : worked_steps) {
    if (s.key == key) return &s;
  }
  return nullptr;
}

}  // namespace stilling
