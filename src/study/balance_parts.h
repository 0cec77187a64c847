/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/study: what the files of the balance share. */
#ifndef TRUNNION_BALANCE_PARTS_H
#define TRUNNION_BALANCE_PARTS_H

#include <trunnion/balance.h>

/* One gear as churning sees it. */
typedef struct trn_balance_gear {
    double R_m;   /* pitch radius, bevel: outer */
    double D_m;   /* tip diameter, bevel: outer */
    double m_t_m; /* transverse module */
    double h_m;   /* depth of the pitch circle, 0 to 2 R */
    double dip;   /* depth of the tip circle over D, at most 1 */
    double omega_rad_s;
    double delta_rad; /* cone angle, 0 for a cylindrical gear */
    bool in_oil, under_oil;
} trn_balance_gear;

/* One mesh, worked out. */
typedef struct trn_balance_pair {
    double d1_m, d_v1_m, d_v2_m, b_m; /* as gear.contact takes them */
    double a_m, d_a1_m, d_a2_m;       /* cylindrical: as gear.loss_factor takes them */
    double T1_nm, H_v, Ra_m, X_L;
    trn_gear_touch touch;
    bool loaded; /* turns with power: there is a mesh loss */
    trn_status path_status;
    trn_balance_gear gear[2];
} trn_balance_pair;

trn_status trn_balance_pair_of(const trn_balance_mesh *mesh, trn_oil_base base,
                               trn_balance_pair *pair);

/* Warnings that depend on geometry, level and speed alone. */
unsigned trn_balance_pair_warnings(const trn_balance_mesh *mesh, const trn_balance_pair *pair);

/* Arguments of loss.churning for a member of a mesh. */
trn_churning_gear trn_balance_churning_gear(const trn_balance_box *box,
                                            const trn_balance_mesh *mesh,
                                            const trn_balance_pair *pair, size_t member);

/* Whether a bearing counts with its load part: a rating or an angle that is missing leaves it
 * out, as unknown loads do. */
bool trn_balance_load_known(const trn_balance_bearing *bearing);

/* Heat left over at T: loss + sun - given off, with the churning law that is asked for. */
typedef enum trn_balance_law {
    TRN_BALANCE_CENTRAL = 0,
    TRN_BALANCE_LOW,
    TRN_BALANCE_HIGH,
    TRN_BALANCE_LAWS
} trn_balance_law;

trn_status trn_balance_excess(const trn_balance_ready *ready, trn_balance_law law, double T_k,
                              double *excess_w);

/* The same by every law, and the path of the heat. */
trn_status trn_balance_excesses(const trn_balance_ready *ready, double T_k,
                                double excess_w[TRN_BALANCE_LAWS], trn_heat_path *path);

/* From the temperature of a surface that is computed (no heat_transfer given), which gives that
 * of the oil without a root of its own. */
trn_status trn_balance_excess_inside(const trn_balance_ready *ready, trn_balance_law law,
                                     double T_surface_k, double *T_k, double *excess_w);

/* Prepared boxes of conditions that alternate, each with its weight; NULL: one box alone. */
typedef struct trn_balance_mix {
    const trn_balance_ready *ready;
    const double *weight;
    size_t n;
} trn_balance_mix;

/* The same over all of them, weighted. */
trn_status trn_balance_mix_excess(const trn_balance_mix *mix, trn_balance_law law, double T_k,
                                  double *excess_w);

/* Time constant about T. */
double trn_balance_mix_time(const trn_balance_mix *mix, double T_k);

extern const trn_balance_shared trn_balance_no_share;

/* Share of the sun that reaches the oil. */
double trn_balance_sun(const trn_balance_ready *ready, const trn_heat_path *path);

/* Notes losses, surface and sun at a temperature that was read. */
void trn_balance_note_reading(const trn_balance_box *box, const trn_balance_ready *ready,
                              double T_k, const char *variant, trn_trace *trace);

/* Notes the time constant: heat capacity of the box over the slope of its balance, W/K. */
void trn_balance_note_time(const trn_balance_box *box, double slope, trn_trace *trace);

/* Notes the steps at the temperature of the result, in working order. */
void trn_balance_note(const trn_balance_box *box, const trn_balance_ready *ready,
                      const trn_balance_result *result, trn_trace *trace);

#endif
