/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "review_case.h"

#include <criterion/criterion.h>
#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

char review_folder[SCRATCH_PATH];
trn_machine *review_machine;
trn_review *review_made;

void review_begin(void)
{
    (void)gsl_set_error_handler_off();
    scratch_make(review_folder);
    scratch_copy(review_folder, "cases/failed");
}

void review_end(void)
{
    trn_review_free(review_made);
    trn_machine_free(review_machine);
    scratch_remove(review_folder);
}

/* Reads the folder again and reviews it. */
void review_again(unsigned jobs)
{
    trn_faults faults = {0};
    trn_review_free(review_made);
    trn_machine_free(review_machine);
    review_made = NULL;
    review_machine = scratch_case(review_folder);
    trn_status status = trn_review_run(review_machine, jobs, &faults, &review_made);
    char *text = scratch_faults(&faults);
    cr_assert_eq(status, TRN_OK, "status %d: %s", status, text);
    free(text);
    trn_faults_free(&faults);
}

void review_refused(const char *wanted)
{
    trn_faults faults = {0};
    review_machine = scratch_case(review_folder);
    review_made = (trn_review *)review_folder;
    trn_status status = trn_review_run(review_machine, 1, &faults, &review_made);
    char *text = scratch_faults(&faults);
    cr_expect_eq(status, TRN_E_INPUT);
    cr_expect_null(review_made);
    cr_expect_not_null(strstr(text, wanted), "wanted %s\ngot %s", wanted, text);
    free(text);
    trn_faults_free(&faults);
}

const trn_review_row *review_row(const char *scenario)
{
    for (size_t i = 0; i < review_made->explanation_count; i++)
        if (strcmp(review_made->rows[i].scenario, scenario) == 0)
            return &review_made->rows[i];
    cr_assert(false, "no row %s", scenario);
    return NULL;
}

void review_scenarios(const char *rows)
{
    char text[4096];
    (void)snprintf(text, sizeof text, "scenario,quantity,value,note\n%s", rows);
    scratch_write(review_folder, "scenarios.csv", text);
}

void review_near(const char *what, double got, double want, double relative)
{
    cr_expect(fabs(got - want) <= relative * fabs(want), "%s: wanted %.12g, got %.12g", what, want,
              got);
}

bool review_has(const trn_review_row *r, const char *text)
{
    return strstr(r->remark, text) != NULL;
}
