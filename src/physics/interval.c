/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <trunnion/grease.h>
#include <trunnion/interval.h>

#include "constant_tables.h"

static const double zero_k = 273.15;
static const double hour = 3600;
static const double slack = 1e-9;

static int fraction_below_one(double x)
{
    return x >= 0 && x < 1;
}

static int none_or_more(double x)
{
    return x >= 0 && isfinite(x);
}

static int more_than_none(double x)
{
    return x > 0 && isfinite(x);
}

trn_status trn_interval_dust_rate(double c, double c_ref, double x, double *rate)
{
    if (!none_or_more(c) || !more_than_none(c_ref) || !(x >= 0) || !(x <= 1))
        return TRN_E_DOMAIN;
    double r = (1 - x) + x * (c / c_ref); /* chosen */
    if (!isfinite(r))
        return TRN_E_DOMAIN;
    *rate = r;
    return TRN_OK;
}

/* ---- grease ------------------------------------------------------------------------------- */

typedef trn_grease_knee knee;

/* GfT3, memory: band edges of the worksheet; mg/m3 and application factors on them chosen */
static knee dust_knees[] = {{3, 1.0}, {15, 0.7}, {50, 0.4}, {150, 0.1}};
static knee shock_knees[] = {{1.0, 1.0}, {1.25, 0.9}, {1.5, 0.7}, {1.75, 0.4}, {2.25, 0.1}};
static knee load_knees[] = {{0.10, 1.0}, {0.15, 0.7}, {0.25, 0.4}, {0.35, 0.1}};
/* GfT3, memory: below it automatic feed, better seal or another joint */
const double trn_interval_product_floor = 0.1;

/* Straight between the knees, constant outside; logarithmic: straight in ln x. */
static double along(const knee *k, size_t n, double x, int logarithmic)
{
    if (!(x > k[0].x))
        return k[0].f;
    for (size_t i = 1; i < n; i++)
        if (x < k[i].x) {
            double part = logarithmic ? log(x / k[i - 1].x) / log(k[i].x / k[i - 1].x)
                                      : (x - k[i - 1].x) / (k[i].x - k[i - 1].x);
            return k[i - 1].f + part * (k[i].f - k[i - 1].f);
        }
    return k[n - 1].f;
}

const trn_grease_knee *trn_interval_dust_knees(size_t *count)
{
    *count = sizeof dust_knees / sizeof dust_knees[0];
    return dust_knees;
}

const trn_grease_knee *trn_interval_shock_knees(size_t *count)
{
    *count = sizeof shock_knees / sizeof shock_knees[0];
    return shock_knees;
}

#define ALONG(knees, x, logarithmic) along(knees, sizeof(knees) / sizeof(knees)[0], x, logarithmic)

trn_status trn_interval_grease_factor(double dust, double shock, double t_k, double load,
                                      double motion, trn_grease_factors *factors)
{
    if (!none_or_more(dust) || !(shock >= 1 - slack) || !isfinite(shock) || !none_or_more(t_k) ||
        !none_or_more(load) || !none_or_more(motion))
        return TRN_E_DOMAIN;
    double heat = 1; /* relubrication tables, published; absolute zero itself is cool enough */
    if (t_k > 0 && trn_grease_heat_factor(t_k, &heat) < 0)
        return TRN_E_DOMAIN;
    trn_grease_factors f = {
        .dust = ALONG(dust_knees, dust * 1e6, 1),
        .shock = ALONG(shock_knees, shock, 0),
        .heat = heat,
        .load = ALONG(load_knees, load, 0),
        .motion = motion > 1 ? 1 / motion : 1,
    };
    f.f = fmax(trn_interval_product_floor, f.dust * f.shock * f.heat * f.load * f.motion);
    *factors = f;
    return TRN_OK;
}

trn_status trn_interval_grease_ratio(double f, double f_ref, double *ratio)
{
    if (!(f > 0) || !(f <= 1) || !(f_ref > 0) || !(f_ref <= 1))
        return TRN_E_DOMAIN;
    *ratio = fmin(1, f / f_ref);
    return TRN_OK;
}

