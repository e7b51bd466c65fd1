// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#ifndef STILLING_H
#define STILLING_H

/* The session in C11, for firmware and for other languages: bytes or rows in, settled readings out.

     stilling_session* live;
     stilling_session_begin(memory, stilling_session_size(), NULL, &live);
     while (size > 0) {
       size_t taken;
       stilling_push_bytes(live, bytes, size, &taken);
       bytes += taken, size -= taken;
       while (stilling_poll(live, &item) == STILLING_OK) show(&item);
     }
     stilling_finish(live);                                            (and poll once more)

   A session lives in the caller's memory; there is nothing to close. Nothing is allocated, printed
   or thrown; no clock is read. One thread at a time for one session. Values are kelvin, mol/mol
   (`fraction`) and pascal, rates per minute, times nanoseconds on the log's own clock; `u` is the
   expanded uncertainty (k = 2). Fields are named as in `stilling settle --jsonl` of a log in these
   units. What is unknown says so in a field `has_...` or a bit: the number beside it is 0 then, and
   means nothing.

   Carbon monoxide poisons, and hot flue gas burns. The appliance maker's instructions, local codes
   and licensed practice come before anything told here; a session is no alarm. */

#include <stddef.h>
#include <stdint.h>

#ifdef __GNUC__
#define STILLING_API __attribute__((visibility("default")))
#else
#define STILLING_API
#endif

