// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling.h"

#include <algorithm>
#include <cmath>
#include <new>

#include "stilling/saved_session.hpp"
#include "translate.hpp"
#include "waiting.hpp"

using namespace stilling;

/// The session, and what it said that nobody has polled.
struct stilling_session {
  explicit stilling_session(const session_settings& s) noexcept : live{s} {}

  static constexpr std::uint64_t alive = 0x676e696c6c697473U;  // "stilling"
  std::uint64_t mark = alive;
  default_session live;
  c_face::waiting said;
};

namespace {

using kept_session = saved_session<default_session>;

static_assert(sizeof(stilling_session) <= STILLING_SESSION_SIZE_MOST);
static_assert(kept_session::size <= STILLING_SAVED_SIZE_MOST);
static_assert(STILLING_DRAFT_OVERFIRE == static_cast<int>(channel::draft_overfire) &&
              STILLING_O2 == static_cast<int>(channel::o2) && channel_count == 8);
static_assert(STILLING_CUT_OFF + static_cast<int>(restore_fault::damaged) == STILLING_DAMAGED);

bool is_alive(const stilling_session* s) noexcept {
  return s != nullptr && s->mark == stilling_session::alive;
}
bool is_aligned(const void* p) noexcept {
  return reinterpret_cast<std::uintptr_t>(p) % alignof(stilling_session) == 0;
}

/// The sink: items as plain structs, to wait for whoever polls.
struct ear {
  c_face::waiting& said;
  void operator()(const settled_reading& r) const noexcept {
    if (auto* const to = said.add_plateau()) c_face::to_c(r, *to);
  }
  void operator()(const rejection& r) const noexcept { said.add_if_room(c_face::to_c(r)); }
  void operator()(const assumption& a) const noexcept { said.add_if_room(c_face::to_c(a)); }
  template <class Item> void operator()(const Item& item) const noexcept {
    said.add(c_face::to_c(item));
  }
};

/// Settings of the session, as far as C words go.
session_settings from_c(const stilling_settings& c) noexcept {
  session_settings s = c.criterion == STILLING_STRICT ? strict_settings() : session_settings{};
  channel_set required;
  for (const channel each : all_channels) {
    if ((c.required & c_face::bit_of(each)) != 0) required.insert(each);
    s.limit(each, c.limit_per_min.*c_face::value_of[index_of(each)] / 60);
  }
  s.require(required);
  s.phase.combustion_check = c.combustion_check != 0;
  s.decoder.joined = c.joined != 0;
  s.decoder.suction_positive = c.suction_positive != 0;
  s.decoder.separator = c.separator, s.decoder.decimal_sign = c.decimal_sign;
  const char* const end = std::find(c.fields, c.fields + sizeof c.fields, '\0');
  s.decoder.fields = std::string_view{c.fields, static_cast<std::size_t>(end - c.fields)};
  if (c.has_interval_s != 0)
    s.decoder.interval = duration_from_seconds(c.interval_s).value_or(duration{0});
  return s;
}

std::optional<setting_fault> fault_of(const stilling_settings& c) noexcept {
  if (c.criterion > STILLING_STRICT)
    return setting_fault{"criterion", "STILLING_FIELD or STILLING_STRICT"};
  if (c.required >> channel_count != 0)
    return setting_fault{"required", "bits of the eight channels only"};
  return check(from_c(c));
}

/// The name of a code; null where there is none. All of them are literals, so they end with a zero.
template <class Enum> const char* named(std::uint32_t code, Enum last) noexcept {
  if (code > static_cast<std::uint32_t>(last)) return nullptr;
  return name_of(static_cast<Enum>(code)).data();
}

/// `work` on a session that has room for what it may say.
template <class Work> stilling_status with(stilling_session* s, Work&& work) noexcept {
  if (!is_alive(s)) return STILLING_NO_SESSION;
  if (!s->said.has_room()) return STILLING_POLL_FIRST;
  work(s->live, ear{s->said});
  return STILLING_OK;
}

bool is_within(std::int64_t time_ns) noexcept {
  const instant t{duration{time_ns}};
  return t >= earliest && t <= latest;
}

}  // namespace

