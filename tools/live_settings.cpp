// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// A log that is still being written: where it comes from.

#include <fmt/format.h>

#include "log_settings.hpp"
#include "serial.hpp"
#include "stilling/decoding/header.hpp"

namespace stilling::command {

settings_list live_settings(log_options& to) {
  using enum setting::shape;
  auto& live = to.live;
  settings_list all;
  const auto add = [&](setting s) {
    s.heading = heading::live;
    all.push_back(std::move(s));
  };
  add({.option = "--device",
       .type = "PATH",
       .about = "Read the instrument on this serial line",
       .take = [&](const words& said) { live.device = said[0]; },
       .excludes = {"--follow"}});
  add({.table = "device",
       .key = "baud",
       .option = "--baud",
       .type = "N",
       .about = "Its rate (9600)",
       .take = [&](const words& said) {
         live.baud = read_whole_number(said[0], 1, 4'000'000);
         if (!is_standard_rate(live.baud))
           throw refusal{
               fmt::format("{} baud is no standard rate; usual are 1200, 2400, 4800, "
                           "9600, 19200, 38400, 57600 and 115200",
                           live.baud)};
       }});
  add({.table = "device",
       .key = "framing",
       .option = "--framing",
       .type = "8N1",
       .about = "Its data bits, parity (N, E, O) and stop bits (8N1)",
       .take = [&](const words& said) {
         const auto f = read_framing(said[0]);
         if (!f)
           throw refusal{
               fmt::format("'{}' is no framing; it is data bits 7 or 8, parity N, E or "
                           "O, stop bits 1 or 2: 8N1, 7E1",
                           said[0])};
         live.framing = fmt::format("{}{}{}", f->bits, f->parity, f->stops);
       }});
  add({.option = "--wait",
       .is = word_or_none,
       .type = "[TIME]",
       .about = "Wait for the device, also where it breaks off: 30s, 10min (for ever)",
       .take = [&](const words& said) {
         live.wait = true;
         if (!said.empty() && !said[0].empty()) live.wait_most = read_interval(said[0]);
       }});
  add({.option = "--follow",
       .is = flag,
       .about = "Wait for what is added to FILE, also where a new one takes its place",
       .take = [&](const words& said) { live.follow = read_switch(said[0]); },
       .excludes = {"--stamp"}});
  return all;
}

void stamp_where_needed(log_options& o) {
  auto& decoder = o.settings.decoder;
  if (o.live.device.empty() || o.stamped || decoder.interval) return;
  if (decoder.labelled) {
    o.stamped = true;
    for (std::size_t i = 0; i < decoder.rule_count; ++i)
      o.stamped = o.stamped && !decoder.rules[i].is_time;
  } else if (!decoder.fields.empty()) {
    o.stamped = !read_header(decoder.fields.view(), ',', decoder, [](const assumption&) {});
  } else {
    o.stamped = o.stamped_where_needed = true;
  }
}

}  // namespace stilling::command
