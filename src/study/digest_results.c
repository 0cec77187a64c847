/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sums of a digest to rows of the histogram, of the duty, of the cycles. */
#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "digest_inside.h"

const trn_digest_settings *trn_digest_settings_of(const trn_digest *d)
{
    return &d->settings;
}

size_t trn_digest_count(const trn_digest *d, trn_digest_event event)
{
    return (size_t)d->sums.events[event] + (event == TRN_EVENT_WARM_UP && d->edge.turned);
}

double trn_digest_seconds(const trn_digest *d, trn_digest_event event)
{
    return (double)d->sums.ns[event] / 1e9;
}

bool trn_digest_logged(const trn_digest *d, trn_log_channel channel)
{
    return d->logged[channel];
}

bool trn_digest_span(const trn_digest *d, int64_t *first_ns, int64_t *last_ns,
                     trn_log_clock *clock)
{
    if (!d->edge.any)
        return false;
    *first_ns = d->edge.first.ns;
    *last_ns = d->edge.last.ns;
    *clock = d->clock;
    return true;
}

const trn_faults *trn_digest_skipped(const trn_digest *d)
{
    return &d->skipped;
}

const char *trn_digest_unused(const trn_digest *d)
{
    return d->unused.text ? d->unused.text : "";
}

double trn_digest_starts(const trn_digest *d)
{
    double hours = (double)d->sums.ns[TRN_EVENT_WORK] / 3.6e12;
    return hours >= 1 ? 100 * (double)trn_digest_count(d, TRN_EVENT_WARM_UP) / hours : NAN;
}

/* ---- cells --------------------------------------------------------------------------------- */

/* By place (its rank in the alphabet), temperature, speed, torque. */
typedef struct ranked {
    size_t rank;
    digest_class class;
    const digest_cell *cell;
} ranked;

static int order(long a, long b)
{
    return (a > b) - (a < b);
}

static int by_class(const void *a, const void *b)
{
    const ranked *x = a;
    const ranked *y = b;
    int d = (x->rank > y->rank) - (x->rank < y->rank);
    if (d == 0)
        d = order(x->class.temperature, y->class.temperature);
    if (d == 0)
        d = order(x->class.speed, y->class.speed);
    return d ? d : order(x->class.torque, y->class.torque);
}

static double mean(const digest_cell *c, trn_log_channel channel)
{
    size_t k = (size_t)(channel - TRN_LOG_AMBIENT);
    return c->known_ns[k] > 0
               ? (double)c->sum[k] / DIGEST_OTHER_UNIT / (double)c->known_ns[k]
               : NAN;
}

static double equivalent(digest_wide damage, digest_wide turn, double p)
{
    if (turn <= 0)
        return NAN;
    double ratio = (double)damage / DIGEST_DAMAGE / ((double)turn / DIGEST_TURN);
    return DIGEST_UNIT_NM * pow(ratio, 1 / p);
}

static trn_digest_cell cell_of(const digest_cell *c, const digest_class *k,
                               const trn_digest_settings *s)
{
    static const double per_rpm = 6.283185307179586476925 / 60;
    double turn = (double)c->turn / DIGEST_TURN; /* rpm ns */
    double energy = (double)c->energy / DIGEST_ENERGY;
    double ns = (double)c->ns;
    bool class = k->temperature != INT_MIN;
    trn_digest_cell out = {
        .place = "",
        .temperature_from_c = class ? k->temperature * s->temperature_step_k : NAN,
        .temperature_to_c = class ? (k->temperature + 1) * s->temperature_step_k : NAN,
        .speed_from_rpm = k->speed * s->speed_step_rpm,
        .speed_to_rpm = (k->speed + 1) * s->speed_step_rpm,
        .torque_from_nm = k->torque * s->torque_step_nm,
        .torque_to_nm = (k->torque + 1) * s->torque_step_nm,
        .seconds = ns / 1e9,
        .revolutions = turn / 60e9,
        .speed_rpm = turn / ns,
        .power_kw = energy / ns * per_rpm / 1000,
        .torque_nm = turn > 0 ? energy / turn : NAN,
        .equivalent_p3_nm = equivalent(c->damage3, c->turn, 3),
        .equivalent_p10_3_nm = equivalent(c->damage10_3, c->turn, 10.0 / 3),
        .ambient_c = mean(c, TRN_LOG_AMBIENT),
        .oil_c = mean(c, TRN_LOG_OIL),
        .dust_mg_m3 = mean(c, TRN_LOG_DUST),
        .lift_mm = mean(c, TRN_LOG_LIFT),
        .wing_deg = mean(c, TRN_LOG_WING),
    };
    out.shock = out.torque_nm > 0 ? fmax(1, out.equivalent_p10_3_nm / out.torque_nm) : 1;
    return out;
}

