/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Self-consistent survival: innermost intervals, then steps that raise the likelihood. */
#include <stdlib.h>
#include <string.h>
#include <trunnion/turnbull.h>

#include "statistics.h"

enum { ROUNDS = 20000 };

static const double gap_enough = 1e-9; /* of the log-likelihood, a unit */
static const double gap_accepted = 1e-6;
static const double mass_least = 1e-10; /* below it a stretch has none */
static const double mass_floor = 1e-14; /* so that a lengthened step can be taken back */

/* An end of an interval. At equal hours what fails there comes before what lived on: a known hour
 * and the closing end of (a, b] lie before the opening end of another (b, c]. */
typedef struct end {
    double hour;
    int place; /* 0: a known hour begins; 1: closes at the hour; 2: opens behind the hour */
} end;

typedef struct reach { /* of a row, as ends and as places in the list of stretches */
    end open, close;
    size_t first, behind; /* stretches first .. behind - 1 */
} reach;

typedef struct estimate {
    const trn_weibull_data *data;
    reach *rows;
    trn_turnbull_step *step;
    size_t n; /* stretches */
    double *mass, *next, *sum, *rate; /* n + 1 each */
} estimate;

static int compare_ends(const void *a, const void *b)
{
    const end *p = a;
    const end *q = b;
    if (p->hour < q->hour || p->hour > q->hour)
        return p->hour < q->hour ? -1 : 1;
    return p->place - q->place;
}

static reach reach_of(const trn_weibull_row *row)
{
    switch (row->kind) {
    case TRN_WEIBULL_EXACT: return (reach){.open = {row->after_h, 0}, .close = {row->after_h, 1}};
    case TRN_WEIBULL_RIGHT: return (reach){.open = {row->after_h, 2}, .close = {INFINITY, 1}};
    case TRN_WEIBULL_LEFT: return (reach){.open = {0, 2}, .close = {row->by_h, 1}};
    case TRN_WEIBULL_INTERVAL: break;
    }
    return (reach){.open = {row->after_h, 2}, .close = {row->by_h, 1}};
}

/* Mass can lie only where an opening end is followed by a closing one. */
static void find_stretches(estimate *e, end *ends)
{
    size_t n = 0;
    for (size_t i = 0; i < e->data->n; i++) {
        e->rows[i] = reach_of(&e->data->rows[i]);
        ends[n++] = e->rows[i].open;
        ends[n++] = e->rows[i].close;
    }
    qsort(ends, n, sizeof *ends, compare_ends);
    for (size_t i = 0; i + 1 < n; i++)
        if (ends[i].place != 1 && ends[i + 1].place == 1)
            e->step[e->n++] =
                (trn_turnbull_step){.from_h = ends[i].hour, .to_h = ends[i + 1].hour};
}

/* Is the stretch inside what the row allows? */
static bool inside(const trn_turnbull_step *s, const reach *r)
{
    end from = {s->from_h, s->from_h < s->to_h ? 2 : 0};
    end to = {s->to_h, 1};
    return compare_ends(&r->open, &from) <= 0 && compare_ends(&to, &r->close) <= 0;
}

static void place_rows(estimate *e)
{
    for (size_t i = 0; i < e->data->n; i++) {
        reach *r = &e->rows[i];
        size_t low = 0;
        size_t high = e->n;
        while (low < high) { /* first stretch that does not begin before the row's reach */
            size_t middle = (low + high) / 2;
            end from = {e->step[middle].from_h,
                        e->step[middle].from_h < e->step[middle].to_h ? 2 : 0};
            if (compare_ends(&from, &r->open) < 0)
                low = middle + 1;
            else
                high = middle;
        }
        r->first = r->behind = low;
        while (r->behind < e->n && inside(&e->step[r->behind], r))
            r->behind++;
    }
}

