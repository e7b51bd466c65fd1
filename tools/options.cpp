// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "options.hpp"

#include <fmt/format.h>

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <functional>
#include <memory>
#include <utility>
#include <vector>

#include "stilling/decoding/column_rule.hpp"

namespace stilling::command {
namespace {

constexpr std::string_view about =
    "Settled readings, with their uncertainty, from the log or the live stream of a\n"
    "burner test. CO poisons and hot flue gas burns: the maker's instructions, local\n"
    "codes and licensed practice come first.";

/// How often an unchanged row is said again: shorter than any window, long enough to cost nothing.
constexpr duration hold_of_unchanged = seconds(5);

// --- words to values -----------------------------------------------------------------------

/// A number with its unit behind it, 70degF or "70 degF"; and the step of its last digit.
struct typed_quantity {
  double value = 0;
  double step = 1;
  std::string_view unit;
};

typed_quantity read_quantity(std::string_view text) {
  typed_quantity q;
  const auto [stop, error] =
      std::from_chars(text.data(), text.data() + text.size(), q.value, std::chars_format::fixed);
  if (error != std::errc{}) throw CLI::ValidationError{"'" + std::string{text} + "' is no number"};
  const std::string_view number{text.data(), static_cast<std::size_t>(stop - text.data())};
  if (const auto point = number.find('.'); point != std::string_view::npos)
    for (auto i = point + 1; i < number.size(); ++i) q.step /= 10;
  q.unit = text.substr(number.size());
  while (q.unit.starts_with(' ')) q.unit.remove_prefix(1);
  return q;
}

/// A typed value is known to its last digit: half a step either way, all values as likely.
double uncertainty_of_step(double step) { return step / std::sqrt(12.0); }

estimate read_air_temperature(std::string_view text) {
  const auto q = read_quantity(text);
  const auto u = find_unit(q.unit, quantity::temperature);
  if (!u) throw CLI::ValidationError{"write the unit behind it: 70degF, 21degC or 294K"};
  const estimate e{to_canonical(*u, q.value), to_canonical(*u, q.step) - to_canonical(*u, 0)};
  const auto& range = traits_of(channel::ambient_temp);
  if (!(e.value >= range.lowest && e.value <= range.highest))
    throw CLI::ValidationError{"no combustion air is that cold or hot"};
  return {e.value, uncertainty_of_step(e.standard_uncertainty)};
}

estimate read_barometer(std::string_view text) {
  const auto q = read_quantity(text);
  // inHg: conventional, at 0 degC (NIST SP 811 B.8).
  constexpr std::array<std::pair<std::string_view, double>, 5> units{
      {{"hPa", 100}, {"mbar", 100}, {"kPa", 1000}, {"Pa", 1}, {"inHg", 3386.389}}};
  for (const auto& [name, size] : units) {
    if (q.unit != name) continue;
    const double pascals = q.value * size;
    if (pascals >= 50e3 && pascals <= 110e3) return {pascals, uncertainty_of_step(q.step * size)};
    throw CLI::ValidationError{"no barometer shows that on the ground; give the absolute pressure"};
  }
  throw CLI::ValidationError{"write the unit behind it: 29.92inHg, 1013hPa or 101.3kPa"};
}

duration read_interval(std::string_view text) {
  const auto q = read_quantity(text);
  constexpr std::array<std::pair<std::string_view, double>, 5> units{
      {{"", 1}, {"s", 1}, {"ms", 0.001}, {"min", 60}, {"h", 3600}}};
  for (const auto& [name, size] : units) {
    if (q.unit != name) continue;
    const auto d = duration_from_seconds(q.value * size);
    if (d && *d > duration{}) return *d;
    throw CLI::ValidationError{"must be above 0"};
  }
  throw CLI::ValidationError{"is a time such as 9s, 500ms or 1min"};
}

channel_set read_channels(const std::vector<std::string>& names) {
  channel_set set;
  for (const auto& name : names) {
    bool known = false;
    for (const auto c : all_channels) {
      if (traits_of(c).name != name) continue;
      set.insert(c);
      known = true;
    }
    if (!known)
      throw CLI::ValidationError{"'" + name +
                                 "' is no channel; `stilling list channels` names them"};
  }
  return set;
}

void read_shown_units(const std::vector<std::string>& names, presentation& to) {
  for (const auto& name : names) {
    if (const auto t = find_unit(name, quantity::temperature)) to.temperatures = t;
    else if (const auto p = find_unit(name, quantity::pressure_difference)) to.pressures = p;
    else
      throw CLI::ValidationError{"'" + name +
                                 "' is no unit of temperature or draft; `stilling list channels` "
                                 "names them"};
  }
}

void add_rule(decoder_settings& to, const std::string& text) {
  const auto rule = read_column_rule(text);
  if (!rule)
    throw CLI::ValidationError{"'" + text +
                               "' is not NAME=CHANNEL:UNIT, as in 'Flue T=stack_temp:degF'"};
  if (!to.add(*rule))
    throw CLI::ValidationError{fmt::format("takes {} names at most", to.rules.size())};
}

void read_missing(const std::vector<std::string>& numbers, decoder_settings& to) {
  for (const auto& text : numbers) {
    const auto q = read_quantity(text);
    if (!q.unit.empty()) throw CLI::ValidationError{"'" + text + "' is no plain number"};
    if (to.missing_count == to.missing.size())
      throw CLI::ValidationError{fmt::format("takes {} numbers at most", to.missing.size())};
    to.missing[to.missing_count++] = q.value;
  }
}

template <class Table> std::vector<std::string> names_of(const Table& table) {
  std::vector<std::string> names;
  names.reserve(std::size(table));
  for (const auto& x : table) names.emplace_back(x.name);
  return names;
}

/// How help looks: how to call it, what it does, then a name and what it means, in 80 columns.
class help_page : public CLI::Formatter {
 public:
  std::string make_help(const CLI::App* app, std::string, CLI::AppFormatMode) const override {
    std::string call = app->get_parent() == nullptr ? "" : "stilling ";
    call += app->get_name() + " [OPTIONS]";
    std::string positionals;
    const auto in = [&](const std::string& group) {
      return app->get_options([&](const CLI::Option* o) { return o->get_group() == group; });
    };
    for (const auto* o : app->get_options()) {
      if (!o->get_positional()) continue;
      call += o->get_required() ? " " + shown_name(*o) : " [" + shown_name(*o) + "]";
      positionals += entry(shown_name(*o), o->get_description());
    }
    std::string verbs;
    for (const auto* verb : app->get_subcommands([](const CLI::App*) { return true; }))
      verbs += entry(verb->get_name(), verb->get_description());
    if (!verbs.empty()) call += " VERB";

    std::string text =
        fmt::format("{}\n\nUsage: {}\n\n{}{}", app->get_description(), call, positionals, verbs);
    for (const auto& group : app->get_groups()) {
      if (group == "Options") continue;
      text += '\n' + group + ":\n";
      for (const auto* o : in(group)) text += entry(shown_name(*o), o->get_description());
    }
    text += '\n';
    for (const auto* o : in("Options"))
      if (!o->get_positional()) text += entry(shown_name(*o), o->get_description());
    return text + '\n' + app->get_footer() + '\n';
  }

