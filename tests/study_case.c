/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study_case.h"

#include <criterion/criterion.h>
#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <trunnion/interval_rows.h>
#include <trunnion/present.h>

#include "scratch.h"
#include "support.h"

const char *const study_cases[STUDY_CASES] = {"cases/rotary_mower", "cases/winged_shredder",
                                              "cases/tedder", "../sample-data/winged",
                                              "../sample-data/small"};

trn_machine *study_read(const char *name)
{
    char path[SCRATCH_PATH];
    gsl_set_error_handler_off();
    (void)snprintf(path, sizeof path, "%.200s/%.200s", test_root(), name);
    return scratch_case(path);
}

trn_results *study_evaluated(const trn_machine *m)
{
    trn_results *r = trn_results_new(m);
    cr_assert_not_null(r);
    cr_assert_eq(trn_study_evaluate(m, TRN_WANT_ALL, r, NULL), TRN_OK);
    return r;
}

void study_link_again(trn_machine *m)
{
    trn_faults faults = {0};
    trn_status status = trn_machine_link(m, &faults);
    cr_assert_eq(status, TRN_OK, "%s", faults.kept ? faults.list[0].text : "");
    trn_faults_free(&faults);
}

void study_set(trn_machine *m, const char *path, const char *value)
{
    trn_faults faults = {0};
    trn_status status = trn_machine_set(m, path, value, "--set", &faults);
    cr_assert_eq(status, TRN_OK, "%s", faults.kept ? faults.list[0].text : "");
    trn_faults_free(&faults);
}

trn_machine *study_changed(const trn_machine *m, const char *path, const char *value)
{
    trn_machine *copy = trn_machine_copy(m);
    cr_assert_not_null(copy);
    study_set(copy, path, value);
    study_link_again(copy);
    return copy;
}

char *study_all_views(const trn_results *r)
{
    static const char *const names[] = {"joints", "heat", "bearing_lives", "gearbox_life",
                                        "intervals"};
    trn_buffer out = {0};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
        trn_view_csv(trn_view_find(names[i]), r, NULL, true, &out);
    cr_assert(!out.failed && out.text);
    return out.text;
}

void study_same(const char *what, double wanted, double got, double relative)
{
    bool alike = (isnan(wanted) && isnan(got)) || wanted == got || test_near(wanted, got, relative);
    cr_expect(alike, "%s: wanted %.15g got %.15g", what, wanted, got);
}

void study_same_outcome(const char *what, const trn_results *a, const trn_results *b,
                        double relative, study_compared which)
{
    const trn_machine *m = a->machine;
    const trn_machine *n = b->machine;
    char where[256];
    for (size_t i = 0; which != STUDY_INTERVALS && i < m->bearings_count; i++) {
        const trn_bearing_row *x = &a->bearings[m->duty_count * m->bearings_count + i];
        const trn_bearing_row *y = &b->bearings[n->duty_count * n->bearings_count + i];
        (void)snprintf(where, sizeof where, "%s, %s", what, m->bearings[i].bearing);
        study_same(where, x->l10h_h, y->l10h_h, relative);
        study_same(where, x->lnmh_h, y->lnmh_h, relative);
    }
    for (size_t i = 0; which != STUDY_INTERVALS && i < m->gearboxes_count; i++) {
        study_same(what, a->gearboxes[i].lnmh_h, b->gearboxes[i].lnmh_h, relative);
        study_same(what, a->gearboxes[i].reliability_pct, b->gearboxes[i].reliability_pct,
                   relative);
    }
    for (size_t i = 0; which != STUDY_INTERVALS && i < m->shafts_count; i++) {
        const trn_joint_row *x = trn_results_joint(a, m->duty_count, i);
        const trn_joint_row *y = trn_results_joint(b, n->duty_count, i);
        study_same(what, x->life_in_h, y->life_in_h, relative);
        study_same(what, x->life_out_h, y->life_out_h, relative);
    }
    for (size_t i = 0; which != STUDY_DUTY_LIVES && i < m->points_count; i++) {
        (void)snprintf(where, sizeof where, "%s, %s", what, m->points[i].point);
        study_same(where, a->points[i].nominal_h, b->points[i].nominal_h, relative);
        study_same(where, a->points[i].recommended_h, b->points[i].recommended_h, relative);
        study_same(where, a->points[i].times_per_year, b->points[i].times_per_year, relative);
        cr_expect_eq(a->points[i].governed_by, b->points[i].governed_by, "%s", where);
    }
}
