// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "watch_view.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "big_word.hpp"
#include "cells.hpp"
#include "typed_note.hpp"

namespace stilling::command {
namespace {

using weight = page_line::weight;

/// Lines that belong together. What is worth least goes first, from its end.
struct block {
  std::vector<page_line> lines;
  int worth = 0;
  bool cut = false;
};

constexpr int worth_of_blank = 5;

class page_maker {
 public:
  page_maker(const told& t, const page_foot& foot, screen::size room, bool utf8)
      : t_{t}, foot_{foot}, room_{room}, utf8_{utf8} {}

  page make() {
    put_head();
    blank();
    put_cautions(true);
    put_answer();
    blank();
    put("Next: " + t_.next, 90, weight::strong, 3);
    blank();
    put_levels();
    put(t_.beside, 20, weight::plain, 2);
    blank();
    put(t_.reading, 60, weight::plain, 4);
    put(t_.drafts, 40, weight::plain, 2);
    put(t_.figures, 50, weight::plain, 3);
    put(t_.change, 55, weight::plain, 5);
    blank();
    put_cautions(false);
    if (!t_.last_note.empty()) put("Last note: " + t_.last_note, 15, weight::plain, 2);
    const auto body = blocks_.size();
    put_foot();
    shrink();
    return finished(body);
  }

 private:
  void put(std::string_view text, int worth, weight is = weight::plain, std::size_t most = 9) {
    if (text.empty()) return;
    auto lines = wrapped(spelled(text), room_.columns, 2);
    block b{{}, worth};
    b.cut = lines.size() > most;
    if (b.cut) lines.resize(most);
    for (auto& l : lines) b.lines.push_back({std::move(l), is});
    blocks_.push_back(std::move(b));
  }
  void blank() { blocks_.push_back({{page_line{}}, worth_of_blank}); }
  [[nodiscard]] std::string spelled(std::string_view text) const {
    return utf8_ ? std::string{text} : in_ascii(text);
  }

  void put_head() {
    std::string head = t_.at;
    const auto add = [&](std::string_view what, std::string_view name) {
      if (!name.empty()) head += fmt::format("{}{}{}", head.empty() ? "" : "  ", what, name);
    };
    add("from ", t_.source);
    add("recorded in ", foot_.recorded_in);
    add("also at ", foot_.served_at);
    if (!head.empty())
      blocks_.push_back({{{cut_to(spelled(head), room_.columns), weight::plain}}, 30});
  }

  void put_cautions(bool dangers) {
    for (const auto& c : t_.cautions) {
      if ((c.grave == severity::danger) != dangers) continue;
      if (!dangers) {
        put(c.text, c.grave == severity::note ? 25 : 45, weight::plain, 3);
        continue;
      }
      if (c.seen) {
        put(c.text, 97, weight::strong, 2);
        continue;
      }
      // The whole width, so that it is seen without colour too.
      block b{{}, 100};
      for (const auto& l : wrapped(spelled(c.text), room_.columns > 2 ? room_.columns - 2 : 1))
        b.lines.push_back({padded(" " + l, room_.columns), weight::alarm});
      if (b.lines.size() > 6) b.lines.resize(6);
      blocks_.push_back(std::move(b));
    }
  }

  void put_answer() {
    const std::string text = t_.when.empty() ? t_.answer : t_.answer + ' ' + t_.when;
    const bool roomy = room_.columns >= 110 && room_.rows >= 34;
    std::vector<std::string> word;
    if (room_.rows >= 16) word = big_word(t_.word, roomy ? 2 : 1, utf8_);
    const auto width = word.empty() ? 0 : cells_of(word[0]);
    if (word.empty() || width > room_.columns)
      return put(t_.word + ". " + text, 95, weight::strong, 6);
    constexpr std::size_t apart = 3, least = 34;
    block b{{}, 95};
    if (width + apart + least <= room_.columns) {
      const auto beside = wrapped(spelled(text), room_.columns - width - apart);
      for (std::size_t i = 0; i < std::max(word.size(), beside.size()); ++i) {
        auto line = i < word.size() ? word[i] : std::string(width, ' ');
        if (i < beside.size()) line += std::string(apart, ' ') + beside[i];
        b.lines.push_back({std::move(line), weight::strong});
      }
      blocks_.push_back(std::move(b));
      return;
    }
    for (auto& line : word) b.lines.push_back({std::move(line), weight::strong});
    blocks_.push_back(std::move(b));
    put(text, 94, weight::plain, 7);
  }

  void put_levels() {
    if (t_.levels.empty()) return;
    block b{{}, 80};
    const bool wide = room_.columns >= 72;
    const std::size_t rail = room_.columns >= 100 ? 41 : wide ? 25 : 15;
    for (const auto& l : t_.levels) {
      std::string line;
      if (room_.columns >= 30) line = drawn(l, rail, utf8_) + "  ";
      if (wide) {
        line += padded(spelled(l.now), 16) + "  " + spelled(l.moves);
      } else if (room_.columns >= 30) {
        line += spelled(l.now);
      } else {
        line += spelled(l.now + ' ' + l.brief);
      }
      b.lines.push_back({cut_to(line, room_.columns), weight::plain});
      if (!wide && room_.columns >= 30 && room_.rows >= 18)
        b.lines.push_back({cut_to("  " + spelled(l.moves), room_.columns), weight::plain});
    }
    blocks_.push_back(std::move(b));
    const bool by_rates = t_.levels[0].mark > 0;
    if (wide && by_rates)
      put("Settled when every bubble, where a rate may lie, stays between its marks.", 10);
  }

