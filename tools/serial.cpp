// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "serial.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <grp.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <sys/sysmacros.h>
#include <termios.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <boost/asio/io_context.hpp>
#include <boost/asio/serial_port.hpp>
#include <cerrno>
#include <filesystem>

#include "typed.hpp"

namespace stilling::command {
namespace {

namespace asio = boost::asio;

constexpr std::chrono::milliseconds between_attempts{200};

/// What to do about a device that cannot be opened.
std::string advice(const std::string& path, int error) {
  switch (error) {
    case ENOENT:
    case ENODEV:
    case ENXIO: {
      const auto there = serial_devices();
      return fmt::format("there is no such device; is it plugged in and switched on? {}",
                         there.empty() ? "No serial device is there now"
                                       : "Those there now: " + joined(there, ", "));
    }
    case EACCES:
    case EPERM: {
      struct stat about {};
      const group* owners = ::stat(path.c_str(), &about) == 0 ? ::getgrgid(about.st_gid) : nullptr;
      const std::string name = owners != nullptr ? owners->gr_name : "dialout";
      return fmt::format(
          "you may not read it; its group may. Join it and log in anew:\n"
          "  sudo usermod -aG {} $USER",
          name);
    }
    case EBUSY:
    case EWOULDBLOCK: return "another program is using it; end that one first";
    case ENOTTY:
    case EISDIR:
      return "it is no serial device. A file is named without --device; --follow waits for what "
             "is added to it";
    default: return words_of(error);
  }
}

/// It has no wire, so no framing: bytes pass as they are.
bool is_pseudo_terminal(int descriptor) noexcept {
  struct stat about {};
  constexpr unsigned first = 136, last = 143;  // Unix98 slaves, of Linux' list of devices
  return ::fstat(descriptor, &about) == 0 && S_ISCHR(about.st_mode) &&
         major(about.st_rdev) >= first && major(about.st_rdev) <= last;
}

/// Opened and set up as asked; -1 and why not.
int opened(const live_source& from, std::string& why_not) {
  using port = asio::serial_port;
  asio::io_context context{1};
  port line{context};
  boost::system::error_code error;
  line.open(from.device, error);
  if (error) return why_not = advice(from.device, error.value()), -1;
  // Two readers of one line each get half of it.
  const int descriptor = ::fcntl(line.native_handle(), F_DUPFD_CLOEXEC, 0);
  const auto refuse = [&](std::string why) {
    why_not = std::move(why);
    if (descriptor >= 0) ::close(descriptor);
    return -1;
  };
  if (descriptor < 0 || ::flock(descriptor, LOCK_EX | LOCK_NB) != 0)
    return refuse(advice(from.device, errno));
  const auto f = *read_framing(from.framing);
  const auto set = [&](const auto& option) { return !line.set_option(option, error); };
  if (!set(port::baud_rate{static_cast<unsigned>(from.baud)}))
    return refuse(fmt::format("it cannot be set to {} baud", from.baud));
  const bool framed =
      set(port::character_size{f.bits}) &&
      set(port::parity{f.parity == 'N'   ? port::parity::none
                       : f.parity == 'E' ? port::parity::even
                                         : port::parity::odd}) &&
      set(port::stop_bits{f.stops == 1 ? port::stop_bits::one : port::stop_bits::two}) &&
      set(port::flow_control{port::flow_control::none});
  if (!framed && !is_pseudo_terminal(descriptor))
    return refuse(fmt::format("it cannot be set to {}: {}", from.framing, error.message()));
  termios how{};
  if (::tcgetattr(descriptor, &how) != 0) return refuse(advice(from.device, errno));
  how.c_iflag &= ~static_cast<tcflag_t>(IGNPAR | PARMRK | IGNBRK | BRKINT);
  how.c_cc[VMIN] = 1;  // else nothing there yet looks like the end
  how.c_cc[VTIME] = 0;
  if (::tcsetattr(descriptor, TCSANOW, &how) != 0) return refuse(advice(from.device, errno));
  port::baud_rate rate;
  line.get_option(rate, error);
  if (error || rate.value() != static_cast<unsigned>(from.baud))
    return refuse(fmt::format("it does not take {} baud", from.baud));
  return descriptor;
}

}  // namespace

std::optional<framing> read_framing(std::string_view text) noexcept {
  if (text.size() != 3) return std::nullopt;
  const char parity = text[1] >= 'a' ? static_cast<char>(text[1] - 'a' + 'A') : text[1];
  if (text[0] < '7' || text[0] > '8' || text[2] < '1' || text[2] > '2' ||
      (parity != 'N' && parity != 'E' && parity != 'O'))
    return std::nullopt;
  return framing{static_cast<unsigned>(text[0] - '0'), parity,
                 static_cast<unsigned>(text[2] - '0')};
}

bool is_standard_rate(int baud) noexcept {
  constexpr std::array rates{50,      75,      110,     134,     150,     200,    300,     600,
                             1200,    1800,    2400,    4800,    9600,    19200,  38400,   57600,
                             115200,  230400,  460800,  500000,  576000,  921600, 1000000, 1152000,
                             1500000, 2000000, 2500000, 3000000, 3500000, 4000000};
  return std::ranges::find(rates, baud) != rates.end();
}

std::vector<std::string> serial_devices() {
  namespace fs = std::filesystem;
  std::vector<std::string> found;
  std::error_code error;
  for (const auto& entry : fs::directory_iterator{"/dev/serial/by-id", error})
    found.push_back(entry.path().string());
  if (found.empty())
    for (const auto& entry : fs::directory_iterator{"/dev", error})
      for (auto kind : {"ttyUSB", "ttyACM"})
        if (entry.path().filename().string().starts_with(kind))
          found.push_back(entry.path().string());
  std::ranges::sort(found);
  return found;
}

serial_line::serial_line(const live_source& from) : from_{from}, lost_{clock::now()} {
  if (open() || !fault_.empty()) return;
  std::error_code error;
  // What is there and cannot be opened will not mend by waiting.
  if (!from_.wait || std::filesystem::exists(from_.device, error)) fault_ = why_not_;
  else complain(fmt::format("{}: waiting for it; Ctrl-C ends the log", from_.device));
}

serial_line::~serial_line() { close(); }

bool serial_line::open() {
  descriptor_ = opened(from_, why_not_);
  if (descriptor_ < 0) return false;
  complain(fmt::format("{}: {} at {} baud, {}; Ctrl-C ends the log", from_.device,
                       heard_ ? "connected again" : "reading", from_.baud, from_.framing));
  return true;
}

void serial_line::close() noexcept {
  if (descriptor_ >= 0) ::close(descriptor_);
  descriptor_ = -1;
}

void serial_line::lose(std::string_view why) {
  close();
  heard_ = true;
  lost_ = clock::now();
  complain(fmt::format("{}: the connection broke off ({}){}", from_.device, why,
                       from_.wait ? "; waiting for it" : ""));
}

bool serial_line::is_given_up() const {
  return !from_.wait ||
         (from_.wait_most && clock::now() - lost_ >= std::chrono::nanoseconds{*from_.wait_most});
}

portion serial_line::seek(std::optional<std::chrono::milliseconds> wait) {
  using enum portion::state;
  const auto asked = clock::now();
  while (!is_given_up()) {
    if (wait_for(-1, between_attempts) == wake::stopped) return {ended};
    if (open()) return {heard_ ? reconnect : bytes};
    if (wait && clock::now() - asked >= *wait) return {quiet};
  }
  if (!from_.wait) return {ended};
  if (!heard_) {
    fault_ = why_not_;
    return {failed};
  }
  complain(fmt::format("{}: given up: {}", from_.device, why_not_));
  return {ended};
}

portion serial_line::read(std::span<char> into, std::optional<std::chrono::milliseconds> wait) {
  using enum portion::state;
  if (!fault_.empty()) return {failed};
  for (;;) {
    if (descriptor_ < 0) return seek(wait);
    const auto woken = wait_for(descriptor_, wait);
    if (woken != wake::ready) return {woken == wake::quiet ? quiet : ended};
    const auto n = ::read(descriptor_, into.data(), into.size());
    if (n > 0) return {bytes, static_cast<std::size_t>(n)};
    if (n < 0 && (errno == EINTR || errno == EAGAIN)) continue;
    lose(n == 0 ? "the other end is gone" : words_of(errno));
  }
}

}  // namespace stilling::command
