/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a change of interval buys: the manual's, the recommended and the cheapest one. */
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/clock.h>
#include <trunnion/interval.h>
#include <trunnion/interval_rows.h>

#include "cleanliness.h"
#include "draws_inside.h"
#include "ledger.h"
#include "service_points.h"

static const double hour = 3600;
static const double ppm = 1e-6;
static const double mg_h = 1e-6 / 3600.0;

enum { GEARBOX_ROWS = 12, MACHINE_ROWS = 5, INTERVALS = 3 };

typedef struct box {
    const trn_results *r;
    const trn_machine *m;
    size_t gearbox, point;
    trn_service_point sp;
    trn_interval_settings settings;
    double dust_mg_h;             /* NaN: no intake known */
    double interval_h[INTERVALS]; /* manual, recommended, cheapest */
    bool failed;
} box;

static void add(trn_ledger *out, const char *object, const char *quantity,
                const double x[INTERVALS], const char *unit, const char *basis)
{
    out->buys[out->buys_count++] = (trn_buys_row){.object = object, .quantity = quantity,
                                                  .manual = x[0], .recommended = x[1],
                                                  .cheapest = x[2], .unit = unit, .basis = basis};
}

static const char *currency(const trn_machine *m)
{
    return m->head.currency ? m->head.currency : "currency";
}

/* ---- bearings -------------------------------------------------------------------------------- */

static bool same_class(const trn_cleanliness *a, const trn_cleanliness *b)
{
    return a->beyond == b->beyond && (a->beyond || a->clean == b->clean);
}

/* Dust content up to which the oil counts as clean as at `from`, not above `to`. */
static double class_end(const box *b, double from, double to, const trn_cleanliness *here,
                        double *next)
{
    trn_cleanliness there = trn_cleanliness_of_dust(b->m, b->gearbox, to, NULL);
    *next = to;
    if (same_class(here, &there))
        return to;
    for (int i = 0; i < 200; i++) {
        double middle = from + (*next - from) / 2;
        if (!(middle > from && middle < *next))
            break;
        there = trn_cleanliness_of_dust(b->m, b->gearbox, middle, NULL);
        if (same_class(here, &there))
            from = middle;
        else
            *next = middle;
    }
    return from;
}

/* Life at the reliability asked for and at 90 %: time mean of damage while the dust rises from
 * what the last fill left behind. */
static void life_over_cycle(const box *b, size_t bearing, double interval_h, double *life_h,
                            double *l10_h)
{
    double brings = b->dust_mg_h * interval_h / b->sp.oil_kg;
    double from = brings * b->sp.residual / (1 - b->sp.residual);
    double to = from + brings;
    double per_h = 0;
    double l10_per_h = 0;
    for (double at = from;;) {
        double next = to;
        trn_cleanliness clean = trn_cleanliness_of_dust(b->m, b->gearbox, at, NULL);
        double end = class_end(b, at, to, &clean, &next);
        double part = to > from ? (end - at) / (to - from) : 1;
        trn_clean_damage damage = trn_damage_when(b->m, b->r, bearing, &clean);
        per_h += part * damage.per_h;
        l10_per_h += part * damage.l10_per_h;
        if (next >= to)
            break;
        at = next;
    }
    *life_h = 1 / per_h;
    *l10_h = 1 / l10_per_h;
}

/* Weakest bearing and survival of all up to the design life. */
static void bearings(const box *b, double interval_h, double *life_h, double *survival_pct)
{
    double survival = 1;
    *life_h = *survival_pct = NAN;
    if (!isfinite(interval_h) || isnan(b->dust_mg_h))
        return;
    for (size_t i = 0; i < b->m->bearings_count; i++) {
        double life = NAN;
        double in[4] = {b->m->head.design_life, NAN, NAN, NAN};
        double one = 1;
        if (b->m->axles[b->m->bearings[i].axle_index].gearbox_index != b->gearbox)
            continue;
        life_over_cycle(b, i, interval_h, &life, &in[1]);
        if (isnan(life))
            continue;
        if (!(life >= *life_h))
            *life_h = life;
        if (isfinite(life) && trn_step(NULL, TRN_STEP_BEARING_SURVIVAL, in, &one) < 0)
            one = NAN;
        survival *= one;
    }
    if (!isnan(*life_h))
        *survival_pct = 100 * survival;
}

/* ---- wear and cost --------------------------------------------------------------------------- */

