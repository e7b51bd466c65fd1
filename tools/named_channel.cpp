// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "named_channel.hpp"

#include <algorithm>

#include "stilling/decoding/number.hpp"

namespace stilling::command {

std::vector<std::string> words_in(std::string_view name) {
  std::vector<std::string> words(1);
  for (const char c : name) {
    const bool digit = c >= '0' && c <= '9';
    const bool capital = c >= 'A' && c <= 'Z';
    const bool letter = capital || (c >= 'a' && c <= 'z');
    auto* word = &words.back();
    const bool ends =
        !word->empty() && (!(digit || letter) || (letter && detail::is_digit(word->back())));
    if (ends) word = &words.emplace_back();
    if (digit || letter) *word += capital ? static_cast<char>(c + 32) : c;
  }
  return words;
}

bool has_word(const std::vector<std::string>& words, word_list those) {
  return std::ranges::any_of(words, [&](const std::string& w) {
    return std::ranges::find(those, std::string_view{w}) != those.end();
  });
}

bool names_time(const std::vector<std::string>& w) {
  if (w[0] == "t") return w.size() == 1 || has_word({w[1]}, {"s", "ms", "min", "h"});
  return has_word(w, {"time", "date", "datetime", "timestamp", "clock", "epoch", "elapsed",
                      "seconds", "sec", "hour", "hours", "minutes"});
}

std::optional<channel> channel_named(const std::vector<std::string>& w) {
  const bool temperature = has_word(w, {"temp", "temperature", "t", "degf", "degc", "f", "c", "k"});
  if (has_word(w, {"draft", "draught", "suction", "pressure", "dp"}))
    return has_word(w, {"over", "overfire", "fire", "firebox", "chamber"}) ? channel::draft_overfire
                                                                           : channel::draft_breech;
  if (has_word(w, {"o2", "oxygen"})) return channel::o2;
  if (has_word(w, {"co2"})) return channel::co2;
  if (has_word(w, {"co", "monoxide"})) return channel::co;
  if (has_word(w, {"no", "nox"}) && has_word(w, {"ppm"})) return channel::no;
  if (has_word(w, {"stack", "flue", "exhaust", "chimney", "tstack", "tflue"}))
    return channel::stack_temp;
  if (has_word(w, {"ambient", "room", "supply", "inlet", "intake", "air", "tamb", "tambient"}) &&
      (temperature || w.size() <= 2))
    return channel::ambient_temp;
  return std::nullopt;
}

}  // namespace stilling::command
