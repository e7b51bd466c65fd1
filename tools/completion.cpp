// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "completion.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <string_view>

#include "log_words.hpp"
#include "simulate/scenario.hpp"
#include "stilling/combustion/figure.hpp"
#include "stilling/terms/channel.hpp"
#include "stilling/terms/unit.hpp"

namespace stilling::command {
namespace {

/// What stands in for a value of this type name.
words values_of(std::string_view type) {
  words out;
  if (type == "CHANNELS") {
    for (const auto c : all_channels) out.emplace_back(traits_of(c).name);
  } else if (type == "UNITS") {
    for (const auto& u : unit_table)
      if (u.kind == quantity::temperature || u.kind == quantity::pressure_difference)
        out.emplace_back(u.name);
  } else if (type == "SCENARIO") {
    for (const auto& s : invented::scenarios()) out.emplace_back(s.name);
  } else if (type == "FIGURE") {
    for (const auto& f : figure_table)
      if (!f.working) out.emplace_back(f.stem);
  } else if (type == "N" || type == "8N1") {
    return out;
  } else if (std::ranges::none_of(type, [](char c) { return c >= 'A' && c <= 'Z'; })) {
    while (!type.empty()) {  // on|off
      const auto one = type.substr(0, type.find('|'));
      out.emplace_back(one);
      type.remove_prefix(std::min(one.size() + 1, type.size()));
    }
  }
  return out;
}

bool is_path(std::string_view type) {
  for (const std::string_view of_one : {"FILE", "DIR", "PATH", "DB"})
    if (type.find(of_one) != std::string_view::npos) return true;
  return false;
}

struct offer {
  words values;
  bool paths = false;
};

offer offer_of(const CLI::Option& o, const log_words& known) {
  const auto type = o.get_type_name();
  offer out{{}, is_path(type)};
  for (const auto& name : o.get_lnames())
    if (auto some = known.choices_of("--" + name); !some.empty()) out.values = std::move(some);
  if (out.values.empty()) out.values = values_of(type);
  return out;
}

/// The branches of a `case`: patterns by what is offered for them.
class branches {
 public:
  void add(const std::string& pattern, const offer& o) {
    patterns_[fmt::format("words='{}' paths={}", joined(o.values, " "), o.paths ? "yes" : "")]
        .push_back(pattern);
  }
  [[nodiscard]] std::string text() const {
    std::string out;
    for (const auto& [body, patterns] : patterns_)
      out += fmt::format("    {})\n      {}\n      ;;\n", joined(patterns, " |\\\n      "), body);
    return out;
  }

 private:
  std::map<std::string, words> patterns_;
};

}  // namespace

std::string bash_completion(const CLI::App& command) {
  log_options unused;
  const log_words known{unused};
  words verbs;
  branches options, values, positionals;
  for (const auto* verb : command.get_subcommands([](const CLI::App*) { return true; })) {
    verbs.push_back(verb->get_name());
    words names;
    offer stands_alone;
    for (const auto* o : verb->get_options()) {
      const auto shown = offer_of(*o, known);
      if (o->get_positional()) {
        stands_alone.paths |= shown.paths;
        stands_alone.values.insert(stands_alone.values.end(), shown.values.begin(),
                                   shown.values.end());
        continue;
      }
      for (const auto& name : o->get_lnames()) {
        names.push_back("--" + name);
        if (o->get_expected_max() > 0)
          values.add(fmt::format("'{} --{}'", verb->get_name(), name), shown);
      }
    }
    options.add(verb->get_name(), {names});
    positionals.add(verb->get_name(), stands_alone);
  }
  return fmt::format(R"(# bash completion for stilling, written by its own table of options
_stilling() {{
  local word=${{COMP_WORDS[COMP_CWORD]}} before=${{COMP_WORDS[COMP_CWORD - 1]}}
  local verb='' words='' paths='' kept=''
  ((COMP_CWORD > 1)) && verb=${{COMP_WORDS[1]}}
  COMPREPLY=()
  # bash takes --option=value for three words.
  if [[ $word == '=' ]]; then
    word=''
  elif [[ $before == '=' ]]; then
    before=${{COMP_WORDS[COMP_CWORD - 2]}}
  fi
  if [[ -z $verb ]]; then
    words='{0} --help --version'
  elif [[ $word == -* ]]; then
    case $verb in
{1}    esac
  else
    case "$verb $before" in
{2}    *)
      case $verb in
{3}      esac
      ;;
    esac
  fi
  # Of a list only what stands behind the last comma is under way.
  if [[ $word == *,* && -n $words ]]; then
    kept=${{word%,*}},
    word=${{word##*,}}
  fi
  mapfile -t COMPREPLY < <(compgen -P "$kept" -W "$words" -- "$word")
  if [[ -n $paths ]]; then
    compopt -o filenames 2>/dev/null
    mapfile -t -O "${{#COMPREPLY[@]}}" COMPREPLY < <(compgen -f -- "$word")
  fi
}}
complete -F _stilling stilling
)",
                     joined(verbs, " "), options.text(), values.text(), positionals.text());
}

}  // namespace stilling::command
