/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Wear rates from oil samples. Concentrations in any one unit (ppm, mass fraction); rates are
 * that unit per hour. Volumes likewise in any one unit. */
#ifndef TRUNNION_SAMPLES_RATE_H
#define TRUNNION_SAMPLES_RATE_H

#include <stdbool.h>
#include <trunnion/status.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Rate between two samples of one fill of oil.
 *
 *   rate = (C2 - C1)/(t2 - t1);  sd = sqrt(2) s_m/(t2 - t1)
 *
 * Given:    c1, c2     readings, >= 0
 *           t1_h, t2_h hours, 0 <= t1 < t2
 *           s_m        standard deviation of one reading, >= 0 (reproducibility/2.77)
 * Returned: rate, sd   per hour
 * Status:   TRN_E_DOMAIN
 * Valid for samples of one fill, nothing topped up.
 * Source:   balance of metal in the oil
 * Standing: derived
 * Checked by tests/published/review.csv, tests/trend.c */
trn_status trn_samples_rate(double c1, double c2, double t1_h, double t2_h, double s_m,
                            double *rate, double *sd);

/* Rate since an oil change that left some of the old oil behind.
 *
 *   C_start = rho C_last + (1 - rho) C_new;  rate = (C - C_start)/t;  naive = C/t
 *
 * Given:    c        reading now, >= 0
 *           t_h      hours since the change, > 0
 *           c_last   reading before it, >= 0
 *           rho      share left behind, fraction, 0 <= rho < 1
 *           c_new    reading of the new oil, >= 0
 * Returned: c_start; rate, naive per hour; a negative rate is an answer
 * Status:   TRN_E_DOMAIN
 * Valid for old oil that mixes in fully.
 * Source:   trade-journal article on residual oil in sampling (80 ppm, 15 %, 12 ppm)
 * Standing: published
 * Checked by tests/published/review.csv, tests/trend.c */
trn_status trn_samples_residual(double c, double t_h, double c_last, double rho, double c_new,
                                double *c_start, double *rate, double *naive);

/* Rate where leaked oil is replaced steadily and metal leaves with it, V dC/dt = a V - Q C.
 *
 *   a = (Q/V)(C - C_0 e^(-Qt/V))/(1 - e^(-Qt/V));  naive = (C - C_0)/t
 *   C_limit = a V/Q;  tau = V/Q
 *
 * Given:    c, c_0       readings now and at the start, >= 0
 *           t_h          hours between them, > 0
 *           volume       oil volume, > 0
 *           leak         volume leaked and replaced per hour, >= 0
 * Returned: rate, naive  per hour; c_limit; tau_h h (both inf without a leak)
 * Status:   TRN_E_DOMAIN
 * Valid for leaked oil; oil that evaporates leaves its metal behind.
 * Source:   balance of metal in the oil
 * Standing: derived
 * Checked by tests/published/review.csv, tests/trend.c */
trn_status trn_samples_top_up(double c, double t_h, double volume, double leak, double c_0,
                              double *rate, double *naive, double *c_limit, double *tau_h);

/* Ratio of silicon to aluminium, and whether it lies where mineral dust lies.
 *
 *   ratio = si/al;  dust if low <= ratio <= high
 *
 * Given:    si >= 0, al > 0   readings or rates; 0 < low <= high
 * Returned: ratio, dust
 * Status:   TRN_E_DOMAIN
 * Valid for a reading that is consistent with dust; it proves none.
 * Source:   trade texts on oil analysis, recalled compositions of soils and test dusts
 * Standing: practice
 * Checked by tests/published/review.csv, tests/trend.c */
trn_status trn_samples_dust(double si, double al, double low, double high, double *ratio,
                            bool *dust);

#ifdef __cplusplus
}
#endif
#endif
