// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "support/input_chain.hpp"

// Bytes to frames on one time line, under several settings: the same whatever the pieces; stamps
// rise strictly between breaks; no lane holds anything but a finite number; every line is in its
// place.
namespace {

using namespace stilling;

decoder_settings settings_of(unsigned choice) {
  decoder_settings s;
  switch (choice % 8) {
    case 1: s.fields = "time_s,stack_temp_degF,-,o2_pct,co_ppm"; break;
    case 2:
      s.labelled = true;
      s.add(*read_column_rule("T=stack_temp:degF"));
      s.add(*read_column_rule("O2=o2:pct"));
      s.add(*read_column_rule("at=time"));
      break;
    case 3:
      s.add(*read_column_rule("Date+Clock=time"));
      s.add(*read_column_rule("T=stack_temp"));
      s.add(*read_column_rule("G=o2"));
      break;
    case 4: s.interval = seconds(1); break;
    case 5: s.time_format = "%d/%m/%Y %H:%M:%S"; break;
    case 6:
      s.decimal_sign = ',';
      s.missing[s.missing_count++] = 999;
      break;
    case 7:
      s.joined = true;
      s.suction_positive = true;
      break;
    default: break;
  }
  return s;
}

timeline_settings clock_of(unsigned choice) {
  timeline_settings s;
  if (choice % 4 == 1) s.hold = seconds(3600);
  if (choice % 4 == 2) s.spacing = seconds(1);
  if (choice % 4 == 3) s.longest_silence = seconds(10);
  return s;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  if (size < 2) return 0;
  const std::string_view text{reinterpret_cast<const char*>(bytes + 2), size - 2};
  const auto settings = settings_of(bytes[0]);
  const auto clock = clock_of(bytes[0] >> 6U);
  const auto whole = testing::listen(text, settings, clock);
  if (testing::listen(text, settings, clock, 1U + bytes[1] % 64U) != whole) std::abort();

  std::size_t next_break = 0;
  std::uint64_t line = 0;  // of the newest row; one that is held has none
  for (std::size_t i = 0; i < whole.frames.size(); ++i) {
    const auto& f = whole.frames[i];
    bool broke = i == 0;
    while (next_break < whole.breaks.size() && whole.breaks[next_break].frames_before <= i)
      ++next_break, broke = true;
    if (!broke && !(whole.frames[i - 1].at < f.at)) std::abort();
    if (f.line != 0 && f.line <= line) std::abort();
    if (f.line != 0) line = f.line;
    for (auto c : all_channels) {
      const double x = f.indication[c];
      if (x - x != 0 || (!f.indication.has(c) && x != 0)) std::abort();
    }
  }
  return 0;
}
