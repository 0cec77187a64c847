/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The nominal evaluation once more as a chain of catalogue steps, in the order a person works. */
#include "mechanism_inside.h"

static const char stage[] = "interval";

static void place(trn_trace *trace, const trn_service_point *point, const trn_duty_state *state)
{
    trn_trace_scope(trace, stage, state ? state->condition : "all", point->name);
}

/* Last output of a step, or NaN. */
static double step(trn_trace *trace, trn_step_id id, const double *in, double *out)
{
    if (trn_step(trace, id, in, out) < 0)
        out[0] = NAN;
    return out[0];
}

static double finite_or_left_out(double x)
{
    return isfinite(x) ? x : NAN;
}

static double add_rate(trn_trace *trace, double sum, double share, double rate)
{
    double out[TRN_OUTPUTS_MAX];
    return step(trace, TRN_STEP_INTERVAL_ADD_RATE, (double[]){sum, share, rate}, out);
}

static void anchored(trn_trace *trace, const trn_service_point *point, double rate, double margin)
{
    double out[TRN_OUTPUTS_MAX];
    place(trace, point, NULL);
    (void)step(trace, TRN_STEP_INTERVAL_ANCHORED,
               (double[]){point->manual_h * trn_h, rate, margin}, out);
}

/* ---- oil ---------------------------------------------------------------------------------- */

static double ageing_rate(trn_trace *trace, const trn_service_point *point,
                          const trn_duty_state *states, size_t n,
                          const trn_interval_settings *settings)
{
    double out[TRN_OUTPUTS_MAX];
    double sum = 0;
    for (size_t i = 0; i < n; i++) {
        if (!(states[i].share > 0))
            continue;
        place(trace, point, &states[i]);
        double t = trn_oil_in_draw(&states[i], settings, trn_medians);
        double anchor = point->ageing_life_h * settings->ageing_fraction * trn_h;
        double life = step(trace, TRN_STEP_OIL_AGEING_LIFE,
                           (double[]){anchor, point->ageing_c + trn_zero_c, t + trn_zero_c}, out);
        sum = step(trace, TRN_STEP_INTERVAL_ADD_LIFE, (double[]){sum, states[i].share, life}, out);
    }
    return sum;
}

static void water_of_states(trn_trace *trace, const trn_service_point *point,
                            const trn_duty_state *states, size_t n,
                            const trn_interval_settings *settings)
{
    double out[TRN_OUTPUTS_MAX];
    double water = 0;
    double drying = 0;
    for (size_t i = 0; i < n; i++) {
        const trn_duty_state *s = &states[i];
        if (!(s->share > 0))
            continue;
        place(trace, point, s);
        double t = trn_oil_in_draw(s, settings, trn_medians);
        double k = step(trace, TRN_STEP_INTERVAL_DRYING,
                        (double[]){t + trn_zero_c, settings->drying_per_h / trn_h,
                                   settings->drying_from_c + trn_zero_c,
                                   settings->drying_full_c + trn_zero_c},
                        out);
        double breath = 0;
        if (point->headspace_l > 0 && t > s->ambient_c &&
            trn_step(trace, TRN_STEP_OIL_BREATHING,
                     (double[]){point->oil_l * 1e-3, point->headspace_l * 1e-3,
                                s->ambient_c + trn_zero_c, t + trn_zero_c, 0,
                                s->humidity_pct / 100},
                     out) >= 0)
            breath = out[2];
        else if (point->headspace_l > 0)
            breath = trn_breath_mg(point, s, t) * 1e-6;
        bool sampled = isfinite(point->water_source_mg_h);
        double in[] = {water, drying, s->share, k, sampled ? 0 : s->starts_per_100h, breath,
                       sampled ? 0 : s->washes_per_100h, s->wash_water_ml * 1e-6};
        (void)step(trace, TRN_STEP_INTERVAL_ADD_WATER, in, out);
        water = out[0];
        drying = out[1];
    }
}

static void ageing_and_water(trn_trace *trace, const trn_service_point *point,
                             const trn_duty_state *states, size_t n,
                             const trn_interval_settings *settings, const trn_nominal *nominal)
{
    double out[TRN_OUTPUTS_MAX];
    double ageing = isnan(nominal->limit[TRN_CAUSE_AGEING].life_h)
                        ? NAN
                        : ageing_rate(trace, point, states, n, settings);
    if (!isnan(nominal->limit[TRN_CAUSE_WATER].life_h)) {
        water_of_states(trace, point, states, n, settings);
        place(trace, point, NULL);
        double fresh = settings->water_fresh_ppm * trn_ppm;
        double budget = isfinite(point->water_budget_ppm)
                            ? fmin(point->water_budget_ppm, settings->water_budget_ppm)
                            : settings->water_budget_ppm;
        double source = nominal->water_mg_h * trn_mg_h;
        double removal = nominal->drying_per_h / trn_h;
        (void)step(trace, TRN_STEP_INTERVAL_BUDGET,
                   (double[]){budget * trn_ppm, point->oil_kg, source, removal, fresh, fresh,
                              point->residual},
                   out);
        (void)step(trace, TRN_STEP_INTERVAL_TIME_TO,
                   (double[]){fmin(settings->water_damp_ppm, budget) * trn_ppm,
                              nominal->water_start_ppm * trn_ppm, point->oil_kg, source, removal,
                              fresh},
                   out);
    }
    place(trace, point, NULL);
    if (!isnan(ageing))
        (void)step(trace, TRN_STEP_INTERVAL_AGEING,
                   (double[]){ageing, finite_or_left_out(nominal->damp_h * trn_h),
                              finite_or_left_out(nominal->wet_h * trn_h), settings->catalyst_damp,
                              settings->catalyst_wet},
                   out);
}

