/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From oil to air: convection, radiation, residue, wall, sun, duty that switches. */
#ifndef TRUNNION_HEAT_H
#define TRUNNION_HEAT_H

#include <trunnion/status.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Chosen numbers, each written here once: the catalogue's defaults and the balance take them.
 * Film of oil 200 W/m2/K (ISO/TR 14179-2, memory medium); 8 mm of cast iron at 50 W/m/K; dry
 * chaff and dust 0.06 W/m/K (memory, 0.05 to 0.1). The first two hardly matter, the last does. */
#define TRN_HEAT_OIL_FILM_W_M2K 200
#define TRN_HEAT_WALL_MM 8
#define TRN_HEAT_WALL_W_MK 50
#define TRN_HEAT_RESIDUE_W_MK 0.06

typedef enum trn_heat_law { TRN_HEAT_HOUSING = 0, TRN_HEAT_PLATE } trn_heat_law;

/* Free convection at a vertical surface.
 *
 *   housing: alpha = 18 h^-0.1 (dT/T_air)^0.3
 *   plate:   Nu = (0.825 + 0.387 Ra^(1/6)/[1 + (0.492/Pr)^(9/16)]^(8/27))^2,
 *            Ra = g dT h^3 Pr/(T_f nu^2), air at the mean of wall and air
 *
 * Given:    h_m                 height, > 0
 *           T_wall_k, T_air_k   > 0; the wall may be the colder one
 *           law
 * Returned: alpha_w_m2k
 * Status:   TRN_E_DOMAIN
 * Valid for air near 101 kPa; less by density^0.7 higher up
 * Source:   ISO/TR 14179-2:2001 after Funck (housing); Churchill and Chu, Int. J. Heat Mass
 *           Transfer 18 (1975) 1323 (plate)
 * Standing: memory (medium to high; high)
 * Checked by tests/published/heat.csv, tests/heat.c */
trn_status trn_heat_free_convection(double h_m, double T_wall_k, double T_air_k,
                                    trn_heat_law law, double *alpha_w_m2k);

/* Convection in moving air.
 *
 *   housing: alpha = 0.0086 (Re^2 + Gr/2.5)^0.32/l,  Re = v l/nu,  Gr = g l^3 dT/(T_air nu^2)
 *   plate:   Nu = 0.664 Re^0.5 Pr^(1/3) up to Re 5e5, (0.037 Re^0.8 - 871) Pr^(1/3) above
 *
 * Given:    l_m flow length > 0, v_m_s speed of the air >= 0, T_wall_k, T_air_k > 0, law
 * Returned: alpha_w_m2k
 * Status:   TRN_E_DOMAIN
 * Source:   ISO/TR 14179-2:2001 (housing); textbook average of the flat plate
 * Standing: memory (medium to high; high)
 * Checked by tests/published/heat.csv, tests/heat.c */
trn_status trn_heat_forced_convection(double l_m, double v_m_s, double T_wall_k, double T_air_k,
                                      trn_heat_law law, double *alpha_w_m2k);

/* Radiation to surroundings at the temperature of the air.
 *
 *   alpha = epsilon sigma (T_wall + T_air)(T_wall^2 + T_air^2)
 *
 * Given:    epsilon 0 to 1, T_wall_k, T_air_k > 0
 * Returned: alpha_w_m2k
 * Status:   TRN_E_DOMAIN
 * Source:   Stefan-Boltzmann law; Cengel, Heat Transfer, ch. 9 (check)
 * Standing: published
 * Checked by tests/published/heat.csv, tests/heat.c */
trn_status trn_heat_radiation(double epsilon, double T_wall_k, double T_air_k,
                              double *alpha_w_m2k);

/* Heat transfer under one more layer: 1/k_eff = 1/k + d/lambda.
 *
 * Given:    k_w_m2k > 0, d_m >= 0, lambda_w_mk > 0
 * Returned: k_eff_w_m2k
 * Status:   TRN_E_DOMAIN
 * Standing: derived
 * Checked by tests/published/heat.csv, tests/heat.c */
trn_status trn_heat_layered(double k_w_m2k, double d_m, double lambda_w_mk, double *k_eff_w_m2k);

/* Periodic state of a body that is heated for a while and left for a while.
 *
 *   tau = C/kA,  peak = (P/kA)(1 - e^(-on/tau))/(1 - e^(-(on+off)/tau)),
 *   trough = peak e^(-off/tau),  mean = (P/kA) on/(on + off)
 *
 * Given:    P_w >= 0 while on, kA_w_k > 0, C_j_k > 0, on_s, off_s >= 0, not both 0
 * Returned: peak_k, trough_k, mean_k   rises over the air
 * Status:   TRN_E_DOMAIN
 * Valid for one lumped body whose heat transfer is the same in both phases
 * Standing: derived
 * Checked by tests/published/heat.csv, tests/heat.c */
