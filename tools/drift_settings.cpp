// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// What the instrument adds to its readings, and what of that is to be taken off.

#include "log_settings.hpp"

namespace stilling::command {

settings_list drift_settings(log_options& to) {
  settings_list all;
  all.push_back({.heading = heading::instrument,
                 .key = "drift_correction",
                 .option = "--drift-correction",
                 .is = setting::shape::flag,
                 .about = "Correct O2 and CO for what the cells drifted between the fresh air a "
                          "log begins with and that it ends with; nothing is said before its end",
                 .take = [&](const words& said) {
                   to.drift_correction = to.shown.drift_correction = read_switch(said[0]);
                 }});
  return all;
}

}  // namespace stilling::command
