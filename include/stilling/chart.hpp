// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

#include "stilling/text.hpp"
#include "stilling/visit/visit.hpp"

/// Pictures of a test, as SVG elements for a page: they stretch to the width they are given while
/// their words keep their size, so that one picture serves a telephone and a sheet of paper. Words
/// are placed so that none touches another from 360 px on. Nothing is told by colour alone. Every
/// function appends to a string of the caller's; the same visit always makes the same bytes.
namespace stilling::chart {

/// The rules the pictures are drawn by, for a page's style sheet, light and dark. They expect the
/// custom properties --ink, --paper, --faint, --quiet and --accent.
[[nodiscard]] std::string_view style() noexcept;

/// How the channels went: stack temperature, O2 (or CO2), CO and draft above one time axis, what
/// settled with its uncertainty, what was moved and how it smoked. False, and nothing written,
/// where the log holds no rows.
bool write_course(std::string& to, const visit& test, const presentation& as);

/// Heat lost up the stack against O2: the curve at the temperatures of the last reading, and every
/// reading with its uncertainty, in their order. False, and nothing written, where no reading has
/// both.
bool write_loss(std::string& to, const visit& test, const presentation& as);

/// What is in the pictures, in words, for their captions.
[[nodiscard]] std::string words_of_course(const visit& test, const presentation& as);
[[nodiscard]] std::string words_of_loss(const visit& test, const presentation& as);

}  // namespace stilling::chart
