// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <string>

#include "stilling/text.hpp"

/// Combustion figures and what was found, as JSON. Private to src/.
namespace stilling::writing {

/// One object, keyed `<stem>_<unit>`: value, u and formula, or null and the reason.
void append_derived(std::string& to, const combustion& y, const presentation& as);
/// One object: what was found, by which limit, in words.
void append_finding(std::string& to, const finding& f, const presentation& as);

}  // namespace stilling::writing
