// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// What must be steady, and with what else.

#include "log_settings.hpp"

namespace stilling::command {

settings_list judging_settings(log_options& to) {
  using enum setting::shape;
  settings_list all;
  all.push_back({.heading = heading::judging,
                 .key = "require",
                 .option = "--require",
                 .is = list,
                 .type = "CHANNELS",
                 .about = "What must be steady (stack_temp,o2,co)",
                 .take =
                     [&](const words& said) {
                       to.settings.require(read_channels(said));
                       to.required_by_hand = true;
                     },
                 .governs = {"phase.required", "plateau.required"}});
  all.push_back(
      {.heading = heading::judging,
       .key = "combustion_check",
       .option = "--combustion-check",
       .about = "Ask for a fire and an undiluted probe before settling (on where the log has O2)",
       .choices = {"on", "off"},
       .take = [&](const words& said) { to.combustion_check = read_switch(said[0]); }});
  return all;
}

}  // namespace stilling::command
