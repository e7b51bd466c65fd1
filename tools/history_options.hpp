// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <CLI/App.hpp>
#include <string>

#include "log_words.hpp"
#include "options.hpp"

// What can be said to `keep` and `past`.

namespace stilling::command {

class keep_words {
 public:
  explicit keep_words(keep_request& to) : to_{to}, said_{to.judged.log} {}
  void offer(CLI::App& to);
  /// Takes what was said. Throws refusal.
  void take();

 private:
  keep_request& to_;
  log_words said_;
  std::string day_;
};

class past_words {
 public:
  explicit past_words(past_request& to) : to_{to}, said_{to.log} {}
  void offer(CLI::App& to);
  void take();

 private:
  past_request& to_;
  log_words said_;
  bool html_ = false, csv_ = false, json_ = false, forget_ = false;
  std::string reading_;
};

}  // namespace stilling::command
