// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Combustion figures from readings.

#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <string>

#include "register.hpp"
#include "verbs.hpp"

namespace py = pybind11;

namespace stilling::binding {

void register_derive(py::module_& m) {
  m.def(
      "derive",
      [](const std::vector<std::string>& words) {
        const auto told = command::figures_of(request_of<command::derive_request>("derive", words));
        return py::make_tuple(told.text, told.nonsense);
      },
      py::arg("words"));
}

}  // namespace stilling::binding
