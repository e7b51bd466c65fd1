// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "answer.hpp"

#include <fmt/format.h>

#include <exception>
#include <variant>

#include "options.hpp"
#include "sources.hpp"
#include "stilling/stages/stage.hpp"
#include "verbs.hpp"

namespace stilling::command {
namespace {

int run(int count, const char* const* words) {
  const auto asked = read_arguments(count, words);
  if (const auto* word = std::get_if<last_word>(&asked)) {
    if (word->status != done) {
      complain(word->text);
      return word->status;
    }
    outlet out;
    if (out.write(word->text) || out.is() == outlet::state::closed_by_reader) return done;
    complain(fmt::format("standard output: {}", out.fault()));
    return not_understood;
  }
  return std::visit(overloaded{[](const settle_request& r) { return settle(r); },
                               [](const report_request& r) { return command::report(r); },
                               [](const derive_request& r) { return derive(r); },
                               [](const look_request& r) { return look(r); },
                               [](const check_request& r) { return check(r); },
                               [](const keep_request& r) { return keep(r); },
                               [](const past_request& r) { return past(r); },
                               [](const simulate_request& r) { return simulate(r); },
                               [](const list_request& r) { return list(r); },
                               [](const watch_request& r) { return watch(r); }},
                    std::get<request>(asked));
}

}  // namespace

int answer(int count, const char* const* words) {
  arrange_signals();
  try {
    return run(count, words);
  } catch (const std::exception& e) {
    complain(e.what());
    return not_understood;
  }
}

}  // namespace stilling::command
