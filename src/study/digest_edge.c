/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What hangs on the order of rows: steps between stamps, trips and shocks, rests. Blocks, files
 * and parts are joined by the same step that leads from row to row. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "digest_inside.h"

static bool known(const digest_row *row)
{
    return row->kind == DIGEST_WORK || row->kind == DIGEST_STANDING;
}

static void credit(digest_sums *sums, const trn_digest_settings *s, const digest_row *row,
                   int64_t dt)
{
    static const trn_digest_event events[] = {
        [DIGEST_WORK] = TRN_EVENT_WORK,
        [DIGEST_STANDING] = TRN_EVENT_STANDING,
        [DIGEST_BLANK] = TRN_EVENT_BLANK,
        [DIGEST_SPIKE] = TRN_EVENT_SPIKE,
    };
    sums->ns[events[row->kind]] += dt;
    if (!known(row))
        return;
    if (row->kind == DIGEST_WORK && row->torque < 0)
        sums->ns[TRN_EVENT_NEGATIVE] += dt;
    digest_hold(sums, s, row, dt);
}

static void watch(digest_sums *sums, const trn_digest_settings *s, const digest_row *a,
                  const digest_row *b)
{
    if (!known(a) || !known(b))
        return;
    if (a->kind == DIGEST_STANDING && b->kind == DIGEST_WORK)
        sums->events[TRN_EVENT_ENGAGED]++;
    if (a->torque >= s->trip_nm && b->torque <= 0.2 * a->torque && b->speed >= 0.5 * a->speed &&
        b->kind == DIGEST_WORK)
        sums->events[TRN_EVENT_TRIP]++;
    if (b->torque - a->torque >= s->shock_nm && b->torque >= 2 * a->torque)
        sums->events[TRN_EVENT_SHOCK]++;
}

/* From row a to row b; true: the series is broken between them. */
static bool step(digest_sums *sums, const trn_digest_settings *s, const digest_row *a,
                 const digest_row *b)
{
    int64_t dt = b->ns - a->ns;
    if (dt < 0) {
        sums->events[TRN_EVENT_BACK]++;
        return true;
    }
    if ((double)dt > s->gap_s * 1e9) {
        sums->events[TRN_EVENT_GAP]++;
        sums->ns[TRN_EVENT_GAP] += dt;
        return true;
    }
    if (dt == 0)
        sums->events[TRN_EVENT_REPEATED]++;
    else
        credit(sums, s, a, dt);
    watch(sums, s, a, b);
    return false;
}

static void turning(digest_edge *edge, digest_sums *sums, const trn_digest_settings *s,
                    int64_t first, int64_t last)
{
    if (!edge->turned)
        edge->first_turn = first;
    else if ((double)(first - edge->last_turn) >= s->rest_s * 1e9)
        sums->events[TRN_EVENT_WARM_UP]++;
    edge->turned = true;
    edge->last_turn = last;
}

static void count_row(digest_sums *sums, const digest_row *row)
{
    sums->events[TRN_EVENT_ROW]++;
    sums->events[TRN_EVENT_WORK] += row->kind == DIGEST_WORK;
    sums->events[TRN_EVENT_STANDING] += row->kind == DIGEST_STANDING;
    sums->events[TRN_EVENT_BLANK] += row->kind == DIGEST_BLANK;
    sums->events[TRN_EVENT_SPIKE] += row->kind == DIGEST_SPIKE;
    sums->events[TRN_EVENT_NEGATIVE] += row->kind == DIGEST_WORK && row->torque < 0;
}

void digest_edge_row(digest_edge *edge, digest_sums *sums, const trn_digest_settings *s,
                     const digest_row *row)
{
    bool broken = edge->any && step(sums, s, &edge->last, row);
    if (!edge->any)
        edge->first = *row;
    edge->any = true;
    edge->last = *row;
    count_row(sums, row);
    if (row->kind == DIGEST_WORK)
        turning(edge, sums, s, row->ns, row->ns);
    if (!s->rainflow)
        return;
    if (broken || !known(row))
        digest_flow_split(&edge->flow, s->torque_step_nm, sums);
    if (known(row))
        digest_flow_add(&edge->flow, row->torque, s->torque_step_nm, sums);
}

void digest_edge_join(digest_edge *edge, digest_edge *next, digest_sums *sums,
                      const trn_digest_settings *s)
{
    if (!next->any)
        return;
    bool broken = edge->any && step(sums, s, &edge->last, &next->first);
    if (!edge->any)
        edge->first = next->first;
    edge->any = true;
    edge->last = next->last;
    if (next->turned)
        turning(edge, sums, s, next->first_turn, next->last_turn);
    if (s->rainflow)
        digest_flow_join(&edge->flow, &next->flow, broken, s->torque_step_nm, sums);
    *next = (digest_edge){.any = false};
}

static bool copy_points(digest_points *to, const digest_points *from)
{
    bool good = true;
    for (size_t i = 0; i < from->n && good; i++)
        good = digest_points_push(to, from->p[i]);
    return good;
}

bool digest_edge_copy(digest_edge *to, const digest_edge *from)
{
    *to = *from;
    to->flow = (digest_flow){.split = from->flow.split};
    return copy_points(&to->flow.head, &from->flow.head) &&
           copy_points(&to->flow.tail, &from->flow.tail);
}

void digest_edge_free(digest_edge *edge)
{
    digest_flow_free(&edge->flow);
    *edge = (digest_edge){.any = false};
}
