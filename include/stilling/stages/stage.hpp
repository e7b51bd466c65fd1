// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <concepts>
#include <memory>
#include <type_traits>
#include <utility>

#include "stilling/items/record.hpp"
#include "stilling/terms/time.hpp"

/// What a stage is, and how stages are joined.
///
/// A stage remembers and is pushed one item at a time; whatever it has to say goes to a sink, any
/// number of items per push. `a | b` is itself a stage. What a stage does not accept passes it by:
/// a rejection born in the decoder reaches the last sink without the stages between knowing the
/// word. A discontinuity is handled here and nowhere else: it finishes every stage it passes, or
/// interrupts it where the stage makes that difference.
///
/// A stage that only adds to an item takes it as `Item&&`, fills in its part and moves the same one
/// on, so that a row travels the chain without being copied. What its owner did not give away is
/// copied in front of the first such stage.
namespace stilling {

/// The list of what a stage may hand on.
template <class... Items> struct items {};

/// Takes anything; what concepts are probed with.
struct any_sink {
  template <class Item> constexpr void operator()(const Item&) const noexcept {}
};

template <class S>
concept stage = requires(S s, any_sink sink) {
  typename S::emits;
  { s.finish(sink) } noexcept;
};

template <class S, class Item>
concept accepts = stage<S> && requires(S s, Item item, any_sink sink) {
  { s.push(std::move(item), sink) } noexcept;
};

template <class S>
concept advances = stage<S> && requires(S s, instant t, any_sink sink) {
  { s.advance(t, sink) } noexcept;
};

/// A stage whose last word at a break differs from that at the end of the log.
template <class S>
concept interrupts = stage<S> && requires(S s, const discontinuity& d, any_sink sink) {
  { s.interrupt(d, sink) } noexcept;
};

/// Back to the first state, in place: a fresh one to be assigned would stand on the stack, and a
/// microcontroller's has no room for it. What the stage is made from is copied beforehand.
template <class Stage, class... From>
constexpr void begin_anew(Stage& s, From... from) noexcept {
  std::destroy_at(&s);
  std::construct_at(&s, std::move(from)...);
}

template <class F, class Item>
concept sink_for = requires(F f, const Item& item) { f(item); };

/// Several lambdas as one sink.
template <class... Fs> struct overloaded : Fs... {
  using Fs::operator()...;
};
template <class... Fs> overloaded(Fs...) -> overloaded<Fs...>;

/// The sink in front of a stage: into it, or past it.
template <class Stage, class Sink> class route {
 public:
  constexpr route(Stage& to, Sink& past) noexcept : to_{to}, past_{past} {}

  template <class Ref> constexpr void operator()(Ref&& item) noexcept {
    using item_type = std::remove_cvref_t<Ref>;
    if constexpr (std::same_as<item_type, discontinuity>) {
      if constexpr (interrupts<Stage>) {
        to_.interrupt(item, past_);
      } else {
        to_.finish(past_);
      }
      past_(item);
    } else if constexpr (requires { to_.push(std::forward<Ref>(item), past_); }) {
      to_.push(std::forward<Ref>(item), past_);
    } else if constexpr (accepts<Stage, item_type>) {
      to_.push(item_type{item}, past_);
    } else {
      static_assert(sink_for<Sink&, item_type>, "the sink leaves this item unhandled");
      past_(std::forward<Ref>(item));
    }
  }

 private:
  Stage& to_;
  Sink& past_;
};

namespace detail {
template <class Stage, class Items> inline constexpr bool accepts_one_of = false;
template <class Stage, class... Each>
inline constexpr bool accepts_one_of<Stage, items<Each...>> = (accepts<Stage, Each> || ...);

template <class A, class B> struct joined;
template <class... As, class... Bs> struct joined<items<As...>, items<Bs...>> {
  using type = items<As..., Bs...>;
};
}  // namespace detail

/// What a stage holds that belongs to its process, such as a pointer: `ties()`, and `tie(…)` to
/// hold another's, or none (saved_session.hpp).
template <class S>
concept tied = requires(S s, const S& as_it_is) { s.tie(as_it_is.ties()); };

struct no_ties {
  friend constexpr bool operator==(no_ties, no_ties) = default;
};

template <class Make, class Stage>
concept made_by = requires(const Make& make) {
  { make() } -> std::same_as<Stage>;
};

template <stage A, stage B> class chain {
  static_assert(detail::accepts_one_of<B, typename A::emits>,
                "the second stage accepts nothing of what the first emits");

 public:
  using emits = typename detail::joined<typename A::emits, typename B::emits>::type;

  constexpr chain(A a, B b) noexcept : first_{std::move(a)}, second_{std::move(b)} {}
  /// From what makes the two, each of them where it will stand.
  template <class MakeA, class MakeB>
    requires made_by<MakeA, A> && made_by<MakeB, B>
  constexpr chain(const MakeA& a, const MakeB& b) noexcept : first_(a()), second_(b()) {}

  template <class Ref, class Sink, class Item = std::remove_cvref_t<Ref>>
    requires accepts<A, Item> || accepts<B, Item> || std::same_as<Item, discontinuity>
  constexpr void push(Ref&& item, Sink&& sink) noexcept {
    route into_second{second_, sink};
    route{first_, into_second}(std::forward<Ref>(item));
  }

  template <class Sink> constexpr void advance(instant t, Sink&& sink) noexcept {
    route into_second{second_, sink};
    if constexpr (advances<A>) first_.advance(t, into_second);
    if constexpr (advances<B>) second_.advance(t, sink);
  }

  template <class Sink> constexpr void finish(Sink&& sink) noexcept {
    route into_second{second_, sink};
    first_.finish(into_second);
    second_.finish(sink);
  }

  template <class Sink> constexpr void interrupt(const discontinuity& d, Sink&& sink) noexcept {
    route into_second{second_, sink};
    if constexpr (interrupts<A>) first_.interrupt(d, into_second);
    else first_.finish(into_second);
    if constexpr (interrupts<B>) second_.interrupt(d, sink);
    else second_.finish(sink);
  }

  [[nodiscard]] constexpr auto ties() const noexcept {
    return std::pair{ties_of(first_), ties_of(second_)};
  }
  template <class First, class Second>
  constexpr void tie(const std::pair<First, Second>& t) noexcept {
    if constexpr (tied<A>) first_.tie(t.first);
    if constexpr (tied<B>) second_.tie(t.second);
  }

  [[nodiscard]] constexpr const A& first() const noexcept { return first_; }
  [[nodiscard]] constexpr const B& second() const noexcept { return second_; }

 private:
  template <class S> [[nodiscard]] static constexpr auto ties_of(const S& s) noexcept {
    if constexpr (tied<S>) return s.ties();
    else return no_ties{};
  }

  A first_;
  B second_;
};

template <stage A, stage B> [[nodiscard]] constexpr auto operator|(A a, B b) noexcept {
  return chain<A, B>{std::move(a), std::move(b)};
}

/// How to make a stage: a function without arguments. Recipes are joined as stages are, and what
/// comes of them is made in its place, never on the stack: `auto live = (recipe{f} | recipe{g})();`
template <class Make> struct recipe : Make {};
template <class Make> recipe(Make) -> recipe<Make>;

template <class A, class B>
[[nodiscard]] constexpr auto operator|(const recipe<A>& a, const recipe<B>& b) noexcept {
  return recipe{[a, b] { return chain<decltype(a()), decltype(b())>(a, b); }};
}

}  // namespace stilling
