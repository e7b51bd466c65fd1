// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "settings_file.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <string_view>
#include <utility>

#include "log_settings.hpp"
#include "stilling/decoding/number.hpp"

// Any bytes as a settings file: taken, or refused with a line for each fault that names a line of
// the file and cannot steer a terminal. What was taken either makes sense or can be traced to where
// it was said.
namespace {

using namespace stilling;
using namespace stilling::command;

void check_complaint(std::string_view text, std::size_t lines) {
  if (text.empty()) std::abort();
  while (!text.empty()) {
    const auto line = text.substr(0, text.find('\n'));
    text.remove_prefix(std::min(line.size() + 1, text.size()));
    constexpr std::string_view name = "fuzz:";
    if (!line.starts_with(name)) std::abort();
    std::size_t number = 0;
    auto rest = line.substr(name.size());
    for (; !rest.empty() && detail::is_digit(rest.front()); rest.remove_prefix(1))
      number = number * 10 + static_cast<std::size_t>(rest.front() - '0');
    if (number < 1 || number > lines + 1 || !rest.starts_with(": ")) std::abort();
    for (const char c : rest)
      if (static_cast<unsigned char>(c) < 0x20 || c == 0x7F) std::abort();
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  const std::string_view text{reinterpret_cast<const char*>(bytes), size};
  log_options to;
  settings_list list;
  for (auto part :
       {reading_settings, criterion_settings, judging_settings, drift_settings, shown_settings,
        figure_settings})
    for (auto& s : part(to)) list.push_back(std::move(s));
  const answers typed(list.size());
  try {
    const auto filed = read_settings(text, "fuzz", list);
    take_all(list, typed, filed);
    if (const auto against = settle_fuel(to))
      if (who_said(against->governs, list, typed, filed) == nullptr) std::abort();
    auto fault = check(to.settings);
    if (!fault) fault = check_reading(to);
    if (fault && who_said(fault->name, list, typed, filed) == nullptr) std::abort();
  } catch (const refusal& why) {
    check_complaint(why.what(), static_cast<std::size_t>(std::ranges::count(text, '\n')) + 1);
  }
  return 0;
}
