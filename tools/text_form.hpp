// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "stilling/decoding/encoding.hpp"

// What kind of text a stream of bytes is: encoding and line ends.

namespace stilling::command {

class text_form {
 public:
  void push(std::string_view bytes) {
    bytes_ += bytes.size();
    reader_.push(bytes, [&](std::string_view text) { count(text); });
    if (is_ == encoding::form::open) is_ = reader_.is(), marked_ = reader_.marked();
  }
  void finish() {
    if (after_return_) ++returns_;
    after_return_ = false;
    broken_ |= expected_ > 0;
    is_ = reader_.is();
    reader_.finish([&](std::string_view text) { count(text); });
  }

  [[nodiscard]] std::uint64_t bytes() const noexcept { return bytes_; }
  [[nodiscard]] std::string_view encoded_as() const noexcept;
  /// Each kind that was met.
  [[nodiscard]] std::string line_ends() const;

 private:
  void count(std::string_view text);

  encoding reader_;
  encoding::form is_ = encoding::form::open;
  bool marked_ = false;
  std::uint64_t bytes_ = 0;
  std::uint64_t feeds_ = 0;    // LF alone
  std::uint64_t returns_ = 0;  // CR alone
  std::uint64_t both_ = 0;     // CR LF
  bool after_return_ = false;
  bool wide_ = false;    // letters beyond ASCII
  bool broken_ = false;  // letters that are not UTF-8
  int expected_ = 0;     // further bytes of the letter begun
};

}  // namespace stilling::command
