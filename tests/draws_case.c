/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The uncertainty study of whole cases: what the interval table says from draws, invariants,
 * threads and seeds, quantities that go through the whole evaluation. */
#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/draws.h>
#include <trunnion/extras.h>
#include <trunnion/interval_rows.h>

#include "study_case.h"

static const char winged[] = "../sample-data/winged";

static trn_results *drawn(const trn_machine *m, size_t draws, uint64_t seed, unsigned jobs,
                          bool bands)
{
    trn_results *r = study_evaluated(m);
    trn_draw_plan plan = {.draws = draws, .seed = seed, .jobs = jobs};
    trn_faults faults = {0};
    trn_status status = trn_study_draws(r, &plan, bands, &faults);
    cr_assert_eq(status, TRN_OK, "%s", trn_status_text(status));
    trn_faults_free(&faults);
    return r;
}

static char *text_of(const trn_machine *m, uint64_t seed, unsigned jobs)
{
    trn_results *r = drawn(m, 3000, seed, jobs, true);
    cr_assert_eq(trn_study_extras(r), TRN_OK);
    char *text = study_all_views(r);
    trn_results_free(r);
    return text;
}

static trn_machine *with_spreads(trn_spread_row *rows, size_t n)
{
    trn_machine *m = study_read(winged);
    free(m->uncertainty);
    m->uncertainty = calloc(n + 1, sizeof *rows);
    memcpy(m->uncertainty, rows, n * sizeof *rows);
    m->uncertainty_count = n;
    return m;
}

/* derived: a draw has its numbers from seed and draw alone */
Test(draws_case, threads_change_nothing_and_seeds_do)
{
    trn_machine *m = study_read(winged);
    char *one = text_of(m, 1, 1);
    char *two = text_of(m, 1, 2);
    char *eight = text_of(m, 1, 8);
    char *other = text_of(m, 2, 2);
    cr_expect_str_eq(one, two);
    cr_expect_str_eq(one, eight);
    cr_expect_str_neq(one, other);
    free(one);
    free(two);
    free(eight);
    free(other);
    trn_machine_free(m);
}

Test(draws_case, whole_evaluations_do_not_depend_on_threads)
{
    trn_spread_row rows[] = {
        {.quantity = "gearboxes.splitter.area", .kind = 0, .spread = 1.3},
        {.quantity = "duty.*.power", .kind = 0, .spread = 1.2},
        {.quantity = "shafts.main.yoke_error", .kind = 1, .spread = 3},
    };
    trn_machine *m = with_spreads(rows, 3);
    trn_results *a = drawn(m, 200, 1, 1, false);
    trn_results *b = drawn(m, 200, 1, 8, false);
    size_t wider = 0;
    for (size_t i = 0; i < m->points_count; i++) {
        cr_expect_eq(a->points[i].at_risk_h, b->points[i].at_risk_h);
        cr_expect_eq(a->points[i].high_h, b->points[i].high_h);
        wider += (size_t)(isfinite(a->points[i].at_risk_h) != 0);
    }
    cr_expect_gt(wider, 10);
    trn_results_free(a);
    trn_results_free(b);
    trn_machine_free(m);
}

/* derived: drawn with no spread, the whole evaluation is that of the case itself */
Test(draws_case, whole_evaluation_without_spread_is_the_block_form)
{
    trn_spread_row rows[] = {
        {.quantity = "gearboxes.*.area", .kind = 0, .spread = 1},
        {.quantity = "points.*.ref_temperature", .kind = 1, .spread = 0},
        {.quantity = "duty.*.power", .kind = 2, .spread = 1e-9},
    };
    trn_machine *m = with_spreads(rows, 3);
    trn_machine *plain = study_read(winged);
    trn_results *a = drawn(m, 500, 3, 2, false);
    trn_results *b = study_evaluated(plain);
    trn_draw_plan plan = {.draws = 500, .seed = 3, .jobs = 1};
    cr_assert_eq(trn_study_draws(b, &plan, false, NULL), TRN_OK);
    for (size_t i = 0; i < m->points_count; i++) {
        study_same(m->points[i].point, b->points[i].at_risk_h, a->points[i].at_risk_h, 1e-6);
        study_same(m->points[i].point, b->points[i].median_h, a->points[i].median_h, 1e-6);
        cr_expect_eq(a->points[i].governed_by, b->points[i].governed_by);
    }
    trn_results_free(a);
    trn_results_free(b);
    trn_machine_free(m);
    trn_machine_free(plain);
}

