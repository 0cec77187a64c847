/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a machine did, from its logs: duty rows and a histogram of torque and speed. All sums are
 * whole numbers, so that the digest of a record equals the merge of its parts to the last bit,
 * wherever it is cut and on however many threads it is read. */
#ifndef TRUNNION_DIGEST_H
#define TRUNNION_DIGEST_H

#include <trunnion/log.h>

#ifdef __cplusplus
extern "C" {
#endif

/* X(member, option or NULL, unit, range, what). A part keeps them: only parts of the same settings
 * add up. Defaults stand in src/study/choices.c. */
#define TRN_DIGEST_SETTINGS(X)                                                                   \
    X(gap_s, "gap", "s", "(0,1e6]")                                                              \
    X(speed_step_rpm, "speed-step", "rpm", "[1,5000]")                                           \
    X(torque_step_nm, "torque-step", "N.m", "[1,50000]")                                         \
    X(temperature_step_k, "temperature-step", "K", "[1,500]")                                    \
    X(lift_step_mm, "lift-step", "mm", "[1,20000]")                                              \
    X(wing_step_deg, "wing-step", "deg", "[0.1,360]")                                            \
    X(speed_limit_rpm, "speed-limit", "rpm", "(0,5000]")                                         \
    X(torque_limit_nm, "torque-limit", "N.m", "(0,50000]")                                       \
    X(still_rpm, "still", "rpm", "(0,100]")                                                      \
    X(rest_s, "rest", "s", "[60,1e7]")                                                           \
    X(trip_nm, "trip-torque", "N.m", "(0,50000]")                                                \
    X(shock_nm, "shock-torque", "N.m", "(0,50000]")

typedef struct trn_digest_settings {
#define TRN_X(member, option, unit, range) double member;
    TRN_DIGEST_SETTINGS(TRN_X)
#undef TRN_X
    bool rainflow;
    /* not kept by a part */
    unsigned jobs;          /* threads, 0: as many as cores */
    size_t skip_bad;        /* faulty cells that are let pass, counted */
    trn_log_names names;    /* headings to look for */
    size_t block;           /* bytes of a block, 0: the usual */
    bool parser_only;       /* every block by the library's parser (for tests) */
} trn_digest_settings;

/* Steps of temperature, lift and wing are 0: no classes. */
void trn_digest_defaults(trn_digest_settings *settings);

/* X(NAME, word, what is counted): what a log holds beside plain work. Each is counted, with the
 * time that it takes where it takes any. */
#define TRN_DIGEST_EVENTS(X)                                                                     \
    X(ROW, "rows", "rows read")                                                                  \
    X(WORK, "work", "rows with the PTO turning: all of their time is in the duty")               \
    X(STANDING, "standing", "rows with the PTO at rest: in the histogram, not in the duty")      \
    X(NEGATIVE, "negative_torque", "rows of work in which the machine drives the PTO")           \
    X(GAP, "gap", "steps longer than --gap: unknown, no work")                                   \
    X(BACK, "step_back", "stamps before the one before: no time")                                \
    X(REPEATED, "repeated", "stamps equal to the one before: the later row counts")              \
    X(BLANK, "blank", "rows without speed or torque: unknown, no work")                          \
    X(SPIKE, "spike", "rows with a speed or torque that no machine has: unknown, no work")       \
    X(SPIKE_OTHER, "spike_other", "readings of other channels that no sensor means: left out")   \
    X(BAD, "bad_cells", "faulty cells let pass by --skip-bad")                                   \
    X(LOST, "lost_rows", "rows left out for a faulty stamp or cells too many")                   \
    X(ENGAGED, "engagements", "starts of the PTO from rest")                                     \
    X(WARM_UP, "warm_ups", "starts after --rest or longer without turning")                      \
    X(TRIP, "clutch_trips", "falls of torque from --trip-torque to a fifth, still turning")      \
    X(SHOCK, "shocks", "rises of torque by --shock-torque, at least to double, in one step")

typedef enum trn_digest_event {
#define TRN_X(name, word, what) TRN_EVENT_##name,
    TRN_DIGEST_EVENTS(TRN_X)
#undef TRN_X
        TRN_EVENT_COUNT
} trn_digest_event;

const char *trn_digest_event_word(trn_digest_event event);
const char *trn_digest_event_text(trn_digest_event event);

typedef struct trn_digest trn_digest;

/* Reads logs as one record, in the order given.
 *
 * A value holds until the next stamp; a step longer than gap_s is unknown; the last stamp counts
 * nothing.
 *
 * Returned: *out, to be freed with trn_digest_free
 * Status:   TRN_E_IO, TRN_E_INPUT, TRN_E_MEMORY, with faults
 * Source:   review reference, section 8
 * Standing: semantics practice; sums derived
 * Checked by tests/digest.c */
trn_status trn_digest_logs(const char *const *paths, size_t count,
                           const trn_digest_settings *settings, trn_faults *faults,
                           trn_digest **out);

/* Adds a part that follows in time.
 * Status: TRN_E_INPUT where settings or kinds of stamps differ (a fault of `name`) */
trn_status trn_digest_merge(trn_digest *digest, const trn_digest *next, const char *name,
                            trn_faults *faults);

/* A part as a file: everything that a merge needs. */
void trn_digest_part_csv(const trn_digest *digest, trn_buffer *out);
/* path: the file, or the folder that holds part.csv */
trn_status trn_digest_part_read(const char *path, trn_faults *faults, trn_digest **out);

void trn_digest_free(trn_digest *digest);

/* ---- results ------------------------------------------------------------------------------- */

const trn_digest_settings *trn_digest_settings_of(const trn_digest *digest);
size_t trn_digest_count(const trn_digest *digest, trn_digest_event event);
double trn_digest_seconds(const trn_digest *digest, trn_digest_event event);
bool trn_digest_logged(const trn_digest *digest, trn_log_channel channel);
/* First and last stamp; false without rows. */
bool trn_digest_span(const trn_digest *digest, int64_t *first_ns, int64_t *last_ns,
                     trn_log_clock *clock);
/* Faulty cells let pass, the first twenty of them. */
const trn_faults *trn_digest_skipped(const trn_digest *digest);
/* Headings that no channel took. */
const char *trn_digest_unused(const trn_digest *digest);

/* A cell of the histogram: lower edge in, upper edge out. Unknown is NaN. */
typedef struct trn_digest_cell {
    const char *place;            /* duty only: position, or its classes of lift and wing; "" */
    double temperature_from_c, temperature_to_c; /* duty only; NaN: no class */
    double speed_from_rpm, speed_to_rpm, torque_from_nm, torque_to_nm;
    double seconds, revolutions;
    double speed_rpm, power_kw;   /* means over time */
    double torque_nm;             /* mean over revolutions */
    double equivalent_p3_nm, equivalent_p10_3_nm; /* (sum rev |T|^p/sum rev)^(1/p) */
    double shock;                 /* equivalent (p 10/3) over mean torque, at least 1 */
    double ambient_c, oil_c, dust_mg_m3, lift_mm, wing_deg; /* means over the time known */
} trn_digest_cell;

/* All time that is known, over all positions, by speed and torque.
 * Returned: *cells on the heap (free it), sorted. Status: TRN_E_MEMORY */
trn_status trn_digest_histogram(const trn_digest *digest, trn_digest_cell **cells, size_t *count);

/* The time in which the PTO turns, by position, temperature class, speed and torque. The places
 * belong to the digest. */
trn_status trn_digest_duty(const trn_digest *digest, trn_digest_cell **cells, size_t *count);

/* Warm-up cycles in 100 h of turning; NaN for less than an hour. */
double trn_digest_starts(const trn_digest *digest);

/* Cycles of the torque by range and mean; without --rainflow none. */
typedef struct trn_digest_cycles {
    double range_from_nm, range_to_nm, mean_from_nm, mean_to_nm, count;
} trn_digest_cycles;
trn_status trn_digest_rainflow(const trn_digest *digest, trn_digest_cycles **rows, size_t *count);

/* ---- as files (src/present) ---------------------------------------------------------------- */

trn_status trn_digest_duty_csv(const trn_digest *digest, trn_buffer *out);
trn_status trn_digest_histogram_csv(const trn_digest *digest, trn_buffer *out);
trn_status trn_digest_rainflow_csv(const trn_digest *digest, trn_buffer *out);
void trn_digest_quality_csv(const trn_digest *digest, trn_buffer *out);
/* Table of the duty for reading. */
trn_status trn_digest_text(const trn_digest *digest, size_t width, trn_buffer *out);
/* What the record is and what was counted in it, a line each. */
void trn_digest_notes(const trn_digest *digest, trn_buffer *out);
/* Time by torque and speed as a picture. TRN_E_UNKNOWN: no work in it. */
trn_status trn_plot_digest(const trn_digest *digest, trn_buffer *script, trn_buffer *finding);

#ifdef __cplusplus
}
#endif
#endif
