// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "stilling/text.hpp"

/// Readings, phases and what a log came to, as a person reads them. Private to src/.
namespace stilling::writing {

[[nodiscard]] std::string_view words_of(phase p) noexcept;
/// Why a settled phase ended; empty where the phase after it says as much.
[[nodiscard]] std::string reason_of(cause why, std::optional<channel> which);

/// One decimal more than the instrument shows: beyond that nobody reads.
[[nodiscard]] int most_decimals(channel c, const channel_reading& r, const presentation& as);
/// "526.5 ± 0.1"; "526 ± ?" where nothing is known about the uncertainty.
[[nodiscard]] std::string readable_value(channel c, const channel_reading& r,
                                         const presentation& as);
/// "+0.6, under 1.9", per minute; empty where no rate is known.
[[nodiscard]] std::string movement(channel c, const channel_reading& r, const presentation& as);
/// "about 70 s"
[[nodiscard]] std::string about(double seconds);
/// "6 min 34 s"
[[nodiscard]] std::string duration_words(duration d);

struct foremost_figure {
  std::string_view label;  // shorter than the figure's own
  figure is;
  int most_decimals;  // as the trade reads it aloud
};
/// What a technician looks for first.
inline constexpr foremost_figure foremost[]{
    {"net stack temperature", figure::net_stack_temp, 1},
    {"O2 from CO2", figure::o2, 1},
    {"CO2 from O2", figure::co2, 1},
    {"excess air", figure::excess_air, 1},
    {"CO air-free", figure::co_air_free, 1},
    {"efficiency, gross", figure::efficiency_gross, 1},
    {"draft difference", figure::draft_difference, 4}};

/// Why nothing settled, a sentence each, and how far burns got that were too short; none where
/// something did.
[[nodiscard]] std::vector<std::string> why_nothing_settled(const log_summary& s,
                                                           const presentation& as);

}  // namespace stilling::writing
