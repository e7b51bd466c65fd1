// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include <cstdio>
#include <stilling/session.hpp>
#ifndef HEADERS_ONLY
#include <stilling/text.hpp>
#endif

int main() {
  stilling::default_session live{stilling::session_settings{}};
  int items = 0;
  auto sink = [&items](const auto&) { ++items; };
  live.push("time_s,stack_temp_degF,o2_pct,co_ppm\n0,470,5.0,20\n1,471,5.0,21\n", sink);
  live.finish(sink);
#ifndef HEADERS_ONLY
  std::printf("stilling %s\n", std::string{stilling::version()}.c_str());
#endif
  return items > 0 ? 0 : 1;
}
