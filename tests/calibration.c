/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Oil samples of a case: what they change in the interval model, and what they support. */
#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/draws.h>
#include <trunnion/extras.h>
#include <trunnion/interval_rows.h>
#include <trunnion/ledger.h>
#include <trunnion/present.h>

#include "study_case.h"
#include "support.h"

enum { BOX_OIL = 2, BOX_LEVEL = 3 };

static trn_results *ledger_of(const trn_machine *m, size_t draws)
{
    trn_results *r = study_evaluated(m);
    trn_draw_plan plan = {.draws = draws, .seed = 1, .jobs = 1};
    trn_faults faults = {0};
    if (draws > 0)
        cr_assert_eq(trn_study_draws(r, &plan, false, &faults), TRN_OK);
    trn_faults_free(&faults);
    cr_assert_eq(trn_study_ledger(r), TRN_OK);
    return r;
}

static const trn_calibration_row *quantity(const trn_results *r, const char *name)
{
    for (size_t i = 0; i < r->ledger->calibration_count; i++)
        if (strcmp(r->ledger->calibration[i].quantity, name) == 0)
            return &r->ledger->calibration[i];
    cr_assert_fail("there is no %s", name);
    return NULL;
}

static void remarks_of(const trn_results *r, size_t point, char text[600])
{
    trn_buffer out = {0};
    trn_remarks_text(&r->points[point].remarks, &out);
    (void)snprintf(text, 600, "%s", out.text ? out.text : "");
    trn_buffer_free(&out);
}

/* derived: 0.09 ppm/h of silicon is 0.09/0.3 x 1.8795 kg = 0.56385 mg/h of dust, at the mean
 * 0.7 x 4 + 0.3 x 22 = 9.4 mg/m3 59.984 L/h; 90 ppm at that rate last 300 h */
Test(calibration, silicon_sets_the_intake_and_the_interval)
{
    trn_machine *m = study_read("cases/sampled");
    trn_results *r = ledger_of(m, 0);
    const trn_calibration_row *intake = quantity(r, "dust_intake");
    cr_expect(test_near(intake->before, 9, 1e-12));
    cr_expect(test_near(intake->after, 0.09 / 0.3 * 1.8795 * 1000 / 9.4, 1e-9), "%.12g",
              intake->after);
    cr_expect(test_near(quantity(r, "dust_source")->after, 0.56385, 1e-9));
    cr_expect(test_near(r->points[BOX_OIL].nominal_h, 300, 1e-9), "%.12g",
              r->points[BOX_OIL].nominal_h);
    cr_expect_eq(r->points[BOX_OIL].nominal.order[0], TRN_CAUSE_DUST);
    cr_expect(strstr(r->points[BOX_OIL].reason, "oil samples") != NULL, "%s",
              r->points[BOX_OIL].reason);
    trn_results_free(r);
    trn_machine_free(m);
}

/* The last sample of iron over 240 h; water as the median of three pairs, with the drying of the
 * duty: derived from trn_water_from_samples' balance at k = 0.7 x 0.002 + 0.3 x 0.011 */
Test(calibration, metals_and_water_come_from_the_samples)
{
    trn_machine *m = study_read("cases/sampled");
    trn_results *r = ledger_of(m, 0);
    const trn_nominal *n = &r->points[BOX_OIL].nominal;
    double k = 0.7 * 0.002 + 0.3 * 0.011;
    double decay = exp(-k * 80);
    double pair[3] = {(41 - 20 * decay), (50 - 41 * decay), (66 - 50 * decay)};
    double least = fmin(pair[0], fmin(pair[1], pair[2]));
    double most = fmax(pair[0], fmax(pair[1], pair[2]));
    double source = 1.8795 * k * (pair[0] + pair[1] + pair[2] - least - most) / (1 - decay);
    cr_expect(test_near(n->drying_per_h, k, 1e-9));
    cr_expect(test_near(n->water_mg_h, source, 1e-9), "%.12g %.12g", n->water_mg_h, source);
    cr_expect(test_near(quantity(r, "water_source")->after, source, 1e-9));
    cr_expect(quantity(r, "water_source")->before > 0);
    cr_expect(isfinite(n->limit[TRN_CAUSE_WEAR].life_h));
    cr_expect_eq(n->limit[TRN_CAUSE_WEAR].basis, TRN_BASIS_SAMPLES);
    /* silicon comes to 60 ppm first: (60 - 0.1 x 60)/0.09 */
    cr_expect(test_near(n->limit[TRN_CAUSE_WEAR].life_h, 600, 1e-9), "%.12g",
              n->limit[TRN_CAUSE_WEAR].life_h);
    trn_results_free(r);
    trn_machine_free(m);
}

