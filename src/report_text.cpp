// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// A report on paper: plain lines of a fixed width, form feeds between pages.

#include <algorithm>
#include <span>

#include "report_parts.hpp"
#include "text_number.hpp"
#include "text_words.hpp"

namespace stilling::report {
namespace {

using namespace reporting;
using writing::width_of;

constexpr std::size_t between_columns = 2;

class sheet {
 public:
  sheet(std::string& to, std::size_t width) noexcept : to_{to}, width_{width} {}

  void line(std::string_view text, std::size_t indent = 0) {
    std::string spaced(indent, ' ');
    spaced += text;
    spaced.erase(spaced.find_last_not_of(' ') + 1);
    // A no-break space has done its work once lines are broken.
    for (std::size_t at; (at = spaced.find("\xC2\xA0")) != spaced.npos;) spaced.replace(at, 2, " ");
    (to_ += spaced) += '\n';
  }
  void gap() { to_ += '\n'; }

  void title(std::string_view text, std::string_view aside) {
    std::string_view rest = text;
    const auto first = aside.empty() ? width_ : width_ - width_of(aside) - 1;
    auto head = std::string{taken(rest, first)};
    if (!aside.empty()) {
      head.append(width_ - width_of(head) - width_of(aside), ' ');
      head += aside;
    }
    line(head);
    while (!rest.empty()) line(taken(rest, width_));
    line(std::string(width_, '='));
  }

  /// The first line stands behind `mark`, all others as far in.
  void wrapped(std::string_view mark, std::string_view text, std::size_t indent) {
    std::string head{mark};
    if (width_of(mark) < indent) head.append(indent - width_of(mark), ' ');
    if (width_of(mark) + 1 > indent && !mark.empty()) {  // no room beside it
      line(mark);
      head.assign(indent, ' ');
    }
    do {
      head += taken(text, width_ - indent);
      line(head);
      head.assign(indent, ' ');
    } while (!text.empty());
  }

  void table(const grid& g) {
    const auto count = g.heads.size();
    std::vector<std::size_t> widths(count);
    const auto widen = [&](const std::vector<std::string>& cells) {
      for (std::size_t i = 0; i < cells.size(); ++i)
        widths[i] = std::max(widths[i], width_of(cells[i]));
    };
    widen(g.heads);
    for (const auto& l : g.lines) widen(l.cells);
    // As many columns as fit; the others under them, each time with the first.
    for (std::size_t from = 1; from < count || from == 1;) {
      std::size_t to = from, used = widths[0];
      while (to < count && (to == from || used + between_columns + widths[to] <= width_))
        used += between_columns + widths[to++];
      if (from > 1) gap();
      row(g.heads, widths, from, to);
      for (const auto& l : g.lines) {
        if (!l.across.empty() && from == 1) wrapped("", l.across, 0);
        if (!l.cells.empty()) row(l.cells, widths, from, to);
      }
      from = std::max(to, from + 1);
    }
  }

  void sign(const blanks& b) {
    // Room for a hand: a line of its own above what it is for.
    const auto each = width_ / 4, last = width_ - each * (b.labels.size() - 1) - 2;
    std::string lines, labels;
    for (std::size_t i = 0; i < b.labels.size(); ++i) {
      const auto wide = i + 1 == b.labels.size() ? last : each;
      lines += std::string(wide, '_') + "  ";
      labels += b.labels[i];
      labels.append(wide + 2 - std::min(wide + 2, width_of(b.labels[i])), ' ');
    }
    gap();
    gap();
    line(lines);
    line(labels);
  }

 private:
  /// Words that fit into so many columns, taken off `text`; at least one, and never more.
  static std::string_view taken(std::string_view& text, std::size_t columns) {
    std::size_t end = 0, at = 0;
    while (at < text.size()) {
      const auto stop = std::min(text.find(' ', at), text.size());
      if (width_of(text.substr(0, stop)) > columns && end > 0) break;
      end = stop;
      at = stop + 1;
    }
    auto out = text.substr(0, end);
    // One word that is wider than the sheet is cut between two letters.
    while (width_of(out) > columns) {
      do out.remove_suffix(1);
      while ((static_cast<unsigned char>(text[out.size()]) & 0xC0U) == 0x80U);
    }
    text.remove_prefix(out.size());
    while (text.starts_with(' ')) text.remove_prefix(1);
    return out;
  }

  void row(const std::vector<std::string>& cells, const std::vector<std::size_t>& widths,
           std::size_t from, std::size_t to) {
    std::string text = cells[0];
    text.append(widths[0] - width_of(cells[0]), ' ');
    for (auto i = from; i < to; ++i) {
      text.append(between_columns + widths[i] - width_of(cells[i]), ' ');
      text += cells[i];
    }
    line(text);
  }

  std::string& to_;
  std::size_t width_;
};

/// Each kind of part in its own way.
struct part_writer {
  sheet& on;
  std::size_t behind_questions, times;

  void operator()(const paragraph& w) const { on.wrapped("", w.text, 0); }
  void operator()(const answer& w) const { on.wrapped(w.question, w.text, behind_questions); }
  void operator()(const event& w) const {
    on.wrapped(std::string(times - width_of(w.time), ' ') + w.time, w.text, times + 2);
  }
  void operator()(const bullet& w) const { on.wrapped("*", w.text, 2); }
  void operator()(const grid& w) const { on.table(w); }
  void operator()(const blanks& w) const { on.sign(w); }
};

void write(sheet& on, const page& p, std::string_view aside, std::size_t width) {
  on.title(p.title, aside);
  for (const auto& s : p.sections) {
    if (!s.heading.empty()) {
      on.gap();
      on.line(s.heading);
      on.line(std::string(std::min(width_of(s.heading), width), '-'));
    } else {
      on.gap();
    }
    const part* before = nullptr;
    std::size_t questions = 0, times = 0;
    for (const auto& x : s.parts) {
      if (const auto* a = std::get_if<answer>(&x))
        questions = std::max(questions, width_of(a->question));
      if (const auto* e = std::get_if<event>(&x)) times = std::max(times, width_of(e->time));
    }
    const part_writer put_part{on, questions + 2, times};
    for (const auto& x : s.parts) {
      // Answers, events and bullets follow each other; all else stands apart.
      const bool same = before != nullptr && x.index() == before->index();
      if (before != nullptr && (!same || std::holds_alternative<paragraph>(x))) on.gap();
      before = &x;
      std::visit(put_part, x);
    }
  }
}

}  // namespace

void write_text(std::string& to, const reported& r, std::size_t width, std::size_t copies) {
  width = std::max(width, least_width);
  const auto record = technician_page(r), plain_words = customer_page(r);
  for (std::size_t copy = 1; copy <= copies; ++copy) {
    const auto aside =
        copies > 1 ? fmt::format("copy {} of {}", copy, copies) : std::string{};
    if (copy > 1) to += '\f';
    sheet on{to, width};
    write(on, record, aside, width);
    to += '\f';
    write(on, plain_words, aside, width);
  }
}

}  // namespace stilling::report
