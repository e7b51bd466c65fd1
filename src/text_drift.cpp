// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// What the cells read in fresh air, in words.

#include <algorithm>
#include <string>
#include <string_view>

#include "stilling/text.hpp"
#include "text_number.hpp"
#include "text_words.hpp"

namespace stilling {
namespace {

using namespace writing;

/// "20.41 ± 0.06 % (0:20 to 1:04)"
std::string reading_of(const bookend& b, channel c, const presentation& as) {
  const unit u = as.unit_of(c);
  const double wide =
      writing::coverage_factor * difference_from_canonical(u, b.standard_uncertainty);
  const int decimals = wide > 0 ? std::max(decimals_below(wide) - 1, 0) : usual_decimals(u);
  std::string to;
  append_fixed(to, from_canonical(u, b.mean), decimals);
  append_fixed(to += " ± ", wide, decimals);
  put(to, " {} ({} to {})", word_of(traits_of(u).name), clock_of(b.from), clock_of(b.to));
  return to;
}

std::string_view why(bookend_fault f) noexcept {
  switch (f) {
    case bookend_fault::absent: return "no fresh air was seen";
    case bookend_fault::too_short:
      return "fresh air was seen for less than 20 s or six rows";
    case bookend_fault::moves:
      return "it did not stand still in the fresh air for as long as it was seen";
    case bookend_fault::none: break;
  }
  return {};
}

std::string in_air(channel c, const presentation& as) {
  std::string to;
  const unit u = as.unit_of(c);
  append_rounded(to, from_canonical(u, c == channel::o2 ? oxygen_of_air : monoxide_of_air), 4);
  return (to += ' ') += word_of(traits_of(u).name);
}

}  // namespace

std::string words_of(channel c, const bookend_pair& seen, const presentation& as) {
  const auto label = label_of(c);
  const auto& [before, after] = seen;
  if (seen.complete()) {
    const std::string both =
        fmt::format("{} read {} in fresh air before and {} after, where {} was taken to be right",
                    label, reading_of(before, c, as), reading_of(after, c, as), in_air(c, as));
    const unit u = as.unit_of(c);
    const double mean = (before.mean + after.mean) / 2;
    std::string by;
    if (c == channel::o2) {
      append_fixed(by, oxygen_of_air / mean, 4);
      return fmt::format(
          "{}; every {} was multiplied by {}, as if its sensitivity had changed; that its zero "
          "may have moved instead is in the ±",
          both, label, by);
    }
    const double off = difference_from_canonical(u, mean < 0 ? -mean : mean);
    append_fixed(by, off, off > 0 ? std::max(decimals_below(off) - 1, 0) : 0);
    return fmt::format("{}; {} {} was {} every {}; its sensitivity was not checked", both, by,
                       word_of(traits_of(u).name), mean < 0 ? "added to" : "taken off", label);
  }
  std::string to = fmt::format("{} was not corrected", label);
  if (before.is != bookend_fault::none)
    to += fmt::format(": before the first fire {}", why(before.is));
  if (after.is != bookend_fault::none)
    to += fmt::format("{} after the last fire {}",
                      before.is != bookend_fault::none ? ", and" : ":", why(after.is));
  for (const auto* one : {&before, &after})
    if (one->is == bookend_fault::none)
      to += fmt::format("; in fresh air {} the test it read {}, and what it drifted is unknown",
                        one == &before ? "before" : "after", reading_of(*one, c, as));
  return to;
}

}  // namespace stilling