 private:
  static constexpr std::size_t column = 29, width = 80;

  static std::string shown_name(const CLI::Option& o) {
    if (o.get_positional()) return o.get_type_name().empty() ? o.get_name(true) : o.get_type_name();
    const auto type = o.get_type_name();
    return o.get_name(false, true) + (type.empty() ? "" : " " + type);
  }

  static std::string entry(const std::string& name, std::string_view what) {
    std::string text = "  " + name;
    std::size_t at = text.size();
    const auto new_line = [&] {
      (text += '\n').append(column, ' ');
      at = column;
    };
    if (at + 2 > column) new_line();
    else text.append(column - at, ' '), at = column;
    while (!what.empty()) {
      const auto word = what.substr(0, what.find(' '));
      if (at > column && at + 1 + word.size() > width) new_line();
      if (at > column) text += ' ', ++at;
      text += word;
      at += word.size();
      what.remove_prefix(std::min(word.size() + 1, what.size()));
    }
    return text + '\n';
  }
};

// --- the options ---------------------------------------------------------------------------

using words = std::vector<std::string>;

std::string joined(const words& those, std::string_view between) {
  std::string text;
  for (const auto& word : those) (text += text.empty() ? "" : between) += word;
  return text;
}

/// A complaint begins with the option it is about.
template <class Value>
std::function<void(const Value&)> naming(std::string name, std::function<void(const Value&)> take) {
  return [name = std::move(name), take = std::move(take)](const Value& value) {
    try {
      take(value);
    } catch (const CLI::ValidationError& e) {
      throw CLI::ValidationError{name, e.what()};
    }
  };
}

CLI::Option* add_words(CLI::App& to, const std::string& name, const std::string& type,
                       const std::string& text, std::function<void(const words&)> take) {
  return to.add_option_function<words>(name, naming(name, std::move(take)), text)
      ->delimiter(',')
      ->expected(1, CLI::detail::expected_max_vector_size)
      ->allow_extra_args(false)
      ->type_name(type);
}

CLI::Option* add_word(CLI::App& to, const std::string& name, const std::string& type,
                      const std::string& text, std::function<void(const std::string&)> take) {
  return to.add_option_function<std::string>(name, naming(name, std::move(take)), text)
      ->type_name(type);
}

CLI::Validator one_of(const words& choices) {
  return CLI::Validator{[choices](const std::string& s) {
                          if (std::ranges::find(choices, s) != choices.end()) return std::string{};
                          return fmt::format("'{}' is none of {}", s, joined(choices, ", "));
                        },
                        ""};
}

CLI::Option* add_choice(CLI::App& to, const std::string& name, const words& choices,
                        const std::string& text, std::function<void(const std::string&)> take) {
  return add_word(to, name, joined(choices, "|"), text, std::move(take))->check(one_of(choices));
}

void add_log_options(CLI::App& to, log_options& log, presentation& shown) {
  const std::string reading = "How the log is read";
  add_word(to, "--fields", "NAMES", "Names of the positions of a log without a header; - skips one",
           [&](const std::string& s) {
             if (!decltype(log.settings.decoder.fields)::fits(s))
               throw CLI::ValidationError{"is too long"};
             log.settings.decoder.fields = std::string_view{s};
           })
      ->group(reading);
  add_words(to, "--column", "'NAME=CHANNEL:UNIT'",
            "What a column of another name is: 'Flue T=stack_temp:degF', 'epoch=time:ms', "
            "'Date+Clock=time'; may be repeated",
            [&](const words& rules) {
              for (const auto& rule : rules) add_rule(log.settings.decoder, rule);
            })
      ->delimiter('\0')
      ->group(reading);
  auto* labels = add_words(to, "--labels", "LABELS",
                           "The values carry labels: 'T=stack_temp:degF,O2=o2:pct,CO=co:ppm'",
                           [&](const words& rules) {
                             for (const auto& rule : rules) add_rule(log.settings.decoder, rule);
                             log.settings.decoder.labelled = true;
                           })
                     ->group(reading);
  labels->excludes(to.get_option("--fields"))->excludes(to.get_option("--column"));
  add_words(to, "--missing", "NUMBERS", "Numbers that stand for no value: 999.0,-3276.8",
            [&](const words& numbers) { read_missing(numbers, log.settings.decoder); })
      ->group(reading);
  add_word(to, "--time-format", "FORMAT",
           "How times are written, in the letters of strftime: '%d.%m.%Y %H:%M:%S'",
           [&](const std::string& s) {
             if (!decltype(log.settings.decoder.time_format)::fits(s))
               throw CLI::ValidationError{"is too long"};
             log.settings.decoder.time_format = std::string_view{s};
           })
      ->group(reading);
  to.add_option_function<int>(
        "--year", [&](int year) { log.settings.decoder.year = year; }, "Of dates that name none")
      ->type_name("YEAR")
      ->check(CLI::Range(1970, 2200).description(""))
      ->group(reading);
  to.add_flag("--suction-positive", log.settings.decoder.suction_positive,
              "The log writes suction as a positive number")
      ->group(reading);
  to.add_flag("--joined", log.settings.decoder.joined,
              "The stream was joined while it ran: its first line may be torn")
      ->group(reading);
  add_word(to, "--interval", "TIME", "Spacing of the rows of a log without times: 9s, 500ms",
           [&](const std::string& s) { log.settings.decoder.interval = read_interval(s); })
      ->group(reading);
  add_choice(
      to, "--decimal", {"dot", "comma"}, "The decimal sign, where the log leaves it open",
      [&](const std::string& s) { log.settings.decoder.decimal_sign = s == "comma" ? ',' : '.'; })
      ->group(reading);
  to.add_flag_callback(
        "--change-only", [&] { log.settings.timeline.hold = hold_of_unchanged; },
        "The log has a row only where a value changed: a missing row is no gap")
      ->group(reading);
  auto* stamp = to.add_flag("--stamp", log.stamped,
                            "Stamp each line with the time it arrives (rows without a time)")
                    ->group(reading);
  stamp->excludes(to.get_option("--interval"));
  to.add_option("--record", log.record,
                "Also write the lines to this file, stamped where --stamp is given; a replay of "
                "it gives the same output")
      ->type_name("FILE")
      ->group(reading);

  const std::string judging = "When it is settled";
  add_choice(to, "--criterion", {"field", "strict"},
             "How sure to be: see `stilling list criteria` (field)",
             [&](const std::string& s) {
               const auto strict = strict_settings();
               if (s != "strict") return;
               log.settings.screen = strict.screen;
               log.settings.steadiness = strict.steadiness;
             })
      ->group(judging);
  add_words(to, "--require", "CHANNELS", "What must be steady (stack_temp,o2,co)",
            [&](const words& names) {
              log.settings.require(read_channels(names));
              log.required_by_hand = true;
            })
      ->group(judging);
  add_choice(to, "--combustion-check", {"on", "off"},
             "Ask for a fire and an undiluted probe before settling (on where the log has O2)",
             [&](const std::string& s) { log.combustion_check = s == "on"; })
      ->group(judging);

  add_words(to, "--show", "UNITS", "Show temperatures and drafts in these units: degC,Pa",
            [&](const words& names) { read_shown_units(names, shown); })
      ->group("What is shown");
}

void add_settle(CLI::App& to, settle_request& r) {
  to.add_option("FILE", r.files, "Logs; standard input where none is named, or for -")
      ->type_name("FILE ...");
  add_log_options(to, r.log, r.shown);

  const std::string shown = "What is shown";
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

  const std::string figures = "Combustion figures";
  add_choice(to, "--fuel", names_of(fuel_table), "What burns, see `stilling list fuels` (no2_oil)",
             [&](const std::string& s) {
               r.shown.burned = find_fuel(s);
               r.fuel_by_hand = true;
             })
      ->type_name("FUEL")
      ->group(figures);
  words methods;
  for (const auto m : all_methods) methods.emplace_back(name_of(m));
  add_choice(to, "--method", methods,
             fmt::format("Where losses come from ({})", name_of(derive_options{}.by)),
             [&](const std::string& s) {
               for (const auto m : all_methods)
                 if (name_of(m) == s) r.shown.how.by = m;
             })
      ->group(figures);
  add_word(to, "--air-temp", "TEMP", "Combustion air, in place of the log's: 70degF",
           [&](const std::string& s) {
             r.shown.how.air_temp = read_air_temperature(s);
             r.air_temp = s;
           })
      ->group(figures);

  add_word(to, "--barometer", "PRESSURE",
           "Absolute pressure on the site: 29.92inHg, 1013hPa (sea level)",
           [&](const std::string& s) { r.shown.how.barometer = read_barometer(s); })
      ->group(figures);

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
      "  cat instrument | stilling settle --stamp --fields stack_temp_degF,o2_pct,co_ppm \\\n"
      "      --record test.csv                         live, from rows without times\n"
      "Status: 0 something settled, 1 nothing settled, 2 the log or the command is not "
      "understood.");
}

void add_look(CLI::App& to, look_request& r, std::string& joint) {
  to.add_option("joint", joint,
                "frames: the rows as they were read; verdicts: what was said of them")
      ->required()
      ->type_name("frames|verdicts")
      ->check(one_of({"frames", "verdicts"}));
  to.add_option("FILE", r.file, "The log; standard input where none is named")->type_name("FILE");
  add_log_options(to, r.log, r.shown);
  to.footer("Example:\n  stilling look verdicts test.csv | head\nOne CSV line for each row.");
}

void add_simulate(CLI::App& to, simulate_request& r, bool& listing) {
  auto* name =
      to.add_option("SCENARIO", r.scenario, "What happens in the test; --list names them all")
          ->type_name("SCENARIO");
  to.add_option("--seed", r.seed, "Another number is another test of the kind (1)")->type_name("N");
  to.add_option("--out", r.log, "Write the log to this file")->type_name("FILE");
  to.add_option("--truth", r.truth, "Write what truly happened to this file, as JSON")
      ->type_name("FILE");
  to.add_flag("--list", listing, "The scenarios, a sentence each")->excludes(name);
  to.footer(
      "Examples:\n"
      "  stilling simulate --list\n"
      "  stilling simulate first_visit --seed 7 | stilling settle\n"
      "Everything it writes is invented: no burner was tested.");
}

void add_list(CLI::App& to, std::string& subject) {
  to.add_option("subject", subject, "What to list")
      ->required()
      ->type_name("channels|fuels|criteria")
      ->check(one_of({"channels", "fuels", "criteria"}));
  to.footer("Example:\n  stilling list channels");
}

}  // namespace

