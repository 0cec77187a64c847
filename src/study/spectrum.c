/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A torque record to its load spectrum. */
#include <trunnion/spectrum.h>

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <trunnion/choices.h>

#include "spectrum_inside.h"

void trn_spectrum_settings_default(trn_spectrum_settings *settings)
{
    *settings = (trn_spectrum_settings){.gap_s = trn_choice_value(TRN_CHOICE_RECORD_GAP),
                                        .step_nm = NAN,
                                        .slope = trn_choice_value(TRN_CHOICE_SHAFT_SLOPE)};
}

/* Does the record break off between row i and the next? */
static bool breaks(const trn_record *record, double gap_s, size_t i)
{
    return record->time_s && record->time_s[i + 1] - record->time_s[i] > gap_s * (1 + 1e-9);
}

size_t trn_spectrum_piece(const trn_record *record, double gap_s, size_t i)
{
    size_t n = 0;
    while (i + n < record->n && !isnan(record->torque_nm[i + n])) {
        n++;
        if (i + n < record->n && breaks(record, gap_s, i + n - 1))
            break;
    }
    return n;
}

static TRN_PRINTF(2, 3) void note(trn_spectrum *s, const char *format, ...)
{
    va_list list;
    if (s->note_count == TRN_SPECTRUM_NOTES)
        return;
    va_start(list, format);
    (void)vsnprintf(s->notes[s->note_count++], TRN_SPECTRUM_NOTE, format, list);
    va_end(list);
}

/* ---- weights ------------------------------------------------------------------------------ */

/* Seconds that a row holds: until the next one; the last and those before a gap hold none. */
static double holds(const trn_record *record, double gap_s, size_t i, double *unknown)
{
    if (!record->time_s)
        return 1;
    if (i + 1 == record->n)
        return 0;
    double seconds = record->time_s[i + 1] - record->time_s[i];
    if (breaks(record, gap_s, i) || isnan(record->torque_nm[i])) {
        *unknown += seconds;
        return 0;
    }
    return seconds;
}

static void weigh(const trn_record *record, trn_spectrum *s, double *time_s, double *weight)
{
    const double turn = 6.283185307179586;
    double unknown = 0;
    double known = 0;
    double turned = 0;
    size_t without_speed = 0;
    for (size_t i = 0; i < record->n; i++) {
        time_s[i] = holds(record, s->settings.gap_s, i, &unknown);
        weight[i] = time_s[i];
        if (isnan(record->torque_nm[i]))
            continue;
        known += time_s[i];
        s->rows++;
        if (!record->speed_rad_s)
            continue;
        bool known_speed = !isnan(record->speed_rad_s[i]);
        without_speed += known_speed ? 0 : 1;
        weight[i] = known_speed ? time_s[i] * record->speed_rad_s[i] / turn : 0;
        turned += weight[i];
    }
    s->known_s = s->timed ? known : NAN;
    s->unknown_s = s->timed ? unknown : NAN;
    s->revolutions = s->timed && s->turning ? turned : NAN;
    if (without_speed > 0)
        note(s, "%zu rows without a speed: their time counts, their revolutions do not",
             without_speed);
}

static void settle_record(const trn_record *record, trn_spectrum *s)
{
    s->timed = record->time_s != NULL;
    s->turning = record->speed_rad_s != NULL;
    s->weight = s->turning ? TRN_WEIGHT_REVOLUTIONS : s->timed ? TRN_WEIGHT_TIME : TRN_WEIGHT_ROWS;
    s->least_nm = INFINITY;
    s->most_nm = -INFINITY;
    for (size_t i = 0; i < record->n; i++)
        if (!isnan(record->torque_nm[i])) {
            s->least_nm = fmin(s->least_nm, record->torque_nm[i]);
            s->most_nm = fmax(s->most_nm, record->torque_nm[i]);
        }
}

/* ---- widths ------------------------------------------------------------------------------- */

/* A round width of which `bins` reach beyond a value: 1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8. */
static double round_width(double value, size_t bins)
{
    static const double steps[] = {1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10};
    double least = value / (double)bins;
    if (!(least > 0))
        return 1;
    double decade = pow(10, floor(log10(least)));
    for (size_t i = 0; i < sizeof steps / sizeof steps[0]; i++)
        if (trn_spectrum_place(value, steps[i] * decade) < (double)bins)
            return steps[i] * decade;
    return 12 * decade;
}

