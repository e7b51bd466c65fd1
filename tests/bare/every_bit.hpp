// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

// One number for everything a chain says, to the last bit: FNV-1a over every member of every item.
// For machines without printf; tests/support/transcript.hpp writes the same down to be read.

#include <array>
#include <bit>
#include <cstdint>
#include <optional>
#include <string_view>
#include <type_traits>

#include "stilling/session.hpp"

namespace bare {

using namespace stilling;

class every_bit {
 public:
  template <class Item> void operator()(const Item& item) noexcept {
    ++items_;
    take(item);
  }
  [[nodiscard]] std::uint64_t hash() const noexcept { return hash_; }
  [[nodiscard]] std::uint64_t items() const noexcept { return items_; }

 private:
  template <class... Ts> void all(const Ts&... each) noexcept { (take(each), ...); }

  void take_bits(std::uint64_t bits) noexcept {
    for (int i = 0; i < 8; ++i, bits >>= 8U) hash_ = (hash_ ^ (bits & 255U)) * 0x100000001b3U;
  }
  void take(double x) noexcept { take_bits(std::bit_cast<std::uint64_t>(x)); }
  template <class T>
    requires std::is_integral_v<T> || std::is_enum_v<T>
  void take(T x) noexcept {
    take_bits(static_cast<std::uint64_t>(x));
  }
  void take(instant t) noexcept { take(t.time_since_epoch().count()); }
  void take(std::string_view text) noexcept {
    take(static_cast<std::uint64_t>(text.size()));
    for (const char c : text) take(static_cast<unsigned char>(c));
  }
  template <class T> void take(const std::optional<T>& x) noexcept {
    take(x.has_value());
    if (x) take(*x);
  }
  template <class T, std::size_t N> void take(const std::array<T, N>& each) noexcept {
    for (const auto& x : each) take(x);
  }
  template <class T> void take(const lanes<T>& x) noexcept {
    for (const channel c : all_channels) {
      take(x.has(c));
      if (x.has(c)) take(x[c]);
    }
  }

  // A member that is added to an item does not compile here until it is counted in.
  void take(const channel_reading& x) noexcept {
    const auto& [a, b, c, d, e, f, g, h, i, j, k, l, m, n, o] = x;
    all(a, b, c, d, e, f, g, h, i, j, k, l, m, n, o);
  }
  void take(const oscillation& x) noexcept { all(x.period, x.amplitude); }
  void take(const settled_reading& x) noexcept {
    const auto& [a, b, c, d, e, f, g, h, i, j] = x;
    all(a, b, c, d, e, f, g, h, i, j);
  }
  void take(const phase_change& x) noexcept {
    const auto& [a, b, c, d, e, f] = x;
    all(a, b, c, d, e, f);
  }
  void take(const burn& x) noexcept {
    const auto& [a, b, c, d] = x;
    all(a, b, c, d);
  }
  void take(const note& x) noexcept { all(x.line, x.at, x.text); }
  void take(const rejection& x) noexcept { all(x.line, x.what, x.field, x.seen); }
  void take(const discontinuity& x) noexcept { all(x.line, x.at, x.kind); }
  void take(const assumption& x) noexcept { all(x.line, x.what, x.field, x.seen, x.taken); }
  void take(const layout& x) noexcept {
    for (const auto& c : x) all(c.field, c.measurand, c.as);
    all(x.time.form, x.time.in, x.time.field, x.time.second, x.fields, x.separator, x.labelled);
  }
  void take(const frame& x) noexcept {
    const auto& [a, b, c, d, e, f, g, h] = x;
    all(a, b, c, d, e, f, g, h);
  }
  void take(const fire_state& x) noexcept {
    const auto& [a, b, c, d, e] = x;
    all(a, b, c, d, e);
  }
  void take(const trend_estimate& x) noexcept {
    const auto& [a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u, v, w, y] = x;
    all(a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p, q, r, s, t, u, v, w, y);
  }
  void take(const verdict& x) noexcept {
    const auto& [a, b, c, d, e, f, g, h] = x;
    all(a, b, c, d, e, f, g, h);
  }

  std::uint64_t hash_ = 0xcbf29ce484222325U, items_ = 0;
};

/// Lets verdicts pass and counts them in: for between judging and readings.
class counted_in {
 public:
  using emits = items<verdict>;
  explicit counted_in(every_bit& by) noexcept : by_{&by} {}
  template <class Sink> void push(const verdict& v, Sink&& sink) noexcept {
    (*by_)(v);
    sink(v);
  }
  template <class Sink> void finish(Sink&&) noexcept {}

 private:
  every_bit* by_;
};

}  // namespace bare
