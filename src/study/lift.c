/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fit of each shaft over its whole sweep: shortest, longest, largest angle, stops. */
#include <trunnion/lift.h>

#include <gsl/gsl_errno.h>
#include <gsl/gsl_min.h>
#include <stdio.h>
#include <string.h>

#include "../ground/root.h"
#include "stretch.h"
#include "study.h"

enum { GRID = 48 }; /* steps of a stretch between two rows that bracket what is looked for */

static const double met = 1e-9; /* m: a bound that is just met counts as met */

const char *trn_fit_word(trn_fit fit)
{
    static const char *const words[] = {"", "yes", "no: cut both halves",
                                        "no: another shaft length"};
    return words[fit];
}

trn_status trn_shaft_cut(double clearance_m, double overlap_m, double clearance_needed_m,
                         double *cut_m, double *overlap_after_m)
{
    if (!isfinite(clearance_m) || !isfinite(overlap_m) || !(clearance_needed_m >= 0) ||
        !isfinite(clearance_needed_m))
        return TRN_E_DOMAIN;
    double lacking = clearance_needed_m - clearance_m;
    double cut = lacking > met ? TRN_CUT_STEP_M * ceil((lacking - met) / TRN_CUT_STEP_M) : 0;
    *cut_m = cut;
    *overlap_after_m = overlap_m - 2 * cut;
    return TRN_OK;
}

/* ---- extremes ------------------------------------------------------------------------------- */

typedef double (*measure)(const trn_place *p);

static double shortness(const trn_place *p)
{
    return p->length;
}

static double longness(const trn_place *p)
{
    return -p->length;
}

static double bend(const trn_place *p)
{
    return -p->angle;
}

typedef struct looked_for {
    const trn_stretch *along;
    measure of; /* is made as small as it can be */
} looked_for;

static double value_at(double share, void *context)
{
    const looked_for *l = context;
    trn_place p;
    return trn_stretch_place(l->along, share, &p) ? l->of(&p) : NAN;
}

/* Minimum between a and c, b being lower than both: Brent's method. */
static double refine(looked_for *l, double a, double b, double c)
{
    gsl_min_fminimizer *solver = gsl_min_fminimizer_alloc(gsl_min_fminimizer_brent);
    gsl_function function = {.function = value_at, .params = l};
    if (solver && gsl_min_fminimizer_set(solver, &function, b, a, c) == GSL_SUCCESS) {
        int status = GSL_CONTINUE;
        for (int i = 0; i < 100 && status == GSL_CONTINUE; i++) {
            if (gsl_min_fminimizer_iterate(solver) != GSL_SUCCESS)
                break;
            status = gsl_min_test_interval(gsl_min_fminimizer_x_lower(solver),
                                           gsl_min_fminimizer_x_upper(solver), 1e-9, 0);
        }
        b = gsl_min_fminimizer_x_minimum(solver);
    }
    gsl_min_fminimizer_free(solver);
    return b;
}

/* Smallest value inside a stretch, its two ends not counted (they are listed positions). */
static bool least_inside(const trn_stretch *s, measure of, double *share, double *value)
{
    looked_for l = {s, of};
    double v[GRID + 1];
    bool found = false;
    for (size_t i = 0; i <= GRID; i++)
        v[i] = value_at((double)i / GRID, &l);
    for (size_t i = 1; i < GRID; i++) {
        if (!(v[i] <= v[i - 1] && v[i] <= v[i + 1]) || (v[i] == v[i - 1] && v[i] == v[i + 1]))
            continue;
        double at = refine(&l, (double)(i - 1) / GRID, (double)i / GRID, (double)(i + 1) / GRID);
        double here = value_at(at, &l);
        if (!found || here < *value) {
            *share = at;
            *value = here;
            found = true;
        }
    }
    return found;
}

/* The best so far: a listed position, or a share of a stretch. */
typedef struct best {
    bool found;
    double value;
    char at[TRN_PLACE_MAX];
} best;

static void take(best *b, double value, const char *from, const char *to, double share)
{
    if (isnan(value) || (b->found && value >= b->value))
        return;
    b->found = true;
    b->value = value;
    if (to)
        (void)snprintf(b->at, sizeof b->at, "%s to %s at %.0f %%", from, to, 100 * share);
    else
        (void)snprintf(b->at, sizeof b->at, "%s", from);
}

typedef struct extremes {
    best shortest, longest, bent, bent_power;
    bool open; /* part of the sweep cannot be */
} extremes;

