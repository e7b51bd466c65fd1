// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <string_view>

#include "stilling/terms/decoder_settings.hpp"
#include "stilling/text.hpp"

// The system's time zone database, at the seam the decoder leaves for it.

namespace stilling::command {

/// Times without an offset are those of this zone, America/New_York. Throws refusal where the
/// database has no such zone, with the names that come near.
void read_in_zone(decoder_settings& to, std::string_view name);
/// For times to be shown in the zone a log is read in; in UTC where none was named.
[[nodiscard]] wall_clock clock_of_zone(const decoder_settings& read, std::string_view name);

}  // namespace stilling::command
