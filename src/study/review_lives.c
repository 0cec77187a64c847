/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Life of a failed part in the case with some scenarios on top. */
#include <math.h>
#include <stdlib.h>
#include <trunnion/choices.h>

#include "review_inside.h"
#include "study.h"

/* Remarks of a row that say that a number is outside its validity, each once. */
static void outside(const trn_remarks *remarks, const char *of, trn_remarks *all,
                    trn_part_life *life)
{
    for (size_t i = 0; i < remarks->n; i++) {
        const trn_remark *r = &remarks->v[i];
        bool matters = (r->id == TRN_M_STATUS && r->status > 0) || r->id == TRN_M_MIN_LOAD ||
                       r->id == TRN_M_REVERSES || r->id == TRN_M_HANGS_ON_RESONANCE ||
                       r->id == TRN_M_SMALL_ANGLE || r->id == TRN_M_DIRTIER;
        size_t before = all->n;
        if (!matters)
            continue;
        trn_remarks_join(all, &(trn_remarks){.n = 1, .v = {*r}});
        if (all->n == before)
            continue;
        trn_remarks one = {.n = 1, .v = {*r}};
        trn_buffer *out = &life->remark;
        life->outside = life->outside || r->id == TRN_M_STATUS;
        trn_buffer_add(out, out->length ? "; " : "");
        if (of)
            trn_buffer_print(out, "%s: ", of);
        trn_remarks_text(&one, out);
    }
}

/* Reasons of a row over the duty why its life is not known. */
static void reasons(const trn_remarks *remarks, trn_buffer *out)
{
    if (remarks->n > 0 && out->length)
        trn_buffer_add(out, "; ");
    trn_remarks_text(remarks, out);
}

static void unknown_in(const trn_machine *m, const trn_results *r, size_t bearing, bool basic,
                       trn_buffer *out)
{
    for (size_t i = 0; i < m->duty_count; i++) {
        const trn_bearing_row *row = &r->bearings[i * m->bearings_count + bearing];
        if (m->duty[i].share > 0 && isnan(basic ? row->l10h_h : row->lnmh_h)) {
            reasons(&row->remarks, out);
            return;
        }
    }
}

static void bearing_life(const trn_machine *m, const trn_results *r, size_t bearing, double a1,
                         bool modified, trn_part_life *life)
{
    const trn_bearing_row *all = &r->bearings[m->duty_count * m->bearings_count + bearing];
    trn_remarks seen = {0};
    life->basic = !modified || isnan(all->lnmh_h);
    life->life_h = life->basic ? all->l10h_h : all->lnmh_h / a1;
    for (size_t i = 0; i < m->duty_count; i++)
        if (m->duty[i].share > 0)
            outside(&r->bearings[i * m->bearings_count + bearing].remarks, NULL, &seen,
                    life);
    if (life->basic)
        unknown_in(m, r, bearing, isnan(all->l10h_h), &life->remark);
}

static void gearbox_life(const trn_machine *m, const trn_results *r, size_t gearbox, double a1,
                         bool modified, trn_part_life *life)
{
    const trn_gearbox_row *row = &r->gearboxes[gearbox];
    trn_remarks seen = {0};
    life->basic = !modified || isnan(row->lnmh_h);
    life->life_h = life->basic ? row->l10h_h : row->lnmh_h / a1;
    for (size_t b = 0; b < m->bearings_count; b++)
        for (size_t i = 0; i < m->duty_count; i++)
            if (m->axles[m->bearings[b].axle_index].gearbox_index == gearbox &&
                m->duty[i].share > 0)
                outside(&r->bearings[i * m->bearings_count + b].remarks, m->bearings[b].bearing,
                        &seen, life);
    reasons(&row->remarks, &life->remark);
}

static void shaft_life(const trn_machine *m, const trn_results *r, size_t shaft,
                       trn_part_life *life)
{
    const trn_joint_row *row = &r->joints[m->duty_count * m->shafts_count + shaft];
    trn_remarks seen = {0};
    life->life_h = fmin(row->life_in_h, row->life_out_h); /* the one known of a single joint */
    for (size_t i = 0; i < m->duty_count; i++)
        if (m->duty[i].share > 0)
            outside(&trn_results_joint(r, i, shaft)->remarks, NULL, &seen, life);
    if (isnan(life->life_h))
        for (size_t i = 0; i < m->duty_count; i++) {
            const trn_joint_row *of = trn_results_joint(r, i, shaft);
            if (m->duty[i].share > 0 && isnan(of->life_in_h)) {
                reasons(&of->remarks, &life->remark);
                break;
            }
        }
}

