/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the samples of a gearbox say to the interval model. */
#include <stdlib.h>
#include <string.h>
#include <trunnion/choices.h>
#include <trunnion/interval.h>
#include <trunnion/samples_rate.h>

#include "cleanliness.h"
#include "samples_fill.h"

static const double ratio_low = 2; /* silicon over aluminium of mineral dust */
static const double ratio_high = 7;
static const double least_oil_h = 50; /* before, residual oil hides the rate */
static const double hour_s = 3600;
static const double ppm = 1e-6;

static double mean_dust(const trn_machine *m)
{
    double sum = 0;
    for (size_t i = 0; i < m->duty_count; i++)
        if (m->duty[i].share > 0)
            sum += m->duty[i].share * trn_duty_dust(&m->duty[i]);
    return m->duty_count > 0 ? sum * 1e6 : NAN;
}

static const trn_samples_row *row_of(const trn_samples_table *table, size_t fill, size_t element)
{
    for (size_t i = 0; i < table->count; i++)
        if (table->rows[i].fill == fill && table->rows[i].element == element)
            return &table->rows[i];
    return NULL;
}

static void wear(const trn_samples_table *table, trn_samples_calibration *out)
{
    for (size_t e = 0; e < TRN_ELEMENTS; e++) {
        const trn_samples_row *row = row_of(table, out->fill, e);
        if (!row || isnan(row->rate) || isnan(row->limit_ppm))
            continue;
        out->elements[out->element_count++] = (trn_wear_element){
            .name = row->element_word, .rate_ppm_h = fmax(0, row->rate) / 100,
            .limit_ppm = row->limit_ppm, .fresh_ppm = 0};
    }
}

/* Hours on the oil at the last sample; what its samples span where its birth is not known. */
static double hours_on_oil(const trn_samples_table *table, size_t fill)
{
    const trn_samples_place *last = &table->places[table->place_count - 1];
    const trn_samples_place *first = last;
    while (first > table->places && first[-1].fill == fill)
        first--;
    if (!last->reset && !isnan(last->sample->oil_hours))
        return last->sample->oil_hours;
    double birth = isnan(last->birth_h) ? first->sample->machine_hours : last->birth_h;
    return last->sample->machine_hours - birth;
}

/* Silicon counts as dirt where aluminium rises with it as in mineral dust, and iron, if it was
 * read, rises too. */
static bool dirt(const trn_samples_table *table, size_t fill, const trn_samples_row **silicon)
{
    const trn_samples_row *si = row_of(table, fill, TRN_SI);
    const trn_samples_row *al = row_of(table, fill, TRN_AL);
    const trn_samples_row *fe = row_of(table, fill, TRN_FE);
    double ratio = 0;
    bool dust = false;
    *silicon = si;
    return si && al && si->rate > 0 &&
           trn_samples_dust(si->rate, al->rate, ratio_low * (1 - 1e-9), ratio_high * (1 + 1e-9),
                            &ratio, &dust) >= 0 &&
           dust && !(fe && fe->rate <= 0);
}

static void silicon(const trn_machine *m, size_t gearbox, const trn_samples_table *table,
                    trn_samples_calibration *out)
{
    const trn_samples_row *si = NULL;
    out->oil_hours = hours_on_oil(table, out->fill);
    out->mean_dust_mg_m3 = mean_dust(m);
    if (!dirt(table, out->fill, &si) || !(out->oil_hours >= least_oil_h * (1 - 1e-9)))
        return;
    out->silicon_is_dirt = true;
    out->silicon_hours = si->hours;
    out->silicon_rise_ppm = si->rate / 100 * si->hours;
    double source = 0; /* kg/s */
    double intake = 0; /* m3/s */
    double dust = out->mean_dust_mg_m3 * 1e-6;
    size_t oil = m->gearboxes[gearbox].oil_index;
    if (oil != TRN_NONE &&
        trn_interval_intake(out->silicon_rise_ppm * ppm, out->silicon_hours * hour_s,
                            trn_oil_mass(m, gearbox), dust, trn_choice_value(TRN_CHOICE_F_SI),
                            &source, &intake) >= 0) {
        out->dust_mg_h = source * 1e6 * hour_s;
        out->intake_l_h = intake * 1000 * hour_s;
    }
}

