/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Mechanism of a grease M5: product of factors, anchored on the reference, harmonic over the
 * duty. */
#include <trunnion/interval.h>

#include "mechanism_inside.h"

unsigned trn_grease_factors_of(trn_task task)
{
    unsigned dirt = TRN_BIT(TRN_CAUSE_DUST) | TRN_BIT(TRN_CAUSE_SHOCK);
    unsigned heat = TRN_BIT(TRN_CAUSE_HEAT);
    unsigned load = TRN_BIT(TRN_CAUSE_LOAD);
    switch (task) {
    case TRN_TASK_GREASE_JOINT: return dirt | heat | load | TRN_BIT(TRN_CAUSE_MOTION);
    case TRN_TASK_GREASE_BEARING: return dirt | heat | load;
    case TRN_TASK_GREASE_TUBE:
    case TRN_TASK_GREASE_CLUTCH: return dirt | heat;
    case TRN_TASK_GREASE_PIVOT: return dirt;
    case TRN_TASK_CHECK_OIL:
    case TRN_TASK_CHANGE_OIL:
    case TRN_TASK_OTHER: break;
    }
    return 0;
}

double trn_point_temperature(const trn_service_point *point, const trn_duty_state *state,
                             const trn_interval_settings *settings)
{
    if (point->at_oil_temperature)
        return state->oil_c;
    return isfinite(point->point_c) ? point->point_c : state->ambient_c + settings->point_rise_k;
}

static double motion_of(const trn_service_point *point, const trn_duty_state *state)
{
    double motion = state->speed_rpm * state->angle_deg /
                    (point->ref_speed_rpm * point->ref_angle_deg);
    return motion >= 0 && isfinite(motion) ? motion : 1; /* not known: as at the reference */
}

/* What does not act on the task is taken where its factor is 1, here and in the reference. */
trn_grease_state trn_grease_taken(const trn_service_point *point, const trn_duty_state *state,
                                  const trn_interval_settings *settings, const double *z,
                                  unsigned at_reference)
{
    static const trn_grease_state idle = {.dust_mg_m3 = 0, .shock = 1, .t_c = 20, .load = 0,
                                          .motion = 1};
    trn_grease_state taken = idle;
    unsigned acts = trn_grease_factors_of(point->task);
    unsigned own = state ? acts & ~at_reference : 0;
    if (acts & TRN_BIT(TRN_CAUSE_DUST)) {
        double c = own & TRN_BIT(TRN_CAUSE_DUST) ? state->dust_mg_m3 : NAN;
        taken.dust_mg_m3 = trn_dust_in_draw(c >= 0 ? c : point->ref_dust_mg_m3, settings,
                                            z[TRN_DRAW_DUST]);
    }
    if (acts & TRN_BIT(TRN_CAUSE_SHOCK)) {
        double k = own & TRN_BIT(TRN_CAUSE_SHOCK) ? state->shock : NAN;
        taken.shock = fmax(1, trn_spread_draw(isfinite(k) ? k : point->ref_shock,
                                              settings->spread[TRN_DRAW_SHOCK],
                                              z[TRN_DRAW_SHOCK]));
    }
    if (acts & TRN_BIT(TRN_CAUSE_HEAT)) {
        double t = own & TRN_BIT(TRN_CAUSE_HEAT) ? trn_point_temperature(point, state, settings)
                                                 : NAN;
        taken.t_c = isfinite(t) ? t : point->ref_temperature_c;
    }
    if (acts & TRN_BIT(TRN_CAUSE_LOAD)) {
        double load = own & TRN_BIT(TRN_CAUSE_LOAD) ? state->load_pc : NAN;
        taken.load = load >= 0 ? load : point->ref_load;
    }
    if (own & TRN_BIT(TRN_CAUSE_MOTION))
        taken.motion = motion_of(point, state);
    return taken;
}

static double factor_of(trn_grease_state s)
{
    trn_grease_factors f = {0};
    if (trn_interval_grease_factor(s.dust_mg_m3 * trn_mg_m3, s.shock, s.t_c + trn_zero_c, s.load,
                                   s.motion, &f) < 0)
        return NAN;
    return f.f;
}

static double ratio_of(double f, double reference, double exponent)
{
    double ratio = NAN;
    if (trn_interval_grease_ratio(f, reference, &ratio) < 0)
        return NAN;
    return fmax(trn_interval_product_floor, pow(ratio, exponent));
}