static void look_at_settings(const trn_results *r, size_t shaft, extremes *e)
{
    for (size_t i = 0; i < r->settings_count; i++) {
        const trn_setting *s = &r->settings[i];
        if (s->shaft != shaft)
            continue;
        trn_place p = {.length = s->length_m, .angle = fmax(s->angle_in_rad, s->angle_out_rad)};
        take(&e->shortest, shortness(&p), s->position, NULL, 0);
        if (!s->pto_on)
            continue;
        take(&e->longest, longness(&p), s->position, NULL, 0);
        take(&e->bent, bend(&p), s->position, NULL, 0);
        if (trn_position_powered(r->machine, s->position))
            take(&e->bent_power, bend(&p), s->position, NULL, 0);
    }
}

static void look_inside(const trn_stretch *s, measure of, best *b)
{
    double share = 0;
    double value = 0;
    if (least_inside(s, of, &share, &value))
        take(b, value, s->from->position, s->to->position, share);
}

static void look_along(const trn_results *r, size_t shaft, extremes *e)
{
    for (size_t row = 0; row < r->machine->geometry_count; row++) {
        trn_stretch s;
        if (r->machine->geometry[row].shaft_index != shaft || !trn_stretch_from(r, row, &s))
            continue;
        look_inside(&s, shortness, &e->shortest);
        if (s.turns) {
            look_inside(&s, longness, &e->longest);
            look_inside(&s, bend, &e->bent);
        }
        if (s.power)
            look_inside(&s, bend, &e->bent_power);
        trn_place p;
        for (size_t i = 0; i <= GRID; i++)
            e->open = e->open || !trn_stretch_place(&s, (double)i / GRID, &p);
    }
}

/* ---- stops ---------------------------------------------------------------------------------- */

typedef struct margin {
    const trn_stretch *along;
    double limit;
} margin;

static double margin_at(double share, void *context)
{
    const margin *m = context;
    trn_place p;
    return trn_stretch_place(m->along, share, &p) ? m->limit - p.angle : NAN;
}

typedef struct stop {
    bool found;
    double value, link_angle;
} stop;

/* First place at which a joint comes to its limit, walking a stretch forth or back. */
static bool stop_on(const trn_stretch *s, double limit, bool back, stop *out)
{
    margin m = {s, limit};
    double before = back ? 1 : 0;
    for (size_t i = 1; i <= GRID; i++) {
        double here = back ? 1 - (double)i / GRID : (double)i / GRID;
        double value = margin_at(here, &m);
        if (isnan(value))
            return false; /* the machine cannot get there */
        double root = here;
        if (value < 0 && trn_root_between(margin_at, &m, fmin(before, here), fmax(before, here),
                                          1e-12, &root) == TRN_OK) {
            trn_place p;
            out->found = trn_stretch_place(s, root, &p);
            out->value = p.stop;
            out->link_angle = p.link_angle;
            return out->found;
        }
        before = here;
    }
    return false;
}

/* Row of the run from which its stops are looked for: turns, inside the limit, lowest (hitch) or
 * nearest to straight (wing, drawbar). */
static size_t start_row(const trn_results *r, const size_t *rows, size_t n, double limit)
{
    size_t start = TRN_NONE;
    double least = INFINITY;
    for (size_t i = 0; i < n; i++) {
        const trn_geometry *g = &r->machine->geometry[rows[i]];
        trn_place p;
        if (!trn_row_turns(r, g) || !trn_place_of(g, trn_led_of(r, g), &p) || p.angle > limit)
            continue;
        bool lift = g->layout == TRN_HITCH || g->layout == TRN_LINKAGE;
        double size = lift ? p.stop : fabs(p.stop);
        if (size < least) {
            least = size;
            start = i;
        }
    }
    return start;
}

static void keep_stop(trn_fit_row *row, int layout, const stop *s, double start)
{
    double degrees = s->value / trn_degree;
    if (layout == TRN_WING && s->value > start)
        row->tilt_stop_up_deg = fmin(degrees, isnan(row->tilt_stop_up_deg)
                                                  ? INFINITY : row->tilt_stop_up_deg);
    else if (layout == TRN_WING)
        row->tilt_stop_down_deg = fmax(degrees, isnan(row->tilt_stop_down_deg)
                                                    ? -INFINITY : row->tilt_stop_down_deg);
    else if (layout == TRN_DRAWBAR)
        row->turn_stop_deg = fmin(fabs(degrees),
                                  isnan(row->turn_stop_deg) ? INFINITY : row->turn_stop_deg);
    else if (s->value > start && !(1000 * s->value >= row->lift_stop_mm)) {
        row->lift_stop_mm = 1000 * s->value;
        if (layout == TRN_LINKAGE)
            trn_remark_add(&row->remarks, TRN_M_LINK_STOP, NULL, s->link_angle / trn_degree);
    }
}

