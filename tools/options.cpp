// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "options.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <memory>

#include "help_page.hpp"
#include "hindsight.hpp"
#include "history_options.hpp"
#include "log_words.hpp"
#include "report_options.hpp"
#include "watch_options.hpp"

namespace stilling::command {
namespace {

constexpr std::string_view about =
    "Settled readings, with their uncertainty, from the log or the live stream of a\n"
    "burner test. CO poisons and hot flue gas burns: the maker's instructions, local\n"
    "codes and licensed practice come first.";

CLI::Validator one_of(const words& choices) {
  return CLI::Validator{[choices](const std::string& s) {
                          if (std::ranges::find(choices, s) != choices.end()) return std::string{};
                          return fmt::format("'{}' is none of {}", s, joined(choices, ", "));
                        },
                        ""};
}

void device_options_need_a_device(CLI::App& to) {
  for (auto name : {"--baud", "--framing", "--wait"})
    to.get_option(name)->needs(to.get_option("--device"));
}

/// Why these options make no sense together; empty: they do. A device stands in place of a file.
std::string settle_live(const live_source& live, std::vector<std::string>& files,
                        std::string_view folder) {
  if (live.device.empty() && !live.follow) return {};
  if (!folder.empty()) return "--out is for logs that have an end; leave it away";
  if (!live.device.empty()) {
    if (!files.empty()) return fmt::format("--device stands in place of '{}'", files[0]);
    files = {live.device};
  }
  if (files.size() > 1) return "--follow takes one log only";
  if (files.empty() || files[0] == "-") return "--follow which file? A pipe needs no --follow";
  return {};
}

void add_settle(CLI::App& to, settle_request& r, log_words& log) {
  to.add_option("FILE", r.files, "Logs; standard input where none is named, or for -")
      ->type_name("FILE ...");
  log.offer(to, {heading::reading, heading::live, heading::judging, heading::showing});
  device_options_need_a_device(to);
  offer_hindsight(to, r);

  log.offer(to, {heading::instrument});

  const std::string shown{heading::showing};
  auto* jsonl =
      to.add_flag_callback(
            "--jsonl", [&] { r.as = form::jsonl; }, "One JSON object per event, as it happens")
          ->group(shown);
  to.add_flag_callback(
        "--csv", [&] { r.as = form::csv; }, "One row per settled reading")
      ->group(shown)
      ->excludes(jsonl);
  to.add_flag("--verbose", r.verbose, "Every derived figure, and every line that was not used")
      ->group(shown);
  to.add_flag("--forecast", r.forecast,
              "While it settles, say every half minute where it is heading; no claim")
      ->group(shown);
  log.offer(to, {heading::figures});

  const std::string many = "Many logs";
  to.add_option("--jobs", r.jobs, "Read so many logs at a time (1)")
      ->type_name("N")
      ->check(CLI::Range(1U, 1024U).description(""))
      ->group(many);
  to.add_option("--out", r.folder,
                "Write one NAME.out.jsonl for each log into this folder (--csv: NAME.out.csv)")
      ->type_name("DIR")
      ->group(many);
  to.add_flag("--fail-on-rejection", r.fail_on_rejection,
              "Status 2 where any line could not be used")
      ->group(many);
  to.footer(
      "Examples:\n"
      "  stilling settle test.csv                      the settled readings of a test\n"
      "  stilling settle --jsonl <test.csv             every event, for another program\n"
      "  stilling settle --csv --out results *.csv     many logs\n"
      "  stilling settle --device /dev/ttyUSB0 --record test.csv \\\n"
      "      --fields stack_temp_degF,o2_pct,co_ppm    an instrument on a serial line\n"
      "  stilling settle --follow test.csv             a log that another program writes\n"
      "Status: 0 something settled, 1 nothing settled, 2 the log or the command is not "
      "understood.");
}

struct derive_words {
  log_words said;
  std::string figure{};
  bool json = false, explain = false, csv = false;
};

void add_derive(CLI::App& to, derive_request& r, derive_words& w) {
  const std::string shown{heading::showing};
  w.said.offer(to, {heading::typed});
  w.said.offer_settings_file(to);
  w.said.offer(to, {heading::figures}, "--air-temp");
  w.said.offer(to, {heading::showing});
  auto* json = to.add_flag("--json", w.json, "One JSON object, for another program")->group(shown);
  auto* explain =
      to.add_flag("--explain", w.explain,
                  "How each figure came about, to be followed with a pocket calculator")
          ->group(shown)
          ->excludes(json);
  auto* table =
      to.add_option("--table", w.figure,
                    "A table for paper, over ranges such as --o2 3..9 --stack 350..650degF")
          ->expected(0, 1)
          ->type_name("FIGURE")
          ->group(shown)
          ->excludes(json)
          ->excludes(explain);
  to.add_flag("--csv", w.csv, "The table as rows of CSV")->group(shown)->needs(table);
  to.add_flag("--verbose", r.verbose, "The steps on the way to the figures, too")->group(shown);
  to.footer(
      "Examples:\n"
      "  stilling derive --fuel no2_oil --o2 5.0 --stack 480degF --air 70degF --co 20\n"
      "  stilling derive --fuel natural_gas --co2 9.2 --stack 180degC --air 20degC --json\n"
      "  stilling derive --fuel no2_oil --o2 5.0+-0.2 --stack 480degF --air 70degF --explain\n"
      "  stilling derive --fuel no2_oil --air 70degF --table --o2 3..9 --stack 350..650degF\n"
      "Status: 0 done, 2 what was typed is not understood or cannot be right.");
}

/// What only shows once all of it was said; empty: it makes sense.
std::string settle_derive(derive_request& r, const derive_words& w, bool as_table) {
  using manner = derive_request::manner;
  auto& log = r.log;
  if (!log.fuel_by_hand) {
    words names;
    for (const auto& f : fuel_table) names.emplace_back(f.name);
    return fmt::format(
        "which fuel burns? Say --fuel {}, or a file with a [fuel] of your own",
        joined(names, ", "));
  }
  if (r.height.has_value() != r.outdoor.has_value())
    return "--height and --outdoor go together: a chimney pulls by both";
  if (r.height) log.shown.how.flue = chimney{*r.height, *r.outdoor};
  if (as_table) {
    r.as = w.csv ? manner::csv : manner::table;
    if (!w.figure.empty()) {
      const auto at = std::ranges::find(figure_table, w.figure, &figure_traits::stem);
      if (at == figure_table.end()) {
        words known;
        for (const auto& f : figure_table)
          if (!f.working) known.emplace_back(f.stem);
        return fmt::format("--table: '{}' is none of {}", w.figure, joined(known, ", "));
      }
      r.of_table = at->is;
    } else if (log.shown.how.by == method::siegert) {
      r.of_table = figure::efficiency_net;
    }
    if (r.ranges.valid.empty())
      return "--table over which range? Type one, such as --o2 3..9 or --stack 350..650degF";
    if (r.ranges.valid.size() > 2) return "--table takes two ranges at most";
    return {};
  }
  for (const auto c : all_channels)
    if (r.ranges.has(c))
      return fmt::format("{} is a range; that is for --table", traits_of(c).name);
  r.as = w.json ? manner::json : w.explain ? manner::explain : manner::plain;
  if (r.read.valid.empty() && !r.room_co)
    return "from which readings? Type at least --o2 or --co2, better --stack and --air too";
  return {};
}

void add_look(CLI::App& to, look_request& r, std::string& joint, log_words& log) {
  to.add_option("joint", joint,
                "frames: the rows as they were read; verdicts: what was said of them")
      ->required()
      ->type_name("frames|verdicts")
      ->check(one_of({"frames", "verdicts"}));
  to.add_option("FILE", r.file, "The log; standard input where none is named")->type_name("FILE");
  log.offer(to, {heading::reading, heading::live, heading::judging, heading::showing});
  device_options_need_a_device(to);
  to.footer("Example:\n  stilling look verdicts test.csv | head\nOne CSV line for each row.");
}

void add_check(CLI::App& to, check_request& r, log_words& log) {
  to.add_option("FILE", r.file, "The log; standard input where none is named, or for -")
      ->type_name("FILE");
  log.offer(to, {heading::reading});
  to.add_flag("--json", r.json, "One JSON object, for another program")
      ->group(std::string{heading::showing});
  to.footer(
      "Example:\n  stilling check test.csv\n"
      "Where the header is not understood, it proposes the options that would explain it.\n"
      "Status: 0 rows can be read, 1 there is no row, 2 the log is not understood.");
}

void add_simulate(CLI::App& to, simulate_request& r, bool& listing) {
  auto* name =
      to.add_option("SCENARIO", r.scenario, "What happens in the test; --list names them all")
          ->type_name("SCENARIO");
  to.add_option("--seed", r.seed, "Another number is another test of the kind (1)")->type_name("N");
  to.add_option("--out", r.log, "Write the log to this file")->type_name("FILE");
  to.add_option("--truth", r.truth, "Write what truly happened to this file, as JSON")
      ->type_name("FILE");
  to.add_option("--pace", r.pace,
                "Write the rows as time passes, so many times as fast as they were taken")
      ->type_name("N")
      ->check(CLI::Range(0.01, 10000.0).description(""));
  to.add_flag("--list", listing, "The scenarios, a sentence each")->excludes(name);
  to.footer(
      "Examples:\n"
      "  stilling simulate --list\n"
      "  stilling simulate first_visit --seed 7 | stilling settle\n"
      "  stilling simulate first_visit --seed 7 --pace 20 | stilling watch\n"
      "Everything it writes is invented: no burner was tested.");
}

void add_list(CLI::App& to, std::string& subject) {
  to.add_option("subject", subject, "What to list")
      ->required()
      ->type_name("channels|fuels|criteria|limits")
      ->check(one_of({"channels", "fuels", "criteria", "limits"}));
  to.footer("Example:\n  stilling list channels");
}

/// All that can be said, and what was.
struct command_line {
  CLI::App app{std::string{about}, "stilling"};
  settle_request settling;
  derive_request deriving;
  look_request looking;
  check_request checking;
  simulate_request simulating;
  report_request reporting;
  list_request listing;
  watch_request watching;
  keep_request keeping;
  past_request recalling;
  log_words settled{settling.log}, looked_at{looking.log}, checked{checking.log};
  log_words watched{watching.log};
  derive_words derived{log_words{deriving.log, derive_settings(deriving)}};
  report_words reported{reporting};
  keep_words kept{keeping};
  past_words recalled{recalling};
  std::string joint, subject;
  bool list_scenarios = false;
  CLI::App *settle, *report, *watch, *derive, *look, *check, *keep, *past, *simulate, *list;