static size_t rank_of(const digest_places *places, unsigned place)
{
    size_t rank = 0;
    for (size_t i = 0; i < places->count; i++)
        rank += strcmp(places->name[i], places->name[place]) < 0;
    return rank;
}

/* Cells of a sum, sorted; standing ones only where they are asked for. */
static trn_status collect(const trn_digest *d, const digest_sums *sums, bool standing,
                          bool places, trn_digest_cell **cells, size_t *count)
{
    ranked *list = calloc(sums->count + 1, sizeof *list);
    size_t *rank = calloc(d->places.count + 1, sizeof *rank);
    *cells = calloc(sums->count + 1, sizeof **cells);
    size_t n = 0;
    trn_status status = list && rank && *cells ? TRN_OK : TRN_E_MEMORY;
    for (size_t i = 0; status == TRN_OK && places && i < d->places.count; i++)
        rank[i] = rank_of(&d->places, (unsigned)i);
    for (size_t i = 0; status == TRN_OK && i < sums->slots; i++) {
        if (sums->cells[i].key == 0 || sums->cells[i].ns == 0)
            continue;
        digest_class c = digest_unpack(sums->cells[i].key);
        if (!c.standing || standing)
            list[n++] = (ranked){rank[places ? c.place : 0], c, &sums->cells[i]};
    }
    if (status == TRN_OK)
        qsort(list, n, sizeof *list, by_class);
    for (size_t i = 0; status == TRN_OK && i < n; i++) {
        (*cells)[i] = cell_of(list[i].cell, &list[i].class, &d->settings);
        if (places)
            (*cells)[i].place = d->places.name[list[i].class.place];
    }
    free(list);
    free(rank);
    *count = n;
    if (status < 0) {
        free(*cells);
        *cells = NULL;
        *count = 0;
    }
    return status;
}

trn_status trn_digest_duty(const trn_digest *d, trn_digest_cell **cells, size_t *count)
{
    return collect(d, &d->sums, false, true, cells, count);
}

trn_status trn_digest_histogram(const trn_digest *d, trn_digest_cell **cells, size_t *count)
{
    digest_sums all = {.cells = NULL};
    for (size_t i = 0; i < d->sums.slots; i++) {
        const digest_cell *from = &d->sums.cells[i];
        if (from->key == 0)
            continue;
        digest_class c = digest_unpack(from->key);
        c.place = 0;
        c.standing = false;
        c.temperature = INT_MIN;
        digest_cell *to = digest_cell_of(&all, digest_pack(&c));
        if (to)
            digest_cell_add(to, from);
    }
    trn_status status = all.status < 0 ? all.status
                                       : collect(d, &all, true, false, cells, count);
    digest_sums_free(&all);
    return status;
}

/* ---- cycles -------------------------------------------------------------------------------- */

static int by_range(const void *a, const void *b)
{
    const digest_cycle *x = a;
    const digest_cycle *y = b;
    return x->range != y->range ? order(x->range, y->range) : order(x->mean, y->mean);
}

trn_status trn_digest_rainflow(const trn_digest *d, trn_digest_cycles **rows, size_t *count)
{
    double step = d->settings.torque_step_nm;
    digest_sums all = {.cells = NULL};
    for (size_t i = 0; i < d->sums.cycle_slots; i++)
        if (d->sums.cycles[i].halves > 0)
            digest_cycle_add(&all, d->sums.cycles[i].range, d->sums.cycles[i].mean,
                             d->sums.cycles[i].halves);
    digest_flow_rest(&d->edge.flow, step, &all);
    digest_cycle *list = calloc(all.cycle_count + 1, sizeof *list);
    *rows = calloc(all.cycle_count + 1, sizeof **rows);
    *count = 0;
    trn_status status = all.status < 0 || !list || !*rows ? TRN_E_MEMORY : TRN_OK;
    size_t n = 0;
    for (size_t i = 0; status == TRN_OK && i < all.cycle_slots; i++)
        if (all.cycles[i].halves > 0)
            list[n++] = all.cycles[i];
    if (status == TRN_OK)
        qsort(list, n, sizeof *list, by_range);
    for (size_t i = 0; i < n; i++)
        (*rows)[i] = (trn_digest_cycles){list[i].range * step, (list[i].range + 1) * step,
                                         list[i].mean * step, (list[i].mean + 1) * step,
                                         0.5 * (double)list[i].halves};
    free(list);
    digest_sums_free(&all);
    if (status == TRN_OK) {
        *count = n;
    } else {
        free(*rows);
        *rows = NULL;
    }
    return status;
}
