// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Logs or a stream in, settled readings out.

#include <fmt/format.h>
#include <unistd.h>

#include <filesystem>
#include <map>
#include <mutex>
#include <optional>
#include <thread>
#include <vector>

#include "complaints.hpp"
#include "feeding.hpp"
#include "judged_log.hpp"
#include "printers.hpp"
#include "sources.hpp"
#include "verbs.hpp"

namespace stilling::command {
namespace {

/// What one log came to, for the status and for standard error.
struct result_of_log {
  std::string text;        // not yet written
  std::string complaints;  // a line each
  presentation columns;    // as the log has them; none where it has no header
  bool any_row = false;
  bool settled = false;
  bool failed = false;
};

/// Reads one log. `write`: takes text as it comes and says whether to go on.
template <class Printer, class Write> result_of_log settle_one(const settle_request& r,
                                                               std::string_view path,
                                                               Printer printer, Write write) {
  judged_log log{r, printer};
  result_of_log out;
  const auto name = name_of_log(path);
  const auto fault = feed(path, r.log, r.files.size() == 1, log, [&] {
    if (log.text().empty()) return log.refusal().empty();
    const bool more = write(std::string_view{log.text()});
    log.text().clear();
    return more && log.refusal().empty();
  });
  const auto& s = log.summary();
  out.columns = log.shown_as();
  out.any_row = s.frames > 0;
  out.settled = s.plateaus > 0;
  const auto complain_of = [&](std::string_view why) {
    out.failed = true;
    out.complaints += fmt::format("{}: {}\n", name, why);
  };
  if (!fault.empty()) complain_of(fault);
  else if (!log.refusal().empty()) complain_of(log.refusal());
  else if (s.rows > 0 && s.frames == 0) complain_of(why_nothing_was_read(s, log.rejected()));
  else report_rejections(log.rejected(), s, r.verbose, name, out.complaints);
  if (r.fail_on_rejection && s.rejections() > 0) out.failed = true;
  return out;
}

/// The same in whichever form was asked for. `name` is what the text calls the log; may be empty.
template <class Write> result_of_log settle_one(const settle_request& r, std::string_view path,
                                                std::string_view name, const presentation* columns,
                                                Write write) {
  switch (r.as) {
    case form::jsonl: return settle_one(r, path, jsonl_printer{name, r.verbose}, write);
    case form::csv: return settle_one(r, path, csv_printer{name, columns}, write);
    case form::plain: break;
  }
  const bool colour = r.folder.empty() && may_colour(STDOUT_FILENO);
  return settle_one(r, path, plain_printer{name, r.verbose, colour}, write);
}

/// One log at a time after another on several threads; `finished` sees them in order, in one thread
/// at a time, and says whether to go on.
template <class Work, class Finished>
void in_parallel(std::size_t count, unsigned jobs, Work work, Finished finished) {
  std::mutex lock;
  std::map<std::size_t, result_of_log> waiting;
  std::size_t next_to_start = 0, next_to_finish = 0;
  bool stopped = false;
  const auto worker = [&] {
    for (;;) {
      std::unique_lock hold{lock};
      if (stopped || next_to_start == count || stop_wished()) return;
      const auto mine = next_to_start++;
      hold.unlock();
      auto result = work(mine);
      hold.lock();
      waiting.emplace(mine, std::move(result));
      for (auto it = waiting.begin();
           it != waiting.end() && it->first == next_to_finish && !stopped;
           it = waiting.erase(it), ++next_to_finish)
        stopped = !finished(it->second);
    }
  };
  std::vector<std::jthread> threads;
  for (unsigned i = 1; i < jobs && i < count; ++i) threads.emplace_back(worker);
  worker();
}

/// All logs into one text, in their order.
template <class Finished>
void settle_one_after_another(const settle_request& r, Finished finished) {
  const auto whole = [&](std::size_t i, const presentation* columns) {
    std::string text;
    auto result = settle_one(r, r.files[i], r.files[i], columns, [&](std::string_view part) {
      text += part;
      return true;
    });
    result.text = std::move(text);
    return result;
  };
  std::size_t first = 0;
  presentation columns;
  // The first log that has a header gives all of them their columns.
  while (r.as == form::csv && first < r.files.size() && columns.columns.empty()) {
    const auto result = whole(first++, nullptr);
    columns = result.columns;
    if (!finished(result)) return;
  }
  in_parallel(
      r.files.size() - first, r.jobs, [&](std::size_t i) { return whole(first + i, &columns); },
      finished);
}

/// Whole text of one log, written into the folder.
result_of_log settle_into_folder(const settle_request& r, std::size_t which) {
  const auto& path = r.files[which];
  const auto stem =
      path == "-" ? std::string{"stdin"} : std::filesystem::path{path}.stem().string();
  const auto target =
      std::filesystem::path{r.folder} / (stem + (r.as == form::csv ? ".out.csv" : ".out.jsonl"));
  std::string text;
  auto result = settle_one(r, path, path, nullptr, [&](std::string_view part) {
    text += part;
    return true;
  });
  if (text.empty() && result.failed) return result;
  outlet to{target.string(), outlet::manner::whole};
  to.write(text);
  if (!to.keep()) {
    result.failed = true;
    result.complaints += fmt::format("{}: {}\n", target.string(), to.fault());
  }
  return result;
}

/// Two logs of one name would write the same file; empty: there are none.
std::string two_of_one_name(const settle_request& r) {
  std::map<std::string, std::string> seen;
  for (const auto& path : r.files) {
    const auto [at, is_new] = seen.emplace(std::filesystem::path{path}.stem().string(), path);
    if (!is_new) return fmt::format("{} and {} would be written to one file", at->second, path);
  }
  return {};
}

}  // namespace

int settle(const settle_request& asked) {
  settle_request r = asked;
  if (r.files.empty()) r.files.emplace_back("-");
  if (!r.folder.empty()) {
    if (const auto fault = two_of_one_name(r); !fault.empty()) {
      complain(fault);
      return not_understood;
    }
    std::error_code error;
    std::filesystem::create_directories(r.folder, error);
    if (error) {
      complain(fmt::format("{}: {}", r.folder, error.message()));
      return not_understood;
    }
  }

  if (r.log.drift_correction && !has_an_end(r.log))
    complain("a live log has no fresh air after the test yet: nothing is corrected for drift");
  outlet out;
  progress seen{"logs", r.files.size() > 1 ? std::optional{r.files.size()} : std::nullopt};
  std::size_t logs = 0;
  bool settled = false, failed = false;
  const auto finished = [&](const result_of_log& one) {
    ++logs;
    if (!one.complaints.empty()) seen.clear();
    if (!one.text.empty()) seen.make_way();
    if (!one.text.empty()) out.write(one.text);
    if (out.is() == outlet::state::closed_by_reader) return false;
    if (!one.complaints.empty()) complain(one.complaints);
    settled = settled || one.settled;
    failed = failed || one.failed;
    seen.add(1);
    return out.is() == outlet::state::open;
  };
  const auto warn = [&] {
    if (r.as != form::plain) return;
    std::string cautions = "\n";
    plain::write_cautions(cautions, settled, r.log.shown);
    out.write(cautions);
  };
  if (!r.folder.empty()) {
    in_parallel(
        r.files.size(), r.jobs, [&](std::size_t i) { return settle_into_folder(r, i); }, finished);
  } else if (r.files.size() == 1) {
    const auto one = settle_one(r, r.files[0], "", nullptr,
                                [&](std::string_view text) { return out.write(text); });
    settled = one.settled;
    if (one.any_row) warn();
    finished(one);
  } else {
    settle_one_after_another(r, finished);
  }
  if (out.is() == outlet::state::closed_by_reader) return done;
  seen.clear();
  if (logs < r.files.size() && stop_wished())
    complain(fmt::format("stopped; {} of {} logs were read", logs, r.files.size()));
  if (r.folder.empty() && r.files.size() > 1 && logs > 0) warn();
  if (out.is() == outlet::state::failed) {
    complain(fmt::format("standard output: {}", out.fault()));
    return not_understood;
  }
  return failed ? not_understood : settled ? done : nothing_settled;
}

}  // namespace stilling::command
