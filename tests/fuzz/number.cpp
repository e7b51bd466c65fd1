// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/decoding/number.hpp"

#include <bit>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

// The fixed-decimal path against fast_float: as long a number, and the same bits. Both also read as
// stamps, which no input may take out of range.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  if (size == 0) return 0;
  const char point = bytes[0] % 2 == 0 ? '.' : ',';
  const auto* first = reinterpret_cast<const char*>(bytes + 1);
  const auto* const last = first + (size - 1);
  stilling::decimal d;
  const char* const end = stilling::read_decimal(first, last, point, d);

  double reference = 0;
  const auto* from = first;
  if (from != last && *from == '+' && from + 1 != last && from[1] != '-') ++from;
  const auto read = fast_float::from_chars_advanced(
      from, last, reference, fast_float::parse_options{fast_float::chars_format::general, point});
  const bool word =
      from != last && (*from == '-' ? from + 1 != last && from[1] > '9' : *from > '9');
  if (word) return 0;  // fast_float reads nan and inf, of which we make no numbers
  if ((end == nullptr) != (read.ptr == from)) std::abort();
  if (end == nullptr) return 0;
  if (end != read.ptr) std::abort();
  const auto length = static_cast<std::size_t>(end - first);
  const auto x = stilling::to_double(d, {first, length}, point);
  const bool finite = reference - reference == 0;
  if (x.has_value() != finite) std::abort();
  if (x && std::bit_cast<std::uint64_t>(*x) != std::bit_cast<std::uint64_t>(reference))
    std::abort();
  for (std::size_t u = 0; u < stilling::time_unit_count; ++u) {
    const auto ns = stilling::to_nanoseconds(d, static_cast<stilling::time_unit>(u));
    if (ns && (*ns > (std::int64_t{1} << 62) || *ns < -(std::int64_t{1} << 62))) std::abort();
  }
  return 0;
}
