// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stamps.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace stilling::command {
namespace {

/// Positions are asked for without a time: any spacing makes the decoder content with that.
decoder_settings without_time(decoder_settings s) {
  s.interval = seconds(1);
  return s;
}

/// As finely as stamps are written.
constexpr duration least_step{1000};

/// The framer holds less, so what is left out here is rejected there anyway.
constexpr std::size_t longest_line = 65'536;

std::string spelled(instant t) {
  const auto us = t.time_since_epoch().count() / 1000;
  return fmt::format("{}.{:06}", us / 1'000'000, us % 1'000'000);
}

}  // namespace

instant arrival_clock::time() const {
  const auto at = wall_ + std::chrono::duration_cast<std::chrono::system_clock::duration>(
                              std::chrono::steady_clock::now() - steady_);
  const auto us = std::chrono::duration_cast<std::chrono::microseconds>(at.time_since_epoch());
  return instant{std::chrono::duration_cast<duration>(us)};
}

stamper::stamper(const decoder_settings& s)
    : fields_{s.fields.view()},
      fields_given_{!fields_.empty()},
      labelled_{s.labelled},
      headers_{without_time(s)} {}

void stamper::push(std::string_view bytes, instant at, std::string& to) {
  for (const char c : bytes) {
    if (c == '\n' && std::exchange(after_return_, false)) continue;
    after_return_ = c == '\r';
    if (c == '\n' || c == '\r') {
      put_line(line_, to);
      to += '\n';
      line_.clear();
      continue;
    }
    if (line_.empty()) began_ = at;
    if (line_.size() < longest_line) line_ += c;
  }
}

void stamper::finish(std::string& to) {
  if (!line_.empty()) put_line(line_, to);
  line_.clear();
}

std::string stamper::next_stamp() {
  // Two rows may say the same in one breath, and are two rows.
  newest_ = std::max(began_, newest_ + least_step);
  return spelled(newest_);
}

void stamper::put_line(std::string_view line, std::string& to) {
  ++number_;
  const auto first = line.find_first_not_of(" \t");
  if (first == std::string_view::npos) return;
  if (line[first] == '#') {
    const auto words = line.substr(first + 1);
    to += fmt::format("# {}{}{}", spelled(began_), words.starts_with(' ') ? "" : " ", words);
    return;
  }
  std::optional<layout> found;
  headers_.push(record{.line = number_, .text = line},
                overloaded{[&](const layout& l) { found = l; }, [](const auto&) {}});
  if (found) own_times_ = own_times_ || found->time.form != clock_form::none;
  if (labelled_) {
    to += fmt::format("time_s={} {}", next_stamp(), line);
    return;
  }
  if (found) {
    separator_ = found->separator;
    if (!std::exchange(fields_given_, false)) {
      to += fmt::format("time_s{}{}", separator_, line);
      return;
    }
    // Found by the first row: the header is still to be written.
    std::ranges::replace(fields_, ',', separator_);
    to += fmt::format("time_s{}{}\n", separator_, fields_);
  }
  to += fmt::format("{}{}{}", next_stamp(), separator_, line);
}

}  // namespace stilling::command
