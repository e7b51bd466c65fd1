// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "log_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <utility>

#include "settings_file.hpp"

namespace stilling::command {

log_words::log_words(log_options& to, settings_list more) : to_{to} {
  for (auto part : {reading_settings, live_settings, criterion_settings, judging_settings,
                    drift_settings, shown_settings, figure_settings, particulars_settings})
    for (auto& s : part(to)) list_.push_back(std::move(s));
  for (auto& s : more) list_.push_back(std::move(s));
  typed_.resize(list_.size());
  filed_.resize(list_.size());
}

void log_words::offer(CLI::App& to, std::initializer_list<std::string_view> headings,
                      std::string_view without) {
  for (std::size_t i = 0; i < list_.size(); ++i)
    if (!list_[i].option.empty() && list_[i].option != without &&
        std::ranges::find(headings, list_[i].heading) != headings.end())
      add(to, list_[i], typed_[i]);
  if (std::ranges::find(headings, heading::reading) != headings.end()) offer_settings_file(to);
}

void log_words::offer_settings_file(CLI::App& to) {
  to.add_option("--settings", file_,
                "What can be said here, said in a file; what is typed stands in place of it")
      ->type_name("FILE.toml");
}

words log_words::choices_of(std::string_view option) const {
  const auto found = std::ranges::find(list_, option, &setting::option);
  return found == list_.end() ? words{} : found->choices;
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
  auto& filed = filed_;
  if (!file_.empty()) filed = read_settings_file(file_, list_);
  take_table(filed, "--criterion", "criterion");
  take_table(filed, "--fuel", "fuel");
  take_table(filed, "--limits", "limits");
  take_table(filed, "--instrument", "instrument");
  take_table(filed, "--particulars", "particulars");
  take_all(list_, typed_, filed);
  if (const auto against = settle_fuel(to_)) {
    const auto* said = who_said(against->governs, list_, typed_, filed);
    throw refusal{fmt::format("{}: {}", said != nullptr ? said->where : "fuel", against->why)};
  }
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

/// `--criterion` typed: a name, or a file with a criterion of one's own; and likewise `--fuel`,
/// `--limits`, `--instrument`, `--particulars`. Either way it stands in place of what a settings
/// file says.
void log_words::take_table(answers& filed, std::string_view option, std::string_view table) {
  const auto at = static_cast<std::size_t>(
      std::ranges::find(list_, option, &setting::option) - list_.begin());
  if (!typed_[at]) return;
  filed[at].reset();
  forget_table(filed, table, list_);
  const auto word = typed_[at]->value[0];
  if (std::ranges::find(list_[at].choices, word) != list_[at].choices.end()) return;
  typed_[at].reset();
  auto own = read_table(word, list_[at], table);
  for (std::size_t i = 0; i < list_.size(); ++i)
    if (own[i]) filed[i] = std::move(own[i]);
}

answers log_words::read_table(const std::string& path, const setting& of,
                              std::string_view table) const {
  settings_list own;
  std::vector<std::size_t> places;
  for (std::size_t i = 0; i < list_.size(); ++i)
    if (list_[i].table == table) own.push_back(list_[i]), places.push_back(i);
  std::error_code error;
  if (!std::filesystem::exists(path, error)) {
    if (of.choices.empty())
      throw refusal{fmt::format("{}: there is no file '{}'", of.option, path)};
    // A criterion has a page of its own; fuels are few enough to be named.
    throw refusal{fmt::format("{}: '{}' is neither one of {}, nor a file", of.option, path,
                              table == "criterion" ? "those that `stilling list criteria` names"
                                                   : joined(of.choices, ", "))};
  }
  auto said = read_settings_file(path, own);
  answers out(list_.size());
  for (std::size_t i = 0; i < own.size(); ++i) out[places[i]] = std::move(said[i]);
  if (std::ranges::none_of(out, [](const auto& a) { return a.has_value(); }))
    throw refusal{fmt::format("{}: nothing stands under [{}]", path, table)};
  return out;
}

}  // namespace stilling::command
