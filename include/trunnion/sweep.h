/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One or two quantities of a case varied, results followed, limits crossed. */
#ifndef TRUNNION_SWEEP_H
#define TRUNNION_SWEEP_H

#include <trunnion/study.h>

#ifdef __cplusplus
extern "C" {
#endif

enum { TRN_BOUNDS_MAX = 4, TRN_VARY_MAX = 2, TRN_SWEEP_POINTS_MAX = 250000 };

/* A limit that a result may cross; the name is a static text. */
typedef struct trn_bound {
    const char *name;
    double value; /* in the unit of the result */
} trn_bound;

/* A result that is followed, whatever it is: trn_address_follow (address.h) makes one. */
typedef struct trn_follow {
    const void *self;
    double (*value)(const void *self, const trn_results *results); /* NaN: not known */
    size_t (*bounds)(const void *self, const trn_results *results,
                     trn_bound out[TRN_BOUNDS_MAX]);
    /* why it may be unknown; NULL: not asked for */
    void (*remarks)(const void *self, const trn_results *results, trn_buffer *out);
} trn_follow;

/* How a case becomes results: trn_study_evaluate, with draws or extras where they are wanted. */
typedef struct trn_evaluation {
    trn_status (*run)(const trn_machine *machine, trn_results *results, void *context);
    void *context;
} trn_evaluation;

/* A quantity that is varied: steps + 1 values from `from` to `to`, in the column's unit. */
typedef struct trn_vary {
    char path[384];
    double from, to;
    size_t steps;
    const char *unit; /* of the column; "" where it has none. Filled by trn_vary_check. */
} trn_vary;

/* Reads `PATH=from:to:steps`.
 * Status: TRN_E_USAGE with `why` filled. */
trn_status trn_vary_read(const char *text, trn_vary *out, trn_buffer *why);

/* Does the path name a number of the case? Fills the unit.
 * Status: TRN_E_INPUT with `why` filled (nearest right names). */
trn_status trn_vary_check(const trn_machine *machine, trn_vary *vary, trn_buffer *why);

/* Value i of 0 ... steps; both ends exact. */
double trn_vary_value(const trn_vary *vary, size_t i);

/* Where a result crosses a limit along the first quantity. */
typedef struct trn_crossing {
    size_t follow;       /* which result */
    const char *bound;   /* which limit */
    double bound_value;  /* there */
    double at;           /* of the first quantity, in its unit */
    size_t second;       /* number of the second one's value, 0 without one */
    bool above;          /* is the result above the limit on the side of larger steps */
    bool jumps;          /* it passes the limit in a step, not through it */
} trn_crossing;

typedef struct trn_sweep {
    trn_vary vary[TRN_VARY_MAX];
    size_t vary_count;
    size_t points;   /* first quantity outside, second inside */
    size_t follows;
    double *value;   /* [point * follows + follow], NaN: not known */
    char **why;      /* [point]: why it could not be evaluated; NULL: it was */
    char **note;     /* [point]: remarks of the results that are not known; NULL: none */
    trn_crossing *crossing;
    size_t crossings;
} trn_sweep;

/* Evaluates the case at every point, and finds the places where a result crosses one of its
 * limits by root finding between the points at which its sign differs: two crossings between
 * neighbouring points are not seen. A point whose values the case refuses is left out, its
 * reason kept.
 *
 * Given:    vary, vary_count  1 or 2, checked
 * Returned: *out, to be freed with trn_sweep_free
 * Status:   TRN_E_MEMORY; TRN_E_USAGE for more than TRN_SWEEP_POINTS_MAX points
 * Checked by tests/sweep.c */
trn_status trn_sweep_run(const trn_machine *machine, const trn_vary *vary, size_t vary_count,
                         const trn_follow *follow, size_t follow_count,
                         trn_evaluation evaluation, trn_sweep **out);
/* NULL is allowed. */
void trn_sweep_free(trn_sweep *sweep);

/* Numbers of the values of the quantities at a point. */
void trn_sweep_place(const trn_sweep *sweep, size_t point, size_t at[TRN_VARY_MAX]);

#ifdef __cplusplus
}
#endif
#endif
