/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The load spectrum of a torque record: rainflow cycles for shafts and yokes, revolutions (or time)
 * at torque level for bearings and teeth, equivalent torques and damage. Rules: docs/spectrum.md. */
#ifndef TRUNNION_SPECTRUM_H
#define TRUNNION_SPECTRUM_H

#include <trunnion/table.h>

#ifdef __cplusplus
extern "C" {
#endif

/* ---- record ------------------------------------------------------------------------------- */

/* A record in rows. A value holds until the next row; a step longer than the gap, or a row
 * without torque, is time of which nothing is known and splits the record. */
typedef struct trn_record {
    size_t n;
    double *torque_nm;  /* NaN: not read */
    double *time_s;     /* NULL: rows at equal, unknown steps */
    double *speed_rad_s; /* NULL: not read; NaN: not read there */
    size_t *line;       /* of the file */
    char *file;
} trn_record;

/* Reads `time [s]` (may be missing), `torque [N.m]`, `speed [rpm]` (may be missing), any unit that
 * converts; other columns begin with `note`.
 * Returned: *record, to be freed
 * Status:   TRN_E_INPUT (faults say what), TRN_E_IO, TRN_E_MEMORY */
trn_status trn_record_read(const char *path, trn_faults *faults, trn_record *record);
/* Frees the samples; the record is then empty. */
void trn_record_free(trn_record *record);

/* ---- spectrum ----------------------------------------------------------------------------- */

typedef struct trn_spectrum_settings {
    double gap_s;    /* a longer step is a gap */
    double step_nm;  /* width of levels and of range bins; NaN: by `bins` */
    size_t bins;     /* number of bins; 0: chosen for the levels, none for the cycles */
    bool repeating;  /* every piece closes to a loop */
    double slope;    /* of the S-N line of shafts and yokes */
} trn_spectrum_settings;

/* Defaults of the choices. */
void trn_spectrum_settings_default(trn_spectrum_settings *settings);

/* Cycles of one range and mean. */
typedef struct trn_spectrum_cycle {
    double range_nm, mean_nm, count;
    double damage_pct; /* of the damage of all, by the slope */
} trn_spectrum_cycle;

/* Cycles with a range from (in) to (out). */
typedef struct trn_spectrum_bin {
    double from_nm, to_nm, count;
    double mean_nm, mean_low_nm, mean_high_nm; /* of the cycles' means: average, least, greatest */
    double damage_pct;
} trn_spectrum_bin;

/* Torque from (in) to (out). NaN: not known. */
typedef struct trn_spectrum_level {
    double from_nm, to_nm;
    double time_s, time_pct;
    double revolutions, revolutions_pct;
    double ball_pct, roller_pct, pitting_pct, bending_pct; /* of the damage of all levels */
} trn_spectrum_level;

/* What a part feels: an equivalent torque (or range) and how much of the damage the peak does. */
typedef struct trn_spectrum_part {
    const char *part;    /* shafts and yokes, ball bearings ... */
    const char *counted; /* rainflow cycles, revolutions, time */
    double exponent;
    double count;        /* cycles, revolutions or seconds that it is a mean over */
    double equivalent_nm;
    double peak_nm;      /* largest range or torque */
    double damage;       /* cycles, revolutions or seconds at the peak that do the same */
    double peak_share_pct; /* of the damage, done by the largest range or torque itself */
} trn_spectrum_part;

enum { TRN_SPECTRUM_PARTS_MAX = 24, TRN_SPECTRUM_NOTES = 8, TRN_SPECTRUM_NOTE = 200 };

typedef enum trn_spectrum_weight {
    TRN_WEIGHT_REVOLUTIONS, /* speed and time, or speed at equal steps */
    TRN_WEIGHT_TIME,        /* no speed: revolutions taken as even in time */
    TRN_WEIGHT_ROWS         /* neither */
} trn_spectrum_weight;

typedef struct trn_spectrum {
    trn_spectrum_settings settings; /* with what was chosen */
    trn_spectrum_weight weight;
    bool timed, turning;        /* the record has time, speed */
    size_t rows, pieces, empty; /* pieces of the record; those without a cycle */
    double known_s, unknown_s;  /* NaN without time */
    double revolutions;         /* NaN without speed or time */
    double least_nm, most_nm;
    trn_spectrum_cycle *cycles; /* by range, then mean */
    size_t cycle_count;
    double cycles_sum, rows_sum;
    trn_spectrum_bin *bins;     /* none unless asked for */
    size_t bin_count;
    trn_spectrum_level *levels; /* those with time or rows, rising */
    size_t level_count;
    trn_spectrum_part parts[TRN_SPECTRUM_PARTS_MAX];
    size_t part_count;
    char notes[TRN_SPECTRUM_NOTES][TRN_SPECTRUM_NOTE]; /* what has to be said */
    size_t note_count;
} trn_spectrum;

/* Given:    record; settings, gap_s > 0, slope > 0, step_nm > 0 or NaN
 * Returned: spectrum, to be freed; faults
 * Status:   TRN_E_INPUT: no torque that turns; too many levels or bins (100 000) for the step.
 *           TRN_E_DOMAIN (settings), TRN_E_MEMORY */
trn_status trn_spectrum_make(const trn_record *record, const trn_spectrum_settings *settings,
                             trn_faults *faults, trn_spectrum *spectrum);
/* Frees its tables; it is then empty. */
void trn_spectrum_free(trn_spectrum *spectrum);

/* As CSV and for reading. src/present */
void trn_spectrum_cycles_csv(const trn_spectrum *spectrum, trn_buffer *out);
/* Revolutions and seconds at each level of torque. */
void trn_spectrum_levels_csv(const trn_spectrum *spectrum, trn_buffer *out);
/* What the parts of the driveline see. */
void trn_spectrum_parts_csv(const trn_spectrum *spectrum, trn_buffer *out);
/* For reading, at most `width` columns a line where words allow it. */
void trn_spectrum_text(const trn_spectrum *spectrum, size_t width, trn_buffer *out);

/* Range counts above, time or revolutions at level below. TRN_E_MEMORY. */
trn_status trn_plot_spectrum(const trn_spectrum *spectrum, trn_buffer *script,
                             trn_buffer *finding);

#ifdef __cplusplus
}
#endif
#endif
