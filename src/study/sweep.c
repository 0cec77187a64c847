/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Points of a sweep, and the places between them where a limit is crossed. */
#include <trunnion/sweep.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/path.h>

#include "../ground/root.h"

/* Stands for a life without end, so that a root can be looked for between it and a number. */
static const double without_end = 1e100;

/* ---- quantities ----------------------------------------------------------------------------- */

static bool take_number(const char **text, char after, double *out)
{
    const char *end = NULL;
    if (trn_text_number_start(*text, out, &end) != TRN_OK || *end != after)
        return false;
    *text = after ? end + 1 : end;
    return true;
}

trn_status trn_vary_read(const char *text, trn_vary *out, trn_buffer *why)
{
    trn_vary vary = {.unit = ""};
    const char *equals = strchr(text, '=');
    size_t n = equals ? (size_t)(equals - text) : 0;
    double steps = 0;
    if (n == 0 || n >= sizeof vary.path) {
        trn_buffer_print(why, "`%.200s`: write PATH=from:to:steps", text);
        return TRN_E_USAGE;
    }
    memcpy(vary.path, text, n);
    const char *p = equals + 1;
    if (!take_number(&p, ':', &vary.from) || !take_number(&p, ':', &vary.to) ||
        !take_number(&p, '\0', &steps)) {
        trn_buffer_print(why,
                         "`%.200s`: three numbers are expected after `=`, from:to:steps, in the "
                         "unit of the column",
                         text);
        return TRN_E_USAGE;
    }
    if (!(steps >= 1 && steps < TRN_SWEEP_POINTS_MAX) || steps != floor(steps)) {
        trn_buffer_print(why, "`%.200s`: steps is a whole number from 1 on (steps + 1 values)",
                         text);
        return TRN_E_USAGE;
    }
    if (vary.from == vary.to) {
        trn_buffer_print(why, "`%.200s`: from and to are the same", text);
        return TRN_E_USAGE;
    }
    vary.steps = (size_t)steps;
    *out = vary;
    return TRN_OK;
}

trn_status trn_vary_check(const trn_machine *machine, trn_vary *vary, trn_buffer *why)
{
    trn_path path;
    trn_status status = trn_path_parse(machine, vary->path, &path, why);
    if (status != TRN_OK)
        return status;
    if (path.column->cell != TRN_CELL_NUMBER) {
        trn_buffer_print(why, "`%s` is no number: words are for scenarios and `compare`",
                         vary->path);
        return TRN_E_INPUT;
    }
    vary->unit = strcmp(path.column->unit, "1") == 0 ? "" : path.column->unit;
    return TRN_OK;
}

double trn_vary_value(const trn_vary *vary, size_t i)
{
    double share = (double)i / (double)vary->steps;
    return i == vary->steps ? vary->to : vary->from + share * (vary->to - vary->from);
}

/* ---- one point ------------------------------------------------------------------------------ */

typedef struct work {
    const trn_machine *machine;
    const trn_follow *follow;
    size_t follow_count;
    trn_evaluation evaluation;
    trn_sweep *sweep;
    trn_bound *bounds; /* [(point * follows + follow) * TRN_BOUNDS_MAX + bound], NULL name: none */
} work;

static trn_status set_number(trn_machine *m, const char *path, double value, trn_faults *faults)
{
    trn_buffer text = {0};
    trn_buffer_print(&text, "%.17g", value);
    trn_status status =
        text.failed ? TRN_E_MEMORY : trn_machine_set(m, path, text.text, "--vary", faults);
    trn_buffer_free(&text);
    return status;
}

/* The case with the varied values in it; NULL with the reason in `faults`. */
static trn_machine *varied(const work *w, const double at[TRN_VARY_MAX], trn_status *status,
                           trn_faults *faults)
{
    trn_machine *m = trn_machine_copy(w->machine);
    *status = m ? TRN_OK : TRN_E_MEMORY;
    for (size_t i = 0; i < w->sweep->vary_count && *status == TRN_OK; i++)
        *status = set_number(m, w->sweep->vary[i].path, at[i], faults);
    if (*status == TRN_OK)
        *status = trn_machine_link(m, faults);
    if (*status != TRN_OK) {
        trn_machine_free(m);
        m = NULL;
    }
    return m;
}

static void read_results(const work *w, const trn_results *r, double *value, trn_bound *bounds)
{
    for (size_t i = 0; i < w->follow_count; i++) {
        const trn_follow *f = &w->follow[i];
        value[i] = f->value(f->self, r);
        trn_bound *out = &bounds[i * TRN_BOUNDS_MAX];
        size_t n = f->bounds ? f->bounds(f->self, r, out) : 0;
        for (; n < TRN_BOUNDS_MAX; n++)
            out[n] = (trn_bound){NULL, NAN};
    }
}

