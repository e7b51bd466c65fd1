// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "stilling/estimators/settled_start.hpp"
#include "stilling/estimators/uncertainty.hpp"
#include "stilling/estimators/weighted_line.hpp"
#include "stilling/offline/creep.hpp"
#include "stilling/offline/finished_series.hpp"
#include "stilling/offline/partition.hpp"
#include "stilling/offline/serial_noise.hpp"
#include "stilling/terms/expects.hpp"

/// A finished series, told as plateaus and ramps. Offline: all of it is known, memory is allocated.
///
/// The cuts are those of offline/partition: exact, with no penalty to choose. Each segment is then
/// judged like the live rule does:
///     plateau    slope within the limit, its upper bound within `claim_factor` times that
///     ramp       lower bound above the limit
///     undecided  neither could be shown
/// Neighbouring plateaus become one unless shown to be apart where they meet, by more than
/// `departure` minutes of the limit and not by a creep that runs through both. A plateau's mean is
/// over its settled part, see estimators/settled_start. What is passed over and what is clipped:
/// offline/finished_series. Silence longer than the shortest length always cuts.
namespace stilling {

enum class segment_kind : std::uint8_t { undecided, plateau, ramp };

struct segment {
  double from = 0, to = 0;       // seconds: stamps of the first and the last row
  segment_kind kind = segment_kind::undecided;
  double rate = 0;               // per second
  double rate_bound = 0;         // |rate| is below, one-sided
  double settled_from = 0;       // the mean is of what lies from here to `to`
  double mean = 0;
  double standard_uncertainty = 0;  // of the mean: its noise, and a display that does not dither
  double remaining = 0;          // plateau: what the mean lacks of where it was heading, signed
};

struct segment_settings {
  double limit = 0;            // of the rate, per second; above 0
  double step = 0;             // of the display, 0: none
  double shortest = 60;        // seconds; above 0
  double claim_factor = 1.5;   // 1 or more, as in steadiness_settings
  double confidence = 0.95;    // one-sided: 0.95, 0.975, 0.99 or 0.995
  double departure = 0;        // minutes of the limit that plateaus may differ by and be one; what
                               // is proven live takes 1.25 (steadiness_settings), 0: nothing
};

class segmentation {
 public:
  segmentation(std::span<const double> seconds, std::span<const double> values,
               const segment_settings& s)
      : settings_{s}, series_{seconds, values, s.step, s.shortest}, parts_{series_, s.shortest} {}
  segmentation(const segmentation&) = delete;
  segmentation& operator=(const segmentation&) = delete;

  [[nodiscard]] std::vector<segment> segments() const {
    std::vector<judged> out;
    const row_bounds& bounds = parts_.bounds();
    for (std::size_t i = 0; i + 1 < bounds.size(); ++i) {
      out.push_back(judge(bounds[i], bounds[i + 1]));
      while (join_last(out, 2) || join_last(out, 3)) {
      }
    }
    std::vector<segment> said;
    for (const judged& j : out) said.push_back(describe(j));
    return said;
  }

 private:
  struct judged {
    std::size_t first = 0, last = 0;  // one past
    weighted_line line;
    double variance = 0, quantile = 0;
    double bound = 0;
    segment_kind kind = segment_kind::undecided;
  };

  [[nodiscard]] const serial_noise& noise() const noexcept { return parts_.noise(); }

  [[nodiscard]] judged judge(std::size_t first, std::size_t last) const {
    judged j{.first = first, .last = last, .line = noise().whitened(first, last)};
    const double span = series_.t(last - 1) - series_.t(first), step = settings_.step;
    weighted_line plain;
    for (std::size_t i = first; i < last; ++i) plain.push(series_.t(i), series_.y(i));
    j.variance = noise().inflation() * j.line.variance();
    if (!(j.line.tt > 0) || last - first < 3) return j;
    const double freedom = j.line.weight / noise().inflation() - 2;
    j.quantile = student_t(settings_.confidence, freedom);
    const double floor = step * step / 12 / plain.tt;
    double half = j.quantile * square_root(std::max(j.variance / j.line.tt, floor));
    if (plain.variance() < 0.09 * step * step) half += 1.5 * step / span;
    const double size = std::abs(j.line.rate());
    j.bound = size + half;
    const bool long_enough = span >= 0.9 * settings_.shortest;
    if (size - half > settings_.limit) j.kind = segment_kind::ramp;
    if (long_enough && size <= settings_.limit &&
        j.bound <= settings_.claim_factor * settings_.limit)
      j.kind = segment_kind::plateau;
    return j;
  }

