// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// What judging costs in its whole form.

#include "judging.hpp"
#include "stilling/session.hpp"

namespace {

auto make(const stilling::session_settings& s) noexcept {
  return (stilling::recipe{[&s] { return stilling::timeline{s.timeline}; }} |
          stilling::judge_recipe(s) | stilling::readings_recipe(s))();
}
auto live = make(stilling::session_settings{});
bare::newest_reading heard;

}  // namespace

int main() { return bare::cost_of_judging(live, heard); }
