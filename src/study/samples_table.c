/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <trunnion/samples_table.h>

#include <gsl/gsl_cdf.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/samples_rate.h>
#include <trunnion/trend.h>

#include "samples_fill.h"

static const double confidence = 0.95;
static const double reading_sd_ppm = 1;    /* chosen, with the next: error of one reading */
static const double reading_sd_part = 0.05;
static const double dust_ratio_low = 2;    /* silicon over aluminium */
static const double dust_ratio_high = 7;
static const double per_100h = 100;
enum { READINGS_FOR_TREND = 4 };

/* Limits: public laboratory table for bevel and right-angle drives; water: edge of the tested
 * range of bearing lives. Standing: published. */
static const struct {
    const char *word;
    double limit_ppm;
} elements[TRN_ELEMENTS] = {
    [TRN_FE] = {"fe", 300}, [TRN_CU] = {"cu", 275}, [TRN_SI] = {"si", 60},
    [TRN_AL] = {"al", 40},  [TRN_CR] = {"cr", 30},  [TRN_PB] = {"pb", 75},
    [TRN_WATER] = {"water", 400},
};

const char *trn_samples_element_word(size_t element)
{
    return element < TRN_ELEMENTS ? elements[element].word : "";
}

const char *trn_samples_method_word(trn_samples_method method)
{
    static const char *const words[] = {"none",       "from_new",  "from_change",
                                        "difference", "theil_sen", "level"};
    return (unsigned)method < sizeof words / sizeof words[0] ? words[method] : "";
}

void trn_samples_settings_default(trn_samples_settings *settings)
{
    *settings = (trn_samples_settings){.oil_volume = NAN, .residual = NAN};
    for (size_t e = 0; e < TRN_ELEMENTS; e++)
        settings->limit_ppm[e] = elements[e].limit_ppm;
}

static void remark(trn_samples_row *row, const char *text)
{
    size_t n = strlen(row->remark);
    (void)snprintf(row->remark + n, sizeof row->remark - n, "%s%s", n ? "; " : "", text);
}

/* ---- one rate ----------------------------------------------------------------------------- */

/* The samples of one fill and what holds for them. */
typedef struct fill {
    const trn_samples_place *first;
    size_t count;
    double volume, left;
    const double *last_before; /* last readings of the fill before; NaN: not read, or none */
} fill;

/* Readings of one element in a fill; memory of the caller of rate_of. */
typedef struct readings {
    double *time_h, *ppm; /* n each */
    double *added;        /* m3, since the reading before; the first: since the fill began */
    double *corrected;    /* readings as they would be without top-ups */
    size_t n;
} readings;

static void collect(const fill *f, size_t element, readings *r)
{
    double added = 0;
    r->n = 0;
    for (size_t i = 0; i < f->count; i++) {
        const trn_sample *s = f->first[i].sample;
        added += trn_samples_added(s);
        if (isnan(s->content[element]))
            continue;
        r->time_h[r->n] = s->machine_hours;
        r->ppm[r->n] = s->content[element];
        r->added[r->n++] = added;
        added = 0;
    }
}

/* What the oil took up between two readings, with what leaked away. */
static double growth(double c_0, double c, double hours, double added, double volume)
{
    double rate, naive, c_limit, tau_h;
    if (!(added > 0) || isnan(volume) ||
        trn_samples_top_up(c, hours, volume, added / hours, c_0, &rate, &naive, &c_limit,
                           &tau_h) < 0)
        return fabs(c - c_0) <= 1e-12 * fmax(c, c_0) ? 0 : c - c_0;
    return rate * hours;
}

static void remark_top_up(trn_samples_row *row, double added, double volume)
{
    if (added > 0)
        remark(row, isnan(volume) ? "top-up not corrected" : "top-up corrected");
}

static double reading_sd(double ppm)
{
    return fmax(reading_sd_ppm, reading_sd_part * ppm);
}

static void set_rate(trn_samples_row *row, double rise_ppm, double hours, double sd)
{
    double spread = gsl_cdf_ugaussian_Pinv((1 + confidence) / 2) * sd / hours;
    row->hours = hours;
    row->rate = per_100h * rise_ppm / hours;
    row->rate_low = row->rate - per_100h * spread;
    row->rate_high = row->rate + per_100h * spread;
}

