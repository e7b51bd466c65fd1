// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/stages/stage.hpp"

struct grain {};
struct flour {};

struct mill {
  using emits = stilling::items<flour>;
  template <class Sink> void push(const grain&, Sink&& sink) noexcept { sink(flour{}); }
  template <class Sink> void finish(Sink&&) noexcept {}
};

// A stage whose neighbour accepts nothing it emits is in the wrong place.
#ifdef STILLING_MUST_NOT_COMPILE
using next = mill;
#else
struct next {
  using emits = stilling::items<>;
  template <class Sink> void push(const flour&, Sink&&) noexcept {}
  template <class Sink> void finish(Sink&&) noexcept {}
};
#endif
using stilling::operator|;
auto joined = mill{} | next{};
