// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

// Random draws that are the same on every machine: the distributions of <random> are not.
// Generator: xoshiro256**, seeded by splitmix64 (Blackman and Vigna, public domain algorithms).
// A session uses several independent streams, told apart by a word, so that scaling the noise does
// not change what happens.

#include <array>
#include <cmath>
#include <cstdint>
#include <initializer_list>
#include <span>
#include <string_view>

#include "elementary.hpp"

namespace stilling::invented {

class chance {
 public:
  chance(std::uint64_t seed, std::string_view stream) {
    auto mixed = std::uint64_t{0xcbf29ce484222325};  // FNV-1a over the stream's word
    for (const auto letter : stream) {
      mixed = (mixed ^ static_cast<unsigned char>(letter)) * std::uint64_t{0x100000001b3};
    }
    mixed ^= seed * std::uint64_t{0x9e3779b97f4a7c15};
    for (auto& word : state_) {  // splitmix64
      mixed += std::uint64_t{0x9e3779b97f4a7c15};
      auto z = mixed;
      z = (z ^ (z >> 30)) * std::uint64_t{0xbf58476d1ce4e5b9};
      z = (z ^ (z >> 27)) * std::uint64_t{0x94d049bb133111eb};
      word = z ^ (z >> 31);
    }
  }

  /// Uniform in [low, high).
  double uniform(double low, double high) {
    return low + (high - low) * (static_cast<double>(bits() >> 11) * 0x1.0p-53);
  }
  /// Uniform in the logarithm; both ends positive.
  double log_uniform(double low, double high) {
    return exponential(uniform(logarithm(low), logarithm(high)));
  }
  /// A whole number in [low, high].
  int whole(int low, int high) {
    return low + static_cast<int>(std::floor(uniform(0.0, high - low + 1.0)));
  }
  bool happens(double probability) { return uniform(0.0, 1.0) < probability; }
  double sign() { return happens(0.5) ? 1.0 : -1.0; }

  template <class T> T pick(std::initializer_list<T> choices) {
    return choices.begin()[whole(0, static_cast<int>(choices.size()) - 1)];
  }

  /// Standard normal (Box and Muller 1958), one of each pair: simple, and the stream stays in step.
  double normal() {
    const auto radius = std::sqrt(-2.0 * logarithm(1.0 - uniform(0.0, 1.0)));
    return radius * sine_of_turns(uniform(0.0, 1.0));
  }

 private:
  static constexpr std::uint64_t rotated(std::uint64_t x, int by) {
    return (x << by) | (x >> (64 - by));
  }
  std::uint64_t bits() {
    const auto result = rotated(state_[1] * 5, 7) * 9;
    const auto shifted = state_[1] << 17;
    state_[2] ^= state_[0];
    state_[3] ^= state_[1];
    state_[1] ^= state_[2];
    state_[0] ^= state_[3];
    state_[2] ^= shifted;
    state_[3] = rotated(state_[3], 45);
    return result;
  }

  std::array<std::uint64_t, 4> state_{};
};

}  // namespace stilling::invented
