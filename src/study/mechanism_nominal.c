/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Oil point at its medians: rates, the state that spends most, why a limit is left out. */
#include <trunnion/interval.h>
#include <trunnion/oil.h>

#include "mechanism_inside.h"

typedef struct most {
    double sum, top;
    size_t worst;
} most;

static void spend(most *m, double share, double rate, size_t i)
{
    if (!(share > 0))
        return;
    m->sum += share * rate;
    if (share * rate > m->top) {
        m->top = share * rate;
        m->worst = i;
    }
}

static void ageing_and_water(const trn_service_point *point, const trn_duty_state *states,
                             size_t n, const trn_interval_settings *settings,
                             trn_nominal *nominal)
{
    trn_sump sump;
    trn_sump_of(point, states, n, settings, trn_medians, &sump);
    nominal->ageing_mean_h = sump.life_h;
    nominal->water_mg_h = sump.water_mg_h;
    nominal->drying_per_h = sump.drying_per_h;
    nominal->water_start_ppm = sump.start_ppm;
    nominal->damp_h = sump.damp_h;
    nominal->wet_h = sump.wet_h;

    trn_limit *ageing = &nominal->limit[TRN_CAUSE_AGEING];
    trn_limit *water = &nominal->limit[TRN_CAUSE_WATER];
    ageing->basis = point->ageing_given ? TRN_BASIS_GIVEN : TRN_BASIS_DRAIN_TABLE;
    water->basis = isfinite(point->water_source_mg_h) ? TRN_BASIS_SAMPLES : TRN_BASIS_MODEL;
    if (!trn_temperatures_known(states, n)) {
        ageing->why = water->why = TRN_R_INTERVAL_NO_OIL_TEMPERATURE;
        return;
    }
    most age = {0};
    most wet = {0};
    double reference = NAN;
    (void)trn_oil_ageing_life(1, point->ageing_c + trn_zero_c,
                              point->ref_temperature_c + trn_zero_c, &reference);
    for (size_t i = 0; i < n; i++) {
        if (!(states[i].share > 0))
            continue;
        double t = trn_oil_in_draw(&states[i], settings, trn_medians);
        double life = NAN;
        if (trn_oil_ageing_life(1, point->ageing_c + trn_zero_c, t + trn_zero_c, &life) >= 0)
            spend(&age, states[i].share, reference / life, i);
        spend(&wet, states[i].share, trn_water_of_state(point, &states[i], t), i);
    }
    ageing->life_h = sump.ageing_h;
    ageing->rate = isnan(sump.ageing_h) ? NAN : age.sum;
    ageing->worst = age.worst;
    ageing->why = isnan(sump.ageing_h) ? TRN_R_INTERVAL_NO_AGEING_LIFE : TRN_OK;
    water->life_h = sump.water_h;
    water->worst = wet.worst;
    if (isnan(sump.water_h))
        water->why = point->oil_kg > 0 ? TRN_R_INTERVAL_NO_WATER : TRN_R_INTERVAL_NO_OIL_MASS;
    else
        water->why = isinf(sump.water_h) ? TRN_R_INTERVAL_WATER_NEVER : TRN_OK;
    if (isinf(sump.water_h))
        trn_nominal_remark(nominal, TRN_R_INTERVAL_WATER_NEVER);
    if (isfinite(point->oil_kg) && !(point->headspace_l > 0) &&
        water->basis == TRN_BASIS_MODEL)
        trn_nominal_remark(nominal, TRN_R_INTERVAL_NO_HEADSPACE);
}

static void dust(const trn_service_point *point, const trn_duty_state *states, size_t n,
                 const trn_interval_settings *settings, trn_nominal *nominal)
{
    bool absolute = trn_dust_absolute(point, states, n);
    most m = {0};
    double mean = 0;
    for (size_t i = 0; i < n; i++) {
        bool known = states[i].dust_mg_m3 >= 0;
        double c = known ? states[i].dust_mg_m3 : point->ref_dust_mg_m3;
        double r = NAN;
        if (!(states[i].share > 0))
            continue;
        if (!known)
            nominal->assumed |= TRN_BIT(TRN_CAUSE_DUST);
        (void)trn_interval_dust_rate(c * trn_mg_m3, point->ref_dust_mg_m3 * trn_mg_m3,
                                     absolute ? 1 : settings->x, &r);
        spend(&m, states[i].share, r, i);
        mean += states[i].share * c;
    }
    trn_limit *limit = &nominal->limit[TRN_CAUSE_DUST];
    limit->rate = m.sum;
    limit->worst = m.worst;
    limit->basis = absolute ? TRN_BASIS_SAMPLES : TRN_BASIS_CHOSEN;
    if (point->intake_l_h >= 0 && trn_dusts_known(states, n))
        nominal->dust_mg_h = point->intake_l_h / 1000 * mean;
}

static void additive(const trn_service_point *point, const trn_duty_state *states, size_t n,
                     const trn_interval_settings *settings, trn_nominal *nominal)
{
    trn_limit *limit = &nominal->limit[TRN_CAUSE_ADDITIVE];
    limit->basis = TRN_BASIS_CHOSEN;
    if (!trn_loads_known(states, n)) {
        limit->why = TRN_R_INTERVAL_NO_RATED_POWER;
        return;
    }
    most m = {0};
    bool outside = false;
    for (size_t i = 0; i < n; i++) {
        if (!(states[i].share > 0))
            continue;
        if (!isfinite(states[i].oil_c))
            nominal->assumed |= TRN_BIT(TRN_CAUSE_ADDITIVE);
        double t = isfinite(states[i].oil_c) ? states[i].oil_c : point->ref_temperature_c;
        double r = NAN;
        outside |= trn_interval_additive_rate(1, t + trn_zero_c, t + trn_zero_c, 1, &r) ==
                   TRN_R_INTERVAL_ADDITIVE_RANGE;
        spend(&m, states[i].share,
              trn_additive_of_state(point, &states[i], settings->additive_step_k), i);
    }
    limit->rate = m.sum;
    limit->worst = m.worst;
    limit->why = outside ? TRN_R_INTERVAL_ADDITIVE_RANGE : TRN_OK;
}

static void wear(const trn_service_point *point, trn_nominal *nominal)
{
    trn_limit *limit = &nominal->limit[TRN_CAUSE_WEAR];
    limit->basis = TRN_BASIS_SAMPLES;
    if (isnan(limit->life_h))
        limit->why = TRN_R_INTERVAL_NO_SAMPLES;
    for (size_t i = point->element_count; i-- > 0;)
        if (trn_wear_of_element(point, i) == limit->life_h)
            limit->element = i;
}

void trn_oil_nominal(const trn_service_point *point, const trn_duty_state *states, size_t n,
                     const trn_interval_settings *settings, trn_nominal *nominal)
{
    trn_lives lives;
    trn_oil_lives(point, states, n, settings, trn_medians, &lives);
    for (size_t c = 0; c < TRN_LIMITS; c++) {
        nominal->limit[c].life_h = lives.of[c];
        if (!isnan(lives.of[c]))
            nominal->limit[c].why = isinf(lives.of[c]) ? TRN_R_INTERVAL_NEVER : TRN_OK;
    }
    ageing_and_water(point, states, n, settings, nominal);
    dust(point, states, n, settings, nominal);
    additive(point, states, n, settings, nominal);
    wear(point, nominal);
}
