// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// A log on its way through the chain: bytes as they come, a file, or rows of numbers.

#include <pybind11/numpy.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <array>
#include <charconv>
#include <cmath>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "feeding.hpp"
#include "judged_log.hpp"
#include "printers.hpp"
#include "register.hpp"

namespace py = pybind11;

namespace stilling::binding {
namespace {

using command::judged_log;
using command::jsonl_printer;
using command::settle_request;

/// The power of ten of the last place of the shortest decimal that gives this number: as whoever
/// wrote it into a file would write it. Above 0 where it is written with an exponent.
int last_place(double x) noexcept {
  std::array<char, 64> text;
  const auto end =
      std::to_chars(text.data(), text.data() + text.size(), x, std::chars_format::fixed);
  const std::string_view written{text.data(), static_cast<std::size_t>(end.ptr - text.data())};
  const auto point = written.find('.');
  return point == std::string_view::npos ? 0 : -static_cast<int>(written.size() - point - 1);
}

constexpr std::array places{1.0, 0.1, 0.01, 0.001, 1e-4, 1e-5, 1e-6, 1e-7, 1e-8, 1e-9};

class judge {
 public:
  explicit judge(const std::vector<std::string>& words)
      : asked_{request_of<settle_request>("settle", words)},
        printer_{"", asked_.verbose},
        log_{asked_, printer_} {}

  void push(const py::buffer& of) {
    const auto bytes = of.request();
    if (bytes.itemsize != 1 || bytes.ndim != 1 || bytes.strides[0] != 1)
      throw py::type_error("bytes are wanted, one after another");
    const std::string_view view{static_cast<const char*>(bytes.ptr),
                                static_cast<std::size_t>(bytes.size)};
    const py::gil_scoped_release away;
    log_.push(view);
  }

  /// What the columns of `rows` are, as the header of a log names them.
  void columns(const std::vector<std::string>& names) {
    if (command::reads_twice(asked_.log))
      throw py::value_error("a drift is corrected between two looks at a log: give it as text or "
                            "file");
    std::string header = "time_s";
    for (const auto& n : names) header += "," + n;
    log_.push(header + "\n");
    columns_.clear();
    for (const auto& n : names) {
      for (const auto c : all_channels) {
        const auto name = traits_of(c).name;
        if (!n.starts_with(name) || n.size() <= name.size() || n[name.size()] != '_') continue;
        if (const auto u = find_unit(n.substr(name.size() + 1), traits_of(c).kind))
          columns_.emplace_back(c, *u);
      }
    }
    if (columns_.size() != names.size()) throw py::value_error("a column is no <channel>_<unit>");
  }

  /// `times`: nanoseconds; `values`: a row per time, a column per name; not a number: missing.
  void rows(const py::array_t<std::int64_t, py::array::c_style>& times,
            const py::array_t<double, py::array::c_style>& values) {
    if (values.ndim() != 2 || times.ndim() != 1 || values.shape(0) != times.shape(0) ||
        static_cast<std::size_t>(values.shape(1)) != columns_.size())
      throw py::value_error("as many rows as times, as many columns as names");
    const auto* t = times.data();
    const auto* x = values.data();
    const auto count = times.shape(0);
    const py::gil_scoped_release away;
    for (py::ssize_t i = 0; i < count; ++i, x += columns_.size()) push_row(t[i], x);
  }

  void finish() {
    const py::gil_scoped_release away;
    log_.finish();
  }

  /// What was said since the last time, a line of JSON each.
  std::string take() { return std::exchange(log_.text(), {}); }
  [[nodiscard]] std::string refusal() const { return std::string{log_.refusal()}; }

 private:
  void push_row(std::int64_t t, const double* x) {
    frame row;
    row.at = std::clamp(instant{duration{t}}, earliest, latest);
    row.line = ++line_;
    for (const auto& [c, as] : columns_) {
      const double v = *x++;
      if (!std::isfinite(v)) continue;
      row.indication.set(c, to_canonical(as, v));
      const auto place = static_cast<std::size_t>(-last_place(v));
      row.written_step[index_of(c)] =
          place < places.size() ? difference_to_canonical(as, places[place]) : 0;
    }
    log_.push(row);
  }

  settle_request asked_;
  jsonl_printer printer_;
  judged_log<jsonl_printer> log_;
  std::vector<std::pair<channel, unit>> columns_;
  std::uint64_t line_ = 1;  // the names are in line 1
};

/// A whole log: its events as lines of JSON; what the command would complain of is a ValueError.
std::string settle_file(const std::string& path, const std::vector<std::string>& words) {
  const auto asked = request_of<settle_request>("settle", words);
  const py::gil_scoped_release away;
  jsonl_printer printer{"", asked.verbose};
  judged_log<jsonl_printer> log{asked, printer};
  auto fault = command::feed(path, asked.log, false, log, [&] { return log.refusal().empty(); });
  if (fault.empty()) fault = log.refusal();
  if (!fault.empty()) {
    const py::gil_scoped_acquire back;
    throw py::value_error(path + ": " + fault);
  }
  return std::move(log.text());
}

}  // namespace

void register_judge(py::module_& m) {
  py::class_<judge>(m, "Judge")
      .def(py::init<const std::vector<std::string>&>(), py::arg("words"))
      .def("push", &judge::push, py::arg("bytes"))
      .def("columns", &judge::columns, py::arg("names"))
      .def("rows", &judge::rows, py::arg("times_ns"), py::arg("values"))
      .def("finish", &judge::finish)
      .def("take", &judge::take)
      .def_property_readonly("refusal", &judge::refusal);
  m.def("settle_file", &settle_file, py::arg("path"), py::arg("words"));
}

}  // namespace stilling::binding
