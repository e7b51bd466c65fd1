// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "stilling/decoding/column_rule.hpp"
#include "stilling/decoding/log_clock.hpp"

// A line for the format, a line for the first stamp, one for the second, one for a column rule.
// Whatever they say, no more is taken than is there, and stamps stay within what differences hold.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  std::string_view text{reinterpret_cast<const char*>(bytes), size};
  const auto line = [&] {
    const auto s = text.substr(0, text.find('\n'));
    text.remove_prefix(s.size() < text.size() ? s.size() + 1 : text.size());
    return s;
  };
  stilling::decoder_settings settings;
  settings.time_format = line();
  stilling::log_clock clock{{.form = stilling::clock_form::stamp}};
  for (int i = 0; i < 2; ++i) {
    const auto stamp = line();
    const auto r = clock.read(stamp, settings, [](const stilling::assumption&) {});
    if (!r) continue;
    if (r->length > stamp.size()) std::abort();
    const auto ns = r->at.time_since_epoch().count();
    if (ns > (std::int64_t{1} << 62) || ns < -(std::int64_t{1} << 62)) std::abort();
  }
  if (const auto rule = stilling::read_column_rule(line()))
    if (rule->name.empty()) std::abort();
  return 0;
}
