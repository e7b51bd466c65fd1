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
  /// `to` must outlive this. `more`: settings beside those of a log.
  explicit log_words(log_options& to, settings_list more = {});
  log_words(const log_words&) = delete;
  log_words& operator=(const log_words&) = delete;

  /// Offers the settings under these headings on the command line, but for one option.
  void offer(CLI::App& to, std::initializer_list<std::string_view> headings,
             std::string_view without = {});
  void offer_settings_file(CLI::App& to);
  /// The values an option can have; empty: none is known beforehand.
  [[nodiscard]] words choices_of(std::string_view option) const;
  /// Takes what was said. Throws refusal.
  void take();
  /// What was taken, as a settings file.
  [[nodiscard]] std::string as_file() const { return settings_text(list_, typed_, filed_); }

 private:
  void add(CLI::App& to, const setting& s, std::optional<answer>& typed);
  void take_table(answers& filed, std::string_view option, std::string_view table);
  [[nodiscard]] answers read_table(const std::string& path, const setting& of,
                                   std::string_view table) const;

  log_options& to_;
  settings_list list_;
  answers typed_, filed_;
  std::string file_;  // --settings
};

}  // namespace stilling::command
