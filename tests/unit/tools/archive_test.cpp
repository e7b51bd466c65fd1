// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "archive.hpp"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <limits>

namespace stilling::command {
namespace {

using testing::HasSubstr;

/// A path where nothing is; tests may run side by side.
std::string empty_place() {
  static int count = 0;
  const auto path = std::filesystem::path{testing::TempDir()} /
                    fmt::format("stilling_{}_{}.db", ::getpid(), ++count);
  std::filesystem::remove(path);
  return path.string();
}

/// With a value in every place, none of them round.
kept_test full_test() {
  kept_test t;
  t.day = 20782;
  t.file = "test.csv";
  t.about = {"company", "technician", "1", "O'Hara; \"x\"\n--", "site", "2026-11-25", "boiler",
             "burner", "0.85", "140 psi", "instrument", "4711", "2026-01-01", "remarks", {}, {},
             {}};
  t.version = "0";
  t.settings = "fuel = \"b20\"\n";
  t.fuel = "b20", t.method = "composition", t.outcome = "settled";
  t.rows = 3, t.frames = 2, t.rejected = 1;
  t.columns = {channel::o2, channel::draft_breech};
  for (const auto c : all_channels) t.units[index_of(c)] = canonical_unit(traits_of(c).kind);
  t.units[index_of(channel::o2)] = unit::percent;
  kept_reading k;
  auto& r = k.read;
  r.declared = instant{duration{1}}, r.from = instant{duration{-2}};
  r.to = instant{duration{(std::int64_t{1} << 62) - 1}}, r.released = instant{duration{4}};
  r.last_seen = instant{duration{5}};
  r.ended = cause::drift_in_step;
  r.creeping = r.drift_corrected = true;
  r.hunting = oscillation{61.7, {}};
  r.hunting->amplitude.set(channel::o2, 0.1 / 3);
  r.channels.set(channel::o2, {1.0 / 3, 5e-324, infinite_freedom, -1e-17, 1e-5, -2e-9, 0.3, 12.5,
                               -1e-9, 1e-3, 0.98, 4.4, 4'000'000'000U, 41.3, 7});
  r.channels.set(channel::draft_breech, {});
  k.used.set(channel::o2, {1.0 / 3, std::numeric_limits<double>::max()});
  k.figures[index_of(figure::air_ratio)] = {1.0 + 1e-15, 0.1, "short_air_ratio"};
  for (auto& f : k.figures)
    if (!f.value) f.by = "not_derived";
  k.smoke = 0.5;
  k.moves = {"adjusted air", "adjusted draft; a turn"};
  t.readings = {k, {}};
  for (auto& f : t.readings[1].figures) f.by = "not_derived";
  t.found = {{instant{duration{9}}, "co_high", "danger", "co_fraction", 1e-3, 1e-6, 4e-4, "basis",
              "brief", "text"},
             {instant{duration{10}}, "hunting", "note", "o2_fraction", {}, {}, {}, "", "", ""}};
  t.notes = {{instant{duration{3}}, "smoke trace"}};
  t.assumptions = {"fuel: said"};
  return t;
}

void expect_same(const kept_test& a, const kept_test& b) {
  EXPECT_EQ(a.day, b.day);
  EXPECT_EQ(a.file, b.file);
  for (const auto& p : all_particulars()) EXPECT_EQ(a.about.*p.words, b.about.*p.words) << p.name;
  EXPECT_EQ(a.version, b.version);
  EXPECT_EQ(a.settings, b.settings);
  EXPECT_EQ(a.fuel + a.method + a.outcome, b.fuel + b.method + b.outcome);
  EXPECT_EQ(a.rows, b.rows);
  EXPECT_EQ(a.frames, b.frames);
  EXPECT_EQ(a.rejected, b.rejected);
  EXPECT_EQ(a.columns, b.columns);
  EXPECT_EQ(a.units, b.units);
  EXPECT_EQ(a.readings, b.readings);
  EXPECT_EQ(a.found, b.found);
  EXPECT_EQ(a.notes, b.notes);
  EXPECT_EQ(a.assumptions, b.assumptions);
}

TEST(archive, gives_back_what_was_kept_to_the_last_bit) {
  const auto path = empty_place();
  const auto t = full_test();
  const std::string log{"a\0b\r\n\xFF", 6};
  EXPECT_EQ(archive(path, archive::access::made_where_missing).keep(t, log, false).number, 1);
  archive again{path, archive::access::existing};
  const auto all = again.tests({});
  ASSERT_EQ(all.size(), 1U);
  expect_same(all[0], t);
  EXPECT_EQ(all[0].identity, identity_of(log, t.settings).of_test);
  EXPECT_EQ(again.log_of(1), log);
}

TEST(archive, knows_a_test_by_its_bytes_and_settings) {
  archive in{empty_place(), archive::access::made_where_missing};
  auto t = full_test();
  EXPECT_FALSE(in.keep(t, "log", false).was_there);
  t.about.customer = "somebody else";
  auto answer = in.keep(t, "log", false);
  EXPECT_TRUE(answer.was_there);
  EXPECT_EQ(answer.number, 1);
  EXPECT_EQ(in.tests({})[0].about.customer, full_test().about.customer);
  answer = in.keep(t, "log", true);
  EXPECT_EQ(answer.number, 1);
  expect_same(in.tests({})[0], t);
  t.settings.clear();
  answer = in.keep(t, "log", false);
  EXPECT_EQ(answer.number, 2);
  EXPECT_EQ(answer.same_log, 1);
  EXPECT_EQ(in.keep(t, "loh", false).number, 3);
  EXPECT_EQ(in.tests({}).size(), 3U);
}

TEST(archive, chooses_to_the_letter) {
  archive in{empty_place(), archive::access::made_where_missing};
  auto t = full_test();
  in.keep(t, "1", false);
  t.about.customer = "o'hara";
  t.day -= 400;
  in.keep(t, "2", false);
  EXPECT_EQ(in.tests({}).front().number, 2);  // by day
  EXPECT_EQ(in.tests({.customer = "o'hara"}).size(), 1U);
  EXPECT_EQ(in.tests({.customer = "' OR 1 = 1 --"}).size(), 0U);
  EXPECT_EQ(in.tests({.customer = "o'hara", .appliance = "furnace"}).size(), 0U);
  EXPECT_EQ(in.tests({.site = "site", .appliance = "boiler"}).size(), 2U);
  EXPECT_EQ(in.tests({.number = 2}).size(), 1U);
}

TEST(archive, gives_no_number_twice) {
  archive in{empty_place(), archive::access::made_where_missing};
  in.keep(full_test(), "1", false);
  in.keep(full_test(), "2", false);
  in.forget(in.tests({.number = 2}));
  EXPECT_EQ(in.tests({}).size(), 1U);
  EXPECT_EQ(in.keep(full_test(), "3", false).number, 3);
}

std::string refusal_of(const std::string& path,
                       archive::access how = archive::access::made_where_missing) {
  try {
    (void)archive{path, how}.tests({});
  } catch (const database_fault& why) {
    return why.what();
  }
  return "none";
}

TEST(archive, refuses_what_is_not_its_own) {
  const auto path = empty_place();
  EXPECT_THAT(refusal_of(path, archive::access::existing), HasSubstr("cannot be opened"));
  {
    database other{path, database::access::made_where_missing};
    other.run("CREATE TABLE song (title)");
  }
  EXPECT_THAT(refusal_of(path), HasSubstr("something else (application_id 0x00000000)"));
  {
    database other{path, database::access::existing};
    other.run("PRAGMA application_id = 252006673");
  }
  EXPECT_THAT(refusal_of(path), HasSubstr("something else (application_id 0x0f055111)"));
  std::filesystem::remove(path);
  { archive made{path, archive::access::made_where_missing}; }
  EXPECT_EQ(refusal_of(path), "none");
  {
    database later{path, database::access::existing};
    later.run("PRAGMA user_version = 2");
  }
  EXPECT_THAT(refusal_of(path), HasSubstr("newer stilling (schema 2, this one knows 1)"));
  std::ofstream{path} << "time_s,stack_temp_degF\n0,450\n";
  EXPECT_THAT(refusal_of(path), HasSubstr("no database"));
  std::ofstream{path, std::ios::trunc}.flush();
  EXPECT_EQ(refusal_of(path), "none");  // empty: nothing is kept there yet
}

TEST(archive, bears_its_name_in_the_header) {
  const auto path = empty_place();
  { archive made{path, archive::access::made_where_missing}; }
  std::ifstream in{path, std::ios::binary};
  std::string bytes(72, '\0');
  in.read(bytes.data(), 72);
  EXPECT_EQ(bytes.substr(0, 15), "SQLite format 3");
  EXPECT_EQ(bytes.substr(68), "stil");  // offset 68, the SQLite file format's application id
}

}  // namespace
}  // namespace stilling::command
