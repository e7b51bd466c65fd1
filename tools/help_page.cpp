// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "help_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>

namespace stilling::command {
namespace {

constexpr std::size_t column = 29, width = 80;

std::string entry(const std::string& name, std::string_view what) {
  std::string text = "  " + name;
  std::size_t at = text.size();
  const auto new_line = [&] {
    (text += '\n').append(column, ' ');
    at = column;
  };
  if (at + 2 > column) new_line();
  else text.append(column - at, ' '), at = column;
  while (!what.empty()) {
    const auto word = what.substr(0, what.find(' '));
    if (at > column && at + 1 + word.size() > width) new_line();
    if (at > column) text += ' ', ++at;
    text += word;
    at += word.size();
    what.remove_prefix(std::min(word.size() + 1, what.size()));
  }
  return text + '\n';
}

}  // namespace

std::string shown_name(const CLI::Option& o) {
  if (o.get_positional()) return o.get_type_name().empty() ? o.get_name(true) : o.get_type_name();
  const auto type = o.get_type_name();
  return o.get_name(false, true) + (type.empty() ? "" : " " + type);
}

std::string help_page::make_help(const CLI::App* app, std::string, CLI::AppFormatMode) const {
  std::string call = app->get_parent() == nullptr ? "" : "stilling ";
  call += app->get_name() + " [OPTIONS]";
  std::string positionals;
  const auto in = [&](const std::string& group) {
    return app->get_options([&](const CLI::Option* o) { return o->get_group() == group; });
  };
  for (const auto* o : app->get_options()) {
    if (!o->get_positional()) continue;
    call += o->get_required() ? " " + shown_name(*o) : " [" + shown_name(*o) + "]";
    positionals += entry(shown_name(*o), o->get_description());
  }
  std::string verbs;
  for (const auto* verb : app->get_subcommands([](const CLI::App*) { return true; }))
    verbs += entry(verb->get_name(), verb->get_description());
  if (!verbs.empty()) call += " VERB";

  std::string text =
      fmt::format("{}\n\nUsage: {}\n\n{}{}", app->get_description(), call, positionals, verbs);
  for (const auto& group : app->get_groups()) {
    if (group == "Options") continue;
    text += '\n' + group + ":\n";
    for (const auto* o : in(group)) text += entry(shown_name(*o), o->get_description());
  }
  text += '\n';
  for (const auto* o : in("Options"))
    if (!o->get_positional()) text += entry(shown_name(*o), o->get_description());
  return text + '\n' + app->get_footer() + '\n';
}

}  // namespace stilling::command
