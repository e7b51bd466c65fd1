// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <type_traits>
#include <utility>

#include "cells.hpp"
#include "gathered.hpp"
#include "next_step.hpp"
#include "printers.hpp"
#include "stilling/combustion/finding.hpp"
#include "stilling/terms/settings.hpp"
#include "watch_says.hpp"

// What a judged log says, kept for a screen, and in words for whoever reads line by line.

namespace stilling::command {

class watched {
 public:
  explicit watched(bool colour) : lines_{"", false, colour} {}
  watched(const watched&) = delete;
  watched& operator=(const watched&) = delete;

  void judged_by(const session_settings& s) { settings_ = s; }
  void begin(std::string& to, const layout* columns, const presentation& as) {
    as_ = as;
    gathered_.begin(to, columns, as);
    lines_.begin(to, columns, as);
  }
  void look(const verdict& v) {
    gathered_.look(v);
    watch_monoxide(v);
  }
  template <class Item> void write(std::string& to, const Item& item, const presentation& as) {
    as_ = as;
    gathered_.write(to, item, as);
    lines_.write(to, item, as);
    if constexpr (std::is_same_v<Item, settled_reading>) {
      if (!item.to) say_more(to);
    } else if constexpr (std::is_same_v<Item, phase_change>) {
      if (!test() || item.to == phase::steady) return;
      auto next = next_step(*test(), item.to, as);
      if (next != std::exchange(next_, next)) put(to, "next: " + next);
    }
  }
  void tell(std::string& to, instant when, const finding& f, const presentation& as) {
    gathered_.tell(to, when, f, as);
    lines_.tell(to, when, f, as);
  }
  void end(std::string& to, const log_summary& s, const presentation& as) {
    gathered_.end(to, s, as);
    lines_.end(to, s, as);
  }

  [[nodiscard]] const std::optional<visit>& test() const noexcept { return gathered_.test(); }
  [[nodiscard]] const presentation& as() const noexcept { return as_; }
  [[nodiscard]] const session_settings& settings() const noexcept { return settings_; }
  /// None where there is no danger, or none any more.
  [[nodiscard]] const std::optional<alarm>& danger() const noexcept { return danger_; }

 private:
  /// What a reader of lines wants to know besides: what the last move changed, what comes next.
  void say_more(std::string& to) {
    if (!test()) return;
    watch_state s;
    s.test = &*test();
    s.as = as_;
    s.judged_by = settings_;
    const auto t = say(s);
    if (!t.change.empty()) put(to, t.change);
    next_ = next_step(*test(), phase::steady, as_);
    put(to, "next: " + next_);
  }
  static void put(std::string& to, std::string_view sentence) {
    for (const auto& line : wrapped(sentence, 69)) to += std::string(11, ' ') + line + '\n';
  }

  /// It is over after a minute of rows without it.
  void watch_monoxide(const verdict& v) {
    const auto f = alarm_in(v.row, v.in, as_.limits);
    if (!f || f->grave != severity::danger) {
      if (danger_ && v.row.at - danger_->newest >= seconds(60)) danger_.reset();
      return;
    }
    if (!danger_ || v.row.at < danger_->newest) danger_ = alarm{v.row.at, v.row.at, *f};
    danger_->newest = v.row.at;
    const auto& worst = danger_->worst.value;
    if (!f->value || (worst && *f->value > *worst)) danger_->worst = *f;
  }

  gathered gathered_;
  plain_printer lines_;
  presentation as_;
  session_settings settings_;
  std::optional<alarm> danger_;
  std::string next_;
};

}  // namespace stilling::command
