/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Time and revolutions at torque level; what bearings, teeth and shafts make of the record. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <trunnion/choices.h>
#include <trunnion/rainflow.h>

#include "spectrum_inside.h"

/* Exponents of damage over torque. Bearings: ISO 281, published; teeth: ISO 6336-6, memory. */
static const double ball = 3;
static const double roller = 10.0 / 3;
static const struct tooth {
    const char *drive, *coast;
    double exponent;
} teeth[] = {
    {"teeth, case-hardened, pitting", "other flank, case-hardened, pitting", 6.610},
    {"teeth, case-hardened, bending", "other flank, case-hardened, bending", 8.738},
    {"teeth, through-hardened, pitting", "other flank, through-hardened, pitting", 6.610},
    {"teeth, through-hardened, bending", "other flank, through-hardened, bending", 6.225},
    {"teeth, nitrided, pitting", "other flank, nitrided, pitting", 5.709},
    {"teeth, nitrided, bending", "other flank, nitrided, bending", 17.035},
};
enum { TEETH = sizeof teeth / sizeof teeth[0], PITTING = 0, BENDING = 1 };

double trn_spectrum_place(double value, double width)
{
    double q = value / width;
    double below = floor(q);
    return below + 1 - q <= 1e-9 * fmax(1, fabs(q)) ? below + 1 : below;
}

/* ---- levels ------------------------------------------------------------------------------- */

typedef struct sums {
    double time, weight, ball, roller, pitting, bending;
} sums;

static void add_row(trn_spectrum_level *level, double torque, double most, double time,
                    double weight, sums *all)
{
    double size = most > 0 ? fabs(torque) / most : 0;
    double drive = torque > 0 ? size : 0;
    double part[4] = {weight * pow(size, ball), weight * pow(size, roller),
                      weight * pow(drive, teeth[PITTING].exponent),
                      weight * pow(drive, teeth[BENDING].exponent)};
    level->time_s += time;
    level->revolutions += weight;
    level->ball_pct += part[0];
    level->roller_pct += part[1];
    level->pitting_pct += part[2];
    level->bending_pct += part[3];
    all->time += time;
    all->weight += weight;
    all->ball += part[0];
    all->roller += part[1];
    all->pitting += part[2];
    all->bending += part[3];
}

/* In per cent; nothing of nothing is not known. */
static double share(double part, double whole)
{
    return whole > 0 ? 100 * part / whole : NAN;
}

static void finish(trn_spectrum *s, const sums *all)
{
    size_t kept = 0;
    for (size_t i = 0; i < s->level_count; i++) {
        trn_spectrum_level l = s->levels[i];
        if (!(l.time_s > 0) && !(l.revolutions > 0))
            continue;
        l.time_pct = share(l.time_s, all->time);
        l.revolutions_pct = share(l.revolutions, all->weight);
        l.ball_pct = share(l.ball_pct, all->ball);
        l.roller_pct = share(l.roller_pct, all->roller);
        l.pitting_pct = share(l.pitting_pct, all->pitting);
        l.bending_pct = share(l.bending_pct, all->bending);
        if (!s->timed)
            l.time_s = NAN;
        if (!s->timed || !s->turning)
            l.revolutions = NAN;
        if (!s->turning)
            l.revolutions_pct = NAN;
        s->levels[kept++] = l;
    }
    s->level_count = kept;
}

trn_status trn_spectrum_levels(const trn_record *record, const double *time_s,
                               const double *weight, trn_spectrum *s, trn_faults *faults)
{
    double width = s->settings.step_nm;
    double first = trn_spectrum_place(s->least_nm, width);
    double last = trn_spectrum_place(s->most_nm, width);
    double most = fmax(fabs(s->least_nm), fabs(s->most_nm));
    sums all = {0};
    if (!(last - first < TRN_SPECTRUM_ROWS_MAX)) {
        trn_fault_add(faults, record->file, 0, NULL,
                      "a step of %.6g N.m gives more than %d levels; choose a larger one", width,
                      TRN_SPECTRUM_ROWS_MAX);
        return TRN_E_INPUT;
    }
    s->level_count = (size_t)(last - first) + 1;
    s->levels = calloc(s->level_count, sizeof *s->levels);
    if (!s->levels)
        return TRN_E_MEMORY;
    for (size_t i = 0; i < s->level_count; i++) {
        s->levels[i].from_nm = (first + (double)i) * width;
        s->levels[i].to_nm = (first + (double)i + 1) * width;
    }
    for (size_t i = 0; i < record->n; i++)
        if (!isnan(record->torque_nm[i]))
            add_row(&s->levels[(size_t)(trn_spectrum_place(record->torque_nm[i], width) - first)],
                    record->torque_nm[i], most, time_s[i], weight[i], &all);
    finish(s, &all);
    return TRN_OK;
}

