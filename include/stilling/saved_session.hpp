// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <bit>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <optional>
#include <span>
#include <string_view>
#include <type_traits>

#include "stilling/stages/stage.hpp"

/// A running session as bytes: kept over a power cut, handed to another process. What is restored
/// goes on as if nothing had been, to the last bit, in the middle of a line too.
///
///     static saved_session<default_session> kept;
///     save(live, kept);                                    // write kept.bytes() somewhere
///     if (const auto why = restore(bytes, live)) tell(*why);    // else `live` goes on
///
/// Works for a session or any chain that is trivially copyable. No allocation; the size is known at
/// compile time. The bytes hold the state as it lies in memory, settings included, and no pointer.
/// A time zone belongs to the process: the session restored into must have been given the same.
///
/// Promised: bytes saved by one build are read by any build of the same `state_version`, `members`
/// and layout in memory (x86-64 and aarch64 share one, a 32-bit board has another); by all others
/// they are refused, as is what was damaged or cut off. The checksum finds accidents. It is no
/// signature: do not restore what a stranger could have written.
namespace stilling {

/// Raised by hand where a member comes to mean something else.
inline constexpr std::uint32_t state_version = 1;
/// All members of default_session and where they lie, as one number: tests/house/state.py --renew.
inline constexpr std::uint64_t members = 0x79c9ae7e4a019366;

enum class restore_fault : std::uint8_t {
  cut_off,        // fewer bytes than it says, or than its first few
  no_session,     // it does not begin as a saved session does
  other_version,  // saved by a version that means something else
  other_layout,   // another kind of session, or one that lies otherwise in memory
  other_zone,     // it was given a time zone and the one restored into was not, or the reverse
  damaged,        // the checksum does not fit
};

[[nodiscard]] constexpr std::string_view name_of(restore_fault f) noexcept {
  constexpr std::string_view names[]{"cut_off",      "no_session", "other_version",
                                     "other_layout", "other_zone", "damaged"};
  return names[static_cast<std::size_t>(f)];
}

namespace detail {

/// FNV-1a (Fowler, Noll, Vo): any single damaged byte shows, others but for chance (2^-64).
class checksum {
 public:
  constexpr void take(std::uint8_t byte) noexcept { sum_ = (sum_ ^ byte) * 0x100000001b3U; }
  constexpr void take(std::uint64_t n) noexcept {
    for (int i = 0; i < 8; ++i, n >>= 8U) take(static_cast<std::uint8_t>(n & 255U));
  }
  constexpr void take(std::span<const std::byte> bytes) noexcept {
    for (const std::byte b : bytes) take(static_cast<std::uint8_t>(b));
  }
  [[nodiscard]] constexpr std::uint64_t sum() const noexcept { return sum_; }

 private:
  std::uint64_t sum_ = 0xcbf29ce484222325U;
};

template <class Stage> struct layout_in_memory {
  static constexpr void take_into(checksum& c) noexcept {
    c.take(std::uint64_t{sizeof(Stage)});
    c.take(std::uint64_t{alignof(Stage)});
    if constexpr (requires { typename Stage::assembled; })
      layout_in_memory<typename Stage::assembled>::take_into(c);
  }
};
template <class A, class B> struct layout_in_memory<chain<A, B>> {
  static constexpr void take_into(checksum& c) noexcept {
    layout_in_memory<A>::take_into(c);
    layout_in_memory<B>::take_into(c);
  }
};

}  // namespace detail

/// Which sessions are alike in memory.
template <class Session> inline constexpr std::uint64_t layout_print = [] {
  detail::checksum c;
  c.take(members);
  c.take(std::uint64_t{std::endian::native == std::endian::little});
  c.take(std::uint64_t{sizeof(void*)});
  detail::layout_in_memory<Session>::take_into(c);
  return c.sum();
}();

template <class Session> class saved_session {
  static_assert(std::is_trivially_copyable_v<Session>);
  static_assert(alignof(Session) <= 8);

 public:
  static constexpr std::size_t head = 40;  // bytes in front of the state
  static constexpr std::size_t size = head + sizeof(Session);

  [[nodiscard]] constexpr std::span<const std::byte, size> bytes() const noexcept {
    return bytes_;
  }

  void take(const Session& live) noexcept {
    // A copy of what is trivially copyable is one, wherever it is aligned to stand.
    auto* const copy = static_cast<Session*>(std::memcpy(bytes_.data() + head, &live, sizeof live));
    copy->tie(decltype(live.ties()){});
    std::memcpy(bytes_.data(), "stilling", 8);
    put(8, state_version, 4);
    put(12, live.ties() == decltype(live.ties()){} ? 0 : 1, 4);
    put(16, layout_print<Session>, 8);
    put(24, size, 8);
    put(32, sum_of(bytes_), 8);
  }

  /// Why these are not the bytes of such a session; nothing where they are.
  [[nodiscard]] static std::optional<restore_fault> look_at(std::span<const std::byte> bytes,
                                                            bool has_ties) noexcept {
    if (bytes.size() < head) return restore_fault::cut_off;
    if (std::memcmp(bytes.data(), "stilling", 8) != 0) return restore_fault::no_session;
    if (number(bytes, 8, 4) != state_version) return restore_fault::other_version;
    if (number(bytes, 16, 8) != layout_print<Session>) return restore_fault::other_layout;
    if (bytes.size() < size) return restore_fault::cut_off;
    if (bytes.size() > size || number(bytes, 24, 8) != size ||
        number(bytes, 32, 8) != sum_of(bytes))
      return restore_fault::damaged;
    if ((number(bytes, 12, 4) != 0) != has_ties) return restore_fault::other_zone;
    return std::nullopt;
  }

 private:
  // The head is little-endian on every machine, so that a wrong one is told apart from damage.
  void put(std::size_t at, std::uint64_t n, std::size_t width) noexcept {
    for (std::size_t i = 0; i < width; ++i, n >>= 8U) bytes_[at + i] = std::byte(n & 255U);
  }
  [[nodiscard]] static std::uint64_t number(std::span<const std::byte> bytes, std::size_t at,
                                            std::size_t width) noexcept {
    std::uint64_t n = 0;
    for (std::size_t i = width; i-- > 0;)
      n = n << 8U | std::to_integer<std::uint64_t>(bytes[at + i]);
    return n;
  }
  [[nodiscard]] static std::uint64_t sum_of(std::span<const std::byte> bytes) noexcept {
    detail::checksum c;
    c.take(bytes.first(32));
    c.take(bytes.subspan(head));
    return c.sum();
  }

  alignas(8) std::array<std::byte, size> bytes_{};
};

template <class Session> void save(const Session& live, saved_session<Session>& to) noexcept {
  to.take(live);
}

/// Between pushes, into a session of the same kind whatever its past. Its settings become those
/// saved, but for the time zone, which it keeps. Where there is a fault it is left as it was.
template <class Session>
[[nodiscard]] std::optional<restore_fault> restore(std::span<const std::byte> bytes,
                                                   Session& live) noexcept {
  const auto ties = live.ties();
  const auto fault = saved_session<Session>::look_at(bytes, !(ties == decltype(live.ties()){}));
  if (fault) return fault;
  std::memcpy(static_cast<void*>(&live), bytes.data() + saved_session<Session>::head, sizeof live);
  live.tie(ties);
  return std::nullopt;
}

}  // namespace stilling
