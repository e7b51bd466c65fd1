// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "history_options.hpp"

#include <fmt/format.h>

#include <utility>

namespace stilling::command {
namespace {

const std::string about_the_test = "About the test";
const std::string which_tests = "Which tests";
const std::string one_customer = "All of one customer";

}  // namespace

void keep_words::offer(CLI::App& to) {
  to.add_option("DB", to_.database, "The file of tests; made where there is none")
      ->required()
      ->type_name("DB");
  to.add_option("FILE", to_.judged.files, "Logs of finished tests; - is standard input")
      ->required()
      ->type_name("FILE ...");
  to.add_option("--customer", to_.about.customer, "Whose appliance it is")
      ->type_name("NAME")
      ->group(about_the_test);
  to.add_option("--site", to_.about.site, "Where it stands")
      ->type_name("PLACE")
      ->group(about_the_test);
  to.add_option("--appliance", to_.about.appliance,
                "Which one it is, worded alike each year: by site and appliance, by the customer "
                "where no site is said, tests belong together")
      ->type_name("NAME")
      ->group(about_the_test);
  to.add_option("--date", day_, "The day of the test, 2026-11-25, where the log has no dates")
      ->type_name("DAY")
      ->group(about_the_test);
  to.add_flag("--replace", to_.replace,
              "A test that is there already is judged anew and described anew, under its number")
      ->group(about_the_test);
  said_.offer(to, {heading::report, heading::reading, heading::judging, heading::figures});
  to.footer(
      "Examples:\n"
      "  stilling keep tests.db test.csv --customer 'A. Invented' --appliance boiler\n"
      "  stilling keep tests.db old.csv --date 2024-11-02 --fuel b20 --appliance boiler\n"
      "The bytes of the log are kept, and all that follows from them. The same bytes judged\n"
      "by the same settings are one test. What a person is called is personal: keep the file\n"
      "where only those read it who may.\n"
      "Status: 0 kept, 1 kept and nothing settled, 2 not kept.");
}

void keep_words::take() {
  said_.take();
  const auto& log = to_.judged.log;
  if (log.stamped) throw refusal{"--stamp is for a live stream; a kept test has its times"};
  if (!log.record.empty()) throw refusal{"--record: keep stores the log; leave it away"};
  to_.settings = said_.as_file();
  // What is typed stands in place of what the file of particulars says.
  auto about = log.own->about;
  for (const auto member : {&particulars::customer, &particulars::site, &particulars::appliance})
    if (!(to_.about.*member).empty()) about.*member = to_.about.*member;
  to_.about = std::move(about);
  to_.day = day_of(to_.about.date);  // none where it is not written so
  if (!day_.empty()) {
    to_.day = day_of(day_);
    if (!to_.day)
      throw refusal{fmt::format("--date: '{}' is no day; write it as 2026-11-25",
                                printable(day_))};
    to_.about.date = day_;
  }
}

void past_words::offer(CLI::App& to) {
  to.add_option("DB", to_.database, "The file of tests")->required()->type_name("DB");
  to.add_option("--customer", to_.which.customer, "Tests of this customer")
      ->type_name("NAME")
      ->group(which_tests);
  to.add_option("--site", to_.which.site, "Tests at this place")
      ->type_name("PLACE")
      ->group(which_tests);
  to.add_option("--appliance", to_.which.appliance,
                "Tests of this appliance; where only one is left, its course over the years")
      ->type_name("NAME")
      ->group(which_tests);
  to.add_option("--test", to_.which.number, "The test of this number")
      ->type_name("N")
      ->group(which_tests);
  const std::string shown{heading::showing};
  to.add_option("--reading", reading_,
                "Which settled reading stands for a test: the last, as the appliance was left, or "
                "the first, as it was found (last)")
      ->type_name("last|first")
      ->check(CLI::IsMember({"last", "first"}).description(""))
      ->group(shown);
  to.add_flag("--html", html_, "The course of one appliance as a page with pictures")
      ->group(shown);
  to.add_flag("--csv", csv_, "One row per settled reading")->group(shown);
  to.add_flag("--json", json_, "One JSON object with all of them; numbers exact, canonical units")
      ->group(shown);
  said_.offer(to, {heading::showing});
  to.add_option("--export", to_.folder,
                "All that is kept of them, into this folder: each log as it was, settings, "
                "tests.json, tests.csv")
      ->type_name("DIR")
      ->group(one_customer);
  auto* forget =
      to.add_flag("--forget", forget_,
                  "Delete them for good; without --yes, only say what would go")
          ->group(one_customer);
  to.add_flag("--yes", to_.yes, "Do it")->group(one_customer)->needs(forget);
  to.footer(
      "Examples:\n"
      "  stilling past tests.db                          which tests are there\n"
      "  stilling past tests.db --appliance boiler       how it went over the years\n"
      "  stilling past tests.db --appliance boiler --html >boiler.html\n"
      "  stilling past tests.db --csv >tests.csv         for a spreadsheet\n"
      "  stilling past tests.db --customer 'A. Invented' --export for_the_customer\n"
      "  stilling past tests.db --customer 'A. Invented' --forget\n"
      "Status: 0 done, 2 the file or the command is not understood, or --yes is missing.");
}

void past_words::take() {
  using manner = past_request::manner;
  said_.take();
  const bool folder = !to_.folder.empty();
  if (html_ + csv_ + json_ + folder + forget_ > 1)
    throw refusal{"--html, --csv, --json, --export and --forget: one of them at a time"};
  to_.as = html_    ? manner::html
           : csv_   ? manner::csv
           : json_  ? manner::json
           : folder ? manner::folder
           : forget_ ? manner::forget
                     : manner::plain;
  if (forget_ && to_.which.all())
    throw refusal{"--forget whom? Say --customer NAME, or --test N; all tests at once are a file "
                  "to be deleted"};
  if (reading_ == "first") to_.reading = history::reading_of_test::first;
}

}  // namespace stilling::command