static trn_status cut(const trn_record *record, trn_spectrum *s, const double *time_s,
                      const double *weight, trn_faults *faults)
{
    bool asked = !isnan(s->settings.step_nm) || s->settings.bins > 0;
    size_t bins = s->settings.bins > 0 ? s->settings.bins : TRN_SPECTRUM_LEVELS;
    double range_width = s->settings.step_nm;
    if (isnan(range_width)) {
        if (s->cycle_count > 0)
            range_width = round_width(s->cycles[s->cycle_count - 1].range_nm, bins);
        s->settings.step_nm = round_width(fmax(fabs(s->most_nm), fabs(s->least_nm)), bins);
    }
    trn_status status = asked ? trn_spectrum_bins(s, range_width, faults, record->file) : TRN_OK;
    return status == TRN_OK ? trn_spectrum_levels(record, time_s, weight, s, faults) : status;
}

/* ---- whole -------------------------------------------------------------------------------- */

static void notes_of(trn_spectrum *s)
{
    if (s->pieces > 1)
        note(s, "%zu pieces: the record is split at gaps, and what went on in them is in no count",
             s->pieces);
    if (s->unknown_s > 0)
        note(s, "%.6g s of which the record says nothing", s->unknown_s);
    if (s->cycle_count == 0)
        note(s, "the torque never turns: there is no cycle");
    if (s->weight == TRN_WEIGHT_TIME)
        note(s, "no speed: revolutions are taken as even in time");
    if (!s->timed)
        note(s, "no time: every row counts for the same time");
    if (s->least_nm < 0)
        note(s, "the torque reverses: the two flanks of a tooth are counted apart; a tooth root bent "
                "both ways lasts less than either count says");
}

static trn_status refuse_idle(const trn_record *record, const trn_spectrum *s,
                              const double *weight, trn_faults *faults)
{
    double sum = 0;
    for (size_t i = 0; i < record->n; i++)
        sum += isnan(record->torque_nm[i]) ? 0 : weight[i];
    if (s->rows == 0)
        trn_fault_add(faults, record->file, 0, NULL, "no row has a torque");
    else if (!(sum > 0) && s->turning)
        trn_fault_add(faults, record->file, 0, NULL,
                      "nothing turns: no row with a torque has a speed above 0 and time to hold");
    else if (!(sum > 0))
        trn_fault_add(faults, record->file, 0, NULL,
                      "no row holds for any time: a value holds until the next row, and steps above "
                      "%.6g s are gaps (--gap)",
                      s->settings.gap_s);
    return sum > 0 ? TRN_OK : TRN_E_INPUT;
}

static trn_status make(const trn_record *record, trn_spectrum *s, double *time_s, double *weight,
                       trn_faults *faults)
{
    settle_record(record, s);
    weigh(record, s, time_s, weight);
    trn_status status = refuse_idle(record, s, weight, faults);
    if (status == TRN_OK)
        status = trn_spectrum_count(record, s);
    if (status == TRN_OK)
        status = cut(record, s, time_s, weight, faults);
    if (status == TRN_OK)
        status = trn_spectrum_parts(record, weight, s);
    notes_of(s);
    return status;
}

trn_status trn_spectrum_make(const trn_record *record, const trn_spectrum_settings *settings,
                             trn_faults *faults, trn_spectrum *spectrum)
{
    bool step_fine = isnan(settings->step_nm) ||
                     (settings->step_nm > 0 && isfinite(settings->step_nm));
    if (!(settings->gap_s > 0) || !(settings->slope > 0) || isinf(settings->slope) || !step_fine)
        return TRN_E_DOMAIN;
    trn_spectrum *made = calloc(1, sizeof *made);
    double *memory = calloc(2 * record->n + 1, sizeof *memory);
    trn_status status = made && memory ? TRN_OK : TRN_E_MEMORY;
    if (status == TRN_OK) {
        made->settings = *settings;
        status = make(record, made, memory, memory + record->n, faults);
    }
    if (status == TRN_OK)
        *spectrum = *made;
    else if (made)
        trn_spectrum_free(made);
    free(made);
    free(memory);
    return status;
}

void trn_spectrum_free(trn_spectrum *spectrum)
{
    free(spectrum->cycles);
    free(spectrum->bins);
    free(spectrum->levels);
    *spectrum = (trn_spectrum){.cycles = NULL};
}
