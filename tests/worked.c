/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "worked.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <gsl/gsl_sort.h>
#include <math.h>

/* derived: section "Worked example" of the interval model */
void worked_oil(trn_service_point *point, trn_duty_state states[2])
{
    trn_service_point_clear(point);
    point->name = "centre";
    point->task = TRN_TASK_CHANGE_OIL;
    point->manual_h = 500;
    point->ref_dust_mg_m3 = 3;
    point->ref_shock = 1.25;
    point->ref_temperature_c = 70;
    point->oil_l = 2.5;
    point->headspace_l = 1.5;
    point->oil_kg = 2.225;
    point->residual = 0.1;
    trn_ageing_anchor(point, TRN_AGEING_MINERAL, NAN, NAN);
    for (size_t i = 0; i < 2; i++) {
        trn_duty_state_clear(&states[i]);
        states[i].starts_per_100h = 12;
        states[i].wash_water_ml = 0.2;
        states[i].oil_measured = true;
        states[i].shock = 1.25;
    }
    states[0].condition = "dry";
    states[0].share = 0.6;
    states[0].dust_mg_m3 = 45;
    states[0].oil_c = 90;
    states[0].load_ratio = 55.0 / 75;
    states[0].ambient_c = 28;
    states[0].humidity_pct = 50;
    states[0].washes_per_100h = 0;
    states[1].condition = "green";
    states[1].share = 0.4;
    states[1].dust_mg_m3 = 3;
    states[1].oil_c = 75;
    states[1].load_ratio = 40.0 / 75;
    states[1].ambient_c = 20;
    states[1].humidity_pct = 70;
    states[1].washes_per_100h = 1;
}

void worked_joint(trn_service_point *point, trn_duty_state states[2])
{
    trn_service_point_clear(point);
    point->name = "front cross";
    point->task = TRN_TASK_GREASE_JOINT;
    point->manual_h = 50;
    point->ref_dust_mg_m3 = 3;
    point->ref_shock = 1.25;
    point->ref_temperature_c = 70;
    point->ref_load = 0.1;
    point->ref_angle_deg = 10;
    point->ref_speed_rpm = 540;
    for (size_t i = 0; i < 2; i++) {
        trn_duty_state_clear(&states[i]);
        states[i].speed_rpm = 540;
    }
    states[0].condition = "dry";
    states[0].share = 0.6;
    states[0].dust_mg_m3 = 30;
    states[0].shock = 1.5;
    states[0].ambient_c = 28;
    states[0].load_pc = 0.12;
    states[0].angle_deg = 12;
    states[0].washes_per_100h = 0;
    states[1].condition = "green";
    states[1].share = 0.4;
    states[1].dust_mg_m3 = 3;
    states[1].shock = 1.25;
    states[1].ambient_c = 20;
    states[1].load_pc = 0.08;
    states[1].angle_deg = 8;
    states[1].washes_per_100h = 1;
}

const double *worked_normals(void)
{
    static double z[(size_t)WORKED_DRAWS * TRN_DRAWS];
    static int done;
    if (done)
        return z;
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    gsl_rng_set(rng, 2385);
    for (size_t i = 0; i < (size_t)WORKED_DRAWS * TRN_DRAWS; i++)
        z[i] = gsl_ran_ugaussian(rng);
    gsl_rng_free(rng);
    done = 1;
    return z;
}

void worked_draws(const trn_service_point *point, const trn_duty_state *states, size_t n,
                  const trn_interval_settings *settings, unsigned use, unsigned at_reference,
                  double *life, trn_cause *smallest)
{
    const double *z = worked_normals();
    for (size_t k = 0; k < WORKED_DRAWS; k++)
        life[k] = trn_point_draw(point, states, n, settings, z + k * TRN_DRAWS, use, at_reference,
                                 smallest ? &smallest[k] : NULL);
}

double worked_quantile(double *life, double p)
{
    gsl_sort(life, 1, WORKED_DRAWS);
    return life[(size_t)ceil(p * WORKED_DRAWS) - 1];
}
