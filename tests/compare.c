/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Results side by side: what changed, and nothing where nothing was changed. */
#include <criterion/criterion.h>
#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <trunnion/address.h>
#include <trunnion/compare.h>

#include "support.h"

Test(compare, differences)
{
    trn_difference d = trn_difference_of(238.5, 190.8);
    cr_expect(test_near(d.absolute, -47.7, 1e-12) && test_near(d.percent, -20, 1e-12));
    d = trn_difference_of(-40, -30); /* of the size: a rise is a rise */
    cr_expect(d.absolute == 10 && d.percent == 25);
    d = trn_difference_of(0, 3.2);
    cr_expect(d.absolute == 3.2 && isnan(d.percent));
    d = trn_difference_of(0, 0);
    cr_expect(d.absolute == 0 && d.percent == 0);
    d = trn_difference_of(INFINITY, INFINITY);
    cr_expect(d.absolute == 0 && d.percent == 0);
    d = trn_difference_of(INFINITY, 812);
    cr_expect(isnan(d.absolute) && isnan(d.percent));
    d = trn_difference_of(NAN, 812);
    cr_expect(isnan(d.absolute) && isnan(d.percent));
    d = trn_difference_of(812, NAN);
    cr_expect(isnan(d.absolute) && isnan(d.percent));
}

static trn_status evaluate(const trn_machine *m, trn_results *r, void *context)
{
    (void)context;
    return trn_study_evaluate(m, TRN_WANT_ALL, r, NULL);
}

/* derived: torque as power; fatigue life of the crosses as power to -10/3; geometry unchanged */
Test(compare, half_the_power)
{
    char folder[1024];
    trn_faults faults = {0};
    trn_machine *m[3] = {NULL, NULL, NULL};
    trn_addresses all = {0};
    trn_buffer why = {0};
    (void)gsl_set_error_handler_off();
    (void)snprintf(folder, sizeof folder, "%s/cases/rotary_mower", test_root());
    cr_assert_eq(trn_machine_read(folder, &faults, &m[0]), TRN_OK);
    m[1] = trn_machine_copy(m[0]);
    m[2] = trn_machine_copy(m[0]);
    cr_assert(m[1] && m[2]);
    cr_assert_eq(trn_machine_set(m[2], "duty.*.power", "x0.5", "test", &faults), TRN_OK);
    cr_assert_eq(trn_machine_link(m[2], &faults), TRN_OK);
    trn_results *r = trn_results_new(m[0]);
    cr_assert_eq(evaluate(m[0], r, NULL), TRN_OK);
    static const char *const names[] = {"joints.grass.main.torque", "joints.all.main.life_in",
                                        "fit.main.overlap", "heat.grass.box.oil_temperature"};
    trn_follow follow[4];
    for (size_t i = 0; i < 4; i++)
        cr_assert_eq(trn_address_find(r, names[i], &all, &why), TRN_OK);
    for (size_t i = 0; i < 4; i++)
        follow[i] = trn_address_follow(&all.list[i]);
    trn_results_free(r);
    trn_comparison *c = NULL;
    cr_assert_eq(trn_compare_run(m, 3, follow, 4, (trn_evaluation){evaluate, NULL}, &c), TRN_OK);
    cr_assert(c->columns == 3 && c->follows == 4);
    for (size_t i = 0; i < 4; i++)
        cr_expect_eq(trn_difference_of(c->value[3 * i], c->value[3 * i + 1]).absolute, 0,
                     "a copy changes nothing: %s", names[i]);
    cr_expect(test_near(trn_difference_of(c->value[0], c->value[2]).percent, -50, 1e-12));
    double longer = 100 * (pow(2, 10.0 / 3) - 1);
    cr_expect(test_near(trn_difference_of(c->value[3], c->value[5]).percent, longer, 1e-9));
    cr_expect_eq(trn_difference_of(c->value[6], c->value[8]).absolute, 0);
    cr_expect(c->value[11] < c->value[9], "less loss, cooler oil");
    trn_comparison_free(c);
    trn_addresses_free(&all);
    trn_buffer_free(&why);
    trn_faults_free(&faults);
    for (size_t i = 3; i-- > 0;)
        trn_machine_free(m[i]);
}
