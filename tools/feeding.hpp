// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <fmt/format.h>

#include <array>
#include <chrono>
#include <concepts>
#include <optional>
#include <string>
#include <string_view>

#include "follow.hpp"
#include "options.hpp"
#include "serial.hpp"
#include "sources.hpp"
#include "stamps.hpp"
#include "stilling/decoding/break_mark.hpp"
#include "stilling/decoding/fields.hpp"
#include "stilling/items/layout.hpp"

// Bytes from a source into a log, stamped and recorded on the way where that is asked for.

namespace stilling::command {

/// What the library is told: stamped lines come under a header of their own.
[[nodiscard]] inline log_options as_fed(log_options o) {
  if (!o.stamped) return o;
  o.settings.decoder.fields = {};
  o.settings.decoder.joined = false;  // a first line that is torn is marked
  return o;
}

/// Between the source and the library.
class intake {
 public:
  explicit intake(const log_options& o) : where_needed_{o.stamped_where_needed} {
    if (o.stamped) stamps_.emplace(o.settings.decoder, o.stamped_where_needed);
    if (!o.record.empty()) record_.emplace(o.record, outlet::manner::growing);
  }

  /// The bytes as the library shall see them, and as they are recorded. Likewise below: what broke
  /// off is said in the log itself.
  std::string_view take(std::string_view bytes) {
    if (!bytes.empty()) {
      within_line_ = bytes.back() != '\n' && bytes.back() != '\r';
      remember_newest_row(bytes);
    }
    if (!stamps_) return recorded(bytes);
    stamped_.clear();
    stamps_->push(bytes, clock_.time(), stamped_);
    return recorded(stamped_);
  }
  /// What comes next does not continue the line under way.
  std::string_view tear() {
    stamped_.clear();
    tail_.clear();
    if (stamps_) stamps_->tear(stamped_);
    else if (within_line_) stamped_ = {torn_line_mark, '\n'};
    within_line_ = false;
    return recorded(stamped_);
  }
  /// The source broke off and was found again.
  std::string_view reconnect() {
    stamped_.clear();
    if (stamps_) {
      stamps_->reconnect(clock_.time(), stamped_);
    } else {
      if (within_line_) stamped_ = {torn_line_mark, '\n'};
      stamped_ += fmt::format("# {}\n", reconnect_note);
      within_line_ = false;
    }
    return recorded(stamped_);
  }
  std::string_view rest() {
    stamped_.clear();
    if (stamps_) stamps_->finish(stamped_);
    return recorded(stamped_);
  }
  /// A note may come in between: what was taken ends with a line.
  [[nodiscard]] bool between_lines() const noexcept { return !within_line_; }
  /// A note by the person at the burner, as a line of the log: at the time of its newest row where
  /// that is plain from `columns` (may be null), else at that of the row after it.
  std::string_view write_note(std::string_view words, const layout* columns) {
    const bool stamps_notes = stamps_ && !stamps_->has_own_times();
    const auto when = stamps_notes ? std::string_view{} : newest_time(columns);
    // Words that begin like a time would be taken for one.
    const bool guarded = when.empty() && !words.empty() && words.front() <= '9';
    const auto line = fmt::format("{}#{}{}{} {}\n", within_line_ ? "\n" : "",
                                  when.empty() ? "" : " ", when, guarded ? " remark" : "", words);
    within_line_ = false;
    stamped_.clear();
    if (stamps_) stamps_->push(line, clock_.time(), stamped_);
    else stamped_ = line;
    return recorded(stamped_);
  }
  /// Where silence has a meaning: the library's clock is ours.
  [[nodiscard]] std::optional<instant> time() const {
    if (!stamps_ || stamps_->has_own_times()) return std::nullopt;
    return clock_.time();
  }
  [[nodiscard]] std::string fault() const {
    if (record_ && record_->is() != outlet::state::open)
      return fmt::format("the record cannot be written: {}", record_->fault());
    if (stamps_ && stamps_->has_own_times() && !where_needed_)
      return "this log has times of its own; leave --stamp away";
    return {};
  }

