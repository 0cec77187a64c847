/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One service point: settings, nominal evaluation, one draw. */
#include <gsl/gsl_statistics_double.h>
#include <gsl/gsl_sort.h>
#include <string.h>
#include <trunnion/interval.h>
#include <trunnion/oil.h>

#include "mechanism_inside.h"

const char *trn_cause_word(trn_cause cause)
{
    static const char *const words[] = {
#define TRN_X(id, word) word,
        TRN_CAUSE_LIST(TRN_X)
#undef TRN_X
    };
    return (unsigned)cause < TRN_CAUSES ? words[cause] : "";
}

/* A draw and where its built-in spread stands. */
static const struct {
    const char *path;
    trn_choice_id choice;
} draws[TRN_DRAWS] = {
    [TRN_DRAW_DUST] = {"duty.*.dust", TRN_CHOICE_DUST_STAYS},
    [TRN_DRAW_X] = {"choices.x", TRN_CHOICE_X},
    [TRN_DRAW_INTAKE] = {"gearboxes.*.dust_intake", TRN_CHOICE_INTAKE},
    [TRN_DRAW_DUST_BUDGET] = {"choices.dust_budget", TRN_CHOICE_DUST_BUDGET},
    [TRN_DRAW_OIL_TEMPERATURE] = {"duty.*.oil_temperature", TRN_CHOICE_OIL_MODELLED},
    [TRN_DRAW_AGEING_LIFE] = {"oils.*.ageing_life", TRN_CHOICE_AGEING_MINERAL},
    [TRN_DRAW_WATER] = {"choices.water_intake", TRN_CHOICE_WATER_INTAKE},
    [TRN_DRAW_DRYING] = {"choices.drying", TRN_CHOICE_DRYING},
    [TRN_DRAW_ADDITIVE_STEP] = {"choices.additive_step", TRN_CHOICE_ADDITIVE_STEP},
    [TRN_DRAW_SHOCK] = {"duty.*.shock", TRN_CHOICE_SHOCK},
    [TRN_DRAW_GREASE_EXPONENT] = {"choices.grease_exponent", TRN_CHOICE_GREASE_EXPONENT},
    [TRN_DRAW_DEBRIS] = {"choices.debris_rate", TRN_CHOICE_DEBRIS},
};

const char *trn_draw_path(trn_draw_id id)
{
    return (unsigned)id < TRN_DRAWS ? draws[id].path : "";
}

void trn_interval_settings_default(trn_interval_settings *settings)
{
    *settings = (trn_interval_settings){
        .oil_measured = trn_choice_spread(TRN_CHOICE_OIL_MEASURED),
        .oil_calibrated = trn_choice_spread(TRN_CHOICE_OIL_CALIBRATED),
        .ageing_firm = trn_choice_spread(TRN_CHOICE_AGEING_GIVEN),
        .water_sampled = trn_choice_spread(TRN_CHOICE_WATER_SAMPLED),
        .life_model = trn_choice_spread(TRN_CHOICE_LIFE_MODEL),
        .dust_from_class = true,
        .dust_stays = trn_choice_value(TRN_CHOICE_DUST_STAYS),
        .x = trn_choice_value(TRN_CHOICE_X),
        .x_most = trn_choice_value(TRN_CHOICE_X_MOST),
        .dust_budget_ppm = trn_choice_value(TRN_CHOICE_DUST_BUDGET),
        .additive_margin = trn_choice_value(TRN_CHOICE_ADDITIVE_MARGIN),
        .additive_step_k = trn_choice_value(TRN_CHOICE_ADDITIVE_STEP),
        .additive_step_least_k = trn_choice_value(TRN_CHOICE_ADDITIVE_STEP_LEAST),
        .water_damp_ppm = trn_choice_value(TRN_CHOICE_WATER_DAMP),
        .water_budget_ppm = trn_choice_value(TRN_CHOICE_WATER_BUDGET),
        .water_fresh_ppm = trn_choice_value(TRN_CHOICE_WATER_FRESH),
        .catalyst_damp = trn_choice_value(TRN_CHOICE_CATALYST_DAMP),
        .catalyst_wet = trn_choice_value(TRN_CHOICE_CATALYST_WET),
        .drying_per_h = trn_choice_value(TRN_CHOICE_DRYING),
        .drying_from_c = trn_choice_value(TRN_CHOICE_DRYING_FROM),
        .drying_full_c = trn_choice_value(TRN_CHOICE_DRYING_FULL),
        .wash_water_ml = trn_choice_value(TRN_CHOICE_WATER_INTAKE),
        .point_rise_k = trn_choice_value(TRN_CHOICE_POINT_RISE),
        .exponent = trn_choice_value(TRN_CHOICE_GREASE_EXPONENT),
        .debris = trn_choice_value(TRN_CHOICE_DEBRIS),
        .level_part = trn_choice_value(TRN_CHOICE_LEVEL),
        .slack = trn_choice_value(TRN_CHOICE_SLACK) / 100,
        .first_change_h = trn_choice_value(TRN_CHOICE_FIRST_CHANGE),
        .first_part = trn_choice_value(TRN_CHOICE_FIRST_SHARE) / 100,
        .ageing_fraction = trn_choice_value(TRN_CHOICE_AGEING_FRACTION),
    };
    for (size_t i = 0; i < TRN_DRAWS; i++)
        settings->spread[i] = trn_choice_spread(draws[i].choice);
}

