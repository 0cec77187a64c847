/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Load histories to cycles, and load spectra to equivalent loads and damage sums. */
#ifndef TRUNNION_RAINFLOW_H
#define TRUNNION_RAINFLOW_H

#include <stdbool.h>
#include <stddef.h>
#include <trunnion/status.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Receives one counted cycle: its two loads (|from - to| is its range) and 1 or 0.5. */
typedef void (*trn_rainflow_sink)(void *context, double from, double to, double count);

/* Rainflow cycles of a history, by the three-point rule, in order of extraction. Repeating: the
 * loop is closed at its highest point and every cycle counts 1.
 * Given:    load[n], finite, any unit; repeating; work n + 1 doubles; sink with its context
 * Status:   TRN_E_DOMAIN (fewer than two turning points), TRN_E_MISSING (n = 0)
 * Valid for shafts, yokes, housings, start-ups. A tooth or a rolling element sees one pulse a
 *           mesh: count revolutions at torque level there.
 * Source:   ASTM E1049, rainflow counting
 * Standing: example published, rule memory
 * Checked by tests/published/rainflow, tests/rainflow.c
 * Returned: each cycle through sink: range and mean in the unit of load, count 0.5 or 1 */
trn_status trn_rainflow_count(const double *load, size_t n, bool repeating, double *work,
                              trn_rainflow_sink sink, void *context);

/* Sums over the rainflow cycles of a history.
 *
 *   equivalent = (sum n r^m/sum n)^(1/m)
 *
 * Given:    load, n, repeating, work   as above
 *           range       the range to be counted, >= 0, or NaN for none
 *           m           exponent, > 0
 * Returned: cycles      sum of all counts
 *           count       of cycles whose range equals `range` within 1e-9 of it (NaN for none)
 *           equivalent  range, in the unit of the load
 * Status:   as above
 * Source, Standing, Checked by: as above */
trn_status trn_rainflow_summary(const double *load, size_t n, bool repeating, double range,
                                double m, double *work, double *cycles, double *count,
                                double *equivalent);

/* Constant torque that does the damage of a spectrum.
 *
 *   T_eq = (sum q_i T_i^p/sum q_i)^(1/p);  peak_share = part of sum q T^p by the highest T
 *
 * Given:    torque[n] >= 0, share[n] >= 0 with a sum above 0, n >= 1; p > 0
 * Returned: equivalent   in the unit of the torque
 *           peak_share   fraction (NaN where no torque does any damage)
 * Status:   TRN_E_DOMAIN, TRN_E_MISSING (n = 0)
 * Valid for the linear damage rule and one exponent over the whole range.
 * Source:   ISO 281 (p of bearings), ISO 6336-6 (p of gears)
 * Standing: form derived
 * Checked by tests/published/review.csv, tests/rainflow.c */
trn_status trn_rainflow_equivalent(const double *torque, const double *share, size_t n,
                                   double p, double *equivalent, double *peak_share);

/* Damage sum of the linear rule.
 *
 *   D = sum n_i/N_i
 *
 * Given:    cycles[n] >= 0 (need not be whole), endurable[n] > 0, n >= 1
 * Returned: damage
 * Status:   TRN_E_DOMAIN, TRN_E_MISSING (n = 0)
 * Valid for a rule whose sum at failure scatters from 0.3 to 3.
 * Source:   linear damage rule (Palmgren, Miner)
 * Standing: memory
 * Checked by tests/published/review.csv, tests/rainflow.c */
trn_status trn_rainflow_miner(const double *cycles, const double *endurable, size_t n,
                              double *damage);

#ifdef __cplusplus
}
#endif
#endif