  /// Shown to be further apart where they meet than a plateau may be: the square of what is beyond
  /// `departure` is more than 4 ln n variances, twice what a cut between levels has to save, as
  /// noise that wanders has more cuts than one to take.
  [[nodiscard]] bool apart(const judged& a, const judged& b) const {
    const double when = (series_.t(a.last - 1) + series_.t(b.first)) / 2;
    const bool a_level = parts_.is_level(a.line), b_level = parts_.is_level(b.line);
    const auto place = [&](const weighted_line& x, bool level) {
      return level ? x.y : x.at(when);
    };
    const auto doubt = [&](const weighted_line& x, bool level) {
      const double off = when - x.t;
      return 4 * parts_.price() * (1 / x.weight + (!level && x.tt > 0 ? off * off / x.tt : 0));
    };
    const double gap = std::abs(place(a.line, a_level) - place(b.line, b_level)) -
                       settings_.departure * 60 * settings_.limit;
    if (gap <= 0 || gap * gap <= doubt(a.line, a_level) + doubt(b.line, b_level)) return false;
    if (a_level && b_level) return true;
    return creep_squares(series_, noise(), a.first, b.last) + 3 * parts_.price() >
           parts_.cost(a.line) + parts_.cost(b.line);
  }

  /// The newest two plateaus, or two with something undecided between, into one.
  [[nodiscard]] bool join_last(std::vector<judged>& out, std::size_t count) const {
    if (out.size() < count) return false;
    const judged* newest = &out[out.size() - count];
    const judged &a = newest[0], &b = newest[count - 1];
    if (a.kind != segment_kind::plateau || b.kind != segment_kind::plateau || apart(a, b))
      return false;
    if (count == 3 && (newest[1].kind != segment_kind::undecided || apart(a, newest[1])))
      return false;
    for (std::size_t k = 1; k < count; ++k)
      if (series_.silent_before(newest[k].first)) return false;
    const judged both = judge(a.first, b.last);
    if (both.kind != segment_kind::plateau) return false;
    out.resize(out.size() - count);
    out.push_back(both);
    return true;
  }

  [[nodiscard]] segment describe(const judged& j) const {
    segment s{.from = series_.t(j.first), .to = series_.t(j.last - 1), .kind = j.kind,
              .rate = j.line.rate(), .rate_bound = j.bound};
    std::size_t first = j.first;
    double variance = j.variance / j.line.weight;
    if (j.kind == segment_kind::plateau) {
      const std::size_t n = j.last - j.first;
      const auto part = settled_start(series_.seconds().subspan(j.first, n),
                                      series_.values().subspan(j.first, n), settings_.shortest);
      if (part) {
        first += part->first;
        s.remaining = part->remaining;
        const double kept = static_cast<double>(j.last - first) / static_cast<double>(n);
        variance = std::max(part->variance, variance / kept);
      }
    }
    running_moments mean;
    for (std::size_t i = first; i < j.last; ++i) mean.push(series_.y(i));
    s.settled_from = series_.t(first);
    s.mean = mean.mean();
    const double step = settings_.step;
    const bool dithered = mean.variance().value_or(0) >= step * step / 4;
    s.standard_uncertainty = square_root(variance + (dithered ? 0 : step * step / 12));
    return s;
  }

  segment_settings settings_;
  finished_series series_;
  partition parts_;
};

/// `seconds` and `values` side by side; segments in order, none for fewer than six rows.
[[nodiscard]] inline std::vector<segment> find_segments(std::span<const double> seconds,
                                                        std::span<const double> values,
                                                        const segment_settings& s) {
  STILLING_EXPECTS(s.limit > 0 && s.step >= 0 && s.shortest > 0 && s.claim_factor >= 1);
  return segmentation{seconds, values, s}.segments();
}

}  // namespace stilling
