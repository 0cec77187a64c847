/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The case and its scenarios side by side. */
#ifndef TRUNNION_COMPARE_H
#define TRUNNION_COMPARE_H

#include <trunnion/sweep.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Change of a value against the case's.
 * absolute: value - base; 0 where both are without end, NaN where one is and where one is not known
 * percent:  100 absolute/|base|, 0 for no change; NaN where base is 0 or absolute is NaN */
typedef struct trn_difference {
    double absolute, percent;
} trn_difference;
/* Given: base, value in one unit, NaN: not known. Never fails. */
trn_difference trn_difference_of(double base, double value);

typedef struct trn_comparison {
    size_t columns;  /* the case, then the scenarios */
    size_t follows;
    double *value;   /* [follow * columns + column] */
} trn_comparison;

/* Evaluates every machine and reads the followed results.
 *
 * Given:    machines, count  the case first; all of one shape (copies with other cells)
 * Returned: *out, to be freed with trn_comparison_free
 * Status:   TRN_E_MEMORY, or that of the evaluation
 * Checked by tests/compare.c */
trn_status trn_compare_run(trn_machine *const *machines, size_t count, const trn_follow *follow,
                           size_t follow_count, trn_evaluation evaluation, trn_comparison **out);
/* Frees a comparison; NULL is allowed. */
void trn_comparison_free(trn_comparison *comparison);

#ifdef __cplusplus
}
#endif
#endif
