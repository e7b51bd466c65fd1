// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// A finished test, told on paper or to a program.

#include "stilling/report.hpp"

#include <fmt/format.h>

#include <string>
#include <vector>

#include "complaints.hpp"
#include "feeding.hpp"
#include "gathered.hpp"
#include "judged_log.hpp"
#include "sources.hpp"
#include "verbs.hpp"
#include "zone.hpp"

namespace stilling::command {
namespace {

/// The first line of each fault, in words; without the end of its line.
std::vector<std::string> first_faults(const log_summary& s, const rejected_lines& lines) {
  std::vector<std::string> out;
  for (std::size_t i = 0; i < fault_count; ++i) {
    if (s.rejected[i] == 0) continue;
    auto& words = out.emplace_back(lines.first[i]);
    while (words.ends_with('\n')) words.pop_back();
  }
  return out;
}

std::string written(const report_request& asked, const reported& r) {
  std::string text;
  switch (asked.as) {
    case report_request::manner::text:
      stilling::report::write_text(text, r, asked.width, asked.copies);
      break;
    case report_request::manner::html: stilling::report::write_html(text, r); break;
    case report_request::manner::json: stilling::report::write_json(text, r); break;
  }
  return text;
}

/// Empty: it is written, or nobody wants to read it.
std::string put_out(const std::string& path, std::string_view text) {
  if (path.empty()) {
    outlet out;
    out.write(text);
    return out.is() == outlet::state::failed ? fmt::format("standard output: {}", out.fault())
                                             : std::string{};
  }
  outlet out{path, outlet::manner::whole};
  out.write(text);
  return out.keep() ? std::string{} : fmt::format("{}: {}", path, out.fault());
}

}  // namespace

int report(const report_request& asked) {
  auto test = asked.test;
  test.log.shown.clock = clock_of_zone(test.log.settings.decoder, test.log.time_zone);
  auto about = test.log.own->about;
  if (about.instrument.empty()) about.instrument = test.log.own->instrument;

  gathered kept;
  judged_log log{test, kept};
  const auto& path = test.files[0];
  const auto name = name_of_log(path);
  const auto fault = feed(path, test.log, true, log, [&] { return log.refusal().empty(); });
  const auto& s = log.summary();
  const auto refuse = [&](std::string_view why) {
    complain(fmt::format("{}: {}", name, why));
    return not_understood;
  };
  if (!log.refusal().empty()) return refuse(log.refusal());
  if (s.rows > 0 && s.frames == 0) return refuse(why_nothing_was_read(s, log.rejected()));
  if (!fault.empty() && s.frames == 0) return refuse(fault);

  std::string complaints;
  if (!fault.empty()) complaints = fmt::format("{}: {}\n", name, fault);
  if (s.rejections() > 0)
    complaints += fmt::format(
        "{}: {} of {} lines could not be used in full; the report names the first of each kind\n",
        name, s.rejections(), s.rows);
  if (!complaints.empty()) complain(complaints);
  const visit none{*log.shown_as().burned, log.shown_as().how};
  const auto faults = first_faults(s, log.rejected());
  const auto text = written(asked, {kept.test() ? *kept.test() : none, s, log.shown_as(), about,
                                    path == "-" ? std::string_view{} : path, faults});
  if (const auto why = put_out(asked.out, text); !why.empty()) {
    complain(why);
    return not_understood;
  }
  if (!fault.empty() || (test.fail_on_rejection && s.rejections() > 0)) return not_understood;
  return s.plateaus > 0 ? done : nothing_settled;
}

}  // namespace stilling::command