static void dust(trn_trace *trace, const trn_service_point *point, const trn_duty_state *states,
                 size_t n, const trn_interval_settings *settings)
{
    double out[TRN_OUTPUTS_MAX];
    bool absolute = trn_dust_absolute(point, states, n);
    double sum = 0;
    for (size_t i = 0; i < n; i++) {
        if (!(states[i].share > 0))
            continue;
        place(trace, point, &states[i]);
        double c = states[i].dust_mg_m3 >= 0 ? states[i].dust_mg_m3 : point->ref_dust_mg_m3;
        if (absolute) {
            sum = step(trace, TRN_STEP_INTERVAL_ADD_DUST,
                       (double[]){sum, states[i].share, point->intake_l_h * 1e-3 / trn_h,
                                  c * trn_mg_m3},
                       out);
            continue;
        }
        double r = step(trace, TRN_STEP_INTERVAL_DUST_RATE,
                        (double[]){c * trn_mg_m3, point->ref_dust_mg_m3 * trn_mg_m3, settings->x},
                        out);
        sum = add_rate(trace, sum, states[i].share, r);
    }
    if (!absolute) {
        anchored(trace, point, sum, point->dust_margin);
        return;
    }
    place(trace, point, NULL);
    (void)step(trace, TRN_STEP_INTERVAL_BUDGET,
               (double[]){settings->dust_budget_ppm * trn_ppm, point->oil_kg, sum, 0, 0, 0,
                          point->residual},
               out);
}

static void additive(trn_trace *trace, const trn_service_point *point,
                     const trn_duty_state *states, size_t n,
                     const trn_interval_settings *settings)
{
    double out[TRN_OUTPUTS_MAX];
    double sum = 0;
    double ref = point->ref_temperature_c + trn_zero_c;
    for (size_t i = 0; i < n; i++) {
        if (!(states[i].share > 0))
            continue;
        place(trace, point, &states[i]);
        double t = isfinite(states[i].oil_c) ? states[i].oil_c + trn_zero_c : ref;
        double r = step(trace, TRN_STEP_INTERVAL_ADDITIVE_RATE,
                        (double[]){states[i].load_ratio, t, ref, settings->additive_step_k}, out);
        sum = add_rate(trace, sum, states[i].share, r);
    }
    anchored(trace, point, sum, settings->additive_margin);
}

void trn_oil_trace(const trn_service_point *point, const trn_duty_state *states, size_t n,
                   const trn_interval_settings *settings, const trn_nominal *nominal,
                   trn_trace *trace)
{
    double out[TRN_OUTPUTS_MAX];
    ageing_and_water(trace, point, states, n, settings, nominal);
    dust(trace, point, states, n, settings);
    if (!isnan(nominal->limit[TRN_CAUSE_ADDITIVE].life_h))
        additive(trace, point, states, n, settings);
    for (size_t i = 0; i < point->element_count; i++) {
        const trn_wear_element *e = &point->elements[i];
        trn_trace_scope(trace, stage, e->name, point->name);
        (void)step(trace, TRN_STEP_INTERVAL_BUDGET,
                   (double[]){e->limit_ppm * trn_ppm, 1, fmax(0, e->rate_ppm_h) * trn_mg_h, 0,
                              isfinite(e->fresh_ppm) ? e->fresh_ppm * trn_ppm : 0, 0,
                              point->residual},
                   out);
    }
}

/* ---- grease ------------------------------------------------------------------------------- */

static double factor(trn_trace *trace, trn_grease_state s)
{
    double out[TRN_OUTPUTS_MAX];
    double in[] = {s.dust_mg_m3 * trn_mg_m3, s.shock, s.t_c + trn_zero_c, s.load, s.motion};
    return trn_step(trace, TRN_STEP_INTERVAL_GREASE_FACTOR, in, out) < 0 ? NAN : out[5];
}

void trn_grease_trace(const trn_service_point *point, const trn_duty_state *states, size_t n,
                      const trn_interval_settings *settings, const trn_nominal *nominal,
                      trn_trace *trace)
{
    (void)nominal;
    double out[TRN_OUTPUTS_MAX] = {0};
    trn_trace_scope(trace, stage, "reference", point->name);
    double reference = factor(trace, trn_grease_taken(point, NULL, settings, trn_medians, 0));
    double sum = 0;
    for (size_t i = 0; i < n; i++) {
        if (!(states[i].share > 0))
            continue;
        place(trace, point, &states[i]);
        double f = factor(trace, trn_grease_taken(point, &states[i], settings, trn_medians, 0));
        (void)step(trace, TRN_STEP_INTERVAL_GREASE_RATIO, (double[]){f, reference}, out);
        sum = add_rate(trace, sum, states[i].share, out[1]);
    }
    anchored(trace, point, sum, 1);
}
