/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A failure review from end to end. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/schema.h>

#include "review_inside.h"

void trn_review_remark(trn_review_row *row, const char *text)
{
    size_t n = strlen(row->remark);
    if (text && *text && !strstr(row->remark, text))
        (void)snprintf(row->remark + n, sizeof row->remark - n, "%s%s", n ? "; " : "", text);
}

const trn_review_row *trn_review_at(const trn_review *review, size_t part, size_t explanation)
{
    return &review->rows[part * review->explanation_count + explanation];
}

/* ---- what is compared ----------------------------------------------------------------------- */

static trn_status list_explanations(trn_review *v)
{
    const trn_machine *m = v->machine;
    v->explanations = calloc(m->scenarios_count + 1, sizeof *v->explanations);
    if (!v->explanations)
        return TRN_E_MEMORY;
    v->explanations[v->explanation_count++] = (trn_explanation){.name = "as specified"};
    for (size_t i = 0; i < m->scenarios_count; i++) {
        const trn_scenario *s = &m->scenarios[i];
        trn_explanation *e = NULL;
        for (size_t k = 1; k < v->explanation_count && !e; k++)
            if (strcmp(v->explanations[k].name, s->scenario) == 0)
                e = &v->explanations[k];
        if (!e) {
            e = &v->explanations[v->explanation_count++];
            *e = (trn_explanation){.name = s->scenario, .line = s->row.line};
        }
        if (!e->note && s->note && *s->note)
            e->note = s->note;
        if (trn_scenario_is_life(s)) {
            trn_buffer ignored = {0}; /* it was refused when the case was read */
            e->has_life = trn_life_range_parse(s->value, &e->life, &ignored) == TRN_OK;
            trn_buffer_free(&ignored);
        } else {
            e->departs = true;
        }
    }
    return TRN_OK;
}

/* Each sign once: one that was entered twice is no more than one. */
static bool once(trn_texts *signs)
{
    size_t n = 0;
    for (size_t i = 0; i < signs->n; i++) {
        bool before = false;
        for (size_t k = 0; k < n; k++)
            before = before || strcmp(signs->v[k], signs->v[i]) == 0;
        if (!before)
            signs->v[n++] = signs->v[i];
    }
    bool twice = n < signs->n;
    signs->n = n;
    return twice;
}

static trn_review_part part_of(const trn_machine *m, const trn_failure *f)
{
    trn_review_part part = {.failure = f, .name = f->component, .ceiling = NAN,
                            .ceiling_life_h = NAN, .lost_h = NAN, .gearbox = TRN_NONE,
                            .modified = true};
    size_t bearing = trn_find_bearing(m, f->component);
    size_t gearbox = trn_find_gearbox(m, f->component);
    if (bearing != TRN_NONE) {
        part.kind = TRN_PART_BEARING;
        part.index = bearing;
        part.gearbox = m->axles[m->bearings[bearing].axle_index].gearbox_index;
    } else if (gearbox != TRN_NONE) {
        part.kind = TRN_PART_GEARBOX;
        part.index = part.gearbox = gearbox;
    } else {
        part.kind = TRN_PART_SHAFT;
        part.index = trn_find_shaft(m, f->component);
        part.modified = false;
    }
    return part;
}

static trn_review_row blank(const trn_review *v, size_t part, size_t explanation)
{
    const trn_failure *f = v->parts[part].failure;
    trn_review_row row = {.explanation = explanation,
                          .part = part,
                          .scenario = v->explanations[explanation].name,
                          .component = f->component,
                          .life_h = NAN,
                          .life_low_h = NAN,
                          .life_high_h = NAN,
                          .failed_pct = NAN,
                          .failed_least_pct = NAN,
                          .share_pct = NAN,
                          .share_log_pct = NAN,
                          .signs_for = NAN,
                          .signs_against = NAN,
                          .signs_neutral = NAN,
                          .sign_weight = NAN,
                          .hours_h = f->hours,
                          .spread_h = f->hours_spread,
                          .factor_less = NAN,
                          .ceiling = NAN};
    for (size_t k = 0; k < TRN_MODELS; k++) {
        row.ln_m[k] = row.factor[k] = row.low[k] = row.high[k] = NAN;
        for (size_t i = 0; i < TRN_REVIEW_GRID; i++)
            row.grid[k][i] = NAN;
    }
    return row;
}

