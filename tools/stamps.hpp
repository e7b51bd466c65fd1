// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <chrono>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "stilling/stages/decoder.hpp"
#include "stilling/stages/stage.hpp"
#include "stilling/terms/time.hpp"

// Arrival times, for instruments that send rows without one. The stamp goes in front of the line,
// as a column time_s, before the library sees it: what is judged live is exactly what --record
// writes, and a replay of that file gives the same output.

namespace stilling::command {

/// Unix time that never steps back while we run, whatever is done to the host's clock meanwhile.
class arrival_clock {
 public:
  [[nodiscard]] instant time() const;

 private:
  std::chrono::system_clock::time_point wall_ = std::chrono::system_clock::now();
  std::chrono::steady_clock::time_point steady_ = std::chrono::steady_clock::now();
};

class stamper {
 public:
  /// `s`: how the stream is read, without its times. `where_needed`: a stream with a time column of
  /// its own passes as it is.
  explicit stamper(const decoder_settings& s, bool where_needed = false);

  /// Bytes that came in at `at`. Appends the lines they complete, each under the time of its first
  /// byte, no two rows under the same. Cutting the bytes elsewhere changes stamps only.
  void push(std::string_view bytes, instant at, std::string& to);
  /// The line under way is not continued by what comes next: it is marked as torn.
  void tear(std::string& to);
  /// The source broke off and was found again at `at`; its first line may lack its beginning.
  void reconnect(instant at, std::string& to);
  /// The stream ended: what it left unfinished.
  void finish(std::string& to);

  /// The stream names a time column of its own: it needs no stamps, and gets none from here on
  /// where that was left to it.
  [[nodiscard]] bool has_own_times() const noexcept { return own_times_; }

 private:
  void put_line(std::string_view line, std::string& to);
  void put_note(std::string_view words, std::string& to);
  void put_header(bool complete, std::string_view line, std::string& to);
  void put_header_in_front(std::string& to);
  void put_row(std::string_view name, char separator, std::string_view line, std::string& to);
  std::string next_stamp();

  std::string header_;  // the newest, or the names of --fields
  bool where_needed_;
  bool labelled_;      // values carry labels, so does the time
  bool headed_;        // times can be read from here on
  bool joined_;        // the next line may lack its beginning
  bool held_ = false;  // header_ stood in the stream and is still to be written
  bool after_header_ = false;
  decoder headers_;   // tells a header from a row, and what separates the fields
  std::string line_;  // begun, not ended
  instant began_{};
  instant newest_{};  // stamp of a row
  std::uint64_t number_ = 0;
  char separator_ = ',';
  bool after_return_ = false;
  bool own_times_ = false;
};

}  // namespace stilling::command