/* Log-likelihood of the masses; rate_j = d/dp_j of it, over the number of units. */
static double rates(estimate *e, const double *mass)
{
    double l = 0;
    e->sum[0] = 0;
    for (size_t j = 0; j < e->n; j++) {
        e->sum[j + 1] = e->sum[j] + mass[j];
        e->rate[j] = 0;
    }
    e->rate[e->n] = 0;
    for (size_t i = 0; i < e->data->n; i++) {
        const reach *r = &e->rows[i];
        double part = 0;
        double count = (double)e->data->rows[i].count;
        if (r->behind - r->first <= 8) /* few: without the cancellation of running sums */
            for (size_t j = r->first; j < r->behind; j++)
                part += mass[j];
        else
            part = e->sum[r->behind] - e->sum[r->first];
        if (!(part > 0))
            return -INFINITY;
        l += count * log(part);
        e->rate[r->first] += count / part / e->data->units;
        e->rate[r->behind] -= count / part / e->data->units;
    }
    for (size_t j = 1; j < e->n; j++) /* differences to sums */
        e->rate[j] += e->rate[j - 1];
    return l;
}

/* What a unit's log-likelihood could still rise at most: largest rate less one. */
static double gap_of(const estimate *e)
{
    double most = 0;
    for (size_t j = 0; j < e->n; j++)
        most = fmax(most, e->rate[j]);
    return most - 1;
}

/* p_j rate_j^power, made to add up to one. */
static void multiply(const estimate *e, double power, double *out)
{
    double sum = 0;
    for (size_t j = 0; j < e->n; j++) {
        double rate = fmax(e->rate[j], 0);
        out[j] = fmax(mass_floor, e->mass[j] * (power > 1 ? pow(rate, power) : rate));
        sum += out[j];
    }
    for (size_t j = 0; j < e->n; j++)
        out[j] /= sum;
}

/* Self-consistency steps, lengthened as long as that pays: the plain step (power 1) always raises
 * the likelihood, but crawls where masses run towards nothing. */
static trn_status climb(estimate *e)
{
    double power = 1;
    for (size_t j = 0; j < e->n; j++)
        e->mass[j] = 1 / (double)e->n;
    double l = rates(e, e->mass);
    for (size_t round = 0; round < ROUNDS; round++) {
        double gap = gap_of(e);
        if (gap < gap_enough)
            return TRN_OK;
        multiply(e, power, e->next);
        double better = rates(e, e->next);
        if (!(better > l) && power > 1) {
            (void)rates(e, e->mass);
            power = 1;
            multiply(e, power, e->next);
            better = rates(e, e->next);
        } else {
            power = fmin(power * 1.3, 64);
        }
        memcpy(e->mass, e->next, e->n * sizeof *e->mass);
        l = better;
    }
    return gap_of(e) < gap_accepted ? TRN_OK : TRN_E_CONVERGE;
}

static size_t keep_mass(estimate *e)
{
    size_t kept = 0;
    double behind = 0;
    for (size_t j = 0; j < e->n; j++)
        if (e->mass[j] >= mass_least) {
            e->step[kept] = e->step[j];
            e->step[kept++].mass = e->mass[j];
        }
    for (size_t j = kept; j-- > 0;) {
        e->step[j].survive = behind;
        behind += e->step[j].mass;
    }
    return kept;
}

trn_status trn_turnbull(const trn_weibull_data *data, trn_turnbull_step *step, size_t *count)
{
    size_t room = 2 * data->n + 1;
    estimate e = {.data = data, .step = step};
    e.rows = calloc(data->n + 1, sizeof *e.rows);
    end *ends = calloc(room, sizeof *ends);
    double *memory = calloc(4 * (room + 1), sizeof *memory);
    trn_status status = e.rows && ends && memory ? TRN_OK : TRN_E_MEMORY;
    if (status == TRN_OK) {
        e.mass = memory;
        e.next = memory + room + 1;
        e.sum = e.next + room + 1;
        e.rate = e.sum + room + 1;
        find_stretches(&e, ends);
        place_rows(&e);
        status = climb(&e);
    }
    if (status == TRN_OK)
        *count = keep_mass(&e);
    free(e.rows);
    free(ends);
    free(memory);
    return status;
}
