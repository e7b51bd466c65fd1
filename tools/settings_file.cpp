// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "settings_file.hpp"

#include <fmt/format.h>
#include <toml++/toml.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <charconv>
#include <cstdio>
#include <memory>
#include <system_error>
#include <utility>

#include "stilling/text.hpp"

namespace stilling::command {
namespace {

using shape = setting::shape;

constexpr std::size_t largest_file = 1 << 20;  // bytes; nobody writes more settings by hand

std::string in_digits(double x) {
  std::array<char, 400> letters;
  const auto end =
      std::to_chars(letters.data(), letters.data() + letters.size(), x, std::chars_format::fixed);
  return {letters.data(), end.ptr};
}

std::string_view kind_of(const toml::node& n) {
  switch (n.type()) {
    case toml::node_type::table: return "a table";
    case toml::node_type::array: return "a list";
    case toml::node_type::string: return "text in quotes";
    case toml::node_type::integer:
    case toml::node_type::floating_point: return "a number";
    case toml::node_type::boolean: return "true or false";
    default: return "a date or a time";
  }
}

std::optional<std::string> word_of(const toml::node& n) {
  if (const auto* s = n.as_string()) return s->get();
  if (const auto* i = n.as_integer()) return fmt::format("{}", i->get());
  if (const auto* x = n.as_floating_point()) return in_digits(x->get());
  return std::nullopt;
}

std::string remedy(const setting& s) {
  switch (s.is) {
    case shape::flag: return fmt::format("write {0} = true or {0} = false", s.key);
    case shape::word:
    case shape::word_or_none:
      if (s.choices.empty()) return fmt::format("write {} = \"...\"", s.key);
      return fmt::format("write one of \"{}\"", joined(s.choices, "\", \""));
    case shape::list: return fmt::format("write {} = [\"...\", \"...\"]", s.key);
    case shape::rules: break;
  }
  return fmt::format("write {} = [\"...\"], a text in quotes for each", s.key);
}

void append_parted(words& to, std::string_view text) {
  for (;;) {
    const auto comma = text.find(',');
    auto word = text.substr(0, comma);
    while (word.starts_with(' ')) word.remove_prefix(1);
    while (word.ends_with(' ')) word.remove_suffix(1);
    to.emplace_back(word);
    if (comma == std::string_view::npos) return;
    text.remove_prefix(comma + 1);
  }
}

/// A table of rules, "Flue T" = "stack_temp:degF", in the order they were written.
words rules_of(const toml::table& t, const setting& s) {
  std::vector<std::pair<toml::source_position, std::string>> found;
  for (const auto& [key, node] : t) {
    const auto* text = node.as_string();
    if (text == nullptr)
      throw refusal{fmt::format("'{0}' is {1}; write {2} = {{\"{0}\" = \"{3}\"}}", key.str(),
                                kind_of(node), s.key, s.example)};
    found.emplace_back(key.source().begin, fmt::format("{}={}", key.str(), text->get()));
  }
  std::ranges::stable_sort(found, {}, [](const auto& f) {
    return std::pair{f.first.line, f.first.column};
  });
  words value;
  for (auto& f : found) value.push_back(std::move(f.second));
  return value;
}

/// The words for a setting; throws refusal.
words value_of(const toml::node& n, const setting& s) {
  const auto wrong = [&] { return refusal{fmt::format("this is {}; {}", kind_of(n), remedy(s))}; };
  if (const auto* b = n.as_boolean()) {
    const bool takes = s.is == shape::flag || std::ranges::find(s.choices, "on") != s.choices.end();
    if (!takes) throw wrong();
    return {b->get() ? "on" : "off"};
  }
  if (s.is == shape::flag) throw wrong();
  words value;
  if (const auto word = word_of(n)) {
    if (s.is == shape::list) append_parted(value, *word);
    else value.push_back(*word);
    return value;
  }
  if (s.is == shape::word || s.is == shape::word_or_none) throw wrong();
  if (const auto* t = n.as_table(); t != nullptr && s.takes_table) return rules_of(*t, s);
  const auto* list = n.as_array();
  if (list == nullptr) throw wrong();
  if (list->empty()) throw refusal{fmt::format("the list is empty; leave {} away", s.key)};
  for (const auto& item : *list) {
    const auto word = word_of(item);
    if (!word) throw refusal{fmt::format("the list holds {}; {}", kind_of(item), remedy(s))};
    if (s.is == shape::list) append_parted(value, *word);
    else value.push_back(*word);
  }
  return value;
}

class reader {
 public:
  reader(std::string_view name, const settings_list& list)
      : name_{name}, list_{list}, found_(list.size()) {}

