/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <trunnion/clock.h>
#include <trunnion/interval.h>

static const double hour = 3600;
static const double slack = 1e-9; /* as interval.step: 480 min are 8 h */

static trn_clock own_or_common(trn_clock clock)
{
    if (clock.count == 0)
        clock.steps_h = trn_interval_steps_h(&clock.count);
    return clock;
}

trn_status trn_clock_check(trn_clock clock)
{
    for (size_t i = 0; i < clock.count; i++)
        if (!(clock.steps_h[i] > 0) || !isfinite(clock.steps_h[i]))
            return TRN_E_INPUT;
    return TRN_OK;
}

double trn_clock_floor(trn_clock clock, double t_h)
{
    clock = own_or_common(clock);
    double found = NAN;
    for (size_t i = 0; i < clock.count; i++)
        if (clock.steps_h[i] <= t_h * (1 + slack))
            found = fmax(found, clock.steps_h[i]); /* fmax passes over NaN */
    return found;
}

double trn_clock_next(trn_clock clock, double t_h)
{
    clock = own_or_common(clock);
    double found = INFINITY;
    for (size_t i = 0; i < clock.count; i++)
        if (clock.steps_h[i] > t_h * (1 + slack))
            found = fmin(found, clock.steps_h[i]);
    return found;
}

static double half_a_day_h(void)
{
    size_t count = 0;
    return trn_interval_steps_h(&count)[0];
}

static bool is_grease(trn_task task)
{
    return trn_grease_factors_of(task) != 0;
}

trn_status trn_recommend(const trn_service_point *point, double at_risk_h, trn_clock clock,
                         const trn_interval_settings *settings, trn_trace *trace,
                         trn_recommendation *recommendation)
{
    double manual = point->manual_h;
    if (!(manual > 0) || !isfinite(manual) || !(at_risk_h >= 0) ||
        trn_clock_check(clock) != TRN_OK)
        return TRN_E_DOMAIN;
    double most = (1 + settings->slack) * at_risk_h;
    if (most * (1 + slack) >= manual) {
        *recommendation = (trn_recommendation){.interval_h = manual, .manual = true};
        return TRN_OK;
    }
    double step = trn_clock_floor(clock, most);
    if (trace && clock.count == 0) {
        double out[TRN_OUTPUTS_MAX];
        trn_trace_scope(trace, "interval", "all", point->name);
        (void)trn_step(trace, TRN_STEP_INTERVAL_STEP, (double[]){most * hour}, out);
    }
    if (!isnan(step)) {
        *recommendation = (trn_recommendation){.interval_h = step};
        return TRN_OK;
    }
    double day = half_a_day_h();
    trn_status warning = is_grease(point->task) ? TRN_R_INTERVAL_NOT_BY_GREASING
                                                : TRN_R_INTERVAL_NOT_BY_CHANGING;
    if (most * (1 + slack) >= day)
        warning = TRN_R_INTERVAL_BELOW_CLOCK; /* the machine's own clock begins later */
    double lowest = trn_clock_next(clock, 0);
    *recommendation = (trn_recommendation){.interval_h = fmin(manual, fmin(day, lowest)),
                                           .warning = warning};
    return TRN_OK;
}

double trn_mean_dust(const trn_service_point *point, const trn_duty_state *states, size_t n)
{
    double sum = 0;
    for (size_t i = 0; i < n; i++)
        if (states[i].share > 0)
            sum += states[i].share * (states[i].dust_mg_m3 >= 0 ? states[i].dust_mg_m3
                                                                : point->ref_dust_mg_m3);
    return sum;
}

void trn_recommend_severe(double severe_h, double dust_mg_m3, trn_recommendation *recommendation)
{
    double dusty = trn_choice_value(TRN_CHOICE_SEVERE_DUST);
    if (!(severe_h < recommendation->interval_h * (1 - slack)) ||
        !(dust_mg_m3 >= dusty * (1 - slack)))
        return;
    recommendation->interval_h = severe_h;
    recommendation->manual = false;
    recommendation->severe = true;
}

double trn_first_change_h(double manual_h, double recommended_h, trn_clock clock,
                          const trn_interval_settings *settings)
{
    double t = fmin(settings->first_change_h, settings->first_part * manual_h);
    double step = trn_clock_floor(clock, t);
    return fmin(recommended_h, fmax(half_a_day_h(), step)); /* fmax passes over NaN */
}

double trn_washes_per_year(const trn_duty_state *states, size_t n, double hours_per_year)
{
    double sum = 0;
    for (size_t i = 0; i < n; i++)
        if (states[i].share > 0 && states[i].washes_per_100h > 0)
            sum += states[i].share * states[i].washes_per_100h / 100;
    return sum * hours_per_year;
}

static void note_visits(const trn_service_point *point, const double in[3], trn_trace *trace)
{
    double out[TRN_OUTPUTS_MAX] = {NAN};
    if (!trace)
        return;
    trn_trace_scope(trace, "interval", "all", point->name);
    if (trn_step(trace, TRN_STEP_INTERVAL_VISITS, in, out) >= 0)
        (void)trn_step(trace, TRN_STEP_INTERVAL_YEARLY, (double[]){out[0]}, out);
}

double trn_times_per_year(const trn_service_point *point, const trn_duty_state *states, size_t n,
                          double recommended_h, double hours_per_year, trn_trace *trace)
{
    if (!(recommended_h > 0) || !(hours_per_year > 0))
        return NAN;
    if (!is_grease(point->task)) {
        note_visits(point, (double[]){recommended_h * hour, hours_per_year * hour, 0}, trace);
        return fmax(1, hours_per_year / recommended_h);
    }
    double washes = trn_washes_per_year(states, n, hours_per_year);
    double in[] = {recommended_h * hour, hours_per_year * hour, washes};
    double visits = NAN;
    note_visits(point, in, trace);
    if (trn_interval_visits(in[0], in[1], in[2], &visits) < 0)
        return NAN;
    return fmax(1, visits);
}

trn_governing trn_govern(const trn_service_point *point, const trn_cause *order, size_t count,
                         const trn_recommendation *recommendation, double hours_per_year)
{
    trn_cause first = count > 0 ? order[0] : TRN_CAUSE_NONE;
    trn_cause second = count > 1 ? order[1] : TRN_CAUSE_NONE;
    trn_governing g = {first, second};
    if (recommendation->manual)
        g = (trn_governing){TRN_CAUSE_MANUAL, first};
    if (recommendation->severe)
        g = (trn_governing){TRN_CAUSE_SEVERE, first == TRN_CAUSE_NONE ? TRN_CAUSE_MANUAL : first};
    if (point->task == TRN_TASK_CHANGE_OIL && hours_per_year < recommendation->interval_h)
        g = (trn_governing){TRN_CAUSE_CALENDAR, g.first};
    return g;
}

static bool before(trn_cause a, trn_cause b, const double *score, const double *tie)
{
    double size = fmax(fabs(score[a]), fabs(score[b]));
    if (fabs(score[a] - score[b]) > 1e-9 * size)
        return score[a] > score[b];
    if (tie[a] != tie[b])
        return tie[a] < tie[b];
    return a < b;
}

size_t trn_cause_rank(unsigned use, const double *score, const double *tie, trn_cause *order)
{
    size_t count = 0;
    for (size_t c = 0; c < TRN_LIMITS; c++) {
        if (!(use & TRN_BIT(c)))
            continue;
        size_t k = count++;
        while (k > 0 && before((trn_cause)c, order[k - 1], score, tie)) {
            order[k] = order[k - 1];
            k--;
        }
        order[k] = (trn_cause)c;
    }
    return count;
}
