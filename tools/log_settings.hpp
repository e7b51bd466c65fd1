// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
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
inline constexpr std::string_view instrument = "What the instrument adds";
inline constexpr std::string_view figures = "Combustion figures";
inline constexpr std::string_view report = "The report";
inline constexpr std::string_view typed = "Readings typed by hand";
}  // namespace heading

[[nodiscard]] settings_list reading_settings(log_options& to);
[[nodiscard]] settings_list live_settings(log_options& to);
[[nodiscard]] settings_list criterion_settings(log_options& to);
/// Part of those.
[[nodiscard]] settings_list rule_settings(log_options& to);
[[nodiscard]] settings_list judging_settings(log_options& to);
[[nodiscard]] settings_list drift_settings(log_options& to);
[[nodiscard]] settings_list shown_settings(log_options& to);
[[nodiscard]] settings_list figure_settings(log_options& to);
/// In a file only: [fuel], [limits], [instrument].
[[nodiscard]] settings_list fuel_settings(log_options& to);
[[nodiscard]] settings_list limit_settings(log_options& to);
[[nodiscard]] settings_list instrument_settings(log_options& to);
/// Who, where, on what and with what: --particulars, [particulars].
[[nodiscard]] settings_list particulars_settings(log_options& to);
/// The readings of `stilling derive`.
[[nodiscard]] settings_list derive_settings(derive_request& to);

/// Rows of a device that have no time of their own are stamped as they arrive.
void stamp_where_needed(log_options& o);
/// What cannot be right about a fuel of one's own: which setting, and why.
struct fuel_complaint {
  std::string governs;
  std::string why;
};
/// Makes the fuel of what was said of it, and of it the one that burns.
[[nodiscard]] std::optional<fuel_complaint> settle_fuel(log_options& to);
/// What only shows once all of it was said.
[[nodiscard]] std::optional<setting_fault> check_reading(const log_options& o);

}  // namespace stilling::command