trn_status trn_heat_cycle(double P_w, double kA_w_k, double C_j_k, double on_s, double off_s,
                          double *peak_k, double *trough_k, double *mean_k);

/* A housing between its oil and the air. */
typedef struct trn_heat_surface {
    double heat_transfer_w_m2k; /* of the clean box as a whole; NaN: computed from what follows */
    double air_speed_m_s;
    double height_m;
    double emissivity;
    double residue_m;           /* layer of crop residue over the whole surface */
    double residue_w_mk;        /* its conductivity */
    double film_w_m2k;          /* oil to wall */
    double wall_m, wall_w_mk;   /* thickness, conductivity */
} trn_heat_surface;

typedef struct trn_heat_path {
    double T_surface_k;     /* of the outside, residue included */
    double alpha_out_w_m2k; /* outside to air */
    double k_w_m2k;         /* oil to air */
} trn_heat_path;

/* Heat transfer from oil to air, per unit of outside surface.
 *
 *   heat_transfer given: 1/k = 1/heat_transfer + d/lambda_res, alpha_out = heat_transfer
 *   else: R_in = 1/alpha_oil + s/lambda_wall + d/lambda_res,
 *         (T - T_s)/R_in = alpha_out(T_s)(T_s - T_air),  k = 1/(R_in + 1/alpha_out)
 *         alpha_out = max(free convection, forced convection) + radiation, law of the housing
 *
 * Given:    surface; T_k of the oil, T_air_k, > 0
 * Returned: path
 * Status:   TRN_E_DOMAIN, TRN_E_CONVERGE
 * Valid for a surface of one temperature; heat that flows into shafts and hitch is left out
 * Source:   ISO/TR 14179-2:2001 (laws)
 * Standing: derived from memory laws; film, wall and layer chosen
 * Checked by tests/heat.c, tests/balance.c */
trn_status trn_heat_wall(const trn_heat_surface *surface, double T_k, double T_air_k,
                         trn_heat_path *path);

/* The same path from the temperature of the surface, where the oil's follows without a root.
 *
 *   T = T_s + R_in alpha_out(T_s)(T_s - T_air)
 *
 * Given:    surface without heat_transfer; T_surface_k, T_air_k > 0
 * Returned: T_k of the oil, path
 * Status:   TRN_E_DOMAIN
 * Source, standing: as trn_heat_wall. Checked by tests/heat.c */
trn_status trn_heat_wall_inside(const trn_heat_surface *surface, double T_surface_k,
                                double T_air_k, double *T_k, trn_heat_path *path);

/* Share of the sun that reaches the oil's balance: absorbed outside, phi = k/alpha_out of it.
 *
 * Given:    absorption 0 to 1, sun_w_m2 >= 0, area_m2 >= 0, k_w_m2k > 0, alpha_out_w_m2k >= k
 * Returned: absorbed_w, sun_w
 * Status:   TRN_E_DOMAIN
 * Standing: derived (sol-air temperature)
 * Checked by tests/balance.c */
trn_status trn_heat_sun(double absorption, double sun_w_m2, double area_m2, double k_w_m2k,
                        double alpha_out_w_m2k, double *absorbed_w, double *sun_w);

/* Sum of a gearbox's losses, and its efficiency.
 *
 *   loss = mesh + churning + bearings + seals,  efficiency = 1 - loss/P
 *
 * Given:    mesh_w, churning_w, bearings_w, seals_w, P_w   >= 0
 * Returned: loss_w; efficiency, NaN where P is 0
 * Status:   TRN_E_DOMAIN
 * Standing: derived
 * Checked by tests/balance.c */
trn_status trn_heat_losses(double mesh_w, double churning_w, double bearings_w, double seals_w,
                           double P_w, double *loss_w, double *efficiency);

/* Heat given off, and what is left over: 0 at the oil temperature of the balance.
 *
 *   given_off = k A (T - T_air),  residual = loss + sun - given_off
 *
 * Given:    loss_w, sun_w >= 0; k_w_m2k >= 0; area_m2 > 0; T_k, T_air_k > 0
 * Returned: given_off_w, residual_w
 * Status:   TRN_E_DOMAIN
 * Standing: derived
 * Checked by tests/balance.c */
trn_status trn_heat_balance(double loss_w, double sun_w, double k_w_m2k, double area_m2,
                            double T_k, double T_air_k, double *given_off_w, double *residual_w);

#ifdef __cplusplus
}
#endif
#endif
