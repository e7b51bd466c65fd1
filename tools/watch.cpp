// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// A live test on one screen. One loop does it all, in beats of a twentieth of a second: the log is
// read as it comes, keys are taken, the page is drawn, the web page is served. None waits for
// another, so a terminal that hangs or a browser that sleeps loses no row.

#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <chrono>
#include <cstdlib>
#include <deque>
#include <memory>
#include <optional>
#include <string>

#include "feeding.hpp"
#include "judged_log.hpp"
#include "screen.hpp"
#include "serve.hpp"
#include "sources.hpp"
#include "typed_note.hpp"
#include "verbs.hpp"
#include "watch_page.hpp"
#include "watch_says.hpp"
#include "watch_view.hpp"
#include "watched.hpp"

namespace stilling::command {
namespace {

using clock = std::chrono::steady_clock;
using std::chrono::milliseconds;

constexpr milliseconds one_beat{50};
constexpr milliseconds between_pages{250};  // more often nobody can read
constexpr milliseconds at_least{1000};      // what is told in seconds moves on

bool terminal_takes_utf8() {
  for (const char* name : {"LC_ALL", "LC_CTYPE", "LANG"}) {
    const char* const value = std::getenv(name);
    if (value == nullptr || *value == '\0') continue;
    std::string words{value};
    std::erase(words, '-');
    std::ranges::transform(words, words.begin(),
                           [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return words.find("utf8") != std::string::npos;
  }
  return false;
}

bool can_show_a_page() {
  const char* const terminal = std::getenv("TERM");
  return ::isatty(STDOUT_FILENO) == 1 && terminal != nullptr &&
         std::string_view{terminal} != "dumb";
}

/// Lines typed below the text, where there is no page: each is a note.
class typed_lines {
 public:
  typed_lines() {
    if (::isatty(STDOUT_FILENO) == 1)
      terminal_ = ::open("/dev/tty", O_RDONLY | O_NONBLOCK | O_NOCTTY | O_CLOEXEC);
  }
  typed_lines(const typed_lines&) = delete;
  typed_lines& operator=(const typed_lines&) = delete;
  ~typed_lines() {
    if (terminal_ >= 0) ::close(terminal_);
  }
  template <class Take> void read(Take take) {
    std::array<char, 512> piece;
    if (terminal_ < 0) return;
    const auto n = ::read(terminal_, piece.data(), piece.size());
    if (n <= 0) return;
    held_.append(piece.data(), static_cast<std::size_t>(n));
    for (auto end = held_.find('\n'); end != std::string::npos; end = held_.find('\n')) {
      take(held_.substr(0, end));
      held_.erase(0, end + 1);
    }
  }

 private:
  int terminal_ = -1;
  std::string held_;
};

class watcher {
 public:
  explicit watcher(const watch_request& r)
      : asked_{r},
        by_page_{!r.plain && can_show_a_page()},
        utf8_{terminal_takes_utf8()},
        said_{!by_page_ && may_colour(STDOUT_FILENO)},
        log_{as_settled(r), said_} {
    if (!by_page_) lines_.emplace();
  }

  int run();

  // What feed() asks of whoever stands beside the log.
  [[nodiscard]] milliseconds beat() const { return one_beat; }
  std::optional<std::string> next_note() {
    if (notes_.empty()) return std::nullopt;
    auto first = std::move(notes_.front());
    notes_.pop_front();
    return first;
  }
  /// Whether to go on.
  bool look_up();

 private:
  struct beside {
    watcher* who;
    [[nodiscard]] milliseconds beat() const { return who->beat(); }
    std::optional<std::string> next_note() const { return who->next_note(); }
    bool operator()() const { return who->look_up(); }
  };

  static settle_request as_settled(const watch_request& r) {
    settle_request s;
    s.log = r.log;
    s.forecast = r.log.settings.rule.readings == 0;
    return s;
  }

  void take_keys();
  void take_key(std::string_view& keys);
  void note(std::string_view typed);
  void draw();
  void serve();
  void ring_where_wished();
  void stay_until_left();
  [[nodiscard]] watch_state state() const;
  [[nodiscard]] std::string source_words() const;
  [[nodiscard]] int say_the_last_word(const std::string& fault);

  const watch_request& asked_;
  bool by_page_, utf8_;
  watched said_;
  judged_log<watched> log_;
  outlet out_;
  std::optional<typed_lines> lines_;
  std::unique_ptr<screen> screen_;
  std::unique_ptr<web_server> server_;
  clock::time_point published_{};
  std::string complaints_;  // while the screen is up
  std::size_t complained_ = 0;
  clock::time_point complained_at_{};
  std::deque<std::string> notes_;
  std::optional<typed_line> typing_;
  std::string hint_;
  clock::time_point hint_until_{}, drawn_{}, heard_ = clock::now();
  std::uint64_t rows_ = 0;
  bool changed_ = true;
  bool asked_to_leave_ = false, ended_ = false, told_of_record_ = false;
  std::optional<instant> danger_seen_, danger_rung_, settled_rung_;
  screen::size room_{0, 0};
};

std::string watcher::source_words() const {
  const auto& live = asked_.log.live;
  if (!live.device.empty()) return fmt::format("{} at {} baud", live.device, live.baud);
  return asked_.file.empty() || asked_.file == "-" ? "standard input" : asked_.file;
}

watch_state watcher::state() const {
  watch_state s;
  s.test = said_.test() ? &*said_.test() : nullptr;
  s.as = said_.as();
  s.judged_by = said_.settings();
  s.danger = said_.danger();
  s.danger_seen = s.danger && danger_seen_ == s.danger->began;
  s.ended = ended_;
  const double silence = std::chrono::duration<double>(clock::now() - heard_).count();
  double spacing = 0;
  if (s.test != nullptr && s.test->newest())
    for (const auto c : all_channels)
      spacing = std::max(spacing, s.test->newest()->trends[c].spacing);
  if (!ended_ && silence > std::max(10.0, 3 * spacing)) s.silent = silence;
  s.unusable = log_.summary().rejections();
  s.source = source_words();
  return s;
}

void watcher::note(std::string_view typed) {
  const auto words = note_meant_by(typed);
  if (words.empty()) return;
  if (ended_) {
    hint_ = "The log has ended; no note can enter it any more.";
    hint_until_ = clock::now() + std::chrono::seconds{5};
    return;
  }
  notes_.push_back(words);
  hint_ = fmt::format("Noted: {}", words);
  if (asked_.log.record.empty() && !std::exchange(told_of_record_, true))
    hint_ += ". Without --record FILE it is kept only while this runs.";
  hint_until_ = clock::now() + std::chrono::seconds{5};
}

void watcher::take_key(std::string_view& keys) {
  if (const auto n = length_of_sequence(keys); n > 0) return keys.remove_prefix(n);
  const char key = keys.front();
  keys.remove_prefix(1);
  const bool again = std::exchange(asked_to_leave_, false);
  hint_.clear();
  switch (key) {
    case 'n':
    case 'N':
      if (!ended_) typing_.emplace();
      return;
    case 'q':
    case 'Q':
      if (again || ended_) {
        wish_to_stop();
        return;
      }
      asked_to_leave_ = true;
      hint_ = "q once more ends the watch; any other key goes on.";
      hint_until_ = clock::now() + std::chrono::seconds{10};
      return;
    case 'k':
    case 'K':
      if (said_.danger()) danger_seen_ = said_.danger()->began;
      return;
    default: return;
  }
}

void watcher::take_keys() {
  if (lines_) lines_->read([this](const std::string& line) { note(line); });
  if (!screen_) return;
  const auto all = screen_->keys();
  for (std::string_view keys = all; !keys.empty();) {
    changed_ = true;
    drawn_ = {};  // who types wants to see it
    if (!typing_) {
      take_key(keys);
      continue;
    }
    keys.remove_prefix(typing_->take(keys));
    if (typing_->is() == typed_line::state::open) continue;
    if (typing_->is() == typed_line::state::entered) note(typing_->text());
    typing_.reset();
  }
}

void watcher::ring_where_wished() {
  if (!asked_.bell || !screen_ || !said_.test()) return;
  const auto& settled = said_.test()->settled();
  const bool open = !settled.empty() && !settled.back().read.to;
  if (open && settled_rung_ != settled.back().read.declared) {
    settled_rung_ = settled.back().read.declared;
    screen_->ring();
  }
  if (said_.danger() && danger_rung_ != said_.danger()->began) {
    danger_rung_ = said_.danger()->began;
    screen_->ring();
  }
}

void watcher::draw() {
  const auto now = clock::now();
  if (!hint_.empty() && now >= hint_until_) {
    hint_.clear();
    asked_to_leave_ = false;
    changed_ = true;
  }
  const auto room = screen_->extent();
  changed_ = changed_ || room != room_ || now - drawn_ >= at_least;
  if (!changed_ || now - drawn_ < between_pages) return;
  changed_ = false;
  drawn_ = now;
  room_ = room;
  page_foot foot;
  foot.keys = screen_->has_keys();
  if (typing_) foot.typed = typing_->text();
  foot.hint = hint_;
  const auto s = state();
  if (complaints_.size() != complained_) complained_at_ = now, complained_ = complaints_.size();
  // The newest, while it is news or nothing has come since.
  if (complained_ > 0 && (s.silent || now - complained_at_ < std::chrono::seconds{30})) {
    auto newest = complaints_.substr(0, complaints_.size() - 1);
    newest.erase(0, newest.rfind('\n') + 1);
    if (constexpr std::string_view who = "stilling: "; newest.starts_with(who))
      newest.erase(0, who.size());
    foot.hint += (foot.hint.empty() ? "" : " ") + newest;
  }
  foot.recorded_in = asked_.log.record;
  foot.ended = ended_;
  if (server_) foot.served_at = server_->url();
  const auto page = lay_out(say(s), foot, room, utf8_);
  screen_->show(page.lines, page.cursor);
}

void watcher::serve() {
  const auto now = clock::now();
  if (now - published_ >= between_pages) {
    published_ = now;
    const auto t = say(state());
    server_->publish(whole_page(t), page_body(t));
  }
  server_->poll();
}

bool watcher::look_up() {
  if (by_page_ && !screen_) {
    screen_ = std::make_unique<screen>(may_colour(STDOUT_FILENO));
    keep_complaints(&complaints_);
  }
  if (const auto rows = log_.summary().rows; rows != rows_) {
    rows_ = rows;
    heard_ = clock::now();
    changed_ = true;
  }
  take_keys();
  if (!by_page_ && !log_.text().empty()) out_.write(log_.text());
  log_.text().clear();
  if (screen_) {
    ring_where_wished();
    draw();
  }
  if (server_) serve();
  return log_.refusal().empty() && out_.is() == outlet::state::open;
}

/// The log is over; the person may not have looked yet.
void watcher::stay_until_left() {
  ended_ = changed_ = true;
  typing_.reset();
  while (wait_for(-1, one_beat) != wake::stopped) static_cast<void>(look_up());
}

int watcher::say_the_last_word(const std::string& fault) {
  const auto& s = log_.summary();
  const bool any_row = s.frames > 0;
  if (by_page_ && any_row && said_.test()) {
    std::vector<settled_reading> closed;
    for (const auto& state : said_.test()->settled())
      if (state.read.to) closed.push_back(state.read);
    std::string text;
    plain::write_table(text, closed, log_.shown_as());
    std::string rest;
    plain::write(rest, s, log_.shown_as());
    if (!text.empty() && !rest.empty()) text += '\n';
    out_.write(text + rest);
  }
  if (any_row) {
    std::string cautions = "\n";
    plain::write_cautions(cautions, s.plateaus > 0, log_.shown_as());
    out_.write(cautions);
  }
  const auto name = source_words();
  std::string why = fault.empty() ? std::string{log_.refusal()} : fault;
  if (why.empty() && s.rows > 0 && !any_row) {
    why = "no row could be read. The first:\n";
    for (const auto& first : log_.rejected().first)
      if (!first.empty()) why += "  " + first;
  }
  if (!why.empty()) complain(fmt::format("{}: {}", name, why));
  if (out_.is() == outlet::state::closed_by_reader) return done;
  if (out_.is() == outlet::state::failed)
    complain(fmt::format("standard output: {}", out_.fault()));
  if (!why.empty() || out_.is() == outlet::state::failed) return not_understood;
  return s.plateaus > 0 ? done : nothing_settled;
}

int watcher::run() {
  if (asked_.serve) {
    server_ = std::make_unique<web_server>(asked_.address, asked_.port);
    if (!server_->fault().empty()) {
      complain(fmt::format("--serve: {}", server_->fault()));
      return not_understood;
    }
    complain(fmt::format("a page to be read is at {}", server_->url()));
    if (server_->is_open_to_others())
      complain(
          "WARNING: whoever reaches this machine on that address can read along, unencrypted "
          "and without being asked; nothing can be changed from there");
  }
  const auto path = asked_.log.live.device.empty() ? asked_.file : asked_.log.live.device;
  const auto fault = feed(path, asked_.log, false, log_, beside{this});
  const bool worth_a_look = screen_ && screen_->has_keys() && log_.summary().frames > 0;
  if (worth_a_look && !stop_wished()) stay_until_left();
  if (screen_) screen_->leave();
  keep_complaints(nullptr);
  if (!complaints_.empty()) complain(complaints_.substr(std::string_view{"stilling: "}.size()));
  return say_the_last_word(fault);
}

}  // namespace

int watch(const watch_request& r) { return watcher{r}.run(); }

}  // namespace stilling::command
