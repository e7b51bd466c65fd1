// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/decoding/label_reader.hpp"

#include <gtest/gtest.h>

namespace stilling {
namespace {

decoder_settings rules(std::initializer_list<std::string_view> texts) {
  decoder_settings s;
  s.labelled = true;
  for (auto t : texts) s.add(*read_column_rule(t));
  return s;
}

struct reader {
  decoder_settings settings;
  label_reader labels;
  row out;

  explicit reader(const decoder_settings& s) : settings{s}, labels{s} {}
  const row& read(std::string_view line) {
    labels.read(line, settings, out, [](const assumption&) {});
    return out;
  }
};

const auto three = rules({"T=stack_temp:degF", "O2=o2:pct", "CO=co:ppm"});

TEST(label_reader, reads_any_order_any_case_and_either_sign) {
  reader r{three};
  for (auto line : {"time_s=5 T=471F O2=5.2% CO=12ppm", "co: 12 o2:5.2 t:471 time_s:5",
                    "time_s=5; T = 471 \xC2\xB0"
                    "F, O2 = 5,2 %; CO=12 ppm;",
                    "x=1 time_s=5|CO=12|O2=5.2|T=471|y:z"}) {
    const auto& row = r.read(line);
    ASSERT_TRUE(row.usable) << line;
    EXPECT_EQ(row.held.at, instant{seconds(5)}) << line;
    EXPECT_EQ(row.held.indication[channel::stack_temp], to_canonical(unit::fahrenheit, 471))
        << line;
    EXPECT_EQ(row.held.indication[channel::o2], 5.2 / 100) << line;
    EXPECT_EQ(row.held.indication[channel::co], 12 / 1e6) << line;
    r = reader{three};
  }
}

TEST(label_reader, takes_canonical_labels_in_any_case_and_lines_of_json) {
  reader r{three};
  for (auto line : {"TIME_S=5 Stack_Temp_degF=471 O2_PCT=5.2",
                    R"({"time_s": 5, "T": 471, "O2": "5.2", "CO": null})",
                    R"({"time_s":5,"t":"471 F","o2":5.2})"}) {
    const auto& row = r.read(line);
    ASSERT_TRUE(row.usable) << line;
    EXPECT_EQ(row.flaw_count, 0) << line;
    EXPECT_EQ(row.held.at, instant{seconds(5)}) << line;
    EXPECT_EQ(row.held.indication[channel::stack_temp], to_canonical(unit::fahrenheit, 471))
        << line;
    EXPECT_EQ(row.held.indication[channel::o2], 5.2 / 100) << line;
    EXPECT_FALSE(row.held.indication.has(channel::co)) << line;
  }
}

TEST(label_reader, honours_the_unit_beside_the_value) {
  reader r{three};
  EXPECT_EQ(r.read("time_s=5 T=100 C").held.indication[channel::stack_temp], 373.15);
}

TEST(label_reader, wants_a_unit_from_somewhere) {
  reader r{rules({"T=stack_temp"})};
  EXPECT_TRUE(r.read("time_s=1 T=471F").held.indication.has(channel::stack_temp));
  EXPECT_EQ(r.read("time_s=1 T=471").flaws[0].what, fault::no_unit);
}

TEST(label_reader, takes_time_from_a_label_of_its_own) {
  reader r{rules({"T=stack_temp:degF", "at=time"})};
  EXPECT_EQ(r.read("at: 1970-01-01 00:01:10 T=471").held.at, instant{seconds(70)});
  EXPECT_EQ(r.read("T=471 at=soon").flaws[0].what, fault::bad_time);
  EXPECT_EQ(r.read("T=471").flaws[0].what, fault::no_time);
}

TEST(label_reader, leaves_lines_without_a_known_label) {
  reader r{three};
  EXPECT_EQ(r.read("boot ok").flaws[0].what, fault::too_few_fields);
  EXPECT_EQ(r.read("warming: up").flaws[0].what, fault::too_few_fields);
  EXPECT_EQ(r.read("time_s=1 T\x01=471").flaws[0].what, fault::not_text);
  EXPECT_EQ(r.read("time_s=1 T=4\xB5"
                   "1")
                .flaws[0]
                .what,
            fault::not_text);
}

TEST(label_reader, uses_the_first_of_two_values) {
  reader r{three};
  const auto& row = r.read("time_s=1 O2=5 O2=6 O2=x O2=x O2=x O2=x O2=x O2=x O2=x O2=x");
  EXPECT_EQ(row.held.indication[channel::o2], 5.0 / 100);
  reader bad{three};
  EXPECT_LE(bad.read("time_s=1 O2=x O2=x O2=x O2=x O2=x O2=x O2=x O2=x O2=x O2=x").flaw_count,
            channel_count);
}

}  // namespace
}  // namespace stilling