static double c_s_ppm(void)
{
    return trn_choice_value(TRN_CHOICE_DUST_BUDGET);
}

/* Wear against clean oil, time mean over a steady cycle. */
static double relative_wear(const box *b, double interval_h)
{
    double rho = b->sp.residual;
    return 1 + b->dust_mg_h * interval_h / (b->sp.oil_kg * c_s_ppm()) * (1 / (1 - rho) - 0.5);
}

static double cost_per_h(const box *b, double interval_h, double dust_mg_h, double c_s)
{
    const trn_gearbox *g = &b->m->gearboxes[b->gearbox];
    double per_s = NAN;
    (void)trn_interval_oil_cost_at(interval_h * hour, b->sp.residual, g->change_cost,
                                   g->gearbox_cost, b->m->head.design_life * hour, c_s * ppm,
                                   b->sp.oil_kg, dust_mg_h * mg_h, &per_s);
    return per_s * hour;
}

static double cheapest_h(const box *b)
{
    const trn_gearbox *g = &b->m->gearboxes[b->gearbox];
    double t = NAN;
    double per_s = NAN;
    (void)trn_interval_oil_cost_best(b->sp.residual, g->change_cost, g->gearbox_cost,
                                     b->m->head.design_life * hour, c_s_ppm() * ppm, b->sp.oil_kg,
                                     b->dust_mg_h * mg_h, &t, &per_s);
    return t / hour;
}

/* Mean dust of the duty at which recommended and manual interval cost the same; above it the
 * recommended one is the cheaper. Where they are the same interval: dust that makes it the
 * cheapest of all. */
static double break_even_mg_m3(const box *b)
{
    const trn_gearbox *g = &b->m->gearboxes[b->gearbox];
    double rho = b->sp.residual;
    double source = g->change_cost * b->sp.oil_kg * c_s_ppm() * b->m->head.design_life /
                    (g->gearbox_cost * (1 / (1 - rho) - 0.5) * b->interval_h[0] *
                     b->interval_h[1]); /* mg/h */
    return source * 1000 / b->sp.intake_l_h;
}

/* A spread against the median 1. */
static trn_spread spread_of(trn_spread spread, double median)
{
    if (spread.kind == TRN_SPREAD_NORMAL || spread.kind == TRN_SPREAD_UNIFORM)
        spread.size /= median;
    return spread;
}

/* 10 and 90 % of the source over the dust that doubles wear, against its median, in the draws:
 * the cost rises with it, so its quantiles lie there. NaN without draws. */
static bool wear_spread(const box *b, double *low, double *high)
{
    const trn_draws *d = b->r->draws;
    *low = *high = NAN;
    if (!d || isnan(b->dust_mg_h))
        return true;
    size_t n = d->normals.draws;
    double *ratio = malloc((n + 1) * sizeof *ratio);
    if (!ratio)
        return false;
    const trn_spread *spread = d->settings.spread;
    const double *z = d->normals.z;
    for (size_t k = 0; k < n; k++) {
        double intake = trn_spread_draw(1, spread_of(spread[TRN_DRAW_INTAKE], b->sp.intake_l_h),
                                        z[TRN_DRAW_INTAKE * d->normals.room + k]);
        double c_s = trn_spread_draw(1, spread_of(spread[TRN_DRAW_DUST_BUDGET], c_s_ppm()),
                                     z[TRN_DRAW_DUST_BUDGET * d->normals.room + k]);
        ratio[k] = c_s > 0 ? fmax(0, intake) / c_s : INFINITY; /* bounds of the draw */
    }
    *low = trn_draw_quantile(ratio, n, 0.1);
    *high = trn_draw_quantile(ratio, n, 0.9);
    free(ratio);
    return true;
}

/* Cost an hour where the dust wears by a factor more. */
static double cost_with(const box *b, double interval_h, double ratio)
{
    if (!isfinite(ratio))
        return ratio; /* NaN: no draws */
    return cost_per_h(b, interval_h, b->dust_mg_h * fmax(ratio, 1e-12), c_s_ppm());
}

/* ---- rows ------------------------------------------------------------------------------------ */

