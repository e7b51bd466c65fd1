// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/stages/stage.hpp"

#include <gtest/gtest.h>

#include <string>
#include <type_traits>
#include <utility>
#include <vector>

namespace stilling {
namespace {

// A small mill: grain becomes flour, flour becomes bread, a stone is nobody's business.
struct grain {
  int weight = 0;
};
struct flour {
  int weight = 0;
};
struct bread {
  int weight = 0;
};
struct stone {};

/// Grinds; keeps back one grain until the next comes, a pause lasts too long, or work ends.
class mill {
 public:
  using emits = items<flour>;
  template <class Sink> constexpr void push(const grain& g, Sink&& sink) noexcept {
    if (kept_ > 0) sink(flour{kept_});
    kept_ = g.weight;
  }
  template <class Sink> constexpr void advance(instant t, Sink&& sink) noexcept {
    if (t > instant{seconds(60)}) finish(sink);
  }
  template <class Sink> constexpr void finish(Sink&& sink) noexcept {
    if (kept_ > 0) sink(flour{kept_});
    kept_ = 0;
  }

 private:
  int kept_ = 0;
};

/// Bakes a loaf of every two flours; the last may be small.
class oven {
 public:
  using emits = items<bread>;
  template <class Sink> constexpr void push(const flour& f, Sink&& sink) noexcept {
    dough_ += f.weight;
    if (++count_ == 2) finish(sink);
  }
  template <class Sink> constexpr void finish(Sink&& sink) noexcept {
    if (count_ > 0) sink(bread{dough_});
    dough_ = count_ = 0;
  }

 private:
  int dough_ = 0, count_ = 0;
};

/// Counts loaves; at a break it says so in its own way.
class counter {
 public:
  using emits = items<int>;
  template <class Sink> constexpr void push(const bread&, Sink&&) noexcept { ++loaves_; }
  template <class Sink> constexpr void finish(Sink&& sink) noexcept {
    sink(loaves_);
    loaves_ = 0;
  }
  template <class Sink> constexpr void interrupt(const discontinuity&, Sink&& sink) noexcept {
    sink(-loaves_);
    loaves_ = 0;
  }

