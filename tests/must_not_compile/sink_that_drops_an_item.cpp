// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/items/frame.hpp"
#include "stilling/stages/stage.hpp"

struct silent {
  using emits = stilling::items<>;
  template <class Sink> void push(const stilling::frame&, Sink&&) noexcept {}
  template <class Sink> void finish(Sink&&) noexcept {}
};

// What passes a stage by must find a sink that takes it: nothing gets lost without a word.
void drop(silent& stage) {
#ifdef STILLING_MUST_NOT_COMPILE
  auto sink = [](const stilling::note&) {};
#else
  auto sink = [](const stilling::rejection&) {};
#endif
  stilling::route{stage, sink}(stilling::rejection{});
}
