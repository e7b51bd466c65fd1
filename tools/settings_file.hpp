// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

#include "setting.hpp"

// What can be said on the command line, said in a file (TOML 1.0):
//
//     require = ["stack_temp", "o2"]
//     [reading]
//     time_zone = "America/New_York"
//     columns = {"Flue T" = "stack_temp:degF"}
//     [criterion]
//     stack_temp = "2 degF/min"
//
// The file is only turned into words here; the setting of that key takes them, as it takes those
// of the command line. A key that no setting has is refused, never passed over.

namespace stilling::command {

/// `name` is what complaints call the file. Throws refusal: `NAME:LINE: ...`, a line for each
/// fault. A settings file holds any table of the list.
[[nodiscard]] answers read_settings(std::string_view text, std::string_view name,
                                    const settings_list& list);
/// Likewise from the disk.
[[nodiscard]] answers read_settings_file(const std::string& path, const settings_list& list);

/// Forgets what is said in one table.
void forget_table(answers& said, std::string_view table, const settings_list& list);

}  // namespace stilling::command