static bool has_gear(const trn_machine *m, size_t gearbox, size_t gear)
{
    return m->axles[m->gears[gear].axle_index].gearbox_index == gearbox;
}

/* Less oil with the gears left as deep in it as before. */
static bool oil_without_dips(const trn_machine *base, const trn_machine *m, size_t gearbox)
{
    if (!(m->gearboxes[gearbox].oil_volume < base->gearboxes[gearbox].oil_volume))
        return false;
    for (size_t i = 0; i < m->gears_count; i++)
        if (has_gear(m, gearbox, i) && m->gears[i].dip < base->gears[i].dip)
            return false;
    return true;
}

/* Much less oil with a dip that hardly moves. One level falls for all gears alike: by the part of
 * the oil lost times its depth where walls stand upright, and its depth is no less than the
 * deepest dip. */
static bool dips_lag(const trn_machine *base, const trn_machine *m, size_t gearbox)
{
    double lost = 1 - m->gearboxes[gearbox].oil_volume / base->gearboxes[gearbox].oil_volume;
    double deepest = 0;
    if (!(lost > trn_choice_value(TRN_CHOICE_REVIEW_OIL_LEFT) * (1 + 1e-9)))
        return false;
    for (size_t i = 0; i < m->gears_count; i++)
        if (has_gear(m, gearbox, i))
            deepest = fmax(deepest, base->gears[i].dip);
    double fall = trn_choice_value(TRN_CHOICE_REVIEW_DIP_FOLLOWS) * lost * deepest;
    for (size_t i = 0; i < m->gears_count; i++) {
        double least = fmin(fall, base->gears[i].dip);
        if (has_gear(m, gearbox, i) && base->gears[i].dip > 0 &&
            base->gears[i].dip - m->gears[i].dip < least * (1 - 1e-9))
            return true;
    }
    return false;
}

static bool low_oil(const trn_machine *m, const trn_results *r, size_t gearbox)
{
    for (size_t i = 0; i < m->duty_count; i++)
        if (m->duty[i].share > 0 && r->heat[i * m->gearboxes_count + gearbox].low_oil)
            return true;
    return false;
}

static void part_life(const trn_review *review, const trn_review_part *part,
                      const trn_machine *m, const trn_results *r, double a1, trn_part_life *life)
{
    *life = (trn_part_life){.life_h = NAN};
    switch (part->kind) {
    case TRN_PART_BEARING:
        bearing_life(m, r, part->index, a1, part->modified, life);
        break;
    case TRN_PART_GEARBOX:
        gearbox_life(m, r, part->index, a1, part->modified, life);
        break;
    case TRN_PART_SHAFT:
        shaft_life(m, r, part->index, life);
        return;
    }
    life->dips_left = dips_lag(review->machine, m, part->gearbox);
    life->starved = life->dips_left || low_oil(m, r, part->gearbox) ||
                    oil_without_dips(review->machine, m, part->gearbox);
    if (life->starved)
        life->life_h = NAN;
}

static double reliability_factor(const trn_machine *m)
{
    double a1 = NAN;
    double in[] = {m->head.reliability, NAN};
    return trn_step(NULL, TRN_STEP_BEARING_RELIABILITY_FACTOR, in, &a1) < 0 ? NAN : a1;
}

trn_status trn_review_lives(const trn_review *review, const trn_machine *machine,
                            const char *const *names, size_t count, trn_faults *faults,
                            trn_part_life *lives)
{
    trn_machine *m = trn_machine_copy(machine);
    trn_results *r = NULL;
    trn_status status = m ? TRN_OK : TRN_E_MEMORY;
    if (status == TRN_OK && count > 0)
        status = trn_machine_scenarios(m, names, count, faults);
    if (status == TRN_OK && count > 0)
        status = trn_machine_link(m, faults);
    if (status == TRN_OK) {
        r = trn_results_new(m);
        status = r ? trn_study_evaluate(m, TRN_WANT_JOINTS | TRN_WANT_HEAT | TRN_WANT_LIVES, r,
                                        NULL)
                   : TRN_E_MEMORY;
    }
    if (status == TRN_OK) {
        double a1 = reliability_factor(m);
        for (size_t p = 0; p < review->part_count; p++)
            part_life(review, &review->parts[p], m, r, a1, &lives[p]);
    }
    trn_results_free(r);
    trn_machine_free(m);
    return status;
}

void trn_review_lives_free(trn_part_life *lives, size_t count)
{
    for (size_t i = 0; i < count; i++)
        trn_buffer_free(&lives[i].remark);
}
