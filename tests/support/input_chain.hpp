// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <fstream>
#include <iterator>
#include <optional>
#include <ostream>
#include <string>
#include <string_view>
#include <vector>

#include "stilling/stages/decoder.hpp"
#include "stilling/stages/framer.hpp"
#include "stilling/stages/timeline.hpp"

/// Bytes through framer, decoder and timeline, with all that comes out kept, for tests.
namespace stilling::testing {

struct kept_rejection {
  std::uint64_t line = 0;
  fault what{};
  std::uint16_t field = 0;
  std::string seen;
  bool operator==(const kept_rejection&) const = default;
};
struct kept_note {
  std::uint64_t line = 0;
  std::optional<instant> at;
  std::string text;
  bool operator==(const kept_note&) const = default;
};
struct kept_assumption {
  std::uint64_t line = 0;
  assumed what{};
  std::uint16_t field = 0;
  std::string seen;
  std::string taken;
  bool operator==(const kept_assumption&) const = default;
};
struct kept_break {
  std::uint64_t line = 0;
  instant at{};
  break_kind kind{};
  std::size_t frames_before = 0;
  bool operator==(const kept_break&) const = default;
};

struct heard {
  std::vector<layout> layouts;
  std::vector<frame> frames;
  std::vector<kept_note> notes;
  std::vector<kept_rejection> rejections;
  std::vector<kept_break> breaks;
  std::vector<kept_assumption> assumptions;
  bool operator==(const heard&) const = default;

  [[nodiscard]] auto sink() {
    return overloaded{[this](const layout& l) { layouts.push_back(l); },
                      [this](const frame& f) { frames.push_back(f); },
                      [this](const note& n) {
                        notes.push_back({n.line, n.at, std::string{n.text}});
                      },
                      [this](const rejection& r) {
                        rejections.push_back({r.line, r.what, r.field, std::string{r.seen}});
                      },
                      [this](const discontinuity& d) {
                        breaks.push_back({d.line, d.at, d.kind, frames.size()});
                      },
                      [this](const assumption& a) {
                        assumptions.push_back(
                            {a.line, a.what, a.field, std::string{a.seen}, std::string{a.taken}});
                      }};
  }

  [[nodiscard]] std::size_t count(fault f) const {
    std::size_t n = 0;
    for (const auto& r : rejections) n += r.what == f ? 1 : 0;
    return n;
  }
  [[nodiscard]] bool says(assumed a) const {
    for (const auto& x : assumptions)
      if (x.what == a) return true;
    return false;
  }
  /// A channel's values in the unit given, frames without the lane left out.
  [[nodiscard]] std::vector<double> values(channel c, unit as) const {
    std::vector<double> out;
    for (const auto& f : frames)
      if (f.indication.has(c)) out.push_back(from_canonical(as, f.indication[c]));
    return out;
  }
  [[nodiscard]] std::vector<double> seconds() const {
    std::vector<double> out;
    for (const auto& f : frames) out.push_back(in_seconds(f.at.time_since_epoch()));
    return out;
  }
};

[[nodiscard]] inline heard listen(std::string_view bytes, const decoder_settings& s = {},
                                  const timeline_settings& t = {},
                                  std::size_t piece = std::string_view::npos) {
  heard out;
  auto sink = out.sink();
  auto chain = framer<>{} | decoder{s} | timeline{t};
  while (!bytes.empty()) {
    chain.push(bytes.substr(0, piece), sink);
    bytes.remove_prefix(bytes.size() < piece ? bytes.size() : piece);
  }
  chain.finish(sink);
  return out;
}

/// A file of tests/cases.
[[nodiscard]] inline std::string case_bytes(const std::string& name) {
  std::ifstream file{std::string{STILLING_TEST_FOLDER} + "/cases/" + name, std::ios::binary};
  if (!file) return "cannot open " + name;
  return {std::istreambuf_iterator<char>{file}, {}};
}

}  // namespace stilling::testing