 private:
  int loaves_ = 0;
};

struct no_stage {};
struct throws_in_push {
  using emits = items<>;
  template <class Sink> void push(const grain&, Sink&&) {}
  template <class Sink> void finish(Sink&&) noexcept {}
};

static_assert(stage<mill> && stage<oven> && stage<counter> && !stage<no_stage>);
static_assert(accepts<mill, grain> && !accepts<mill, flour> && accepts<oven, flour>);
static_assert(!accepts<throws_in_push, grain>, "a stage promises not to throw");
static_assert(advances<mill> && !advances<oven>);
static_assert(interrupts<counter> && !interrupts<mill>);

using bakery = decltype(mill{} | oven{});
static_assert(stage<bakery> && accepts<bakery, grain> && accepts<bakery, flour>);
static_assert(!accepts<bakery, stone>, "what neither end knows has no business here");
static_assert(std::is_same_v<bakery::emits, items<flour, bread>>);
static_assert(std::is_trivially_copyable_v<bakery>, "a chain of values is a value");
static_assert(std::is_same_v<decltype((mill{} | oven{}) | counter{})::emits,
                             decltype(mill{} | (oven{} | counter{}))::emits>);

// Every item type a stage may hand on must find somebody who takes it.
struct takes_bread_only {
  void operator()(const bread&) const {}
};
static_assert(sink_for<takes_bread_only, bread> && !sink_for<takes_bread_only, stone>);

/// Writes down what arrives, in order.
struct diary {
  std::vector<std::string>& lines;
  void operator()(const flour& f) const { lines.push_back("flour " + std::to_string(f.weight)); }
  void operator()(const bread& b) const { lines.push_back("bread " + std::to_string(b.weight)); }
  void operator()(const stone&) const { lines.push_back("stone"); }
  void operator()(const discontinuity&) const { lines.push_back("break"); }
  void operator()(int loaves) const { lines.push_back("loaves " + std::to_string(loaves)); }
};

template <class Stage> std::vector<std::string> a_day_with(Stage line) {
  std::vector<std::string> seen;
  diary sink{seen};
  for (int weight = 1; weight <= 5; ++weight) line.push(grain{weight}, sink);
  line.push(discontinuity{}, sink);
  line.push(grain{7}, sink);
  line.advance(instant{seconds(61)}, sink);
  line.finish(sink);
  return seen;
}

TEST(chain, hands_on_from_first_to_second) {
  std::vector<std::string> seen;
  diary sink{seen};
  auto line = mill{} | oven{};
  for (int weight = 1; weight <= 3; ++weight) line.push(grain{weight}, sink);
  EXPECT_EQ(seen, (std::vector<std::string>{"bread 3"}));
  line.finish(sink);
  EXPECT_EQ(seen, (std::vector<std::string>{"bread 3", "bread 3"}))
      << "the first is finished into the second before the second is";
}

TEST(chain, is_also_fed_in_its_middle) {
  std::vector<std::string> seen;
  diary sink{seen};
  auto line = mill{} | oven{};
  line.push(flour{10}, sink);
  line.push(flour{20}, sink);
  EXPECT_EQ(seen, (std::vector<std::string>{"bread 30"}));
}

/// Adds to what it is given and moves it on.
struct salter {
  using emits = items<flour>;
  template <class Sink> constexpr void push(flour&& f, Sink&& sink) noexcept {
    ++f.weight;
    sink(std::move(f));
  }
  template <class Sink> constexpr void finish(Sink&&) noexcept {}
};
static_assert(accepts<salter, flour>);

TEST(chain, adds_in_place_to_what_was_given_away) {
  auto line = salter{} | salter{};
  flour sack{10};
  const flour* last = nullptr;
  line.push(std::move(sack), [&](const flour& f) { last = &f; });
  EXPECT_EQ(last, &sack);
  EXPECT_EQ(last->weight, 12);
}

TEST(chain, leaves_alone_what_was_not) {
  auto line = salter{} | salter{};
  flour sack{10};
  const flour shelf{20};
  int seen = 0;
  line.push(sack, [&](const flour& f) { seen = f.weight; });
  EXPECT_EQ(seen, 12);
  EXPECT_EQ(sack.weight, 10);
  line.push(shelf, [&](const flour& f) { seen = f.weight; });
  EXPECT_EQ(seen, 22);
}

TEST(chain, brackets_do_not_matter) {
  const auto left = a_day_with((mill{} | oven{}) | counter{});
  const auto right = a_day_with(mill{} | (oven{} | counter{}));
  EXPECT_EQ(left, right);
  EXPECT_FALSE(left.empty());
}

TEST(chain, a_discontinuity_finishes_every_stage_and_goes_on) {
  EXPECT_EQ(a_day_with(mill{} | oven{}),
            (std::vector<std::string>{"bread 3", "bread 7", "bread 5", "break", "bread 7"}))
      << "5 is not baked with 7: nothing leans on what was before the break";
}

TEST(chain, a_stage_that_tells_a_break_from_the_end_is_told) {
  const auto seen = a_day_with(mill{} | (oven{} | counter{}));
  EXPECT_EQ(seen, (std::vector<std::string>{"loaves -3", "break", "loaves 1"}));
}

TEST(chain, time_reaches_the_stages_that_ask_for_it) {
  std::vector<std::string> seen;
  diary sink{seen};
  auto line = mill{} | oven{};
  line.push(grain{4}, sink);
  line.push(flour{1}, sink);
  line.advance(instant{seconds(60)}, sink);
  EXPECT_TRUE(seen.empty()) << "not yet";
  line.advance(instant{seconds(61)}, sink);
  EXPECT_EQ(seen, (std::vector<std::string>{"bread 5"})) << "the grain that was kept back";
}

TEST(chain, after_finish_it_is_as_new) {
  auto line = mill{} | oven{};
  std::vector<std::string> first, second;
  diary into_first{first}, into_second{second};
  for (int weight = 1; weight <= 4; ++weight) line.push(grain{weight}, into_first);
  line.finish(into_first);
  for (int weight = 1; weight <= 4; ++weight) line.push(grain{weight}, into_second);
  line.finish(into_second);
  EXPECT_EQ(first, second);
}

TEST(route, what_a_stage_does_not_accept_passes_it_by) {
  std::vector<std::string> seen;
  diary sink{seen};
  oven baker;
  route into{baker, sink};
  into(flour{1});
  into(stone{});
  into(bread{9});
  EXPECT_EQ(seen, (std::vector<std::string>{"stone", "bread 9"}));
  into(flour{2});
  EXPECT_EQ(seen.back(), "bread 3") << "the oven never noticed the stone";
}

TEST(route, a_break_reaches_the_stage_before_it_goes_on) {
  std::vector<std::string> seen;
  diary sink{seen};
  oven baker;
  route into{baker, sink};
  into(flour{1});
  into(discontinuity{});
  EXPECT_EQ(seen, (std::vector<std::string>{"bread 1", "break"}));
}

/// Neither copied nor moved: whoever holds it made it there.
class built_in_oven : public oven {
 public:
  explicit built_in_oven(int) noexcept {}
  built_in_oven(const built_in_oven&) = delete;
  built_in_oven& operator=(const built_in_oven&) = delete;
};

TEST(recipe, makes_each_stage_where_it_will_stand) {
  const int bricks = 400;
  auto line = (recipe{[] { return mill{}; }} | recipe{[&] { return built_in_oven{bricks}; }})();
  static_assert(std::is_same_v<decltype(line), chain<mill, built_in_oven>>);
  std::vector<std::string> seen;
  diary sink{seen};
  for (int weight = 1; weight <= 3; ++weight) line.push(grain{weight}, sink);
  EXPECT_EQ(seen, (std::vector<std::string>{"bread 3"}));
}

TEST(begin_anew, is_the_first_state_made_from_what_the_stage_itself_holds) {
  struct baker {
    explicit baker(std::string who) noexcept : name{std::move(who)} {}
    std::string name;
    int loaves = 0;
  } of_town{"somebody whose name is too long for its own place in a string"};
  const auto name = of_town.name;
  of_town.loaves = 7;
  begin_anew(of_town, of_town.name);
  EXPECT_EQ(of_town.name, name);
  EXPECT_EQ(of_town.loaves, 0);
}

TEST(overloaded, several_lambdas_are_one_sink) {
  int loaves = 0, stones = 0;
  auto sink = overloaded{[&](const bread&) { ++loaves; }, [&](const stone&) { ++stones; }};
  sink(bread{});
  sink(bread{});
  sink(stone{});
  EXPECT_EQ(loaves, 2);
  EXPECT_EQ(stones, 1);
}

// Stages are constexpr: a whole day can be lived by the compiler.
constexpr int baked_at_compile_time = [] {
  int total = 0;
  auto line = mill{} | oven{};
  auto sink = overloaded{[&](const bread& b) { total += b.weight; }, [](const flour&) {}};
  for (int weight = 1; weight <= 4; ++weight) line.push(grain{weight}, sink);
  line.finish(sink);
  return total;
}();
static_assert(baked_at_compile_time == 10);

}  // namespace
}  // namespace stilling
