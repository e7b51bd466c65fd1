// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <CLI/App.hpp>

#include "log_words.hpp"

// The options of `stilling report`.

namespace stilling::command {

class report_words {
 public:
  /// `to` must outlive this.
  explicit report_words(report_request& to) : to_{to}, log_{to.test.log} {}

  void offer(CLI::App& to);
  /// Takes what was said. Throws refusal.
  void take();

 private:
  report_request& to_;
  log_words log_;
  std::string file_;
};

}  // namespace stilling::command
