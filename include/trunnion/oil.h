/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Gear oils: viscosity, grades, properties, ageing, contamination of a sump, breathing. */
#ifndef TRUNNION_OIL_H
#define TRUNNION_OIL_H

#include <stddef.h>
#include <trunnion/status.h>

#ifdef __cplusplus
extern "C" {
#endif

/* ---- viscosity ---------------------------------------------------------------------------- */

/* Viscosity line of one oil in the axes of ASTM D341: W = a - b log10 T. */
typedef struct trn_oil_line {
    double a, b;
} trn_oil_line;

/* The line through the viscosities at 40 and 100 degC, once an oil.
 *
 *   Z(nu) = nu + 0.7 + exp(-1.47 - 1.84 nu - 0.51 nu^2)      nu in mm2/s
 *   W(nu) = log10 log10 Z(nu) = a - b log10 T
 *
 * Given:    kv40_m2s   kinematic viscosity at 40 degC, m2/s, above kv100
 *           kv100_m2s  at 100 degC, m2/s, at least 0.21e-6
 * Returned: line
 * Status:   TRN_E_DOMAIN
 * Valid for oils from the cloud point to the initial boiling point
 * Source:   ASTM D341-09, equations 1 and 2 [D341]
 * Standing: published
 * Checked by tests/published/lubricant.csv, tests/oil.c */
trn_status trn_oil_line_fit(double kv40_m2s, double kv100_m2s, trn_oil_line *line);

/* Viscosity on the line, for inner loops: no logarithm of the two points is taken again.
 *
 *   Z = 10^(10^(a - b log10 T)),  nu from Z(nu) = Z by Newton steps
 *
 * Given:    line     of trn_oil_line_fit
 *           t_k      temperature, K, above 0
 * Returned: nu_m2s   kinematic viscosity, m2/s
 * Status:   TRN_E_DOMAIN, also where the result leaves 0.21e-6 to 20 m2/s
 * Valid for oils from the cloud point (below it wax thickens them more) to boiling
 * Source:   ASTM D341-09, equations 1 to 3 [D341]
 * Standing: published
 * Checked by tests/published/lubricant.csv, tests/oil.c */
trn_status trn_oil_line_viscosity(trn_oil_line line, double t_k, double *nu_m2s);

/* Both steps in one, the same digits. Inputs, status, source as the two above.
 * Standing: published. Checked by tests/published/lubricant.csv, tests/oil.c */
trn_status trn_oil_viscosity(double kv40_m2s, double kv100_m2s, double t_k, double *nu_m2s);

/* ---- viscosity index ---------------------------------------------------------------------- */

/* Viscosities at 40 degC of the two reference oils that have kv100 at 100 degC.
 *
 *   table, linear between its rows, up to 70 mm2/s; above, Y in mm2/s:
 *   L = 0.8353 Y^2 + 14.67 Y - 216,  H = 0.1684 Y^2 + 11.85 Y - 97
 *
 * Given:    kv100_m2s  m2/s, at least 2e-6
 * Returned: l_m2s, h_m2s  of the oils of index 0 and 100, m2/s
 * Status:   TRN_E_DOMAIN
 * Source:   ASTM D2270-10 (ISO 2909), table 1 and clause 5 [D2270]
 * Standing: published
 * Checked by tests/oil.c */
trn_status trn_oil_index_reference(double kv100_m2s, double *l_m2s, double *h_m2s);

/* Viscosity index.
 *
 *   U >= H: VI = 100 (L - U)/(L - H)
 *   U <  H: VI = (10^N - 1)/0.00715 + 100,  N = log10(H/U)/log10 Y
 *
 * Given:    kv40_m2s   U, m2/s, above kv100
 *           kv100_m2s  Y, m2/s, at least 2e-6
 * Returned: index      unrounded, may be negative
 *           printed    nearest whole number, halves to even
 * Status:   TRN_E_DOMAIN
 * Source:   ASTM D2270-10 (ISO 2909), clauses 5 and 6 [D2270]
 * Standing: published
 * Checked by tests/published/lubricant.csv, tests/oil.c */
trn_status trn_oil_index(double kv40_m2s, double kv100_m2s, double *index, double *printed);

/* Viscosity at 40 degC that gives an index: trn_oil_index solved for U.
 *
 *   VI <= 100: U = L - VI (L - H)/100
 *   VI >  100: U = H/Y^N,  N = log10(0.00715 (VI - 100) + 1)
 *
 * Given:    kv100_m2s  Y, m2/s, at least 2e-6
 *           index      any finite number
 * Returned: kv40_m2s   m2/s
 * Status:   TRN_E_DOMAIN, also where the result is not above kv100
 * Source:   ASTM D2270-10 (ISO 2909), clauses 5 and 6 [D2270]
 * Standing: derived
 * Checked by tests/published/lubricant.csv, tests/oil.c */
trn_status trn_oil_kv40_from_index(double kv100_m2s, double index, double *kv40_m2s);

/* ---- grades ------------------------------------------------------------------------------- */

/* Names by place, NULL at the end; the first is "none". */
extern const char *const trn_oil_gear_grades[];
extern const char *const trn_oil_vg_grades[];

/* Gear grade by viscosity at 100 degC. The lower limit belongs to the grade, the upper not.
 *
 * Given:    kv100_m2s  m2/s, above 0
 *           edition    2019 or 2005
 * Returned: grade      place in trn_oil_gear_grades, 0 below the lowest grade
 * Status:   TRN_E_DOMAIN
 * Valid for the high-temperature side alone: winter grades need a cold measurement
 * Source:   SAE J306, tables of 2005 and 2019 [J306]
 * Standing: published
 * Checked by tests/published/lubricant.csv, tests/oil.c */
trn_status trn_oil_gear_grade(double kv100_m2s, int edition, size_t *grade);

/* Industrial viscosity grade by viscosity at 40 degC. Both limits belong to the grade.
 *
 * Given:    kv40_m2s   m2/s, above 0
 * Returned: grade      place in trn_oil_vg_grades, 0 between the bands
 * Status:   TRN_E_DOMAIN
 * Source:   ISO 3448, table of grades [ISO3448]
 * Standing: published to VG 1500, memory above
 * Checked by tests/published/lubricant.csv, tests/oil.c */
trn_status trn_oil_vg(double kv40_m2s, size_t *grade);

/* Cleanliness code for particles above 14 um(c) of a dust content.
 *
 *   n = 24 c  particles per mL, c in mg/L;  the code whose band holds n, upper limit included
 *
 * Given:    dust_kgm3  dust in oil, kg/m3, 0 or more
 * Returned: code       0 to 28, good to one code either way
 * Status:   TRN_E_DOMAIN, also above 2 500 000 particles per mL
 * Valid for dust of the size spread of graded test dusts
 * Source:   ISO 4406, table of codes [OIL-ISO4406]; ISO 12103-1 grade limits [ISO12103]
 * Standing: codes 10 to 24 published, others memory; 24 per mL and mg/L derived
 * Checked by tests/published/lubricant.csv, tests/oil.c */
trn_status trn_oil_code(double dust_kgm3, int *code);

/* ---- properties --------------------------------------------------------------------------- */

typedef enum trn_oil_base {
    TRN_OIL_MINERAL = 0,
    TRN_OIL_PAO,
    TRN_OIL_ESTER,
    TRN_OIL_PAG,
    TRN_OIL_BASES
} trn_oil_base;

/* Names of the bases by number, NULL at the end. */
extern const char *const trn_oil_bases[];

/* Density.
 *
 *   x = (0.6278/rho15)(T - 15 degC),  rho = rho15 exp[-x (1 + 0.8 x)]
 *
 * Given:    rho15_kgm3  density at 15 degC, kg/m3, above 0
 *           t_k         K, above 0
 * Returned: rho_kgm3    kg/m3
 * Status:   TRN_E_DOMAIN; TRN_R_OIL_DENSITY outside 800 to 1164 kg/m3 or -20 to 150 degC
 * Source:   API MPMS 11.1 / ASTM D1250, lubricating oils [D1250]
 * Standing: memory
 * Checked by tests/published/lubricant.csv, tests/oil.c */
trn_status trn_oil_density(double rho15_kgm3, double t_k, double *rho_kgm3);

/* Specific heat capacity.
 *
 *   cp = (1685 + 3.39 T)/sqrt(rho15/1000)     T in degC
 *
 * Given:    rho15_kgm3  density at 15 degC, kg/m3, above 0
 *           t_k         K, above 0
 * Returned: cp_jkgk     J/kg/K
 * Status:   TRN_E_DOMAIN; TRN_R_OIL_HEAT_CAPACITY outside 0 to 150 degC
 * Valid for petroleum oils, about 4 %
 * Source:   Cragoe, NBS Miscellaneous Publication 97, 1929 [CRAGOE]
 * Standing: memory
 * Checked by tests/published/lubricant.csv, tests/oil.c */
trn_status trn_oil_heat_capacity(double rho15_kgm3, double t_k, double *cp_jkgk);

/* Pressure coefficient of viscosity, a secant value at about 0.2 GPa.
 *
 *   alpha = s nu^t   1/GPa, nu in mm2/s at the temperature meant, s and t by base
 *
 * Given:    nu_m2s        m2/s, above 0
 *           base
 * Returned: alpha_per_pa  1/Pa
 * Status:   TRN_E_DOMAIN; TRN_R_OIL_ALPHA outside 3 to 1000 mm2/s
 * Valid for estimates: about 23 % below low-pressure measurements, which is 12 % of a film
 * Source:   Gold, Schmidt, Dicke, Loos and Assmann 2001 [GOLD]
 * Standing: memory
 * Checked by tests/published/lubricant.csv, tests/oil.c */
trn_status trn_oil_pressure_viscosity(double nu_m2s, trn_oil_base base, double *alpha_per_pa);

/* ---- life of the oil, and with it --------------------------------------------------------- */

/* Life against oxidation at a temperature, from a known life at another.
 *
 *   L = L_ref 10^[4750 (1/T - 1/T_ref)]   T in K
 *
 * Given:    ref_s    life at ref_k, s, above 0 (drain tables already hold a margin)
 *           ref_k    K, above 0
 *           t_k      K, above 0: of the sump
 * Returned: life_s   s
 * Status:   TRN_E_DOMAIN; TRN_R_OIL_AGEING where a temperature is outside 40 to 150 degC
 * Valid for oxidation alone: no water, wear metal or loss of additives by work
 * Source:   Khonsari and Booser 2003 [KB2003]
 * Standing: published
 * Checked by tests/published/lubricant.csv, tests/oil.c */
trn_status trn_oil_ageing_life(double ref_s, double ref_k, double t_k, double *life_s);

/* Rolling-bearing life with dissolved water, relative to oil with 100 ppm.
 *
 *   L_rel = (100 ppm/x)^0.6
 *
 * Given:    x         mass fraction of water, above 0
 * Returned: relative  1
 *           extrapolated  0 from 25 to 400 ppm, 1 elsewhere
 * Status:   TRN_E_DOMAIN; TRN_R_OIL_WATER where extrapolated
 * Valid for comparing two water contents; not for free water
 * Source:   Cantley, ASLE Transactions 20 (1977) 244 [CANTLEY]
 * Standing: published
 * Checked by tests/published/lubricant.csv, tests/oil.c */
trn_status trn_oil_water_life(double x, double *relative, int *extrapolated);

/* ---- balance of a sump -------------------------------------------------------------------- */

typedef struct trn_oil_sump {
    double oil_kg;        /* m, above 0 */
    double source_kgs;    /* s, comes in or is worn off */
    double leak_kgs;      /* q, lost and replaced */
    double fresh;         /* C_new, mass fraction in the replacing oil */
    double removal_per_s; /* k, by settling, magnet, filter */
    double start;         /* C_0, mass fraction at t = 0 */
} trn_oil_sump;

/* Content of a mixed sump after a time.
 *
 *   lam = q/m + k,  y = lam t,  f(y) = (1 - exp(-y))/y
 *   C = C_0 exp(-y) + (s + q C_new)(t/m) f(y),   C_inf = (s + q C_new)/(m lam)
 *
 * Given:    sump       all members 0 or more, oil_kg above 0
 *           t_s        s, 0 or more
 * Returned: content    mass fraction at t
 *           limit      mass fraction it tends to; lam = 0: infinite with a source, else C_0
 * Status:   TRN_E_DOMAIN
 * Valid for constant rates, oil well mixed
 * Source:   mass balance
 * Standing: derived
 * Checked by tests/published/lubricant.csv, tests/oil.c */
trn_status trn_oil_contamination(trn_oil_sump sump, double t_s, double *content, double *limit);

/* Source that takes the content from first to second in a time: the balance solved for s.
 *
 *   s = m (C_2 - C_1 exp(-y))/(t f(y)) - q C_new
 *
 * Given:    sump       source_kgs and start are not used
 *           first, second  mass fractions at 0 and t_s, 0 or more
 *           t_s        s, above 0
 * Returned: source_kgs kg/s; negative where more left than the rates say
 * Status:   TRN_E_DOMAIN
 * Source:   mass balance
 * Standing: derived
 * Checked by tests/oil.c */
trn_status trn_oil_source(trn_oil_sump sump, double first, double second, double t_s,
                          double *source_kgs);

/* Content of a sump that leaks and is not topped up.
 *
 *   C = C_0 + (s/q) ln[m/(m - q t)];  q = 0: C_0 + s t/m
 *
 * Given:    sump       fresh and removal_per_s are not used
 *           t_s        s, 0 or more, oil left
 * Returned: content    mass fraction
 * Status:   TRN_E_DOMAIN, also where no oil is left
 * Source:   mass balance
 * Standing: derived
 * Checked by tests/oil.c */
trn_status trn_oil_leaking(trn_oil_sump sump, double t_s, double *content);

/* Steady cycle of changes that leave a share of the old oil behind.
 *
 *   D = s T/m,  start = share D/(1 - share),  end = D/(1 - share)
 *
 * Given:    oil_kg, source_kgs, interval_s  above 0, 0 or more, 0 or more
 *           share      of old oil kept at each change, 0 to below 1
 * Returned: start, end mass fractions after and before a change
 * Status:   TRN_E_DOMAIN
 * Source:   mass balance
 * Standing: derived
 * Checked by tests/oil.c */
trn_status trn_oil_residual_cycle(double oil_kg, double source_kgs, double interval_s,
                                  double share, double *start, double *end);

typedef struct trn_oil_box {
    double oil_m3, air_m3; /* air: headspace when cold; both above 0 */
    double cold_k, hot_k;  /* hot_k not below cold_k */
    double dust_kgm3;      /* of the outside air */
    double humidity;       /* relative, 0 to 1, of the outside air */
} trn_oil_box;

typedef struct trn_oil_breath {
    double inhaled_m3; /* of outside air */
    double dust_kg, water_kg;
} trn_oil_breath;

/* Air, dust and water that a vented box draws in while it cools down once.
 *
 *   dV = 7e-4 V_oil (T_hot - T_cold),  V = V_air - (V_air - dV) T_cold/T_hot
 *   e_s = 611.21 exp[17.502 T_cold/(240.97 + T_cold)] Pa, T_cold in degC
 *   dust = V c,  water = V RH e_s/(461.5 T_cold)
 *
 * Given:    box
 * Returned: breath   the masses are upper bounds: everything is kept
 * Status:   TRN_E_DOMAIN, also where the swollen oil fills the headspace; TRN_R_OIL_VAPOUR
 *           for outside air beyond -20 to 50 degC
 * Source:   gas law; Buck, Journal of Applied Meteorology 20 (1981) 1527 [BUCK]
 * Standing: derived, vapour pressure memory
 * Checked by tests/published/lubricant.csv, tests/oil.c */
trn_status trn_oil_breathing(trn_oil_box box, trn_oil_breath *breath);

/* ---- generic oils ------------------------------------------------------------------------- */

typedef struct trn_oil_span {
    double low, high; /* both 0: not stated */
} trn_oil_span;

/* A generic oil, no product, in the units of the case tables and with their digits. */
typedef struct trn_oil_data {
    const char *name;
    trn_oil_base base;
    double kv40_mm2s, kv100_mm2s, index, density15_kgm3;
    double ageing_life_h, ageing_temperature_degc; /* anchor of trn_oil_ageing_life, chosen */
    trn_oil_span kv40_span, kv100_span, density15_span;
    const char *note;
} trn_oil_data;

/* Row i of the generic oils, NULL past the end. Standing: ranges memory, anchors chosen.
 * Checked by tests/oil.c */
const trn_oil_data *trn_oil_generic(size_t i);

#ifdef __cplusplus
}
#endif
#endif