/* Without its samples the case is what it was before them, draw by draw. */
Test(calibration, before_is_the_case_without_samples)
{
    trn_machine *m = study_read("cases/sampled");
    trn_results *with = ledger_of(m, 2000);
    size_t n = m->samples_count;
    m->samples_count = 0;
    trn_results *without = ledger_of(m, 2000);
    m->samples_count = n;
    cr_assert_eq(with->ledger->before_count, 2);
    cr_expect_eq(without->ledger->before_count, 0);
    cr_expect_eq(without->ledger->calibration_count, 0);
    const trn_before_row *b = &with->ledger->before[0];
    const trn_point_row *p = &without->points[BOX_OIL];
    cr_expect_eq(b->point, BOX_OIL);
    study_same("nominal", p->nominal_h, b->nominal_before_h, 1e-12);
    study_same("at risk", p->at_risk_h, b->at_risk_before_h, 1e-12);
    study_same("recommended", p->recommended_h, b->recommended_before_h, 0);
    cr_expect(b->at_risk_h < b->at_risk_before_h);
    cr_expect(isnan(p->support_h));
    trn_results_free(with);
    trn_results_free(without);
    trn_machine_free(m);
}

/* A dustier year is tried on the machine that was sampled: the seals stay as they are. */
Test(calibration, a_copy_with_more_dust_keeps_the_intake)
{
    trn_machine *m = study_read("cases/sampled");
    trn_machine *dusty = study_changed(m, "duty.*.dust", "x2");
    trn_results *a = ledger_of(m, 0);
    trn_results *b = ledger_of(dusty, 0);
    study_same("intake", quantity(a, "dust_intake")->after, quantity(b, "dust_intake")->after, 0);
    study_same("dust", a->points[BOX_OIL].nominal.limit[TRN_CAUSE_DUST].life_h,
               2 * b->points[BOX_OIL].nominal.limit[TRN_CAUSE_DUST].life_h, 1e-9);
    trn_results_free(a);
    trn_results_free(b);
    trn_machine_free(dusty);
    trn_machine_free(m);
}

/* derived: 0.05 L in each of three intervals of 80 h; half of 0.02 L lasts 16 h */
Test(calibration, top_up_shortens_the_level_check)
{
    trn_machine *m = study_read("cases/sampled");
    for (size_t i = 1; i < m->samples_count; i++)
        m->samples[i].top_up = 0.05e-3;
    m->gearboxes[0].level_margin = 0.02e-3;
    trn_results *r = ledger_of(m, 0);
    cr_expect(test_near(quantity(r, "top_up")->after, 0.05 / 80, 1e-9));
    cr_expect(test_near(r->points[BOX_LEVEL].nominal_h, 16, 1e-9), "%.12g",
              r->points[BOX_LEVEL].nominal_h);
    cr_expect_eq(r->points[BOX_LEVEL].governed_by, TRN_CAUSE_LOSS);
    cr_expect_eq(r->points[BOX_LEVEL].recommended_h, 10);
    cr_expect(strstr(r->points[BOX_LEVEL].reason, "oil samples") != NULL);
    cr_expect_eq(r->ledger->before[1].recommended_before_h, 50);
    trn_results_free(r);
    trn_machine_free(m);
}

Test(calibration, silicon_without_aluminium_is_no_dirt)
{
    trn_machine *m = study_read("cases/sampled");
    for (size_t i = 0; i < m->samples_count; i++)
        m->samples[i].content[TRN_AL] = 2.1 - 0.01 * (double)i;
    trn_results *r = ledger_of(m, 0);
    cr_expect(isnan(quantity(r, "dust_intake")->after));
    cr_expect_eq(r->points[BOX_OIL].nominal.limit[TRN_CAUSE_DUST].basis, TRN_BASIS_CHOSEN);
    trn_results_free(r);
    trn_machine_free(m);
}