  void read(const toml::table& t, std::string_view table) {
    for (const auto& [key, node] : t) {
      const auto line = key.source().begin.line;
      const auto at = find(table, key.str());
      const bool opens = table.empty() && node.is_table() && is_table(key.str());
      if (opens) {
        read(*node.as_table(), key.str());
      } else if (at == list_.size()) {
        blame(line, unknown(table, key.str(), node.is_table()));
      } else {
        try {
          found_[at] =
              answer{value_of(node, list_[at]), fmt::format("{}:{}: {}", name_, line, key.str())};
        } catch (const refusal& why) {
          blame(line, fmt::format("{}: {}", key.str(), why.what()));
        }
      }
    }
  }

  [[nodiscard]] answers result() {
    if (faults_.empty()) return std::move(found_);
    std::ranges::stable_sort(faults_, {}, &fault_at::line);
    std::string text;
    for (const auto& f : faults_)
      text += fmt::format("{}{}:{}: {}", text.empty() ? "" : "\n", name_, f.line, f.why);
    throw refusal{text};
  }

 private:
  struct fault_at {
    std::uint32_t line;
    std::string why;
  };

  /// What the file holds may steer a terminal.
  void blame(std::uint32_t line, std::string_view why) {
    faults_.push_back({line, printable(why)});
  }

  [[nodiscard]] bool is_table(std::string_view name) const {
    return std::ranges::any_of(list_, [&](const setting& s) { return s.table == name; });
  }
  [[nodiscard]] std::size_t find(std::string_view table, std::string_view key) const {
    const auto at = std::ranges::find_if(
        list_, [&](const setting& s) { return s.table == table && s.key == key; });
    return key.empty() ? list_.size() : static_cast<std::size_t>(at - list_.begin());
  }

  [[nodiscard]] std::string unknown(std::string_view table, std::string_view key,
                                    bool is_a_table) const {
    std::vector<std::string_view> near;
    std::string all;
    for (const auto& s : list_) {
      if (s.key.empty()) continue;
      if (s.key == key && !is_a_table)
        return s.table.empty()
                   ? fmt::format("{} does not belong under [{}]; move it above the first [table]",
                                 key, table)
                   : fmt::format("{} belongs under [{}]", key, s.table);
      const bool opens = table.empty() && !s.table.empty();
      const auto word = opens ? s.table : s.key;
      if ((s.table != table && !opens) || (is_a_table && table.empty() && !opens)) continue;
      if (std::ranges::find(near, word) != near.end()) continue;
      near.push_back(word);
      all += all.empty() ? "" : ", ";
      all += opens ? fmt::format("[{}]", word) : std::string{word};
    }
    const auto where = table.empty() ? std::string{} : fmt::format(" of [{}]", table);
    const auto guess = nearest(key, near);
    const auto advice =
        guess.empty() ? fmt::format("known are {}", all) : fmt::format("did you mean {}?", guess);
    return fmt::format("'{}' is no {}{}; {}", key, is_a_table ? "table" : "setting", where, advice);
  }

  std::string_view name_;
  const settings_list& list_;
  answers found_;
  std::vector<fault_at> faults_;
};

}  // namespace

answers read_settings(std::string_view text, std::string_view name, const settings_list& list) {
  reader r{name, list};
  try {
    r.read(toml::parse(text, name), "");
  } catch (const toml::parse_error& e) {
    throw refusal{
        fmt::format("{}:{}: {}", name, e.source().begin.line, printable(e.description()))};
  }
  return r.result();
}

answers read_settings_file(const std::string& path, const settings_list& list) {
  const auto because = [&] {
    return refusal{fmt::format("{}: {}", path, std::generic_category().message(errno))};
  };
  const std::unique_ptr<std::FILE, int (*)(std::FILE*)> file{std::fopen(path.c_str(), "rb"),
                                                             &std::fclose};
  if (!file) throw because();
  std::string text(largest_file + 1, '\0');
  text.resize(std::fread(text.data(), 1, text.size(), file.get()));
  if (std::ferror(file.get()) != 0) throw because();
  if (text.size() > largest_file)
    throw refusal{fmt::format("{}: is longer than any settings file; is it a log?", path)};
  return read_settings(text, path, list);
}

void forget_table(answers& said, std::string_view table, const settings_list& list) {
  for (std::size_t i = 0; i < list.size(); ++i)
    if (list[i].table == table) said[i].reset();
}

}  // namespace stilling::command
