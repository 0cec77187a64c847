/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What further evidence would do: each finding is supposed in turn, and the factor is computed
 * again with it. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/path.h>
#include <trunnion/units.h>

#include "review_inside.h"

enum { CHOSEN = 4 };

static const char *const kinds[] = {"sisters", "hours", "extent", "sign"};

static trn_review_next *add(trn_review *v, trn_next_kind kind, size_t part, size_t explanation)
{
    if (v->next_count == TRN_REVIEW_NEXT_MAX)
        return NULL;
    trn_review_next *n = &v->next[v->next_count++];
    *n = (trn_review_next){.kind = kind,
                           .kind_text = kinds[kind],
                           .part = part,
                           .explanation = explanation,
                           .component = v->parts[part].name,
                           .scenario = v->explanations[explanation].name,
                           .now = NAN,
                           .then = NAN};
    return n;
}

/* The factor that a reader goes by: with the fleet where there is one. */
static double factor_now(const trn_review *v, const trn_review_row *row)
{
    return row->factor[v->has_fleet ? TRN_FLEET : TRN_ALONE];
}

static void finish(trn_review *v, trn_review_next *n, double now, double then)
{
    n->now = now;
    n->then = then;
    n->change = fabs(log(then / now));
    if (!isfinite(n->change))
        v->next_count--; /* it was the last one added */
}

static double factor_with(const trn_failure *failure, const trn_weibull_data *fleet,
                          const trn_review_row *row, double reference_h, bool sisters)
{
    trn_review_model model = sisters ? TRN_FLEET : TRN_ALONE;
    double here = trn_review_ln_m_of(failure, fleet, row->life_low_h, row->life_high_h,
                                     reference_h, model, CHOSEN);
    double there =
        trn_review_ln_m_of(failure, fleet, reference_h, reference_h, reference_h, model, CHOSEN);
    return exp(here - there);
}

/* ---- more sisters --------------------------------------------------------------------------- */

typedef struct finding {
    double after_h, by_h; /* by inf: sound */
    size_t count;
    char what[200];
} finding;

static void suppose_sisters(trn_review *v, size_t part, size_t explanation, const finding *f)
{
    const trn_machine *m = v->machine;
    const trn_review_row *row = trn_review_at(v, part, explanation);
    double reference_h = trn_review_at(v, part, 0)->life_h;
    size_t n = v->has_fleet ? m->lives_count : 0;
    trn_weibull_row *rows = calloc(n + 1, sizeof *rows);
    trn_weibull_data data;
    trn_review_next *next = rows ? add(v, TRN_NEXT_SISTERS, part, explanation) : NULL;
    if (!next) {
        free(rows);
        return;
    }
    if (n > 0)
        memcpy(rows, v->units, n * sizeof *rows);
    (void)snprintf(next->what, sizeof next->what, "%s", f->what);
    double then = NAN;
    if (trn_weibull_row_make(f->after_h, f->by_h, f->count, &rows[n]) == TRN_OK &&
        trn_weibull_prepare(rows, n + 1, &data) == TRN_OK)
        then = factor_with(v->parts[part].failure, &data, row, reference_h, true);
    finish(v, next, factor_now(v, row), then);
    free(rows);
}

static void sisters(trn_review *v, size_t part, size_t explanation)
{
    const double times[] = {1, 2, 4};
    double hours = v->parts[part].failure->hours;
    finding f = {.by_h = INFINITY, .count = 5};
    for (size_t i = 0; i < sizeof times / sizeof times[0]; i++) {
        f.after_h = times[i] * hours;
        (void)snprintf(f.what, sizeof f.what, "%zu more sister units found sound at %.4g h",
                       f.count, f.after_h);
        suppose_sisters(v, part, explanation, &f);
    }
    f = (finding){.after_h = hours, .by_h = hours, .count = 1};
    (void)snprintf(f.what, sizeof f.what, "one sister unit found to have failed at %.4g h too",
                   hours);
    suppose_sisters(v, part, explanation, &f);
}

/* ---- hours ---------------------------------------------------------------------------------- */

static void hours(trn_review *v, size_t part, size_t explanation)
{
    const trn_failure *f = v->parts[part].failure;
    const trn_review_row *row = trn_review_at(v, part, explanation);
    double reference_h = trn_review_at(v, part, 0)->life_h;
    for (int side = -1; side <= 1 && f->hours_spread > 0; side += 2) {
        trn_failure exact = *f;
        exact.hours = f->hours + side * f->hours_spread;
        exact.hours_spread = 0;
        if (!(exact.hours > 0))
            continue;
        trn_review_next *next = add(v, TRN_NEXT_HOURS, part, explanation);
        if (!next)
            return;
        (void)snprintf(next->what, sizeof next->what, "the hour meter shown to stand for %.5g h",
                       exact.hours);
        finish(v, next, factor_now(v, row),
               factor_with(&exact, &v->fleet, row, reference_h, v->has_fleet));
    }
}