/* Stops on a run of rows of one layout, from its starting row both ways. */
static void stops_of_run(const trn_results *r, const size_t *rows, size_t n, trn_fit_row *row)
{
    const trn_machine *m = r->machine;
    double limit = m->shafts[row->shaft].angle_limit;
    size_t start = start_row(r, rows, n, limit);
    if (start == TRN_NONE) {
        trn_remark_add(&row->remarks, TRN_M_OUTSIDE, NULL, 0);
        return;
    }
    const trn_geometry *g = &m->geometry[rows[start]];
    trn_place from = {0};
    (void)trn_place_of(g, trn_led_of(r, g), &from);
    bool any = false;
    stop s = {0};
    trn_stretch part;
    for (size_t i = start; i + 1 < n && !s.found; i++)
        if (trn_stretch_from(r, rows[i], &part) && stop_on(&part, limit, false, &s))
            keep_stop(row, g->layout, &s, from.stop);
    any = s.found;
    s.found = false;
    for (size_t i = start; i > 0 && !s.found; i--)
        if (trn_stretch_from(r, rows[i - 1], &part) && stop_on(&part, limit, true, &s))
            keep_stop(row, g->layout, &s, from.stop);
    if (!any && !s.found)
        trn_remark_add(&row->remarks, TRN_M_INSIDE, NULL, 0);
}

static void look_for_stops(const trn_results *r, trn_fit_row *row)
{
    enum { RUN_MAX = 256 };
    const trn_machine *m = r->machine;
    size_t run[RUN_MAX];
    size_t n = 0;
    trn_stretch part;
    for (size_t i = 0; i < m->geometry_count; i++) {
        if (m->geometry[i].shaft_index != row->shaft)
            continue;
        if (n == RUN_MAX)
            break;
        run[n++] = i;
        if (trn_stretch_from(r, i, &part))
            continue;
        if (n > 1)
            stops_of_run(r, run, n, row);
        n = 0;
    }
    if (n == RUN_MAX)
        stops_of_run(r, run, n, row);
}

/* ---- verdict -------------------------------------------------------------------------------- */

static void judge_angle(const trn_shaft *shaft, const extremes *e, trn_fit_row *row)
{
    double slack = 1 + 1e-9;
    if (e->bent_power.found && -e->bent_power.value > shaft->angle_limit * slack)
        trn_remark_add(&row->remarks, TRN_M_ANGLE_LIMIT, NULL, -e->bent_power.value / trn_degree);
    if (!e->bent.found)
        return;
    double angle = -e->bent.value;
    row->largest_angle_deg = angle / trn_degree;
    (void)memcpy(row->angle_at, e->bent.at, sizeof row->angle_at);
    if (angle > shaft->angle_limit_brief * slack)
        trn_remark_add(&row->remarks, TRN_M_ANGLE_BRIEF, NULL, angle / trn_degree);
    else if (angle > shaft->angle_limit * slack &&
             !trn_remark_has(&row->remarks, TRN_M_ANGLE_LIMIT))
        trn_remark_add(&row->remarks, TRN_M_TURNS_ABOVE, NULL, angle / trn_degree);
}

static void judge_cut(trn_fit_row *row, double clearance, double overlap, double needed)
{
    double cut = 0;
    double after = NAN;
    if (trn_shaft_cut(clearance, overlap, TRN_CLEARANCE_NEEDED_M, &cut, &after) < 0)
        return;
    row->cut_mm = 1000 * cut;
    row->overlap_after_cut_mm = 1000 * after;
    if (after >= needed - met) {
        row->fits = cut > 0 ? TRN_FIT_CUT : TRN_FIT_YES;
        if (cut > 0)
            trn_remark_add(&row->remarks, TRN_M_CUT, NULL, row->cut_mm);
        return;
    }
    row->fits = TRN_FIT_OTHER;
    if (overlap < needed - met)
        trn_remark_add(&row->remarks, TRN_M_TOO_SHORT, NULL, 1000 * (needed - overlap));
    else
        trn_remark_add(&row->remarks, TRN_M_CUT_FAILS, NULL, row->cut_mm);
}

