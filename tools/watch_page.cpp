// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "watch_page.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace stilling::command {
namespace {

/// The spirit level, as in the terminal: marks at a quarter and three quarters of the glass.
std::string drawn_glass(const level& l) {
  constexpr double width = 240, height = 24;
  const double half = 2 * (l.mark > 0 ? l.mark : 1.5);
  const auto place = [&](double x) {
    return std::clamp((x / half + 1) / 2 * width, 0.0, width);
  };
  std::string to = fmt::format(
      "<svg viewBox=\"0 0 {0} {1}\" aria-hidden=\"true\"><rect class=\"glass\" width=\"{0}\" "
      "height=\"{1}\" rx=\"12\"/>",
      width, height);
  if (l.measured) {
    const double from = place(l.low), to_x = place(l.high), least = 4;
    to += fmt::format(
        "<rect class=\"bubble\" x=\"{:.1f}\" y=\"5\" width=\"{:.1f}\" height=\"14\" rx=\"7\"/>",
        std::min(from, width - least), std::max(to_x - from, least));
  }
  if (l.mark > 0)
    to += fmt::format("<path class=\"mark\" d=\"M{0} 0V{2}M{1} 0V{2}\"/>", width / 4, 3 * width / 4,
                      height);
  return to + "</svg>";
}

}  // namespace

std::string escaped(std::string_view text) {
  std::string to;
  for (const char c : text) {
    switch (c) {
      case '&': to += "&amp;"; break;
      case '<': to += "&lt;"; break;
      case '>': to += "&gt;"; break;
      case '"': to += "&quot;"; break;
      case '\'': to += "&#39;"; break;
      default: to += static_cast<unsigned char>(c) < 0x20 ? ' ' : c;
    }
  }
  return to;
}

std::string page_body(const told& t) {
  std::string to;
  const auto put = [&](std::string_view kind, std::string_view text) {
    if (!text.empty()) to += fmt::format("<p class=\"{}\">{}</p>", kind, escaped(text));
  };
  for (const auto& c : t.cautions)
    if (c.grave == severity::danger) put(c.seen ? "seen" : "danger", c.text);
  to += fmt::format("<h1>{}</h1>", escaped(t.word));
  put("answer", t.when.empty() ? t.answer : t.answer + ' ' + t.when);
  put("next", "Next: " + t.next);
  for (const auto& l : t.levels)
    to += fmt::format("<div class=\"level\">{}<p>{}: {}</p></div>", drawn_glass(l), escaped(l.now),
                      escaped(l.moves));
  put("beside", t.beside);
  put("reading", t.reading);
  put("reading", t.drafts);
  put("reading", t.figures);
  put("change", t.change);
  for (const auto& c : t.cautions)
    if (c.grave != severity::danger) put("caution", c.text);
  if (!t.last_note.empty()) put("beside", "Last note: " + t.last_note);
  put("beside", fmt::format("{}  from {}", t.at, t.source));
  put("beside",
      "CO poisons and hot flue gas burns: the maker's instructions, local codes and licensed "
      "practice come first. Nothing can be changed from this page.");
  return to;
}

std::string whole_page(const told& t) {
  return fmt::format(
      "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">"
      "<meta name=\"viewport\" content=\"width=device-width,initial-scale=1\">"
      "<title>{} - stilling watch</title><link rel=\"stylesheet\" href=\"/page.css\">"
      "<noscript><meta http-equiv=\"refresh\" content=\"5\"></noscript>"
      "<script src=\"/page.js\" defer></script></head><body>\n<main>{}</main>\n</body></html>\n",
      escaped(t.word), page_body(t));
}

const std::string_view page_script =
    R"js('use strict';
const main = document.querySelector('main');
let heard = Date.now();
function listen() {
  const source = new EventSource('/events');
  source.onmessage = (e) => {
    heard = Date.now();
    main.innerHTML = e.data;  // escaped where it was made
    document.title = main.querySelector('h1').textContent + ' - stilling watch';
    main.classList.remove('lost');
  };
  source.onerror = () => {
    main.classList.add('lost');
    if (source.readyState === EventSource.CLOSED) setTimeout(listen, 3000);
  };
}
setInterval(() => { if (Date.now() - heard > 20000) main.classList.add('lost'); }, 1000);
listen();
)js";

const std::string_view page_style =
    R"css(:root { color-scheme: light dark; font: 1.15rem/1.4 system-ui, sans-serif; }
body { margin: 0; }
main { padding: 0.8rem; max-width: 46rem; margin: auto; }
main.lost::before { content: 'Not connected: what stands here is old.'; display: block;
  border: 0.2rem dashed; padding: 0.4rem; font-weight: bold; }
h1 { font-size: min(15vw, 7rem); line-height: 1; margin: 0.5rem 0; letter-spacing: 0.02em; }
p { margin: 0.5rem 0; overflow-wrap: anywhere; }
.answer, .next { font-size: 1.3em; }
.next { font-weight: bold; }
.danger { background: CanvasText; color: Canvas; padding: 0.8rem; font-size: 1.3em;
  font-weight: bold; }
.seen, .caution { border-left: 0.3rem solid; padding-left: 0.6rem; }
.level { display: flex; flex-wrap: wrap; align-items: center; gap: 0 1rem; }
.level svg { width: 15rem; height: 1.5rem; }
.level p { margin: 0.2rem 0; }
.glass { fill: none; stroke: currentColor; opacity: 0.5; }
.bubble { fill: currentColor; }
.mark { stroke: currentColor; stroke-width: 3; }
.beside { opacity: 0.8; font-size: 0.9em; }
)css";

}  // namespace stilling::command
