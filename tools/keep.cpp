// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Finished tests into a file of them: each log is judged as `settle` does, and what came of it is
// kept with the log's bytes. A test is reported kept once it is on the disk.

#include <fmt/format.h>

#include <string>
#include <string_view>

#include "archive.hpp"
#include "feeding.hpp"
#include "gathered.hpp"
#include "judged_log.hpp"
#include "sources.hpp"
#include "typed.hpp"
#include "verbs.hpp"

namespace stilling::command {
namespace {

constexpr std::size_t largest_log = std::size_t{256} << 20;

/// A log on its way to the judge; its bytes are kept.
class recorded_log {
 public:
  explicit recorded_log(judged_log<gathered>& to) : to_{to} {}
  void push(std::string_view bytes) {
    if (bytes_.size() <= largest_log) bytes_ += bytes;
    to_.push(bytes);
  }
  void advance(instant t) { to_.advance(t); }
  void finish() { to_.finish(); }
  [[nodiscard]] std::string& text() noexcept { return to_.text(); }
  [[nodiscard]] const std::string& bytes() const noexcept { return bytes_; }

 private:
  judged_log<gathered>& to_;
  std::string bytes_;
};

/// The day of the test. Throws refusal where nobody knows it.
std::int64_t day_of_test(const keep_request& r, const visit& test) {
  if (r.day) return *r.day;
  const auto& spans = test.course().spans();
  const auto day = spans.empty() ? std::nullopt : day_of(spans.front().from);
  if (!day)
    throw refusal{"when was it? The log has no dates; say --date 2026-11-25"};
  return *day;
}

std::string came_to(const kept_test& t) {
  if (t.readings.size() == 1) return "1 settled reading";
  if (!t.readings.empty()) return fmt::format("{} settled readings", t.readings.size());
  return "nothing settled";
}

std::string report_of(std::string_view name, const archive::answer& at, const kept_test& t,
                      bool replaced) {
  if (at.was_there && !replaced)
    return fmt::format("{} is there already as test {}: the same log, the same settings; --replace "
                       "judges and describes it anew\n",
                       printable(name), at.number);
  auto text = fmt::format("{} is kept as test {}{}: {}, {}\n", printable(name), at.number,
                          at.was_there ? ", in place of what was there" : "",
                          written_day(t.day), came_to(t));
  if (at.same_log)
    text += fmt::format("  the same log is also test {}, judged by other settings\n",
                        *at.same_log);
  return text;
}

struct kept_log {
  int status = not_understood;
  std::string text;
};

/// Throws refusal and database_fault.
kept_log keep_one(const keep_request& r, std::string_view path, archive& in) {
  gathered seen;
  judged_log judged{r.judged, seen};
  recorded_log log{judged};
  const auto fault = feed(path, r.judged.log, r.judged.files.size() == 1, log,
                          [&] { return judged.refusal().empty(); });
  if (!fault.empty()) throw refusal{fault};
  if (!judged.refusal().empty()) throw refusal{std::string{judged.refusal()}};
  if (stop_wished()) throw refusal{"stopped before its end"};
  if (log.bytes().size() > largest_log) throw refusal{"longer than 256 MiB: too large to be kept"};
  const auto& s = judged.summary();
  if (!seen.test() || s.frames == 0)
    throw refusal{"no row could be read; `stilling check` says why"};
  auto test = kept(*seen.test(), s, judged.shown_as());
  test.file = path == "-" ? "" : path.substr(path.find_last_of('/') + 1);
  test.about = r.about;
  test.settings = r.settings;
  test.day = day_of_test(r, *seen.test());
  const auto answer = in.keep(test, log.bytes(), r.replace);
  return {test.readings.empty() ? nothing_settled : done,
          report_of(path == "-" ? "standard input" : path, answer, test, r.replace)};
}

}  // namespace

int keep(const keep_request& r) {
  outlet out;
  bool settled = false, failed = false;
  std::optional<archive> in;
  try {
    in.emplace(r.database, archive::access::made_where_missing);
  } catch (const database_fault& why) {
    complain(fmt::format("{}\nThe file of tests comes first: stilling keep DB FILE...",
                         why.what()));
    return not_understood;
  }
  for (const auto& path : r.judged.files) {
    try {
      const auto one = keep_one(r, path, *in);
      settled = settled || one.status == done;
      out.write(one.text);
    } catch (const refusal& why) {
      failed = true;
      complain(fmt::format("{} is not kept: {}", printable(path), why.what()));
    } catch (const database_fault& why) {
      complain(fmt::format("{} is not kept: {}", printable(path), why.what()));
      return not_understood;
    }
    if (stop_wished()) break;
  }
  if (out.is() == outlet::state::failed) {
    complain(fmt::format("standard output: {}", out.fault()));
    return not_understood;
  }
  return failed ? not_understood : settled ? done : nothing_settled;
}

}  // namespace stilling::command
