// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "typed.hpp"

// One thing that can be set, declared once: the command line and a settings file both bring words
// for it, and the same function takes them. So a value means the same in both, and a new setting is
// one entry in a list.

namespace stilling::command {

struct setting {
  enum class shape : std::uint8_t {
    flag,  // on or off; on the command line its name alone is on
    word,
    word_or_none,  // a word, or the name alone
    list,   // several words; commas part them
    rules,  // several words of any letters: 'Flue T=stack_temp:degF'
  };

  std::string_view heading{};  // in the help; empty: not on the command line
  std::string_view table{};    // in a settings file; empty: at its top
  std::string_view key{};      // in that table; empty: not in a file
  std::string_view option{};   // on the command line
  shape is = shape::word;
  std::string type{};  // what the help shows for the value; empty: the choices
  std::string about{};
  bool takes_table = false;                  // in a file also {"Flue T" = "stack_temp:degF"}
  std::string_view example = "stack_temp:degF";  // of what stands in such a table
  words choices{};                           // empty: whatever `take` accepts
  std::function<void(const words&)> take{};  // throws refusal
  words excludes{};                          // options that make no sense beside it
  words governs{};                           // what check(session_settings) calls it
};

using settings_list = std::vector<setting>;

/// What was said of a setting and where: `--missing`, or `burner.toml:7: missing`.
struct answer {
  words value;
  std::string where;
};
/// One place for each setting of a list.
using answers = std::vector<std::optional<answer>>;

/// Takes all that was said, in the order of the list; what was typed stands in place of what a file
/// says. Throws refusal: one line for each word that cannot be taken.
void take_all(const settings_list& list, const answers& typed, const answers& filed);

/// What take_all() takes, as a settings file that says the same. What no file can say is left out.
[[nodiscard]] std::string settings_text(const settings_list& list, const answers& typed,
                                        const answers& filed);

/// Where the setting was said that check(session_settings) calls `name`; or, of "rule.mean", one
/// that governs "rule".
[[nodiscard]] const answer* who_said(std::string_view name, const settings_list& list,
                                     const answers& typed, const answers& filed);

}  // namespace stilling::command