/* ---- parts -------------------------------------------------------------------------------- */

static const char *counted_by(const trn_spectrum *s)
{
    if (s->weight == TRN_WEIGHT_REVOLUTIONS)
        return s->timed ? "revolutions" : "rows x speed";
    return s->weight == TRN_WEIGHT_TIME ? "seconds" : "rows";
}

static trn_status add_part(trn_spectrum *s, const char *part, const char *counted, double p,
                           const double *load, const double *weight, size_t n)
{
    double equivalent = NAN;
    double peak_share = NAN;
    double count = 0;
    double peak = 0;
    trn_status status = trn_rainflow_equivalent(load, weight, n, p, &equivalent, &peak_share);
    if (status != TRN_OK)
        return status;
    for (size_t i = 0; i < n; i++) {
        count += weight[i];
        peak = fmax(peak, load[i]);
    }
    s->parts[s->part_count++] = (trn_spectrum_part){
        .part = part,
        .counted = counted,
        .exponent = p,
        .count = count,
        .equivalent_nm = equivalent,
        .peak_nm = peak,
        .damage = peak > 0 ? count * pow(equivalent / peak, p) : 0,
        .peak_share_pct = 100 * peak_share,
    };
    return TRN_OK;
}

static trn_status add_slope(trn_spectrum *s, double slope)
{
    size_t n = s->cycle_count;
    double *memory = calloc(2 * n + 1, sizeof *memory);
    if (!memory)
        return TRN_E_MEMORY;
    for (size_t i = 0; i < n; i++) {
        memory[i] = s->cycles[i].range_nm;
        memory[n + i] = s->cycles[i].count;
    }
    trn_status status = add_part(s, "shafts and yokes", "rainflow cycles", slope, memory, memory + n, n);
    free(memory);
    return status;
}

/* Nobody gave the slope: the ends of what is usual go with the chosen one. */
static trn_status add_shafts(trn_spectrum *s)
{
    double chosen = trn_choice_value(TRN_CHOICE_SHAFT_SLOPE);
    const double slopes[] = {3, chosen, 8};
    if (s->settings.slope < chosen || s->settings.slope > chosen)
        return add_slope(s, s->settings.slope);
    trn_status status = TRN_OK;
    for (size_t i = 0; i < 3 && status == TRN_OK; i++)
        status = add_slope(s, slopes[i]);
    return status;
}

/* sign 0: the size of the torque; 1, -1: of that direction, else none. */
static size_t loads_of(const trn_record *record, const double *weight, int sign, double *load,
                       double *share_of)
{
    size_t n = 0;
    for (size_t i = 0; i < record->n; i++) {
        double torque = record->torque_nm[i];
        if (isnan(torque) || !(weight[i] > 0))
            continue;
        load[n] = sign == 0 ? fabs(torque) : fmax(0, sign * torque);
        share_of[n++] = weight[i];
    }
    return n;
}

trn_status trn_spectrum_parts(const trn_record *record, const double *weight, trn_spectrum *s)
{
    double *load = calloc(2 * record->n + 1, sizeof *load);
    trn_status status = load ? TRN_OK : TRN_E_MEMORY;
    double *part = load ? load + record->n : NULL;
    const char *counted = counted_by(s);
    if (status == TRN_OK && s->cycle_count > 0)
        status = add_shafts(s);
    size_t n = load ? loads_of(record, weight, 0, load, part) : 0;
    if (status == TRN_OK)
        status = add_part(s, "ball bearings", counted, ball, load, part, n);
    if (status == TRN_OK)
        status = add_part(s, "roller bearings", counted, roller, load, part, n);
    for (int flank = 1; flank >= -1; flank -= 2) {
        if (status != TRN_OK || (flank > 0 ? !(s->most_nm > 0) : !(s->least_nm < 0)))
            continue;
        n = loads_of(record, weight, flank, load, part);
        for (size_t i = 0; i < TEETH && status == TRN_OK; i++)
            status = add_part(s, flank > 0 ? teeth[i].drive : teeth[i].coast, counted,
                              teeth[i].exponent, load, part, n);
    }
    free(load);
    return status;
}