static void water(const trn_samples_table *table, trn_samples_calibration *out)
{
    const trn_samples_place *before = NULL;
    for (size_t i = 0; i < table->place_count; i++) {
        const trn_samples_place *p = &table->places[i];
        double w = p->sample->content[TRN_WATER];
        if (isnan(w))
            continue;
        if (before && before->fill == p->fill) {
            size_t k = out->water_pairs++;
            out->water_first_ppm[k] = before->sample->content[TRN_WATER];
            out->water_second_ppm[k] = w;
            out->water_apart_h[k] = p->sample->machine_hours - before->sample->machine_hours;
        }
        before = p;
    }
}

static void top_up(const trn_samples_table *table, trn_samples_calibration *out)
{
    double litres = 0;
    double hours = 0;
    for (size_t i = 1; i < table->place_count; i++) {
        const trn_sample *s = table->places[i].sample;
        if (table->places[i].fill != out->fill || isnan(s->top_up))
            continue;
        litres += s->top_up * 1000;
        hours += s->machine_hours - table->places[i - 1].sample->machine_hours;
    }
    out->top_up_l_h = hours > 0 ? litres / hours : NAN;
}

static trn_status calibrate(const trn_machine *m, size_t gearbox, const trn_sample *rows,
                            size_t n, trn_samples_calibration *out)
{
    trn_samples_settings settings;
    trn_samples_table table;
    trn_faults faults = {0};
    trn_samples_settings_default(&settings);
    settings.gearboxes = m->gearboxes;
    settings.gearbox_count = m->gearboxes_count;
    trn_status status =
        trn_samples_table_make(rows, n, "samples.csv", &settings, &faults, &table);
    trn_faults_free(&faults);
    if (status < 0)
        return status;
    double *pairs = calloc(3 * n, sizeof *pairs);
    if (pairs) {
        out->samples = n;
        out->fill = table.places[n - 1].fill;
        out->water_first_ppm = pairs;
        out->water_second_ppm = pairs + n;
        out->water_apart_h = pairs + 2 * n;
        wear(&table, out);
        silicon(m, gearbox, &table, out);
        water(&table, out);
        top_up(&table, out);
    }
    trn_samples_table_free(&table);
    return pairs ? TRN_OK : TRN_E_MEMORY;
}

trn_status trn_samples_calibrate(const trn_machine *machine, size_t gearbox,
                                 trn_samples_calibration *out)
{
    trn_samples_calibration found = {.silicon_rise_ppm = NAN, .silicon_hours = NAN,
                                     .oil_hours = NAN, .mean_dust_mg_m3 = NAN, .dust_mg_h = NAN,
                                     .intake_l_h = NAN, .top_up_l_h = NAN};
    if (gearbox >= machine->gearboxes_count)
        return TRN_E_DOMAIN;
    trn_sample *rows = calloc(machine->samples_count + 1, sizeof *rows);
    if (!rows)
        return TRN_E_MEMORY;
    size_t n = 0;
    for (size_t i = 0; i < machine->samples_count; i++)
        if (machine->samples[i].gearbox_index == gearbox)
            rows[n++] = machine->samples[i];
    trn_status status = n > 0 ? calibrate(machine, gearbox, rows, n, &found) : TRN_OK;
    free(rows);
    if (status == TRN_OK)
        *out = found;
    return status;
}

void trn_samples_calibration_free(trn_samples_calibration *calibration)
{
    free(calibration->water_first_ppm); /* one block */
    *calibration = (trn_samples_calibration){0};
}
