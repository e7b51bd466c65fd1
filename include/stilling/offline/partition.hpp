// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <cstddef>
#include <limits>
#include <vector>

#include "stilling/estimators/exponential.hpp"
#include "stilling/estimators/weighted_line.hpp"
#include "stilling/offline/finished_series.hpp"
#include "stilling/offline/serial_noise.hpp"

/// A finished series as levels and lines, plus noise that leans on its predecessor (AR(1)).
///
/// Of all ways to cut it at candidates one shortest length apart (or a 4000th of the series, if
/// that is longer), this finds the one with the least
///     whitened squares + k g s^2 ln n for each segment          (optimal partitioning, exact)
/// where k counts what a segment adds, 2 for a level (itself and its cut), 3 for a line, whichever
/// is cheaper (the Bayesian information criterion), s^2 is the noise's variance and g what its
/// long-run variance exceeds that by after whitening, both measured on the series itself: there is
/// no penalty to choose. Then each cut moves to the best row nearby, and cuts that have become
/// needless by the same measure go. Silence always cuts.
/// Time: rows, plus the square of the number of candidates.
namespace stilling {

class partition {
 public:
  /// The series must outlive this; `shortest` in seconds. No segment for fewer than six rows.
  partition(const finished_series& s, double shortest)
      : series_{s}, shortest_{shortest}, noise_{s} {
    if (series_.size() < serial_noise::least_rows) return;
    make_blocks();
    noise_.learn(blocks_);
    for (int pass = 0; pass < 2; ++pass) {
      find_cuts();
      noise_.learn(cuts_);
    }
    find_cuts();
    move_cuts();
    join_needless();
  }

  /// One more than segments; empty where there is none.
  [[nodiscard]] const row_bounds& bounds() const noexcept { return cuts_; }
  [[nodiscard]] const serial_noise& noise() const noexcept { return noise_; }

  /// g s^2 ln n: what a number that is fitted has to save in squares.
  [[nodiscard]] double price() const {
    const auto n = static_cast<double>(series_.size());
    return noise_.inflation() * noise_.variance() * natural_log(n);
  }
  /// A slope would not save its price.
  [[nodiscard]] bool is_level(const weighted_line& s) const {
    return s.yy - s.squares() <= price();
  }
  /// What a segment costs by the measure above.
  [[nodiscard]] double cost(const weighted_line& s) const { return cost(s, price()); }

 private:
  [[nodiscard]] static double cost(const weighted_line& s, double price) {
    return std::min(s.yy + 2 * price, s.squares() + 3 * price);
  }

  void make_blocks() {
    apart_ = std::max(shortest_, (series_.seconds().back() - series_.t(0)) / 4000);
    blocks_ = {0};
    for (std::size_t i = 1; i < series_.size(); ++i) {
      const bool full = series_.t(i) - series_.t(blocks_.back()) >= apart_ &&
                        i - blocks_.back() >= serial_noise::least_rows;
      if (full || series_.silent_before(i)) blocks_.push_back(i);
    }
    const std::size_t newest = blocks_.back();  // a rest too short goes to the block before
    const bool is_rest = series_.seconds().back() - series_.t(newest) < apart_ / 2 ||
                         series_.size() - newest < serial_noise::least_rows;
    if (is_rest && blocks_.size() > 1 && !series_.silent_before(newest)) blocks_.pop_back();
    blocks_.push_back(series_.size());
  }

  /// Optimal partitioning (Jackson et al. 2005): best up to here = best up to there + one segment.
  void find_cuts() {
    const std::size_t m = blocks_.size() - 1;
    const double each = price();
    std::vector<weighted_line> opening(m), following(m);
    for (std::size_t k = 0; k < m; ++k) {
      opening[k] = noise_.whitened(blocks_[k], blocks_[k + 1]);
      for (std::size_t i = std::max<std::size_t>(1, blocks_[k]); i < blocks_[k + 1]; ++i)
        noise_.push(following[k], i);
    }
    const double unknown = std::numeric_limits<double>::infinity();
    std::vector<double> least(m + 1, unknown);
    std::vector<std::size_t> back(m + 1, 0);
    least[0] = 0;
    for (std::size_t from = 0; from < m; ++from) {
      weighted_line line = opening[from];
      for (std::size_t to = from + 1;; ++to) {
        const double sum = least[from] + cost(line, each);
        if (sum < least[to]) least[to] = sum, back[to] = from;
        if (to == m || series_.silent_before(blocks_[to])) break;
        line.join(following[to]);
      }
    }
    cuts_ = {series_.size()};
    for (std::size_t k = m; k > 0; k = back[k]) cuts_.push_back(blocks_[back[k]]);
    std::reverse(cuts_.begin(), cuts_.end());
  }

  /// Each cut to the best row no further than the next candidate, three rows left on either side.
  void move_cuts() {
    for (std::size_t k = 1; k + 1 < cuts_.size(); ++k) {
      if (series_.silent_before(cuts_[k])) continue;
      const std::size_t least = serial_noise::least_rows / 2, here = cuts_[k];
      std::size_t low = here, high = here;
      while (low > cuts_[k - 1] + least && series_.t(here) - series_.t(low - 1) <= apart_) --low;
      while (high + least < cuts_[k + 1] && series_.t(high + 1) - series_.t(here) <= apart_) ++high;
      std::vector<double> right(high - low + 1);
      weighted_line after;
      for (std::size_t i = cuts_[k + 1]; i-- > low;) {
        if (i <= high) {
          weighted_line opened = after;
          opened.push(series_.t(i), series_.y(i));
          right[i - low] = cost(opened);
        }
        noise_.push(after, i);
      }
      weighted_line before = noise_.whitened(cuts_[k - 1], low);
      double best = cost(before) + right[0];
      cuts_[k] = low;
      for (std::size_t i = low + 1; i <= high; ++i) {
        noise_.push(before, i - 1);
        const double sum = cost(before) + right[i - low];
        if (sum < best) best = sum, cuts_[k] = i;
      }
    }
  }

  /// A cut that has moved may leave another one without work.
  void join_needless() {
    for (std::size_t k = 1; k + 1 < cuts_.size();) {
      const double apart = cost(noise_.whitened(cuts_[k - 1], cuts_[k])) +
                           cost(noise_.whitened(cuts_[k], cuts_[k + 1]));
      const bool needless = !series_.silent_before(cuts_[k]) &&
                            cost(noise_.whitened(cuts_[k - 1], cuts_[k + 1])) <= apart;
      if (needless) {
        cuts_.erase(cuts_.begin() + static_cast<std::ptrdiff_t>(k));
        if (k > 1) --k;
      } else {
        ++k;
      }
    }
  }

  const finished_series& series_;
  double shortest_;
  double apart_ = 0;  // seconds from candidate to candidate
  serial_noise noise_;
  row_bounds blocks_, cuts_;
};

}  // namespace stilling
