// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <bit>
#include <cstddef>
#include <cstdint>
#include <initializer_list>
#include <string_view>

/// The measurands, and lanes: one slot per measurand, side by side, so that a row is treated with
/// the same instructions whatever it holds. The list is closed by choice (see DEVELOPERS.md).
namespace stilling {

enum class channel : std::uint8_t {
  stack_temp,      // flue gas in the breech, gross; kelvin
  ambient_temp,    // combustion air at the burner; kelvin
  o2,              // mol/mol, dry
  co2,             // mol/mol, dry
  co,              // mol/mol, dry
  no,              // mol/mol, dry
  draft_breech,    // gauge pressure at the breech; pascal, suction negative
  draft_overfire,  // gauge pressure over the fire; pascal, suction negative
};

inline constexpr std::size_t channel_count = 8;

inline constexpr std::array<channel, channel_count> all_channels{
    channel::stack_temp, channel::ambient_temp, channel::o2,           channel::co2,
    channel::co,         channel::no,           channel::draft_breech, channel::draft_overfire};

[[nodiscard]] constexpr std::size_t index_of(channel c) noexcept {
  return static_cast<std::size_t>(c);
}

/// What kind of quantity a channel carries; it decides the units a column may name.
enum class quantity : std::uint8_t { temperature, volume_fraction, pressure_difference };

struct channel_traits {
  std::string_view name;
  quantity kind;
  double lowest;   // below it the indication is implausible; canonical unit
  double highest;  // above it likewise
};

/// Plausible ranges are physical, not typical: air oxygen plus a generous cell error, flue gas of
/// any fuel burner, the span of a draft gauge. Common practice, no published source.
inline constexpr std::array<channel_traits, channel_count> channel_table{{
    {"stack_temp", quantity::temperature, 233.15, 1473.15},     // -40 degC to 1200 degC
    {"ambient_temp", quantity::temperature, 223.15, 373.15},    // -50 degC to 100 degC
    {"o2", quantity::volume_fraction, -0.02, 0.26},
    {"co2", quantity::volume_fraction, -0.02, 0.26},
    {"co", quantity::volume_fraction, -500e-6, 0.1},
    {"no", quantity::volume_fraction, -100e-6, 0.01},
    {"draft_breech", quantity::pressure_difference, -2500, 2500},
    {"draft_overfire", quantity::pressure_difference, -2500, 2500},
}};

[[nodiscard]] constexpr const channel_traits& traits_of(channel c) noexcept {
  return channel_table[index_of(c)];
}

/// A small set of channels.
class channel_set {
 public:
  constexpr channel_set() = default;
  constexpr channel_set(std::initializer_list<channel> cs) noexcept {
    for (auto c : cs) insert(c);
  }
  [[nodiscard]] constexpr bool contains(channel c) const noexcept {
    return ((bits_ >> index_of(c)) & 1U) != 0;
  }
  constexpr void insert(channel c) noexcept {
    bits_ = static_cast<std::uint8_t>(bits_ | (1U << index_of(c)));
  }
  constexpr void erase(channel c) noexcept {
    bits_ = static_cast<std::uint8_t>(bits_ & ~(1U << index_of(c)));
  }
  [[nodiscard]] constexpr bool empty() const noexcept { return bits_ == 0; }
  [[nodiscard]] constexpr int size() const noexcept { return std::popcount(bits_); }
  [[nodiscard]] constexpr bool includes(channel_set s) const noexcept {
    return (bits_ & s.bits_) == s.bits_;
  }
  friend constexpr channel_set operator&(channel_set a, channel_set b) noexcept {
    a.bits_ = static_cast<std::uint8_t>(a.bits_ & b.bits_);
    return a;
  }
  friend constexpr channel_set operator|(channel_set a, channel_set b) noexcept {
    a.bits_ = static_cast<std::uint8_t>(a.bits_ | b.bits_);
    return a;
  }
  friend constexpr bool operator==(channel_set, channel_set) = default;

 private:
  std::uint8_t bits_ = 0;
};

/// One T per channel, and which of them are there. A lane that is not there keeps its default
/// value, so that two lanes compare equal exactly when they say the same; it is never NaN.
template <class T> struct lanes {
  std::array<T, channel_count> slots{};
  channel_set valid;

  [[nodiscard]] constexpr bool has(channel c) const noexcept { return valid.contains(c); }
  [[nodiscard]] constexpr const T& operator[](channel c) const noexcept {
    return slots[index_of(c)];
  }
  constexpr void set(channel c, const T& v) noexcept {
    slots[index_of(c)] = v;
    valid.insert(c);
  }
  constexpr void clear(channel c) noexcept {
    slots[index_of(c)] = T{};
    valid.erase(c);
  }
  friend constexpr bool operator==(const lanes&, const lanes&) = default;
};

}  // namespace stilling
