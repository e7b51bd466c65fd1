// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <compare>

/// Quantities with their units in the type. A temperature is a point on a scale, a
/// temperature_difference a distance on it: 70 degF and 70 degF apart are not the same thing, and
/// 32 is subtracted from the first only. No implicit double in or out; inside everything is kelvin,
/// pascal, mol/mol, second.
namespace stilling {

inline constexpr double kelvins_at_zero_celsius = 273.15;       // exact by definition
inline constexpr double celsius_per_fahrenheit = 1.0 / 1.8;     // exact by definition
// Conventional columns of water: 1000 kg/m3, g 9.80665 m/s2.
inline constexpr double pascals_per_inch_of_water = 249.08891;
inline constexpr double pascals_per_millimetre_of_water = 9.80665;

/// A distance on the temperature scale, in kelvins.
class temperature_difference {
 public:
  constexpr temperature_difference() = default;
  static constexpr temperature_difference from_kelvins(double k) noexcept {
    return temperature_difference{k};
  }
  static constexpr temperature_difference from_fahrenheit(double f) noexcept {
    return temperature_difference{f / 1.8};
  }
  [[nodiscard]] constexpr double in_kelvins() const noexcept { return kelvins_; }
  [[nodiscard]] constexpr double in_fahrenheit() const noexcept { return kelvins_ * 1.8; }
  friend constexpr auto operator<=>(temperature_difference, temperature_difference) = default;
  friend constexpr temperature_difference operator+(temperature_difference a,
                                                    temperature_difference b) noexcept {
    return temperature_difference{a.kelvins_ + b.kelvins_};
  }
  friend constexpr temperature_difference operator-(temperature_difference a,
                                                    temperature_difference b) noexcept {
    return temperature_difference{a.kelvins_ - b.kelvins_};
  }
  friend constexpr temperature_difference operator*(double f, temperature_difference d) noexcept {
    return temperature_difference{f * d.kelvins_};
  }
  friend constexpr double operator/(temperature_difference a, temperature_difference b) noexcept {
    return a.kelvins_ / b.kelvins_;
  }

 private:
  constexpr explicit temperature_difference(double k) noexcept : kelvins_{k} {}
  double kelvins_ = 0;
};

/// A point on the temperature scale. Two points can be subtracted, never added.
class temperature {
 public:
  static constexpr temperature from_kelvins(double k) noexcept { return temperature{k}; }
  static constexpr temperature from_celsius(double c) noexcept {
    return temperature{c + kelvins_at_zero_celsius};
  }
  static constexpr temperature from_fahrenheit(double f) noexcept {
    return temperature{(f + 459.67) / 1.8};
  }
  [[nodiscard]] constexpr double in_kelvins() const noexcept { return kelvins_; }
  [[nodiscard]] constexpr double in_celsius() const noexcept {
    return kelvins_ - kelvins_at_zero_celsius;
  }
  [[nodiscard]] constexpr double in_fahrenheit() const noexcept { return kelvins_ * 1.8 - 459.67; }
  friend constexpr auto operator<=>(temperature, temperature) = default;
  friend constexpr temperature_difference operator-(temperature a, temperature b) noexcept {
    return temperature_difference::from_kelvins(a.kelvins_ - b.kelvins_);
  }
  friend constexpr temperature operator+(temperature a, temperature_difference d) noexcept {
    return temperature{a.kelvins_ + d.in_kelvins()};
  }
  friend constexpr temperature operator-(temperature a, temperature_difference d) noexcept {
    return temperature{a.kelvins_ - d.in_kelvins()};
  }

 private:
  constexpr explicit temperature(double k) noexcept : kelvins_{k} {}
  double kelvins_;
};

/// How fast a temperature moves, in kelvins per second.
class temperature_rate {
 public:
  constexpr temperature_rate() = default;
  static constexpr temperature_rate from_kelvins_per_second(double r) noexcept {
    return temperature_rate{r};
  }
  static constexpr temperature_rate from_fahrenheit_per_minute(double r) noexcept {
    return temperature_rate{r / (1.8 * 60)};
  }
  [[nodiscard]] constexpr double in_kelvins_per_second() const noexcept { return rate_; }
  [[nodiscard]] constexpr double in_fahrenheit_per_minute() const noexcept {
    return rate_ * (1.8 * 60);
  }
  friend constexpr auto operator<=>(temperature_rate, temperature_rate) = default;

 private:
  constexpr explicit temperature_rate(double r) noexcept : rate_{r} {}
  double rate_ = 0;
};

/// Amount of one gas in a mixture, mol/mol, dry unless said otherwise.
class volume_fraction {
 public:
  constexpr volume_fraction() = default;
  static constexpr volume_fraction from_fraction(double x) noexcept { return volume_fraction{x}; }
  static constexpr volume_fraction from_percent(double p) noexcept {
    return volume_fraction{p / 100};
  }
  static constexpr volume_fraction from_ppm(double p) noexcept { return volume_fraction{p / 1e6}; }
  [[nodiscard]] constexpr double in_fraction() const noexcept { return fraction_; }
  [[nodiscard]] constexpr double in_percent() const noexcept { return fraction_ * 100; }
  [[nodiscard]] constexpr double in_ppm() const noexcept { return fraction_ * 1e6; }
  friend constexpr auto operator<=>(volume_fraction, volume_fraction) = default;

 private:
  constexpr explicit volume_fraction(double x) noexcept : fraction_{x} {}
  double fraction_ = 0;
};

/// Gauge pressure against the room, in pascals. Suction is negative.
class pressure_difference {
 public:
  constexpr pressure_difference() = default;
  static constexpr pressure_difference from_pascals(double p) noexcept {
    return pressure_difference{p};
  }
  static constexpr pressure_difference from_inches_of_water(double p) noexcept {
    return pressure_difference{p * pascals_per_inch_of_water};
  }
  [[nodiscard]] constexpr double in_pascals() const noexcept { return pascals_; }
  [[nodiscard]] constexpr double in_inches_of_water() const noexcept {
    return pascals_ / pascals_per_inch_of_water;
  }
  friend constexpr auto operator<=>(pressure_difference, pressure_difference) = default;
  friend constexpr pressure_difference operator-(pressure_difference a,
                                                 pressure_difference b) noexcept {
    return pressure_difference{a.pascals_ - b.pascals_};
  }

 private:
  constexpr explicit pressure_difference(double p) noexcept : pascals_{p} {}
  double pascals_ = 0;
};

}  // namespace stilling
