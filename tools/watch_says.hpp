// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "stilling/text.hpp"
#include "stilling/terms/settings.hpp"
#include "stilling/visit/visit.hpp"

// What a person who looks up from the burner wants to know, as sentences under the questions they
// answer: no layout, so that a terminal, a page for a phone and a line of text say the same.

namespace stilling::command {

/// CO at a dangerous level, while it lasts.
struct alarm {
  instant began{}, newest{};
  finding worst;
};

/// Everything the sentences are made of.
struct watch_state {
  const visit* test = nullptr;  // null: the columns are not known yet
  presentation as;
  session_settings judged_by;
  std::optional<alarm> danger;
  bool danger_seen = false;           // the person said so
  bool ended = false;                 // the log has
  std::optional<double> silent;       // seconds since anything was heard, where that is long
  std::uint64_t unusable = 0;         // lines
  std::string source, recorded_in, served_at;  // empty: none
};

/// A spirit level for one channel: the bubble is where its rate may lie, the marks are what is
/// allowed. In multiples of the limit.
struct level {
  std::string now;    // "stack 471.2 °F"
  std::string moves;  // "rises 4.1 a minute; 3 allowed"
  std::string brief;  // "+4.1 of 3"
  bool steady = false;
  bool measured = false;      // else there is no bubble
  double low = 0, high = 0;   // of the bubble
  double mark = 1;            // at plus and minus this; 0: none, a rule about readings decides
};

struct caution {
  severity grave = severity::note;
  std::string text;
  bool seen = false;
};

struct told {
  std::vector<caution> cautions;  // dangers first
  std::string word;               // of the state, to be read from afar: "SETTLED"
  std::string answer;             // is it settled? if not, why
  std::string when;               // how long still; empty: nothing can be said
  std::string next;               // what to do now
  std::vector<level> levels;      // of what must stand still
  std::string beside;             // the other channels
  std::string reading;            // what is settled, or was last
  std::string drafts;             // of it
  std::string figures;            // what follows from it
  std::string change;             // since the reading before
  std::string last_note;
  std::string at, source;         // time of the newest row; where it comes from
};

[[nodiscard]] told say(const watch_state& s);
/// Every word `told::word` can be.
[[nodiscard]] std::vector<std::string_view> state_words();
/// "1 min 20 s"; in steps that fit what is known.
[[nodiscard]] std::string span_words(double seconds);

}  // namespace stilling::command
