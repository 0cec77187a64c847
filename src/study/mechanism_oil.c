/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Mechanisms of an oil: ageing M1, dust M2, water M3, additives M4, wear debris M6. */
#include <trunnion/interval.h>
#include <trunnion/oil.h>

#include "mechanism_inside.h"

const double trn_medians[TRN_DRAWS] = {0};

/* ---- what a draw makes of an input --------------------------------------------------------- */

double trn_dust_in_draw(double mg_m3, const trn_interval_settings *settings, double z)
{
    if (z == 0)
        return mg_m3;
    if (!settings->dust_from_class)
        return fmax(0, trn_spread_draw(mg_m3, settings->spread[TRN_DRAW_DUST], z));
    /* sigma(C) = sqrt(stays) ln GSD(C): the rest of single shifts averages out */
    return mg_m3 * exp(sqrt(settings->dust_stays) * log(trn_dust_gsd(mg_m3)) * z);
}

trn_spread trn_oil_spread(const trn_duty_state *state, const trn_interval_settings *settings)
{
    if (state->oil_measured || state->oil_read)
        return settings->oil_measured;
    return state->oil_calibrated ? settings->oil_calibrated
                                 : settings->spread[TRN_DRAW_OIL_TEMPERATURE];
}

double trn_oil_in_draw(const trn_duty_state *state, const trn_interval_settings *settings,
                       const double *z)
{
    double t = trn_spread_draw(state->oil_c, trn_oil_spread(state, settings),
                               z[TRN_DRAW_OIL_TEMPERATURE]);
    return state->ambient_c > t ? state->ambient_c : t;
}

/* ---- what is known ------------------------------------------------------------------------ */

bool trn_temperatures_known(const trn_duty_state *states, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (states[i].share > 0 && !isfinite(states[i].oil_c))
            return false;
    return true;
}

bool trn_dusts_known(const trn_duty_state *states, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (states[i].share > 0 && !(states[i].dust_mg_m3 >= 0))
            return false;
    return true;
}

bool trn_loads_known(const trn_duty_state *states, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (states[i].share > 0 && !(states[i].load_ratio >= 0))
            return false;
    return true;
}

bool trn_dust_absolute(const trn_service_point *point, const trn_duty_state *states, size_t n)
{
    return point->intake_from_silicon && point->intake_l_h >= 0 && point->oil_kg > 0 &&
           trn_dusts_known(states, n);
}

/* ---- water and ageing --------------------------------------------------------------------- */

double trn_breath_mg(const trn_service_point *point, const trn_duty_state *state, double oil_c)
{
    if (!(point->headspace_l > 0) || !(point->oil_l > 0) || !(oil_c > state->ambient_c))
        return isnan(state->ambient_c) ? NAN : 0;
    trn_oil_box box = {.oil_m3 = point->oil_l * 1e-3,
                       .air_m3 = point->headspace_l * 1e-3,
                       .cold_k = state->ambient_c + trn_zero_c,
                       .hot_k = oil_c + trn_zero_c,
                       .dust_kgm3 = 0,
                       .humidity = state->humidity_pct / 100};
    trn_oil_breath breath = {0};
    if (trn_oil_breathing(box, &breath) >= 0)
        return fmax(0, breath.water_kg * 1e6);
    /* Oil that swells beyond a small headspace is refused there; the balance is linear in the
     * headspace, so it is carried on from two larger ones. */
    trn_oil_breath near = {0};
    trn_oil_breath far = {0};
    box.air_m3 += box.oil_m3;
    trn_status a = trn_oil_breathing(box, &near);
    box.air_m3 += box.oil_m3;
    trn_status b = trn_oil_breathing(box, &far);
    return a >= 0 && b >= 0 ? fmax(0, (2 * near.water_kg - far.water_kg) * 1e6) : NAN;
}

double trn_water_of_state(const trn_service_point *point, const trn_duty_state *state,
                          double oil_c)
{
    double in = state->washes_per_100h / 100 * 1000 * state->wash_water_ml; /* 1 mL = 1000 mg */
    if (state->washes_per_100h == 0)
        in = 0;
    if (point->headspace_l > 0 && state->starts_per_100h != 0)
        in += state->starts_per_100h / 100 * trn_breath_mg(point, state, oil_c);
    return in;
}

double trn_drying_of_state(const trn_interval_settings *settings, double oil_c)
{
    double k = 0;
    (void)trn_interval_drying(oil_c + trn_zero_c, settings->drying_per_h / trn_h,
                              settings->drying_from_c + trn_zero_c,
                              settings->drying_full_c + trn_zero_c, &k);
    return k * trn_h;
}

