/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The life lost, shared out among the departures: every combination of them evaluated. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "parallel.h"
#include "review_inside.h"

/* Explanations that depart from the case and have a life of their own. */
static size_t departing(const trn_review *v, size_t part, size_t *list, size_t room)
{
    size_t n = 0;
    for (size_t i = 1; i < v->explanation_count; i++) {
        const trn_explanation *e = &v->explanations[i];
        if (!e->departs || e->has_life || trn_review_at(v, part, i)->starved)
            continue;
        if (n < room)
            list[n] = i;
        n++;
    }
    return n;
}

static const char *exclusive(const trn_review *v, const size_t *list, size_t n)
{
    for (size_t a = 0; a < n; a++)
        for (size_t b = a + 1; b < n; b++) {
            const char *path = trn_scenarios_exclude(v->machine, v->explanations[list[a]].name,
                                                     v->explanations[list[b]].name);
            if (path)
                return path;
        }
    return NULL;
}

/* ---- combinations --------------------------------------------------------------------------- */

typedef struct combinations {
    const trn_review *v;
    const size_t *list;
    size_t n;
    trn_part_life *lives; /* [set * parts + part] */
    trn_status *status;   /* [set] */
    trn_faults *faults;   /* [set] */
} combinations;

static void run_set(void *context, unsigned worker, size_t set)
{
    combinations *c = context;
    const char *names[TRN_DEPARTURES_MAX];
    size_t n = 0;
    (void)worker;
    for (size_t bit = 0; bit < c->n; bit++)
        if (set >> bit & 1)
            names[n++] = c->v->explanations[c->list[bit]].name;
    c->status[set] = trn_review_lives(c->v, c->v->machine, names, n, &c->faults[set],
                                      &c->lives[set * c->v->part_count]);
}

static void name_set(const combinations *c, size_t set, trn_buffer *out)
{
    bool first = true;
    for (size_t bit = 0; bit < c->n; bit++)
        if (set >> bit & 1) {
            trn_buffer_print(out, "%s`%s`", first ? "" : " with ",
                             c->v->explanations[c->list[bit]].name);
            first = false;
        }
    if (first)
        trn_buffer_add(out, "the case");
}

/* Why the lives of a part cannot be shared out; true where they can. */
static bool usable(const combinations *c, size_t p, double *life, trn_buffer *why)
{
    const trn_review_part *part = &c->v->parts[p];
    for (size_t set = 0; set < (size_t)1 << c->n; set++) {
        const trn_part_life *l = &c->lives[set * c->v->part_count + p];
        const char *what = c->status[set] != TRN_OK                ? "cannot be applied"
                           : l->starved                            ? "starves the gearbox"
                           : l->basic && part->modified            ? "has no Lnmh"
                           : !(l->life_h > 0) || isinf(l->life_h) ? "has no life in hours"
                                                                   : NULL;
        life[set] = l->life_h;
        if (!what)
            continue;
        trn_buffer_add(why, "not shared out: ");
        name_set(c, set, why);
        trn_buffer_print(why, " %s", what);
        return false;
    }
    if (life[0] > life[((size_t)1 << c->n) - 1])
        return true;
    trn_buffer_add(why, "not shared out: no life is lost");
    return false;
}

static trn_status evaluate(combinations *c, unsigned jobs)
{
    size_t sets = (size_t)1 << c->n;
    c->lives = calloc(sets * c->v->part_count, sizeof *c->lives);
    c->status = calloc(sets, sizeof *c->status);
    c->faults = calloc(sets, sizeof *c->faults);
    if (!c->lives || !c->status || !c->faults)
        return TRN_E_MEMORY;
    trn_parallel(jobs, &(trn_parallel_task){.n = sets, .run = run_set, .context = c});
    for (size_t i = 0; i < sets; i++)
        if (c->status[i] == TRN_E_MEMORY)
            return TRN_E_MEMORY;
    return TRN_OK;
}

static void release(combinations *c)
{
    size_t sets = (size_t)1 << c->n;
    for (size_t i = 0; i < sets && c->faults; i++)
        trn_faults_free(&c->faults[i]);
    if (c->lives)
        trn_review_lives_free(c->lives, sets * c->v->part_count);
    free(c->lives);
    free(c->status);
    free(c->faults);
}

/* ---- parts ---------------------------------------------------------------------------------- */

static void share_out(trn_review *v, size_t p, const double *life, size_t sets)
{
    trn_review_part *part = &v->parts[p];
    const size_t *list = &v->departing[p * TRN_DEPARTURES_MAX];
    double share[TRN_DEPARTURES_MAX];
    double of_log[TRN_DEPARTURES_MAX];
    double lost = NAN;
    double ignored = NAN;
    size_t n = 0;
    if (trn_evidence_shares(life, sets, false, &lost, share, &n) < 0 ||
        trn_evidence_shares(life, sets, true, &ignored, of_log, &n) < 0)
        return;
    part->lost_h = lost;
    for (size_t i = 0; i < n; i++) {
        trn_review_row *row = &v->rows[p * v->explanation_count + list[i]];
        row->share_pct = 100 * share[i];
        row->share_log_pct = 100 * of_log[i];
    }
}

static void refuse(trn_review *v, size_t p, const char *why)
{
    trn_review_part *part = &v->parts[p];
    (void)snprintf(part->no_shares, sizeof part->no_shares, "%s", why);
    for (size_t i = 1; i < v->explanation_count; i++) {
        trn_review_row *row = &v->rows[p * v->explanation_count + i];
        if (v->explanations[i].departs && !v->explanations[i].has_life && !row->starved)
            trn_review_remark(row, why);
    }
}

static trn_status combine(trn_review *v, size_t p, const size_t *list, size_t n, unsigned jobs)
{
    combinations c = {.v = v, .list = list, .n = n};
    trn_buffer why = {0};
    double *life = &v->subset_lives[p << TRN_DEPARTURES_MAX];
    trn_status status = evaluate(&c, jobs);
    if (status == TRN_OK) {
        if (usable(&c, p, life, &why))
            share_out(v, p, life, (size_t)1 << n);
        else
            refuse(v, p, why.text ? why.text : "not shared out");
    }
    trn_buffer_free(&why);
    release(&c);
    return status;
}

static trn_status share_part(trn_review *v, size_t p, unsigned jobs)
{
    size_t *list = &v->departing[p * TRN_DEPARTURES_MAX];
    size_t n = departing(v, p, list, TRN_DEPARTURES_MAX);
    v->parts[p].departures = n;
    if (n == 0) {
        (void)snprintf(v->parts[p].no_shares, sizeof v->parts[p].no_shares,
                       "no explanation has a life that follows from a change of the case");
        return TRN_OK;
    }
    if (n > TRN_DEPARTURES_MAX) {
        refuse(v, p, "too many departures to share out");
        return TRN_OK;
    }
    const char *path = exclusive(v, list, n);
    if (path) {
        char why[200];
        (void)snprintf(why, sizeof why,
                       "not shared out: two departures put a value on %.120s and exclude each other",
                       path);
        refuse(v, p, why);
        return TRN_OK;
    }
    return combine(v, p, list, n, jobs);
}

trn_status trn_review_shares(trn_review *v, unsigned jobs)
{
    trn_status status = TRN_OK;
    for (size_t p = 0; p < v->part_count && status == TRN_OK; p++)
        status = share_part(v, p, jobs);
    return status;
}