extern "C" {

size_t stilling_session_size(void) { return sizeof(stilling_session); }
size_t stilling_session_alignment(void) { return alignof(stilling_session); }
size_t stilling_saved_size(void) { return kept_session::size; }
const char* stilling_version(void) { return STILLING_VERSION; }
uint32_t stilling_abi(void) { return STILLING_ABI; }

void stilling_settings_default(stilling_settings* settings) {
  if (settings == nullptr) return;
  *settings = {};
  const session_settings s;
  for (const channel c : all_channels) {
    settings->limit_per_min.*c_face::value_of[index_of(c)] = 60 * s.steadiness.limits.of(c);
    if (s.phase.required.contains(c)) settings->required |= c_face::bit_of(c);
  }
  settings->combustion_check = 1;
}

const char* stilling_setting_fault(const stilling_settings* settings, const char** must_be) {
  const auto fault = settings != nullptr ? fault_of(*settings) : std::nullopt;
  if (must_be != nullptr) *must_be = fault ? fault->must_be.data() : nullptr;
  return fault ? fault->name.data() : nullptr;
}

stilling_status stilling_session_begin(void* memory, size_t size,
                                       const stilling_settings* settings,
                                       stilling_session** session) {
  if (session != nullptr) *session = nullptr;
  if (memory == nullptr || session == nullptr) return STILLING_NO_SESSION;
  if (size < sizeof(stilling_session)) return STILLING_NO_ROOM;
  if (!is_aligned(memory)) return STILLING_NOT_ALIGNED;
  if (settings != nullptr && fault_of(*settings)) return STILLING_BAD_SETTING;
  *session = new (memory)
      stilling_session{settings != nullptr ? from_c(*settings) : session_settings{}};
  return STILLING_OK;
}

stilling_status stilling_push_bytes(stilling_session* session, const char* bytes, size_t size,
                                    size_t* taken) {
  if (taken != nullptr) *taken = 0;
  std::string_view rest = bytes != nullptr ? std::string_view{bytes, size} : std::string_view{};
  while (!rest.empty()) {
    // A line at a time: what one line can say finds room.
    const auto end = std::min(rest.find_first_of("\r\n"), rest.size() - 1) + 1;
    const auto line = rest.substr(0, end);
    const auto status = with(session, [&](auto& live, ear to) { live.push(line, to); });
    if (status != STILLING_OK) return status;
    rest.remove_prefix(end);
    if (taken != nullptr) *taken += end;
  }
  return is_alive(session) ? STILLING_OK : STILLING_NO_SESSION;
}

stilling_status stilling_push_row(stilling_session* session, const stilling_row* row) {
  if (row == nullptr) return STILLING_BAD_VALUE;
  if (!is_within(row->time_ns)) return STILLING_BAD_TIME;
  frame f;
  f.at = instant{duration{row->time_ns}}, f.line = row->line;
  for (const channel c : all_channels) {
    const auto i = index_of(c);
    if ((row->has_values & c_face::bit_of(c)) == 0) continue;
    const double x = row->values.*c_face::value_of[i];
    if (!std::isfinite(x)) return STILLING_BAD_VALUE;
    f.indication.set(c, x);
    if ((row->has_steps & c_face::bit_of(c)) == 0) continue;
    const double step = row->steps.*c_face::value_of[i];
    if (!(step > 0 && std::isfinite(step))) return STILLING_BAD_VALUE;
    f.written_step[i] = step;
  }
  return with(session, [&](auto& live, ear to) { live.push(f, to); });
}

stilling_status stilling_push_break(stilling_session* session) {
  return with(session, [](auto& live, ear to) {
    live.push(discontinuity{.line = 0, .at = {}, .kind = break_kind::reconnect}, to);
  });
}

stilling_status stilling_advance(stilling_session* session, int64_t time_ns) {
  if (!is_within(time_ns)) return STILLING_BAD_TIME;
  return with(session,
              [&](auto& live, ear to) { live.advance(instant{duration{time_ns}}, to); });
}

stilling_status stilling_finish(stilling_session* session) {
  return with(session, [](auto& live, ear to) { live.finish(to); });
}

stilling_status stilling_poll(stilling_session* session, stilling_item* item) {
  if (!is_alive(session)) return STILLING_NO_SESSION;
  if (item == nullptr || !session->said.take(*item)) return STILLING_NOTHING;
  return STILLING_OK;
}

stilling_status stilling_save(const stilling_session* session, void* bytes, size_t size) {
  if (!is_alive(session)) return STILLING_NO_SESSION;
  if (!session->said.empty()) return STILLING_POLL_FIRST;
  if (bytes == nullptr || size < kept_session::size) return STILLING_NO_ROOM;
  if (!is_aligned(bytes)) return STILLING_NOT_ALIGNED;
  save(session->live, *new (bytes) kept_session);
  return STILLING_OK;
}

stilling_status stilling_restore(stilling_session* session, const void* bytes, size_t size) {
  if (!is_alive(session)) return STILLING_NO_SESSION;
  if (!session->said.empty()) return STILLING_POLL_FIRST;
  if (bytes == nullptr) return STILLING_CUT_OFF;
  const std::span<const std::byte> kept{static_cast<const std::byte*>(bytes), size};
  const auto why = restore(kept, session->live);
  if (!why) return STILLING_OK;
  return static_cast<stilling_status>(STILLING_CUT_OFF + static_cast<int>(*why));
}

const char* stilling_status_text(stilling_status status) {
  switch (status) {
    case STILLING_OK: return "done";
    case STILLING_NOTHING: return "no item waits";
    case STILLING_POLL_FIRST: return "too many items wait: poll them, then go on";
    case STILLING_NO_SESSION: return "there is no session in this memory: begin one first";
    case STILLING_NO_ROOM: return "the memory is too small: ask for the size it must have";
    case STILLING_NOT_ALIGNED: return "the memory begins at an address a session cannot have";
    case STILLING_BAD_SETTING: return "a setting makes no sense: stilling_setting_fault() names it";
    case STILLING_BAD_TIME: return "the time is more than 146 years from the clock's zero";
    case STILLING_BAD_VALUE:
      return "a value said to be there is not a number: clear its bit where it is missing";
    case STILLING_CUT_OFF: return "the saved session is cut off: begin a new one";
    case STILLING_NOT_SAVED: return "this is no saved session: begin a new one";
    case STILLING_OTHER_VERSION:
      return "the session was saved by another version of stilling: begin a new one";
    case STILLING_OTHER_LAYOUT:
      return "the session was saved by another build or kind of machine: begin a new one";
    case STILLING_OTHER_ZONE: return "the session was saved with a time zone: begin a new one";
    case STILLING_DAMAGED: return "the saved session is damaged: begin a new one";
  }
  return nullptr;
}

const char* stilling_channel_name(uint32_t channel) {
  return channel < channel_count ? channel_table[channel].name.data() : nullptr;
}
const char* stilling_phase_name(uint32_t phase) { return named(phase, phase::cooling); }
const char* stilling_cause_name(uint32_t code) { return named(code, cause::drift_in_step); }
const char* stilling_break_name(uint32_t kind) { return named(kind, break_kind::reconnect); }
const char* stilling_fault_name(uint32_t code) { return named(code, fault::ambiguous_time); }
const char* stilling_assumption_name(uint32_t what) {
  return named(what, assumed::units_contradict);
}
const char* stilling_unit_name(uint32_t code) {
  return code < unit_count ? unit_table[code].name.data() : nullptr;
}

}  // extern "C"
