// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Law 1: cutting the bytes anywhere changes nothing.

#include <gtest/gtest.h>

#include <random>
#include <string>
#include <string_view>

#include "support/invented_log.hpp"
#include "support/transcript.hpp"

namespace stilling {
namespace {

transcript heard_in_pieces(std::string_view bytes, auto&& next_size) {
  transcript said;
  default_session live{session_settings{}};
  while (!bytes.empty()) {
    const std::size_t size = std::min<std::size_t>(next_size(), bytes.size());
    // A piece of its own, gone after the push: nothing may point into it.
    std::string piece{bytes.substr(0, size)};
    live.push(piece, said);
    piece.assign(size, '9');
    bytes.remove_prefix(size);
  }
  live.finish(said);
  return said;
}

class chunks : public testing::TestWithParam<std::string_view> {
 protected:
  const std::string log = invented::joined(invented::invented_log(), GetParam());
  const transcript whole = heard_from(log);
};

TEST_P(chunks, of_any_fixed_size_change_nothing) {
  ASSERT_GE(whole.readings.size(), 4U) << "there is something to compare";
  for (const std::size_t size : {1U, 2U, 3U, 7U, 64U, 4096U, 65'536U}) {
    EXPECT_EQ(heard_in_pieces(log, [size] { return size; }).lines, whole.lines)
        << "pieces of " << size;
  }
}

TEST_P(chunks, of_random_sizes_change_nothing) {
  for (std::uint32_t seed = 1; seed <= 10; ++seed) {
    std::mt19937 random{seed};
    EXPECT_EQ(heard_in_pieces(log, [&] { return random() % 300; }).lines, whole.lines)
        << "seed " << seed << ", with empty pieces among them";
  }
}

TEST_P(chunks, a_cut_at_every_place_of_the_first_lines_changes_nothing) {
  const std::string_view head = std::string_view{log}.substr(0, 400);
  const auto wanted = heard_from(head).lines;
  for (std::size_t cut = 0; cut <= head.size(); ++cut) {
    std::size_t piece = 0;
    const auto sizes = [&] { return piece++ == 0 ? cut : head.size(); };
    ASSERT_EQ(heard_in_pieces(head, sizes).lines, wanted) << "cut after " << cut << " bytes";
  }
}

TEST_P(chunks, a_last_line_without_an_end_counts) {
  const std::string_view unended = std::string_view{log}.substr(0, log.size() - GetParam().size());
  EXPECT_EQ(heard_from(unended).lines, whole.lines);
}

INSTANTIATE_TEST_SUITE_P(with_each_line_end, chunks, testing::Values("\n", "\r\n", "\r"),
                         [](const auto& each) {
                           return std::string{each.param == "\n"     ? "lf"
                                              : each.param == "\r\n" ? "cr_lf"
                                                                             : "cr"};
                         });

TEST(line_ends, are_all_the_same) {
  const auto log = invented::invented_log();
  EXPECT_EQ(heard_from(invented::joined(log, "\r\n")).lines,
            heard_from(invented::joined(log, "\n")).lines);
  EXPECT_EQ(heard_from(invented::joined(log, "\r")).lines,
            heard_from(invented::joined(log, "\n")).lines);
}

}  // namespace
}  // namespace stilling
