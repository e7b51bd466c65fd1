// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "options.hpp"
#include "stilling/session.hpp"

// What a log begins with decides how it is judged: a log without CO cannot be asked for steady CO,
// one without O2 not for a fire. So the first bytes are held back until the columns are known.

namespace stilling::command {

class opening {
 public:
  explicit opening(const session_settings& s) : reader_{framer<>{} | decoder{s.decoder}} {}

  /// Takes what it needs of the bytes, and says how many that was. The same whatever the pieces.
  std::size_t push(std::string_view bytes);
  /// The columns are known, or there are none to be expected.
  [[nodiscard]] bool over() const noexcept { return found_ || held_.size() >= most; }
  void finish();

  [[nodiscard]] const layout* found() const noexcept { return found_ ? &*found_ : nullptr; }
  [[nodiscard]] std::string_view held() const noexcept { return held_; }

 private:
  static constexpr std::size_t most = 1 << 20;
  decltype(framer<>{} | decoder{decoder_settings{}}) reader_;
  std::string held_;
  std::optional<layout> found_;
};

/// The settings a log with these columns can be judged by, and what was assumed to get there.
struct fitted_settings {
  session_settings settings;
  std::vector<std::string> assumptions;  // as in log_summary
  std::string refusal;                   // empty: none
};
[[nodiscard]] fitted_settings fit(const log_options& asked, const layout* columns);

}  // namespace stilling::command
