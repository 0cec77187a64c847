/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <trunnion/rainflow.h>

#include "statistics.h"

/* The points not yet counted; `first` moves on in open histories only. */
typedef struct stack {
    double *point;
    size_t first, count;
    bool repeating;
    trn_rainflow_sink sink;
    void *context;
} stack;

static void emit(stack *s, double from, double to, double count)
{
    s->sink(s->context, from, to, count);
}

/* ASTM E1049, three-point rule, after each turning point. In a closed history that starts and
 * ends at its highest point no range is left half-way, so the first point needs no care. */
static void reduce(stack *s)
{
    while (s->count >= 3) {
        double *p = s->point + s->first + s->count - 3;
        double latest = fabs(p[2] - p[1]);
        double before = fabs(p[1] - p[0]);
        if (latest < before)
            return;
        if (s->count == 3 && !s->repeating) {
            emit(s, p[0], p[1], 0.5);
            s->first++;
            s->count--;
        } else {
            emit(s, p[0], p[1], 1);
            p[0] = p[2];
            s->count -= 2;
        }
    }
}

/* A load joins: the last point of the stack is the newest load, a turning point only once the
 * next load turns. */
static void feed(stack *s, double load)
{
    double *p = s->point + s->first + s->count;
    if (s->count >= 1 && !(load < p[-1]) && !(load > p[-1]))
        return;
    if (s->count >= 2 && (load > p[-1]) == (p[-1] > p[-2])) {
        p[-1] = load; /* the point before lay on a slope */
        return;
    }
    if (s->count >= 2)
        reduce(s);
    s->point[s->first + s->count] = load;
    s->count++;
}

trn_status trn_rainflow_count(const double *load, size_t n, bool repeating, double *work,
                              trn_rainflow_sink sink, void *context)
{
    if (n == 0)
        return TRN_E_MISSING;
    size_t top = 0;
    bool turns = false;
    for (size_t i = 0; i < n; i++) {
        if (!isfinite(load[i]))
            return TRN_E_DOMAIN;
        if (load[i] > load[top])
            top = i;
        turns = turns || load[i] < load[0] || load[i] > load[0];
    }
    if (!turns)
        return TRN_E_DOMAIN;
    stack s = {work, 0, 0, repeating, sink, context};
    for (size_t i = 0; i < n; i++)
        feed(&s, load[repeating ? (top + i) % n : i]);
    if (repeating)
        feed(&s, load[top]);
    reduce(&s);
    for (size_t i = 0; i + 1 < s.count; i++)
        emit(&s, s.point[s.first + i], s.point[s.first + i + 1], 0.5);
    return TRN_OK;
}

typedef struct sums {
    double span, range, m; /* span: the largest range, so that the power cannot overflow */
    double cycles, count, power;
} sums;

static void add_cycle(void *context, double from, double to, double count)
{
    sums *s = context;
    double range = fabs(to - from);
    s->cycles += count;
    s->power += count * pow(range / s->span, s->m);
    if (fabs(range - s->range) <= 1e-9 * s->range)
        s->count += count;
}

trn_status trn_rainflow_summary(const double *load, size_t n, bool repeating, double range,
                                double m, double *work, double *cycles, double *count,
                                double *equivalent)
{
    bool counted = !isnan(range);
    if (!trn_positive(m) || (counted && !trn_not_negative(range)))
        return TRN_E_DOMAIN;
    double low = INFINITY;
    double high = -INFINITY;
    for (size_t i = 0; i < n; i++) {
        low = fmin(low, load[i]);
        high = fmax(high, load[i]);
    }
    sums s = {.span = high - low, .range = range, .m = m};
    trn_status status = trn_rainflow_count(load, n, repeating, work, add_cycle, &s);
    if (status != TRN_OK)
        return status;
    *cycles = s.cycles;
    *count = counted ? s.count : NAN;
    *equivalent = s.span * pow(s.power / s.cycles, 1 / m);
    return TRN_OK;
}

trn_status trn_rainflow_equivalent(const double *torque, const double *share, size_t n,
                                   double p, double *equivalent, double *peak_share)
{
    if (n == 0)
        return TRN_E_MISSING;
    if (!trn_positive(p))
        return TRN_E_DOMAIN;
    double most = 0;
    double sum = 0;
    for (size_t i = 0; i < n; i++) {
        if (!trn_not_negative(torque[i]) || !trn_not_negative(share[i]))
            return TRN_E_DOMAIN;
        most = fmax(most, torque[i]);
        sum += share[i];
    }
    if (!trn_positive(sum))
        return TRN_E_DOMAIN;
    double damage = 0;
    double by_peak = 0;
    for (size_t i = 0; i < n && most > 0; i++) {
        double part = share[i] * pow(torque[i] / most, p);
        damage += part;
        if (torque[i] >= most)
            by_peak += part;
    }
    *equivalent = most * pow(damage / sum, 1 / p);
    *peak_share = damage > 0 ? by_peak / damage : NAN;
    return TRN_OK;
}

trn_status trn_rainflow_miner(const double *cycles, const double *endurable, size_t n,
                              double *damage)
{
    if (n == 0)
        return TRN_E_MISSING;
    double sum = 0;
    for (size_t i = 0; i < n; i++) {
        if (!trn_not_negative(cycles[i]) || !trn_positive(endurable[i]))
            return TRN_E_DOMAIN;
        sum += cycles[i] / endurable[i];
    }
    if (!isfinite(sum))
        return TRN_E_DOMAIN;
    *damage = sum;
    return TRN_OK;
}