/* ---- sump --------------------------------------------------------------------------------- */

static int sump_holds(double oil_kg, double source, double removal, double equilibrium)
{
    return more_than_none(oil_kg) && none_or_more(source) && none_or_more(removal) &&
           none_or_more(equilibrium);
}

/* From start up to level. As ln(1 + x)/k with x = k times the time of the straight line's kind:
 * no digit is lost as k goes to 0. */
static double climb(double level, double start, double oil_kg, double source, double removal,
                    double equilibrium)
{
    if (start >= level)
        return 0;
    double gain = source / oil_kg;
    double pull = removal * (level - equilibrium);
    double net = gain - pull; /* slope of the content where it arrives */
    /* an equilibrium at the level itself is approached and never reached */
    if (!(net > 1e-12 * fabs(pull)))
        return INFINITY;
    double x = removal * ((level - start) / net);
    return x > 0 ? log1p(x) / removal : (level - start) / net;
}

trn_status trn_interval_budget(double budget, double oil_kg, double source, double removal,
                               double fresh, double equilibrium, double residual, double *start,
                               double *t_s)
{
    if (!more_than_none(budget) || !sump_holds(oil_kg, source, removal, equilibrium) ||
        !none_or_more(fresh) || !fraction_below_one(residual))
        return TRN_E_DOMAIN;
    double c0 = fresh + residual * (budget - fresh); /* = B exactly where C_new = B */
    double t = climb(budget, c0, oil_kg, source, removal, equilibrium);
    *start = c0;
    *t_s = t;
    return TRN_OK;
}

trn_status trn_interval_time_to(double level, double start, double oil_kg, double source,
                                double removal, double equilibrium, double *t_s)
{
    if (!none_or_more(level) || !none_or_more(start) ||
        !sump_holds(oil_kg, source, removal, equilibrium))
        return TRN_E_DOMAIN;
    *t_s = climb(level, start, oil_kg, source, removal, equilibrium);
    return TRN_OK;
}

trn_status trn_interval_content(double t_s, double start, double oil_kg, double source,
                                double removal, double equilibrium, double *content)
{
    if (!none_or_more(t_s) || !none_or_more(start) ||
        !sump_holds(oil_kg, source, removal, equilibrium))
        return TRN_E_DOMAIN;
    double kt = removal * t_s;
    double time = kt > 0 ? -expm1(-kt) / removal : t_s;
    *content = start + (source / oil_kg - removal * (start - equilibrium)) * time;
    return TRN_OK;
}

trn_status trn_interval_water_source(double w1, double w2, double dt_s, double oil_kg,
                                     double removal, double equilibrium, double *source)
{
    if (!none_or_more(w1) || !none_or_more(w2) || !more_than_none(dt_s) ||
        !sump_holds(oil_kg, 0, removal, equilibrium))
        return TRN_E_DOMAIN;
    double kt = removal * dt_s;
    double time = kt > 0 ? -expm1(-kt) / removal : dt_s;
    /* (w2 - C_eq) - (w1 - C_eq) e^(-kt), written so that k = 0 needs no case of its own */
    double s = oil_kg * ((w2 - w1) / time + removal * (w1 - equilibrium));
    *source = fmax(0, s);
    return TRN_OK;
}

trn_status trn_interval_drying(double t_k, double full_rate, double dry_k, double full_k,
                               double *removal)
{
    if (!none_or_more(t_k) || !none_or_more(full_rate) || !none_or_more(dry_k) ||
        !(full_k > dry_k) || !isfinite(full_k))
        return TRN_E_DOMAIN;
    *removal = full_rate * fmin(1, fmax(0, (t_k - dry_k) / (full_k - dry_k)));
    return TRN_OK;
}

