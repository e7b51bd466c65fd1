// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "log_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <utility>

#include "settings_file.hpp"

namespace stilling::command {

log_words::log_words(log_options& to) : to_{to} {
  for (auto part : {reading_settings, live_settings, criterion_settings, judging_settings,
                    shown_settings, figure_settings})
    for (auto& s : part(to)) list_.push_back(std::move(s));
  typed_.resize(list_.size());
}

void log_words::offer(CLI::App& to, std::initializer_list<std::string_view> headings) {
  for (std::size_t i = 0; i < list_.size(); ++i)
    if (std::ranges::find(headings, list_[i].heading) != headings.end())
      add(to, list_[i], typed_[i]);
  if (std::ranges::find(headings, heading::reading) == headings.end()) return;
  to.add_option("--settings", file_,
                "What can be said here, said in a file; what is typed stands in place of it")
      ->type_name("FILE.toml");
}

void log_words::add(CLI::App& to, const setting& s, std::optional<answer>& typed) {
  const std::string name{s.option};
  const std::string group{s.heading};
  const auto keep = [&typed, name](const words& value) { typed = answer{value, name}; };
  const auto type = s.type.empty() ? joined(s.choices, "|") : s.type;
  switch (s.is) {
    case setting::shape::flag:
      to.add_flag_function(
            name, [keep](std::int64_t n) { keep({n > 0 ? "on" : "off"}); }, s.about)
          ->group(group);
      return;
    case setting::shape::word:
      to.add_option_function<std::string>(
            name, [keep](const std::string& word) { keep({word}); }, s.about)
          ->type_name(type)
          ->group(group);
      return;
    case setting::shape::word_or_none:
      to.add_option_function<words>(name, keep, s.about)
          ->expected(0, 1)
          ->type_name(type)
          ->group(group);
      return;
    case setting::shape::list:
    case setting::shape::rules: break;
  }
  to.add_option_function<words>(name, keep, s.about)
      ->delimiter(s.is == setting::shape::list ? ',' : '\0')
      ->expected(1, CLI::detail::expected_max_vector_size)
      ->allow_extra_args(false)
      ->type_name(type)
      ->group(group);
}

void log_words::take() {
  answers filed(list_.size());
  if (!file_.empty()) filed = read_settings_file(file_, list_);
  take_criterion(filed);
  take_all(list_, typed_, filed);
  stamp_where_needed(to_);
  auto fault = check(to_.settings);
  if (!fault) fault = check_reading(to_);
  if (!fault) return;
  const auto* said = who_said(fault->name, list_, typed_, filed);
  if (said == nullptr) throw refusal{fmt::format("{} must be {}", fault->name, fault->must_be)};
  // In a file a setting is known without the stage it belongs to.
  std::string must_be{fault->must_be};
  constexpr std::string_view stage = "phase.";
  if (const auto at = must_be.find(stage); at != std::string::npos) must_be.erase(at, stage.size());
  throw refusal{fmt::format("{}: {} will not do; it must be {}", said->where,
                            printable(joined(said->value, ", ")), must_be)};
}

/// `--criterion` typed: a name, or a file with a criterion of one's own. Either way it stands in
/// place of what a settings file says.
void log_words::take_criterion(answers& filed) {
  const auto at = static_cast<std::size_t>(
      std::ranges::find(list_, std::string_view{"--criterion"}, &setting::option) - list_.begin());
  if (!typed_[at]) return;
  filed[at].reset();
  forget_table(filed, "criterion", list_);
  const auto word = typed_[at]->value[0];
  if (std::ranges::find(list_[at].choices, word) != list_[at].choices.end()) return;
  typed_[at].reset();
  auto own = read_criterion(word);
  for (std::size_t i = 0; i < list_.size(); ++i)
    if (own[i]) filed[i] = std::move(own[i]);
}

answers log_words::read_criterion(const std::string& path) const {
  settings_list own;
  std::vector<std::size_t> places;
  for (std::size_t i = 0; i < list_.size(); ++i)
    if (list_[i].table == "criterion") own.push_back(list_[i]), places.push_back(i);
  std::error_code error;
  if (!std::filesystem::exists(path, error))
    throw refusal{fmt::format("--criterion: '{}' is neither one of those that `stilling list "
                              "criteria` names, nor a file",
                              path)};
  auto said = read_settings_file(path, own);
  answers out(list_.size());
  for (std::size_t i = 0; i < own.size(); ++i) out[places[i]] = std::move(said[i]);
  return out;
}

}  // namespace stilling::command
