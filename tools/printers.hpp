// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

#include "stilling/text.hpp"

// The three forms settle can answer in. Each takes what the session says, as it says it, and
// appends text; what a form has no words for, it passes over.

namespace stilling::command {

class jsonl_printer {
 public:
  jsonl_printer(std::string_view file, bool verbose) : file_{file}, verbose_{verbose} {}

  void begin(std::string& to, const layout* columns, const presentation&) const {
    jsonl::write_begin(to, file_, columns);
  }
  template <class Item>
  void write(std::string& to, const Item& item, const presentation& as) const {
    if constexpr (std::is_same_v<Item, settled_reading> || std::is_same_v<Item, observation> ||
                  std::is_same_v<Item, forecast>)
      jsonl::write(to, item, as);
    else if constexpr (std::is_same_v<Item, rejection>) {
      if (verbose_) jsonl::write(to, item);
    } else if constexpr (std::is_same_v<Item, phase_change> ||
                         std::is_same_v<Item, discontinuity>) {
      jsonl::write(to, item);
    }
  }
  void tell(std::string& to, instant when, const finding& f, const presentation& as) const {
    jsonl::write(to, when, f, as);
  }
  void end(std::string& to, const log_summary& s, const presentation& as) const {
    jsonl::write(to, s, as);
  }

 private:
  std::string file_;
  bool verbose_;
};

/// Logs that share a table share the columns of the first: units are converted to its units.
class csv_printer {
 public:
  /// `shared` null: the log's own columns, under a header.
  csv_printer(std::string_view file, const presentation* shared) : file_{file}, shared_{shared} {}

  void begin(std::string& to, const layout* columns, const presentation& as) {
    if (shared_ != nullptr || columns == nullptr) return;
    own_ = as;
    csv::write_header(to, own_);
  }
  template <class Item> void write(std::string& to, const Item& item, const presentation&) const {
    if constexpr (std::is_same_v<Item, settled_reading>)
      if (item.to) csv::write(to, file_, item, shared_ != nullptr ? *shared_ : own_);
  }
  void tell(std::string&, instant, const finding&, const presentation&) const {}
  void end(std::string&, const log_summary&, const presentation&) const {}

 private:
  std::string file_;
  const presentation* shared_;
  presentation own_;
};

class plain_printer {
 public:
  plain_printer(std::string_view file, bool verbose, bool colour)
      : file_{file}, verbose_{verbose}, colour_{colour} {}

  void begin(std::string& to, const layout*, const presentation&) const {
    if (!file_.empty()) (to += file_) += "\n\n";
  }
  template <class Item> void write(std::string& to, const Item& item, const presentation& as) {
    if constexpr (std::is_same_v<Item, settled_reading>) {
      if (item.to) return closed_.push_back(item);
      if (colour_) to += "\x1b[1m";
      plain::write(to, item, as);
      if (colour_) to.insert(to.size() - 1, "\x1b[0m");
    } else if constexpr (std::is_same_v<Item, forecast>) {
      plain::write(to, news_of(item), as);
    } else if constexpr (std::is_same_v<Item, observation>) {
      const bool before = told_already(item.what);
      // Which readings creep or swing stands in the table too.
      const bool tabled = item.what == finding_kind::creeping || item.what == finding_kind::hunting;
      if (!before || !tabled) plain::write(to, item, as, before);
    } else if constexpr (std::is_same_v<Item, phase_change> || std::is_same_v<Item, note> ||
                         std::is_same_v<Item, discontinuity>) {
      plain::write(to, item);
    }
  }
  void tell(std::string& to, instant when, const finding& f, const presentation& as) {
    plain::write(to, when, f, as, told_already(f.what));
  }
  void end(std::string& to, const log_summary& s, const presentation& as) const {
    std::string table, last;
    plain::write_table(table, closed_, as, verbose_);
    plain::write(last, s, as);
    for (const auto* part : {&table, &last})
      if (!part->empty()) (to += to.empty() && s.frames == 0 ? "" : "\n") += *part;
  }

 private:
  /// With advice; from now on it is.
  bool told_already(finding_kind what) {
    const bool before = std::ranges::find(told_, what) != told_.end();
    if (!before) told_.push_back(what);
    return before;
  }

  /// That a channel follows no exponential is said once, where something was foretold of it.
  forecast news_of(forecast f) {
    for (const auto c : all_channels) {
      if (!f.channels.has(c)) continue;
      const bool told = f.channels[c].fit != forecast_fit::does_not_fit;
      if (!told && !foretold_.contains(c)) f.channels.clear(c);
      if (told) foretold_.insert(c);
      else foretold_.erase(c);
    }
    return f;
  }

  std::string file_;
  bool verbose_;
  bool colour_;
  channel_set foretold_;
  std::vector<settled_reading> closed_;
  std::vector<finding_kind> told_;  // with advice
};

}  // namespace stilling::command