/* Times at which the water gets to the damp and the wet level, and T3. */
static void water_times(const trn_service_point *point, const trn_interval_settings *settings,
                        trn_sump *sump)
{
    double t3 = INFINITY;
    double start = 0;
    double fresh = settings->water_fresh_ppm * trn_ppm;
    double source = sump->water_mg_h * trn_mg_h;
    double removal = sump->drying_per_h / trn_h;
    if (trn_interval_budget(sump->budget_ppm * trn_ppm, point->oil_kg, source, removal, fresh,
                            fresh, point->residual, &start, &t3) < 0)
        return;
    double t1 = INFINITY;
    double damp = fmin(settings->water_damp_ppm, sump->budget_ppm) * trn_ppm;
    (void)trn_interval_time_to(damp, start, point->oil_kg, source, removal, fresh, &t1);
    sump->start_ppm = start / trn_ppm;
    sump->water_h = t3 / trn_h;
    sump->wet_h = t3 / trn_h;
    sump->damp_h = fmin(t1 / trn_h, sump->wet_h);
}

static double water_factor(const trn_service_point *point, const trn_interval_settings *settings,
                           double z)
{
    if (isfinite(point->water_source_mg_h)) {
        double s = trn_spread_draw(point->water_source_mg_h, settings->water_sampled, z);
        return fmax(0, s);
    }
    double v = settings->wash_water_ml;
    return fmax(0, trn_spread_draw(v, settings->spread[TRN_DRAW_WATER], z) / v);
}

static double ageing_anchor(const trn_service_point *point, const trn_interval_settings *settings,
                            double z)
{
    trn_spread spread = point->ageing_firm ? settings->ageing_firm
                                           : settings->spread[TRN_DRAW_AGEING_LIFE];
    return trn_spread_draw(point->ageing_life_h * settings->ageing_fraction, spread, z);
}

void trn_sump_of(const trn_service_point *point, const trn_duty_state *states, size_t n,
                 const trn_interval_settings *settings, const double *z, trn_sump *sump)
{
    *sump = (trn_sump){.life_h = NAN, .water_mg_h = NAN, .drying_per_h = NAN, .start_ppm = NAN,
                       .budget_ppm = isfinite(point->water_budget_ppm)
                                         ? fmin(point->water_budget_ppm, settings->water_budget_ppm)
                                         : settings->water_budget_ppm,
                       .damp_h = INFINITY, .wet_h = INFINITY, .water_h = NAN, .ageing_h = NAN};
    if (!trn_temperatures_known(states, n))
        return;
    double anchor = ageing_anchor(point, settings, z[TRN_DRAW_AGEING_LIFE]);
    double spent = 0;
    double water = 0;
    double drying = 0;
    bool sampled = isfinite(point->water_source_mg_h);
    for (size_t i = 0; i < n; i++) {
        if (!(states[i].share > 0))
            continue;
        double t = trn_oil_in_draw(&states[i], settings, z);
        double life_s = NAN;
        if (trn_oil_ageing_life(anchor * trn_h, point->ageing_c + trn_zero_c, t + trn_zero_c,
                                &life_s) < 0)
            life_s = NAN;
        spent += states[i].share / (life_s / trn_h);
        drying += states[i].share * trn_drying_of_state(settings, t);
        if (!sampled)
            water += states[i].share * trn_water_of_state(point, &states[i], t);
    }
    sump->life_h = 1 / spent;
    double k = settings->drying_per_h;
    double drawn = trn_spread_draw(k, settings->spread[TRN_DRAW_DRYING], z[TRN_DRAW_DRYING]);
    sump->drying_per_h = k > 0 ? drying * fmax(0, drawn / k) : 0;
    double factor = water_factor(point, settings, z[TRN_DRAW_WATER]);
    sump->water_mg_h = sampled ? factor : water * factor;
    if (point->oil_kg > 0 && isfinite(sump->water_mg_h))
        water_times(point, settings, sump);
    double t1 = NAN;
    if (trn_interval_ageing(sump->life_h * trn_h, sump->damp_h * trn_h, sump->wet_h * trn_h,
                            settings->catalyst_damp, settings->catalyst_wet, &t1) >= 0)
        sump->ageing_h = t1 / trn_h;
}

/* ---- dust, additive, wear ----------------------------------------------------------------- */

