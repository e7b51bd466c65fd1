// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

// The same invented test on every machine: fresh air, a cold start, air moved, the burner off; all
// eight channels, a row a second, with spikes, blanks and a silence. What a display would show is a
// whole number of its steps, and only + - x / lead there.

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

#include "stilling/items/frame.hpp"
#include "stilling/terms/channel.hpp"
#include "stilling/terms/time.hpp"

namespace bare {

using namespace stilling;

/// Shown steps of 0.1 degC, 0.1 degC, 0.1 %, 0.1 %, 1 ppm, 1 ppm, 0.1 Pa, 0.1 Pa.
struct shown_row {
  std::int64_t second = 0;
  std::array<std::optional<std::int32_t>, channel_count> steps{};
};

class fixed_session {
 public:
  static constexpr std::int64_t length = 2400;  // seconds
  static constexpr std::string_view header =
      "time_s,stack_temp_degC,ambient_temp_degC,o2_pct,co2_pct,co_ppm,no_ppm,draft_breech_Pa,"
      "draft_overfire_Pa\n";

  [[nodiscard]] std::optional<shown_row> next() noexcept {
    if (second_ == 1700) second_ = 1790;  // nothing was heard
    if (second_ >= length) return std::nullopt;
    const std::int64_t t = second_++;
    const bool lit = t >= 60 && t < 2000, probe_in = t >= 45, more_air = t >= 1000;
    follow(0, !probe_in ? 21 : lit ? (more_air ? 256 : 243) : 32, lit ? 110 : 300);
    follow(1, 21.5, 600);
    follow(2, !probe_in || !lit ? 20.9 : more_air ? 6.5 : 5.0, 12);
    follow(3, !probe_in || !lit ? 0 : more_air ? 10.7 : 11.8, 14);
    follow(4, !probe_in || !lit ? 0 : t < 90 ? 180 : more_air ? 11 : 18, 25);
    follow(5, !probe_in || !lit ? 0 : 62, 30);
    follow(6, lit ? -12 : -3, 20);
    follow(7, lit ? -5 : -1, 20);
    shown_row row;
    row.second = t;
    for (std::size_t i = 0; i < channel_count; ++i) {
      const double shown = (now_[i] + noise_[i] * around_zero()) / step_[i];
      row.steps[i] = static_cast<std::int32_t>(shown < 0 ? shown - 0.5 : shown + 0.5);
    }
    if (t % 211 == 17) row.steps[0] = *row.steps[0] + 1500;
    if (t % 97 == 5) row.steps[4].reset();
    return row;
  }

 private:
  void follow(std::size_t i, double target, double seconds_to_follow) noexcept {
    now_[i] += (target - now_[i]) / (seconds_to_follow + 1);
  }
  /// Sum of uniform draws: bell-shaped enough, standard deviation near 1.
  [[nodiscard]] double around_zero() noexcept {
    double sum = 0;
    for (int i = 0; i < 12; ++i) {
      draw_ = draw_ * 6364136223846793005U + 1442695040888963407U;
      sum += static_cast<double>(static_cast<std::uint32_t>(draw_ >> 40U)) / 16777216.0;
    }
    return sum - 6;
  }

  static constexpr std::array<double, channel_count> step_{0.1, 0.1, 0.1, 0.1, 1, 1, 0.1, 0.1};
  static constexpr std::array<double, channel_count> noise_{0.5,  0.05, 0.05, 0.05,
                                                            0.8, 0.8,  0.4,  0.4};
  std::array<double, channel_count> now_{21, 21.2, 20.9, 0, 0, 0, -3, -1};
  std::uint64_t draw_ = 1;
  std::int64_t second_ = 0;
};

/// A row as a driver would hand it on: canonical units.
[[nodiscard]] inline frame as_frame(const shown_row& row) noexcept {
  constexpr std::array<double, channel_count> per_step{0.1,  0.1,  0.001, 0.001,
                                                       1e-6, 1e-6, 0.1,   0.1};
  frame f;
  f.at = instant{seconds(row.second)};
  for (const channel c : all_channels) {
    const std::size_t i = index_of(c);
    if (!row.steps[i]) continue;
    f.indication.set(c, (i < 2 ? 273.15 : 0.0) + *row.steps[i] * per_step[i]);
    f.written_step[i] = per_step[i];
  }
  return f;
}

/// A row as a serial line would bring it.
class written_row {
 public:
  explicit written_row(const shown_row& row) noexcept {
    put(row.second, 0);
    for (const channel c : all_channels) {
      letters_[size_++] = ',';
      const auto& steps = row.steps[index_of(c)];
      if (steps) put(*steps, c == channel::co || c == channel::no ? 0 : 1);
    }
    letters_[size_++] = '\n';
  }
  [[nodiscard]] std::string_view view() const noexcept { return {letters_.data(), size_}; }

 private:
  void put(std::int64_t n, int decimals) noexcept {
    char reversed[24];
    std::size_t count = 0;
    auto rest = static_cast<std::uint32_t>(n < 0 ? -n : n);
    for (int i = 0; rest != 0 || i <= decimals; ++i, rest /= 10) {
      if (decimals > 0 && i == decimals) reversed[count++] = '.';
      reversed[count++] = static_cast<char>('0' + rest % 10);
    }
    if (n < 0) letters_[size_++] = '-';
    while (count > 0) letters_[size_++] = reversed[--count];
  }

  std::array<char, 160> letters_{};
  std::size_t size_ = 0;
};

}  // namespace bare
