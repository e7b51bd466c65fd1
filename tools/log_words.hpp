// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <CLI/App.hpp>
#include <initializer_list>
#include <string>
#include <string_view>

#include "log_settings.hpp"

// All that was said about a log, typed or in files, on its way to the settings.

namespace stilling::command {

class log_words {
 public:
  /// `to` must outlive this.
  explicit log_words(log_options& to);
  log_words(const log_words&) = delete;
  log_words& operator=(const log_words&) = delete;

  /// Offers the settings under these headings on the command line.
  void offer(CLI::App& to, std::initializer_list<std::string_view> headings);
  /// Takes what was said. Throws refusal.
  void take();

 private:
  void add(CLI::App& to, const setting& s, std::optional<answer>& typed);
  void take_criterion(answers& filed);
  [[nodiscard]] answers read_criterion(const std::string& path) const;

  log_options& to_;
  settings_list list_;
  answers typed_;
  std::string file_;  // --settings
};

}  // namespace stilling::command
