// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// The command itself, for the entry point that stands where its executable would.

#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <string>
#include <vector>

#include "answer.hpp"
#include "register.hpp"

namespace py = pybind11;

namespace stilling::binding {

void register_command(py::module_& m) {
  m.def(
      "command",
      [](const std::vector<std::string>& words) {
        std::vector<const char*> all{"stilling"};
        for (const auto& w : words) all.push_back(w.c_str());
        const py::gil_scoped_release away;
        return command::answer(static_cast<int>(all.size()), all.data());
      },
      py::arg("words"));
}

}  // namespace stilling::binding
