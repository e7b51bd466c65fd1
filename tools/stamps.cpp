// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stamps.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "stilling/decoding/break_mark.hpp"

namespace stilling::command {
namespace {

/// Positions are asked for without a time: any spacing makes the decoder content with that.
decoder_settings without_time(decoder_settings s) {
  s.interval = seconds(1);
  s.joined = false;
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

stamper::stamper(const decoder_settings& s, bool where_needed)
    : header_{s.fields.view()},
      where_needed_{where_needed},
      labelled_{s.labelled},
      headed_{s.labelled},
      joined_{s.joined},
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

void stamper::tear(std::string& to) {
  after_return_ = false;
  if (line_.empty()) return;
  line_ += torn_line_mark;
  put_line(line_, to);
  to += '\n';
  line_.clear();
}

void stamper::reconnect(instant at, std::string& to) {
  tear(to);
  joined_ = !headed_;
  if (own_times_) to += fmt::format("# {}\n", reconnect_note);
  else if (headed_) to += fmt::format("# {} {}\n", spelled(at), reconnect_note);
}

void stamper::finish(std::string& to) {
  if (!line_.empty()) put_line(line_, to);
  if (held_) put_header_in_front(to);
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
  if (own_times_ && where_needed_) {
    to += line;
    return;
  }
  if (line[first] == '#') return put_note(line.substr(first + 1), to);
  if (labelled_) {
    put_row("time_s=", ' ', line, to);
    return;
  }
  // What a line is shows by what a decoder says of it: of a header nothing but the layout. A part
  // of a line has no layout to show.
  bool is_row = joined_ && !header_.empty() && !held_;
  std::optional<layout> found;
  if (!is_row)
    headers_.push(
        record{.line = number_, .text = line},
        overloaded{[&](const layout& l) { found = l; }, [&](const frame&) { is_row = true; },
                   [&](const rejection&) { is_row = true; }, [](const auto&) {}});
  if (found) {
    separator_ = found->separator;
    own_times_ = own_times_ || found->time.form != clock_form::none;
  }
  if (own_times_ && where_needed_) {
    if (std::exchange(held_, false)) (to += header_) += '\n';
    headed_ = true;
    to += line;
    return;
  }
  if (!is_row) return put_header(found.has_value(), line, to);
  if (!headed_ && (found || held_)) {
    if (!held_) std::ranges::replace(header_, ',', separator_);  // --fields
    put_header_in_front(to);
    headed_ = found.has_value();
  }
  after_header_ = false;
  put_row("", separator_, line, to);
}

void stamper::put_note(std::string_view words, std::string& to) {
  // Ahead of any header no time could be read; a note without one has that of the row after it.
  to += headed_ ? fmt::format("# {}", spelled(began_)) : "#";
  to += words.starts_with(' ') ? "" : " ";
  to += words;
}

void stamper::put_header(bool complete, std::string_view line, std::string& to) {
  joined_ = false;
  if (after_header_ && line != header_) {
    // A row of units; ours is the first of them.
    if (held_) put_header_in_front(to);
    to += fmt::format("s{}{}", separator_, line);
    headed_ = true;
    after_header_ = false;
    return;
  }
  after_header_ = true;
  header_ = line;
  headed_ = headed_ || complete;
  held_ = !headed_;  // the line after it shows what separates its names
  if (headed_) to += fmt::format("time_s{}{}", separator_, line);
}

void stamper::put_header_in_front(std::string& to) {
  to += fmt::format("time_s{}{}\n", separator_, header_);
  held_ = false;
}

void stamper::put_row(std::string_view name, char separator, std::string_view line,
                      std::string& to) {
  to += name;
  to += next_stamp();
  to += separator;
  to += line;
  if (std::exchange(joined_, false) && !is_torn(line)) to += torn_line_mark;
}

}  // namespace stilling::command