void trn_interval_settings_spread(trn_interval_settings *settings, trn_draw_id id,
                                  trn_spread spread)
{
    settings->spread[id] = spread;
    if (id == TRN_DRAW_DUST)
        settings->dust_from_class = false;
    if (id == TRN_DRAW_OIL_TEMPERATURE)
        settings->oil_measured = settings->oil_calibrated = spread;
    if (id == TRN_DRAW_AGEING_LIFE)
        settings->ageing_firm = spread;
    if (id == TRN_DRAW_WATER)
        settings->water_sampled = spread;
}

void trn_interval_settings_still(trn_interval_settings *settings)
{
    for (size_t i = 0; i < TRN_DRAWS; i++)
        trn_interval_settings_spread(settings, (trn_draw_id)i, (trn_spread){TRN_SPREAD_NONE, 0});
}

/* ---- inputs ------------------------------------------------------------------------------- */

void trn_service_point_clear(trn_service_point *point)
{
    *point = (trn_service_point){
        .name = "", .manual_h = NAN, .ref_dust_mg_m3 = NAN, .ref_shock = NAN,
        .ref_temperature_c = NAN, .ref_load = NAN, .ref_angle_deg = NAN, .ref_speed_rpm = NAN,
        .point_c = NAN, .grease_limit_c = NAN, .oil_kg = NAN, .oil_l = NAN, .headspace_l = NAN,
        .residual = 0, .ageing_life_h = NAN, .ageing_c = NAN,
        .dust_margin = trn_choice_value(TRN_CHOICE_DUST_MARGIN), .intake_l_h = NAN,
        .water_source_mg_h = NAN, .water_budget_ppm = NAN, .level_margin_l = NAN,
        .top_up_l_h = NAN,
    };
}

void trn_duty_state_clear(trn_duty_state *state)
{
    *state = (trn_duty_state){.condition = "", .share = 1, .dust_mg_m3 = NAN, .oil_c = NAN,
                              .ambient_c = NAN, .humidity_pct = NAN, .starts_per_100h = NAN,
                              .washes_per_100h = NAN, .wash_water_ml = NAN, .load_ratio = NAN,
                              .shock = NAN, .load_pc = NAN, .speed_rpm = NAN, .angle_deg = NAN};
}

trn_status trn_duty_shares(const double *share_pct, const double *hours, size_t n, double *share)
{
    double sum = 0;
    bool percent = share_pct && n > 0 && !isnan(share_pct[0]);
    const double *given = percent ? share_pct : hours;
    if (!given || n == 0)
        return TRN_E_MISSING;
    for (size_t i = 0; i < n; i++) {
        if (isnan(given[i]))
            return TRN_E_MISSING;
        if (!(given[i] >= 0) || !isfinite(given[i]))
            return TRN_E_INPUT;
        sum += given[i];
    }
    if (!(sum > 0) || (percent && !(fabs(sum - 100) <= 0.1 * (1 + 1e-9))))
        return TRN_E_INPUT;
    for (size_t i = 0; i < n; i++)
        share[i] = given[i] / sum;
    return TRN_OK;
}