/* One reading: from the change of oil, if its hour is known. */
static void rate_of_one(const fill *f, const readings *r, trn_samples_row *row)
{
    double hours = NAN;
    for (size_t i = 0; i < f->count; i++) {
        const trn_samples_place *p = &f->first[i];
        if (isnan(p->birth_h) || isnan(p->sample->content[row->element]))
            continue;
        hours = isnan(p->sample->oil_hours) ? p->sample->machine_hours - p->birth_h
                                            : p->sample->oil_hours;
    }
    if (!(hours > 0))
        return;
    double last = f->last_before[row->element];
    double start = isnan(last) ? 0 : f->left * last;
    row->method = isnan(last) ? TRN_SAMPLES_FROM_NEW : TRN_SAMPLES_FROM_CHANGE;
    set_rate(row, growth(start, r->ppm[0], hours, r->added[0], f->volume), hours,
             reading_sd(r->ppm[0]));
    row->line_h = r->time_h[0] - hours;
    row->line_ppm = start;
    if (isnan(last))
        remark(row, "upper bound");
    remark_top_up(row, r->added[0], f->volume);
}

static trn_status rate_by_trend(const readings *r, trn_samples_row *row)
{
    double *work = calloc(trn_trend_work(r->n), sizeof *work);
    if (!work)
        return TRN_E_MEMORY;
    trn_trend trend;
    trn_status status =
        trn_trend_theil_sen(r->time_h, r->corrected, r->n, confidence, work, &trend);
    free(work);
    if (status < 0)
        return TRN_OK; /* beyond any number: no rate */
    row->method = TRN_SAMPLES_THEIL_SEN;
    row->hours = r->time_h[r->n - 1] - r->time_h[0];
    row->rate = per_100h * trend.slope;
    row->rate_low = per_100h * trend.low;
    row->rate_high = per_100h * trend.high;
    row->line_h = (r->time_h[0] + r->time_h[r->n - 1]) / 2;
    row->line_ppm = trend.intercept + trend.slope * row->line_h;
    if (status == TRN_R_STATISTICS_COVERAGE) {
        char text[40];
        (void)snprintf(text, sizeof text, "limits cover %.0f %%", 100 * trend.coverage);
        remark(row, text);
    }
    return TRN_OK;
}

static trn_status rate_of(const fill *f, readings *r, trn_samples_row *row)
{
    r->corrected[0] = r->ppm[0];
    if (row->element == TRN_WATER) {
        for (size_t i = 1; i < r->n; i++)
            r->corrected[i] = r->ppm[i];
        row->method = TRN_SAMPLES_LEVEL;
        return TRN_OK;
    }
    if (r->n == 1) {
        rate_of_one(f, r, row);
        return TRN_OK;
    }
    /* readings lifted by what left with the leaked oil: those of an unbroken stretch keep their
     * ties, on which the limits depend */
    double lifted = 0;
    double added = 0;
    for (size_t i = 1; i < r->n; i++) {
        if (r->added[i] > 0)
            lifted += growth(r->ppm[i - 1], r->ppm[i], r->time_h[i] - r->time_h[i - 1],
                             r->added[i], f->volume) -
                      (r->ppm[i] - r->ppm[i - 1]);
        added += r->added[i];
        r->corrected[i] = r->ppm[i] + lifted;
    }
    remark_top_up(row, added, f->volume);
    if (r->n >= READINGS_FOR_TREND)
        return rate_by_trend(r, row);
    size_t last = r->n - 1;
    row->method = TRN_SAMPLES_DIFFERENCE;
    row->line_h = (r->time_h[0] + r->time_h[last]) / 2;
    row->line_ppm = (r->corrected[0] + r->corrected[last]) / 2;
    set_rate(row, growth(r->corrected[0], r->corrected[last], 1, 0, NAN),
             r->time_h[last] - r->time_h[0],
             hypot(reading_sd(r->ppm[0]), reading_sd(r->ppm[last])));
    return TRN_OK;
}

/* ---- rows of a fill ----------------------------------------------------------------------- */

static void to_limit(trn_samples_row *row, double limit_ppm)
{
    row->limit_ppm = limit_ppm;
    if (row->rate > 0 && !isnan(limit_ppm))
        row->hours_to_limit = fmax(0, per_100h * (limit_ppm - row->last_ppm) / row->rate);
}

static const trn_samples_row *row_of(const trn_samples_row *rows, size_t n, size_t element)
{
    for (size_t i = 0; i < n; i++)
        if (rows[i].element == element)
            return &rows[i];
    return NULL;
}