trn_status trn_interval_intake(double silicon, double t_s, double oil_kg, double dust, double f_si,
                               double *source, double *intake)
{
    static const double silicon_of_silica = 0.467; /* atomic masses 28.09/60.08 */
    if (!none_or_more(silicon) || !more_than_none(t_s) || !more_than_none(oil_kg) ||
        !more_than_none(dust) || !(f_si > 0) || !(f_si <= silicon_of_silica * (1 + slack)))
        return TRN_E_DOMAIN;
    double s = silicon / f_si * oil_kg / t_s;
    double q = s / dust;
    if (!isfinite(s) || !isfinite(q))
        return TRN_E_DOMAIN;
    *source = s;
    *intake = q;
    return TRN_OK;
}

/* ---- ageing, additive, anchored ----------------------------------------------------------- */

static int ageing_holds(double life_s, double t1_s, double t2_s, double f_damp, double f_wet)
{
    return more_than_none(life_s) && t1_s >= 0 && t2_s >= t1_s && f_damp >= 1 &&
           f_wet >= f_damp && isfinite(f_wet);
}

trn_status trn_interval_ageing(double life_s, double t1_s, double t2_s, double f_damp,
                               double f_wet, double *t_s)
{
    if (!ageing_holds(life_s, t1_s, t2_s, f_damp, f_wet))
        return TRN_E_DOMAIN;
    double t = life_s;
    if (life_s > t1_s)
        t = t1_s + (life_s - t1_s) / f_damp;
    if (t > t2_s)
        t = t2_s + (life_s - t1_s - f_damp * (t2_s - t1_s)) / f_wet;
    *t_s = t;
    return TRN_OK;
}

trn_status trn_interval_aged(double t_s, double life_s, double t1_s, double t2_s, double f_damp,
                             double f_wet, double *spent)
{
    if (!none_or_more(t_s) || !ageing_holds(life_s, t1_s, t2_s, f_damp, f_wet))
        return TRN_E_DOMAIN;
    double dry = fmin(t_s, t1_s);
    double damp = t_s > t1_s ? fmin(t_s, t2_s) - t1_s : 0;
    double wet = t_s > t2_s ? t_s - t2_s : 0;
    *spent = (dry + f_damp * damp + f_wet * wet) / life_s;
    return TRN_OK;
}

trn_status trn_interval_additive_rate(double load_ratio, double t_k, double ref_k, double step_k,
                                      double *rate)
{
    if (!none_or_more(load_ratio) || !more_than_none(t_k) || !more_than_none(ref_k) ||
        !more_than_none(step_k))
        return TRN_E_DOMAIN;
    double r = load_ratio * exp2((t_k - ref_k) / step_k);
    if (!isfinite(r))
        return TRN_E_DOMAIN;
    *rate = r;
    return t_k >= (50 + zero_k) * (1 - slack) && t_k <= (110 + zero_k) * (1 + slack)
               ? TRN_OK
               : TRN_R_INTERVAL_ADDITIVE_RANGE;
}

trn_status trn_interval_anchored(double manual_s, double rate, double margin, double *t_s)
{
    if (!more_than_none(manual_s) || !none_or_more(rate) || !more_than_none(margin))
        return TRN_E_DOMAIN;
    *t_s = rate > 0 ? margin * manual_s / rate : INFINITY;
    return TRN_OK;
}

/* ---- clock -------------------------------------------------------------------------------- */

/* practice: tractor schedules 10 to 1000 h, implements from half a day (4 h) on */
static const double steps_h[] = {4,  8,   10,  20,  25,  40,  50,
                                 100, 125, 200, 250, 400, 500, 1000};

const double *trn_interval_steps_h(size_t *count)
{
    *count = sizeof steps_h / sizeof steps_h[0];
    return steps_h;
}

trn_status trn_interval_step(double t_s, double *step_s)
{
    double t_h = t_s / hour * (1 + slack);
    if (!isfinite(t_h) || !(t_h >= steps_h[0]))
        return TRN_E_DOMAIN;
    size_t i = sizeof steps_h / sizeof steps_h[0] - 1;
    while (steps_h[i] > t_h)
        i--;
    *step_s = steps_h[i] * hour;
    return TRN_OK;
}