void trn_ageing_anchor(trn_service_point *point, trn_ageing_base base, double life_h,
                       double temperature_c)
{
    bool given = isfinite(life_h);
    trn_choice_id id = base == TRN_AGEING_MINERAL ? TRN_CHOICE_AGEING_MINERAL
                                                  : TRN_CHOICE_AGEING_SYNTHETIC;
    point->ageing_life_h = given ? life_h : trn_choice_value(id);
    point->ageing_c = given && isfinite(temperature_c)
                          ? temperature_c
                          : trn_choice_value(TRN_CHOICE_AGEING_TEMPERATURE);
    point->ageing_given = given;
    point->ageing_firm = given || base == TRN_AGEING_SYNTHETIC;
}

/* ---- nominal ------------------------------------------------------------------------------ */

void trn_nominal_remark(trn_nominal *nominal, trn_status remark)
{
    for (size_t i = 0; i < nominal->remark_count; i++)
        if (nominal->remarks[i] == remark)
            return;
    if (nominal->remark_count < TRN_REMARKS_MAX)
        nominal->remarks[nominal->remark_count++] = remark;
}

static double top_up_life(const trn_service_point *point, const trn_interval_settings *settings)
{
    return point->task == TRN_TASK_CHECK_OIL && point->top_up_l_h > 0 && point->level_margin_l >= 0
               ? settings->level_part * point->level_margin_l / point->top_up_l_h
               : NAN;
}

static bool is_oil(trn_task task)
{
    return task == TRN_TASK_CHANGE_OIL;
}

/* Stable: equal lives keep the order of the columns; 9 digits count as equal. */
static void put_in_order(trn_nominal *nominal)
{
    nominal->order_count = 0;
    nominal->use = 0;
    for (size_t c = 0; c < TRN_LIMITS; c++) {
        double life = nominal->limit[c].life_h;
        if (!isfinite(life))
            continue;
        nominal->use |= TRN_BIT(c);
        size_t k = nominal->order_count++;
        while (k > 0 && nominal->limit[nominal->order[k - 1]].life_h > life * (1 + 1e-9)) {
            nominal->order[k] = nominal->order[k - 1];
            k--;
        }
        nominal->order[k] = (trn_cause)c;
    }
}

static bool point_holds(const trn_service_point *point, const trn_duty_state *states, size_t n)
{
    double sum = 0;
    for (size_t i = 0; i < n; i++) {
        if (!(states[i].share >= 0))
            return false;
        sum += states[i].share;
    }
    return point->manual_h > 0 && isfinite(point->manual_h) && fabs(sum - 1) <= 1e-3 &&
           point->residual >= 0 && point->residual < 1;
}

static bool reference_holds(const trn_service_point *point)
{
    unsigned acts = trn_grease_factors_of(point->task);
    bool needs = (acts & TRN_BIT(TRN_CAUSE_HEAT)) || is_oil(point->task);
    if (trn_task_stands(point->task))
        return true;
    if (!(point->ref_dust_mg_m3 > 0) || (needs && !(point->ref_temperature_c > -trn_zero_c)))
        return false;
    if (is_oil(point->task))
        return point->dust_margin > 0;
    return point->ref_shock >= 1 && (!(acts & TRN_BIT(TRN_CAUSE_LOAD)) || point->ref_load >= 0);
}