 private:
  /// The end of what was taken, as far as it may hold the newest whole line that is no note.
  void remember_newest_row(std::string_view bytes) {
    constexpr std::size_t enough = 4096;
    if (bytes.size() >= enough) tail_.clear(), bytes.remove_prefix(bytes.size() - enough);
    else if (tail_.size() + bytes.size() > 2 * enough) tail_.erase(0, tail_.size() - enough);
    tail_ += bytes;
  }
  [[nodiscard]] std::string_view newest_time(const layout* columns) const {
    if (columns == nullptr || columns->labelled || columns->time.form == clock_form::none ||
        columns->time.second != columns->time.field)
      return {};
    std::string_view rest = tail_;
    for (auto end = rest.find_last_of("\r\n"); end != std::string_view::npos && end > 0;
         end = rest.find_last_of("\r\n")) {
      rest = rest.substr(0, end);
      const auto begin = rest.find_last_of("\r\n");
      if (begin == std::string_view::npos) return {};  // perhaps not the whole of the line
      const auto line = rest.substr(begin + 1);
      if (trimmed(line).empty() || trimmed(line).front() == '#') continue;
      field f;
      field_cursor cursor{line, columns->separator};
      for (std::uint32_t i = 0; i <= columns->time.field; ++i)
        if (!cursor.next(f)) return {};
      // Neither a name nor what noise left of a number.
      const auto letters = columns->time.form == clock_form::number
                               ? std::string_view{"0123456789.-"}
                               : std::string_view{"0123456789.-:+/TZ "};
      return f.text.find_first_not_of(letters) == std::string_view::npos ? f.text
                                                                         : std::string_view{};
    }
    return {};
  }

  std::string_view recorded(std::string_view bytes) {
    // What cannot be kept is not judged either: all that was said can be said again.
    if (record_ && !bytes.empty() && !record_->write(bytes)) return {};
    return bytes;
  }

  arrival_clock clock_;
  std::optional<stamper> stamps_;
  std::optional<outlet> record_;
  std::string stamped_;
  std::string tail_;
  bool within_line_ = false;
  bool where_needed_;
};

/// Someone beside the log who cannot wait for its next row: called at least once in a `beat`, with
/// words for the log now and then.
template <class Spoke> concept person_at_the_burner = requires(Spoke& s) {
  { s.beat() } -> std::convertible_to<std::chrono::milliseconds>;
  { s.next_note() } -> std::convertible_to<std::optional<std::string>>;
};

/// Reads a source to its end, as below.
template <class Source, class Log, class Spoke>
[[nodiscard]] std::string feed_from(Source& from, progress& seen, const log_options& o, Log& log,
                                    Spoke spoke) {
  using enum portion::state;
  if (!from.fault().empty()) return std::string{from.fault()};
  intake in{o};
  auto wait = o.stamped ? std::optional{std::chrono::milliseconds{1000}} : std::nullopt;
  const auto take_notes = [&] {
    if constexpr (person_at_the_burner<Spoke>)
      while (auto words = spoke.next_note()) log.push(in.write_note(*words, log.columns()));
  };
  if constexpr (person_at_the_burner<Spoke>) wait = spoke.beat();
  std::array<char, 65'536> piece;
  bool any = false;
  std::string fault = in.fault();
  while (fault.empty()) {
    const auto got = from.read(piece, wait);
    if (got.is == failed) fault = from.fault();
    if (got.is == failed || got.is == ended) break;
    if (const auto now = in.time(); got.is == quiet && now) log.advance(*now);
    if (got.is == torn) log.push(in.tear());
    if (got.is == reconnect) log.push(in.reconnect());
    if (got.is == bytes) log.push(in.take({piece.data(), got.size}));
    if (in.between_lines()) take_notes();
    any = any || got.size > 0;
    fault = in.fault();
    seen.add(got.size);
    if (!log.text().empty()) seen.make_way();
    if (!spoke()) return fault;
  }
  seen.clear();
  if (!fault.empty() && !any) return fault;
  // Also where the source failed: what came before it is worth its last word.
  take_notes();
  log.push(in.rest());
  if (fault.empty()) fault = in.fault();
  log.finish();
  spoke();
  return fault;
}

/// Reads a log to its end, from wherever `o` says. `spoke` is called after each portion and says
/// whether to go on; it finds what was said in `log.text()`. Returns what went wrong with the
/// source; empty: nothing.
template <class Log, class Spoke>
[[nodiscard]] std::string feed(std::string_view path, const log_options& o, bool show_progress,
                               Log& log, Spoke spoke) {
  progress unseen{path, std::nullopt};
  if (!o.live.device.empty()) {
    serial_line from{o.live};
    if (o.stamped && from.fault().empty())
      complain("rows without a time of their own are stamped as they arrive");
    return feed_from(from, unseen, o, log, spoke);
  }
  if (o.live.follow) {
    followed_file from{path};
    return feed_from(from, unseen, o, log, spoke);
  }
  source from{path};
  if (from.is_keyboard()) complain("reading from the keyboard; Ctrl-D ends the log");
  progress seen{path, show_progress ? from.size() : std::nullopt};
  return feed_from(from, seen, o, log, spoke);
}

}  // namespace stilling::command
