// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "report_options.hpp"

#include "hindsight.hpp"
#include "stilling/report.hpp"

namespace stilling::command {

void report_words::offer(CLI::App& to) {
  const std::string shown{heading::showing}, report{heading::report};
  to.add_option("FILE", file_, "The log; standard input where none is named, or for -")
      ->type_name("FILE");
  log_.offer(to, {heading::reading, heading::judging, heading::instrument, heading::report});
  offer_hindsight(to, to_.test);
  auto* json = to.add_flag_callback(
                     "--json", [this] { to_.as = report_request::manner::json; },
                     "One JSON object, for another program")
                   ->group(shown);
  auto* html = to.add_flag_callback(
                     "--html", [this] { to_.as = report_request::manner::html; },
                     "One page with pictures, for a browser or a printer; it needs nothing else")
                   ->group(shown)
                   ->excludes(json);
  to.add_option("--width", to_.width, "Columns of the paper: 48 or 80 (80)")
      ->type_name("N")
      ->check(CLI::Range(stilling::report::least_width, std::size_t{400}).description(""))
      ->group(shown)
      ->excludes(json)
      ->excludes(html);
  to.add_option("--copies", to_.copies, "Print it so often, each copy numbered (1)")
      ->type_name("N")
      ->check(CLI::Range(1U, 20U).description(""))
      ->group(shown)
      ->excludes(json)
      ->excludes(html);
  to.add_option("--out", to_.out, "Write it to this file, whole or not at all")
      ->type_name("FILE")
      ->group(shown);
  log_.offer(to, {heading::showing, heading::figures});
  to.add_flag("--fail-on-rejection", to_.test.fail_on_rejection,
              "Status 2 where any line could not be used")
      ->group(shown);
  to.footer(
      "Examples:\n"
      "  stilling report test.csv                             the record and the owner's page\n"
      "  stilling report --particulars visit.toml --copies 2 --out test.txt test.csv\n"
      "  stilling report --width 48 --show degC,Pa test.csv   for a small printer\n"
      "  stilling report --html --out test.html test.csv      with pictures, for a browser\n"
      "  stilling report --json test.csv                      for another program\n"
      "A form feed parts the pages. Status: 0 something settled, 1 nothing settled (the report\n"
      "says why), 2 the log or the command is not understood.");
}

void report_words::take() {
  log_.take();
  to_.test.files = {file_.empty() ? "-" : file_};
  if (const auto why = settle_in_hindsight(to_.test); !why.empty()) throw refusal{why};
}

}  // namespace stilling::command