static double dust_life(const trn_service_point *point, const trn_duty_state *states, size_t n,
                        const trn_interval_settings *settings, const double *z)
{
    double sum = 0;
    double start = 0;
    double t = NAN;
    if (trn_dust_absolute(point, states, n)) {
        /* the dust scatter is in the intake already: dusts stay at their medians */
        for (size_t i = 0; i < n; i++)
            if (states[i].share > 0)
                sum += states[i].share * states[i].dust_mg_m3;
        double q = fmax(0, trn_spread_draw(point->intake_l_h, settings->spread[TRN_DRAW_INTAKE],
                                           z[TRN_DRAW_INTAKE]));
        double b = trn_spread_draw(settings->dust_budget_ppm,
                                   settings->spread[TRN_DRAW_DUST_BUDGET],
                                   z[TRN_DRAW_DUST_BUDGET]);
        if (!(b > 0))
            return 0;
        (void)trn_interval_budget(b * trn_ppm, point->oil_kg, q / 1000 * sum * trn_mg_h, 0, 0, 0,
                                  point->residual, &start, &t);
        return t / trn_h;
    }
    double zc = z[TRN_DRAW_DUST];
    double ref = point->ref_dust_mg_m3;
    double ref_drawn = trn_dust_in_draw(ref, settings, zc);
    double x = trn_spread_draw(settings->x, settings->spread[TRN_DRAW_X], z[TRN_DRAW_X]);
    x = fmax(0, fmin(settings->x_most, x));
    for (size_t i = 0; i < n; i++) {
        if (!(states[i].share > 0))
            continue;
        double c = states[i].dust_mg_m3 >= 0
                       ? trn_dust_in_draw(states[i].dust_mg_m3, settings, zc)
                       : ref_drawn;
        double r = NAN;
        (void)trn_interval_dust_rate(c * trn_mg_m3, ref * trn_mg_m3, x, &r);
        sum += states[i].share * r;
    }
    double margin = point->dust_margin * ((1 - x) + x * ref_drawn / ref);
    (void)trn_interval_anchored(point->manual_h * trn_h, sum, margin, &t);
    return t / trn_h;
}

double trn_additive_of_state(const trn_service_point *point, const trn_duty_state *state,
                             double step_k)
{
    double ref = point->ref_temperature_c + trn_zero_c;
    double r = NAN;
    (void)trn_interval_additive_rate(state->load_ratio,
                                     isfinite(state->oil_c) ? state->oil_c + trn_zero_c : ref, ref,
                                     step_k, &r);
    return r;
}

static double additive_life(const trn_service_point *point, const trn_duty_state *states, size_t n,
                            const trn_interval_settings *settings, const double *z)
{
    if (!trn_loads_known(states, n))
        return NAN;
    double step = trn_spread_draw(settings->additive_step_k,
                                  settings->spread[TRN_DRAW_ADDITIVE_STEP],
                                  z[TRN_DRAW_ADDITIVE_STEP]);
    step = fmax(settings->additive_step_least_k, step);
    double sum = 0;
    for (size_t i = 0; i < n; i++)
        if (states[i].share > 0)
            sum += states[i].share * trn_additive_of_state(point, &states[i], step);
    double t = NAN;
    (void)trn_interval_anchored(point->manual_h * trn_h, sum, settings->additive_margin, &t);
    return t / trn_h;
}

double trn_wear_of_element(const trn_service_point *point, size_t element)
{
    const trn_wear_element *e = &point->elements[element];
    double start = 0;
    double t = NAN;
    (void)trn_interval_budget(e->limit_ppm * trn_ppm, 1, fmax(0, e->rate_ppm_h) * trn_mg_h, 0,
                              isfinite(e->fresh_ppm) ? e->fresh_ppm * trn_ppm : 0, 0,
                              point->residual, &start, &t);
    return t / trn_h;
}

static double wear_life(const trn_service_point *point, const trn_interval_settings *settings,
                        const double *z)
{
    double least = NAN;
    for (size_t i = 0; i < point->element_count; i++)
        least = fmin(least, trn_wear_of_element(point, i)); /* fmin passes over NaN */
    double faster = fmax(0, trn_spread_draw(settings->debris, settings->spread[TRN_DRAW_DEBRIS],
                                            z[TRN_DRAW_DEBRIS]) /
                                settings->debris);
    return faster > 0 || isnan(least) ? least / faster : INFINITY;
}

void trn_oil_lives(const trn_service_point *point, const trn_duty_state *states, size_t n,
                   const trn_interval_settings *settings, const double *z, trn_lives *lives)
{
    if (!z)
        z = trn_medians;
    trn_sump sump;
    trn_sump_of(point, states, n, settings, z, &sump);
    for (size_t c = 0; c < TRN_LIMITS; c++)
        lives->of[c] = NAN;
    lives->of[TRN_CAUSE_AGEING] = sump.ageing_h;
    lives->of[TRN_CAUSE_WATER] = sump.water_h;
    lives->of[TRN_CAUSE_DUST] = dust_life(point, states, n, settings, z);
    lives->of[TRN_CAUSE_ADDITIVE] = additive_life(point, states, n, settings, z);
    lives->of[TRN_CAUSE_WEAR] = wear_life(point, settings, z);
}
