// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <optional>
#include <string_view>

/// Published limits for carbon monoxide in air that people breathe. They are no limits for the
/// flue: they say what flue gas that comes into a room does to people.
namespace stilling {

struct exposure_limit {
  double ppm;
  std::string_view milligrams;  // per cubic metre, as the regulator prints it; empty: not printed
  std::string_view over;        // averaging time, or what the number is
  std::string_view source;
  std::string_view mark;        // read, or second-hand: seen in a text that quotes the source
};

inline constexpr std::array exposure_table{
    exposure_limit{9, "10", "8 h, not more than once a year", "EPA NAAQS, 40 CFR 50.8", "read"},
    exposure_limit{35, "40", "1 h, not more than once a year", "EPA NAAQS, 40 CFR 50.8", "read"},
    exposure_limit{35, "40", "working day, recommended",
                   "NIOSH REL, in the NIOSH IDLH documentation of CAS 630-08-0 (May 1994)", "read"},
    exposure_limit{200, "229", "ceiling, recommended",
                   "NIOSH REL, in the NIOSH IDLH documentation of CAS 630-08-0 (May 1994)", "read"},
    exposure_limit{50, "55", "8 h, permissible",
                   "OSHA PEL, in the NIOSH IDLH documentation of CAS 630-08-0 (May 1994)", "read"},
    exposure_limit{25, "29", "working day (1993-94)",
                   "ACGIH TLV, in the NIOSH IDLH documentation of CAS 630-08-0 (May 1994)", "read"},
    exposure_limit{1500, "", "10 min, emergency",
                   "NRC EEGL, in the NIOSH IDLH documentation of CAS 630-08-0 (May 1994)", "read"},
    exposure_limit{800, "", "30 min, emergency",
                   "NRC EEGL, in the NIOSH IDLH documentation of CAS 630-08-0 (May 1994)", "read"},
    exposure_limit{400, "", "60 min, emergency",
                   "NRC EEGL, in the NIOSH IDLH documentation of CAS 630-08-0 (May 1994)", "read"},
    exposure_limit{1200, "", "immediately dangerous to life or health, revised", "NIOSH IDLH",
                   "second-hand"},
    exposure_limit{70, "", "household alarm sounds within 60 to 240 min", "UL 2034",
                   "second-hand"},
    exposure_limit{150, "", "household alarm sounds within 10 to 50 min", "UL 2034",
                   "second-hand"},
    exposure_limit{400, "", "household alarm sounds within 4 to 15 min", "UL 2034",
                   "second-hand"},
};

/// The 8-hour mean against 9 ppm as 40 CFR 50.8 compares it: to one decimal, then as an integer,
/// halves up. True: exceeded. No verdict with less than 6 of the 8 hours.
[[nodiscard]] constexpr std::optional<bool> exceeds_eight_hour_limit(double mean_ppm,
                                                                     int valid_hours) noexcept {
  if (valid_hours < 6 || !(mean_ppm >= 0 && mean_ppm < 1e6)) return std::nullopt;
  const auto tenths = static_cast<long>(mean_ppm * 10 + 0.5 + 1e-9);
  return (tenths + 5) / 10 > 9;
}

}  // namespace stilling
