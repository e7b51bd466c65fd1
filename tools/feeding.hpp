// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <fmt/format.h>

#include <array>
#include <chrono>
#include <optional>
#include <string>
#include <string_view>

#include "options.hpp"
#include "sources.hpp"
#include "stamps.hpp"

// Bytes from a source into a log, stamped and recorded on the way where that is asked for.

namespace stilling::command {

/// What the library is told: stamped lines come under a header of their own.
[[nodiscard]] inline log_options as_fed(log_options o) {
  if (o.stamped) o.settings.decoder.fields = {};
  return o;
}

/// Between the source and the library.
class intake {
 public:
  explicit intake(const log_options& o) {
    if (o.stamped) stamps_.emplace(o.settings.decoder);
    if (!o.record.empty()) record_.emplace(o.record, outlet::manner::growing);
  }

  /// The bytes as the library shall see them.
  std::string_view take(std::string_view bytes) {
    if (stamps_) {
      stamped_.clear();
      stamps_->push(bytes, clock_.time(), stamped_);
      bytes = stamped_;
    }
    if (record_) record_->write(bytes);
    return bytes;
  }
  std::string_view rest() {
    stamped_.clear();
    if (stamps_) stamps_->finish(stamped_);
    if (record_) record_->write(stamped_);
    return stamped_;
  }
  /// Where silence has a meaning: the library's clock is ours.
  [[nodiscard]] std::optional<instant> time() const {
    return stamps_ ? std::optional{clock_.time()} : std::nullopt;
  }
  [[nodiscard]] std::string fault() const {
    if (record_ && record_->is() != outlet::state::open)
      return fmt::format("the record cannot be written: {}", record_->fault());
    if (stamps_ && stamps_->has_own_times())
      return "this log has times of its own; leave --stamp away";
    return {};
  }

 private:
  arrival_clock clock_;
  std::optional<stamper> stamps_;
  std::optional<outlet> record_;
  std::string stamped_;
};

/// Reads a source to its end. `spoke` is called after each portion and says whether to go on; it
/// finds what was said in `log.text()`. Returns what went wrong with the source; empty: nothing.
template <class Log, class Spoke>
[[nodiscard]] std::string feed(std::string_view path, const log_options& o, bool show_progress,
                               Log& log, Spoke spoke) {
  source from{path};
  if (!from.fault().empty()) return std::string{from.fault()};
  if (from.is_keyboard()) complain("reading from the keyboard; Ctrl-D ends the log");
  intake in{o};
  progress seen{path, show_progress ? from.size() : std::nullopt};
  const auto wait = o.stamped ? std::optional{std::chrono::milliseconds{1000}} : std::nullopt;
  std::array<char, 65'536> bytes;
  bool any = false;
  std::string fault = in.fault();
  while (fault.empty()) {
    const auto got = from.read(bytes, wait);
    if (got.is == source::state::failed) fault = from.fault();
    if (got.is == source::state::failed || got.is == source::state::ended) break;
    if (got.is == source::state::quiet) log.advance(*in.time());
    else log.push(in.take({bytes.data(), got.size}));
    any = any || got.size > 0;
    fault = in.fault();
    seen.add(got.size);
    if (!log.text().empty()) seen.make_way();
    if (!spoke()) return fault;
  }
  seen.clear();
  if (!fault.empty() && !any) return fault;
  // Also where the source failed: what came before it is worth its last word.
  log.push(in.rest());
  if (fault.empty()) fault = in.fault();
  log.finish();
  spoke();
  return fault;
}

}  // namespace stilling::command
