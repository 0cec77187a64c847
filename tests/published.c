/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Replays the check files of tests/published/ through the catalogue. Each row names its source. */
#include <criterion/criterion.h>
#include <stdio.h>
#include <string.h>
#include <trunnion/prove.h>

#include "support.h"

static void replay(const char *subject)
{
    char path[512];
    (void)snprintf(path, sizeof path, "%s/published/%s.csv", test_root(), subject);
    trn_faults faults = {0};
    trn_checks checks = {0};
    trn_status status = trn_prove_file(path, NULL, &faults, &checks);
    for (size_t i = 0; i < faults.kept; i++)
        cr_expect(false, "%s:%zu %s: %s", faults.list[i].file, faults.list[i].line,
                  faults.list[i].column ? faults.list[i].column : "", faults.list[i].text);
    cr_expect_eq(status, TRN_OK);
    cr_expect_gt(checks.count, 50, "%s holds %zu rows only", path, checks.count);
    for (size_t i = 0; i < checks.count; i++) {
        const trn_check *c = &checks.list[i];
        cr_expect(c->pass, "%s:%zu %s %s %s: computed %s, expected %s +- %s (%s)", subject, c->line,
                  c->id, c->formula, c->output, c->computed, c->expected, c->tolerance, c->source);
    }
    trn_checks_free(&checks);
    trn_faults_free(&faults);
}

Test(published, joint) { replay("joint"); }
Test(published, bearing) { replay("bearing"); }
Test(published, heat) { replay("heat"); }
Test(published, lubricant) { replay("lubricant"); }
Test(published, interval) { replay("interval"); }
Test(published, review) { replay("review"); }
