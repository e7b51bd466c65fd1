// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "watch_options.hpp"

#include <unistd.h>

namespace stilling::command {

void add_watch(CLI::App& to, watch_request& r, log_words& log) {
  to.add_option("FILE", r.file, "The log; standard input where none is named, or for -")
      ->type_name("FILE");
  log.offer(to, {heading::reading, heading::live, heading::judging, heading::showing});
  for (auto name : {"--baud", "--framing", "--wait"})
    to.get_option(name)->needs(to.get_option("--device"));
  log.offer(to, {heading::figures});
  const std::string page = "The screen";
  to.add_flag("--plain", r.plain,
              "Line by line instead of a screen; so it is without a terminal, too")
      ->group(page);
  to.add_flag("--bell", r.bell, "Ring when it has settled, and on danger")->group(page);
  auto* serve =
      to.add_option("--serve", r.port,
                    "Show the same on a web page of this machine, to be read and no more")
          ->type_name("PORT")
          ->check(CLI::Range(0, 65535).description(""))
          ->group(page);
  to.add_option("--address", r.address,
                "Serve on this address instead of 127.0.0.1: whoever reaches it can read along")
      ->type_name("IP")
      ->needs(serve)
      ->group(page);
  to.footer(
      "Examples:\n"
      "  stilling watch --device /dev/ttyUSB0 --record test.csv \\\n"
      "      --fields stack_temp_degF,o2_pct,co_ppm    an instrument on a serial line\n"
      "  stilling watch --follow test.csv              a log that another program writes\n"
      "  stilling simulate first_visit --seed 7 --pace 20 | stilling watch\n"
      "n takes a note, q or Ctrl-C ends; what was settled is printed then.\n"
      "Status: 0 something settled, 1 nothing settled, 2 the log or the command is not "
      "understood.");
}

std::string settle_watch(watch_request& r, const CLI::App& said) {
  r.serve = said.get_option("--serve")->count() > 0;
  if (r.log.drift_correction)
    return "--drift-correction needs the whole log; `stilling settle` takes it";
  const bool live = !r.log.live.device.empty();
  if (!live && (r.file.empty() || r.file == "-") && ::isatty(STDIN_FILENO) == 1)
    return "watch what? Pipe a log in, name a FILE (with --follow, while it grows), or a --device";
  return {};
}

}  // namespace stilling::command
