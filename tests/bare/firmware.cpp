// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// A whole instrument's firmware, but for its hardware: a byte of a serial line comes with each
// interrupt and goes into a ring; the main loop gives the session what is there, shows what
// settled, and sleeps. Static memory only: no heap, no exceptions, and no session on the stack.
//
// The test is invented. On a real burner CO poisons and the flue burns: the maker's instructions,
// local codes and licensed practice come first, and a display is no CO alarm.

#include <cstdint>
#include <string_view>

#include "display.hpp"
#include "fixed_session.hpp"
#include "port.hpp"
#include "ring.hpp"
#include "small_chain.hpp"

namespace {

using namespace stilling;

/// Lines of up to 256 letters, judged by criterion `field`.
auto make_session(const session_settings& s) noexcept {
  return (recipe{[] { return framer<256>{}; }} | recipe{[&s] { return decoder{s.decoder}; }} |
          bare::small_recipe(s))();
}

auto live = make_session(session_settings{});
bare::ring<512> line;
bare::display screen_of_four;

/// The other end of the line: a stand-in for the UART's receive register.
class sender {
 public:
  [[nodiscard]] bool is_done() const noexcept { return done_; }
  void send_byte() noexcept {
    if (at_ == text_.size() && !next_line()) return;
    line.put(text_[at_++]);
  }

 private:
  bool next_line() noexcept {
    const auto row = test_.next();
    if (!row) {
      done_ = true;
      return false;
    }
    written_ = bare::written_row{*row};
    text_ = written_.view();
    at_ = 0;
    return true;
  }

  bare::fixed_session test_;
  bare::written_row written_{bare::shown_row{}};
  std::string_view text_ = bare::fixed_session::header;
  std::size_t at_ = 0;
  volatile bool done_ = false;
} uart;

void byte_came() noexcept { uart.send_byte(); }

/// What the session says, put on the display.
struct panel {
  std::uint32_t readings = 0, refused = 0;

  void operator()(const settled_reading& r) noexcept {
    if (r.to) return show(r.ended == cause::end_of_log ? "end" : "no longer settled", r);
    ++readings;
    show("settled", r);
  }
  void operator()(const phase_change& p) noexcept {
    screen_of_four.write(0, 0, "                    ");
    screen_of_four.write(0, 0, name_of(p.to));
  }
  void operator()(const rejection&) noexcept { ++refused; }
  void operator()(const auto&) noexcept {}

 private:
  static void show(std::string_view word, const settled_reading& r) noexcept {
    screen_of_four.clear();
    screen_of_four.write(0, 0, word);
    row(1, "flue", "C", r, channel::stack_temp, 1, -273.15, 1);
    row(2, "O2", "%", r, channel::o2, 100, 0, 2);
    row(3, "CO", "ppm", r, channel::co, 1e6, 0, 1);
    for (std::size_t i = 0; i < bare::display::lines; ++i)
      port::say("|"), port::say(screen_of_four.line(i)), port::say("|\n");
    port::say("\n");
  }
  /// A channel that was not heard is told so: a zero would be a reading.
  static void row(std::size_t at, std::string_view name, std::string_view in,
                  const settled_reading& r, channel c, double factor, double offset,
                  int decimals) noexcept {
    screen_of_four.write(at, 0, name);
    screen_of_four.write(at, 17, in);
    if (!r.channels.has(c)) return screen_of_four.write(at, 7, "not heard");
    const auto& x = r.channels[c];
    screen_of_four.write(at, 9, x.mean * factor + offset, decimals);
    screen_of_four.write(at, 10, "+-");
    screen_of_four.write(at, 15, 2 * x.standard_uncertainty * factor, decimals);
  }
} shown;

}  // namespace

int main() {
  port::call_from_interrupt(byte_came, 1000);  // close to 9600 baud
  char piece[64];
  std::uint32_t lost = 0;
  while (true) {
    if (line.lost() != lost) {  // what is missing tore a line: nothing after it leans on it
      lost = line.lost();
      live.push(discontinuity{.line = 0, .at = {}, .kind = break_kind::reconnect}, shown);
    }
    const auto n = line.take(piece, sizeof piece);
    if (n > 0) {
      live.push(std::string_view{piece, n}, shown);
    } else if (uart.is_done()) {
      break;
    } else {
      port::wait_for_interrupt();
    }
  }
  live.finish(shown);
  port::report("object", sizeof live);
  port::report("stack", port::stack_used());
  port::report("readings", shown.readings);
  port::report("bytes_lost", line.lost());
  port::report("lines_refused", shown.refused);
  return shown.readings > 2 && line.lost() == 0 && shown.refused == 0 ? 0 : 1;
}
