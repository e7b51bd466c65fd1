// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <sys/stat.h>

#include <array>
#include <chrono>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "sources.hpp"

// A file that grows while it is read, and may be rotated: renamed, with a new one in its place, or
// emptied where it stands. No row is lost at the seam, none is read twice.

namespace stilling::command {

class followed_file {
 public:
  /// A file that is not there yet is waited for.
  explicit followed_file(std::string_view path);
  followed_file(const followed_file&) = delete;
  followed_file& operator=(const followed_file&) = delete;
  ~followed_file();

  /// As source::read; ends only by the wish to stop.
  [[nodiscard]] portion read(std::span<char> into, std::optional<std::chrono::milliseconds> wait);
  [[nodiscard]] std::string_view fault() const noexcept { return fault_; }

 private:
  enum class seen : std::uint8_t { nothing, the_same, a_new_one };

  bool open();
  [[nodiscard]] seen look_at_path() const noexcept;
  [[nodiscard]] bool was_rewritten();
  void remember(std::span<const char> read) noexcept;

  std::string path_;
  int descriptor_ = -1;
  struct stat about_ {};  // of the open one, when it was looked at last
  std::uint64_t offset_ = 0;
  std::array<char, 64> tail_{};  // the bytes in front of the offset
  std::size_t tail_size_ = 0;
  bool followed_ = false;  // a file was open before
  bool replaced_ = false;  // a new one has begun; this one is read to its end once more
  std::string fault_;
};

}  // namespace stilling::command
