// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// A noisy line: some bytes arrive as control characters or with their top bit set. No row that was
// not hit may be lost, none that was hit may pass for a reading.

#include <gtest/gtest.h>

#include <map>
#include <random>
#include <set>
#include <string>
#include <vector>

#include "support/input_chain.hpp"

namespace stilling {
namespace {

std::string row_of(int i, std::mt19937_64& chance) {
  const auto digit = [&] { return std::to_string(chance() % 10); };
  return std::to_string(i) + "." + digit() + ",4" + digit() + digit() + "." + digit() + ",68." +
         digit() + ",5." + digit() + digit() + "," + std::to_string(10 + chance() % 90) + ",-0.04" +
         digit() + ",-0.02" + digit();
}

void send_through_noise(double share, bool carriage_returns, std::uint64_t seed) {
  std::mt19937_64 chance{seed};
  const std::string header =
      "time_s,stack_temp_degF,ambient_temp_degF,o2_pct,co_ppm,draft_breech_inH2O,"
      "draft_overfire_inH2O";
  const std::string end = carriage_returns ? "\r\n" : "\n";
  constexpr int rows = 4000;
  std::string sent = header + end;
  std::vector<std::pair<std::size_t, std::size_t>> places;
  for (int i = 0; i < rows; ++i) {
    const auto from = sent.size();
    sent += row_of(i, chance) + end;
    places.emplace_back(from, sent.size());
  }
  const auto clean = testing::listen(sent);
  ASSERT_EQ(clean.frames.size(), static_cast<std::size_t>(rows));

  auto received = sent;
  std::set<std::size_t> hit;
  for (std::size_t at = header.size() + end.size(); at < sent.size(); ++at) {
    if (static_cast<double>(chance() % 1'000'000) >= share * 1e6) continue;
    const auto c = chance() % 2 == 0 ? chance() % 32 : 128 + chance() % 128;
    received[at] = static_cast<char>(c);
    if (received[at] != sent[at]) hit.insert(at);
  }
  const auto got = testing::listen(received, {}, {}, 1 + chance() % 300);
  std::map<instant, const frame*> by_time;
  for (const auto& f : got.frames) by_time[f.at] = &f;

  int condemned = 0;
  int touched = 0;
  int torn = 0;
  for (std::size_t i = 0; i < places.size(); ++i) {
    const auto [from, to] = places[i];
    bool own = false;
    bool split = false;
    for (auto at = hit.lower_bound(from); at != hit.end() && *at < to - end.size(); ++at) {
      own = true;
      split |= received[*at] == '\r' || received[*at] == '\n';
    }
    bool near_end = false;
    for (std::size_t k = 0; k < end.size(); ++k)
      near_end |= hit.count(to - 1 - k) > 0 || hit.count(from - 1 - k) > 0;
    const auto found = by_time.find(clean.frames[i].at);
    if (split && found != by_time.end()) {
      // A line end in the last number: what stands before it is a whole row. The rest is counted.
      ++torn;
      auto all_but_last = clean.frames[i].indication;
      auto seen = found->second->indication;
      all_but_last.clear(channel::draft_overfire);
      seen.clear(channel::draft_overfire);
      EXPECT_EQ(seen, all_but_last) << received.substr(from, to - from);
    } else if (own) {
      ++touched;
      EXPECT_EQ(found, by_time.end()) << "read: " << received.substr(from, to - from);
    } else if (near_end) {
      ++condemned;
    } else {
      ASSERT_NE(found, by_time.end()) << "lost: " << sent.substr(from, to - from);
      EXPECT_EQ(found->second->indication, clean.frames[i].indication)
          << sent.substr(from, to - from);
    }
  }
  EXPECT_GE(got.rejections.size(), static_cast<std::size_t>(touched + torn)) << "each is counted";
  EXPECT_LE(got.frames.size(), static_cast<std::size_t>(rows - touched));
  EXPECT_GT(touched, condemned) << "the noise did what it should";
}

TEST(damage, costs_the_rows_it_hits_and_no_others) {
  for (std::uint64_t seed = 1; seed <= 12; ++seed) {
    SCOPED_TRACE(seed);
    send_through_noise(0.01, seed % 2 == 0, seed);
  }
}

TEST(damage, of_a_third_of_the_bytes_is_survived) { send_through_noise(0.3, false, 99); }

}  // namespace
}  // namespace stilling
