// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/stages/framer.hpp"

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <string_view>
#include <vector>

// Any bytes, whole and in pieces: the same lines, and none longer than the framer can hold.
namespace {

struct line {
  std::uint64_t number;
  std::string text;
  bool cut, unterminated;
  std::uint32_t padding;
  bool operator==(const line&) const = default;
};

std::vector<line> lines_of(std::string_view bytes, std::size_t piece) {
  std::vector<line> out;
  stilling::framer<64> framer;
  const auto sink = [&](const stilling::record& r) {
    if (r.text.size() > 64) std::abort();
    out.push_back({r.line, std::string{r.text}, r.cut, r.unterminated, r.padding});
  };
  for (; bytes.size() > piece; bytes.remove_prefix(piece))
    framer.push(bytes.substr(0, piece), sink);
  framer.push(bytes, sink);
  framer.finish(sink);
  return out;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
  if (size == 0) return 0;
  const std::string_view text{reinterpret_cast<const char*>(bytes + 1), size - 1};
  if (lines_of(text, size) != lines_of(text, 1U + bytes[0] % 80U)) std::abort();
  return 0;
}