static trn_status list_parts(trn_review *v)
{
    const trn_machine *m = v->machine;
    size_t n = m->failure_count;
    v->failures = calloc(n, sizeof *v->failures);
    v->parts = calloc(n, sizeof *v->parts);
    v->rows = calloc(n * v->explanation_count, sizeof *v->rows);
    v->subset_lives = calloc(n << TRN_DEPARTURES_MAX, sizeof *v->subset_lives);
    v->departing = calloc(n * TRN_DEPARTURES_MAX, sizeof *v->departing);
    v->next = calloc(TRN_REVIEW_NEXT_MAX, sizeof *v->next);
    if (!v->failures || !v->parts || !v->rows || !v->subset_lives || !v->departing || !v->next)
        return TRN_E_MEMORY;
    v->part_count = n;
    for (size_t p = 0; p < n; p++) {
        v->failures[p] = m->failure[p];
        bool twice = once(&v->failures[p].sign);
        v->parts[p] = part_of(m, &v->failures[p]);
        v->parts[p].sign_twice = twice;
        for (size_t i = 0; i < v->explanation_count; i++)
            v->rows[p * v->explanation_count + i] = blank(v, p, i);
    }
    return TRN_OK;
}

/* ---- lives ---------------------------------------------------------------------------------- */

static const char starved[] = "starved: no life can be stated, the signs decide";
static const char dips_left[] = "oil_volume is lowered and not every dip with it";

static void stated_life(const trn_review *v, trn_review_row *row)
{
    const trn_explanation *e = &v->explanations[row->explanation];
    double reference_h = v->rows[row->part * v->explanation_count].life_h;
    if (!e->life.known) {
        row->starved = true;
        trn_review_remark(row, starved);
        if (e->note) {
            char reason[256]; /* remarks are parted by `; `: none within one */
            (void)snprintf(reason, sizeof reason, "reason given: %s", e->note);
            for (char *p = reason; (p = strstr(p, "; "));)
                *p = ',';
            trn_review_remark(row, reason);
        }
        return;
    }
    double unit = e->life.relative ? reference_h : 1;
    row->life_low_h = e->life.low * unit;
    row->life_high_h = e->life.high * unit;
    if (e->life.low == e->life.high)
        row->life_h = row->life_low_h;
    else
        trn_review_remark(row, "life stated, not computed: log-uniform in its range");
    if (isnan(row->life_low_h))
        trn_review_remark(row, "a part of the life as specified, which is not known");
}

static void computed_life(const trn_review *v, trn_review_row *row, const trn_part_life *life)
{
    const trn_review_part *part = &v->parts[row->part];
    row->life_h = row->life_low_h = row->life_high_h = life->life_h;
    row->starved = life->starved;
    row->outside = life->outside;
    if (life->starved) {
        trn_review_remark(row, starved);
        if (life->dips_left)
            trn_review_remark(row, dips_left);
        return;
    }
    if (part->kind == TRN_PART_SHAFT)
        trn_review_remark(row, "fatigue of the needles only: an upper bound");
    else if (life->basic && part->modified) {
        row->unlike = true;
        trn_review_remark(row, "no Lnmh: L10h, not alike to the Lnmh as specified, no factor");
    } else if (life->basic)
        trn_review_remark(row, "no Lnmh: L10h compared");
    if (isnan(life->life_h))
        trn_review_remark(row, "life not known");
    trn_review_remark(row, life->remark.text);
}

