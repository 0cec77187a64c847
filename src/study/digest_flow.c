/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rainflow cycles of a series that comes in parts: four-point rule, whose remainder of a joined
 * series is that of the joined remainders. With the remainder counted half it gives the table of
 * the three-point rule of ASTM E1049. */
#include <math.h>
#include <stdlib.h>

#include "digest_inside.h"

bool digest_points_push(digest_points *points, double x)
{
    if (points->n == points->capacity) {
        size_t capacity = points->capacity ? 2 * points->capacity : 16;
        double *p = realloc(points->p, capacity * sizeof *p);
        if (!p)
            return false;
        points->p = p;
        points->capacity = capacity;
    }
    points->p[points->n++] = x;
    return true;
}

static void count(double a, double b, int64_t halves, double step, digest_sums *sums)
{
    digest_cycle_add(sums, digest_class_of(fabs(a - b), step),
                     digest_class_of(0.5 * (a + b), step), halves);
}

static void push(digest_points *points, double x, double step, digest_sums *sums)
{
    double *p = points->p;
    size_t n = points->n;
    if (n >= 1 && !(x < p[n - 1]) && !(x > p[n - 1]))
        return;
    if (n >= 2 && (x > p[n - 1]) == (p[n - 1] > p[n - 2])) {
        p[n - 1] = x; /* the point before lay on a slope */
    } else if (!digest_points_push(points, x)) {
        sums->status = TRN_E_MEMORY;
        return;
    }
    while (points->n >= 4) {
        p = points->p + points->n - 4;
        double inner = fabs(p[2] - p[1]);
        if (inner > fabs(p[1] - p[0]) || inner > fabs(p[3] - p[2]))
            return;
        count(p[1], p[2], 2, step, sums);
        p[1] = p[3];
        points->n -= 2;
    }
}

static void rest(const digest_points *points, double step, digest_sums *sums)
{
    for (size_t i = 0; i + 1 < points->n; i++)
        count(points->p[i], points->p[i + 1], 1, step, sums);
}

static void clear(digest_points *points)
{
    free(points->p);
    *points = (digest_points){NULL, 0, 0};
}

void digest_flow_add(digest_flow *flow, double torque, double step, digest_sums *sums)
{
    push(&flow->tail, torque, step, sums);
}

void digest_flow_split(digest_flow *flow, double step, digest_sums *sums)
{
    if (flow->split) {
        rest(&flow->tail, step, sums);
        flow->tail.n = 0;
    } else {
        flow->head = flow->tail;
        flow->tail = (digest_points){NULL, 0, 0};
        flow->split = true;
    }
}

void digest_flow_join(digest_flow *flow, digest_flow *next, bool broken, double step,
                      digest_sums *sums)
{
    if (broken)
        digest_flow_split(flow, step, sums);
    const digest_points *first = next->split ? &next->head : &next->tail;
    for (size_t i = 0; i < first->n; i++)
        push(&flow->tail, first->p[i], step, sums);
    if (next->split) {
        digest_flow_split(flow, step, sums);
        clear(&flow->tail);
        flow->tail = next->tail;
        next->tail = (digest_points){NULL, 0, 0};
    }
    digest_flow_free(next);
}

void digest_flow_rest(const digest_flow *flow, double step, digest_sums *sums)
{
    rest(&flow->head, step, sums);
    rest(&flow->tail, step, sums);
}

void digest_flow_free(digest_flow *flow)
{
    clear(&flow->head);
    clear(&flow->tail);
    flow->split = false;
}
