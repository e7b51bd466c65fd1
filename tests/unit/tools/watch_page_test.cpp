// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "watch_page.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>

#include "serve.hpp"

namespace stilling::command {
namespace {

using testing::HasSubstr;
using testing::Not;

constexpr std::string_view evil = "<script>alert('x')</script>\"&\n";

told with(std::string_view words) {
  told t;
  t.word = t.answer = t.when = t.next = t.beside = t.reading = t.drafts = t.figures = t.change =
      t.last_note = t.at = t.source = std::string{words};
  t.levels.push_back({std::string{words}, std::string{words}, "", true, true, -0.5, 0.5, 1.5});
  t.cautions.push_back({severity::danger, std::string{words}, false});
  t.cautions.push_back({severity::warning, std::string{words}, false});
  return t;
}

TEST(page, lets_no_word_from_outside_be_markup) {
  for (const auto& html : {page_body(with(evil)), whole_page(with(evil))}) {
    EXPECT_THAT(html, Not(HasSubstr("<script>")));
    EXPECT_THAT(html, Not(HasSubstr("alert('x')")));
    EXPECT_THAT(html, HasSubstr("&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt;&quot;&amp;"));
  }
  // A line that ended within would end the event it is sent in.
  EXPECT_EQ(page_body(with(evil)).find('\n'), std::string::npos);
  EXPECT_EQ(escaped("a\r\nb"), "a  b");
}

TEST(page, names_nothing_from_elsewhere_and_holds_no_script_or_style_of_its_own) {
  const auto html = whole_page(with("x"));
  EXPECT_THAT(html, Not(HasSubstr("http:")));
  EXPECT_THAT(html, Not(HasSubstr("https:")));
  EXPECT_THAT(html, Not(HasSubstr("style=")));
  EXPECT_THAT(html, Not(HasSubstr("onload")));
  EXPECT_THAT(html, HasSubstr("<noscript><meta http-equiv=\"refresh\""));
}

TEST(page, puts_danger_before_anything_else) {
  const auto html = page_body(with("x"));
  EXPECT_LT(html.find("class=\"danger\""), html.find("<h1>"));
  EXPECT_LT(html.find("<h1>"), html.find("class=\"next\""));
}

TEST(page, draws_the_bubble_between_its_marks) {
  auto t = with("x");
  EXPECT_THAT(page_body(t), HasSubstr("x=\"100.0\" y=\"5\" width=\"40.0\""));
  EXPECT_THAT(page_body(t), HasSubstr("M60 0V24M180 0V24"));
  t.levels[0].measured = false;
  EXPECT_THAT(page_body(t), Not(HasSubstr("bubble")));
}

TEST(is_plain_host, takes_addresses_and_localhost_and_no_name) {
  for (const auto* host : {"127.0.0.1", "127.0.0.1:8080", "localhost", "LOCALHOST:1", "[::1]:80",
                           "[::1]", "192.168.1.7:8080"})
    EXPECT_TRUE(is_plain_host(host)) << host;
  for (const auto* host : {"", "evil.example", "evil.example:8080", "localhost.evil.example",
                           "127.0.0.1.evil.example", "[::1", "[::1]x", "[evil]", ":80",
                           "127.0.0.1@evil.example", "1.2.3"})
    EXPECT_FALSE(is_plain_host(host)) << host;
}

TEST(web_server, says_why_it_does_not_serve) {
  EXPECT_THAT((web_server{"nowhere", 0}.fault()), HasSubstr("'nowhere' is no address"));
  EXPECT_THAT((web_server{"192.0.2.1", 0}.fault()), HasSubstr("192.0.2.1 port 0: "));
  web_server there{"127.0.0.1", 0};
  EXPECT_EQ(there.fault(), "");
  EXPECT_FALSE(there.is_open_to_others());
  EXPECT_TRUE(there.url().starts_with("http://127.0.0.1:")) << there.url();
}

}  // namespace
}  // namespace stilling::command
