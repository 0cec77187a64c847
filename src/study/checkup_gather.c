/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The same word about several parts in several conditions is said once, with their names. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "checkup_parts.h"

enum { NAMES_SHOWN = 4 };

static trn_gathered *add(trn_gathering *g)
{
    trn_gathered *grown = realloc(g->v, (g->count + 1) * sizeof *grown);
    if (!grown) {
        g->failed = true;
        return NULL;
    }
    g->v = grown;
    bool *where = calloc(g->subjects * g->conditions + 1, sizeof *where);
    if (!where) {
        g->failed = true;
        return NULL;
    }
    grown[g->count] = (trn_gathered){.low = NAN, .high = NAN, .where = where};
    return &grown[g->count++];
}

void trn_gather_text(trn_gathering *g, trn_checkup_state state, size_t subject, size_t condition,
                     trn_buffer *text)
{
    trn_gathered *to = NULL;
    g->failed = g->failed || text->failed || !text->text;
    for (size_t i = 0; !g->failed && !to && i < g->count; i++)
        if (!g->v[i].by_key && g->v[i].state == state && strcmp(g->v[i].text, text->text) == 0)
            to = &g->v[i];
    if (!g->failed && !to && (to = add(g))) {
        to->state = state;
        to->text = text->text;
        *text = (trn_buffer){0};
    }
    if (to)
        to->where[subject * g->conditions + condition] = true;
    trn_buffer_free(text);
}

static void gather_remark(trn_gathering *g, size_t subject, size_t condition,
                          const trn_remark *remark)
{
    trn_gathered *to = NULL;
    for (size_t i = 0; !to && i < g->count; i++)
        if (g->v[i].by_key && g->v[i].key.id == remark->id &&
            g->v[i].key.status == remark->status && g->v[i].key.name == remark->name)
            to = &g->v[i];
    if (!to && (to = add(g))) {
        to->state = TRN_CHECKUP_LOOK;
        to->by_key = true;
        to->key = *remark;
    }
    if (!to)
        return;
    if (!(remark->number <= to->high))
        to->key = *remark; /* the worst is shown */
    to->low = fmin(to->low, remark->number);
    to->high = fmax(to->high, remark->number);
    to->where[subject * g->conditions + condition] = true;
}

void trn_gather_looks(trn_gathering *g, size_t subject, size_t condition,
                      const trn_remarks *remarks)
{
    for (size_t i = 0; i < remarks->n; i++)
        if (trn_remark_role_of(&remarks->v[i]) == TRN_REMARK_LOOK)
            gather_remark(g, subject, condition, &remarks->v[i]);
}

/* ---- written ------------------------------------------------------------------------------ */

/* Names of the true places; nothing where all are true and `all_silent`. */
static void names(const trn_gathering *g, const bool *marked, size_t n, size_t stride,
                  const char *(*name)(const void *, size_t), bool all_silent, trn_buffer *out)
{
    size_t total = 0;
    size_t shown = 0;
    for (size_t i = 0; i < n; i++)
        total += marked[i * stride];
    if (all_silent && total == n)
        return;
    for (size_t i = 0; i < n; i++) {
        if (!marked[i * stride])
            continue;
        if (shown == NAMES_SHOWN && total > NAMES_SHOWN + 1) {
            trn_buffer_print(out, " and %zu more", total - shown);
            return;
        }
        trn_buffer_print(out, "%s%s", shown ? ", " : "", name(g->context, i));
        shown++;
    }
}

static void text_of(const trn_gathered *one, trn_buffer *out)
{
    if (!one->by_key) {
        trn_buffer_add(out, one->text);
        return;
    }
    trn_remarks list = {.n = 1};
    list.v[0] = one->key;
    trn_remarks_text(&list, out);
    if (fabs(one->high - one->low) > 0.005 * fabs(one->high))
        trn_buffer_print(out, " (from %.3g)", one->low);
}

/* Subjects that share the conditions of `first` go into one item. */
static void write_one(const trn_gathering *g, trn_gathered *one, size_t first,
                      trn_checkup_part part, const char *item, bool *same, trn_checkup *checkup)
{
    size_t n = g->conditions;
    bool *row = one->where + first * n;
    for (size_t s = 0; s < g->subjects; s++)
        same[s] = s == first || (s > first && memcmp(one->where + s * n, row, n) == 0);
    trn_buffer who = {0};
    trn_buffer when = {0};
    trn_buffer text = {0};
    names(g, same, g->subjects, 1, g->subject, item != NULL, &who);
    if (g->condition)
        names(g, row, n, 1, g->condition, true, &when);
    if (item && who.text)
        trn_buffer_print(&text, "%s: ", who.text);
    text_of(one, &text);
    if (when.text)
        trn_buffer_print(&text, " (in %s)", when.text);
    checkup->failed = checkup->failed || who.failed || when.failed;
    trn_checkup_add(checkup, part, one->state, item ? item : who.text ? who.text : "", &text);
    trn_buffer_free(&who);
    trn_buffer_free(&when);
    for (size_t s = g->subjects; s-- > first;)
        if (same[s])
            memset(one->where + s * n, 0, n * sizeof *row);
}

void trn_gathering_write(trn_gathering *g, trn_checkup_part part, const char *item,
                         trn_checkup *checkup)
{
    bool *same = calloc(g->subjects + 1, sizeof *same);
    g->failed = g->failed || !same;
    for (size_t i = 0; i < g->count; i++) {
        for (size_t s = 0; !g->failed && s < g->subjects; s++) {
            bool any = false;
            for (size_t c = 0; c < g->conditions; c++)
                any = any || g->v[i].where[s * g->conditions + c];
            if (any)
                write_one(g, &g->v[i], s, part, item, same, checkup);
        }
        free(g->v[i].text);
        free(g->v[i].where);
    }
    free(same);
    free(g->v);
    g->v = NULL;
    g->count = 0;
    checkup->failed = checkup->failed || g->failed;
}
