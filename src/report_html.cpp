// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// A report as one page: what its sections say, with pictures among them. It is also well-formed
// XML, names nothing outside itself and runs no script; its policy allows its own style alone.

#include <algorithm>

#include "markup.hpp"
#include "report_page.hpp"
#include "stilling/chart.hpp"
#include "text_number.hpp"

namespace stilling::report {
namespace {

using namespace reporting;
using namespace writing;

constexpr std::string_view alarm = "alarm", columns = "columns", signers = "signers";

/// Of page_style(), as a Content-Security-Policy spells it (base64 of SHA-256).
constexpr std::string_view style_hash = "nO1GX4l15JhceNQcFf1UVLwepe016PNh7AvXF9W8wHQ=";

std::string_view list_for(const part& p) noexcept {
  return std::holds_alternative<bullet>(p)  ? "<ul>\n"
         : std::holds_alternative<event>(p) ? "<ul class=\"events\">\n"
                                            : "";
}

class html_page {
 public:
  html_page(std::string& to, const reported& r) noexcept : to_{to}, r_{r} {}

  void begin(std::string_view title) {
    put(to_,
        "<!DOCTYPE html>\n<html lang=\"en\" xmlns=\"http://www.w3.org/1999/xhtml\">\n<head>\n"
        "<meta charset=\"utf-8\"/>\n<meta http-equiv=\"Content-Security-Policy\" "
        "content=\"default-src 'none'; style-src 'sha256-{}'; base-uri 'none'; form-action "
        "'none'\"/>\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n"
        "<meta name=\"color-scheme\" content=\"light dark\"/>\n<title>{}</title>\n"
        "<style>{}</style>\n</head>\n<body>\n<main>\n<h1>{}</h1>\n",
        style_hash, marked_up(title), page_style(), marked_up(title));
  }
  void end() { to_ += "</main>\n</body>\n</html>\n"; }

  void put_heading(std::string_view text, int level) {
    if (!text.empty()) put(to_, "<h{}>{}</h{}>\n", level, marked_up(text), level);
  }

  /// `layout`: a class for what is below the heading; empty: none.
  void put_section(const section& s, int level, std::string_view layout = {}) {
    if (s.parts.empty()) return;
    to_ += layout == alarm ? "<section class=\"alarm\">\n" : "<section>\n";
    put_heading(s.heading, level);
    const bool laid_out = !layout.empty() && layout != alarm;
    if (laid_out) open(layout);
    put_parts(s);
    if (laid_out) close();
    to_ += "</section>\n";
  }
  void open(std::string_view classes) { put(to_, "<div class=\"{}\">\n", classes); }
  void close() { to_ += "</div>\n"; }

  void put_sections(std::string_view title, const std::vector<section>& all) {
    to_ += "<section>\n";
    put_heading(title, 2);
    open(columns);
    for (const auto& s : all) put_section(s, 3);
    close();
    to_ += "</section>\n";
  }

  void put_parts(const section& s) {
    std::string_view list;
    for (const auto& p : s.parts) {
      const auto wanted = list_for(p);
      if (wanted != list && !list.empty()) to_ += "</ul>\n";
      if (wanted != list) to_ += wanted;
      list = wanted;
      put_part(to_, p, s.heading);
    }
    if (!list.empty()) to_ += "</ul>\n";
  }

  /// A picture under its caption; nothing where there is nothing to draw.
  void put_picture(bool (*write)(std::string&, const visit&, const presentation&),
               std::string (*words)(const visit&, const presentation&), std::string_view classes) {
    std::string drawn;
    if (!write(drawn, r_.test, r_.as)) return;
    put(to_, "<figure{}>\n<div class=\"plot\">\n{}</div>\n<figcaption>{}</figcaption>\n</figure>\n",
        classes, drawn, marked_up(words(r_.test, r_.as)));
  }

 private:
  std::string& to_;
  const reported& r_;
};

}  // namespace

void write_html(std::string& to, const reported& r) {
  const auto record = technician_page(r), plain_words = customer_page(r);
  html_page on{to, r};
  on.begin(record.title);
  on.put_section(who_and_with_what(r), 2, columns);
  on.put_section(dangers(r), 2, alarm);
  on.put_section(what_settled(r), 2, columns);
  on.put_picture(&chart::write_course, &chart::words_of_course, "");
  on.put_section(what_moves_changed(r), 2);
  on.put_picture(&chart::write_loss, &chart::words_of_loss, " class=\"beside\"");
  on.open("flow");
  on.put_section(what_that_saves(r), 2);
  on.put_section(what_was_found(r), 2, columns);
  on.put_section(how_it_went(r), 2, columns);
  on.put_section(how_it_was_read(r), 2);
  on.put_section(before_anything_is_changed(r), 2, columns);
  on.close();
  on.put_section(record.sections.back(), 2, signers);
  on.put_sections(plain_words.title, plain_words.sections);
  on.end();
}

}  // namespace stilling::report
