// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "report_page.hpp"

#include <algorithm>

#include "markup.hpp"
#include "report_words.hpp"
#include "text_number.hpp"

namespace stilling::reporting {

using namespace writing;

namespace {

constexpr std::size_t few_columns = 5;  // these have room on a telephone
constexpr std::string_view no_break_space = "\xC2\xA0";

/// A cell may break before its ±, so that columns can be narrow.
std::string cell_of(std::string_view text) {
  auto to = phrasing(text);
  const auto sign = std::string{no_break_space} + "±";
  for (std::size_t at; (at = to.find(sign)) != to.npos;)
    to.replace(at, no_break_space.size(), " ");
  return to;
}

/// Where a row is laid out as a sentence its cells say what they are, and in which unit.
void put_cell(std::string& to, std::string_view head, std::string_view text) {
  const auto comma = std::min(head.find(", "), head.size());
  const auto unit = head.substr(std::min(comma + 2, head.size()));
  put(to, "<td role=\"cell\" data-head=\"{}\" data-unit=\"{}{}\">{}</td>",
      marked_up(head.substr(0, comma)), unit.empty() ? "" : no_break_space, marked_up(unit),
      cell_of(text));
}

/// The roles say what the elements are where a telephone's style lays them out as sentences.
void put_grid(std::string& to, const grid& g, std::string_view heading) {
  const auto columns = g.heads.size();
  put(to, "<table role=\"table\"{}>\n<caption class=\"unseen\">{}</caption>\n<thead "
          "role=\"rowgroup\"><tr role=\"row\">",
      columns > few_columns ? " class=\"many\"" : "", marked_up(heading));
  for (const auto& h : g.heads)
    put(to, "<th scope=\"col\" role=\"columnheader\">{}</th>", cell_of(h));
  to += "</tr></thead>\n<tbody role=\"rowgroup\">\n";
  bool first = true;
  for (const auto& line : g.lines) {
    if (!line.across.empty()) {
      if (!first) to += "</tbody>\n<tbody role=\"rowgroup\">\n";
      put(to, "<tr role=\"row\"><th scope=\"rowgroup\" role=\"rowheader\" colspan=\"{}\">{}</th>"
              "</tr>\n",
          columns, phrasing(line.across));
    }
    first = false;
    if (line.cells.empty()) continue;
    to += "<tr role=\"row\">";
    for (std::size_t i = 0; i < line.cells.size(); ++i) {
      if (i == 0)
        put(to, "<th scope=\"row\" role=\"rowheader\">{}</th>", cell_of(line.cells[i]));
      else
        put_cell(to, i < columns ? std::string_view{g.heads[i]} : "", line.cells[i]);
    }
    to += "</tr>\n";
  }
  to += "</tbody>\n</table>\n";
}

}  // namespace

std::string phrasing(std::string_view text) {
  std::string to;
  while (!text.empty()) {
    const auto at = text.find("______");
    to += marked_up(text.substr(0, at));
    if (at == std::string_view::npos) break;
    const auto end = std::min(text.find_first_not_of('_', at), text.size());
    put(to, "<span class=\"blank{}\" role=\"img\" aria-label=\"left blank, to be filled in by "
            "hand\"></span>",
        end - at < blank.size() ? " short" : "");
    text.remove_prefix(end);
  }
  return to;
}

void put_part(std::string& to, const part& p, std::string_view heading) {
  if (const auto* w = std::get_if<paragraph>(&p)) put(to, "<p>{}</p>\n", phrasing(w->text));
  if (const auto* w = std::get_if<answer>(&p))
    put(to, "<p class=\"opening\"><b>{}.</b> {}</p>\n", phrasing(w->question), phrasing(w->text));
  if (const auto* w = std::get_if<event>(&p))
    put(to, "<li>{} {}</li>\n", phrasing(w->time), phrasing(w->text));
  if (const auto* w = std::get_if<bullet>(&p)) put(to, "<li>{}</li>\n", phrasing(w->text));
  if (const auto* w = std::get_if<grid>(&p)) put_grid(to, *w, heading);
  if (const auto* w = std::get_if<blanks>(&p)) {
    to += "<div class=\"signing\">";
    for (const auto& l : w->labels) put(to, "<p>{}</p>", phrasing(l));
    to += "</div>\n";
  }
}

}  // namespace stilling::reporting
