/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/study/mechanism*.c only. */
#ifndef TRUNNION_MECHANISM_INSIDE_H
#define TRUNNION_MECHANISM_INSIDE_H

#include <math.h>
#include <trunnion/mechanism.h>

static const double trn_h = 3600;             /* s */
static const double trn_zero_c = 273.15;      /* K */
static const double trn_mg_m3 = 1e-6;         /* kg/m3 */
static const double trn_ppm = 1e-6;           /* mass fraction */
static const double trn_mg_h = 1e-6 / 3600.0; /* kg/s */

/* Sump of an oil point in one draw. NaN: not known. */
typedef struct trn_sump {
    double life_h;            /* Lbar, dry oil */
    double water_mg_h, drying_per_h;
    double start_ppm, budget_ppm;
    double damp_h, wet_h;     /* t1, t2; inf where water is not known */
    double water_h;           /* T3 */
    double ageing_h;          /* T1 */
} trn_sump;

/* z of the medians. */
extern const double trn_medians[TRN_DRAWS];

double trn_dust_in_draw(double mg_m3, const trn_interval_settings *settings, double z);
double trn_oil_in_draw(const trn_duty_state *state, const trn_interval_settings *settings,
                       const double *z);
/* mg per cool-down, NaN where the air is not known, 0 without headspace */
double trn_breath_mg(const trn_service_point *point, const trn_duty_state *state, double oil_c);
/* mg/h that one state brings in, in a draw; NaN where not known */
double trn_water_of_state(const trn_service_point *point, const trn_duty_state *state,
                          double oil_c);
double trn_drying_of_state(const trn_interval_settings *settings, double oil_c);
void trn_sump_of(const trn_service_point *point, const trn_duty_state *states, size_t n,
                 const trn_interval_settings *settings, const double *z, trn_sump *sump);
bool trn_temperatures_known(const trn_duty_state *states, size_t n);
bool trn_dusts_known(const trn_duty_state *states, size_t n);
/* M2 by intake: silicon and dust known */
bool trn_dust_absolute(const trn_service_point *point, const trn_duty_state *states, size_t n);
double trn_additive_of_state(const trn_service_point *point, const trn_duty_state *state,
                             double step_k);
bool trn_loads_known(const trn_duty_state *states, size_t n);
double trn_wear_of_element(const trn_service_point *point, size_t element);

/* Grease: what one state, or the reference (state NULL), is taken as. */
typedef struct trn_grease_state {
    double dust_mg_m3, shock, t_c, load, motion;
} trn_grease_state;

trn_grease_state trn_grease_taken(const trn_service_point *point, const trn_duty_state *state,
                                  const trn_interval_settings *settings, const double *z,
                                  unsigned at_reference);
double trn_point_temperature(const trn_service_point *point, const trn_duty_state *state,
                             const trn_interval_settings *settings);

void trn_oil_nominal(const trn_service_point *point, const trn_duty_state *states, size_t n,
                     const trn_interval_settings *settings, trn_nominal *nominal);
void trn_grease_nominal(const trn_service_point *point, const trn_duty_state *states, size_t n,
                        const trn_interval_settings *settings, trn_nominal *nominal);
void trn_oil_trace(const trn_service_point *point, const trn_duty_state *states, size_t n,
                   const trn_interval_settings *settings, const trn_nominal *nominal,
                   trn_trace *trace);
void trn_grease_trace(const trn_service_point *point, const trn_duty_state *states, size_t n,
                      const trn_interval_settings *settings, const trn_nominal *nominal,
                      trn_trace *trace);

#endif
