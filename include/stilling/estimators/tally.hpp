// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <optional>

#include "stilling/estimators/noise_models.hpp"
#include "stilling/estimators/uncertainty.hpp"
#include "stilling/terms/time.hpp"

/// What a mean over some rows is worth: the values, the noise they were seen in, what was set aside
/// and how long nothing was heard. Tallies of neighbouring rows merge. `recent` keeps the newest
/// minutes as a ring of short pieces, so that a mean can begin and end where it turns out it
/// should.
namespace stilling {

class tally {
 public:
  /// A value at an instant, `since_last` seconds after the channel was heard before.
  constexpr void push(double x, double since_last) noexcept {
    values_.push(x);
    if (since_last > longest_gap_) longest_gap_ = since_last;
  }
  /// A value that is not believed.
  constexpr void set_aside() noexcept { ++set_aside_; }
  /// The noise as it was judged at a row: variance about the trend, density of the mean's variance.
  constexpr void note_noise(double variance, double density) noexcept {
    variance_ += variance, density_ += density, looks_ += 1;
  }
  constexpr void merge(const tally& later) noexcept {
    values_.merge(later.values_);
    variance_ += later.variance_, density_ += later.density_, looks_ += later.looks_;
    set_aside_ += later.set_aside_;
    if (later.longest_gap_ > longest_gap_) longest_gap_ = later.longest_gap_;
  }

  [[nodiscard]] constexpr std::uint64_t count() const noexcept { return values_.count(); }
  [[nodiscard]] constexpr double mean() const noexcept { return values_.mean(); }
  /// Of the values about their mean; unknown below two.
  [[nodiscard]] constexpr std::optional<double> variance() const noexcept {
    return values_.variance();
  }
  [[nodiscard]] constexpr std::uint32_t passed_over() const noexcept { return set_aside_; }
  [[nodiscard]] constexpr double longest_gap() const noexcept { return longest_gap_; }

  struct worth {
    double variance = 0;            // of the mean
    double effective_count = 0;     // as many independent values
    std::optional<double> freedom = std::nullopt;  // of that variance, where it is known
  };
  /// Over `length` seconds on a display of this `step`; without a look at the noise as if the
  /// values were independent. A display that does not dither adds its own step / sqrt(12).
  [[nodiscard]] constexpr worth of_mean(double length, double step) const noexcept {
    const auto n = static_cast<double>(count());
    const double rounding = step * step / 12;
    if (looks_ == 0 || !(length > 0)) return {values_.variance().value_or(0) / n + rounding, n};
    const double own = variance_ / looks_;
    double variance = density_ / looks_ / length;
    double effective = variance > 0 ? own / variance : n;
    if (effective > n) effective = n, variance = own / n;
    if (effective < 1) effective = 1, variance = own;
    return {own < step * step / 4 ? variance + rounding : variance, effective};
  }
  /// The same where the noise of means over short pieces is known, and the variance of the values
  /// `within` a piece; all this is `times_longer` than those pieces. What the channel moves carries
  /// it across the steps of a display just as noise does.
  [[nodiscard]] constexpr worth of_mean(const noise_models& noise, double within,
                                        double times_longer, double step) const noexcept {
    const auto n = static_cast<double>(count());
    const double own = noise.variance() + within;
    const double variance = noise.variance_of_mean(times_longer);
    const double effective = variance > 0 ? own / variance : n;
    const bool dithers = std::max(own, values_.variance().value_or(0)) >= step * step / 4;
    return {dithers ? variance : variance + step * step / 12, std::clamp(effective, 1.0, n),
            noise.freedom()};
  }
  /// The same as a standard uncertainty, given how well the noise is known where `w` does not say
  /// (degrees of freedom; none: from the values alone). Widened where that is little, so that twice
  /// it covers what it says.
  [[nodiscard]] static constexpr uncertainty stated(const worth& w,
                                                    std::optional<double> noise_freedom) noexcept {
    const double own = w.effective_count > 2 ? w.effective_count - 1 : 1;
    const double freedom = w.freedom.value_or(noise_freedom.value_or(own));
    return {square_root(w.variance) * coverage_factor(freedom) / 2, freedom};
  }

 private:
  running_moments values_;
  double variance_ = 0, density_ = 0, looks_ = 0;  // sums over the looks
  std::uint32_t set_aside_ = 0;
  double longest_gap_ = 0;
};

/// All lanes over some rows.
template <std::size_t Lanes> struct stretch {
  instant from{}, to{};
  std::uint32_t rows = 0;
  std::array<tally, Lanes> of{};

  constexpr void merge(const stretch& later) noexcept {
    if (rows == 0) {
      *this = later;
      return;
    }
    to = later.to;
    rows += later.rows;
    for (std::size_t i = 0; i < Lanes; ++i) of[i].merge(later.of[i]);
  }
};

template <std::size_t Lanes, std::size_t Pieces> class recent {
 public:
  using piece = stretch<Lanes>;

  /// The piece a row at `t` belongs to; what has to leave for it, if anything, is told first.
  template <class Leave> constexpr piece& begin_row(instant t, Leave&& leave) noexcept {
    if (count_ == 0 || t - newest().from >= length) {
      if (count_ == Pieces) {
        leave(oldest());
        drop_oldest();
      }
      ++count_;
      newest() = piece{.from = t, .to = t, .rows = 0, .of = {}};
    }
    piece& now = newest();
    now.to = t;
    ++now.rows;
    return now;
  }
  [[nodiscard]] constexpr piece& newest() noexcept { return at_[(first_ + count_ - 1) % Pieces]; }
  [[nodiscard]] constexpr piece& oldest() noexcept { return at_[first_]; }
  [[nodiscard]] constexpr const piece& operator[](std::size_t i) const noexcept {
    return at_[(first_ + i) % Pieces];
  }
  [[nodiscard]] constexpr std::size_t size() const noexcept { return count_; }
  constexpr void drop_oldest() noexcept { first_ = (first_ + 1) % Pieces, --count_; }
  constexpr void drop_newest() noexcept { --count_; }
  constexpr void clear() noexcept { first_ = count_ = 0; }

  /// `before` and everything kept, as one.
  [[nodiscard]] constexpr piece joined_to(piece before) const noexcept {
    for (std::size_t i = 0; i < count_; ++i) before.merge((*this)[i]);
    return before;
  }

  /// What the mean of a lane of `all`, these pieces and those before them, is worth by what the
  /// pieces show of its noise; nothing where they are too few.
  [[nodiscard]] constexpr std::optional<tally::worth> worth_of(std::size_t lane, const piece& all,
                                                               double step) const noexcept {
    std::array<timed_value, Pieces> means{};
    std::size_t n = 0;
    double squares = 0, values = 0;
    for (std::size_t i = 0; i < count_; ++i) {
      const tally& own = (*this)[i].of[lane];
      if (own.count() == 0) continue;
      means[n++] = {in_seconds((*this)[i].from - all.from), own.mean()};
      squares += own.variance().value_or(0) * static_cast<double>(own.count() - 1);
      values += static_cast<double>(own.count());
    }
    if (n == 0) return std::nullopt;
    const double each = values / static_cast<double>(n);
    const noise_models noise{{means.data(), n}, step * step / 12 / each};
    if (!noise.known()) return std::nullopt;
    const double span = in_seconds(all.to - all.from), longer = span / (span - means[0].t);
    return all.of[lane].of_mean(noise, squares / values, longer, step);
  }

 private:
  static constexpr duration length = seconds(5);

  std::array<piece, Pieces> at_{};
  std::size_t first_ = 0, count_ = 0;
};

}  // namespace stilling