static void add_services(const box *b, trn_ledger *out)
{
    const trn_machine *m = b->m;
    const trn_gearbox *g = &m->gearboxes[b->gearbox];
    double times[INTERVALS];
    double oil[INTERVALS];
    double work[INTERVALS];
    double cost[INTERVALS];
    double lost = b->sp.top_up_l_h > 0 ? b->sp.top_up_l_h * m->head.hours_per_year : 0;
    (void)trn_duty_states_of(m, b->r, b->point, b->r->states);
    for (size_t k = 0; k < INTERVALS; k++) {
        times[k] = b->interval_h[k] > 0
                       ? trn_times_per_year(&b->sp, b->r->states, m->duty_count, b->interval_h[k],
                                            m->head.hours_per_year, NULL)
                       : NAN;
        oil[k] = times[k] * b->sp.oil_l * (1 - b->sp.residual) + lost;
        work[k] = times[k] * m->points[b->point].minutes / 60;
        cost[k] = times[k] * g->change_cost;
    }
    add(out, g->gearbox, "changes_per_year", times, "1", "at least one a year");
    add(out, g->gearbox, "oil_per_year", oil, "L", "drained at the changes, and topped up");
    add(out, g->gearbox, "work_per_year", work, "h", "minutes of the change");
    add(out, g->gearbox, "changes_cost_per_year", cost, currency(m), "change_cost");
}

static void add_lives(const box *b, trn_ledger *out)
{
    const char *basis = isnan(b->dust_mg_h) ? "dust intake not known"
                                            : "damage over a cycle, dust rising from change to "
                                              "change";
    double life[INTERVALS];
    double survival[INTERVALS];
    double wear[INTERVALS];
    for (size_t k = 0; k < INTERVALS; k++) {
        bearings(b, b->interval_h[k], &life[k], &survival[k]);
        wear[k] = relative_wear(b, b->interval_h[k]);
    }
    const char *name = b->m->gearboxes[b->gearbox].gearbox;
    add(out, name, "bearing_life", life, "h", basis);
    add(out, name, "reliability_at_design_life", survival, "%", basis);
    add(out, name, "relative_wear", wear, "1",
        isnan(b->dust_mg_h) ? basis : "1 is clean oil, 2 at the chosen dust content");
}

/* The cost over the interval, well past the three that are compared. */
static void add_curve(const box *b, double least, double most, trn_ledger *out)
{
    double shortest = INFINITY;
    double longest = 0;
    double year = b->m->head.hours_per_year;
    for (size_t k = 0; k < INTERVALS; k++)
        if (isfinite(b->interval_h[k]) && b->interval_h[k] > 0) {
            shortest = fmin(shortest, b->interval_h[k]);
            longest = fmax(longest, b->interval_h[k]);
        }
    for (size_t i = 0; i < TRN_COST_POINTS && longest > 0; i++) {
        double part = (double)i / (TRN_COST_POINTS - 1);
        double t = shortest / 3 * pow(9 * longest / shortest, part);
        out->costs[out->costs_count++] = (trn_cost_row){
            .gearbox = b->gearbox, .interval_h = t,
            .cost = year * cost_per_h(b, t, b->dust_mg_h, c_s_ppm()),
            .low = year * cost_with(b, t, least), .high = year * cost_with(b, t, most)};
    }
}

static bool add_costs(const box *b, trn_ledger *out)
{
    const char *name = b->m->gearboxes[b->gearbox].gearbox;
    double year = b->m->head.hours_per_year;
    double cost[INTERVALS];
    double yearly[INTERVALS];
    double low[INTERVALS];
    double high[INTERVALS];
    double least = NAN;
    double most = NAN;
    bool whole = wear_spread(b, &least, &most);
    for (size_t k = 0; k < INTERVALS; k++) {
        cost[k] = cost_per_h(b, b->interval_h[k], b->dust_mg_h, c_s_ppm());
        yearly[k] = cost[k] * year;
        low[k] = cost_with(b, b->interval_h[k], least) * year;
        high[k] = cost_with(b, b->interval_h[k], most) * year;
    }
    if (!isnan(cost[0]))
        add_curve(b, least, most, out);
    const char *basis = isnan(cost[0]) ? "needs dust intake, change_cost and gearbox_cost"
                                       : "changes and wear; no sudden failure, no ageing";
    add(out, name, "cost_per_hour", cost, currency(b->m), basis);
    add(out, name, "cost_per_year", yearly, currency(b->m), basis);
    add(out, name, "cost_per_year_low", low, currency(b->m), "10 % of the draws");
    add(out, name, "cost_per_year_high", high, currency(b->m), "90 % of the draws");
    double even[INTERVALS] = {NAN, break_even_mg_m3(b), NAN};
    add(out, name, "break_even_dust", even, "mg/m3",
        "mean dust from which the shorter interval is the cheaper");
    return whole;
}