/* ---- extent --------------------------------------------------------------------------------- */

/* Value half way from the case to what a row of a scenario sets; false where there is none. */
static bool half_way(const trn_machine *m, const trn_scenario *s, char *value, size_t size)
{
    trn_path path;
    trn_buffer ignored = {0};
    const char *end = NULL;
    double amount = 0;
    bool found = s->value && trn_path_parse(m, s->quantity, &path, &ignored) == TRN_OK &&
                 path.column->cell == TRN_CELL_NUMBER;
    trn_buffer_free(&ignored);
    if (!found)
        return false;
    trn_change change = trn_change_of(s->value);
    const char *text = s->value + strspn(s->value, " \t");
    if (trn_text_number_start(change == TRN_ABSOLUTE ? text : text + 1, &amount, &end) != TRN_OK)
        return false;
    if (change == TRN_FACTOR)
        (void)snprintf(value, size, "x%.17g", sqrt(amount));
    else if (change == TRN_OFFSET)
        (void)snprintf(value, size, "+%.17g%s", amount / 2, end);
    else {
        size_t row = trn_path_row(m, &path, 0);
        const char *cells = trn_table_row(m, path.table, row);
        double now = NAN;
        double scale = 1;
        double offset = 0;
        memcpy(&now, cells + path.column->offset, sizeof now);
        if (trn_path_row(m, &path, row + 1) != TRN_NONE && strchr(s->quantity, '*'))
            return false; /* cells with values of their own have no one half way */
        if (trn_unit_value(now, path.column->inner, path.column->unit, &now) != TRN_OK ||
            (*end && trn_unit_convert(end, path.column->unit, &scale, &offset) != TRN_OK))
            return false;
        (void)snprintf(value, size, "%.17g", (now + scale * amount + offset) / 2);
        return isfinite(now);
    }
    return change != TRN_FACTOR || amount > 0;
}

static bool is_cleanliness(const char *quantity)
{
    const char *column = strrchr(quantity, '.');
    return column && strcmp(column, ".cleanliness") == 0;
}

/* One class cleaner: 22/19 for 23/20. */
static bool one_class_cleaner(const trn_scenario *s, char *value, size_t size)
{
    size_t n = 0;
    bool number = false;
    if (!s->value || !is_cleanliness(s->quantity))
        return false;
    for (const char *p = s->value; *p;) {
        char *end = NULL;
        long code = strtol(p, &end, 10);
        int k;
        if (end == p) {
            k = snprintf(value + n, size - n, "%c", *p++);
        } else {
            number = number || code > 1;
            k = snprintf(value + n, size - n, "%ld", code > 0 ? code - 1 : code);
            p = end;
        }
        if (k < 0 || (n += (size_t)k) >= size)
            return false;
    }
    return number;
}

/* Words have no half way; said, so that a missing row does not read as no effect. */
static void no_half_way(trn_review *v, size_t explanation, const trn_scenario *s)
{
    for (size_t p = 0; p < v->part_count; p++) {
        double now = factor_now(v, trn_review_at(v, p, explanation));
        trn_review_next *next =
            isfinite(now) && s->value ? add(v, TRN_NEXT_EXTENT, p, explanation) : NULL;
        if (!next)
            continue;
        (void)snprintf(next->what, sizeof next->what,
                       "%.100s = %.40s: not computed, there is no half way to it", s->quantity,
                       s->value);
        next->now = now;
        next->change = NAN;
    }
}

