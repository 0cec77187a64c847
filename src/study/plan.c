/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The service plan of a year: when each task comes next, how it goes on, what it takes. */
#include "plan.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/clock.h>
#include <trunnion/interval_rows.h>
#include <trunnion/schema.h>

#include "service_points.h"
#include "study.h"

static const double equal = 1e-9;
static const double day_h = 8;      /* a working day is 8 to 10 h, as `daily` in a manual */
static const double long_day_h = 10;
static const double half_day_h = 4;

bool trn_interval_is_routine(double interval_h)
{
    return interval_h > 0 && interval_h <= long_day_h * (1 + equal);
}

void trn_interval_words(double interval_h, char *out, size_t size)
{
    if (!trn_interval_is_routine(interval_h) || interval_h < half_day_h * (1 - equal))
        (void)snprintf(out, size, "every %.4g h", interval_h);
    else
        (void)snprintf(out, size, "%s",
                       interval_h < day_h * (1 - equal) ? "twice a day" : "each working day");
}

/* ---- when a task is due --------------------------------------------------------------------- */

typedef struct round_ {
    double every_h;
    double first_h;   /* from now; 0: at once */
    double overdue_h;
    double due_h;     /* hour meter at the first; NaN */
    size_t visits;    /* in the year */
} round_;

static size_t fit(double interval, double from, double year)
{
    if (from > year * (1 + equal))
        return 0;
    return 1 + (size_t)floor((year - from) / interval * (1 + 1e-12) + equal);
}

static round_ round_of(const trn_machine *m, const trn_point *p, double interval)
{
    double now = m->head.machine_hours;
    double year = m->head.hours_per_year;
    double due = p->last_done + interval;
    round_ r = {.every_h = interval, .first_h = interval, .due_h = isnan(due) ? now + interval : due};
    if (!isnan(due) && !isnan(now)) {
        r.first_h = due - now;
        if (r.first_h < equal * interval) {
            r.overdue_h = fmax(0, -r.first_h);
            r.first_h = 0;
        }
    }
    r.visits = fit(interval, r.first_h, year);
    if (r.visits == 0) { /* due at none of them: once in the year all the same */
        r.visits = 1;
        r.first_h = year;
        r.due_h = isnan(due) || isnan(now) ? now + year : fmin(due, now + year);
    }
    return r;
}

static int by_visit(const void *a, const void *b)
{
    const trn_visit_row *p = a;
    const trn_visit_row *q = b;
    if (fabs(p->visit_h - q->visit_h) > equal * fmax(p->visit_h, q->visit_h))
        return p->visit_h < q->visit_h ? -1 : 1;
    return p->point < q->point ? -1 : p->point > q->point;
}

static bool is_grease(const trn_point *p)
{
    return trn_grease_factors_of((trn_task)p->task) != 0;
}

static bool list_visits(const trn_results *r, trn_extras *x)
{
    const trn_machine *m = r->machine;
    size_t most = 0;
    for (size_t i = 0; i < m->points_count; i++)
        if (r->points[i].recommended_h > 0)
            most += round_of(m, &m->points[i], r->points[i].recommended_h).visits;
    x->visits = calloc(most + 1, sizeof *x->visits);
    if (!x->visits)
        return false;
    for (size_t i = 0; i < m->points_count; i++) {
        const trn_point *p = &m->points[i];
        if (!(r->points[i].recommended_h > 0))
            continue;
        round_ round = round_of(m, p, r->points[i].recommended_h);
        for (size_t k = 0; k < round.visits; k++) {
            double later = round.every_h * (double)k;
            x->visits[x->visits_count++] =
                (trn_visit_row){.visit_h = round.first_h + later,
                                .point = i,
                                .quantity_g = p->quantity * 1000 * p->fittings,
                                .minutes = p->minutes,
                                /* after an overdue one the hours count from now */
                                .due_h = k > 0 && round.overdue_h > 0
                                             ? m->head.machine_hours + later
                                             : round.due_h + later};
        }
    }
    qsort(x->visits, x->visits_count, sizeof *x->visits, by_visit);
    return true;
}

/* ---- lines ---------------------------------------------------------------------------------- */

static trn_plan_row blank(void)
{
    return (trn_plan_row){.visit_h = NAN, .point = TRN_NONE, .task = "", .quantity_g = NAN,
                          .minutes = NAN, .due_h = NAN, .every_h = NAN, .times = NAN,
                          .fittings = NAN, .strokes_each = NAN, .strokes = NAN, .oil_l = NAN,
                          .source = "", .cost_manual = NAN, .cost_recommended = NAN};
}

static void add_to(double *total, double x)
{
    if (!isnan(x))
        *total = isnan(*total) ? x : *total + x;
}

static const char *task_word(int task)
{
    return trn_column_find(trn_table_find("points"), "task")->words[task];
}

