/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The uncertainty study: what is not known is drawn, each draw gives an interval, and the
 * recommendation is a low quantile of them. Numbers of a draw depend on seed and draw alone, so
 * the same study comes out with any number of threads. Method and standing: docs/uncertainty.md */
#ifndef TRUNNION_DRAWS_H
#define TRUNNION_DRAWS_H

#include <stdint.h>
#include <trunnion/mechanism.h>
#include <trunnion/study.h>
#include <trunnion/table.h>

#ifdef __cplusplus
extern "C" {
#endif

/* ---- streams ------------------------------------------------------------------------------ */

/* Philox 4x32 with ten rounds: four words out of a counter under a key.
 * Source: Salmon, Moraes, Dror, Shaw 2011, Parallel random numbers: as easy as 1, 2, 3, SC11
 * Standing: published; check words memory. Checked by tests/draws.c */
void trn_philox(const uint32_t counter[4], const uint32_t key[2], uint32_t word[4]);

/* Uniform in (0, 1) and standard normal of a draw and a dimension: no state, any order. */
double trn_stream_uniform(uint64_t seed, uint64_t draw, uint32_t dimension);
/* The standard normal number of that place: the quantile of the uniform one. */
double trn_stream_normal(uint64_t seed, uint64_t draw, uint32_t dimension);

enum {
    TRN_DRAW_SHIFTS = 8,      /* independent parts, whose scatter is the error of a quantile */
    TRN_DRAWS_DEFAULT = 10000,
    TRN_DRAWS_MOST = 1000000,
    TRN_BLOCK = 1024          /* draws that go through a step together */
};

typedef struct trn_draw_plan {
    size_t draws;  /* 0: medians only */
    uint64_t seed;
    unsigned jobs; /* threads; 0: as many as cores */
    bool plain;    /* the stream alone instead of shifted Sobol points */
    void (*progress)(void *context, double done); /* NULL, or told the done part, 0 to 1 */
    void *context;
} trn_draw_plan;

/* Standard normals of a study. Draw k belongs to shift k % TRN_DRAW_SHIFTS. */
typedef struct trn_normals {
    size_t draws, room, dimensions; /* room: draws rounded up to whole blocks, 0 beyond */
    double *z;                      /* [dimension * room + draw] */
} trn_normals;

/* Point k/shifts of Sobol's sequence, its binary digits shifted by those of its part, to a normal;
 * dimensions beyond GSL's 40, and `plain`, from the stream.
 * Status: TRN_E_DOMAIN (no draws or too many), TRN_E_MEMORY */
trn_status trn_normals_make(const trn_draw_plan *plan, size_t dimensions, trn_normals *normals);
/* Frees the numbers; the plan is the caller's. */
void trn_normals_free(trn_normals *normals);

/* Quantile p of n values: element ceil(p n) of the sorted ones; puts them into another order. */
double trn_draw_quantile(double *values, size_t n, double p);

/* Its error from the parts: standard deviation of their quantiles over the root of their number.
 * NaN where a part has no finite one. work[n]. */
double trn_draw_error(const double *values, size_t n, double p, double *work);

/* ---- draws of a point --------------------------------------------------------------------- */

/* What all points share in the same draws: the drawn factors of settings and normals, both of
 * which must outlive it. levels: dusts (mg/m3) that are worth keeping ready. NULL: no memory. */
typedef struct trn_blocks trn_blocks;
/* Room for the evaluation of draws in blocks.
 * Given:    settings, normals   kept by reference, must outlive it; levels[level_count] fractions,
 *           0 < level < 1
 * Returned: to be freed with trn_blocks_free; NULL without memory */
trn_blocks *trn_blocks_new(const trn_interval_settings *settings, const trn_normals *normals,
                           const double *levels, size_t level_count);
/* NULL is allowed. */
void trn_blocks_free(trn_blocks *blocks);

/* Oil point: lives of every draw as trn_oil_lives gives them, into life[cause][room] for the
 * five causes of an oil (others NULL). frozen: a quantity held at its median, or TRN_DRAWS. */
void trn_blocks_oil(const trn_blocks *blocks, const trn_service_point *point,
                    const trn_duty_state *states, size_t n, trn_draw_id frozen,
                    double *const life[TRN_LIMITS]);

/* Grease point: the interval of every draw as trn_greasing_life gives it, into life[room]. */
void trn_blocks_grease(const trn_blocks *blocks, const trn_service_point *point,
                       const trn_duty_state *states, size_t n, trn_draw_id frozen,
                       unsigned at_reference, double *life);

/* ---- study of a case ---------------------------------------------------------------------- */

/* A mechanism of a point (of grease: the interval with that factor alone off the reference). */
typedef struct trn_mechanism_row {
    size_t point;
    trn_cause cause;
    double low_h, median_h, high_h;
    double first_pct; /* share of draws in which it is shortest */
    double sets_pct;  /* the same among the draws at or below the risk quantile */
} trn_mechanism_row;

/* The drawn quantity whose knowledge would lengthen the interval most. */
typedef struct trn_next_row {
    size_t point;
    const char *quantity;
    double at_risk_h, known_h, gain_h;
} trn_next_row;

/* 10, 50 and 90 % of a temperature or life. */
typedef struct trn_band_row {
    const char *quantity, *condition, *object, *unit;
    double low, median, high;
} trn_band_row;

typedef struct trn_draws {
    trn_draw_plan plan;
    trn_interval_settings settings;
    trn_normals normals;
    trn_blocks *blocks;
    trn_normals few; /* the first block of them, for rough answers; no draws: there are no more */
    trn_blocks *few_blocks;
    trn_mechanism_row *mechanisms;
    trn_next_row *next;
    trn_band_row *bands;
    size_t mechanisms_count, next_count, bands_count;
    trn_buffer notes; /* lines to be said: draws that were set to a bound */
    struct trn_drawn_points *drawn; /* of every draw, where it went through the whole evaluation */
    size_t own_count;               /* quantities that uncertainty.csv names by path */
    const char **own;               /* their paths */
    double *own_gain_h;             /* [point * own_count + quantity]: T_q with it known, less T_q */
} trn_draws;

/* Draws the intervals of evaluated results (trn_study_evaluate with TRN_WANT_ALL) and settles
 * the rows of the interval table anew; bands: temperatures and lives too. The answer belongs to
 * the results.
 * Status: TRN_E_INPUT (a path of uncertainty.csv; faults say what), TRN_E_DOMAIN, TRN_E_MEMORY */
trn_status trn_study_draws(trn_results *results, const trn_draw_plan *plan, bool bands,
                           trn_faults *faults);

/* Frees what trn_study_draws made; NULL is allowed. trn_results_free calls it. */
void trn_draws_free(trn_draws *draws);

/* Built-in spreads with those of uncertainty.csv in their place. */
void trn_draw_settings(const trn_machine *machine, trn_interval_settings *settings);

#ifdef __cplusplus
}
#endif
#endif
