// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <utility>
#include <variant>

#include "stilling.h"

/// What a session has said and nobody has asked for yet, in a fixed place. Readings are large and
/// few, so they lie apart. What can come in any number, rejections and assumptions, leaves room for
/// what must not get lost, and is counted where it found none.
namespace stilling::c_face {

class waiting {
 public:
  /// Whether everything a line can say of what must not get lost will find a place.
  [[nodiscard]] bool has_room() const noexcept {
    return places - count_ >= before_a_line && for_readings - readings_ >= 3;
  }
  [[nodiscard]] bool empty() const noexcept { return count_ == 0; }

  /// A place for a reading; null only where three came at once, which no row can make.
  [[nodiscard]] stilling_plateau* add_plateau() noexcept {
    if (count_ == places || readings_ == for_readings) return nullptr;
    place_behind() = plateau_lies_apart{};
    auto& to = plateaus_[(first_reading_ + readings_++) % for_readings];
    to = {};
    return &to;
  }
  template <class Item> void add(const Item& item) noexcept {
    if (count_ == places) ++lost_;
    else place_behind() = item;
  }
  template <class Item> void add_if_room(const Item& item) noexcept {
    if (places - count_ <= kept_free) ++lost_;
    else place_behind() = item;
  }

  [[nodiscard]] bool take(stilling_item& to) noexcept {
    if (count_ == 0) return false;
    const any& oldest = at_[first_];
    to = {};
    to.kind = static_cast<std::uint32_t>(oldest.index());
    to.lost = std::exchange(lost_, 0);
    if (oldest.index() == STILLING_PLATEAU) {
      to.of.plateau = plateaus_[first_reading_];
      first_reading_ = (first_reading_ + 1) % for_readings;
      --readings_;
    }
    take_one(oldest, to.of.phase), take_one(oldest, to.of.burn), take_one(oldest, to.of.note);
    take_one(oldest, to.of.broke), take_one(oldest, to.of.rejection);
    take_one(oldest, to.of.assumption), take_one(oldest, to.of.layout);
    first_ = (first_ + 1) % places;
    --count_;
    return true;
  }

 private:
  static constexpr std::size_t places = 64;
  static constexpr std::size_t for_readings = 6;
  static constexpr std::size_t kept_free = 24;      // phases, burns, breaks, sixteen notes held
  static constexpr std::size_t before_a_line = 48;  // and more than one line says of the rest

  struct plateau_lies_apart {};
  // In the order of stilling_kind.
  using any = std::variant<plateau_lies_apart, stilling_phase, stilling_burn, stilling_note,
                           stilling_break, stilling_rejection, stilling_assumption,
                           stilling_layout>;

  any& place_behind() noexcept { return at_[(first_ + count_++) % places]; }
  template <class Item> static void take_one(const any& from, Item& to) noexcept {
    if (const auto* item = std::get_if<Item>(&from)) to = *item;
  }

  std::array<any, places> at_{};
  std::array<stilling_plateau, for_readings> plateaus_{};
  std::size_t first_ = 0, count_ = 0, first_reading_ = 0, readings_ = 0;
  std::uint32_t lost_ = 0;
};

}  // namespace stilling::c_face