  command_line() {
    app.set_version_flag("--version", fmt::format("stilling {}", version()), "Its version");
    app.set_help_flag("--help,-h", "This text");
    app.require_subcommand(1);
    app.formatter(std::make_shared<help_page>());
    app.footer(
        "Examples:\n"
        "  stilling simulate first_visit --seed 7 >test.csv\n"
        "  stilling settle test.csv\n"
        "  stilling derive --fuel no2_oil --o2 5.0 --stack 480degF --air 70degF\n"
        "`stilling VERB --help` says more.");
    settle = app.add_subcommand("settle", "Logs or a stream in, settled readings out");
    report = app.add_subcommand("report", "A finished test, told on paper or to a program");
    watch = app.add_subcommand("watch", "A live test on one screen, for whoever stands by it");
    derive = app.add_subcommand("derive", "Combustion figures from readings typed by hand");
    look = app.add_subcommand("look", "What passes at one joint of the chain, row by row");
    check = app.add_subcommand("check", "How a log would be read, without judging it");
    keep = app.add_subcommand("keep", "Finished tests into a file, to be found again");
    past = app.add_subcommand("past", "Kept tests: list, compare over years, export, delete");
    simulate = app.add_subcommand("simulate", "An invented test with known truth");
    list = app.add_subcommand("list", "Channels and their units, fuels, criteria, limits");
    add_settle(*settle, settling, settled);
    reported.offer(*report);
    add_watch(*watch, watching, watched);
    add_derive(*derive, deriving, derived);
    add_look(*look, looking, joint, looked_at);
    add_check(*check, checking, checked);
    kept.offer(*keep);
    recalled.offer(*past);
    add_simulate(*simulate, simulating, list_scenarios);
    add_list(*list, subject);
  }

