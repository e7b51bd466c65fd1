// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

/// Contracts. A programmer's mistake is an assertion; a fault in what is measured is an item.
/// The only macro of the library. Define STILLING_EXPECTS before the first include to route a
/// broken contract elsewhere (a firmware's own trap, say).

#ifndef STILLING_EXPECTS
#include <cassert>
#define STILLING_EXPECTS(condition) assert(condition)
#endif