static trn_status suppose_extent(trn_review *v, size_t explanation, size_t row_number,
                                 const char *value)
{
    trn_machine *m = trn_machine_copy(v->machine);
    trn_part_life *lives = calloc(v->part_count, sizeof *lives);
    trn_faults faults = {0};
    trn_status status = m && lives ? TRN_OK : TRN_E_MEMORY;
    const trn_scenario *was = &v->machine->scenarios[row_number];
    if (status == TRN_OK) {
        m->scenarios[row_number].value = value;
        status = trn_review_lives(v, m, &v->explanations[explanation].name, 1, &faults, lives);
    }
    for (size_t p = 0; p < v->part_count && status == TRN_OK; p++) {
        trn_review_row row = *trn_review_at(v, p, explanation);
        double now = factor_now(v, &row);
        bool known = lives[p].life_h > 0 && isfinite(lives[p].life_h) &&
                     !(lives[p].basic && v->parts[p].modified);
        trn_review_next *next =
            known && isfinite(now) ? add(v, TRN_NEXT_EXTENT, p, explanation) : NULL;
        if (!next)
            continue;
        (void)snprintf(next->what, sizeof next->what, "%.110s found to have %s %.40s", was->quantity,
                       is_cleanliness(was->quantity) ? "been one class cleaner than"
                                                     : "gone only half way to",
                       was->value);
        row.life_low_h = row.life_high_h = lives[p].life_h;
        finish(v, next, now, factor_with(v->parts[p].failure, &v->fleet, &row,
                                         trn_review_at(v, p, 0)->life_h, v->has_fleet));
    }
    if (lives)
        trn_review_lives_free(lives, v->part_count);
    free(lives);
    trn_machine_free(m);
    trn_faults_free(&faults);
    return status == TRN_E_MEMORY ? status : TRN_OK;
}

static trn_status extents(trn_review *v, size_t explanation)
{
    const trn_machine *m = v->machine;
    const trn_explanation *e = &v->explanations[explanation];
    trn_status status = TRN_OK;
    for (size_t i = 0; i < m->scenarios_count && status == TRN_OK; i++) {
        const trn_scenario *s = &m->scenarios[i];
        char value[128];
        if (strcmp(s->scenario, e->name) != 0 || e->has_life || trn_scenario_is_life(s))
            continue;
        if (one_class_cleaner(s, value, sizeof value) || half_way(m, s, value, sizeof value))
            status = suppose_extent(v, explanation, i, value);
        else
            no_half_way(v, explanation, s);
    }
    return status;
}

/* ---- signs ---------------------------------------------------------------------------------- */

static bool seen(const trn_failure *f, const char *sign)
{
    for (size_t i = 0; i < f->sign.n; i++)
        if (strcmp(f->sign.v[i], sign) == 0)
            return true;
    return false;
}

/* Signs not recorded that speak for one explanation and not for another. */
static void signs(trn_review *v, size_t part, size_t a, size_t b)
{
    const trn_explanation *x = &v->explanations[a];
    const trn_explanation *y = &v->explanations[b];
    for (size_t i = 0; trn_evidence_signs[i] && x->causes && y->causes; i++) {
        const char *sign = trn_evidence_signs[i];
        int here = trn_review_weight(x->causes, sign);
        int there = trn_review_weight(y->causes, sign);
        if (abs(here - there) < 2 || seen(v->parts[part].failure, sign))
            continue;
        trn_review_next *next = add(v, TRN_NEXT_SIGN, part, here > there ? a : b);
        if (!next)
            return;
        (void)snprintf(next->what, sizeof next->what, "%s: speaks for `%.60s` against `%.60s`",
                       sign, here > there ? x->name : y->name, here > there ? y->name : x->name);
        next->now = here > there ? here : there;
        next->then = here > there ? there : here;
        next->change = abs(here - there);
    }
}

/* ---- all ------------------------------------------------------------------------------------ */

static int by_change(const void *a, const void *b)
{
    const trn_review_next *p = a;
    const trn_review_next *q = b;
    if (p->part != q->part)
        return p->part < q->part ? -1 : 1;
    if (p->kind != q->kind)
        return p->kind < q->kind ? -1 : 1;
    double a_change = isnan(p->change) ? -1 : p->change; /* what was not computed stands last */
    double b_change = isnan(q->change) ? -1 : q->change;
    if (a_change < b_change || a_change > b_change)
        return a_change < b_change ? 1 : -1;
    if (p->explanation != q->explanation)
        return p->explanation < q->explanation ? -1 : 1;
    return strcmp(p->what, q->what);
}

trn_status trn_review_further(trn_review *v)
{
    trn_status status = TRN_OK;
    for (size_t e = 1; e < v->explanation_count && status == TRN_OK; e++) {
        for (size_t p = 0; p < v->part_count; p++) {
            if (!isfinite(factor_now(v, trn_review_at(v, p, e))))
                continue;
            sisters(v, p, e);
            hours(v, p, e);
        }
        status = extents(v, e);
    }
    for (size_t p = 0; p < v->part_count; p++)
        for (size_t a = 0; a < v->explanation_count; a++)
            for (size_t b = a + 1; b < v->explanation_count; b++)
                signs(v, p, a, b);
    qsort(v->next, v->next_count, sizeof *v->next, by_change);
    return status;
}
