// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <pybind11/pybind11.h>

#include <string>
#include <variant>
#include <vector>

#include "options.hpp"

namespace stilling::binding {

void register_judge(pybind11::module_& m);
void register_derive(pybind11::module_& m);
void register_tables(pybind11::module_& m);
void register_series(pybind11::module_& m);
void register_invented(pybind11::module_& m);
void register_command(pybind11::module_& m);

/// The request that a command with these words makes; what the command would refuse is a
/// ValueError with its words.
template <class Request>
[[nodiscard]] Request request_of(const char* verb, const std::vector<std::string>& words) {
  std::vector<const char*> arguments{"stilling", verb};
  for (const auto& w : words) arguments.push_back(w.c_str());
  auto said = command::read_arguments(static_cast<int>(arguments.size()), arguments.data());
  if (auto* word = std::get_if<command::last_word>(&said))
    throw pybind11::value_error(word->text.substr(0, word->text.find('\n')));
  return std::get<Request>(std::get<command::request>(std::move(said)));
}

}  // namespace stilling::binding