  void put_foot() {
    if (foot_.typed) {
      put(std::string{note_words}, 65);
      const auto meant = note_meant_by(*foot_.typed);
      if (!meant.empty() && meant != *foot_.typed) put("It enters as: " + meant, 66);
      constexpr std::string_view before = "Note: ";
      const auto lead = room_.columns > 20 ? before : std::string_view{};
      const auto shown =
          end_of(spelled(plain_letters(*foot_.typed)), room_.columns - lead.size() - 1);
      cursor_ = lead.size() + cells_of(shown);
      blocks_.push_back({{{std::string{lead} + shown, weight::strong}}, 99});
      return;
    }
    if (!foot_.hint.empty()) put(foot_.hint, 67, weight::strong, 3);
    const bool danger = std::ranges::any_of(t_.cautions, [](const caution& c) {
      return c.grave == severity::danger && !c.seen;
    });
    std::string keys = danger ? "k: I have seen it   " : "";
    keys += foot_.ended ? "q leave" : "n note   q end";
    if (!foot_.keys) keys = "Ctrl-C ends";
    blocks_.push_back({{{cut_to(keys, room_.columns), weight::plain}}, 70});
  }

  void shrink() {
    const auto lines = [&] {
      std::size_t n = 0;
      for (const auto& b : blocks_) n += b.lines.size();
      return n;
    };
    while (lines() > room_.rows) {
      block* least = nullptr;
      for (auto& b : blocks_)
        if (!b.lines.empty() && (least == nullptr || b.worth <= least->worth)) least = &b;
      least->lines.pop_back();
      least->cut = true;
    }
  }

  page finished(std::size_t body) {
    page out;
    std::size_t foot = 0;
    for (std::size_t i = body; i < blocks_.size(); ++i) foot += blocks_[i].lines.size();
    for (std::size_t i = 0; i < blocks_.size(); ++i) {
      if (i == body)
        while (out.lines.size() + foot < room_.rows) out.lines.emplace_back();
      auto& lines_here = blocks_[i].lines;
      if (blocks_[i].cut && !lines_here.empty() && !lines_here.back().text.empty() &&
          lines_here.back().is != weight::alarm) {
        auto& last = lines_here.back().text;
        last = cut_to(last, room_.columns - std::min<std::size_t>(room_.columns, 2));
        if (!last.ends_with("…")) last += utf8_ ? " …" : " .";
      }
      for (auto& l : lines_here) {
        // Blank lines part; two of them on end, or one on top, part nothing.
        const bool doubled = l.text.empty() && i < body &&
                             (out.lines.empty() || out.lines.back().text.empty());
        if (!doubled) out.lines.push_back({spelled(cut_to(l.text, room_.columns)), l.is});
      }
    }
    if (foot_.typed && !out.lines.empty())
      out.cursor = screen::size{std::min(cursor_, room_.columns - 1), out.lines.size() - 1};
    return out;
  }

  const told& t_;
  const page_foot& foot_;
  screen::size room_;
  bool utf8_;
  std::vector<block> blocks_;
  std::size_t cursor_ = 0;
};

}  // namespace

std::string drawn(const level& l, std::size_t cells, bool utf8) {
  const double half = 2 * (l.mark > 0 ? l.mark : 1.5);  // of what the rail shows
  const auto last = static_cast<double>(cells - 1);
  const auto place = [&](double x) { return (x / half + 1) / 2 * last; };
  const auto nearest = [&](double x) {
    return static_cast<std::size_t>(std::clamp(std::floor(place(x) + 0.5), 0.0, last));
  };
  std::vector<std::string_view> rail(cells, utf8 ? "·" : ".");
  if (l.measured) {
    const auto from = nearest(l.low), to = nearest(l.high);
    for (auto i = from; i <= to; ++i) rail[i] = utf8 ? "█" : "=";
    if (place(l.low) < -0.5) rail.front() = utf8 ? "◀" : "<";
    if (place(l.high) > last + 0.5) rail.back() = utf8 ? "▶" : ">";
  }
  if (l.mark > 0) {
    // A bubble that reaches a mark by less than a cell must not seem to stay within.
    const auto left = nearest(-l.mark), right = nearest(l.mark);
    const bool crosses_left = l.measured && l.low < -l.mark;
    const bool crosses_right = l.measured && l.high > l.mark;
    rail[left] = utf8 ? (crosses_left ? "┃" : "│") : "|";
    rail[right] = utf8 ? (crosses_right ? "┃" : "│") : "|";
    if (crosses_left && nearest(l.low) >= left && left > 0) rail[left - 1] = utf8 ? "█" : "=";
    if (crosses_right && nearest(l.high) <= right && right + 1 < cells)
      rail[right + 1] = utf8 ? "█" : "=";
  }
  std::string to;
  for (const auto cell : rail) to += cell;
  return to;
}

page lay_out(const told& t, const page_foot& foot, screen::size room, bool utf8) {
  room.columns = std::max<std::size_t>(room.columns, 1);
  room.rows = std::max<std::size_t>(room.rows, 1);
  return page_maker{t, foot, room, utf8}.make();
}

}  // namespace stilling::command
