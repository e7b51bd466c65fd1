/* SPDX-FileCopyrightText: the stilling authors
   SPDX-License-Identifier: MIT */

/* The C face from C11, in static memory: a log in pieces, rows of values, what is missing, what is
   refused, a power cut. */

#include "stilling.h"

#include <math.h>
#include <stdalign.h>
#include <stdio.h>
#include <string.h>

static int failures = 0;
#define EXPECT(condition)                                                        \
  do {                                                                           \
    if (!(condition)) ++failures, printf("line %d: %s\n", __LINE__, #condition); \
  } while (0)

static alignas(8) unsigned char memory[STILLING_SESSION_SIZE_MOST];
static alignas(8) unsigned char other_memory[STILLING_SESSION_SIZE_MOST];
static alignas(8) unsigned char saved[STILLING_SAVED_SIZE_MOST];

static struct {
  unsigned count[8];
  stilling_plateau first, last;
  stilling_rejection rejection;
  stilling_note note;
  uint32_t lost;
} heard;

static void listen(stilling_session* live) {
  stilling_item item;
  while (stilling_poll(live, &item) == STILLING_OK) {
    ++heard.count[item.kind];
    heard.lost += item.lost;
    if (item.kind == STILLING_PLATEAU) {
      if (heard.count[STILLING_PLATEAU] == 1) heard.first = item.of.plateau;
      heard.last = item.of.plateau;
    }
    if (item.kind == STILLING_REJECTION) heard.rejection = item.of.rejection;
    if (item.kind == STILLING_NOTE) heard.note = item.of.note;
  }
}

static stilling_session* begin(void* at, const stilling_settings* settings) {
  stilling_session* live = NULL;
  EXPECT(stilling_session_begin(at, stilling_session_size(), settings, &live) == STILLING_OK);
  memset(&heard, 0, sizeof heard);
  return live;
}

static void push(stilling_session* live, const char* bytes, size_t size) {
  while (size > 0) {
    size_t taken = 0;
    const stilling_status status = stilling_push_bytes(live, bytes, size, &taken);
    EXPECT(status == STILLING_OK || status == STILLING_POLL_FIRST);
    if (status != STILLING_OK && status != STILLING_POLL_FIRST) return;
    bytes += taken, size -= taken;
    listen(live);
  }
}
static void say(stilling_session* live, const char* text) { push(live, text, strlen(text)); }

/* A flue at rest, but for a display that dithers. */
static void row_of_text(stilling_session* live, int t) {
  char line[80];
  snprintf(line, sizeof line, "%d,%d,5.%d,20\n", t, 450 + t * 7 / 3 % 2, t % 2);
  say(live, line);
}

static void sizes_are_told_beforehand(void) {
  EXPECT(stilling_session_size() <= STILLING_SESSION_SIZE_MOST);
  EXPECT(stilling_saved_size() <= STILLING_SAVED_SIZE_MOST);
  EXPECT(alignof(max_align_t) % stilling_session_alignment() == 0);
  EXPECT(stilling_abi() == STILLING_ABI);
}

static void what_is_wrong_is_said(void) {
  stilling_session* live = NULL;
  stilling_item item;
  size_t taken = 7;
  memset(memory, 0, sizeof memory);
  EXPECT(stilling_session_begin(NULL, 0, NULL, &live) == STILLING_NO_SESSION);
  EXPECT(stilling_session_begin(memory, 100, NULL, &live) == STILLING_NO_ROOM);
  EXPECT(stilling_session_begin(memory + 1, sizeof memory - 1, NULL, &live) ==
         STILLING_NOT_ALIGNED);
  EXPECT(live == NULL);
  stilling_session* const nobody = (stilling_session*)memory;
  EXPECT(stilling_push_bytes(nobody, "x\n", 2, &taken) == STILLING_NO_SESSION && taken == 0);
  EXPECT(stilling_poll(nobody, &item) == STILLING_NO_SESSION);
  EXPECT(stilling_finish(nobody) == STILLING_NO_SESSION);
  EXPECT(stilling_save(nobody, saved, sizeof saved) == STILLING_NO_SESSION);

  stilling_settings s;
  const char* must_be = NULL;
  stilling_settings_default(&s);
  EXPECT(stilling_setting_fault(&s, &must_be) == NULL && must_be == NULL);
  s.limit_per_min.o2_fraction = -1;
  EXPECT(strcmp(stilling_setting_fault(&s, &must_be), "steadiness.limits") == 0);
  EXPECT(strcmp(must_be, "above 0") == 0);
  EXPECT(stilling_session_begin(memory, sizeof memory, &s, &live) == STILLING_BAD_SETTING);
  stilling_settings_default(&s);
  s.required = 0;
  EXPECT(strcmp(stilling_setting_fault(&s, NULL), "phase.required") == 0);
  s.required = 1u << 8;
  EXPECT(strcmp(stilling_setting_fault(&s, NULL), "required") == 0);

  live = begin(memory, NULL);
  stilling_row row;
  memset(&row, 0, sizeof row);
  row.has_values = 1u << STILLING_O2;
  row.values.o2_fraction = NAN;
  EXPECT(stilling_push_row(live, &row) == STILLING_BAD_VALUE);
  row.values.o2_fraction = 0.05;
  row.has_steps = 1u << STILLING_O2;
  EXPECT(stilling_push_row(live, &row) == STILLING_BAD_VALUE); /* a step of 0 is none */
  row.has_steps = 0;
  row.time_ns = INT64_MAX;
  EXPECT(stilling_push_row(live, &row) == STILLING_BAD_TIME);
  EXPECT(stilling_advance(live, INT64_MIN) == STILLING_BAD_TIME);
  for (int code = 0; code <= STILLING_DAMAGED; ++code)
    EXPECT(stilling_status_text((stilling_status)code) != NULL);
  EXPECT(stilling_status_text((stilling_status)99) == NULL);
  EXPECT(stilling_phase_name(9) == NULL && stilling_channel_name(8) == NULL);
  EXPECT(strcmp(stilling_phase_name(6), "steady") == 0);
  EXPECT(strcmp(stilling_channel_name(STILLING_O2), "o2") == 0);
}

static void a_log_settles(void) {
  stilling_session* const live = begin(memory, NULL);
  say(live, "time_s,stack_temp_degF,o2_pct,co_ppm\n");
  for (int t = 0; t < 300; ++t) {
    if (t == 20) say(live, "# remark it hums\n"), say(live, "19.5,4x1,5.0,20\n");
    row_of_text(live, t);
  }
  EXPECT(heard.count[STILLING_PLATEAU] == 1 && heard.count[STILLING_LAYOUT] == 1);
  EXPECT(heard.count[STILLING_NOTE] == 1 && heard.count[STILLING_PHASE] > 1);
  EXPECT(strcmp(heard.note.text.letters, "remark it hums") == 0 && heard.note.text.size == 14);
  EXPECT(heard.rejection.field == 2 && strcmp(heard.rejection.seen.letters, "4x1") == 0);
  EXPECT(strcmp(stilling_fault_name(heard.rejection.fault), "bad_number") == 0);

  const stilling_plateau* const p = &heard.first;
  EXPECT(!p->has_to && !p->has_released && p->to_ns == 0 && p->end_reason == 0);
  const stilling_channel_reading* const stack = &p->readings.stack_temp_K;
  EXPECT(stack->is_there && stack->has_rate && stack->u > 0 && stack->n > 30);
  EXPECT(fabs(stack->value - (450.5 + 459.67) / 1.8) < 0.3);
  EXPECT(fabs(p->readings.o2_fraction.value - 0.0505) < 0.0005);
  EXPECT(!p->readings.ambient_temp_K.is_there && !p->readings.no_fraction.is_there);
  EXPECT(!stack->has_lag_s); /* nothing has shown one: that is not a lag of 0 */

  EXPECT(stilling_finish(live) == STILLING_OK);
  listen(live);
  EXPECT(heard.last.has_to && !heard.last.has_released);
  EXPECT(heard.last.declared_ns == heard.first.declared_ns);
  EXPECT(strcmp(stilling_cause_name(heard.last.end_reason), "end_of_log") == 0);
  EXPECT(heard.lost == 0);
}

static void rows_of_values_settle(void) {
  stilling_settings s;
  stilling_settings_default(&s);
  s.required = 1u << STILLING_STACK_TEMP;
  s.combustion_check = 0;
  stilling_session* const live = begin(memory, &s);
  for (int t = 0; t < 300; ++t) {
    stilling_row row;
    memset(&row, 0, sizeof row);
    row.time_ns = 1000000000LL * t;
    row.has_values = row.has_steps = 1u << STILLING_STACK_TEMP;
    row.values.stack_temp_K = 400 + 0.1 * (t * 7 / 3 % 3);
    row.steps.stack_temp_K = 0.1;
    EXPECT(stilling_push_row(live, &row) == STILLING_OK);
    EXPECT(stilling_advance(live, row.time_ns + 500000000) == STILLING_OK);
    listen(live);
  }
  EXPECT(heard.count[STILLING_PLATEAU] == 1);
  EXPECT(fabs(heard.first.readings.stack_temp_K.value - 400.1) < 0.05);
  EXPECT(heard.first.readings.stack_temp_K.has_step &&
         fabs(heard.first.readings.stack_temp_K.step - 0.1) < 1e-9);
  EXPECT(stilling_push_break(live) == STILLING_OK);
  listen(live);
  EXPECT(heard.count[STILLING_BREAK] == 1 && heard.last.has_to && heard.last.has_released);
  EXPECT(strcmp(stilling_cause_name(heard.last.end_reason), "break") == 0);
}

/* Nobody polls: it stops behind a line, and nothing that counts gets lost. */
static void a_crowd_waits(void) {
  stilling_session* const live = begin(memory, NULL);
  char log[4096] = "time_s,stack_temp_degF,o2_pct,co_ppm\n";
  for (int t = 0; t < 100; ++t) {
    char line[40];
    snprintf(line, sizeof line, "%d,x,y,z\n", t);
    strcat(log, line);
  }
  size_t taken = 0;
  EXPECT(stilling_push_bytes(live, log, strlen(log), &taken) == STILLING_POLL_FIRST);
  EXPECT(taken > 37 && taken < strlen(log) && log[taken - 1] == '\n');
  EXPECT(stilling_save(live, saved, sizeof saved) == STILLING_POLL_FIRST);
  listen(live);
  push(live, log + taken, strlen(log) - taken);
  EXPECT(heard.count[STILLING_REJECTION] == 300 && heard.lost == 0);
}

/* The power fails in the middle of a line, while it settles. */
static void a_power_cut_changes_nothing(void) {
  stilling_session* whole = begin(memory, NULL);
  say(whole, "time_s,stack_temp_degF,o2_pct,co_ppm\n");
  for (int t = 0; t < 300; ++t) row_of_text(whole, t);
  EXPECT(stilling_finish(whole) == STILLING_OK);
  listen(whole);
  const stilling_plateau wanted = heard.last;
  EXPECT(wanted.readings.stack_temp_K.is_there);

  stilling_session* live = begin(memory, NULL);
  say(live, "time_s,stack_temp_degF,o2_pct,co_ppm\n");
  for (int t = 0; t < 60; ++t) row_of_text(live, t);
  say(live, "60,45");
  EXPECT(stilling_save(live, saved, 100) == STILLING_NO_ROOM);
  EXPECT(stilling_save(live, saved + 1, sizeof saved - 1) == STILLING_NOT_ALIGNED);
  EXPECT(stilling_save(live, saved, sizeof saved) == STILLING_OK);
  memset(memory, 0xA5, sizeof memory);

  stilling_session* const back = begin(other_memory, NULL);
  const size_t size = stilling_saved_size();
  EXPECT(stilling_restore(back, saved, 20) == STILLING_CUT_OFF);
  EXPECT(stilling_restore(back, saved, size - 1) == STILLING_CUT_OFF);
  saved[size / 2] ^= 4;
  EXPECT(stilling_restore(back, saved, size) == STILLING_DAMAGED);
  saved[size / 2] ^= 4;
  saved[8] ^= 1;
  EXPECT(stilling_restore(back, saved, size) == STILLING_OTHER_VERSION);
  saved[8] ^= 1;
  saved[16] ^= 1;
  EXPECT(stilling_restore(back, saved, size) == STILLING_OTHER_LAYOUT);
  saved[16] ^= 1;
  EXPECT(stilling_restore(back, "no such thing, but it is long enough for one", 44) ==
         STILLING_NOT_SAVED);
  EXPECT(stilling_restore(back, saved, size) == STILLING_OK);
  say(back, "0,5.0,20\n");
  for (int t = 61; t < 300; ++t) row_of_text(back, t);
  EXPECT(stilling_finish(back) == STILLING_OK);
  listen(back);
  EXPECT(memcmp(&heard.last, &wanted, sizeof wanted) == 0);
}

int main(void) {
  sizes_are_told_beforehand();
  what_is_wrong_is_said();
  a_log_settles();
  rows_of_values_settle();
  a_crowd_waits();
  a_power_cut_changes_nothing();
  printf("%d failure(s)\n", failures);
  return failures == 0 ? 0 : 1;
}
