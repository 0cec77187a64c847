/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What it is worth to know a quantity that uncertainty.csv names by path; spreads of the bands. */
#include <criterion/criterion.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/draws.h>
#include <trunnion/interval_rows.h>

#include "study_case.h"
#include "support.h"

static trn_machine *spreads_of(const char *name, const trn_spread_row *rows, size_t n)
{
    trn_machine *m = study_read(name);
    free(m->uncertainty);
    m->uncertainty = calloc(n + 1, sizeof *rows);
    memcpy(m->uncertainty, rows, n * sizeof *rows);
    m->uncertainty_count = n;
    return m;
}

static trn_machine *with_spreads(const trn_spread_row *rows, size_t n)
{
    return spreads_of("cases/sampled", rows, n);
}

static trn_results *drawn(const trn_machine *m, size_t draws, bool bands)
{
    trn_results *r = study_evaluated(m);
    trn_draw_plan plan = {.draws = draws, .seed = 3, .jobs = 2};
    trn_faults faults = {0};
    trn_status status = trn_study_draws(r, &plan, bands, &faults);
    cr_assert_eq(status, TRN_OK, "%s", faults.kept ? faults.list[0].text : "");
    trn_faults_free(&faults);
    return r;
}

/* derived: a quantity without spread is one that is known; the same draws otherwise */
Test(draws_known, worth_is_what_a_spread_of_nothing_gives)
{
    trn_spread_row rows[] = {{.quantity = "gearboxes.*.area", .kind = 0, .spread = 1.4},
                             {.quantity = "duty.*.power", .kind = 0, .spread = 1.3}};
    trn_machine *both = spreads_of("../sample-data/winged", rows, 2);
    trn_results *all = drawn(both, 200, false);
    cr_assert_eq(all->draws->own_count, 2);
    for (size_t k = 0; k < 2; k++) {
        trn_spread_row known[2] = {rows[0], rows[1]};
        known[k].spread = 1;
        trn_machine *m = spreads_of("../sample-data/winged", known, 2);
        trn_results *r = drawn(m, 200, false);
        for (size_t p = 0; p < m->points_count; p++) {
            double gain = all->draws->own_gain_h[p * 2 + k];
            double direct = r->points[p].at_risk_h - all->points[p].at_risk_h;
            if (isnan(gain)) /* no draw moves the point */
                cr_expect_eq(direct, 0, "point %zu: %g", p, direct);
            else
                cr_expect(fabs(gain - direct) <= 1e-9 * fabs(all->points[p].at_risk_h),
                          "point %zu: %.12g, %.12g", p, gain, direct);
        }
        trn_results_free(r);
        trn_machine_free(m);
    }
    trn_results_free(all);
    trn_machine_free(both);
}

/* derived: where the named quantity is by far the widest it is the one to measure */
Test(draws_known, a_named_quantity_can_be_the_one_to_measure)
{
    trn_spread_row wide = {.quantity = "gearboxes.*.area", .kind = 0, .spread = 2};
    trn_machine *m = spreads_of("../sample-data/winged", &wide, 1);
    trn_results *r = drawn(m, 400, false);
    bool named = false;
    for (size_t i = 0; i < r->draws->next_count; i++) {
        const trn_next_row *next = &r->draws->next[i];
        if (strcmp(next->quantity, "gearboxes.*.area") != 0)
            continue;
        named = true;
        cr_expect_gt(next->gain_h, 0);
        cr_expect(test_near(next->known_h, next->at_risk_h + next->gain_h, 1e-12));
    }
    cr_expect(named);
    trn_results_free(r);
    trn_machine_free(m);
}

static double width(const trn_results *r)
{
    return log(r->gearboxes[0].lnmh_high_h / r->gearboxes[0].lnmh_low_h);
}

/* derived: less spread in, less out; a power from a log is known to 5 instead of 15 % */
Test(draws_known, bands_follow_their_spreads)
{
    trn_spread_row none = {.quantity = "choices.life_model", .kind = 1, .spread = 0};
    trn_spread_row own = {.quantity = "duty.*.power", .kind = 0, .spread = 1.15};
    trn_machine *stated = with_spreads(&none, 1);
    trn_machine *logged = with_spreads(&none, 1);
    trn_machine *model = with_spreads(&own, 1);
    for (size_t i = 0; i < logged->duty_count; i++)
        logged->duty[i].power_basis = TRN_POWER_LOG;
    trn_results *a = drawn(stated, 512, true);
    trn_results *b = drawn(logged, 512, true);
    trn_results *c = drawn(model, 512, true);
    cr_expect_gt(width(a), 1.05 * width(b), "%g, %g", width(a), width(b));
    cr_expect_gt(width(c), 1.05 * width(a), "%g, %g", width(c), width(a));
    trn_results_free(a);
    trn_results_free(b);
    trn_results_free(c);
    trn_machine_free(stated);
    trn_machine_free(logged);
    trn_machine_free(model);
}

Test(draws_known, a_lognormal_spread_of_ln_life_is_refused)
{
    trn_spread_row row = {.quantity = "choices.life_model", .kind = 0, .spread = 1.5};
    trn_machine *m = with_spreads(&row, 1);
    trn_results *r = study_evaluated(m);
    trn_draw_plan plan = {.draws = 64, .seed = 1, .jobs = 1};
    trn_faults faults = {0};
    cr_expect_eq(trn_study_draws(r, &plan, false, &faults), TRN_E_INPUT);
    cr_assert_eq(faults.kept, 1);
    cr_expect(strstr(faults.list[0].text, "normal or uniform") != NULL);
    trn_faults_free(&faults);
    trn_results_free(r);
    trn_machine_free(m);
}
