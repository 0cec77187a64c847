/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the oil is like between two changes, and what samples allow beyond the manual. */
#include <math.h>
#include <trunnion/clock.h>
#include <trunnion/extension.h>
#include <trunnion/interval.h>
#include <trunnion/oil.h>

static const double hour = 3600;
static const double ppm = 1e-6;
static const double mg_h = 1e-6 / 3600.0;

trn_status trn_oil_course_at(const trn_service_point *point, const trn_nominal *nominal,
                             const trn_interval_settings *settings, double interval_h, double t_h,
                             double density, trn_oil_course *course)
{
    if (!(interval_h > 0) || !(t_h >= 0) || !isfinite(interval_h) || !isfinite(t_h))
        return TRN_E_DOMAIN;
    trn_oil_course c = {.dust_ppm = NAN, .code = -1, .water_ppm = NAN, .ageing_pct = NAN};
    if (isfinite(nominal->dust_mg_h) && point->oil_kg > 0) {
        /* steady cycle: what is left of the last fill, rho/(1 - rho) of what an interval brings */
        double start = point->residual / (1 - point->residual) * interval_h;
        c.dust_ppm = nominal->dust_mg_h / point->oil_kg * (start + t_h);
        if (!(density > 0) || trn_oil_code(c.dust_ppm * ppm * density, &c.code) < 0)
            c.code = -1;
    }
    double w = NAN;
    if (isfinite(nominal->water_start_ppm) &&
        trn_interval_content(t_h * hour, nominal->water_start_ppm * ppm, point->oil_kg,
                             nominal->water_mg_h * mg_h, nominal->drying_per_h / hour,
                             settings->water_fresh_ppm * ppm, &w) >= 0)
        c.water_ppm = w / ppm;
    double spent = NAN;
    if (trn_interval_aged(t_h * hour, nominal->ageing_mean_h * hour, nominal->damp_h * hour,
                          nominal->wet_h * hour, settings->catalyst_damp, settings->catalyst_wet,
                          &spent) >= 0)
        c.ageing_pct = 100 * spent;
    *course = c;
    return TRN_OK;
}

/* ---- longer than the manual ---------------------------------------------------------------- */

static double rounded_down(double t_h)
{
    double grid = t_h < 100 * (1 - 1e-9) ? 5 : 25;
    return grid * floor(t_h / grid * (1 + 1e-9));
}

/* Bound of a measurand on the side of its limit; a falling one with its signs turned: the bound
 * of -y is the bound of y less twice the line, and the line is the bound at even confidence. */
static trn_status bound_of(const trn_measurand *m, double t_h, double confidence, double *bound)
{
    double upper = 0;
    double line = 0;
    double slope = 0;
    trn_status status =
        trn_extension_limit(m->times_h, m->values, m->n, t_h, confidence, &upper, &slope);
    if (status < 0)
        return status;
    if (m->falls) {
        status = trn_extension_limit(m->times_h, m->values, m->n, t_h, 0.5, &line, &slope);
        if (status < 0)
            return status;
        upper = 2 * line - upper;
    }
    *bound = upper;
    return TRN_OK;
}

trn_status trn_extend(double present_h, double manual_h, double machine_h, double warranty_h,
                      const trn_measurand *list, size_t count, double oil_h,
                      trn_extension *extension)
{
    if (!(present_h > 0) || !(manual_h > 0) || !isfinite(present_h) || !isfinite(manual_h))
        return TRN_E_DOMAIN;
    double most = trn_choice_value(TRN_CHOICE_EXTENSION_ALL) * manual_h;
    double step = trn_choice_value(TRN_CHOICE_EXTENSION_STEP) * present_h;
    double confidence = trn_choice_value(TRN_CHOICE_EXTENSION_CONFIDENCE) / 100;
    size_t needed = (size_t)trn_choice_value(TRN_CHOICE_EXTENSION_SAMPLES);
    trn_extension e = {.candidate_h = rounded_down(fmin(step, most)), .bound = NAN};
    if (!(e.candidate_h > present_h))
        e.bar = TRN_EXTENSION_NOT_LONGER;
    else if (!isfinite(machine_h) || !isfinite(warranty_h))
        e.bar = TRN_EXTENSION_WARRANTY_UNKNOWN;
    else if (!(machine_h > warranty_h))
        e.bar = TRN_EXTENSION_WARRANTY;
    else if (count == 0)
        e.bar = TRN_EXTENSION_FEW_SAMPLES;
    for (size_t i = 0; e.bar == TRN_EXTENSION_ALLOWED && i < count; i++) {
        e.which = i;
        if (list[i].n < needed)
            e.bar = TRN_EXTENSION_FEW_SAMPLES;
        else if (bound_of(&list[i], e.candidate_h, confidence, &e.bound) < 0 ||
                 !(list[i].falls ? e.bound > list[i].limit : e.bound < list[i].limit))
            e.bar = TRN_EXTENSION_TREND;
    }
    if (e.bar == TRN_EXTENSION_ALLOWED && !(oil_h * (1 + 1e-9) >= e.candidate_h))
        e.bar = TRN_EXTENSION_OIL;
    *extension = e;
    return TRN_OK;
}
