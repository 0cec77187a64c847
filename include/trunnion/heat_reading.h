/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a temperature read at a gearbox says of its heat balance, and the balance of conditions
 * that alternate. */
#ifndef TRUNNION_HEAT_READING_H
#define TRUNNION_HEAT_READING_H

#include <trunnion/status.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Oil at the stop from a later reading.
 *
 *   T = T_air + (T_read + rise - T_air) e^(stopped/tau)
 *
 * Given:    T_read_k, T_air_k > 0; rise_k >= 0, oil over the place of the reading (skin: 5 K);
 *           stopped_s >= 0; tau_s > 0, time constant of the box, asked for where stopped_s > 0
 * Returned: T_k
 * Status:   TRN_E_DOMAIN, also where the reading is not above the air; TRN_R_HEAT_LONG_STOP where
 *           it was stopped for more than a time constant
 * Standing: derived; the rise practice
 * Checked by tests/published/heat.csv, tests/readings.c */
trn_status trn_heat_oil_at_stop(double T_read_k, double rise_k, double T_air_k, double stopped_s,
                                double tau_s, double *T_k);

/* Factor on the heat transfer that makes the balance meet a reading.
 *
 *   c = (loss + sun)/(k A (T - T_air))
 *
 * Given:    loss_w, sun_w >= 0, not both 0, at the temperature read; k_w_m2k > 0 at it; area_m2
 *           > 0; T_k > T_air_k > 0; low, high between which the inputs agree, 0 < low < high
 * Returned: c
 * Status:   TRN_E_DOMAIN; TRN_R_HEAT_DISAGREE outside low to high
 * Standing: derived; the bounds chosen
 * Checked by tests/published/heat.csv, tests/readings.c */
trn_status trn_heat_cooling_factor(double loss_w, double sun_w, double k_w_m2k, double area_m2,
                                   double T_k, double T_air_k, double low, double high, double *c);

/* Heat and heat transfer of conditions that alternate, each weighted by its share. Start with
 * {0}. */
typedef struct trn_heat_shared {
    double heat_w;        /* sum of share (loss + sun) */
    double transfer_w_k;  /* sum of share k A */
    double T_air_k;       /* mean of the air, weighted by the transfer; 0 before the first */
} trn_heat_shared;

/* Given:    share > 0; loss_w, sun_w >= 0; k_w_m2k, area_m2, T_air_k > 0
 * Status:   TRN_E_DOMAIN
 * Standing: derived */
trn_status trn_heat_share_add(double share, double loss_w, double sun_w, double k_w_m2k,
                              double area_m2, double T_air_k, trn_heat_shared *sum);

/* The one temperature at which they give off together what they take in.
 *
 *   sum of share (loss + sun - k A (T - T_air)) = 0:  T = mean T_air + heat/transfer
 *
 * Status:   TRN_E_DOMAIN
 * Standing: derived
 * Checked by tests/published/heat.csv, tests/readings.c */
trn_status trn_heat_shared_temperature(const trn_heat_shared *sum, double *T_k);

#ifdef __cplusplus
}
#endif
#endif
