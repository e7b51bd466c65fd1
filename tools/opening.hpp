// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <memory>
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

/// What the settings assume about the reading of a log with these columns, as in log_summary.
[[nodiscard]] std::vector<std::string> reading_assumptions(const log_options& asked,
                                                           const layout& columns);

/// The settings a log with these columns can be judged by, and what was assumed to get there.
struct fitted_settings {
  session_settings settings;
  std::vector<std::string> assumptions;  // as in log_summary
  std::string refusal;                   // empty: none
};
[[nodiscard]] fitted_settings fit(const log_options& asked, const layout* columns);

/// A chain that is made once the opening is over, and is given then what was held back. `make`
/// is asked once, for a std::unique_ptr<Chain>; an empty one means that the log is refused.
template <class Chain> class held_back {
 public:
  explicit held_back(const session_settings& s) : opening_{s} {}

  [[nodiscard]] const layout* found() const noexcept { return opening_.found(); }

  template <class Make, class Sink> void push(std::string_view bytes, Make make, Sink sink) {
    if (!begun_) {
      bytes.remove_prefix(opening_.push(bytes));
      if (!opening_.over()) return;
      begin(make, sink);
    }
    if (chain_) chain_->push(bytes, sink);
  }
  template <class Sink> void push(const frame& row, Sink sink) {
    if (chain_) chain_->push(row, sink);
  }
  template <class Sink> void advance(instant t, Sink sink) {
    if (chain_) chain_->advance(t, sink);
  }
  /// False where the log was refused.
  template <class Make, class Sink> bool finish(Make make, Sink sink) {
    if (!begun_) {
      opening_.finish();
      begin(make, sink);
    }
    if (chain_) chain_->finish(sink);
    return chain_ != nullptr;
  }

 private:
  template <class Make, class Sink> void begin(Make& make, Sink& sink) {
    begun_ = true;
    chain_ = make();
    if (chain_) chain_->push(opening_.held(), sink);
  }

  opening opening_;
  bool begun_ = false;
  std::unique_ptr<Chain> chain_;
};

}  // namespace stilling::command
