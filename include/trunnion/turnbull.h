/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Survival without any line, also of units that were only looked at now and then. */
#ifndef TRUNNION_TURNBULL_H
#define TRUNNION_TURNBULL_H

#include <trunnion/weibull.h>

#ifdef __cplusplus
extern "C" {
#endif

/* A stretch of time in which a share of the units fails. Where in it is not known: between from_h
 * and to_h the survival is anything between the values before and behind it. */
typedef struct trn_turnbull_step {
    double from_h, to_h; /* equal: at that hour; to_h = INFINITY: after the last look */
    double mass;         /* share that fails in it */
    double survive;      /* share that lives on behind it */
} trn_turnbull_step;

/* The self-consistent estimate: masses p on the innermost intervals with
 *
 *   p_j = 1/n sum over units i of [j in A_i] p_j/(sum of p over A_i)
 *
 * at the greatest likelihood, where no mass could be moved with profit:
 * sum_i [j in A_i]/(sum of p over A_i) <= n. A running unit's A is all later than its hours; a
 * look at a and one at b give (a, b]; a known hour gives that hour.
 *
 * Given:    data; step room for 2 n + 1, n = data->n
 * Returned: count   steps with mass, in order of time; step
 * Status:   TRN_E_MEMORY; TRN_E_CONVERGE (not within 1e-6 of the greatest log-likelihood)
 * Valid for looks whose hours have nothing to do with the failures. Known hours and running units
 *           alone give the product limit.
 * Source:   Turnbull, J. R. Statist. Soc. B 38 (1976) 290
 * Standing: memory; checked by the condition of the maximum, which no other masses meet
 * Checked by tests/turnbull.c */
trn_status trn_turnbull(const trn_weibull_data *data, trn_turnbull_step *step, size_t *count);

#ifdef __cplusplus
}
#endif
#endif
