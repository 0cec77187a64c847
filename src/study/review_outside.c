/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <trunnion/review_outside.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double met_mm = 1e-6; /* a bound met within it counts as met */

/* ---- where the shaft touches the part ----------------------------------------------------- */

trn_outside_touch trn_review_touch(const trn_review *review, size_t shaft, size_t part)
{
    const trn_machine *m = review->machine;
    const trn_review_part *p = &review->parts[part];
    const trn_shaft *s = &m->shafts[shaft];
    if (p->kind == TRN_PART_SHAFT)
        return p->index == shaft ? TRN_TOUCH_ITSELF : TRN_TOUCH_NONE;
    bool drives = s->to_gearbox == p->gearbox;
    bool driven = s->from_gearbox == p->gearbox;
    if (p->gearbox == TRN_NONE || (!drives && !driven))
        return TRN_TOUCH_NONE;
    if (p->kind == TRN_PART_GEARBOX)
        return TRN_TOUCH_GEARBOX;
    size_t axle = m->bearings[p->index].axle_index;
    bool input = m->axles[axle].role == TRN_INPUT;
    return (drives && input) || (driven && s->from_axle == axle) ? TRN_TOUCH_AXLE
                                                                 : TRN_TOUCH_GEARBOX;
}

/* ---- findings ----------------------------------------------------------------------------- */

/* Is the PTO on in a position of a shaft? */
static bool turns_at(const trn_results *r, size_t shaft, const char *position)
{
    for (size_t i = 0; i < r->settings_count; i++)
        if (r->settings[i].shaft == shaft && strcmp(r->settings[i].position, position) == 0)
            return r->settings[i].pto_on;
    return false;
}

static void add(trn_outside_kind kind, size_t explanation, const trn_results *r,
                const trn_fit_row *fit, trn_outside *list, size_t *n)
{
    bool bottoms = kind == TRN_OUTSIDE_BOTTOMS;
    trn_outside *o = &list[(*n)++];
    *o = (trn_outside){.kind = kind,
                       .explanation = explanation,
                       .shaft = fit->shaft,
                       .travel_mm = bottoms ? fit->clearance_mm : fit->overlap_mm,
                       .needed_mm = bottoms ? fit->clearance_needed_mm : fit->overlap_needed_mm};
    (void)snprintf(o->place, sizeof o->place, "%s", bottoms ? fit->shortest_at : fit->longest_at);
    o->turns = !bottoms || turns_at(r, fit->shaft, o->place);
}

static trn_status look_at(const trn_review *v, size_t explanation, trn_faults *faults,
                          trn_outside *list, size_t *n)
{
    trn_machine *m = trn_machine_copy(v->machine);
    trn_results *r = NULL;
    trn_status status = m ? TRN_OK : TRN_E_MEMORY;
    if (status == TRN_OK && explanation > 0)
        status = trn_machine_scenarios(m, &v->explanations[explanation].name, 1, faults);
    if (status == TRN_OK && explanation > 0)
        status = trn_machine_link(m, faults);
    if (status == TRN_OK) {
        r = trn_results_new(m);
        status = r ? trn_study_evaluate(m, TRN_WANT_JOINTS | TRN_WANT_FIT, r, NULL) : TRN_E_MEMORY;
    }
    for (size_t i = 0; status == TRN_OK && i < r->fits_count; i++) {
        const trn_fit_row *fit = &r->fits[i];
        if (fit->clearance_mm <= met_mm)
            add(TRN_OUTSIDE_BOTTOMS, explanation, r, fit, list, n);
        if (fit->overlap_mm <= met_mm)
            add(TRN_OUTSIDE_PARTS, explanation, r, fit, list, n);
    }
    trn_results_free(r);
    trn_machine_free(m);
    return status;
}

trn_status trn_review_outside(const trn_review *review, trn_faults *faults, trn_outside **list,
                              size_t *count)
{
    size_t n = 0;
    trn_outside *found =
        calloc(2 * review->explanation_count * review->machine->shafts_count + 1, sizeof *found);
    trn_status status = found ? TRN_OK : TRN_E_MEMORY;
    for (size_t e = 0; e < review->explanation_count && status == TRN_OK; e++)
        if (e == 0 || review->explanations[e].departs)
            status = look_at(review, e, faults, found, &n);
    if (status != TRN_OK) {
        free(found);
        return status;
    }
    *list = found;
    *count = n;
    return TRN_OK;
}
