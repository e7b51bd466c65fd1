// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "manual_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>

#include "help_page.hpp"
#include "stilling/text.hpp"

namespace stilling::command {
namespace {

/// Signs that roff would take for its own, or dress up.
std::string plain(std::string_view text) {
  std::string out;
  for (const char c : text) {
    if (out.empty() && (c == '.' || c == '\'')) out += "\\&";
    switch (c) {
      case '\\': out += "\\e"; break;
      case '-': out += "\\-"; break;
      case '`':
      case '\'': out += c == '`' ? "\\(ga" : "\\(aq"; break;
      case '~': out += "\\(ti"; break;
      case '^': out += "\\(ha"; break;
      default: out += c;
    }
  }
  return out;
}

std::string option_entry(const CLI::Option& o) {
  return fmt::format(".TP\n.B {}\n{}\n", plain(shown_name(o)), plain(o.get_description()));
}

/// Examples stand indented in the footer; what it says of statuses has a heading of its own.
std::string footer_parts(std::string_view footer) {
  std::string examples, notes, status;
  while (!footer.empty()) {
    const auto line = footer.substr(0, footer.find('\n'));
    footer.remove_prefix(std::min(line.size() + 1, footer.size()));
    if (line.starts_with("Example") || line.empty()) continue;
    if (line.starts_with("  ")) examples += plain(line) + "\n";
    else if (line.starts_with("Status: ")) status += plain(line.substr(8)) + "\n";
    else notes += plain(line) + "\n";
  }
  std::string out;
  if (!notes.empty()) out += ".SH NOTES\n" + notes;
  if (!status.empty()) out += ".SH EXIT STATUS\n" + status;
  if (!examples.empty()) out += ".SH EXAMPLES\n.EX\n" + examples + ".EE\n";
  return out;
}

}  // namespace

std::string page_name(const CLI::App& of) {
  return of.get_parent() == nullptr ? of.get_name() : "stilling-" + of.get_name();
}

std::string manual_page(const CLI::App& of) {
  const bool whole = of.get_parent() == nullptr;
  const auto& command = whole ? of : *of.get_parent();
  const std::string name = page_name(of);
  std::string upper = name;
  std::ranges::transform(upper, upper.begin(),
                         [](char c) { return c >= 'a' && c <= 'z' ? char(c - 'a' + 'A') : c; });
  const std::string in_short = whole ? "settled readings of a burner test" : of.get_description();
  std::string out = fmt::format(".TH {} 1 \"\" \"stilling {}\" \"User Commands\"\n", plain(upper),
                                version());
  out += fmt::format(".SH NAME\n{} \\- {}\n", plain(name), plain(in_short));
  out += fmt::format(".SH SYNOPSIS\n.B stilling{}\n[OPTIONS]", whole ? "" : " " + of.get_name());
  std::string told, verbs, options;
  for (const auto* o : of.get_options()) {
    if (!o->get_positional()) continue;
    out += plain(o->get_required() ? " " + shown_name(*o) : " [" + shown_name(*o) + "]");
    told += option_entry(*o);
  }
  out += whole ? " VERB\n" : "\n";
  out += ".SH DESCRIPTION\n" + plain(whole ? of.get_description() : in_short + ".") + '\n' + told;
  for (const auto& group : of.get_groups()) {
    const bool at_last = group == "Options";
    std::string entries;
    for (const auto* o : of.get_options(
             [&](const CLI::Option* x) { return x->get_group() == group && !x->get_positional(); }))
      entries += option_entry(*o);
    if (entries.empty()) continue;
    const auto titled = fmt::format(".SS {}\n", plain(at_last ? "Always" : group)) + entries;
    if (at_last) verbs = titled;
    else options += titled;
  }
  out += ".SH OPTIONS\n" + options + verbs;
  const auto all = command.get_subcommands([](const CLI::App*) { return true; });
  if (whole) {
    out += ".SH VERBS\n";
    for (const auto* verb : all)
      out += fmt::format(".TP\n.BR stilling\\-{} (1)\n{}\n", verb->get_name(),
                         plain(verb->get_description()));
  } else {
    out += ".SH CAUTION\n"
           "CO poisons and hot flue gas burns: the maker\\(aqs instructions, local codes and "
           "licensed practice come first.\n";
  }
  out += footer_parts(of.get_footer()) + ".SH SEE ALSO\n";
  std::string others = whole ? "" : ".BR stilling (1)";
  for (const auto* verb : all)
    if (verb != &of)
      others += fmt::format("{}.BR stilling\\-{} (1)", others.empty() ? "" : ",\n",
                            verb->get_name());
  return out + others + '\n';
}

}  // namespace stilling::command
