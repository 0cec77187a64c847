/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "samples_fill.h"

#include <gsl/gsl_sort_double.h>
#include <gsl/gsl_statistics_double.h>
#include <stdlib.h>
#include <string.h>

static const double usual_residual = 0.1;
static const double reading_counts_ppm = 10;
static const double reset_below = 0.6;   /* chosen: a drain leaves a tenth to a third */

static const trn_gearbox *gearbox_of(const trn_samples_settings *settings, const char *name)
{
    for (size_t i = 0; i < settings->gearbox_count; i++)
        if (strcmp(settings->gearboxes[i].gearbox, name) == 0)
            return &settings->gearboxes[i];
    return NULL;
}

double trn_samples_volume(const trn_samples_settings *settings, const char *gearbox)
{
    const trn_gearbox *g = gearbox_of(settings, gearbox);
    return isnan(settings->oil_volume) && g ? g->oil_volume : settings->oil_volume;
}

double trn_samples_left(const trn_samples_settings *settings, const char *gearbox)
{
    const trn_gearbox *g = gearbox_of(settings, gearbox);
    double left = isnan(settings->residual) && g ? g->residual_oil : settings->residual;
    return isnan(left) ? usual_residual : left;
}

static int compare_places(const void *a, const void *b)
{
    const trn_samples_place *p = a;
    const trn_samples_place *q = b;
    if (p->gearbox != q->gearbox)
        return p->gearbox < q->gearbox ? -1 : 1;
    double x = p->sample->machine_hours;
    double y = q->sample->machine_hours;
    return (x > y) - (x < y);
}

static void sort_places(const trn_sample *rows, size_t n, trn_samples_place *places)
{
    size_t gearboxes = 0;
    for (size_t i = 0; i < n; i++) {
        size_t k = 0;
        while (k < i && strcmp(rows[k].gearbox, rows[i].gearbox) != 0)
            k++;
        places[i] = (trn_samples_place){&rows[i], k < i ? places[k].gearbox : gearboxes++, 0,
                                        false, NAN};
    }
    qsort(places, n, sizeof *places, compare_places);
}

/* ---- fills -------------------------------------------------------------------------------- */

/* What is known on the way through the samples of one gearbox. */
typedef struct walk {
    const trn_sample *before;
    double birth_h;              /* the last that was logged */
    double last[TRN_ELEMENTS];   /* readings of the fill at hand; NaN: none yet */
} walk;

typedef enum change { CHANGE_NONE, CHANGE_LOGGED, CHANGE_BACKWARDS } change;

/* Has the oil been changed, as far as its hours say? */
static change logged_change(const walk *w, const trn_sample *s)
{
    double birth = s->machine_hours - s->oil_hours;
    double slack = (double)TRN_METERS_AGREE_H + 1e-9 * s->machine_hours;
    if (isnan(birth) || !w->before)
        return CHANGE_NONE;
    if (isnan(w->birth_h)) /* oil younger than the sample before */
        return birth > w->before->machine_hours + slack ? CHANGE_LOGGED : CHANGE_NONE;
    if (birth > w->birth_h + slack)
        return CHANGE_LOGGED;
    return birth < w->birth_h - slack ? CHANGE_BACKWARDS : CHANGE_NONE;
}

/* Have the metals fallen as only fresh oil makes them fall? */
static bool fresh_oil(const walk *w, const trn_sample *s, double volume)
{
    double ratio[TRN_ELEMENTS];
    size_t n = 0;
    for (size_t e = 0; e < TRN_ELEMENTS; e++)
        if (e != TRN_WATER && w->last[e] >= reading_counts_ppm && !isnan(s->content[e]))
            ratio[n++] = s->content[e] / w->last[e];
    if (n == 0)
        return false;
    double u = isnan(volume) ? 0 : trn_samples_added(s) / volume;
    gsl_sort(ratio, 1, n);
    return gsl_stats_median_from_sorted_data(ratio, 1, n) < reset_below * exp(-u);
}

/* One sample; place[-1] is the one before where w->before is set. */
static void step(walk *w, trn_samples_place *place, double volume, const char *file,
                 trn_faults *faults)
{
    const trn_sample *s = place->sample;
    const trn_samples_place *before = w->before ? place - 1 : NULL;
    place->fill = before ? before->fill : 1;
    place->reset = before && before->reset;
    change c = logged_change(w, s);
    if (before && !(s->machine_hours > w->before->machine_hours))
        trn_fault_add(faults, file, s->row.line, "machine_hours [h]",
                      "a sample of `%s` at %.10g h stands in line %zu already; one sample at a "
                      "time",
                      s->gearbox, s->machine_hours, w->before->row.line);
    else if (c == CHANGE_BACKWARDS)
        trn_fault_add(faults, file, s->row.line, "oil_hours [h]",
                      "the oil is older than it can be: it was filled at %.10g machine hours, "
                      "and at %.10g by the samples before",
                      s->machine_hours - s->oil_hours, w->birth_h);
    bool reset = before && c == CHANGE_NONE && fresh_oil(w, s, volume);
    if (c == CHANGE_LOGGED || reset) {
        place->fill++;
        place->reset = reset;
        for (size_t e = 0; e < TRN_ELEMENTS; e++)
            w->last[e] = NAN;
    }
    if (!isnan(s->oil_hours))
        w->birth_h = s->machine_hours - s->oil_hours;
    for (size_t e = 0; e < TRN_ELEMENTS; e++)
        if (!isnan(s->content[e]))
            w->last[e] = s->content[e];
    w->before = s;
}

/* The first hour of birth that a logged fill states holds for all its samples. */
static void births(trn_samples_place *places, size_t n)
{
    for (size_t i = 0; i < n;) {
        size_t end = i;
        double birth = NAN;
        for (; end < n && places[end].gearbox == places[i].gearbox &&
               places[end].fill == places[i].fill;
             end++)
            if (isnan(birth) && !places[end].reset)
                birth = places[end].sample->machine_hours - places[end].sample->oil_hours;
        for (; i < end; i++)
            places[i].birth_h = birth;
    }
}

trn_status trn_samples_places(const trn_sample *rows, size_t n, const char *file,
                              const trn_samples_settings *settings, trn_faults *faults,
                              trn_samples_place *places)
{
    size_t before = faults->count;
    if (n == 0) {
        trn_fault_add(faults, file, 0, NULL, "the table has no samples; at least one is needed");
        return TRN_E_INPUT;
    }
    sort_places(rows, n, places);
    walk w = {.before = NULL};
    for (size_t i = 0; i < n; i++) {
        if (i == 0 || places[i].gearbox != places[i - 1].gearbox) {
            w = (walk){.before = NULL, .birth_h = NAN};
            for (size_t e = 0; e < TRN_ELEMENTS; e++)
                w.last[e] = NAN;
        }
        step(&w, &places[i], trn_samples_volume(settings, places[i].sample->gearbox), file,
             faults);
    }
    births(places, n);
    return faults->count == before ? TRN_OK : TRN_E_INPUT;
}
