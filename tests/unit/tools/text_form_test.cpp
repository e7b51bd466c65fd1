// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "text_form.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <string_view>

namespace stilling::command {
namespace {

using namespace std::string_view_literals;

std::string form_of(std::string_view bytes, std::size_t piece) {
  text_form form;
  for (; !bytes.empty(); bytes.remove_prefix(std::min(piece, bytes.size())))
    form.push(bytes.substr(0, piece));
  form.finish();
  return std::string{form.encoded_as()} + "; " + form.line_ends();
}

TEST(text_form, is_told_whatever_the_pieces) {
  struct {
    std::string_view bytes, form;
  } const cases[]{
      {"", "ASCII; none"},
      {"a", "ASCII; none"},
      {"a,b\nc,d\n", "ASCII; LF"},
      {"a,b\r\nc,d\r\n", "ASCII; CR LF"},
      {"a,b\rc,d\r", "ASCII; CR"},
      {"a\r\nb\nc\rd", "ASCII; LF and CR LF and CR"},
      {"\xC2\xB0"
       "F\n",
       "UTF-8; LF"},
      {"\xF0\x9F\x94\xA5 fire\n", "UTF-8; LF"},
      {"\xEF\xBB\xBF"
       "a\n",
       "UTF-8 with a byte order mark; LF"},
      {"deg \xB0"
       "F\n",
       "text with letters that are not UTF-8 (Latin-1, or damage); LF"},
      {"cut off \xC2", "text with letters that are not UTF-8 (Latin-1, or damage); none"},
      {"\xFF\xFE"
       "a\0\n\0"sv,
       "UTF-16, low byte first; LF"},
      {"\0a\0b\0\r\0\n"sv, "UTF-16, high byte first; CR LF"},
  };
  for (const auto& c : cases)
    for (const std::size_t piece : {1U, 2U, 3U, 64U}) EXPECT_EQ(form_of(c.bytes, piece), c.form);
}

}  // namespace
}  // namespace stilling::command