static void why_of(const trn_machine *m, const trn_point_row *row, char *out, size_t size)
{
    const trn_nominal *n = &row->nominal;
    trn_cause cause = row->governed_by;
    if (m->points[row->point].task == TRN_TASK_OTHER && !row->severe)
        (void)snprintf(out, size, "planned as the manual says");
    else if (cause == TRN_CAUSE_SEVERE || (cause == TRN_CAUSE_CALENDAR && row->severe))
        (void)snprintf(out, size, "the manual's own for severe service, in %.3g mg/m3 of dust",
                       row->dust_mg_m3);
    else if (cause == TRN_CAUSE_CALENDAR)
        (void)snprintf(out, size, "the year has fewer hours than the interval");
    else if (cause == TRN_CAUSE_MANUAL || cause >= TRN_LIMITS)
        (void)snprintf(out, size, "the manual's interval; nothing here shortens it");
    else if (isfinite(n->limit[cause].rate) && n->limit[cause].worst < m->duty_count)
        (void)snprintf(out, size, "%s, %.2g times the manual's reference, most in %s",
                       trn_cause_word(cause), n->limit[cause].rate,
                       m->duty[n->limit[cause].worst].condition);
    else
        (void)snprintf(out, size, "%s", trn_cause_word(cause));
}

static void when_of(const trn_machine *m, const trn_point *p, const round_ *round,
                    trn_plan_row *row)
{
    size_t used = 0;
    bool longer = round->every_h > m->head.hours_per_year * (1 + equal);
    if (round->overdue_h > 0) {
        double by_manual = p->last_done + p->manual_interval;
        int n = by_manual > m->head.machine_hours
                    ? snprintf(row->when, sizeof row->when,
                               "due now (by the manual at %.5g h); then ", by_manual)
                    : snprintf(row->when, sizeof row->when, "overdue by %.4g h; then ",
                               round->overdue_h);
        used = n > 0 ? (size_t)n : 0;
    }
    if (longer)
        (void)snprintf(row->when + used, sizeof row->when - used, "%s",
                       p->task == TRN_TASK_CHANGE_OIL ? "once a year, after the season"
                                                      : "once a year");
    else
        trn_interval_words(round->every_h, row->when + used, sizeof row->when - used);
}

/* Cost of a year's services at an interval. */
static double cost_of(const trn_results *r, size_t point, double interval)
{
    const trn_machine *m = r->machine;
    const trn_point *p = &m->points[point];
    trn_service_point sp;
    trn_service_point_of(m, r, point, &sp);
    (void)trn_duty_states_of(m, r, point, r->states);
    double times = trn_times_per_year(&sp, r->states, m->duty_count, interval,
                                      m->head.hours_per_year, NULL);
    if (p->task == TRN_TASK_CHANGE_OIL && p->gearbox_index != TRN_NONE)
        return times * m->gearboxes[p->gearbox_index].change_cost;
    return times * p->minutes / 60 * m->head.labour_rate;
}

static void fill_grease(const trn_machine *m, const trn_point *p, trn_plan_row *row)
{
    row->fittings = p->fittings;
    row->strokes_each = ceil(p->quantity / m->head.grams_per_stroke - 1e-6);
    row->strokes = row->strokes_each * p->fittings;
}

static trn_plan_row line_of(const trn_results *r, size_t point)
{
    const trn_machine *m = r->machine;
    const trn_point *p = &m->points[point];
    round_ round = round_of(m, p, r->points[point].recommended_h);
    trn_plan_row row = blank();
    row.visit_h = round.first_h;
    row.point = point;
    (void)snprintf(row.name, sizeof row.name, "%s", p->point);
    row.task = task_word(p->task);
    row.quantity_g = p->quantity * 1000 * p->fittings;
    row.minutes = p->minutes;
    row.due_h = round.due_h;
    row.overdue_h = round.overdue_h;
    row.every_h = round.every_h;
    row.times = (double)round.visits;
    if (is_grease(p))
        fill_grease(m, p, &row);
    if (p->task == TRN_TASK_CHANGE_OIL && p->gearbox_index != TRN_NONE)
        row.oil_l = m->gearboxes[p->gearbox_index].oil_volume * 1000;
    when_of(m, p, &round, &row);
    trn_interval_words(p->manual_interval, row.manual, sizeof row.manual);
    why_of(m, &r->points[point], row.why, sizeof row.why);
    row.source = p->source ? p->source : "";
    row.cost_manual = cost_of(r, point, p->manual_interval);
    row.cost_recommended = cost_of(r, point, round.every_h);
    return row;
}

/* ---- events --------------------------------------------------------------------------------- */

