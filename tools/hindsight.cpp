// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "hindsight.hpp"

#include "log_settings.hpp"

namespace stilling::command {

void offer_hindsight(CLI::App& to, settle_request& r) {
  to.add_flag("--finished", r.finished,
              "Judge in hindsight, when the whole log is known; nothing is said before its end")
      ->group(std::string{heading::judging});
}

std::string settle_in_hindsight(const settle_request& r) {
  if (!r.finished) return {};
  if (r.forecast) return "--forecast looks ahead and --finished back; ask for one of them";
  if (!r.log.live.device.empty() || r.log.live.follow)
    return "--finished is for logs that have an end; leave it away";
  if (r.log.settings.rule.readings > 0)
    return "--finished judges rates; a criterion of readings some time apart is judged live";
  return {};
}

}  // namespace stilling::command
