// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>

/// Basic blocks entered so far by code compiled with -fsanitize-coverage=trace-pc.
namespace stilling::bench {

std::uint64_t blocks_entered() noexcept;

}  // namespace stilling::bench
