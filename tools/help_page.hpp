// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <string>

// How help looks: how to call it, what it does, then a name and what it means, in 80 columns.

namespace stilling::command {

/// `--fuel NAME|FILE`, `FILE`.
[[nodiscard]] std::string shown_name(const CLI::Option& o);

class help_page : public CLI::Formatter {
 public:
  std::string make_help(const CLI::App* app, std::string, CLI::AppFormatMode) const override;
};

}  // namespace stilling::command