static void judge_length(const trn_shaft *shaft, const extremes *e, trn_fit_row *row,
                         trn_trace *trace)
{
    double third = isnan(shaft->tube_length) ? shaft->overlap_closed / 3 : shaft->tube_length / 3;
    double needed = isnan(third) ? NAN : fmax(third, TRN_OVERLAP_LEAST_M);
    row->overlap_needed_mm = 1000 * needed;
    if (!e->shortest.found || isnan(shaft->length_closed)) {
        trn_remark_add(&row->remarks, TRN_M_FIT_UNKNOWN, NULL, 0);
        return;
    }
    row->clearance_mm = 1000 * (e->shortest.value - shaft->length_closed);
    if (row->clearance_mm <= 0)
        trn_remark_add(&row->remarks, TRN_M_BOTTOMS, NULL, row->clearance_mm);
    if (!e->longest.found) {
        trn_remark_add(&row->remarks, TRN_M_NOTHING_TURNS, NULL, 0);
        return;
    }
    if (isnan(shaft->overlap_closed)) {
        trn_remark_add(&row->remarks, TRN_M_FIT_UNKNOWN, NULL, 0);
        return;
    }
    double in[] = {shaft->length_closed, shaft->overlap_closed, e->shortest.value,
                   -e->longest.value,    TRN_CLEARANCE_NEEDED_M, needed};
    double out[3];
    trn_status status = trn_step(trace, TRN_STEP_SHAFT_FIT, in, out);
    if (status < 0) {
        trn_remark_status(&row->remarks, status);
        return;
    }
    row->clearance_mm = 1000 * out[0];
    row->overlap_mm = 1000 * out[1];
    trn_remark_add(&row->remarks, TRN_M_CLEARANCE, row->shortest_at, row->clearance_mm);
    trn_remark_add(&row->remarks, TRN_M_OVERLAP, row->longest_at, row->overlap_mm);
    if (out[1] <= 0)
        trn_remark_add(&row->remarks, TRN_M_PARTS, NULL, row->overlap_mm);
    judge_cut(row, out[0], out[1], needed);
}

static void judge_critical(const trn_results *r, const trn_shaft *shaft, double length,
                           trn_fit_row *row, trn_trace *trace)
{
    double in[] = {shaft->tube_outside, shaft->tube_bore, length, NAN, NAN};
    double out[1];
    if (isnan(shaft->tube_outside) || isnan(shaft->tube_bore) || isnan(length) ||
        trn_step(trace, TRN_STEP_SHAFT_CRITICAL_SPEED, in, out) < 0)
        return;
    row->critical_speed_rpm = out[0] / trn_rpm;
    double fastest = 0;
    for (size_t i = 0; i < r->machine->duty_count; i++)
        fastest = fmax(fastest, trn_results_joint(r, i, row->shaft)->speed_rpm);
    if (fastest > 0.65 * row->critical_speed_rpm)
        trn_remark_add(&row->remarks, TRN_M_CRITICAL_SPEED, NULL, row->critical_speed_rpm);
}

static void fit_row(const trn_results *r, size_t index, trn_fit_row *row, trn_trace *trace)
{
    const trn_shaft *shaft = &r->machine->shafts[index];
    *row = (trn_fit_row){.shaft = index, .length_min_mm = NAN, .length_max_mm = NAN,
                         .clearance_mm = NAN, .clearance_needed_mm = 1000 * TRN_CLEARANCE_NEEDED_M,
                         .overlap_mm = NAN, .overlap_needed_mm = NAN, .cut_mm = NAN,
                         .overlap_after_cut_mm = NAN, .largest_angle_deg = NAN,
                         .angle_limit_deg = shaft->angle_limit / trn_degree,
                         .critical_speed_rpm = NAN, .lift_stop_mm = NAN, .tilt_stop_up_deg = NAN,
                         .tilt_stop_down_deg = NAN, .turn_stop_deg = NAN};
    trn_trace_scope(trace, "sweep", "", shaft->shaft);
    extremes e = {0};
    look_at_settings(r, index, &e);
    look_along(r, index, &e);
    if (e.shortest.found) {
        row->length_min_mm = 1000 * e.shortest.value;
        (void)memcpy(row->shortest_at, e.shortest.at, sizeof row->shortest_at);
    }
    if (e.longest.found) {
        row->length_max_mm = -1000 * e.longest.value;
        (void)memcpy(row->longest_at, e.longest.at, sizeof row->longest_at);
    }
    judge_length(shaft, &e, row, trace);
    judge_angle(shaft, &e, row);
    judge_critical(r, shaft, e.longest.found ? -e.longest.value : NAN, row, trace);
    look_for_stops(r, row);
    if (e.open)
        trn_remark_add(&row->remarks, TRN_M_SWEEP_OPEN, NULL, 0);
}

void trn_study_fit(const trn_machine *machine, trn_results *results, trn_trace *trace)
{
    for (size_t i = 0; i < machine->shafts_count; i++)
        fit_row(results, i, &results->fits[i], trace);
    results->fits_count = machine->shafts_count;
}