/* derived: min(1.25 x 500, 2 x 500) on a grid of 25 h */
Test(calibration, samples_support_a_step_and_recommend_none)
{
    trn_machine *m = study_read("cases/sampled");
    trn_results *r = ledger_of(m, 2000);
    char text[600];
    remarks_of(r, BOX_OIL, text);
    cr_expect_eq(r->points[BOX_OIL].support_h, 625);
    cr_expect(strstr(text, "samples support 625 h (no recommendation") != NULL, "%s", text);
    cr_expect_leq(r->points[BOX_OIL].recommended_h, 500);
    cr_expect(isnan(r->points[BOX_LEVEL].support_h));
    trn_results_free(r);
    trn_machine_free(m);
}

static void refused(void (*spoil)(trn_machine *m), const char *why)
{
    trn_machine *m = study_read("cases/sampled");
    char text[600];
    spoil(m);
    trn_results *r = ledger_of(m, 0);
    remarks_of(r, BOX_OIL, text);
    cr_expect(isnan(r->points[BOX_OIL].support_h), "%s", why);
    cr_expect(strstr(text, why) != NULL, "wanted %s got %s", why, text);
    trn_results_free(r);
    trn_machine_free(m);
}

static void in_warranty(trn_machine *m)
{
    m->head.warranty_hours = 700;
}

static void no_warranty(trn_machine *m)
{
    m->head.warranty_hours = NAN;
}

static void three_samples(trn_machine *m)
{
    m->samples_count = 3;
    m->head.warranty_hours = 300;
}

static void much_iron(trn_machine *m)
{
    for (size_t i = 0; i < m->samples_count; i++)
        m->samples[i].content[TRN_FE] *= 5;
}

static void thinning(trn_machine *m) /* 142 to 130 in 300 h: below 127.8 at 625 h */
{
    for (size_t i = 0; i < m->samples_count; i++)
        m->samples[i].kv40 = (142 - 0.04 * m->samples[i].oil_hours) * 1e-6;
}

static void hot(trn_machine *m)
{
    for (size_t i = 0; i < m->duty_count; i++)
        m->duty[i].oil_temperature = 273.15 + 110;
}

Test(calibration, what_fails_is_named)
{
    refused(in_warranty, "inside the warranty of 700 h");
    refused(no_warranty, "warranty_hours not given");
    refused(three_samples, "fewer than four of `fe`");
    refused(much_iron, "`fe` may come to");
    refused(thinning, "`kv40` may come to");
    refused(hot, "ageing and water allow");
}

Test(calibration, samples_that_contradict_each_other_are_not_used)
{
    trn_machine *m = study_read("cases/sampled");
    char text[600];
    m->samples[1].machine_hours = m->samples[0].machine_hours;
    trn_results *r = ledger_of(m, 0);
    remarks_of(r, BOX_OIL, text);
    cr_expect(strstr(text, "samples.csv refused") != NULL, "%s", text);
    cr_expect_eq(r->ledger->calibration_count, 0);
    cr_expect_eq(r->points[BOX_OIL].nominal.limit[TRN_CAUSE_DUST].basis, TRN_BASIS_CHOSEN);
    trn_results_free(r);
    trn_machine_free(m);
}

/* Draws that go through the whole evaluation carry the samples too, and leave them out for the
 * figures before. */
Test(calibration, whole_draws_know_the_samples)
{
    trn_machine *m = study_read("cases/sampled");
    trn_spread_row row = {.quantity = "gearboxes.box.area", .kind = 0, .spread = 1.001};
    m->uncertainty = realloc(m->uncertainty, sizeof row); /* freed with the case */
    cr_assert_not_null(m->uncertainty);
    m->uncertainty[0] = row;
    m->uncertainty_count = 1;
    trn_results *whole = ledger_of(m, 500);
    m->uncertainty_count = 0;
    trn_results *closed = ledger_of(m, 500);
    study_same("at risk", closed->points[BOX_OIL].at_risk_h, whole->points[BOX_OIL].at_risk_h,
               1e-6);
    study_same("before", closed->ledger->before[0].at_risk_before_h,
               whole->ledger->before[0].at_risk_before_h, 1e-6);
    trn_results_free(whole);
    trn_results_free(closed);
    trn_machine_free(m);
}
