// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/chart.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <random>
#include <string>

#include "../../src/chart_parts.hpp"
#include "support/gathered_visit.hpp"

namespace stilling {
namespace {

using namespace gathered_visit;
using ::testing::AllOf;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::Not;

std::string course_of(const visit& v) {
  std::string to;
  chart::write_course(to, v, in_degf());
  return to;
}
std::string loss_of(const visit& v) {
  std::string to;
  chart::write_loss(to, v, in_degf());
  return to;
}

TEST(chart, a_log_without_rows_has_no_picture) {
  std::string to;
  EXPECT_FALSE(chart::write_course(to, empty(), in_degf()));
  EXPECT_FALSE(chart::write_loss(to, empty(), in_degf()));
  EXPECT_EQ(to, "");
  EXPECT_EQ(chart::words_of_course(empty(), in_degf()), "");
  EXPECT_EQ(chart::words_of_loss(empty(), in_degf()), "");
}

TEST(chart, the_course_has_title_and_description_and_the_channels_by_name) {
  const auto drawn = course_of(two_readings());
  EXPECT_THAT(drawn, AllOf(HasSubstr("role=\"img\" aria-labelledby=\"course-title course-desc\""),
                           HasSubstr("<title id=\"course-title\">How the test went, from 0:00"),
                           HasSubstr("Stack temperature, °F"), HasSubstr("O2, %"),
                           HasSubstr("CO, ppm"), HasSubstr(">adjusted air<"),
                           HasSubstr(">smoke trace<"), HasSubstr(">4.50<"), HasSubstr(">6.00<")));
  EXPECT_THAT(drawn, Not(HasSubstr("Draft"))) << "the log has none";
}

TEST(chart, the_same_visit_makes_the_same_bytes) {
  EXPECT_EQ(course_of(two_readings()), course_of(two_readings()));
  EXPECT_EQ(loss_of(two_readings()), loss_of(two_readings()));
}

TEST(chart, one_row_is_a_picture_too) {
  visit v = empty();
  add_rows(v, 0, 1, {});
  EXPECT_THAT(course_of(v), HasSubstr("</svg>"));
  EXPECT_EQ(loss_of(v), "");
  EXPECT_THAT(chart::words_of_course(v, in_degf()), HasSubstr("no reading settled"));
}

TEST(chart, without_o2_there_is_no_curve_of_loss) {
  const auto v = two_readings({channel::o2});
  EXPECT_EQ(loss_of(v), "");
  EXPECT_THAT(course_of(v), Not(HasSubstr("O2, %")));
}

TEST(chart, one_reading_lies_on_its_curve_and_has_no_path) {
  visit v = empty();
  add_rows(v, 0, 300, {});
  v.add(settled(200, 300, {}));
  const auto drawn = loss_of(v);
  EXPECT_THAT(drawn, HasSubstr("class=\"reading last\""));
  EXPECT_THAT(drawn, Not(HasSubstr("class=\"way\"")));
  EXPECT_THAT(drawn, Not(HasSubstr("curve earlier")));
}

TEST(chart, what_a_person_said_cannot_leave_its_place) {
  const auto drawn = course_of(two_readings({}, "adjusted air <b>\"'&\x01\xff</text>"));
  EXPECT_THAT(drawn, Not(HasSubstr("<b>")));
  EXPECT_THAT(drawn, HasSubstr("adjusted air &lt;b&gt;&quot;&#39;&amp;\xEF\xBF\xBD"));
  EXPECT_EQ(drawn.find('\x01'), std::string::npos);
}

TEST(chart, a_long_note_is_shortened) {
  const auto drawn = course_of(two_readings({}, "adjusted air " + std::string(10'000, 'x')));
  EXPECT_THAT(drawn, HasSubstr("…"));
  EXPECT_THAT(drawn, Not(HasSubstr(std::string(40, 'x'))));
}

TEST(chart, a_clock_that_goes_back_is_said_and_the_longest_piece_is_drawn) {
  visit v = empty();
  add_rows(v, 5000, 5100, {});
  add_rows(v, 0, 300, {});
  EXPECT_THAT(course_of(v), HasSubstr("from 0:00 to 4:59"));
  EXPECT_THAT(chart::words_of_course(v, in_degf()), HasSubstr("longest piece"));
}

TEST(chart, ticks_are_round_and_within) {
  using drawing::round_ticks;
  EXPECT_THAT(round_ticks(3.1, 7.9, 5).at, ElementsAre(4, 5, 6, 7));
  EXPECT_THAT(round_ticks(441, 533, 3).at, ElementsAre(450, 500));
  EXPECT_EQ(round_ticks(-0.056, -0.031, 4).decimals, 2);
  EXPECT_TRUE(round_ticks(1, 1, 4).at.empty());
}

TEST(chart, times_are_round_and_no_more_than_asked_for) {
  for (const int length : {1, 7, 61, 1924, 7205, 90'000, 4'000'000}) {
    const auto t = drawing::round_times(at(13), at(13 + length), 4, 9);
    EXPECT_LE(t.at.size(), 4U) << length;
    EXPECT_LE(t.at.size() + t.between.size(), 9U) << length;
    EXPECT_GE(t.at.size(), 1U) << length;
  }
}

/// Words at random: those that found a place do not touch at any width from the narrowest on.
TEST(chart, placed_words_never_touch) {
  using namespace drawing;
  std::mt19937 random{7};
  const auto draw = [&](double low, double high) {
    return std::uniform_real_distribution{low, high}(random);
  };
  for (int round = 0; round < 50; ++round) {
    words_placed placed;
    std::vector<std::pair<word, double>> there;  // and the narrowest it is shown at
    for (int i = 0; i < 40; ++i) {
      const word w{draw(0, 1), draw(-8, 8), draw(0, 60), static_cast<anchor>(random() % 3),
                   1 + random() % 12};
      const auto where = placed.take(w);
      if (where != place::nowhere)
        there.emplace_back(w, where == place::taken ? narrow : roomy);
    }
    ASSERT_GT(there.size(), 5U);
    for (std::size_t i = 0; i < there.size(); ++i)
      for (std::size_t j = 0; j < i; ++j)
        for (double width = narrow; width < 1500; width += 37) {
          if (width < there[i].second || width < there[j].second) continue;
          const auto ends = [&](const word& w) {
            const double length = letter_width * static_cast<double>(w.letters);
            const double x = w.x * width + w.dx;
            const double left = w.by == anchor::start ? x : w.by == anchor::end ? x - length
                                                                                : x - length / 2;
            return std::pair{left, left + length};
          };
          const auto [a, b] = ends(there[i].first);
          const auto [c, d] = ends(there[j].first);
          const double dy = there[i].first.y - there[j].first.y;
          const bool apart = b <= c || d <= a || dy >= letter_height || dy <= -letter_height;
          EXPECT_TRUE(apart) << "at " << width;
        }
  }
}

}  // namespace
}  // namespace stilling
