/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rainflow cycles of the pieces of a record, alike ones together, and in bins. */
#include <math.h>
#include <stdlib.h>
#include <trunnion/rainflow.h>

#include "spectrum_inside.h"

typedef struct bag {
    trn_spectrum_cycle *list;
    size_t n, room;
    bool failed;
} bag;

static void put(void *context, double from, double to, double count)
{
    bag *b = context;
    if (b->n == b->room && !b->failed) {
        size_t room = b->room ? 2 * b->room : 64;
        trn_spectrum_cycle *list = realloc(b->list, room * sizeof *list);
        b->failed = !list;
        if (list) {
            b->list = list;
            b->room = room;
        }
    }
    if (!b->failed)
        b->list[b->n++] = (trn_spectrum_cycle){
            .range_nm = fabs(to - from), .mean_nm = from / 2 + to / 2, .count = count};
}

static int by_range(const void *a, const void *b)
{
    const trn_spectrum_cycle *p = a;
    const trn_spectrum_cycle *q = b;
    return (p->range_nm > q->range_nm) - (p->range_nm < q->range_nm);
}

static int by_mean(const void *a, const void *b)
{
    const trn_spectrum_cycle *p = a;
    const trn_spectrum_cycle *q = b;
    return (p->mean_nm > q->mean_nm) - (p->mean_nm < q->mean_nm);
}

/* Cycles of one range within `near`: by mean, alike means together. */
static size_t join_means(trn_spectrum_cycle *from, size_t n, double near, trn_spectrum_cycle *to)
{
    size_t kept = 0;
    if (n > 0)
        qsort(from, n, sizeof *from, by_mean);
    for (size_t i = 0; i < n; i++) {
        if (kept > 0 && from[i].mean_nm - to[kept - 1].mean_nm <= near)
            to[kept - 1].count += from[i].count;
        else
            to[kept++] = from[i];
    }
    return kept;
}

/* Ranges and means closer than rounding are one; `to` may lie behind `from` in one array. */
static size_t join(trn_spectrum_cycle *list, size_t n, double near)
{
    size_t kept = 0;
    if (n > 0) /* else there is no list */
        qsort(list, n, sizeof *list, by_range);
    for (size_t i = 0; i < n;) {
        size_t k = 1;
        while (i + k < n && list[i + k].range_nm - list[i].range_nm <= near)
            k++;
        kept += join_means(list + i, k, near, list + kept);
        i += k;
    }
    return kept;
}

static trn_status count_pieces(const trn_record *record, trn_spectrum *s, bag *b)
{
    double *work = calloc(record->n + 1, sizeof *work);
    trn_status status = work ? TRN_OK : TRN_E_MEMORY;
    for (size_t i = 0; status == TRN_OK && i < record->n;) {
        size_t n = trn_spectrum_piece(record, s->settings.gap_s, i);
        if (n == 0) {
            i++;
            continue;
        }
        s->pieces++;
        status = trn_rainflow_count(record->torque_nm + i, n, s->settings.repeating, work, put, b);
        if (status == TRN_E_DOMAIN) { /* it never turns */
            s->empty++;
            status = TRN_OK;
        }
        i += n;
    }
    free(work);
    return b->failed ? TRN_E_MEMORY : status;
}

trn_status trn_spectrum_count(const trn_record *record, trn_spectrum *s)
{
    bag b = {.list = NULL};
    trn_status status = count_pieces(record, s, &b);
    if (status != TRN_OK) {
        free(b.list);
        return status;
    }
    double near = 1e-9 * fmax(fabs(s->most_nm), fabs(s->least_nm));
    s->cycles = b.list;
    s->cycle_count = join(b.list, b.n, near);
    double damage = 0;
    double most = s->cycle_count > 0 ? s->cycles[s->cycle_count - 1].range_nm : 0;
    for (size_t i = 0; i < s->cycle_count; i++) {
        trn_spectrum_cycle *c = &s->cycles[i];
        s->cycles_sum += c->count;
        c->damage_pct = c->count * pow(c->range_nm / most, s->settings.slope);
        damage += c->damage_pct;
    }
    for (size_t i = 0; i < s->cycle_count; i++)
        s->cycles[i].damage_pct *= 100 / damage;
    return TRN_OK;
}

static void add_to_bin(trn_spectrum_bin *bin, const trn_spectrum_cycle *c)
{
    if (!(bin->count > 0)) {
        bin->mean_nm = 0;
        bin->mean_low_nm = bin->mean_high_nm = c->mean_nm;
    }
    bin->count += c->count;
    bin->mean_nm += (c->mean_nm - bin->mean_nm) * c->count / bin->count;
    bin->mean_low_nm = fmin(bin->mean_low_nm, c->mean_nm);
    bin->mean_high_nm = fmax(bin->mean_high_nm, c->mean_nm);
    bin->damage_pct += c->damage_pct;
}

/* Bins from 0 up to the largest range, the empty ones between them too. */
trn_status trn_spectrum_bins(trn_spectrum *s, double width, trn_faults *faults, const char *file)
{
    if (s->cycle_count == 0)
        return TRN_OK;
    double last = trn_spectrum_place(s->cycles[s->cycle_count - 1].range_nm, width);
    if (!(last < TRN_SPECTRUM_ROWS_MAX)) {
        trn_fault_add(faults, file, 0, NULL,
                      "a width of %.6g N.m gives more than %d bins; choose a larger one", width,
                      TRN_SPECTRUM_ROWS_MAX);
        return TRN_E_INPUT;
    }
    s->bin_count = (size_t)last + 1;
    s->bins = calloc(s->bin_count, sizeof *s->bins);
    if (!s->bins)
        return TRN_E_MEMORY;
    for (size_t i = 0; i < s->bin_count; i++)
        s->bins[i] = (trn_spectrum_bin){.from_nm = (double)i * width,
                                        .to_nm = (double)(i + 1) * width,
                                        .mean_nm = NAN,
                                        .mean_low_nm = NAN,
                                        .mean_high_nm = NAN};
    for (size_t i = 0; i < s->cycle_count; i++)
        add_to_bin(&s->bins[(size_t)trn_spectrum_place(s->cycles[i].range_nm, width)],
                   &s->cycles[i]);
    return TRN_OK;
}