/* Does silicon rise as mineral dust makes it rise? */
static void dust_signature(trn_samples_row *rows, size_t n)
{
    const trn_samples_row *fe = row_of(rows, n, TRN_FE);
    const trn_samples_row *al = row_of(rows, n, TRN_AL);
    double ratio = 0;
    bool dust = false;
    for (size_t i = 0; i < n; i++) {
        trn_samples_row *si = &rows[i];
        if (si->element != TRN_SI || !(si->rate > 0) || !al || isnan(al->rate))
            continue;
        if (trn_samples_dust(si->rate, al->rate, dust_ratio_low * (1 - 1e-9),
                             dust_ratio_high * (1 + 1e-9), &ratio, &dust) < 0)
            remark(si, "silicon without aluminium"); /* aluminium does not rise */
        else if (dust && fe && fe->rate > 0)
            remark(si, "mineral dust");
        else if (!dust && ratio > dust_ratio_high)
            remark(si, "silicon without aluminium");
    }
}

static trn_status add_rows(const fill *f, const trn_samples_settings *settings, readings *r,
                           trn_samples_table *table)
{
    trn_samples_row *rows = table->rows + table->count;
    size_t n = 0;
    for (size_t e = 0; e < TRN_ELEMENTS; e++) {
        collect(f, e, r);
        if (r->n == 0)
            continue;
        trn_samples_row *row = &rows[n++];
        *row = (trn_samples_row){.gearbox = f->first->sample->gearbox, .element = e,
                                 .fill = f->first->fill, .samples = r->n, .rate = NAN,
                                 .rate_low = NAN, .rate_high = NAN, .hours = NAN,
                                 .line_h = NAN, .line_ppm = NAN,
                                 .last_ppm = r->ppm[r->n - 1], .hours_to_limit = NAN};
        if (f->first->reset)
            remark(row, "reset not logged");
        trn_status status = rate_of(f, r, row);
        if (status < 0)
            return status;
        for (size_t i = 0; i < r->n; i++)
            table->points[table->point_count++] = (trn_samples_point){
                table->count + n - 1, r->time_h[i], r->ppm[i], r->corrected[i]};
        to_limit(row, settings->limit_ppm[e]);
        row->element_word = trn_samples_element_word(e);
        row->method_word = trn_samples_method_word(row->method);
    }
    dust_signature(rows, n);
    table->count += n;
    return TRN_OK;
}

/* ---- table -------------------------------------------------------------------------------- */

static trn_status add_fills(const trn_samples_settings *settings, readings *r,
                            trn_samples_table *table)
{
    double last[TRN_ELEMENTS];
    for (size_t i = 0; i < table->place_count;) {
        const trn_samples_place *first = &table->places[i];
        fill f = {.first = first,
                  .volume = trn_samples_volume(settings, first->sample->gearbox),
                  .left = trn_samples_left(settings, first->sample->gearbox),
                  .last_before = last};
        while (i + f.count < table->place_count && first[f.count].gearbox == first->gearbox &&
               first[f.count].fill == first->fill)
            f.count++;
        if (i == 0 || first[-1].gearbox != first->gearbox)
            for (size_t e = 0; e < TRN_ELEMENTS; e++)
                last[e] = NAN;
        trn_status status = add_rows(&f, settings, r, table);
        if (status < 0)
            return status;
        for (size_t e = 0; e < TRN_ELEMENTS; e++) {
            last[e] = NAN;
            for (size_t k = 0; k < f.count; k++)
                if (!isnan(first[k].sample->content[e]))
                    last[e] = first[k].sample->content[e];
        }
        i += f.count;
    }
    return TRN_OK;
}

trn_status trn_samples_table_make(const trn_sample *rows, size_t n, const char *file,
                                  const trn_samples_settings *settings, trn_faults *faults,
                                  trn_samples_table *table)
{
    trn_samples_table made = {.place_count = n};
    made.rows = calloc(n * TRN_ELEMENTS + 1, sizeof *made.rows);
    made.points = calloc(n * TRN_ELEMENTS + 1, sizeof *made.points);
    made.places = calloc(n + 1, sizeof *made.places);
    double *memory = calloc(4 * n + 1, sizeof *memory);
    trn_status status = made.rows && made.points && made.places && memory ? TRN_OK : TRN_E_MEMORY;
    if (status == TRN_OK)
        status = trn_samples_places(rows, n, file, settings, faults, made.places);
    if (status == TRN_OK) {
        readings r = {memory, memory + n, memory + 2 * n, memory + 3 * n, 0};
        status = add_fills(settings, &r, &made);
    }
    free(memory);
    if (status < 0)
        trn_samples_table_free(&made);
    else
        *table = made;
    return status;
}

void trn_samples_table_free(trn_samples_table *table)
{
    free(table->rows);
    free(table->points);
    free(table->places);
    *table = (trn_samples_table){0};
}
