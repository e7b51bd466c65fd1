// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Kept tests: list them, follow one appliance over the years, hand them out, delete them.

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "archive.hpp"
#include "sources.hpp"
#include "stilling/history.hpp"
#include "verbs.hpp"

namespace stilling::command {
namespace {

/// Whether it was written, or nobody wanted to read it.
bool wrote(std::string_view text) {
  outlet out;
  if (out.write(text) || out.is() == outlet::state::closed_by_reader) return true;
  complain(fmt::format("standard output: {}", out.fault()));
  return false;
}

bool put(const std::filesystem::path& path, std::string_view text) {
  outlet to{path.string(), outlet::manner::whole};
  to.write(text);
  if (to.keep()) return true;
  complain(fmt::format("{}: {}", path.string(), to.fault()));
  return false;
}

/// What was asked for and is not there, and what is.
std::string nothing_of(const past_request& r, archive& in) {
  const auto all = in.tests({});
  if (all.empty()) return fmt::format("{}: no test is kept there", r.database);
  if (r.which.number)
    return fmt::format("{}: there is no such test {}; `stilling past {}` lists them", r.database,
                       *r.which.number, r.database);
  std::set<std::string> names;
  const auto known = [&](std::string particulars::* of) {
    for (const auto& t : all)
      if (!(t.about.*of).empty()) names.insert(printable(t.about.*of));
  };
  if (r.which.customer) known(&particulars::customer);
  else if (r.which.site) known(&particulars::site);
  else known(&particulars::appliance);
  std::string text;
  std::size_t shown = 0;
  for (const auto& name : names) {
    if (++shown > 10) break;
    text += fmt::format("{}'{}'", text.empty() ? "" : ", ", name);
  }
  return fmt::format("{}: no test is of that; to the letter there are {}{}", r.database,
                     text.empty() ? "none so named" : text, shown > 10 ? " and more" : "");
}

int hand_out(const past_request& r, archive& in, const std::vector<kept_test>& tests,
             const presentation& as) {
  std::error_code error;
  const std::filesystem::path folder{r.folder};
  std::filesystem::create_directories(folder, error);
  if (error) {
    complain(fmt::format("{}: {}", r.folder, error.message()));
    return not_understood;
  }
  // Names of files are ours: what people are called may hold anything.
  for (const auto& t : tests) {
    const auto name = fmt::format("test-{}-{}", t.number, written_day(t.day));
    if (!put(folder / (name + ".log"), in.log_of(t.number)) ||
        !put(folder / (name + ".settings.toml"), t.settings))
      return not_understood;
  }
  std::string json, csv;
  history::write_json(json, tests);
  history::write_csv(csv, tests, as);
  if (!put(folder / "tests.json", json) || !put(folder / "tests.csv", csv)) return not_understood;
  return wrote(fmt::format("{} tests are in {}\n", tests.size(), printable(r.folder)))
             ? done
             : not_understood;
}

int forget(const past_request& r, archive& in, const std::vector<kept_test>& tests,
           const presentation& as) {
  std::string text;
  history::write_list(text, tests, as);
  if (!r.yes) {
    wrote(text);
    complain(fmt::format("{}: {} tests would go, their logs with them, for good; --yes does it. "
                         "Nothing was deleted",
                         r.database, tests.size()));
    return not_understood;
  }
  in.forget(tests);
  text += fmt::format("\n{} tests are gone. Nothing of them is left in {}; copies of it, and what "
                      "the disk\nkeeps of files that were, are not in this program's power.\n",
                      tests.size(), printable(r.database));
  return wrote(text) ? done : not_understood;
}

int answer(const past_request& r) {
  archive in{r.database, archive::access::existing};
  const auto tests = in.tests(r.which);
  if (tests.empty() && !(r.which.all() && in.tests({}).empty())) {
    // Perhaps it was deleted before, and the program stopped before the file was written anew.
    if (r.as == past_request::manner::forget && r.yes) in.forget({});
    complain(nothing_of(r, in));
    return not_understood;
  }
  const auto as = history::shown_together(tests, r.log.shown);
  const bool one_appliance = std::ranges::all_of(
      tests, [&](const kept_test& t) { return same_appliance(t, tests.front()); });
  std::string text;
  switch (r.as) {
    case past_request::manner::html:
      if (tests.empty() || !one_appliance) {
        complain("--html is of one appliance; which? --appliance NAME, --site PLACE");
        return not_understood;
      }
      history::write_html(text, tests, as, r.reading);
      break;
    case past_request::manner::csv: history::write_csv(text, tests, as); break;
    case past_request::manner::json: history::write_json(text, tests); break;
    case past_request::manner::folder: return hand_out(r, in, tests, as);
    case past_request::manner::forget: return forget(r, in, tests, as);
    case past_request::manner::plain:
      if (one_appliance && !r.which.all()) history::write_course(text, tests, as, r.reading);
      else history::write_list(text, tests, as);
      break;
  }
  return wrote(text) ? done : not_understood;
}

}  // namespace

int past(const past_request& r) {
  try {
    return answer(r);
  } catch (const database_fault& why) {
    complain(why.what());
    return not_understood;
  }
}

}  // namespace stilling::command