Test(draws_case, refuses_what_cannot_be_drawn)
{
    static const trn_spread_row bad[] = {
        {.quantity = "gearboxes.nowhere.area", .kind = 0, .spread = 1.3},
        {.quantity = "duty.*.position", .kind = 1, .spread = 1},
        {.quantity = "duty.*.dust", .kind = 0, .spread = 0.5},
        {.quantity = "gearboxes.*.dip", .kind = 1, .spread = 1},
    };
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        trn_spread_row row = bad[i];
        trn_machine *m = with_spreads(&row, 1);
        trn_results *r = study_evaluated(m);
        trn_draw_plan plan = {.draws = 100, .seed = 1, .jobs = 1};
        trn_faults faults = {0};
        cr_expect_eq(trn_study_draws(r, &plan, false, &faults), TRN_E_INPUT, "row %zu", i);
        cr_expect_eq(faults.count, 1);
        cr_expect_null(r->draws);
        trn_faults_free(&faults);
        trn_results_free(r);
        trn_machine_free(m);
    }
}

Test(draws_case, a_bound_is_kept_and_counted)
{
    trn_spread_row rows[] = {{.quantity = "gearboxes.*.emissivity", .kind = 1, .spread = 0.6}};
    trn_machine *m = with_spreads(rows, 1);
    trn_results *r = drawn(m, 100, 1, 2, false);
    cr_expect_not_null(strstr(r->draws->notes.text ? r->draws->notes.text : "", "of 100 draws"));
    trn_results_free(r);
    trn_machine_free(m);
}

/* ---- what must hold whatever the numbers ------------------------------------------------------ */

static void never_longer(const char *path, const char *value)
{
    trn_machine *m = study_read(winged);
    trn_machine *worse = study_changed(m, path, value);
    trn_results *a = drawn(m, 1024, 7, 2, false);
    trn_results *b = drawn(worse, 1024, 7, 2, false);
    for (size_t i = 0; i < m->points_count; i++) {
        const trn_point_row *p = &a->points[i];
        const trn_point_row *q = &b->points[i];
        const double pairs[][2] = {{p->nominal_h, q->nominal_h}, {p->low_h, q->low_h},
                                   {p->median_h, q->median_h},   {p->high_h, q->high_h},
                                   {p->at_risk_h, q->at_risk_h},
                                   {p->recommended_h, q->recommended_h}};
        for (size_t k = 0; k < 6; k++)
            cr_expect(!(pairs[k][1] > pairs[k][0] * (1 + 1e-9)), "%s %s, %s, figure %zu: %g to %g",
                      path, value, m->points[i].point, k, pairs[k][0], pairs[k][1]);
    }
    trn_results_free(a);
    trn_results_free(b);
    trn_machine_free(worse);
    trn_machine_free(m);
}

/* derived: invariant of the model; oil heat left out (hot oil dries) */
Test(draws_case, more_of_a_burden_never_lengthens)
{
    never_longer("duty.*.shock", "x1.2");
    never_longer("duty.*.washes_per_100h", "x2");
    never_longer("duty.*.wash_water", "x2");
}

Test(draws_case, rows_say_what_the_page_says)
{
    static const char *const cases[] = {"../sample-data/winged", "../sample-data/small",
                                        "cases/rotary_mower", "cases/tedder"};
    for (size_t c = 0; c < 4; c++) {
        trn_machine *m = study_read(cases[c]);
        trn_results *nominal = study_evaluated(m);
        trn_results *r = drawn(m, 2000, 1, 2, false);
        for (size_t i = 0; i < m->points_count; i++) {
            const trn_point_row *p = &r->points[i];
            study_same("nominal", nominal->points[i].nominal_h, p->nominal_h, 0);
            if (isnan(p->nominal_h))
                continue;
            cr_expect(p->low_h <= p->median_h && p->median_h <= p->high_h);
            cr_expect(p->recommended_h <= p->manual_h);
            cr_expect(p->recommended_h <= 1.1 * p->at_risk_h * (1 + 1e-9) ||
                      p->recommended_h <= 4 || p->governed_by == TRN_CAUSE_MANUAL ||
                      p->governed_by == TRN_CAUSE_CALENDAR);
            study_same("shortening", p->manual_h / p->low_h, p->shortening, 1e-12);
            cr_expect(p->too_long_pct >= 0 && p->too_long_pct <= 100);
            if (p->at_risk_h < p->manual_h * (1 - 1e-6))
                cr_expect_gt(p->too_long_pct, 9.9);
            cr_expect_null(strstr(p->reason, "medians only"));
        }
        for (size_t i = 0; i < r->draws->mechanisms_count; i++) {
            const trn_mechanism_row *w = &r->draws->mechanisms[i];
            cr_expect(w->low_h <= w->median_h && w->median_h <= w->high_h);
            cr_expect(w->first_pct >= 0 && w->first_pct <= 100);
        }
        for (size_t i = 0; i < r->draws->next_count; i++)
            cr_expect(!(r->draws->next[i].gain_h <= 0));
        trn_results_free(r);
        trn_results_free(nominal);
        trn_machine_free(m);
    }
}

