// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/stages/framer.hpp"

#include <gtest/gtest.h>

#include <string>
#include <vector>

namespace stilling {
namespace {

using namespace std::string_view_literals;

static_assert(stage<framer<>> && accepts<framer<64>, std::string_view>);
static_assert(interrupts<framer<>>, "a stream that goes on counts its lines on");

struct line {
  std::uint64_t number = 0;
  std::string text;
  bool cut = false;
  bool unterminated = false;
  std::uint32_t padding = 0;
  bool operator==(const line&) const = default;
};

void PrintTo(const line& l, std::ostream* os) {
  *os << l.number << " '" << l.text << "'" << (l.cut ? " cut" : "")
      << (l.unterminated ? " unterminated" : "") << " padding " << l.padding;
}

template <std::size_t Capacity = 4096>
std::vector<line> lines_of(std::string_view bytes, std::size_t piece = 1 << 20) {
  std::vector<line> out;
  const auto sink = overloaded{[&](const record& r) {
    out.push_back({r.line, std::string{r.text}, r.cut, r.unterminated, r.padding});
  }};
  framer<Capacity> f;
  for (; !bytes.empty(); bytes.remove_prefix(std::min(piece, bytes.size())))
    f.push(bytes.substr(0, piece), sink);
  f.finish(sink);
  return out;
}

TEST(framer, takes_every_kind_of_line_end) {
  const std::vector<line> want{{1, "a"}, {2, "b"}, {3, "c"}};
  EXPECT_EQ(lines_of("a\nb\nc\n"), want);
  EXPECT_EQ(lines_of("a\r\nb\r\nc\r\n"), want);
  EXPECT_EQ(lines_of("a\rb\rc\r"), want);
  EXPECT_EQ(lines_of("a\rb\nc\r\n"), want) << "mixed";
}

TEST(framer, counts_empty_lines_and_keeps_quiet_about_them) {
  EXPECT_EQ(lines_of("\r\na\r\n\r\n\nb"), (std::vector<line>{{2, "a"}, {5, "b", false, true}}));
  EXPECT_TRUE(lines_of("").empty());
  EXPECT_TRUE(lines_of("\n\r\n\r").empty());
}

TEST(framer, says_when_the_last_line_has_no_end) {
  EXPECT_EQ(lines_of("a\nb"), (std::vector<line>{{1, "a"}, {2, "b", false, true}}));
}

TEST(framer, holds_a_line_without_end_back) {
  framer<> f;
  int seen = 0;
  const auto sink = overloaded{[&](const record&) { ++seen; }};
  f.push("10,412"sv, sink);
  EXPECT_EQ(seen, 0) << "a cut-off number is a smaller number";
  f.push(".5\n"sv, sink);
  EXPECT_EQ(seen, 1);
}

TEST(framer, drops_a_byte_order_mark_and_turns_utf16_into_utf8) {
  const std::vector<line> want{{1, "t\xC2\xB0"}, {2, "1"}};
  EXPECT_EQ(lines_of("\xEF\xBB\xBFt\xC2\xB0\n1\n"), want);
  EXPECT_EQ(lines_of("\xFF\xFEt\0\xB0\0\n\0001\0\n\0"sv), want);
  EXPECT_EQ(lines_of("\xFE\xFF\0t\0\xB0\0\n\0001\0\n"sv), want);
  EXPECT_EQ(lines_of("t\0i\0\n\0"sv), (std::vector<line>{{1, "ti"}})) << "without a mark";
  EXPECT_EQ(lines_of("\0t\0i\0\n"sv), (std::vector<line>{{1, "ti"}})) << "without a mark";
}

TEST(framer, leaves_other_bytes_as_they_are) {
  EXPECT_EQ(lines_of("a\xB0\x1B\xFF\n"), (std::vector<line>{{1, "a\xB0\x1B\xFF"}}));
}

TEST(framer, passes_padding_over_and_counts_it) {
  const std::string nuls(137, '\0');
  EXPECT_EQ(lines_of("a\n" + nuls + "b\n"),
            (std::vector<line>{{1, "a"}, {2, "b", false, false, 137}}));
  EXPECT_EQ(lines_of("a\n" + nuls), (std::vector<line>{{1, "a"}, {2, "", false, true, 137}}));
}

TEST(framer, keeps_few_nuls_as_the_damage_they_are) {
  const auto got = lines_of(
      "a\n\0"
      "12\n"sv);
  ASSERT_EQ(got.size(), 2U);
  EXPECT_EQ(got[1].text, std::string("\0"
                                     "12",
                                     3))
      << "12 alone would be another number";
  EXPECT_EQ(lines_of("4\0"
                     "1\n"sv)[0]
                .text,
            std::string("4\0"
                        "1",
                        3));
}

TEST(framer, squeezes_and_then_cuts_what_is_too_long) {
  const std::string padded = "Time" + std::string(100, ' ') + ",North" + std::string(100, ' ');
  EXPECT_EQ(lines_of<64>(padded + "\nb\n"), (std::vector<line>{{1, "Time ,North "}, {2, "b"}}));
  const std::string wide(100, 'x');
  EXPECT_EQ(lines_of<64>(wide + "\nb\n"),
            (std::vector<line>{{1, std::string(64, 'x'), true}, {2, "b"}}));
  EXPECT_EQ(lines_of<64>(std::string(64, 'x') + "\n"),
            (std::vector<line>{{1, std::string(64, 'x')}}))
      << "what just fits is whole";
}

// Law 1.
TEST(framer, does_not_care_where_the_bytes_are_cut) {
  const std::string streams[]{
      "a,b\r\n1,2\r3,4\n\r\n" + std::string(9, '\0') + "5,6\n" + std::string(100, 'x') + "\ny\r",
      std::string("\xFF\xFE"
                  "a\0\x3D\xD8\x00\xDE\r\0\n\0b\0",
                  14),
      std::string("\xEF\xBB\xBF"
                  "h\n1\n",
                  7),
      std::string("\0\0\0\0\0a\n\0\0z\n", 11),
      "t" + std::string(70, ' ') + "u" + std::string(70, ' ') + "\nv"};
  for (const auto& s : streams) {
    const auto whole = lines_of<64>(s);
    for (std::size_t piece = 1; piece <= s.size(); ++piece)
      EXPECT_EQ(lines_of<64>(s, piece), whole) << piece;
  }
}

TEST(framer, is_new_after_finish_and_counts_on_after_a_break) {
  framer<> f;
  std::vector<line> got;
  const auto sink = overloaded{[&](const record& r) {
    got.push_back({r.line, std::string{r.text}, r.cut, r.unterminated, r.padding});
  }};
  f.push("a\nb"sv, sink);
  f.interrupt(discontinuity{}, sink);
  f.push("c\n"sv, sink);
  f.finish(sink);
  f.push("d\n"sv, sink);
  EXPECT_EQ(got, (std::vector<line>{{1, "a"}, {2, "b", false, true}, {3, "c"}, {1, "d"}}));
}

}  // namespace
}  // namespace stilling