/* The case first: what is known there says which lives are compared. */
static trn_status lives_of(trn_review *v, size_t explanation, trn_faults *faults)
{
    const trn_explanation *e = &v->explanations[explanation];
    trn_part_life *lives = calloc(v->part_count, sizeof *lives);
    trn_status status = lives ? TRN_OK : TRN_E_MEMORY;
    if (status == TRN_OK && (explanation == 0 || e->departs))
        status = trn_review_lives(v, v->machine, &e->name, explanation ? 1 : 0, faults, lives);
    for (size_t p = 0; p < v->part_count && status == TRN_OK; p++) {
        trn_review_row *row = &v->rows[p * v->explanation_count + explanation];
        if (explanation == 0 && lives[p].basic)
            v->parts[p].modified = false;
        if (e->has_life)
            stated_life(v, row);
        else
            computed_life(v, row, &lives[p]);
    }
    if (lives)
        trn_review_lives_free(lives, v->part_count);
    free(lives);
    return status;
}

/* Was the case changed before anything was compared? */
static bool overridden(const trn_machine *m)
{
    if (m->head.row.changed)
        return true;
    for (size_t t = 0; t < trn_table_count(); t++)
        for (size_t i = 0; i < trn_table_rows(m, trn_table_at(t)); i++)
            if (((const trn_row *)trn_table_row(m, trn_table_at(t), i))->changed)
                return true;
    return false;
}

static void say_overridden(trn_review *v)
{
    for (size_t p = 0; p < v->part_count && overridden(v->machine); p++)
        trn_review_remark(&v->rows[p * v->explanation_count],
                          "not as the tables have it: changed by --set or --scenario first");
}

/* ---- all of it ------------------------------------------------------------------------------ */

static trn_status check_tables(const trn_machine *m, trn_faults *faults)
{
    if (m->failure_count == 0)
        trn_fault_add(faults, "failure.csv", 0, NULL,
                      "a review needs it: what failed (component), at how many hours, which signs "
                      "were seen");
    if (m->scenarios_count == 0)
        trn_fault_add(faults, "scenarios.csv", 0, NULL,
                      "a review needs it: the explanations to compare, each as a change of the "
                      "case or as a stated life");
    return m->failure_count == 0 || m->scenarios_count == 0 ? TRN_E_INPUT : TRN_OK;
}

static trn_status run(trn_review *v, unsigned jobs, trn_faults *faults)
{
    trn_status status = check_tables(v->machine, faults);
    if (status == TRN_OK)
        status = list_explanations(v);
    if (status == TRN_OK)
        status = list_parts(v);
    if (status == TRN_OK)
        status = trn_review_fleet(v, faults);
    trn_status worst = TRN_OK;
    for (size_t i = 0; i < v->explanation_count && status == TRN_OK && worst != TRN_E_MEMORY; i++) {
        trn_status one = lives_of(v, i, faults); /* every scenario's faults in one run */
        worst = one != TRN_OK ? one : worst;
    }
    if (status == TRN_OK)
        status = worst;
    if (status != TRN_OK)
        return status;
    say_overridden(v);
    trn_review_explain(v);
    for (size_t p = 0; p < v->part_count; p++)
        trn_review_factors(v, p);
    trn_review_signs(v);
    status = trn_review_shares(v, jobs);
    return status == TRN_OK ? trn_review_further(v) : status;
}

trn_status trn_review_run(const trn_machine *machine, unsigned jobs, trn_faults *faults,
                          trn_review **out)
{
    *out = NULL;
    trn_review *v = calloc(1, sizeof *v);
    if (!v)
        return TRN_E_MEMORY;
    v->machine = machine;
    trn_status status = run(v, jobs, faults);
    if (status != TRN_OK) {
        trn_review_free(v);
        return status;
    }
    *out = v;
    return TRN_OK;
}

void trn_review_free(trn_review *review)
{
    if (!review)
        return;
    free(review->explanations);
    free(review->failures);
    free(review->parts);
    free(review->rows);
    free(review->units);
    free(review->units_less);
    free(review->subset_lives);
    free(review->departing);
    free(review->next);
    free(review);
}