trn_status trn_interval_visits(double t_s, double hours_s, double washes, double *visits)
{
    if (!more_than_none(t_s) || !more_than_none(hours_s) || !none_or_more(washes))
        return TRN_E_DOMAIN;
    double x = washes * (t_s / hours_s);
    double n = x > 0 ? washes / -expm1(-x) : hours_s / t_s;
    if (!isfinite(n))
        return TRN_E_DOMAIN;
    *visits = n;
    return TRN_OK;
}

/* ---- recalled, not yet compared with the printed source -------------------------------------- */

const trn_constant trn_constants_interval[] = {
    {"gft3.dust.1", "GfT Arbeitsblatt 3", "relubrication factors",
     "factor at the edge 1 of the bands of dust", "1",
     "interval.grease_factor", &dust_knees[0].f},
    {"gft3.dust.2", "GfT Arbeitsblatt 3", "relubrication factors",
     "factor at the edge 2 of the bands of dust", "1",
     "interval.grease_factor", &dust_knees[1].f},
    {"gft3.dust.3", "GfT Arbeitsblatt 3", "relubrication factors",
     "factor at the edge 3 of the bands of dust", "1",
     "interval.grease_factor", &dust_knees[2].f},
    {"gft3.dust.4", "GfT Arbeitsblatt 3", "relubrication factors",
     "factor at the edge 4 of the bands of dust", "1",
     "interval.grease_factor", &dust_knees[3].f},
    {"gft3.shock.1", "GfT Arbeitsblatt 3", "relubrication factors",
     "factor at the edge 1 of the bands of shock", "1",
     "interval.grease_factor", &shock_knees[0].f},
    {"gft3.shock.2", "GfT Arbeitsblatt 3", "relubrication factors",
     "factor at the edge 2 of the bands of shock", "1",
     "interval.grease_factor", &shock_knees[1].f},
    {"gft3.shock.3", "GfT Arbeitsblatt 3", "relubrication factors",
     "factor at the edge 3 of the bands of shock", "1",
     "interval.grease_factor", &shock_knees[2].f},
    {"gft3.shock.4", "GfT Arbeitsblatt 3", "relubrication factors",
     "factor at the edge 4 of the bands of shock", "1",
     "interval.grease_factor", &shock_knees[3].f},
    {"gft3.shock.5", "GfT Arbeitsblatt 3", "relubrication factors",
     "factor at the edge 5 of the bands of shock", "1",
     "interval.grease_factor", &shock_knees[4].f},
    {"gft3.load.1", "GfT Arbeitsblatt 3", "relubrication factors",
     "factor at the edge 1 of the bands of P/C", "1",
     "interval.grease_factor", &load_knees[0].f},
    {"gft3.load.2", "GfT Arbeitsblatt 3", "relubrication factors",
     "factor at the edge 2 of the bands of P/C", "1",
     "interval.grease_factor", &load_knees[1].f},
    {"gft3.load.3", "GfT Arbeitsblatt 3", "relubrication factors",
     "factor at the edge 3 of the bands of P/C", "1",
     "interval.grease_factor", &load_knees[2].f},
    {"gft3.load.4", "GfT Arbeitsblatt 3", "relubrication factors",
     "factor at the edge 4 of the bands of P/C", "1",
     "interval.grease_factor", &load_knees[3].f},
    {"gft3.load_edge.1", "GfT Arbeitsblatt 3", "relubrication factors",
     "edge 1 of the bands of P/C", "1",
     "interval.grease_factor", &load_knees[0].x},
    {"gft3.load_edge.2", "GfT Arbeitsblatt 3", "relubrication factors",
     "edge 2 of the bands of P/C", "1",
     "interval.grease_factor", &load_knees[1].x},
    {"gft3.load_edge.3", "GfT Arbeitsblatt 3", "relubrication factors",
     "edge 3 of the bands of P/C", "1",
     "interval.grease_factor", &load_knees[2].x},
    {"gft3.load_edge.4", "GfT Arbeitsblatt 3", "relubrication factors",
     "edge 4 of the bands of P/C", "1",
     "interval.grease_factor", &load_knees[3].x},
};
const size_t trn_constants_interval_count =
    sizeof trn_constants_interval / sizeof trn_constants_interval[0];