/* Remarks of the results that are not known, each once; NULL: none. */
static char *notes(const work *w, const trn_results *r, const double *value)
{
    trn_buffer all = {0};
    for (size_t i = 0; i < w->follow_count; i++) {
        trn_buffer text = {0};
        if (isnan(value[i]) && w->follow[i].remarks)
            w->follow[i].remarks(w->follow[i].self, r, &text);
        if (text.text && !(all.text && strstr(all.text, text.text)))
            trn_buffer_print(&all, "%s%s", all.text ? "; " : "", text.text);
        trn_buffer_free(&text);
    }
    if (all.failed)
        trn_buffer_free(&all);
    return all.text;
}

/* value: follow_count, bounds: follow_count * TRN_BOUNDS_MAX; note: NULL, or takes remarks */
static trn_status evaluate(const work *w, const double at[TRN_VARY_MAX], double *value,
                           trn_bound *bounds, char **note, trn_faults *faults)
{
    trn_status status = TRN_OK;
    trn_machine *m = varied(w, at, &status, faults);
    trn_results *r = m ? trn_results_new(m) : NULL;
    if (m && !r)
        status = TRN_E_MEMORY;
    if (r)
        status = w->evaluation.run(m, r, w->evaluation.context);
    if (status == TRN_OK)
        read_results(w, r, value, bounds);
    if (status == TRN_OK && note)
        *note = notes(w, r, value);
    trn_results_free(r);
    trn_machine_free(m);
    return status;
}

static char *reason(trn_status status, const trn_faults *faults)
{
    trn_buffer text = {0};
    if (faults->kept > 0)
        trn_buffer_add(&text, faults->list[0].text);
    else
        trn_buffer_add(&text, trn_status_text(status));
    if (text.failed)
        trn_buffer_free(&text);
    return text.text;
}

void trn_sweep_place(const trn_sweep *sweep, size_t point, size_t at[TRN_VARY_MAX])
{
    size_t inner = sweep->vary_count > 1 ? sweep->vary[1].steps + 1 : 1;
    at[0] = point / inner;
    at[1] = point % inner;
}

static trn_status run_point(work *w, size_t point)
{
    trn_sweep *s = w->sweep;
    size_t number[TRN_VARY_MAX];
    double at[TRN_VARY_MAX] = {0, 0};
    trn_faults faults = {0};
    double *value = &s->value[point * s->follows];
    trn_sweep_place(s, point, number);
    for (size_t i = 0; i < s->vary_count; i++)
        at[i] = trn_vary_value(&s->vary[i], number[i]);
    trn_status status = evaluate(w, at, value, &w->bounds[point * s->follows * TRN_BOUNDS_MAX],
                                 &s->note[point], &faults);
    if (status != TRN_OK && status != TRN_E_MEMORY) {
        s->why[point] = reason(status, &faults);
        status = s->why[point] ? TRN_OK : TRN_E_MEMORY;
    }
    trn_faults_free(&faults);
    return status;
}

/* ---- crossings ------------------------------------------------------------------------------ */

typedef struct search {
    const work *w;
    size_t follow;
    const char *bound;
    double second; /* value of the second quantity */
    double *value; /* room for one point */
    trn_bound *bounds;
    double bound_value;
    double met; /* stands for a margin of 0: what is met counts as above, also on a stretch */
} search;

static double margin(double value, double bound)
{
    double m = value - bound;
    return isinf(m) ? copysign(without_end, m) : m;
}

static const trn_bound *bound_named(const trn_bound *list, const char *name)
{
    for (size_t i = 0; i < TRN_BOUNDS_MAX && list[i].name; i++)
        if (strcmp(list[i].name, name) == 0)
            return &list[i];
    return NULL;
}

static double margin_of(double first, void *context)
{
    search *s = context;
    double at[TRN_VARY_MAX] = {first, s->second};
    trn_faults faults = {0};
    trn_status status = evaluate(s->w, at, s->value, s->bounds, NULL, &faults);
    trn_faults_free(&faults);
    const trn_bound *b =
        status == TRN_OK ? bound_named(&s->bounds[s->follow * TRN_BOUNDS_MAX], s->bound) : NULL;
    if (!b)
        return NAN;
    s->bound_value = b->value;
    double m = margin(s->value[s->follow], b->value);
    return m == 0 ? s->met : m;
}

static trn_status keep(trn_sweep *s, trn_crossing crossing)
{
    trn_crossing *grown = realloc(s->crossing, (s->crossings + 1) * sizeof *grown);
    if (!grown)
        return TRN_E_MEMORY;
    s->crossing = grown;
    s->crossing[s->crossings++] = crossing;
    return TRN_OK;
}

/* One limit of one result between two neighbouring values of the first quantity. */
static trn_status look_between(search *s, size_t first, size_t second, double before,
                               double after)
{
    const trn_vary *v = &s->w->sweep->vary[0];
    double a = trn_vary_value(v, first);
    double b = trn_vary_value(v, first + 1);
    double slack = 1e-12 * fmax(fabs(v->from), fabs(v->to));
    double root = NAN;
    s->met = fabs(after - before);
    if (isnan(before) || isnan(after) || (before >= 0) == (after >= 0) ||
        trn_root_between(margin_of, s, fmin(a, b), fmax(a, b), slack, &root) != TRN_OK)
        return TRN_OK;
    double beside = 1e-9 * (b - a);
    double step = margin_of(root + beside, s) - margin_of(root - beside, s);
    (void)margin_of(root, s); /* the limit may move with the quantity */
    return keep(s->w->sweep,
                (trn_crossing){.follow = s->follow,
                               .bound = s->bound,
                               .bound_value = s->bound_value,
                               .at = root,
                               .second = second,
                               .above = after >= 0,
                               .jumps = fabs(step) > 1e-3 * fabs(after - before)});
}

