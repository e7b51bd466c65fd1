// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/decoding/row_reader.hpp"

#include <gtest/gtest.h>

#include <string>

#include "stilling/decoding/header.hpp"

namespace stilling {
namespace {

struct reader {
  decoder_settings settings;
  row_reader rows;
  row out;

  explicit reader(std::string_view names, const decoder_settings& s = {})
      : settings{s}, rows{read_header(names, s)->found, s} {}
  const row& read(std::string_view line) {
    rows.read(line, settings, out, [](const assumption&) {});
    return out;
  }
  fault fault_of(std::string_view line) {
    read(line);
    EXPECT_GT(out.flaw_count, 0) << line;
    return out.flaws[0].what;
  }
};

TEST(row_reader, looks_only_at_what_it_wants) {
  reader r{"what,o2_pct,why,time_s,\"quoted\",co_ppm"};
  const auto& row = r.read("abc,5.1,\"a,b\",12.5,\x01,21");
  ASSERT_TRUE(row.usable);
  EXPECT_EQ(row.held.at, instant{duration{12'500'000'000}});
  EXPECT_EQ(row.held.indication[channel::o2], 5.1 / 100);
  EXPECT_EQ(row.held.indication[channel::co], 21 / 1e6);
  EXPECT_EQ(row.held.indication.valid, (channel_set{channel::o2, channel::co}));
}

TEST(row_reader, counts_fields) {
  reader r{"time_s,o2_pct,co_ppm"};
  EXPECT_EQ(r.fault_of("1,5.1"), fault::too_few_fields);
  EXPECT_EQ(r.fault_of("1"), fault::too_few_fields);
  EXPECT_EQ(r.fault_of("1,5.1,21,7"), fault::too_many_fields);
  EXPECT_TRUE(r.read("1,5.1,21,").usable) << "one empty field behind the last";
  EXPECT_EQ(r.fault_of("1,5.1,21,,"), fault::too_many_fields);
  EXPECT_TRUE(r.read("1,,").usable) << "blank is missing";
  reader wide{"time_s,o2_pct,a,b,c"};
  EXPECT_EQ(wide.fault_of("1,5.1,2,3"), fault::too_few_fields);
  EXPECT_TRUE(wide.read("1,5.1,2,3,4").usable);
}

TEST(row_reader, refuses_a_row_without_a_time) {
  reader r{"time_s,o2_pct"};
  EXPECT_EQ(r.fault_of(",5"), fault::no_time);
  EXPECT_EQ(r.fault_of("soon,5"), fault::bad_time);
  EXPECT_EQ(r.fault_of("5e20,5"), fault::bad_time);
  EXPECT_EQ(r.fault_of("1\xB5,5"), fault::not_text);
  EXPECT_EQ(r.out.flaws[0].field, 1);
}

TEST(row_reader, leaves_other_cells_be_when_one_is_no_number) {
  reader r{"time_s,o2_pct,co_ppm"};
  const auto& row = r.read("1,abc,21");
  EXPECT_TRUE(row.usable);
  EXPECT_EQ(row.flaw_count, 1);
  EXPECT_EQ(row.flaws[0].field, 2);
  EXPECT_EQ(row.flaws[0].seen, "abc");
  EXPECT_TRUE(row.held.indication.has(channel::co));
}

TEST(row_reader, uses_nothing_of_a_damaged_row) {
  reader r{"time_s,o2_pct,co_ppm"};
  const auto& row = r.read("1,5.\x02,21");
  EXPECT_FALSE(row.usable);
  EXPECT_EQ(row.flaw_count, 1);
  EXPECT_EQ(row.flaws[0].what, fault::not_text);
  EXPECT_EQ(r.fault_of(std::string_view{"1,5.\0,21", 8}), fault::not_text);
}

TEST(row_reader, reads_padded_and_blank_parted_rows) {
  reader padded{"time_s,o2_pct,co_ppm"};
  EXPECT_TRUE(padded.read("   1. ,  5.100E+00 ,  21  ").usable);
  reader blanks{"time_s o2_pct co_ppm"};
  const auto& row = blanks.read("  1 \t 5.1   ----  ");
  EXPECT_TRUE(row.usable);
  EXPECT_EQ(row.held.indication.valid, channel_set{channel::o2});
  EXPECT_EQ(blanks.fault_of("1 5.1"), fault::too_few_fields);
}

TEST(row_reader, joins_date_and_clock) {
  decoder_settings s;
  s.add(*read_column_rule("Date+Clock=time"));
  reader r{"Clock,o2_pct,Date", s};
  const auto& row = r.read("00:00:10,5,1970-01-02");
  ASSERT_TRUE(row.usable);
  EXPECT_EQ(row.held.at, instant{seconds(86'410)});
  EXPECT_EQ(r.fault_of("00:00:10,5,----"), fault::bad_time);
  EXPECT_EQ(r.fault_of("00:00:10,5"), fault::too_few_fields);
  EXPECT_EQ(r.fault_of(std::string(200, '1') + ",5,1970-01-02"), fault::bad_time);
}

TEST(row_reader, trusts_a_last_cell_cut_off_only_with_all_its_decimals) {
  reader r{"time_s,o2_pct"};
  r.read("1,5.10");
  r.rows.judge_last_cell(r.out);
  EXPECT_FALSE(r.out.held.indication.has(channel::o2)) << "nothing to compare with";
  r.read("2,5.12");
  r.rows.judge_last_cell(r.out);
  EXPECT_TRUE(r.out.held.indication.has(channel::o2));
  r.read("3,5.1");
  r.rows.judge_last_cell(r.out);
  EXPECT_FALSE(r.out.held.indication.has(channel::o2));
  EXPECT_EQ(r.out.flaws[0].what, fault::incomplete);
  EXPECT_TRUE(r.out.usable) << "its time and other cells are whole";
  reader last{"o2_pct,time_s"};
  last.read("5.1,12");
  last.rows.judge_last_cell(last.out);
  EXPECT_FALSE(last.out.usable) << "the time may be 120";
}

}  // namespace
}  // namespace stilling
