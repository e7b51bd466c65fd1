// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>

#include "stilling/estimators/line_moments.hpp"
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
    line_moments m = w.sums;
    std::uint64_t tail = w.tail;
    const bucket newest = newest_value();
    if (open_.count > 0) {
      for (; tail < head_ && newest.at - slot(tail).at > w.span; ++tail)
        m.remove(slot(tail), step_after(tail));
      m.add(newest, tail < head_ ? step_products{slot(head_ - 1), newest} : step_products{});
    }
    if (m.n < 3) return std::nullopt;
    return m.line(tail < head_ ? slot(tail).at : newest.at, newest.at);
  }

  /// Whether span number `k` has been covered to the share `cover` with no gap too long in it.
  [[nodiscard]] constexpr bool covers(std::size_t k, double cover) const noexcept {
    const window_state& w = windows_[k];
    if (w.tail >= head_) return false;
    const instant last = newest_value().at;
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
    const bucket newest = newest_value();
    const std::uint64_t oldest = head_ < Slots - 1 ? 0 : head_ - (Slots - 1);
    std::uint64_t i = open_.count > 0 ? head_ : head_ - 1;
    double y = newest.y, age = 0, area = 0;
    // Most of what is too young is known to be so without a division.
    const instant too_young = newest.at - duration_from_seconds(to).value_or(duration{0});
    for (; i > oldest && slot(i - 1).at > too_young + duration{1}; --i) {}
    if (i < head_) y = slot(i).y, age = in_seconds(newest.at - slot(i).at);
    for (; i > oldest; --i) {
      const bucket& old = slot(i - 1);
      const double age_before = in_seconds(newest.at - old.at);
      const double length = age_before - age, slope = (y - old.y) / length;
      if (age >= to && age_before < from && length > 0) {  // most are, as a whole, between the two
        area += (old.y + (old.y + slope * length)) / 2 * length;
      } else {
        const double left = age_before < from ? age_before : from, right = age > to ? age : to;
        const double at_left = old.y + slope * (age_before - left);
        const double at_right = old.y + slope * (age_before - right);
        if (left > right) area += (at_left + at_right) / 2 * (left - right);
        if (age_before >= from) return area / (from - to);
      }
      y = old.y, age = age_before;
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

  using bucket = timed_value;
  struct open_bucket {
    instant first{};
    std::int64_t offsets = 0;
    double mean = 0;
    std::uint32_t count = 0;
  };

  struct window_state {
    duration span{};
    duration gap{};
    std::uint64_t tail = 0;        // number of the oldest bucket in the window
    std::uint64_t fresh_from = 0;  // number of the oldest bucket in `fresh`
    std::uint64_t gap_before = 0;  // number of the newest bucket that follows a gap
    line_moments sums;
    line_moments fresh;
  };

  [[nodiscard]] constexpr const bucket& slot(std::uint64_t number) const noexcept {
    return ring_[number % Slots];
  }
  [[nodiscard]] constexpr bucket mean_of_open() const noexcept {
    if (open_.count == 1) return {open_.first, open_.mean};  // mostly so when it is asked for
    return {open_.first + duration{open_.offsets / static_cast<std::int64_t>(open_.count)},
            open_.mean};
  }

  /// The open bucket; where there is none, the newest that is closed.
  [[nodiscard]] constexpr bucket newest_value() const noexcept {
    return open_.count > 0 ? mean_of_open() : slot(head_ - 1);
  }
  /// From a closed bucket to the closed one after.
  [[nodiscard]] constexpr step_products step_after(std::uint64_t number) const noexcept {
    if (number + 1 >= head_) return {};
    return {slot(number), slot(number + 1)};
  }

  constexpr void close() noexcept {
    const bucket b = mean_of_open();
    open_.count = 0;
    const step_products newest = head_ > 0 ? step_products{slot(head_ - 1), b} : step_products{};
    for (auto& w : windows_) {
      for (; w.tail < head_ && (b.at - slot(w.tail).at > w.span || head_ - w.tail >= Slots - 1);
           ++w.tail) {
        const step_products step = step_after(w.tail);
        w.sums.remove(slot(w.tail), step);
        if (w.tail >= w.fresh_from) w.fresh.remove(slot(w.tail), step);  // uneven steps skip some
      }
      if (w.tail >= head_) w.sums.clear();
      if (w.tail < head_ && b.at - slot(head_ - 1).at > w.gap) w.gap_before = head_;
      w.sums.add(b, w.tail < head_ ? newest : step_products{});
      w.fresh.add(b, w.fresh.n > 0 ? newest : step_products{});
      if (w.tail >= w.fresh_from) {  // turned over: everything in the window is in `fresh`
        w.sums = w.fresh;
        w.fresh.clear();
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
  std::array<window_state, Spans> windows_;
};

}  // namespace stilling