static trn_status look_at(work *w, size_t follow, size_t second, search *s)
{
    const trn_sweep *sweep = w->sweep;
    size_t inner = sweep->vary_count > 1 ? sweep->vary[1].steps + 1 : 1;
    trn_status status = TRN_OK;
    for (size_t i = 0; i < sweep->vary[0].steps && status == TRN_OK; i++) {
        size_t p = (i * inner + second) * sweep->follows + follow;
        size_t q = ((i + 1) * inner + second) * sweep->follows + follow;
        for (size_t k = 0; k < TRN_BOUNDS_MAX && status == TRN_OK; k++) {
            const trn_bound *before = &w->bounds[p * TRN_BOUNDS_MAX + k];
            if (!before->name)
                break;
            const trn_bound *after =
                bound_named(&w->bounds[q * TRN_BOUNDS_MAX], before->name);
            if (!after)
                continue;
            s->bound = before->name;
            status = look_between(s, i, second, margin(sweep->value[p], before->value),
                                  margin(sweep->value[q], after->value));
        }
    }
    return status;
}

static trn_status look_for_crossings(work *w)
{
    trn_sweep *sweep = w->sweep;
    size_t inner = sweep->vary_count > 1 ? sweep->vary[1].steps + 1 : 1;
    search s = {.w = w};
    s.value = calloc(sweep->follows, sizeof *s.value);
    s.bounds = calloc(sweep->follows * TRN_BOUNDS_MAX, sizeof *s.bounds);
    trn_status status = s.value && s.bounds ? TRN_OK : TRN_E_MEMORY;
    for (size_t follow = 0; follow < sweep->follows && status == TRN_OK; follow++)
        for (size_t second = 0; second < inner && status == TRN_OK; second++) {
            s.follow = follow;
            s.second = inner > 1 ? trn_vary_value(&sweep->vary[1], second) : 0;
            status = look_at(w, follow, second, &s);
        }
    free(s.value);
    free(s.bounds);
    return status;
}

/* ---- the sweep ------------------------------------------------------------------------------ */

static trn_status run(work *w)
{
    trn_sweep *s = w->sweep;
    size_t cells = s->points * s->follows;
    s->value = malloc((cells + 1) * sizeof *s->value);
    s->why = calloc(s->points + 1, sizeof *s->why);
    s->note = calloc(s->points + 1, sizeof *s->note);
    w->bounds = calloc(cells * TRN_BOUNDS_MAX + 1, sizeof *w->bounds);
    if (!s->value || !s->why || !s->note || !w->bounds)
        return TRN_E_MEMORY;
    for (size_t i = 0; i < cells; i++)
        s->value[i] = NAN;
    trn_status status = TRN_OK;
    for (size_t i = 0; i < s->points && status == TRN_OK; i++)
        status = run_point(w, i);
    return status == TRN_OK ? look_for_crossings(w) : status;
}

trn_status trn_sweep_run(const trn_machine *machine, const trn_vary *vary, size_t vary_count,
                         const trn_follow *follow, size_t follow_count,
                         trn_evaluation evaluation, trn_sweep **out)
{
    *out = NULL;
    if (vary_count < 1 || vary_count > TRN_VARY_MAX || follow_count < 1)
        return TRN_E_USAGE;
    double points = 1;
    for (size_t i = 0; i < vary_count; i++)
        points *= (double)vary[i].steps + 1;
    if (points > TRN_SWEEP_POINTS_MAX)
        return TRN_E_USAGE;
    trn_sweep *sweep = calloc(1, sizeof *sweep);
    if (!sweep)
        return TRN_E_MEMORY;
    for (size_t i = 0; i < vary_count; i++)
        sweep->vary[i] = vary[i];
    sweep->vary_count = vary_count;
    sweep->points = (size_t)points;
    sweep->follows = follow_count;
    work w = {machine, follow, follow_count, evaluation, sweep, NULL};
    trn_status status = run(&w);
    free(w.bounds);
    if (status != TRN_OK) {
        trn_sweep_free(sweep);
        return status;
    }
    *out = sweep;
    return TRN_OK;
}

void trn_sweep_free(trn_sweep *sweep)
{
    if (!sweep)
        return;
    for (size_t i = 0; sweep->why && i < sweep->points; i++)
        free(sweep->why[i]);
    for (size_t i = 0; sweep->note && i < sweep->points; i++)
        free(sweep->note[i]);
    free(sweep->why);
    free(sweep->note);
    free(sweep->value);
    free(sweep->crossing);
    free(sweep);
}