/* derived: T_q does not depend on the clock */
Test(draws_case, the_clock_moves_only_the_recommendation)
{
    trn_machine *m = study_read(winged);
    trn_machine *other = study_changed(m, "machine.service_clock", "6/12/24/48/96/300");
    trn_results *a = drawn(m, 500, 1, 1, false);
    trn_results *b = drawn(other, 500, 1, 1, false);
    for (size_t i = 0; i < m->points_count; i++) {
        /* shares are made to add up anew: the last digit may move */
        study_same("at_risk", a->points[i].at_risk_h, b->points[i].at_risk_h, 1e-12);
        study_same("median", a->points[i].median_h, b->points[i].median_h, 1e-12);
    }
    trn_results_free(a);
    trn_results_free(b);
    trn_machine_free(other);
    trn_machine_free(m);
}

static const char *path_of(const char *quantity)
{
    return strcmp(quantity, "dust") == 0               ? "duty.*.dust"
           : strcmp(quantity, "shock") == 0            ? "duty.*.shock"
           : strcmp(quantity, "washes_per_100h") == 0 ? "duty.*.washes_per_100h"
                                                        : NULL;
}

/* derived: a turning value put back gives a longer step; a little short of it does not */
Test(draws_case, turning_values_turn)
{
    trn_machine *m = study_read("cases/rotary_mower");
    trn_results *r = drawn(m, 2000, 1, 2, false);
    cr_assert_eq(trn_study_extras(r), TRN_OK);
    size_t tried = 0;
    for (size_t i = 0; i < r->extras->turning_count && tried < 4; i++) {
        const trn_turning_row *t = &r->extras->turning[i];
        if (!path_of(t->quantity) || isnan(t->next_step_at) || strcmp(t->quantity, "dust") == 0)
            continue;
        char value[2][48];
        double v = t->next_step_at;
        (void)snprintf(value[0], sizeof value[0], "x%.15f", v);
        (void)snprintf(value[1], sizeof value[1], "x%.15f", v + 0.002 * (1 - v));
        for (int side = 0; side < 2; side++) {
            trn_machine *turned = study_changed(m, path_of(t->quantity), value[side]);
            trn_results *again = drawn(turned, 2000, 1, 1, false);
            double before = r->points[t->point].recommended_h;
            double after = again->points[t->point].recommended_h;
            cr_expect(side == 0 ? after > before : after == before, "%s %s: %g to %g",
                      t->quantity, value[side], before, after);
            trn_results_free(again);
            trn_machine_free(turned);
        }
        tried++;
    }
    trn_results_free(r);
    trn_machine_free(m);
}

/* derived: bands hold the medians between them */
Test(draws_case, bands_of_lives_and_temperatures)
{
    trn_machine *m = study_read(winged);
    trn_results *r = drawn(m, 512, 1, 2, true);
    cr_expect_gt(r->draws->bands_count, m->gearboxes_count * m->duty_count);
    for (size_t i = 0; i < r->draws->bands_count; i++) {
        const trn_band_row *b = &r->draws->bands[i];
        cr_expect(b->low <= b->median && b->median <= b->high);
    }
    for (size_t g = 0; g < m->gearboxes_count; g++) {
        const trn_gearbox_row *row = &r->gearboxes[g];
        cr_expect(row->lnmh_low_h < row->lnmh_h && row->lnmh_h < row->lnmh_high_h);
        cr_expect(row->reliability_low_pct < row->reliability_high_pct);
    }
    trn_results_free(r);
    trn_machine_free(m);
}
