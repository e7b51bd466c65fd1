// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// What passes at one joint of the chain, one line of CSV for each row.

#include <fmt/format.h>

#include <memory>
#include <string>
#include <utility>

#include "feeding.hpp"
#include "opening.hpp"
#include "sources.hpp"
#include "stilling/session.hpp"
#include "stilling/text.hpp"
#include "verbs.hpp"

namespace stilling::command {
namespace {

using joint = look_request::joint;

/// The chain up to the joint that is looked at.
template <joint At> [[nodiscard]] auto make_chain(const session_settings& s) noexcept {
  if constexpr (At == joint::frames) return make_reader(s);
  else return make_reader(s) | make_judge(s);
}

template <joint At> class looked_at_log {
 public:
  using chain_type = decltype(make_chain<At>(session_settings{}));

  explicit looked_at_log(const log_options& o)
      : options_{o}, as_{o.shown}, log_{o.settings} {}

  void push(std::string_view bytes) {
    log_.push(bytes, [this] { return start(); }, sink());
  }
  void advance(instant t) { log_.advance(t, sink()); }
  void finish() { log_.finish([this] { return start(); }, sink()); }

  [[nodiscard]] std::string& text() noexcept { return text_; }
  [[nodiscard]] std::string& complaints() noexcept { return complaints_; }
  [[nodiscard]] std::string_view refusal() const noexcept { return refusal_; }
  [[nodiscard]] bool saw_rows() const noexcept { return rows_ > 0; }

 private:
  std::unique_ptr<chain_type> start() {
    auto fitted = fit(options_, log_.found());
    refusal_ = std::move(fitted.refusal);
    if (!refusal_.empty()) return nullptr;
    return std::make_unique<chain_type>(make_chain<At>(fitted.settings));
  }
  void header() {
    if constexpr (At == joint::frames) csv::write_frame_header(text_, as_);
    else csv::write_verdict_header(text_, as_);
  }
  [[nodiscard]] auto sink() noexcept {
    return overloaded{[this](const layout& l) {
                        as_.follow(l);
                        header();
                      },
                      [this](const frame& f) { csv::write(text_, f, as_), ++rows_; },
                      [this](const verdict& v) { csv::write(text_, v, as_), ++rows_; },
                      [this](const rejection& r) {
                        if (!complaints_.empty()) complaints_ += "stilling: ";
                        stilling::write(complaints_, r);
                      },
                      [](const auto&) {}};
  }

  log_options options_;
  presentation as_;
  held_back<chain_type> log_;
  std::string text_, complaints_, refusal_;
  std::uint64_t rows_ = 0;
};

template <joint At> int look_at(const look_request& r) {
  auto log = std::make_unique<looked_at_log<At>>(as_fed(r.log));
  outlet out;
  const auto fault = feed(r.file, r.log, true, *log, [&] {
    if (!log->text().empty()) out.write(log->text());
    log->text().clear();
    if (out.is() == outlet::state::open && !log->complaints().empty()) complain(log->complaints());
    log->complaints().clear();
    return out.is() == outlet::state::open && log->refusal().empty();
  });
  if (out.is() == outlet::state::closed_by_reader) return done;
  const auto name = r.file.empty() || r.file == "-" ? "standard input" : r.file;
  if (!fault.empty() || !log->refusal().empty()) {
    complain(fmt::format("{}: {}", name, fault.empty() ? log->refusal() : fault));
    return not_understood;
  }
  if (out.is() == outlet::state::failed) {
    complain(fmt::format("standard output: {}", out.fault()));
    return not_understood;
  }
  return log->saw_rows() ? done : nothing_settled;
}

}  // namespace

int look(const look_request& r) {
  return r.at == joint::frames ? look_at<joint::frames>(r) : look_at<joint::verdicts>(r);
}

}  // namespace stilling::command
