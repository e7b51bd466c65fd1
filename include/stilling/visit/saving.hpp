// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <optional>

#include "stilling/combustion/combustion.hpp"
#include "stilling/combustion/figure.hpp"
#include "stilling/estimators/uncertainty.hpp"
#include "stilling/visit/comparison.hpp"

/// What a change of efficiency saves in a year of stated use. The same heat is made before and
/// after, so fuel goes as one over the efficiency: saved share = 1 - before / after. Nothing but
/// the combustion efficiency at the settled state is in it: not what is lost at standstill, in
/// pipes or by starting, which stay as they are.
namespace stilling {

/// A year's fuel and what it costs, as the owner states it; any unit, any currency.
struct yearly_use {
  double amount = 0;             // of fuel in a year, before
  std::optional<double> price;   // per unit of it
};

struct saving {
  difference share;              // of the fuel; positive: less is burned
  difference amount;             // in the unit of the use
  std::optional<difference> money;
};

/// None where one of the two has no efficiency on the gross basis, or it is not above zero.
[[nodiscard]] inline std::optional<saving> saved(const combustion& before, const combustion& after,
                                                 const yearly_use& use) noexcept {
  const auto& a = before[figure::efficiency_gross];
  const auto& b = after[figure::efficiency_gross];
  if (!a || !b || !(a->value > 0) || !(b->value > 0)) return std::nullopt;
  const double ratio = a->value / b->value;
  // d(1 - a/b) = -da/b + a db/b^2; what both share is summed with its sign, channels in squares.
  double sum = 0;
  for (std::size_t i = 0; i < input_count; ++i) {
    const double da = -a->parts.contributions[i] / b->value;
    const double db = ratio * b->parts.contributions[i] / b->value;
    sum += i < channel_count ? da * da + db * db : (da + db) * (da + db);
  }
  saving out;
  out.share = {1 - ratio, square_root(sum), 2};
  const auto times = [&](double by) {
    return difference{by * out.share.value, by * out.share.standard_uncertainty, 2};
  };
  out.amount = times(use.amount);
  if (use.price) out.money = times(use.amount * *use.price);
  return out;
}

}  // namespace stilling
