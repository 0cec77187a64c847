/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which causes of the sign table an explanation stands for, and how the signs seen weigh. Counted
 * apart from the hours: their likelihoods are not known and they seldom are independent. */
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <trunnion/path.h>

#include "review_inside.h"

/* Places in trn_evidence_causes. */
enum { OVERLOAD, OVER_ANGLE, LOW_OIL, HEAT, CONTAMINATION, WATER, NORMAL, PART };

static bool starts(const char *text, const char *with)
{
    return strncmp(text, with, strlen(with)) == 0;
}

typedef struct rule {
    const char *table;  /* NULL: any */
    const char *column; /* how it begins; NULL: any */
    int cause;
} rule;

/* The first that fits counts. */
static const rule rules[] = {
    {"positions", NULL, OVER_ANGLE},
    {"geometry", NULL, OVER_ANGLE},
    {NULL, "yoke_error", OVER_ANGLE},
    {"duty", "position", OVER_ANGLE},
    {NULL, "oil_volume", LOW_OIL},
    {NULL, "dip", LOW_OIL},
    {NULL, "level_margin", LOW_OIL},
    {"bearings", NULL, PART},
    {"gears", NULL, PART},
    {"shafts", "cross_", PART},
    {"shafts", "needles", PART},
    {NULL, "power", OVERLOAD},
    {NULL, "shock", OVERLOAD},
    {NULL, "rated_power", OVERLOAD},
    {NULL, "pto_speed", HEAT},
    {NULL, "ambient", HEAT},
    {NULL, "oil_temperature", HEAT},
    {NULL, "heat_transfer", HEAT},
    {NULL, "air_speed", HEAT},
    {NULL, "residue", HEAT},
    {NULL, "sun", HEAT},
    {NULL, "dust", CONTAMINATION},
    {NULL, "cleanliness", CONTAMINATION},
    {NULL, "wash", WATER},
    {NULL, "humidity", WATER},
};

unsigned trn_review_causes(const char *path)
{
    const char *dot = strchr(path, '.');
    const char *column = strrchr(path, '.');
    if (strcmp(path, "life") == 0)
        return 1U << PART;
    if (!dot)
        return 0;
    for (size_t i = 0; i < sizeof rules / sizeof rules[0]; i++) {
        const rule *r = &rules[i];
        bool table = !r->table || (starts(path, r->table) && path[strlen(r->table)] == '.');
        if (table && (!r->column || starts(column + 1, r->column)))
            return 1U << r->cause;
    }
    return 0;
}

/* Does a path reach the part itself, or a gearbox that it is in? */
static bool reaches(const trn_machine *m, const trn_review_part *part, const char *text)
{
    trn_path path;
    trn_buffer ignored = {0};
    bool found = trn_path_parse(m, text, &path, &ignored) == TRN_OK;
    trn_buffer_free(&ignored);
    bool hit = false;
    for (size_t r = 0; found && (r = trn_path_row(m, &path, r)) != TRN_NONE; r++) {
        if (strcmp(path.table->name, "bearings") == 0)
            hit = hit || (part->kind == TRN_PART_BEARING && r == part->index) ||
                  (part->kind == TRN_PART_GEARBOX &&
                   m->axles[m->bearings[r].axle_index].gearbox_index == part->gearbox);
        else if (strcmp(path.table->name, "gears") == 0)
            hit = hit || (part->kind == TRN_PART_GEARBOX &&
                          m->axles[m->gears[r].axle_index].gearbox_index == part->gearbox);
        else if (strcmp(path.table->name, "shafts") == 0)
            hit = hit || (part->kind == TRN_PART_SHAFT && r == part->index);
    }
    return hit;
}

static void mark_fault(trn_review *v, const trn_scenario *s, const trn_explanation *e)
{
    for (size_t p = 0; p < v->part_count; p++) {
        bool stated = e->has_life && (e->causes & (1U << PART)) != 0;
        bool changed = trn_review_causes(s->quantity) == 1U << PART &&
                       !trn_scenario_is_life(s) && reaches(v->machine, &v->parts[p], s->quantity);
        v->parts[p].fault_compared = v->parts[p].fault_compared || stated || changed;
    }
}

/* A stated life is a fault of the part where nothing else says what was departed from; a blank
 * one stands for a box that was starved. */
static void stated_cause(trn_explanation *e)
{
    if (e->has_life && e->causes == 0)
        e->causes = 1U << (e->life.known ? PART : LOW_OIL);
}

void trn_review_explain(trn_review *v)
{
    const trn_machine *m = v->machine;
    v->explanations[0].causes = 1U << NORMAL;
    for (size_t k = 1; k < v->explanation_count; k++) {
        trn_explanation *e = &v->explanations[k];
        for (size_t i = 0; i < m->scenarios_count; i++)
            if (strcmp(m->scenarios[i].scenario, e->name) == 0 &&
                !trn_scenario_is_life(&m->scenarios[i]))
                e->causes |= trn_review_causes(m->scenarios[i].quantity);
        stated_cause(e);
        for (size_t i = 0; i < m->scenarios_count; i++)
            if (strcmp(m->scenarios[i].scenario, e->name) == 0)
                mark_fault(v, &m->scenarios[i], e);
    }
}

int trn_review_weight(unsigned causes, const char *sign)
{
    int sum = 0;
    size_t place = 0;
    while (trn_evidence_signs[place] && strcmp(trn_evidence_signs[place], sign) != 0)
        place++;
    for (size_t c = 0; trn_evidence_causes[c]; c++) {
        int weight = 0;
        if ((causes >> c & 1) && trn_evidence_sign_weight(place, c, &weight) >= 0)
            sum += weight;
    }
    return sum;
}

static void words(unsigned causes, char *out, size_t size)
{
    size_t n = 0;
    for (size_t c = 0; trn_evidence_causes[c] && n < size; c++)
        if (causes >> c & 1) {
            int k = snprintf(out + n, size - n, "%s%s", n ? "/" : "", trn_evidence_causes[c]);
            n += k > 0 ? (size_t)k : 0;
        }
}

static void count(const trn_review *v, trn_review_row *row)
{
    const trn_texts *seen = &v->parts[row->part].failure->sign;
    unsigned causes = v->explanations[row->explanation].causes;
    words(causes, row->cause, sizeof row->cause);
    if (seen->n == 0)
        return;
    if (causes == 0) {
        trn_review_remark(row, "signs: not weighed, what it changes is no cause of the sign table");
        return;
    }
    row->signs_for = row->signs_against = row->signs_neutral = row->sign_weight = 0;
    for (size_t i = 0; i < seen->n; i++) {
        int weight = trn_review_weight(causes, seen->v[i]);
        row->sign_weight += weight;
        *(weight > 0 ? &row->signs_for : weight < 0 ? &row->signs_against : &row->signs_neutral) +=
            1;
    }
    char text[96];
    (void)snprintf(text, sizeof text, "signs: %.0f for, %.0f against, %.0f neutral",
                   row->signs_for, row->signs_against, row->signs_neutral);
    trn_review_remark(row, text);
}

void trn_review_signs(trn_review *v)
{
    for (size_t i = 0; i < v->part_count * v->explanation_count; i++)
        count(v, &v->rows[i]);
}
