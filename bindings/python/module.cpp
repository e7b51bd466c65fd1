// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// What the compiled part of the package holds, one concept a file. The rest is Python and says what
// it means there: here are bytes, rows and words in, lines of JSON out.

#include <pybind11/pybind11.h>

#include "register.hpp"
#include "stilling/text.hpp"

PYBIND11_MODULE(_core, m) {
  using namespace stilling::binding;
  m.attr("version") = stilling::version();
  register_judge(m);
  register_derive(m);
  register_tables(m);
  register_series(m);
  register_invented(m);
  register_command(m);
}