#ifdef __cplusplus
extern "C" {
#endif

/* A struct or a code that changed is a new number, and a new name of the shared library. */
#define STILLING_ABI 1

/* For static memory; the functions tell the exact sizes. */
#define STILLING_SESSION_SIZE_MOST 150000
#define STILLING_SAVED_SIZE_MOST 135000
#define STILLING_TEXT_SIZE 120 /* letters of a note, or of what a line held; more is left out */

typedef enum stilling_status {
  STILLING_OK = 0,
  STILLING_NOTHING = 1,       /* no item waits */
  STILLING_POLL_FIRST = 2,    /* too many wait: poll them, then go on */
  STILLING_NO_SESSION = 3,    /* null, or not begun in this memory */
  STILLING_NO_ROOM = 4,       /* the memory is too small */
  STILLING_NOT_ALIGNED = 5,   /* the memory does not begin where it must */
  STILLING_BAD_SETTING = 6,   /* stilling_setting_fault() tells which */
  STILLING_BAD_TIME = 7,      /* not within 146 years of the clock's zero */
  STILLING_BAD_VALUE = 8,     /* a value said to be there is no number */
  STILLING_CUT_OFF = 9, STILLING_NOT_SAVED = 10, /* of a saved session, as those that follow */
  STILLING_OTHER_VERSION = 11, STILLING_OTHER_LAYOUT = 12, STILLING_OTHER_ZONE = 13,
  STILLING_DAMAGED = 14
} stilling_status;

/* In the order of the fields of stilling_values; bit (1u << channel) in a set of them. */
typedef enum stilling_channel {
  STILLING_STACK_TEMP, STILLING_AMBIENT_TEMP, STILLING_O2, STILLING_CO2, STILLING_CO, STILLING_NO,
  STILLING_DRAFT_BREECH, STILLING_DRAFT_OVERFIRE
} stilling_channel;

typedef enum stilling_criterion { STILLING_FIELD, STILLING_STRICT } stilling_criterion;

typedef enum stilling_kind {
  STILLING_PLATEAU, STILLING_PHASE, STILLING_BURN, STILLING_NOTE, STILLING_BREAK,
  STILLING_REJECTION, STILLING_ASSUMPTION, STILLING_LAYOUT
} stilling_kind;

/* One number for each channel: a value, a limit, a peak. Which are there stands beside it. */
typedef struct stilling_values {
  double stack_temp_K;
  double ambient_temp_K;
  double o2_fraction;
  double co2_fraction;
  double co_fraction;
  double no_fraction;
  double draft_breech_Pa;
  double draft_overfire_Pa;
} stilling_values;

typedef struct stilling_settings {
  stilling_values limit_per_min;   /* how fast each may move and still be called steady */
  uint32_t required;               /* channels that must be steady */
  uint32_t criterion;              /* stilling_criterion */
  uint8_t combustion_check;        /* 0: do not ask for a fire and an undiluted probe */
  uint8_t joined;                  /* the stream was joined while it ran */
  uint8_t suction_positive;        /* draft columns show suction as a positive number */
  uint8_t has_interval_s;          /* rows bring no time and are so far apart */
  char separator;                  /* 0: as header or rows show */
  char decimal_sign;               /* 0: as cells show */
  uint16_t reserved;
  double interval_s;
  char fields[512];                /* `time_s,stack_temp_degF,-,o2_pct`; empty: a header says it */
} stilling_settings;

/* A row by a driver that talks to the sensors itself. */
typedef struct stilling_row {
  int64_t time_ns;
  uint64_t line;                   /* for messages; 0: none */
  uint32_t has_values;             /* channels that were heard */
  uint32_t has_steps;              /* channels whose display step is known */
  stilling_values values;
  stilling_values steps;           /* of the display or the converter; above 0 */
} stilling_row;

typedef struct stilling_channel_reading {
  uint8_t is_there;                /* 0: not heard, and no field below means anything */
  uint8_t has_rate;                /* rate_per_min and rate_bound_per_min */
  uint8_t has_remaining;
  uint8_t has_peak;
  uint8_t has_lag_s;
  uint8_t has_step;
  uint16_t reserved;
  double value;                    /* mean over [from, to] */
  double u;                        /* of that mean, k = 2 */
  double degrees_of_freedom;
  double rate_per_min;
  double rate_bound_per_min;       /* upper bound of its size at the stated confidence */
  double remaining;                /* rise still to come if the approach is exponential */
  double peak;                     /* highest since the fire was seen */
  double lag_s;                    /* behind the stack temperature */
  double step;                     /* of the display, as seen */
  double coverage;                 /* usable rows / rows */
  double longest_gap_s;
  double n_effective;
  uint32_t n;
  uint32_t set_aside;
} stilling_channel_reading;

typedef struct stilling_readings {
  stilling_channel_reading stack_temp_K;
  stilling_channel_reading ambient_temp_K;
  stilling_channel_reading o2_fraction;
  stilling_channel_reading co2_fraction;
  stilling_channel_reading co_fraction;
  stilling_channel_reading no_fraction;
  stilling_channel_reading draft_breech_Pa;
  stilling_channel_reading draft_overfire_Pa;
} stilling_readings;

/* Told once it is settled (no `to`) and again when that ended, with the same `declared_ns`. */
typedef struct stilling_plateau {
  int64_t declared_ns;
  int64_t from_ns;
  int64_t to_ns;
  int64_t released_ns;
  int64_t last_seen_ns;
  uint8_t has_to;
  uint8_t has_released;            /* not where the log ended first */
  uint8_t creeping;
  uint8_t hunting;                 /* then period_s and amplitude */
  uint8_t end_reason;              /* stilling_cause_name(); 0, none, while open */
  uint8_t reserved[3];
  uint32_t has_amplitude;          /* channels */
  uint32_t reserved_too;
  double period_s;
  stilling_values amplitude;
  stilling_readings readings;
} stilling_plateau;

typedef struct stilling_phase {
  int64_t time_ns;
  uint64_t line;
  uint8_t from;                    /* stilling_phase_name() */
  uint8_t phase;
  uint8_t reason;                  /* stilling_cause_name() */
  uint8_t has_which;
  uint8_t which;                   /* the channel that decided */
  uint8_t reserved[3];
} stilling_phase;

typedef struct stilling_burn {
  int64_t from_ns;
  int64_t to_ns;
  uint32_t has_to;
  uint32_t has_peak;               /* channels */
  uint32_t has_last;
  uint32_t reserved;
  stilling_values peak;
  stilling_values last;
} stilling_burn;

typedef struct stilling_text {
  uint32_t size;                   /* letters in `letters`, which ends with a zero byte */
  uint32_t left_out;               /* letters there was no room for */
  char letters[STILLING_TEXT_SIZE + 8];
} stilling_text;

typedef struct stilling_note {
  int64_t time_ns;
  uint64_t line;
  uint64_t has_time;
  stilling_text text;
} stilling_note;

typedef struct stilling_break {
  int64_t time_ns;
  uint64_t line;
  uint64_t kind;                   /* stilling_break_name() */
} stilling_break;

typedef struct stilling_rejection {
  uint64_t line;
  uint32_t fault;                  /* stilling_fault_name() */
  uint32_t field;                  /* counts from 1; 0: the whole line */
  stilling_text seen;
} stilling_rejection;

typedef struct stilling_assumption {
  uint64_t line;
  uint32_t what;                   /* stilling_assumption_name() */
  uint32_t field;                  /* counts from 1; 0: no single one */
  stilling_text seen;
} stilling_assumption;

typedef struct stilling_column {
  uint16_t field;                  /* counts from 0 */
  uint8_t channel;
  uint8_t unit;                    /* stilling_unit_name() */
} stilling_column;

typedef struct stilling_layout {
  uint32_t count;
  stilling_column columns[8];
} stilling_layout;

typedef struct stilling_item {
  uint32_t kind;                   /* stilling_kind: which of the members below */
  uint32_t lost;                   /* rejections, assumptions left out before it: no room */
  union {
    stilling_plateau plateau;
    stilling_phase phase;
    stilling_burn burn;
    stilling_note note;
    stilling_break broke;
    stilling_rejection rejection;
    stilling_assumption assumption;
    stilling_layout layout;
  } of;
} stilling_item;

typedef struct stilling_session stilling_session;

/* Memory a session needs, and what its address must be a multiple of. */
STILLING_API size_t stilling_session_size(void);
STILLING_API size_t stilling_session_alignment(void);

STILLING_API void stilling_settings_default(stilling_settings* settings);
/* Which setting makes no sense; null: all do. `*must_be`, if not null, gets what it must be. */
STILLING_API const char* stilling_setting_fault(const stilling_settings* settings,
                                                const char** must_be);

/* `settings` may be null. `*session` is `memory`, or null where this fails. */
STILLING_API stilling_status stilling_session_begin(void* memory, size_t size,
                                                    const stilling_settings* settings,
                                                    stilling_session** session);

/* The log, in any pieces. Where too many items wait it stops behind a line: `*taken` tells how many
   bytes were used, and the status is STILLING_POLL_FIRST. */
STILLING_API stilling_status stilling_push_bytes(stilling_session* session, const char* bytes,
                                                 size_t size, size_t* taken);
STILLING_API stilling_status stilling_push_row(stilling_session* session, const stilling_row* row);
/* The source broke off and goes on later. */
STILLING_API stilling_status stilling_push_break(stilling_session* session);
/* Time passed and nothing was heard. */
STILLING_API stilling_status stilling_advance(stilling_session* session, int64_t time_ns);
/* The log is over; afterwards the session is as good as new, and what it said can be polled. */
STILLING_API stilling_status stilling_finish(stilling_session* session);

/* The next item, in the order they were said; STILLING_NOTHING where none waits. */
STILLING_API stilling_status stilling_poll(stilling_session* session, stilling_item* item);

/* A running session as bytes and back, over a power cut or to another process. All items must have
   been polled; what stilling_save() writes to is aligned as a session is. Bytes are good for the
   version and the layout in memory that wrote them; others are refused, as is damage, and then the
   session is left as it was. Settings come with it. Restore nothing a stranger may have written. */
STILLING_API size_t stilling_saved_size(void);
STILLING_API stilling_status stilling_save(const stilling_session* session, void* bytes,
                                           size_t size);
STILLING_API stilling_status stilling_restore(stilling_session* session, const void* bytes,
                                              size_t size);

/* A sentence for people, with what to do. Names are those of the JSON lines; null: no such code. */
STILLING_API const char* stilling_status_text(stilling_status status);
STILLING_API const char* stilling_channel_name(uint32_t channel);
STILLING_API const char* stilling_phase_name(uint32_t phase);
STILLING_API const char* stilling_cause_name(uint32_t cause);
STILLING_API const char* stilling_break_name(uint32_t kind);
STILLING_API const char* stilling_fault_name(uint32_t fault);
STILLING_API const char* stilling_assumption_name(uint32_t what);
STILLING_API const char* stilling_unit_name(uint32_t unit);
STILLING_API const char* stilling_version(void);
STILLING_API uint32_t stilling_abi(void);

#ifdef __cplusplus
}
#endif

#endif