  std::variant<request, last_word> read(int count, const char* const* arguments);
};

std::variant<request, last_word> command_line::read(int count, const char* const* arguments) {
  const auto refuse = [&](const std::string& why) {
    const auto chosen = app.get_subcommands();
    const std::string verb = chosen.empty() ? "" : " " + chosen.front()->get_name();
    return last_word{2, fmt::format("{}\n`stilling{} --help` shows how it is used", why, verb)};
  };
  try {
    app.parse(count, arguments);
    if (*settle) settled.take();
    if (*report) reported.take();
    if (*derive) derived.said.take();
    if (*look) looked_at.take();
    if (*check) checked.take();
    if (*watch) watched.take();
    if (*keep) kept.take();
    if (*past) recalled.take();
  } catch (const CLI::CallForHelp&) {
    return last_word{0, app.help()};
  } catch (const CLI::CallForVersion& e) {
    return last_word{0, std::string{e.what()} + "\n"};
  } catch (const CLI::ParseError& e) {
    if (count < 2) return last_word{2, app.help()};
    if (app.get_subcommands().empty() && arguments[1][0] != '-')
      return last_word{2, fmt::format("no verb is called '{}'; the verbs are settle, watch, "
                                      "report, derive, look, check, keep, past, simulate and "
                                      "list",
                                      arguments[1])};
    return refuse(e.what());
  } catch (const refusal& why) {
    return refuse(why.what());
  }
  if (*settle) {
    if (!settling.folder.empty() && settling.as == form::plain) settling.as = form::jsonl;
    if (!settling.log.record.empty() && settling.files.size() > 1)
      return refuse("--record takes one log only");
    if (const auto why = settle_in_hindsight(settling); !why.empty()) return refuse(why);
    const auto why = settle_live(settling.log.live, settling.files, settling.folder);
    if (!why.empty()) return refuse(why);
    return request{settling};
  }
  if (*report) return request{reporting};
  if (*watch) {
    std::vector<std::string> files;
    if (!watching.file.empty()) files.push_back(watching.file);
    if (auto why = settle_live(watching.log.live, files, ""); !why.empty()) return refuse(why);
    if (!files.empty()) watching.file = files[0];
    if (auto why = settle_watch(watching, *watch); !why.empty()) return refuse(why);
    return request{watching};
  }
  if (*derive) {
    const bool table = derive->get_option("--table")->count() > 0;
    if (const auto why = settle_derive(deriving, derived, table); !why.empty()) return refuse(why);
    return request{deriving};
  }
  if (*look) {
    if (joint == "verdicts") looking.at = look_request::joint::verdicts;
    std::vector<std::string> files;
    if (!looking.file.empty()) files.push_back(looking.file);
    const auto why = settle_live(looking.log.live, files, "");
    if (!why.empty()) return refuse(why);
    if (!files.empty()) looking.file = files[0];
    return request{looking};
  }
  if (*check) return request{checking};
  if (*keep) return request{keeping};
  if (*past) return request{recalling};
  if (*simulate) {
    if (list_scenarios) simulating.scenario.clear();
    else if (simulating.scenario.empty()) return refuse("which scenario? --list names them");
    return request{simulating};
  }
  using enum list_request::subject;
  listing.of = subject == "fuels"      ? fuels
               : subject == "criteria" ? criteria
               : subject == "limits"   ? limits
                                       : channels;
  return request{listing};
}

}  // namespace

void tell_options(const std::function<void(const CLI::App&)>& to) {
  const command_line all;
  to(all.app);
}

std::variant<request, last_word> read_arguments(int count, const char* const* arguments) {
  command_line said;
  return said.read(count, arguments);
}

}  // namespace stilling::command
