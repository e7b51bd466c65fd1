// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <optional>

#include "stilling/items/observation.hpp"
#include "stilling/items/record.hpp"
#include "stilling/items/verdict.hpp"
#include "stilling/stages/stage.hpp"

/// What the end of a settled phase shows of the sample: air that got into it, a probe that came out
/// of the flue while the burner ran. Each is told once for the phase it ended, as soon as it is
/// known. A probe taken out on purpose, with a note `fresh air`, is no news.
namespace stilling {

class sampling {
 public:
  using emits = items<verdict, note, observation>;

  template <class Sink> constexpr void push(const verdict& v, Sink&& sink) noexcept {
    if (v.onset) ended_ = v.onset, told_ = cause::none;
    if (v.in == phase::disturbed && v.why == cause::diluted)
      tell(v, finding_kind::dilution, channel::o2, sink);
    if (v.in == phase::fresh_air && v.why == cause::probe_out && !on_purpose_)
      tell(v, finding_kind::probe_slipped, channel::stack_temp, sink);
    sink(v);
  }

  template <class Sink> constexpr void push(const note& n, Sink&& sink) noexcept {
    if (n.text.starts_with("fresh air")) on_purpose_ = true;
    if (n.text.starts_with("probe in")) on_purpose_ = false;
    sink(n);
  }

  template <class Sink> constexpr void finish(Sink&&) noexcept { *this = sampling{}; }

 private:
  template <class Sink>
  constexpr void tell(const verdict& v, finding_kind what, channel of, Sink& sink) noexcept {
    if (told_ == v.why) return;
    told_ = v.why;
    std::optional<double> now;
    if (v.row.possible(of)) now = v.row.corrected(of);
    sink(observation{v.row.at, v.row.line, what, of, false, now, {}, {}, ended_, 0});
  }

  std::optional<instant> ended_;  // first row of what ended the settled phase
  cause told_ = cause::none;
  bool on_purpose_ = false;
};

static_assert(stage<sampling> && accepts<sampling, verdict> && accepts<sampling, note>);

}  // namespace stilling
