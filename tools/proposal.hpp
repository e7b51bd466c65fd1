// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "stilling/items/layout.hpp"
#include "stilling/terms/decoder_settings.hpp"

// A header nobody understood: which options would explain it. Proposed to the person, never taken;
// what a name leaves open is told, so that it can be put right.

namespace stilling::command {

struct proposal {
  struct option {
    std::string name;   // --column
    std::string value;  // Flue T=stack_temp:degF
    std::string doubt;  // what was guessed; empty: the name says it all
  };
  std::vector<option> options;
  std::string remark;  // what to do where no option can be proposed, or besides
};

/// `lines`: the first of the log, notes left out; at least one.
[[nodiscard]] proposal propose(const std::vector<std::string>& lines, const decoder_settings& s);

/// For columns of a log that was understood without them. `lines`: the header and a few after it.
[[nodiscard]] proposal propose_more(const std::vector<std::string>& lines, const layout& found);

/// A word a shell takes as it stands.
[[nodiscard]] std::string quoted_for_shell(std::string_view word);

}  // namespace stilling::command
