// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Invented tests with known truth.

#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <sstream>
#include <string>
#include <utility>

#include "register.hpp"
#include "simulate/scenario.hpp"

namespace py = pybind11;

namespace stilling::binding {

void register_invented(py::module_& m) {
  m.def("scenarios", [] {
    py::dict out;
    for (const auto& s : invented::scenarios()) out[py::str(s.name)] = s.sentence;
    return out;
  });
  m.def(
      "simulate",
      [](const std::string& scenario, std::uint64_t seed) {
        if (invented::find_scenario(scenario) == nullptr)
          throw py::value_error("no scenario is called '" + scenario + "'");
        const py::gil_scoped_release away;
        const auto test = invented::simulate(scenario, seed, {});
        std::ostringstream log, truth;
        invented::write_log(test, log);
        invented::write_truth(test, truth);
        return std::pair{log.str(), truth.str()};
      },
      py::arg("scenario"), py::arg("seed"));
}

}  // namespace stilling::binding
