// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

// Everything a session says, written down to the last bit, so that two sessions can be compared and
// a difference can be read.

#include <array>
#include <cstdint>
#include <cstdio>
#include <optional>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

#include "stilling/session.hpp"

namespace stilling {

/// A sink. Instants are written as nanoseconds after `origin`.
class transcript {
 public:
  explicit transcript(duration origin = {}) : origin_{origin} {}

  void operator()(const settled_reading& r) {
    readings.push_back(r);
    note_down("plateau", r);
  }
  void operator()(const phase_change& p) {
    phases.push_back(p);
    note_down("phase", p);
  }
  void operator()(const rejection& r) {
    ++rejected;
    note_down(name_of(r.what), r);
  }
  void operator()(const discontinuity& d) { note_down(name_of(d.kind), d); }
  void operator()(const assumption& a) { note_down(name_of(a.what), a); }
  void operator()(const burn& b) { note_down("burn", b); }
  void operator()(const layout& l) { note_down("layout", l); }
  void operator()(const note& n) { note_down("note", n); }
  void operator()(const frame& f) { note_down("frame", f); }
  void operator()(const verdict& v) { note_down("verdict", v); }

  /// FNV-1a over everything said.
  [[nodiscard]] std::uint64_t hash() const {
    std::uint64_t h = 0xcbf29ce484222325U;
    for (const auto& line : lines)
      for (const char c : line) h = (h ^ static_cast<unsigned char>(c)) * 0x100000001b3U;
    return h;
  }

  std::vector<std::string> lines;
  std::vector<settled_reading> readings;
  std::vector<phase_change> phases;
  std::size_t rejected = 0;

 private:
  template <class Item> void note_down(std::string_view word, const Item& item) {
    line_ = word;
    write(item);
    lines.push_back(line_);
  }

  template <class... Ts> void all(const Ts&... each) { (write(each), ...); }

  template <class T> void write(const T& x) {
    static_assert(std::is_floating_point_v<T> || std::is_integral_v<T> || std::is_enum_v<T>);
    char text[40];
    if constexpr (std::is_floating_point_v<T>) {
      std::snprintf(text, sizeof text, " %.17g", x);  // reads back as the same bits
    } else {
      std::snprintf(text, sizeof text, " %lld", static_cast<long long>(x));
    }
    line_ += text;
  }
  void write(instant x) { write((x.time_since_epoch() - origin_).count()); }
  void write(std::string_view x) { line_.append(" '").append(x).append("'"); }
  template <class T, std::size_t N> void write(const std::array<T, N>& each) {
    for (const auto& x : each) write(x);
  }
  template <class T> void write(const lanes<T>& x) {
    for (const channel c : all_channels) {
      if (!x.has(c)) continue;
      line_.append(" ").append(traits_of(c).name);
      write(x[c]);
    }
  }
  template <class T> void write(const std::optional<T>& x) {
    if (x) return write(*x);
    line_ += " -";
  }

  // Every member of an item by name: one that is added there does not compile here until it is
  // written down too.
  void write(const channel_reading& x) {
    const auto& [a, b, c, d, e, f, g, h, correction, i, j, k, l, m, n] = x;
    all(a, b, c, d, e, f, g, h, i, j, k, l, m, n);
    if (correction) write(*correction);
  }
  void write(const oscillation& x) {
    const auto& [period, amplitude] = x;
    all(period, amplitude);
  }
  void write(const settled_reading& x) {
    const auto& [declared, from, to, released, ended, seen, channels, creeping, hunting, drift] = x;
    all(declared, from, to, released, ended, seen, channels, creeping, hunting, drift);
  }
  void write(const phase_change& x) {
    const auto& [at, line, from, to, why, which] = x;
    all(at, line, from, to, why, which);
  }
  void write(const burn& x) {
    const auto& [from, to, peak, last] = x;
    all(from, to, peak, last);
  }
  void write(const note& x) {
    const auto& [line, at, text] = x;
    all(line, at, text);
  }
  void write(const rejection& x) {
    const auto& [line, what, field, seen] = x;
    all(line, what, field, seen);
  }
  void write(const discontinuity& x) {
    const auto& [line, at, kind] = x;
    all(line, at, kind);
  }
  void write(const assumption& x) {
    const auto& [line, what, field, seen, taken] = x;
    all(line, what, field, seen, taken);
  }
  void write(const layout& x) {
    for (const auto& c : x) all(c.field, c.measurand, c.as);
    all(x.time.form, x.time.in, x.time.field, x.time.second, x.fields, x.separator, x.labelled);
  }
  void write(const frame& x) {
    const auto& [at, line, indication, correction, step, still_since, marks, warming] = x;
    all(at, line, indication, correction, step, still_since, marks, warming);
  }
  void write(const fire_state& x) {
    const auto& [burning, burned, out, oxygen, net] = x;
    all(burning, burned, out, oxygen, net);
  }

  // Of what stays inside the chain the members that matter.
  void write(const trend_estimate& x) {
    all(x.is, x.measured, x.level, x.rate, x.rate_uncertainty, x.rate_bound, x.span, x.scatter,
        x.inflation, x.noise_density, x.step, x.lag, x.since, x.departed);
  }
  void write(const verdict& x) { all(x.row, x.trends, x.fire, x.in, x.why, x.onset, x.which); }

  duration origin_;
  std::string line_;
};

/// What a session says about the whole log at once.
inline transcript heard_from(std::string_view bytes, const session_settings& s = {}) {
  transcript said;
  default_session live{s};
  live.push(bytes, said);
  live.finish(said);
  return said;
}

}  // namespace stilling
