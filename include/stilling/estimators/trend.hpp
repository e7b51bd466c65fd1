// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
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
/// sampling rate fits in the same memory and every bucket weighs the same time. Moments about a
/// recent origin are summed over all buckets, and for each span over those that have left it; the
/// difference is what the span holds. All of it is begun anew in time: while the older sums still
/// serve, newer ones are formed, and a span goes over to them when it reaches where they began. So
/// rounding never piles up, and stamps of the Unix epoch are as good as stamps from zero.
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

  /// One value at an instant not before the one before. A bucket is closed with the value that
  /// fills it where the next one is foreseen to be too late for it, else with the one that is.
  constexpr void update(instant t, double y) noexcept {
    const bool first = head_ == 0 && open_.count == 0;
    const duration since_last = first ? duration::max() : t - newest_at_;
    const duration ahead = std::min(since_last, apart_);
    newest_at_ = t;
    apart_ = since_last;
    if (open_.count > 0 && t - open_.first >= width_) close();
    if (open_.count == 0) {
      open_.first = t;
      open_.offsets = 0;
      open_.mean = y;
      open_.count = 1;
    } else {
      ++open_.count;
      open_.offsets += (t - open_.first).count();
      open_.mean += (y - open_.mean) / static_cast<double>(open_.count);
    }
    if (t - open_.first + ahead >= width_ || open_.count >= bucket_most) close();
  }

  /// The line through the newest span number `k`; nothing with fewer than three buckets.
  [[nodiscard]] constexpr std::optional<line_fit> fit(std::size_t k) const noexcept {
    const window_state& w = windows_[k];
    std::optional<line_fit> f;
    if (open_.count == 0) {
      if (head_ - w.tail < 3) return f;
      f = whole(w).without(w.left).line(w.tail_t, newest_.t);
      if (f) f->first = slot(w.tail).at;
    } else if (const held h = held_with_open(w); h.sums.n >= 3) {
      f = h.sums.line(h.first.t, h.last.t);
      if (f) f->first = h.first.at;
    }
    return f;
  }
  /// Its slope alone.
  [[nodiscard]] constexpr std::optional<line_slope> slope(std::size_t k) const noexcept {
    const window_state& w = windows_[k];
    if (open_.count == 0) {
      if (head_ - w.tail < 3) return std::nullopt;
      return whole(w).without(w.left).slope(w.tail_t, newest_.t);
    }
    const held h = held_with_open(w);
    if (h.sums.n < 3) return std::nullopt;
    return h.sums.slope(h.first.t, h.last.t);
  }

  /// Whether span number `k` has been covered to the share `cover` with no gap too long in it.
  [[nodiscard]] constexpr bool covers(std::size_t k, double cover) const noexcept {
    const window_state& w = windows_[k];
    if (open_.count == 0)
      return w.tail < head_ && w.gap_before <= w.tail &&
             newest_.t - w.tail_t >= cover * in_seconds(w.span);
    if (w.tail >= head_) return false;
    const moment last = mean_of_open();
    if (last.at - newest_.at > w.gap) return false;
    std::uint64_t tail = w.tail;
    while (tail + 1 < head_ && last.at - slot(tail).at > w.span) ++tail;
    return last.t - on_clock(slot(tail)).t >= cover * in_seconds(w.span) && w.gap_before <= tail;
  }

  /// Time-weighted mean between two ages (seconds before the newest value, `from` the older), the
  /// values joined by straight lines; nothing where the past does not reach back so far.
  [[nodiscard]] constexpr std::optional<double> mean_between(double from,
                                                             double to) const noexcept {
    if (head_ == 0 || !(from > to)) return std::nullopt;
    const moment newest = open_.count > 0 ? mean_of_open() : newest_;
    const auto older = area_until(from, newest), newer = area_until(to, newest);
    if (!older || !newer) return std::nullopt;
    return base_ + (*newer - *older) / (from - to);
  }

  /// Buckets closed since the beginning: as long as it stands, the line has hardly turned.
  [[nodiscard]] constexpr std::uint64_t closed() const noexcept { return head_; }

  constexpr void clear() noexcept {
    head_ = 0;
    open_ = {};
    newest_at_ = {};
    apart_ = {};
    older_ = newer_ = {};
    for (auto& w : windows_) w = {.span = w.span, .gap = w.gap};
  }

 private:
  static constexpr std::uint32_t bucket_most = 1U << 20;

  static constexpr std::uint64_t stride = 16;  // buckets from one area that is kept to the next
  static constexpr std::size_t areas_kept = Slots < stride ? 1 : Slots / stride;
  static_assert(Slots < stride || Slots % stride == 0);

  struct bucket {
    instant at{};
    double y = 0;
  };
  struct moment : timed_value {  // a bucket with its time on the trend's own clock
    instant at{};
  };
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
    double tail_t = 0;             // when that was, on the clock
    std::uint64_t gap_before = 0;  // number of the newest bucket that follows a gap
    line_moments left{};           // of what has left it since its sums were begun
  };

  struct held {
    line_moments sums;
    moment first, last;
  };

  [[nodiscard]] constexpr const bucket& slot(std::uint64_t number) const noexcept {
    return ring_[number % Slots];
  }
  [[nodiscard]] constexpr moment on_clock(const bucket& b) const noexcept {
    return {{in_seconds(b.at - start_), b.y}, b.at};
  }
  [[nodiscard]] constexpr moment mean_of_open() const noexcept {
    const auto n = static_cast<std::int64_t>(open_.count);
    return on_clock({open_.first + duration{n == 1 ? 0 : open_.offsets / n}, open_.mean});
  }
  [[nodiscard]] constexpr const line_moments& whole(const window_state& w) const noexcept {
    return w.tail < newer_from_ ? older_ : newer_;
  }

  [[nodiscard]] constexpr held held_with_open(const window_state& w) const noexcept {
    if (head_ == 0) return {};
    const moment last = mean_of_open();
    line_moments all = whole(w), left = w.left;
    moment first = on_clock(slot(w.tail));
    for (std::uint64_t next = w.tail + 1; last.at - first.at > w.span; ++next) {
      if (next == head_) return {};  // alone
      const moment second = on_clock(slot(next));
      left.add(first, {first, second});
      first = second;
    }
    all.add(last, {newest_, last});
    return {all.without(left), first, last};
  }

  constexpr void close() noexcept {
    if (head_ == 0) start_ = open_.first, base_ = open_.mean;
    const moment b = mean_of_open();
    open_.count = 0;
    const std::uint64_t number = head_++;
    ring_[number % Slots] = {b.at, b.y};
    if (number == 0) {
      older_.begin(b);
      for (auto& w : windows_) w.left.clear(b), w.tail_t = b.t;
      newer_from_ = 1;
      area_ = 0;
    } else {
      const step_products step{newest_, b};
      older_.add(b, step);
      if (number == newer_from_) newer_.begin(b);
      else newer_.add(b, step);
      area_ += area_of(newest_, b);
    }
    if (number % stride == 0) areas_[number / stride % areas_kept] = area_;
    bool all_newer = true;
    for (auto& w : windows_) {
      while (w.tail < number && (b.at - slot(w.tail).at > w.span || number - w.tail >= Slots - 1))
        leave(w);
      if (w.tail < number && b.at - newest_.at > w.gap) w.gap_before = number;
      all_newer = all_newer && w.tail >= newer_from_;
    }
    newest_ = b;
    if (all_newer) older_ = newer_, newer_from_ = head_;
  }

  /// The oldest bucket leaves the window; it is not the only one.
  constexpr void leave(window_state& w) noexcept {
    const timed_value first{w.tail_t, slot(w.tail).y}, second = on_clock(slot(w.tail + 1));
    w.left.add(first, {first, second});
    w.tail_t = second.t;
    if (++w.tail == newer_from_) w.left.clear(newer_.origin);
  }

  /// Under the line from one value to the next, above the first value of all.
  [[nodiscard]] constexpr double area_of(const timed_value& from,
                                         const timed_value& to) const noexcept {
    return ((from.y - base_) + (to.y - base_)) / 2 * (to.t - from.t);
  }

  /// The area up to so long before the newest value; nothing where the past does not reach back.
  [[nodiscard]] constexpr std::optional<double> area_until(double age,
                                                           const moment& newest) const noexcept {
    const std::uint64_t kept = head_ < Slots - 1 ? 0 : head_ - (Slots - 1);
    const std::uint64_t oldest = (kept + stride - 1) / stride * stride;
    if (oldest >= head_) return std::nullopt;
    const instant cut = newest.at - duration_from_seconds(age).value_or(duration{0});
    if (cut < slot(oldest).at) return std::nullopt;
    // Buckets are about equally far apart, so it is found near where it would then be.
    const double length = newest.t - in_seconds(slot(oldest).at - start_);
    const double share = length > 0 ? 1 - age / length : 0;
    auto i = oldest + static_cast<std::uint64_t>((share > 0 ? share : 0) *
                                                 static_cast<double>(head_ - 1 - oldest));
    while (i + 1 < head_ && slot(i + 1).at <= cut) ++i;
    while (i > oldest && slot(i).at > cut) --i;
    std::uint64_t j = i / stride * stride;
    double area = areas_[j / stride % areas_kept];
    moment before = on_clock(slot(j));
    for (; j < i; ++j) {
      const moment after = on_clock(slot(j + 1));
      area += area_of(before, after);
      before = after;
    }
    const double length_in = in_seconds(cut - before.at);
    if (!(length_in > 0)) return area;
    const timed_value after = i + 1 < head_ ? on_clock(slot(i + 1)) : newest;
    const double slope = (after.y - before.y) / (after.t - before.t);
    const timed_value at_cut{before.t + length_in, before.y + slope * length_in};
    return area + area_of(before, at_cut);
  }

  std::array<bucket, Slots> ring_{};
  std::array<double, areas_kept> areas_{};  // up to every 16th of them
  open_bucket open_{};
  instant newest_at_{};
  duration apart_{};         // of the newest two values; 0: there is none
  std::uint64_t head_ = 0;   // buckets closed so far
  instant start_{};          // from which the buckets' clock counts: the first of them
  double base_ = 0;          // the first value
  double area_ = 0;          // under the values up to the newest bucket, above the first
  moment newest_{};          // the newest bucket that is closed
  duration width_{};
  line_moments older_, newer_;
  std::uint64_t newer_from_ = 0;  // number of the first bucket in `newer_`
  std::array<window_state, Spans> windows_;
};

}  // namespace stilling
