/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table of `samples`: fills of oil told apart, wear and dirt rates of each, what is left to a
 * limit; and what samples of a case say to the interval model. Rules: docs/samples.md. */
#ifndef TRUNNION_SAMPLES_TABLE_H
#define TRUNNION_SAMPLES_TABLE_H

#include <trunnion/machine.h>
#include <trunnion/mechanism.h>
#include <trunnion/text.h>

#ifdef __cplusplus
extern "C" {
#endif

enum { TRN_SAMPLES_TEXT = 192 };

/* How the rate of a row came about. */
typedef enum trn_samples_method {
    TRN_SAMPLES_NONE = 0,    /* one reading, hours on the oil unknown */
    TRN_SAMPLES_FROM_NEW,    /* one reading, oil taken as clean at the change: upper bound */
    TRN_SAMPLES_FROM_CHANGE, /* one reading, from what the old oil left behind */
    TRN_SAMPLES_DIFFERENCE,  /* two or three readings, last against first */
    TRN_SAMPLES_THEIL_SEN,   /* four or more, median of all slopes */
    TRN_SAMPLES_LEVEL        /* water: a level, no rate */
} trn_samples_method;

/* One row: a gearbox, an element and a fill. NaN: none (an empty cell). */
typedef struct trn_samples_row {
    const char *gearbox; /* the text of the sample */
    size_t element;      /* TRN_FE ... TRN_WATER */
    size_t fill;         /* from 1 */
    size_t samples;      /* readings of the element in the fill */
    double rate, rate_low, rate_high; /* ppm/100 h, limits of 95 % */
    trn_samples_method method;
    double last_ppm, limit_ppm, hours_to_limit;
    double hours;        /* that the rate spans */
    double line_h, line_ppm; /* machine hours and content of a point that the line of this rate
                                goes through, about which its limits turn; NaN: no rate */
    const char *element_word, *method_word;
    char remark[TRN_SAMPLES_TEXT]; /* parted by `; ` */
} trn_samples_row;

/* A sample in its place: sorted by gearbox (in the order of the input) and machine hours. */
typedef struct trn_samples_place {
    const trn_sample *sample;
    size_t gearbox, fill;
    bool reset;     /* of a fill that began with a change that nobody logged */
    double birth_h; /* machine hours at which the fill began; NaN: unknown */
} trn_samples_place;

/* A reading that a row rests on. */
typedef struct trn_samples_point {
    size_t row;
    double machine_h, ppm;
    double corrected_ppm; /* as it would be had no oil been topped up */
} trn_samples_point;

typedef struct trn_samples_table {
    trn_samples_row *rows;
    size_t count;
    trn_samples_point *points; /* row by row, in order of the hours */
    size_t point_count;
    trn_samples_place *places;
    size_t place_count;
} trn_samples_table;

typedef struct trn_samples_settings {
    double oil_volume;   /* of every gearbox, m3; NaN: that of the case, else unknown */
    double residual;     /* old oil left at a change, fraction; NaN: that of the case, else 0.1 */
    const trn_gearbox *gearboxes; /* of the case; NULL: none */
    size_t gearbox_count;
    double limit_ppm[TRN_ELEMENTS]; /* NaN: no limit */
} trn_samples_settings;

/* Nothing known of the gearboxes; limits of a public laboratory table for bevel drives. */
void trn_samples_settings_default(trn_samples_settings *settings);

/* Limits from a table `element,limit [ppm]` in place of the default ones; an empty limit: none.
 * Status: TRN_E_INPUT, TRN_E_IO, TRN_E_MEMORY; settings are untouched then. */
trn_status trn_samples_limits_read(const char *path, trn_faults *faults,
                                   trn_samples_settings *settings);

/* `fe`, `cu` ...; `theil_sen` ... */
const char *trn_samples_element_word(size_t element);
/* Word of the column `method`; a static text. */
const char *trn_samples_method_word(trn_samples_method method);

/* The whole table.
 * Given:    rows[n]     samples in any order; they must outlive the table
 *           file        as faults name it
 *           settings
 * Returned: table       to be freed; faults
 * Status:   TRN_E_INPUT: no samples, equal machine hours, oil older than the machine's hours
 *           since the sample before allow. TRN_E_MEMORY
 * Valid for samples taken the same way, rates in one fill constant.
 * Source:   balance of metal in the oil; Sen 1968; laboratory limits. Standing: derived,
 *           published; the 5 h and 0.6 rules and the error of a reading are chosen.
 * Checked by tests/published/samples, tests/samples_table.c */
trn_status trn_samples_table_make(const trn_sample *rows, size_t n, const char *file,
                                  const trn_samples_settings *settings, trn_faults *faults,
                                  trn_samples_table *table);
/* Frees rows and notes; the table is then empty. */
void trn_samples_table_free(trn_samples_table *table);

/* As CSV (`gearbox,element,fill ...`) and as a table for reading. src/present */
void trn_samples_csv(const trn_samples_table *table, trn_buffer *out);
/* `gearbox,element,fill,machine_hours [h],oil_hours [h],reading [ppm],corrected [ppm],reset`: what
 * each row rests on, for the eye and for a plot. */
void trn_samples_points_csv(const trn_samples_table *table, trn_buffer *out);

/* Gearboxes of the table, in its order; the nth, NULL behind the last. */
const char *trn_samples_gearbox(const trn_samples_table *table, size_t n);

/* Small multiples of one gearbox, a panel an element: readings over the hours on the oil, fill by
 * fill, with the lines of the rates, their limits and the limits of the content.
 * Status: TRN_E_UNKNOWN (no such gearbox), TRN_E_MEMORY */
trn_status trn_plot_samples(const trn_samples_table *table, const char *gearbox,
                            trn_buffer *script, trn_buffer *finding);

/* For reading, at most `width` columns a line where words allow it. */
void trn_samples_text(const trn_samples_table *table, size_t width, trn_buffer *out);

/* What the samples of one gearbox say to the interval model. NaN: not known. */
typedef struct trn_samples_calibration {
    size_t samples; /* 0: there are none, all else is unknown */
    size_t fill;    /* the latest */
    /* wear: metals of the latest fill that have a rate, one below 0 as 0 */
    trn_wear_element elements[TRN_ELEMENTS_MAX];
    size_t element_count;
    /* silicon of the latest fill */
    bool silicon_is_dirt;      /* rises with aluminium, ratio of 2 to 7, 50 h on the oil or more */
    double silicon_rise_ppm;   /* in `silicon_hours`; NaN unless accepted */
    double silicon_hours;
    double oil_hours;          /* at the last sample; where unknown, between first and last */
    double mean_dust_mg_m3;    /* over the duty */
    double dust_mg_h, intake_l_h; /* source and outside-air equivalent; NaN unless accepted */
    /* water, all fills: neighbouring readings of one fill */
    double *water_first_ppm, *water_second_ppm, *water_apart_h;
    size_t water_pairs;
    /* top-up over the intervals that end in the latest fill and have it filled in */
    double top_up_l_h;
} trn_samples_calibration;

/* Given:    machine    a linked case, gearbox in it
 * Returned: out        to be freed
 * Status:   TRN_E_INPUT: the samples are refused (trn_samples_table_make says why);
 *           TRN_E_DOMAIN: no such gearbox; TRN_E_MEMORY; out is untouched then
 * Valid for, Source, Standing: as above; silicon see trn_interval_intake */
trn_status trn_samples_calibrate(const trn_machine *machine, size_t gearbox,
                                 trn_samples_calibration *out);
/* Frees its rows; it is then empty. */
void trn_samples_calibration_free(trn_samples_calibration *calibration);

#ifdef __cplusplus
}
#endif
#endif
