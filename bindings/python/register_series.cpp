// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// One plain series of any kind: where it is steady, live, and what it is made of, in hindsight.

#include <pybind11/numpy.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <span>
#include <vector>

#include "register.hpp"
#include "stilling/segment.hpp"
#include "stilling/session.hpp"

namespace py = pybind11;

namespace stilling::binding {
namespace {

using numbers = py::array_t<double, py::array::c_style>;

std::span<const double> of(const numbers& x) {
  if (x.ndim() != 1) throw py::value_error("a series has one dimension");
  return {x.data(), static_cast<std::size_t>(x.size())};
}

/// The series as a stack temperature: its span laid onto 350 to 950 K, its shortest window onto a
/// minute. The rules know no unit, so this changes nothing but the last bits.
struct disguise {
  double middle = 0, scale = 1, pace = 1;
  disguise(std::span<const double> x, double window) : pace{60 / window} {
    double low = 0, high = 0;
    bool any = false;
    for (const double v : x) {
      if (!std::isfinite(v)) continue;
      low = any ? std::min(low, v) : v;
      high = any ? std::max(high, v) : v;
      any = true;
    }
    middle = (low + high) / 2;
    if (high > low) scale = 600 / (high - low);
  }
  [[nodiscard]] double put_on(double x) const { return 650 + scale * (x - middle); }
  [[nodiscard]] double taken_off(double x) const { return middle + (x - 650) / scale; }
};


py::list steady_spans(const numbers& time_s, const numbers& values, double rate_limit,
                      double window_s, double resolution, bool strict) {
  const auto t = of(time_s), x = of(values);
  if (t.size() != x.size()) throw py::value_error("as many values as times");
  if (!(rate_limit > 0) || !std::isfinite(rate_limit))
    throw py::value_error("rate_limit: above 0, in units of the values per second");
  if (!(window_s > 0) || !std::isfinite(window_s)) throw py::value_error("window_s: above 0");
  if (!(resolution >= 0)) throw py::value_error("resolution: 0 or more");
  const disguise as{x, window_s};
  session_settings s = strict ? strict_settings() : session_settings{};
  s.require({channel::stack_temp});
  s.phase.combustion_check = false;
  s.limit(channel::stack_temp, rate_limit * as.scale / as.pace);
  s.screen.floor.per_second[index_of(channel::stack_temp)] = rate_limit * as.scale / as.pace;
  std::vector<settled_reading> found;
  {
    const py::gil_scoped_release away;
    auto chain = timeline{s.timeline} | make_judge(s) | make_readings(s);
    auto sink = overloaded{[&](const settled_reading& r) {
                             if (found.empty() || found.back().declared != r.declared)
                               found.emplace_back();
                             found.back() = r;
                           },
                           [](const auto&) {}};
    for (std::size_t i = 0; i < t.size(); ++i) {
      const auto at = duration_from_seconds((t[i] - t[0]) * as.pace);
      if (!at) {
        const py::gil_scoped_acquire back;
        throw py::value_error("time_s: not a number, or more than 290 years after the first");
      }
      frame row;
      row.at = instant{*at};
      row.line = i + 1;
      if (std::isfinite(x[i])) row.indication.set(channel::stack_temp, as.put_on(x[i]));
      row.written_step[index_of(channel::stack_temp)] = resolution * as.scale;
      chain.push(row, sink);
    }
    chain.finish(sink);
  }
  py::list out;
  const auto seconds_of = [&](instant i) {
    return t[0] + in_seconds(i.time_since_epoch()) / as.pace;
  };
  for (const auto& r : found) {
    const auto& c = r.channels[channel::stack_temp];
    py::dict span;
    span["declared_s"] = seconds_of(r.declared);
    span["from_s"] = seconds_of(r.from);
    span["to_s"] = seconds_of(r.to.value_or(r.last_seen));
    span["released_s"] = r.released ? py::object{py::float_{seconds_of(*r.released)}} : py::none();
    span["end_reason"] = name_of(r.ended);
    span["value"] = as.taken_off(c.mean);
    span["u"] = 2 * c.standard_uncertainty / as.scale;
    span["rate"] = c.rate * as.pace / as.scale;
    span["rate_bound"] = c.rate_bound
                             ? py::object{py::float_{*c.rate_bound * as.pace / as.scale}}
                             : py::none();
    span["n"] = c.count;
    span["creeping"] = r.creeping;
    out.append(span);
  }
  return out;
}

py::list segments(const numbers& time_s, const numbers& values, double rate_limit,
                  double shortest_s, double resolution) {
  const auto t = of(time_s), x = of(values);
  if (t.size() != x.size()) throw py::value_error("as many values as times");
  if (!(rate_limit > 0)) throw py::value_error("rate_limit: above 0, in units per second");
  if (!(shortest_s > 0)) throw py::value_error("shortest_s: above 0");
  std::vector<segment> found;
  {
    const py::gil_scoped_release away;
    found = find_segments(t, x, {.limit = rate_limit, .step = resolution, .shortest = shortest_s});
  }
  py::list out;
  for (const auto& s : found) {
    constexpr const char* kinds[]{"undecided", "plateau", "ramp"};
    py::dict part;
    part["from_s"] = s.from;
    part["to_s"] = s.to;
    part["kind"] = kinds[static_cast<std::size_t>(s.kind)];
    part["rate"] = s.rate;
    part["rate_bound"] = s.rate_bound;
    part["settled_from_s"] = s.settled_from;
    part["value"] = s.mean;
    part["u"] = 2 * s.standard_uncertainty;
    part["remaining"] = s.remaining;
    out.append(part);
  }
  return out;
}

}  // namespace

void register_series(py::module_& m) {
  m.def("steady_spans", &steady_spans, py::arg("time_s"), py::arg("values"), py::arg("rate_limit"),
        py::arg("window_s"), py::arg("resolution"), py::arg("strict"));
  m.def("segments", &segments, py::arg("time_s"), py::arg("values"), py::arg("rate_limit"),
        py::arg("shortest_s"), py::arg("resolution"));
}

}  // namespace stilling::binding
