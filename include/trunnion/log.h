/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Time-stamped machine logs in, row by row, however long they are: plain or gzip, every dialect of
 * the case tables, settled once per file. */
#ifndef TRUNNION_LOG_H
#define TRUNNION_LOG_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <trunnion/status.h>
#include <trunnion/table.h>

#ifdef __cplusplus
extern "C" {
#endif

/* X(name, column, unit, low, high): range of a reading that a sensor can mean; one outside it is
 * a spike. Speed and torque have their own limits (trn_log_settings). */
#define TRN_LOG_CHANNELS(X)                                                                      \
    X(SPEED, "pto_speed", "rpm", 0, 0)                                                           \
    X(TORQUE, "torque", "N.m", 0, 0)                                                             \
    X(POWER, "power", "kW", 0, 0)                                                                \
    X(AMBIENT, "ambient", "degC", -60, 70)                                                       \
    X(OIL, "oil_temperature", "degC", -60, 250)                                                  \
    X(DUST, "dust", "mg/m3", 0, 1e5)                                                             \
    X(LIFT, "lift", "mm", -20000, 20000)                                                         \
    X(WING, "wing", "deg", -180, 180)

typedef enum trn_log_channel {
#define TRN_X(name, column, unit, low, high) TRN_LOG_##name,
    TRN_LOG_CHANNELS(TRN_X)
#undef TRN_X
        TRN_LOG_CHANNEL_COUNT
} trn_log_channel;

/* Name and unit of a channel, as its column is headed. */
const char *trn_log_channel_name(trn_log_channel channel);
const char *trn_log_channel_unit(trn_log_channel channel);
void trn_log_channel_range(trn_log_channel channel, double *low, double *high);

/* How stamps are written. Those of one record must be alike, or the steps between them would
 * hang on a time zone that nobody has stated. */
typedef enum trn_log_clock {
    TRN_CLOCK_NONE = 0, /* no stamp yet */
    TRN_CLOCK_SECONDS,  /* a number with a unit of time, or seconds */
    TRN_CLOCK_LOCAL,    /* ISO 8601 without offset */
    TRN_CLOCK_UTC       /* ISO 8601 with offset or Z */
} trn_log_clock;

enum { TRN_LOG_POSITION_MAX = 96 };

/* A row. A channel that is blank, not logged or faulty is NaN. */
typedef struct trn_log_row {
    int64_t ns; /* stamp: from 1970, or from the log's own zero */
    double value[TRN_LOG_CHANNEL_COUNT]; /* in the channels' units */
    const char *position; /* "" where none is named; lives for the call */
    size_t position_length;
    size_t line;
    unsigned bad; /* faulty cells of the row, taken as blank */
} trn_log_row;

/* Reads `2026-05-01T06:30:00.5+02:00` and the forms of ISO 8601 beside it: a blank for the T,
 * basic form, comma or point before decimals, no seconds, Z, +hh, +hhmm, no offset.
 * Returned: *ns from 1970 (of the local clock where there is no offset), *clock
 * Status:   TRN_E_NUMBER, outputs untouched */
trn_status trn_log_stamp(const char *text, size_t size, int64_t *ns, trn_log_clock *clock);

typedef struct trn_log trn_log;

/* Receives the rows of a block. A row whose stamp is faulty comes as counted in `lost` of the
 * block, not here. */
typedef void (*trn_log_sink)(void *context, const trn_log_row *sample);

/* A piece of a log: whole rows. */
typedef struct trn_log_block trn_log_block;

/* Opens a log and settles its dialect and columns from its first rows. Path `-`: standard input.
 * A file that begins like gzip is read as such, whatever its name.
 * Given:    names   NULL, or for each channel and time (the last) the heading to look for, NULL
 *                   for the usual name
 *           block   bytes of a block, 0 for the usual 256 KiB
 * Returned: *out, to be freed with trn_log_close
 * Status:   TRN_E_IO, TRN_E_INPUT, TRN_E_MEMORY, with a fault */
typedef struct trn_log_names {
    const char *heading[TRN_LOG_CHANNEL_COUNT + 2]; /* channels, then time, then position */
} trn_log_names;
enum { TRN_LOG_TIME = TRN_LOG_CHANNEL_COUNT, TRN_LOG_POSITION };
trn_status trn_log_open(const char *path, const trn_log_names *names, size_t block,
                        trn_faults *faults, trn_log **out);
void trn_log_close(trn_log *log);

bool trn_log_has(const trn_log *log, trn_log_channel channel);
bool trn_log_has_position(const trn_log *log);
trn_log_clock trn_log_clock_of(const trn_log *log);
/* Headings that no channel takes, parted by commas; "" for none. */
const char *trn_log_unused(const trn_log *log);

trn_log_block *trn_log_block_new(void);
void trn_log_block_free(trn_log_block *block);

/* The next rows as text; one caller at a time.
 * Returned: *more false at the end
 * Status:   TRN_E_IO, TRN_E_INPUT (bytes that are no text), TRN_E_MEMORY */
trn_status trn_log_next(trn_log *log, trn_log_block *block, trn_faults *faults, bool *more);

/* Rows of a block in order; blocks may be read at the same time by several threads. Faulty cells
 * are added to faults and taken as blank; *lost counts rows without a good stamp and rows with
 * cells beyond the header (left out).
 * Given:    plain   false: every block by the library's parser; true: a block that needs none of
 *                   its rules is split directly, with the same rows and faults
 * Status:   TRN_E_INPUT where the quotes of the block are out of order, TRN_E_MEMORY */
trn_status trn_log_rows(const trn_log *log, const trn_log_block *block, bool plain,
                        trn_faults *faults, size_t *lost, trn_log_sink sink, void *context);

/* Could the block be split directly? (for tests) */
bool trn_log_block_plain(const trn_log_block *block);

#ifdef __cplusplus
}
#endif
#endif