static void append_name(trn_plan_row *row, const char *name)
{
    size_t used = strlen(row->name);
    size_t room = sizeof row->name - used;
    if (strlen(name) + 8 < room)
        (void)snprintf(row->name + used, room, "%s%s", used ? "; " : "", name);
    else if (used > 4 && strcmp(row->name + used - 4, " ...") != 0)
        (void)snprintf(row->name + used, room, " ...");
}

/* One line for all first changes of one hour. */
static bool first_change(const trn_results *r, size_t point, trn_plan_row *row)
{
    const trn_machine *m = r->machine;
    double hour = r->points[point].first_change_h;
    *row = blank();
    for (size_t i = 0; i < m->points_count; i++) {
        const trn_point *p = &m->points[i];
        if (!(fabs(r->points[i].first_change_h - hour) <= equal * hour) ||
            !(hour < r->points[i].recommended_h * (1 - equal)))
            continue;
        if (i < point)
            return false; /* told there */
        append_name(row, p->point);
        add_to(&row->minutes, p->minutes);
        if (p->gearbox_index != TRN_NONE)
            add_to(&row->oil_l, m->gearboxes[p->gearbox_index].oil_volume * 1000);
    }
    if (row->name[0] == '\0')
        return false;
    row->visit_h = hour;
    row->task = task_word(TRN_TASK_CHANGE_OIL);
    (void)snprintf(row->when, sizeof row->when, "once, only a new or rebuilt gearbox");
    (void)snprintf(row->why, sizeof row->why, "wear of running in does harm as long as it stays");
    return true;
}

static double washes(const trn_machine *m)
{
    double sum = 0;
    for (size_t i = 0; i < m->duty_count; i++)
        sum += m->duty[i].share * m->duty[i].washes_per_100h / 100;
    return sum * m->head.hours_per_year;
}

static void grease_all(const trn_results *r, trn_extras *x)
{
    const trn_machine *m = r->machine;
    trn_plan_row row = blank();
    size_t points = 0;
    for (size_t i = 0; i < m->points_count; i++) {
        const trn_point *p = &m->points[i];
        trn_plan_row own = blank();
        if (!is_grease(p))
            continue;
        points++;
        fill_grease(m, p, &own);
        add_to(&row.fittings, p->fittings);
        add_to(&row.strokes, own.strokes);
        if (isnan(own.strokes))
            row.fittings_open += p->fittings;
        add_to(&row.quantity_g, p->quantity * 1000 * p->fittings);
        add_to(&row.minutes, p->minutes);
    }
    if (points == 0)
        return;
    static const struct {
        const char *when, *why;
    } events[] = {{"after each wash", "water drives grease out, whatever the hours"},
                  {"before storage", "clean grease keeps water out over the winter"},
                  {"start of the season", "grease that stood has parted from its oil"}};
    double hours[] = {NAN, m->head.hours_per_year, 0};
    double times[] = {washes(m), 1, 1};
    (void)snprintf(row.name, sizeof row.name, "every grease fitting");
    row.task = "grease_all";
    for (size_t i = 0; i < 3; i++) {
        row.visit_h = hours[i];
        row.times = times[i];
        (void)snprintf(row.when, sizeof row.when, "%s", events[i].when);
        (void)snprintf(row.why, sizeof row.why, "%s", events[i].why);
        x->plan[x->plan_count++] = row;
    }
}

/* By hour, what has none at the end; then as the points stand, events after them. */
static int by_hour(const void *a, const void *b)
{
    const trn_plan_row *p = a;
    const trn_plan_row *q = b;
    double x = p->visit_h;
    double y = q->visit_h;
    if (isnan(x) != isnan(y))
        return isnan(x) ? 1 : -1;
    if (fabs(x - y) > equal * fmax(x, y))
        return x < y ? -1 : 1;
    return p->point < q->point ? -1 : p->point > q->point;
}

bool trn_plan_make(const trn_results *r, trn_extras *x)
{
    enum { EVENTS = 3 };
    const trn_machine *m = r->machine;
    x->plan = calloc(2 * m->points_count + EVENTS + 1, sizeof *x->plan);
    x->season_cost_manual = x->season_cost_recommended = NAN;
    if (!x->plan || !list_visits(r, x))
        return false;
    for (size_t i = 0; i < m->points_count; i++) {
        trn_plan_row *row = &x->plan[x->plan_count];
        if (!(r->points[i].recommended_h > 0))
            continue;
        *row = line_of(r, i);
        add_to(&x->season_cost_manual, row->cost_manual);
        add_to(&x->season_cost_recommended, row->cost_recommended);
        x->plan_count++;
        trn_plan_row first;
        if (first_change(r, i, &first))
            x->plan[x->plan_count++] = first;
    }
    grease_all(r, x);
    qsort(x->plan, x->plan_count, sizeof *x->plan, by_hour);
    return true;
}