trn_status trn_point_nominal(const trn_service_point *point, const trn_duty_state *states,
                             size_t n, const trn_interval_settings *settings, trn_trace *trace,
                             trn_nominal *nominal)
{
    if (!point_holds(point, states, n) || !reference_holds(point))
        return TRN_E_INPUT;
    *nominal = (trn_nominal){.life_h = INFINITY, .ageing_mean_h = NAN, .water_mg_h = NAN,
                             .drying_per_h = NAN, .water_start_ppm = NAN, .damp_h = NAN,
                             .wet_h = NAN, .dust_mg_h = NAN};
    for (size_t c = 0; c < TRN_LIMITS; c++)
        nominal->limit[c] = (trn_limit){.life_h = NAN, .rate = NAN, .why = TRN_E_UNKNOWN};
    if (trn_task_stands(point->task)) {
        double life = top_up_life(point, settings);
        nominal->limit[TRN_CAUSE_LOSS] = (trn_limit){
            .life_h = life, .rate = point->manual_h / life, .basis = TRN_BASIS_SAMPLES,
            .why = !isnan(life)                          ? TRN_OK
                   : point->task == TRN_TASK_CHECK_OIL ? TRN_R_INTERVAL_NO_SAMPLES
                                                       : TRN_E_UNKNOWN};
        put_in_order(nominal);
        nominal->life_h = isnan(life) ? point->manual_h : life;
        return TRN_OK;
    }
    if (!is_oil(point->task)) {
        trn_grease_nominal(point, states, n, settings, nominal);
        put_in_order(nominal);
        if (trace)
            trn_grease_trace(point, states, n, settings, nominal, trace);
        return isfinite(nominal->life_h) ? TRN_OK : TRN_E_INPUT;
    }
    trn_oil_nominal(point, states, n, settings, nominal);
    put_in_order(nominal);
    if (nominal->order_count)
        nominal->life_h = nominal->limit[nominal->order[0]].life_h;
    if (trace)
        trn_oil_trace(point, states, n, settings, nominal, trace);
    return TRN_OK;
}

double trn_point_draw(const trn_service_point *point, const trn_duty_state *states, size_t n,
                      const trn_interval_settings *settings, const double *z, unsigned use,
                      unsigned at_reference, trn_cause *smallest)
{
    trn_cause found = TRN_CAUSE_NONE;
    double least = INFINITY;
    if (trn_task_stands(point->task)) {
        double life = top_up_life(point, settings);
        found = isnan(life) ? TRN_CAUSE_MANUAL : TRN_CAUSE_LOSS;
        least = isnan(life) ? point->manual_h : life;
    } else if (!is_oil(point->task)) {
        least = trn_greasing_life(point, states, n, settings, z, at_reference);
    } else {
        trn_lives lives;
        trn_oil_lives(point, states, n, settings, z, &lives);
        for (size_t c = 0; c < TRN_LIMITS; c++)
            if ((use & TRN_BIT(c)) && lives.of[c] < least) {
                least = lives.of[c];
                found = (trn_cause)c;
            }
    }
    if (smallest)
        *smallest = found;
    return least;
}

/* ---- water from samples ------------------------------------------------------------------- */

trn_status trn_water_from_samples(const trn_service_point *point, const trn_duty_state *states,
                                  size_t n, const trn_interval_settings *settings,
                                  const double *first_ppm, const double *second_ppm,
                                  const double *apart_h, size_t pairs, double *work,
                                  double *source_mg_h)
{
    if (!trn_temperatures_known(states, n) || !(point->oil_kg > 0))
        return TRN_E_UNKNOWN;
    double removal = 0;
    for (size_t i = 0; i < n; i++)
        if (states[i].share > 0)
            removal += states[i].share *
                       trn_drying_of_state(settings,
                                           trn_oil_in_draw(&states[i], settings, trn_medians));
    for (size_t i = 0; i < pairs; i++) {
        double s = 0;
        trn_status status = trn_interval_water_source(
            first_ppm[i] * trn_ppm, second_ppm[i] * trn_ppm, apart_h[i] * trn_h, point->oil_kg,
            removal / trn_h, settings->water_fresh_ppm * trn_ppm, &s);
        if (status < 0)
            return status;
        work[i] = s / trn_mg_h;
    }
    if (pairs == 0)
        return TRN_E_DOMAIN;
    gsl_sort(work, 1, pairs);
    *source_mg_h = gsl_stats_median_from_sorted_data(work, 1, pairs);
    return TRN_OK;
}
