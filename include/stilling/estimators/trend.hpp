// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <optional>

#include "stilling/terms/expects.hpp"
#include "stilling/terms/time.hpp"

/// Least-squares slope over the newest span of time, several spans at once, O(1) per sample.
///
/// The past is kept as at most `Slots` time buckets (the mean of what fell into each), so any
/// sampling rate fits in the same memory and every bucket weighs the same time. Per span the
/// moments about a recent origin are kept twice: one set that adds and removes, and a fresh one
/// that only adds; when the window has turned over, the fresh one takes its place. So rounding
/// never piles up, and stamps of the Unix epoch are as good as stamps from zero.
/// The scatter's autocorrelation comes from successive differences (von Neumann 1941), which have
/// no origin and need no second pass.
namespace stilling {

/// A straight line through the values of a window. Slopes per second.
struct line_fit {
  double rate = 0;       // least-squares slope
  double level = 0;      // mean of the values
  duration middle{};     // where on the line that mean lies: so long before the newest value
  double span = 0;       // seconds from first to last value
  double count = 0;      // buckets
  double variance = 0;   // about the line, n - 2
  double lag_one = 0;    // autocorrelation of the residuals at lag one, as estimated
  double time_moment = 0;  // sum of (t - mean t)^2
  instant first{};       // stamp of the first bucket

