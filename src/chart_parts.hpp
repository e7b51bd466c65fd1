// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "stilling/terms/time.hpp"

/// What pictures are put together from. Across, places are shares of the width, 0 to 1, since it is
/// not known; down, they are pixels. Private to src/.
namespace stilling::drawing {

/// From a quantity to a share of its axis.
struct scale {
  double low = 0, high = 1;
  [[nodiscard]] double at(double x) const noexcept { return (x - low) / (high - low); }
  /// Pixels from the top of a panel so high.
  [[nodiscard]] double down(double x, double height) const noexcept {
    return (1 - at(x)) * height;
  }
};

/// Round numbers along an axis: 1, 2 or 5 times a power of ten apart.
struct ticks {
  std::vector<double> at;
  int decimals = 0;
};
[[nodiscard]] ticks round_ticks(double low, double high, std::size_t most);

/// Round times: seconds, minutes, hours a person would choose. At most `most`; where twice to six
/// times as many have room on a wide page, they come as `between`.
struct time_ticks {
  std::vector<instant> at, between;
};
[[nodiscard]] time_ticks round_times(instant from, instant to, std::size_t most,
                                     std::size_t most_between);

/// The narrowest plot a picture is drawn for: a telephone of 360 px, less its margins; and the
/// narrowest on a page that is not narrow (`.roomy`), printed ones included.
inline constexpr double narrow = 280, roomy = 560;
inline constexpr double letter_width = 7.8, letter_height = 13;  // at 12 px, a wide face

enum class anchor { start, middle, end };
enum class place { taken, nowhere, on_roomy_pages };

/// A word somewhere: where it is anchored, moved by `dx` pixels, its middle `y` pixels down.
struct word {
  double x = 0, dx = 0, y = 0;
  anchor by = anchor::start;
  std::size_t letters = 0;
};

/// Keeps words from touching, whatever the width.
class words_placed {
 public:
  /// Takes the place if no word is there at any width, or none on roomy pages (if that will do).
  place take(const word& w, bool only_roomy_will_do = true);

 private:
  struct taken {
    word at;
    bool on_roomy_pages;
  };
  [[nodiscard]] bool has_room(const word& w, bool on_roomy_pages) const;
  std::vector<taken> all_;
};

/// `12.34%`
[[nodiscard]] std::string share(double x);
/// `12.3`
[[nodiscard]] std::string pixels(double x);
/// A text element; `text` is marked up here.
void put_word(std::string& to, const word& w, std::string_view classes, std::string_view text);
void put_line(std::string& to, double x1, double y1, double x2, double y2,
              std::string_view classes);
void put_box(std::string& to, double x1, double y1, double x2, double y2,
             std::string_view classes);

}  // namespace stilling::drawing
