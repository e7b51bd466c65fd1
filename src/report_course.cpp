// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// How a test went, in the order it happened, and how its log was read.

#include <algorithm>
#include <cstdint>
#include <tuple>
#include <utility>

#include "report_parts.hpp"
#include "report_words.hpp"
#include "text_number.hpp"
#include "text_reading.hpp"
#include "text_words.hpp"

namespace stilling::reporting {
namespace {

using namespace writing;

/// The log's clock may go back at a break: what came before it stands before it.
struct happening {
  std::size_t segment = 0;  // breaks before it
  instant at{};
  int rank = 0;  // at one instant: a break, then a note, then what the rows showed
  std::string text;
};

std::string what_a_phase_says(const phase_span& p, const phase_span* before) {
  const auto why = reason_of(p.why, p.which);
  if (before != nullptr && before->in == p.in) {
    const bool explained =
        p.why == cause::diluted || p.why == cause::stage_change || p.why == cause::stuck;
    return explained ? why : std::string{};
  }
  if (p.in == phase::steady) return {};  // the reading that comes with it says more
  if (p.in != phase::disturbed) return std::string{writing::words_of(p.in)};
  if (before != nullptr && before->in != phase::steady) return "not settled again yet";
  return why.empty() ? std::string{writing::words_of(p.in)}
                     : fmt::format("{}: {}", writing::words_of(p.in), why);
}

std::vector<happening> happenings_of(const reported& r) {
  const auto& test = r.test;
  std::vector<happening> all;
  const auto segment_of = [&](std::uint64_t line) {
    return static_cast<std::size_t>(std::ranges::count_if(
        test.breaks(), [line](const discontinuity& d) { return d.line <= line; }));
  };
  for (const auto& d : test.breaks())
    all.push_back({segment_of(d.line), d.at, 0,
                   fmt::format("{} (line {}); what follows is judged anew",
                               plain::words_of(d.kind), d.line)});
  for (const auto& n : test.notes())
    all.push_back({segment_of(n.line), n.at, 1, fmt::format("note: {}", printable(n.text))});
  const phase_span* before = nullptr;
  for (const auto& p : test.phases()) {
    auto text = what_a_phase_says(p, before);
    before = &p;
    if (!text.empty()) all.push_back({segment_of(p.line), p.from, 2, std::move(text)});
  }
  std::size_t segment = 0, number = 0;
  for (const auto& s : test.settled()) {
    // The segment in which it became steady just then; or else the last that had begun.
    auto found = segment;
    for (const auto& p : test.phases()) {
      if (p.from > s.read.declared || segment_of(p.line) < segment) continue;
      found = segment_of(p.line);
      if (p.in == phase::steady && p.from == s.read.declared) break;
    }
    segment = found;
    all.push_back({segment, s.read.declared, 2, fmt::format("settled: reading {}", ++number)});
  }
  std::ranges::stable_sort(all, {}, [](const happening& h) {
    return std::tuple{h.segment, h.at, h.rank};
  });
  return all;
}

grid burns_of(const std::vector<burn>& burns, const presentation& as) {
  grid to;
  to.heads = {"burn", "lasted"};
  struct told {
    std::string_view name;
    channel c;
    lanes<double> burn::* of;
  };
  std::vector<told> columns;
  for (const auto& t : {told{"hottest stack", channel::stack_temp, &burn::peak},
                        told{"O2 at its end", channel::o2, &burn::last},
                        told{"most CO", channel::co, &burn::peak}})
    if (std::ranges::any_of(burns, [&](const burn& b) { return (b.*t.of).has(t.c); }))
      columns.push_back(t);
  for (const auto& t : columns) to.heads.push_back(fmt::format("{}, {}", t.name, unit_of(t.c, as)));
  for (std::size_t i = 0; i < burns.size(); ++i) {
    const auto& b = burns[i];
    std::vector<std::string> cells{
        glued(fmt::format("{} at {}", i + 1, clock_of(b.from, as))),
        b.to ? glued(duration_words(*b.to - b.from)) : std::string{"not seen to end"}};
    for (const auto& t : columns) {
      std::string value = "–";
      if ((b.*t.of).has(t.c)) {
        value.clear();
        append_rounded(value, from_canonical(as.unit_of(t.c), (b.*t.of)[t.c]), 2);
      }
      cells.push_back(std::move(value));
    }
    to.lines.push_back({{}, std::move(cells)});
  }
  return to;
}

}  // namespace

section how_it_went(const reported& r) {
  section to{"How the test went", {}};
  for (auto& h : happenings_of(r))
    to.parts.emplace_back(event{clock_of(h.at, r.as), std::move(h.text)});
  const auto burns = r.summary.burns.size();
  if (burns > 1 || (burns == 1 && r.test.settled().empty())) {
    to.parts.emplace_back(paragraph{burns == 1 ? std::string{"The burner was seen to burn once:"}
                                               : fmt::format("The burner was seen to burn {} "
                                                             "times:",
                                                             burns)});
    to.parts.emplace_back(burns_of(r.summary.burns, r.as));
  }
  if (to.parts.empty()) return {};
  return to;
}

section how_it_was_read(const reported& r) {
  const auto& s = r.summary;
  section to{"How the log was read", {}};
  std::string text = r.log.empty() ? std::string{"It came through a pipe"}
                                   : fmt::format("It is the file {}", printable(r.log));
  if (s.rows == 0) text += "; it has no rows.";
  else if (s.rejections() == 0)
    put(text, "; its {} were all used.", counted(s.rows, "row", "rows"));
  else
    put(text, "; of its {}, {} could be used. Not used in full, the first of each kind:",
        counted(s.rows, "row", "rows"), s.frames);
  to.parts.emplace_back(paragraph{text});
  std::size_t kind = 0;
  for (std::size_t i = 0; i < fault_count; ++i) {
    if (s.rejected[i] == 0) continue;
    std::string words;
    if (kind < r.not_used.size()) words = printable(r.not_used[kind++]);
    to.parts.emplace_back(bullet{fmt::format("{} × {}", s.rejected[i], words)});
  }
  bool first = true;
  for (const auto& a : s.questions_and_assumptions()) {
    if (s.plateaus == 0 && a.starts_with("fuel: ")) continue;  // no figure was derived
    if (std::exchange(first, false)) to.parts.emplace_back(paragraph{"Taken for granted:"});
    const auto words = a.find(": ");
    to.parts.emplace_back(
        bullet{fmt::format("{}.", words == std::string::npos ? a : a.substr(words + 2))});
  }
  return to;
}

page technician_page(const reported& r) {
  page to{"What a burner test came to", {}};
  for (const auto& make :
       {who_and_with_what, dangers, what_settled, what_moves_changed, what_that_saves,
        what_was_found, how_it_went, how_it_was_read, before_anything_is_changed})
    if (auto part_of_it = make(r); !part_of_it.parts.empty())
      to.sections.push_back(std::move(part_of_it));
  section signed_by;
  for (const std::string_view who : {"Signature of the technician", "Signature of the customer"})
    signed_by.parts.emplace_back(blanks{{"Date", std::string{who}}});
  to.sections.push_back(std::move(signed_by));
  return to;
}

}  // namespace stilling::reporting
