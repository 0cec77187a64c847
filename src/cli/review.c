/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `review`: explanations of a failure compared. */
#include "review.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/plot.h>

enum { TERMINAL_WIDTH = 100 };

void cli_review_files(const trn_review *review, cli_outputs *outputs)
{
    trn_buffer text = {0};
    trn_plots plots;
    for (size_t i = 0; i < TRN_REVIEW_FILES; i++) {
        trn_review_csv(review, i, &text);
        cli_outputs_take(outputs, trn_review_files[i], &text);
    }
    trn_review_text(review, TERMINAL_WIDTH, &text);
    cli_outputs_take(outputs, "review.txt", &text);
    if (trn_plots_for_review(review, &plots) != TRN_OK) {
        outputs->failed = true;
        return;
    }
    for (size_t i = 0; i < plots.n; i++)
        (void)cli_outputs_draw(outputs, plots.list[i].name, plots.list[i].script.text);
    trn_plots_free(&plots);
}

trn_review *cli_review_run(const cli_options *options, const trn_machine *machine,
                           cli_exit *code)
{
    trn_draw_plan plan;
    trn_review *review = NULL;
    trn_faults faults = {0};
    *code = cli_draw_plan(options, 0, &plan);
    if (*code != CLI_DONE)
        return NULL;
    trn_status status = trn_review_run(machine, plan.jobs, &faults, &review);
    if (status < 0) {
        if (faults.count == 0)
            (void)fprintf(stderr, "trunnion review: %s\n", trn_status_text(status));
        *code = cli_faults(status, &faults, NULL);
    }
    trn_faults_free(&faults);
    return review;
}

static bool outside_validity(const trn_review *v)
{
    for (size_t i = 0; i < v->part_count * v->explanation_count; i++)
        if (v->rows[i].outside)
            return true;
    return false;
}

static cli_exit give(const cli_options *options, const trn_review *review)
{
    trn_buffer out = {0};
    cli_exit code = CLI_DONE;
    if (options->out.n > 0) {
        cli_outputs files = {0};
        cli_review_files(review, &files);
        code = cli_outputs_write(options, &files);
    } else {
        if (options->as_csv)
            trn_review_csv(review, 0, &out);
        else
            trn_review_text(review, TERMINAL_WIDTH, &out);
        code = cli_print(&out);
    }
    if (code == CLI_DONE && !options->as_csv) {
        cli_caution(options, TRN_CAUTION_REVIEW);
        cli_caution(options, TRN_CAUTION_ALL);
    }
    return code == CLI_DONE && options->strict.n && outside_validity(review) ? CLI_OUTSIDE : code;
}

cli_exit cli_review(const cli_options *options)
{
    if (options->inputs.n != 1) {
        (void)fprintf(stderr, "trunnion review: one case folder is expected, not %zu\n",
                      options->inputs.n);
        return CLI_MISUSE;
    }
    cli_exit code = CLI_DONE;
    if (options->out.n > 0)
        code = cli_refuse_case_folder(options->out.v[options->out.n - 1]);
    trn_machine *base = NULL;
    trn_machine *machine =
        code == CLI_DONE ? cli_case(options, options->inputs.v[0], &base, &code) : NULL;
    trn_review *review = machine ? cli_review_run(options, machine, &code) : NULL;
    if (review)
        code = give(options, review);
    trn_review_free(review);
    trn_machine_free(machine);
    trn_machine_free(base);
    return code;
}
