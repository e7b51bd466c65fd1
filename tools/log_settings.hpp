// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string_view>

#include "options.hpp"
#include "setting.hpp"

// Everything that can be set about a log: how it is read, when it is settled, how it is shown, and
// what the combustion figures are derived with. The settings write into `to`, which must outlive
// them.

namespace stilling::command {

/// In the help.
namespace heading {
inline constexpr std::string_view reading = "How the log is read";
inline constexpr std::string_view live = "A live log";
inline constexpr std::string_view judging = "When it is settled";
inline constexpr std::string_view showing = "What is shown";
inline constexpr std::string_view figures = "Combustion figures";
}  // namespace heading

[[nodiscard]] settings_list reading_settings(log_options& to);
[[nodiscard]] settings_list live_settings(log_options& to);
[[nodiscard]] settings_list criterion_settings(log_options& to);
/// Part of those.
[[nodiscard]] settings_list rule_settings(log_options& to);
[[nodiscard]] settings_list judging_settings(log_options& to);
[[nodiscard]] settings_list shown_settings(log_options& to);
[[nodiscard]] settings_list figure_settings(log_options& to);

/// Rows of a device that have no time of their own are stamped as they arrive.
void stamp_where_needed(log_options& o);
/// What only shows once all of it was said.
[[nodiscard]] std::optional<setting_fault> check_reading(const log_options& o);

}  // namespace stilling::command