std::variant<request, last_word> read_arguments(int count, const char* const* arguments) {
  CLI::App app{std::string{about}, "stilling"};
  app.set_version_flag("--version", fmt::format("stilling {}", version()), "Its version");
  app.set_help_flag("--help,-h", "This text");
  app.require_subcommand(1);
  app.formatter(std::make_shared<help_page>());
  app.footer(
      "Examples:\n"
      "  stilling simulate first_visit --seed 7 >test.csv\n"
      "  stilling settle test.csv\n"
      "`stilling VERB --help` says more.");

  settle_request settling;
  look_request looking;
  simulate_request simulating;
  list_request listing;
  std::string joint, subject;
  bool list_scenarios = false;
  auto* settle = app.add_subcommand("settle", "Logs or a stream in, settled readings out");
  auto* look = app.add_subcommand("look", "What passes at one joint of the chain, row by row");
  auto* simulate = app.add_subcommand("simulate", "An invented test with known truth");
  auto* list = app.add_subcommand("list", "Channels and their units, fuels, criteria");
  add_settle(*settle, settling);
  add_look(*look, looking, joint);
  add_simulate(*simulate, simulating, list_scenarios);
  add_list(*list, subject);

  const auto refuse = [&](const std::string& why) {
    const auto chosen = app.get_subcommands();
    const std::string verb = chosen.empty() ? "" : " " + chosen.front()->get_name();
    return last_word{2, fmt::format("{}\n`stilling{} --help` shows how it is used", why, verb)};
  };
  try {
    app.parse(count, arguments);
  } catch (const CLI::CallForHelp&) {
    return last_word{0, app.help()};
  } catch (const CLI::CallForVersion& e) {
    return last_word{0, std::string{e.what()} + "\n"};
  } catch (const CLI::ParseError& e) {
    if (count < 2) return last_word{2, app.help()};
    if (app.get_subcommands().empty() && arguments[1][0] != '-')
      return last_word{2,
                       fmt::format("no verb is called '{}'; the verbs are settle, look, simulate "
                                   "and list",
                                   arguments[1])};
    return refuse(e.what());
  }
  if (*settle) {
    if (!settling.folder.empty() && settling.as == form::plain) settling.as = form::jsonl;
    if (!settling.log.record.empty() && settling.files.size() > 1)
      return refuse("--record takes one log only");
    return request{settling};
  }
  if (*look) {
    if (joint == "verdicts") looking.at = look_request::joint::verdicts;
    return request{looking};
  }
  if (*simulate) {
    if (list_scenarios) simulating.scenario.clear();
    else if (simulating.scenario.empty()) return refuse("which scenario? --list names them");
    return request{simulating};
  }
  using enum list_request::subject;
  listing.of = subject == "fuels" ? fuels : subject == "criteria" ? criteria : channels;
  return request{listing};
}

}  // namespace stilling::command
