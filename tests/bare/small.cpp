// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// What judging costs in the small form.

#include "judging.hpp"
#include "small_chain.hpp"

namespace {

auto live = bare::small_chain(stilling::session_settings{});
bare::newest_reading heard;

}  // namespace

int main() { return bare::cost_of_judging(live, heard); }