  /// The line, so many seconds after the newest value.
  [[nodiscard]] constexpr double at(double after_newest) const noexcept {
    return level + rate * (in_seconds(middle) + after_newest);
  }
};

template <std::size_t Slots = 256, std::size_t Spans = 4> class trend {
  static_assert(Slots >= 8 && Spans >= 1);

 public:
  static constexpr std::size_t span_count = Spans;

  /// `spans`: seconds, rising. `longest_gap`: share of a span that may be missing in one piece.
  explicit constexpr trend(const std::array<double, Spans>& spans, double longest_gap) noexcept {
    for (std::size_t k = 0; k < Spans; ++k) {
      windows_[k].span = duration_from_seconds(spans[k]).value_or(seconds(60));
      windows_[k].gap = duration_from_seconds(spans[k] * longest_gap).value_or(seconds(15));
      STILLING_EXPECTS(k == 0 || windows_[k].span >= windows_[k - 1].span);
    }
    // A third more than the longest span: a slow swing is judged over two periods.
    width_ = windows_[Spans - 1].span * 4 / (3 * static_cast<std::int64_t>(Slots - 2));
  }

  /// One value at an instant not before the one before.
  constexpr void update(instant t, double y) noexcept {
    if (open_.count > 0 && t - open_.first >= width_) close();
    if (open_.count == 0) {
      open_.first = t;
      open_.offsets = 0;
      open_.mean = 0;
    }
    ++open_.count;
    open_.offsets += (t - open_.first).count();
    open_.mean += (y - open_.mean) / static_cast<double>(open_.count);
    if (open_.count >= bucket_most) close();
  }

  /// The line through the newest span number `k`; nothing with fewer than three buckets.
  [[nodiscard]] constexpr std::optional<line_fit> fit(std::size_t k) const noexcept {
    const window_state& w = windows_[k];
    moments m = w.sums;
    std::uint64_t tail = w.tail;
    const bool half_open = open_.count > 0;
    if (half_open) {
      const bucket newest = mean_of_open();
      while (tail < head_ && newest.at - slot(tail).at > w.span) {
        m.remove(slot(tail), tail + 1 < head_ ? &slot(tail + 1) : nullptr);
        ++tail;
      }
      m.add(newest, tail < head_ ? &slot(head_ - 1) : nullptr);
    }
    if (m.n < 3) return std::nullopt;
    const instant last = half_open ? mean_of_open().at : slot(head_ - 1).at;
    const instant first = tail < head_ ? slot(tail).at : last;
    return m.line(first, last);
  }

  /// Whether span number `k` has been covered to the share `cover` with no gap too long in it.
  [[nodiscard]] constexpr bool covers(std::size_t k, double cover) const noexcept {
    const window_state& w = windows_[k];
    if (w.tail >= head_) return false;
    const instant last = open_.count > 0 ? mean_of_open().at : slot(head_ - 1).at;
    if (last - slot(head_ - 1).at > w.gap) return false;
    std::uint64_t tail = w.tail;
    while (tail + 1 < head_ && last - slot(tail).at > w.span) ++tail;
    return in_seconds(last - slot(tail).at) >= cover * in_seconds(w.span) && w.gap_before <= tail;
  }

  /// Time-weighted mean between two ages (seconds before the newest value, `from` the older), the
  /// values joined by straight lines; nothing where the past does not reach back so far.
  [[nodiscard]] constexpr std::optional<double> mean_between(double from,
                                                             double to) const noexcept {
    if (head_ == 0 || !(from > to)) return std::nullopt;
    const bool half_open = open_.count > 0;
    bucket young = half_open ? mean_of_open() : slot(head_ - 1);
    const instant newest = young.at;
    double area = 0;
    for (std::uint64_t i = half_open ? head_ : head_ - 1; i > 0 && head_ - i < Slots - 1; --i) {
      const bucket& old = slot(i - 1);
      const double a = in_seconds(newest - old.at), b = in_seconds(newest - young.at);
      const double left = a < from ? a : from, right = b > to ? b : to;
      if (left > right) {
        const double slope = (young.y - old.y) / (a - b);
        const double at_left = old.y + slope * (a - left), at_right = old.y + slope * (a - right);
        area += (at_left + at_right) / 2 * (left - right);
      }
      if (a >= from) return area / (from - to);
      young = old;
    }
    return std::nullopt;
  }

  /// Buckets closed since the beginning: as long as it stands, the line has hardly turned.
  [[nodiscard]] constexpr std::uint64_t closed() const noexcept { return head_; }

  constexpr void clear() noexcept {
    head_ = 0;
    open_ = {};
    for (auto& w : windows_) w = {w.span, w.gap, 0, 0, 0, {}, {}};
  }

 private:
  static constexpr std::uint32_t bucket_most = 1U << 20;

  struct bucket {
    instant at{};
    double y = 0;
  };
  struct open_bucket {
    instant first{};
    std::int64_t offsets = 0;
    double mean = 0;
    std::uint32_t count = 0;
  };

  /// Sums about an origin near the window.
  struct moments {
    instant t0{};
    double y0 = 0;
    double n = 0, t = 0, y = 0, tt = 0, ty = 0, yy = 0;
    double dd_yy = 0, dd_ty = 0, dd_tt = 0;  // products of successive differences

    constexpr void apply(const bucket& b, double sign) noexcept {
      const double x = in_seconds(b.at - t0), v = b.y - y0;
      n += sign, t += sign * x, y += sign * v;
      tt += sign * (x * x), ty += sign * (x * v), yy += sign * (v * v);
    }
    constexpr void apply_pair(const bucket& a, const bucket& b, double sign) noexcept {
      const double dx = in_seconds(b.at - a.at), dv = b.y - a.y;
      dd_yy += sign * (dv * dv), dd_ty += sign * (dx * dv), dd_tt += sign * (dx * dx);
    }
    constexpr void add(const bucket& b, const bucket* before) noexcept {
      if (n == 0) *this = {.t0 = b.at, .y0 = b.y};
      apply(b, 1);
      if (before != nullptr) apply_pair(*before, b, 1);
    }
    constexpr void remove(const bucket& b, const bucket* after) noexcept {
      apply(b, -1);
      if (after != nullptr) apply_pair(b, *after, -1);
    }
    [[nodiscard]] constexpr std::optional<line_fit> line(instant first,
                                                         instant last) const noexcept {
      const double mt = tt - t * t / n, mty = ty - t * y / n, my = yy - y * y / n;
      if (!(mt > 0)) return std::nullopt;
      line_fit f;
      f.rate = mty / mt;
      f.level = y0 + y / n;
      f.middle = (last - t0) - duration_from_seconds(t / n).value_or(duration{0});
      f.span = in_seconds(last - first);
      f.first = first;
      f.count = n;
      f.time_moment = mt;
      const double squares = my - f.rate * mty;
      f.variance = squares > 0 ? squares / (n - 2) : 0;
      const double steps = dd_yy - 2 * f.rate * dd_ty + f.rate * f.rate * dd_tt;
      // von Neumann's ratio: mean squared successive difference over variance = 2 (1 - r1).
      if (f.variance > 0 && n > 2) f.lag_one = 1 - steps / (n - 1) / (2 * f.variance);
      return f;
    }
  };

  struct window_state {
    duration span{};
    duration gap{};
    std::uint64_t tail = 0;        // number of the oldest bucket in the window
    std::uint64_t fresh_from = 0;  // number of the oldest bucket in `fresh`
    std::uint64_t gap_before = 0;  // number of the newest bucket that follows a gap
    moments sums{};
    moments fresh{};
  };

  [[nodiscard]] constexpr const bucket& slot(std::uint64_t number) const noexcept {
    return ring_[number % Slots];
  }
  [[nodiscard]] constexpr bucket mean_of_open() const noexcept {
    return {open_.first + duration{open_.offsets / static_cast<std::int64_t>(open_.count)},
            open_.mean};
  }

  constexpr void close() noexcept {
    const bucket b = mean_of_open();
    open_.count = 0;
    for (auto& w : windows_) {
      while (w.tail < head_ && (b.at - slot(w.tail).at > w.span || head_ - w.tail >= Slots - 1)) {
        const bucket* after = w.tail + 1 < head_ ? &slot(w.tail + 1) : nullptr;
        w.sums.remove(slot(w.tail), after);
        if (w.tail >= w.fresh_from) w.fresh.remove(slot(w.tail), after);  // uneven steps skip some
        ++w.tail;
      }
      if (w.tail >= head_) w.sums = {};
      if (w.tail < head_ && b.at - slot(head_ - 1).at > w.gap) w.gap_before = head_;
      w.sums.add(b, w.tail < head_ ? &slot(head_ - 1) : nullptr);
      w.fresh.add(b, w.fresh.n > 0 ? &slot(head_ - 1) : nullptr);
      if (w.tail >= w.fresh_from) {  // turned over: everything in the window is in `fresh`
        w.sums = w.fresh;
        w.fresh = {};
        w.fresh_from = head_ + 1;
      }
    }
    ring_[head_ % Slots] = b;
    ++head_;
  }

  std::array<bucket, Slots> ring_{};
  open_bucket open_{};
  std::uint64_t head_ = 0;  // buckets closed so far
  duration width_{};
  std::array<window_state, Spans> windows_{};
};

}  // namespace stilling