static size_t change_point(const trn_machine *m, size_t gearbox)
{
    size_t found = TRN_NONE;
    for (size_t i = 0; i < m->points_count; i++)
        if (m->points[i].gearbox_index == gearbox && m->points[i].task == TRN_TASK_CHANGE_OIL &&
            (found == TRN_NONE || m->points[i].manual_interval < m->points[found].manual_interval))
            found = i;
    return found;
}

static bool add_gearbox(const trn_results *r, size_t gearbox, trn_ledger *out)
{
    const trn_machine *m = r->machine;
    box b = {.r = r, .m = m, .gearbox = gearbox, .point = change_point(m, gearbox)};
    if (b.point == TRN_NONE)
        return true;
    const trn_point_row *row = &r->points[b.point];
    trn_service_point_of(m, r, b.point, &b.sp);
    b.dust_mg_h = trn_dust_source(m, r, gearbox);
    b.interval_h[0] = row->manual_h;
    b.interval_h[1] = row->recommended_h;
    b.interval_h[2] = cheapest_h(&b);
    add(out, m->gearboxes[gearbox].gearbox, "interval", b.interval_h, "h",
        "the cheapest stands beside the recommendation, never instead");
    add_services(&b, out);
    add_lives(&b, out);
    return add_costs(&b, out);
}

/* ---- the machine ----------------------------------------------------------------------------- */

/* Sums of what is known; NaN where nothing is. */
static void sum(double *total, double x)
{
    if (!isnan(x))
        *total = isnan(*total) ? x : *total + x;
}

static void add_machine(const trn_results *r, trn_ledger *out)
{
    const trn_machine *m = r->machine;
    double visits[INTERVALS] = {NAN, NAN, NAN};
    double work[2][INTERVALS] = {{NAN, NAN, NAN}, {NAN, NAN, NAN}}; /* grease, all */
    double cost[2][INTERVALS] = {{NAN, NAN, NAN}, {NAN, NAN, NAN}};
    for (size_t i = 0; i < m->points_count; i++) {
        const trn_point *p = &m->points[i];
        trn_service_point sp;
        if (isnan(r->points[i].recommended_h))
            continue; /* in neither sum */
        trn_service_point_of(m, r, i, &sp);
        (void)trn_duty_states_of(m, r, i, r->states);
        bool grease = trn_grease_factors_of(sp.task) != 0;
        for (size_t k = 0; k < 2; k++) {
            double h = k == 0 ? p->manual_interval : r->points[i].recommended_h;
            double times = trn_times_per_year(&sp, r->states, m->duty_count, h,
                                              m->head.hours_per_year, NULL);
            double hours = times * p->minutes / 60;
            double money = sp.task == TRN_TASK_CHANGE_OIL && p->gearbox_index != TRN_NONE
                               ? times * m->gearboxes[p->gearbox_index].change_cost
                               : hours * m->head.labour_rate;
            sum(&work[1][k], hours);
            sum(&cost[1][k], money);
            if (!grease)
                continue;
            sum(&visits[k], times);
            sum(&work[0][k], hours);
            sum(&cost[0][k], money);
        }
    }
    const char *name = "machine";
    add(out, name, "greasings_per_year", visits, "1", "washes call for one each");
    add(out, name, "grease_work_per_year", work[0], "h", "points with minutes");
    add(out, name, "grease_cost_per_year", cost[0], currency(m), "labour_rate");
    add(out, name, "work_per_year", work[1], "h", "points with minutes");
    add(out, name, "service_cost_per_year", cost[1], currency(m),
        "labour_rate, change_cost; no wear, no grease");
}

bool trn_ledger_buys(trn_results *r, trn_ledger *out)
{
    const trn_machine *m = r->machine;
    bool whole = true;
    out->buys = calloc(m->gearboxes_count * (GEARBOX_ROWS + 1) + MACHINE_ROWS, sizeof *out->buys);
    out->costs = calloc(m->gearboxes_count * TRN_COST_POINTS + 1, sizeof *out->costs);
    if (!out->buys || !out->costs)
        return false;
    for (size_t g = 0; g < m->gearboxes_count; g++)
        whole = add_gearbox(r, g, out) && whole;
    if (m->points_count > 0)
        add_machine(r, out);
    return whole;
}
