// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Log and truth as text. A log is comma separated under a header line; truth is one JSON object,
// described in tests/corpus/README.md.

#include <fmt/format.h>

#include <iterator>
#include <ostream>
#include <string>

#include "simulation.hpp"

namespace stilling::invented {
namespace {

constexpr std::array<int, channel_count> decimals = {2, 2, 4, 2, 5, 5};

/// A whole number of units of the last decimal, as a fixed-point number.
void write_fixed(std::string& to, long long units, int places) {
  auto digits = fmt::format("{}", units < 0 ? -units : units);
  if (places > 0) {
    const auto wanted = static_cast<std::size_t>(places) + 1;
    if (digits.size() < wanted) digits.insert(0, wanted - digits.size(), '0');
    digits.insert(digits.size() - static_cast<std::size_t>(places), 1, '.');
  }
  if (units < 0) to += '-';
  to += digits;
}

template <class... T> void put(std::string& to, fmt::format_string<T...> form, T&&... what) {
  fmt::format_to(std::back_inserter(to), form, std::forward<T>(what)...);
}

template <class Items, class Write> void list(std::string& to, const Items& items, Write write) {
  to += '[';
  auto first = true;
  for (const auto& it : items) {
    if (!first) to += ',';
    first = false;
    write(it);
  }
  to += ']';
}

std::string rate(double interval_s) { return fmt::format("{:.4g} Hz", 1.0 / interval_s); }

void write_interval(std::string& to, const steady_interval& it) {
  put(to, R"({{"from_s":{},"to_s":{},"after_gap":{},"mean":{{)", it.from_s, it.to_s, it.after_gap);
  for (std::size_t c = 0; c < channel_count; ++c) {
    put(to, R"({}"{}":{{"gas":{:.4f},"sensed":{:.4f}}})", c == 0 ? "" : ",", columns[c], it.gas[c],
        it.sensed[c]);
  }
  to += "},\"ended_by\":";
  if (it.ended_by) {
    put(to, R"({{"t_s":{:.1f},"kind":"{}"}})", it.ended_by->at_s, it.ended_by->kind);
  } else {
    to += "null";
  }
  to += '}';
}

void write_grid(std::string& to, const std::vector<second>& seconds) {
  to += R"("grid":{"dt_s":1,"ok":")";
  for (const auto& it : seconds) to += it.fired_undiluted ? '1' : '0';
  to += R"(","ratio":)";
  list(to, seconds, [&](const second& it) { put(to, "{:.2f}", it.ratio); });
  to += R"(,"sensed":{)";
  for (std::size_t c = 0; c < channel_count; ++c) {
    put(to, R"({}"{}":)", c == 0 ? "" : ",", columns[c]);
    list(to, seconds, [&](const second& it) { put(to, "{:.{}f}", it.sensed[c], decimals[c]); });
  }
  to += "}}";
}

}  // namespace

void write_log(const simulation& test, std::ostream& to) {
  auto text = std::string{"time_s"};
  for (const auto column : columns) text.append(",").append(column);
  text += '\n';
  for (const auto& row : test.rows) {
    text += row.remark_before;
    write_fixed(text, row.stamp, test.sampled.stamp_decimals);
    for (std::size_t c = 0; c < channel_count; ++c) {
      text += ',';
      if (row.cells[c]) write_fixed(text, *row.cells[c], test.display[c].decimals);
    }
    text += '\n';
  }
  to.write(text.data(), static_cast<std::streamsize>(text.size()));
}

void write_truth(const simulation& test, std::ostream& to) {
  const auto& known = test.known;
  auto text = std::string{};
  put(text, R"({{"name":"{}","family":"{}","scenario":"{}","invented":true,"seed":{},)", test.name,
      test.family, test.scenario, test.seed);
  put(text, R"("noise_scale":{:.4g},"limits_per_min":{{)", test.noise_scale);
  for (std::size_t r = 0; r < required.size(); ++r) {
    put(text, R"({}"{}":{})", r == 0 ? "" : ",", columns[required[r]], limits_per_min[r]);
  }
  put(text, R"(}},"sampling":"{}","clock":)", rate(test.sampled.interval_s));
  list(text, known.clock, [&](const auto& it) { put(text, "[{},{}]", it[0], it[1]); });
  text += R"(,"hunting_period_s":)";
  text += known.hunting_period_s ? fmt::format("{}", *known.hunting_period_s) : "null";
  put(text, R"(,"lag_s":{{"o2_pct":{:.1f},"co_ppm":{:.1f}}})", known.o2_lag_s, known.co_lag_s);
  text += R"(,"events":)";
  list(text, known.events,
       [&](const event& it) { put(text, R"({{"t_s":{:.1f},"kind":"{}"}})", it.at_s, it.kind); });
  text += R"(,"blind":)";
  list(text, known.blind,
       [&](const span& it) { put(text, R"([{:.1f},{:.1f},"{}"])", it.from_s, it.to_s, it.kind); });
  text += R"(,"burns":)";
  list(text, known.burns, [&](const span& it) {
    put(text, R"({{"from_s":{:.1f},"to_s":{:.1f}}})", it.from_s, it.to_s);
  });
  text += R"(,"intervals":)";
  list(text, known.intervals, [&](const steady_interval& it) { write_interval(text, it); });
  text += ',';
  write_grid(text, known.seconds);
  text += "}\n";
  to.write(text.data(), static_cast<std::streamsize>(text.size()));
}

}  // namespace stilling::invented
