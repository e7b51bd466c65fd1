// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "chosen_tests.hpp"
#include "own_words.hpp"
#include "stilling/history.hpp"
#include "stilling/terms/settings.hpp"
#include "stilling/text.hpp"
#include "typed_reading.hpp"

namespace CLI {
class App;
}

// What was asked for on the command line, as meant rather than as typed.

namespace stilling::command {

/// Where a log comes from that is still being written.
struct live_source {
  std::string device;  // a serial one; empty: none
  int baud = 9600;     // common practice, as is 8N1
  std::string framing = "8N1";
  bool wait = false;                  // for the device, where it is not there or no longer
  std::optional<duration> wait_most;  // none: for ever
  bool follow = false;                // the file grows
};

/// How a log is read, judged and shown; settle and look share it.
struct log_options {
  live_source live;
  session_settings settings;
  presentation shown;
  bool fuel_by_hand = false;             // --fuel was given
  std::string air_temp;                  // as typed; empty: the log's own
  std::string time_zone;                 // as typed; empty: UTC
  bool required_by_hand = false;         // --require was given
  std::optional<bool> combustion_check;  // --combustion-check was given
  bool stamped = false;
  bool stamped_where_needed = false;  // and not where the log has times of its own
  std::string record;                 // empty: none
  bool drift_correction = false;      // --drift-correction was given
  /// Of a fuel, of limits, of an instrument; copies share it.
  std::shared_ptr<own_words> own = std::make_shared<own_words>();
};

enum class form : std::uint8_t { plain, jsonl, csv };

struct settle_request {
  std::vector<std::string> files;  // empty: standard input
  log_options log;
  form as = form::plain;
  bool verbose = false;
  bool forecast = false;
  bool finished = false;  // in hindsight
  bool fail_on_rejection = false;
  std::string folder;  // empty: standard output
  unsigned jobs = 1;
};

struct report_request {
  enum class manner : std::uint8_t { text, html, json };
  settle_request test;    // one log
  manner as = manner::text;
  std::size_t width = 80;  // of the text, in columns
  std::size_t copies = 1;
  std::string out;         // empty: standard output
};

struct look_request {
  enum class joint : std::uint8_t { frames, verdicts };
  joint at = joint::frames;
  std::string file;
  log_options log;
};

struct watch_request {
  std::string file;  // "-" or empty: standard input
  log_options log;
  bool plain = false;  // line by line
  bool bell = false;
  bool serve = false;
  int port = 0;  // 0: any that is free
  std::string address = "127.0.0.1";
};

struct check_request {
  std::string file;
  log_options log;
  bool json = false;
};

struct simulate_request {
  std::string scenario;  // empty: list them
  std::uint64_t seed = 1;
  std::string log, truth;  // empty: standard output; none
  double pace = 0;         // rows come as time passes, so many times as fast; 0: at once
};

struct derive_request {
  enum class manner : std::uint8_t { plain, json, explain, table, csv };
  log_options log;
  lanes<estimate> read;
  lanes<typed_range> ranges;  // for a table
  judge_options also;         // smoke, absorption kit
  std::optional<estimate> height, outdoor;
  std::optional<estimate> draft_zero;
  std::optional<estimate> room_co;
  figure of_table = figure::efficiency_gross;
  manner as = manner::plain;
  bool verbose = false;
};

/// Tests into a file of them.
struct keep_request {
  std::string database;
  settle_request judged;  // the logs, and how they are judged
  std::string settings;   // the same, as a settings file
  particulars about;
  std::optional<std::int64_t> day;  // by the person; none: the log's own
  bool replace = false;
};

/// Tests out of a file of them.
struct past_request {
  enum class manner : std::uint8_t { plain, html, csv, json, folder, forget };
  std::string database;
  chosen_tests which;
  manner as = manner::plain;
  log_options log;  // units to show
  history::reading_of_test reading = history::reading_of_test::last;
  std::string folder;
  bool yes = false;
};

struct list_request {
  enum class subject : std::uint8_t { channels, fuels, criteria, limits };
  subject of = subject::channels;
};

using request =
    std::variant<settle_request, watch_request, report_request, derive_request, look_request,
                 check_request, keep_request, past_request, simulate_request, list_request>;

/// Nothing to run: help that was asked for (status 0), or what was wrong (status 2).
struct last_word {
  int status = 0;
  std::string text;
};

/// Every verb and option, to whoever writes them down.
void tell_options(const std::function<void(const CLI::App&)>& to);

[[nodiscard]] std::variant<request, last_word> read_arguments(int count,
                                                              const char* const* arguments);

}  // namespace stilling::command