double trn_greasing_life(const trn_service_point *point, const trn_duty_state *states, size_t n,
                       const trn_interval_settings *settings, const double *z,
                       unsigned at_reference)
{
    if (!z)
        z = trn_medians;
    double exponent = fmax(0, trn_spread_draw(settings->exponent,
                                              settings->spread[TRN_DRAW_GREASE_EXPONENT],
                                              z[TRN_DRAW_GREASE_EXPONENT]));
    double reference = factor_of(trn_grease_taken(point, NULL, settings, z, 0));
    double sum = 0;
    for (size_t i = 0; i < n; i++) {
        if (!(states[i].share > 0))
            continue;
        double f = factor_of(trn_grease_taken(point, &states[i], settings, z, at_reference));
        sum += states[i].share / ratio_of(f, reference, exponent);
    }
    double t = NAN;
    (void)trn_interval_anchored(point->manual_h * trn_h, sum, 1, &t);
    return t / trn_h;
}

/* ---- nominal ------------------------------------------------------------------------------ */

static size_t worst_state(const trn_service_point *point, const trn_duty_state *states, size_t n,
                          const trn_interval_settings *settings, unsigned at_reference)
{
    double reference = factor_of(trn_grease_taken(point, NULL, settings, trn_medians, 0));
    size_t worst = 0;
    double most = -1;
    for (size_t i = 0; i < n; i++) {
        double f = factor_of(
            trn_grease_taken(point, &states[i], settings, trn_medians, at_reference));
        double spent = states[i].share / ratio_of(f, reference, 1);
        if (spent > most) {
            most = spent;
            worst = i;
        }
    }
    return worst;
}

static void note_assumed(const trn_service_point *point, const trn_duty_state *states, size_t n,
                         const trn_interval_settings *settings, trn_nominal *nominal)
{
    unsigned acts = trn_grease_factors_of(point->task);
    for (size_t i = 0; i < n; i++) {
        const trn_duty_state *s = &states[i];
        if (!(s->share > 0))
            continue;
        double t = trn_point_temperature(point, s, settings);
        unsigned unknown = 0;
        unknown |= s->dust_mg_m3 >= 0 ? 0 : TRN_BIT(TRN_CAUSE_DUST);
        unknown |= isfinite(s->shock) ? 0 : TRN_BIT(TRN_CAUSE_SHOCK);
        unknown |= isfinite(t) ? 0 : TRN_BIT(TRN_CAUSE_HEAT);
        unknown |= s->load_pc >= 0 ? 0 : TRN_BIT(TRN_CAUSE_LOAD);
        unknown |= isfinite(s->speed_rpm * s->angle_deg) ? 0 : TRN_BIT(TRN_CAUSE_MOTION);
        nominal->assumed |= unknown & acts;
        if ((acts & TRN_BIT(TRN_CAUSE_MOTION)) && s->angle_deg == 0)
            trn_nominal_remark(nominal, TRN_R_INTERVAL_STILL);
        if (isfinite(point->grease_limit_c) && t > point->grease_limit_c)
            trn_nominal_remark(nominal, TRN_R_INTERVAL_GREASE_LIMIT);
        trn_grease_state taken = trn_grease_taken(point, s, settings, trn_medians, 0);
        trn_grease_factors f = {0};
        if (trn_interval_grease_factor(taken.dust_mg_m3 * trn_mg_m3, taken.shock,
                                       taken.t_c + trn_zero_c, taken.load, taken.motion,
                                       &f) >= 0 &&
            f.dust * f.shock * f.heat * f.load * f.motion <
                trn_interval_product_floor * (1 - 1e-9))
            trn_nominal_remark(nominal, TRN_R_INTERVAL_FLOOR);
    }
}

void trn_grease_nominal(const trn_service_point *point, const trn_duty_state *states, size_t n,
                        const trn_interval_settings *settings, trn_nominal *nominal)
{
    unsigned acts = trn_grease_factors_of(point->task);
    nominal->life_h = trn_greasing_life(point, states, n, settings, trn_medians, 0);
    nominal->worst = worst_state(point, states, n, settings, 0);
    for (size_t c = 0; c < TRN_LIMITS; c++) {
        if (!(acts & TRN_BIT(c)))
            continue;
        unsigned others = acts & ~TRN_BIT(c);
        trn_limit *limit = &nominal->limit[c];
        limit->life_h = trn_greasing_life(point, states, n, settings, trn_medians, others);
        limit->rate = point->manual_h / limit->life_h;
        limit->worst = worst_state(point, states, n, settings, others);
        limit->why = TRN_OK;
    }
    note_assumed(point, states, n, settings, nominal);
}
