/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `review`: explanations of a failure compared. */
#include "review.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/plot.h>

#include "follow.h"

enum { TERMINAL_WIDTH = 100 };

static trn_buffer *made_file(cli_made *made, const char *name, const char *end)
{
    if (made->n == CLI_MADE_MAX)
        return NULL;
    (void)snprintf(made->name[made->n], sizeof made->name[0], "%s%s", name, end);
    return &made->text[made->n++];
}

static bool add_plot(cli_made *made, const trn_plot *plot, bool *missing)
{
    trn_faults faults = {0};
    trn_buffer picture = {0};
    trn_status status = *missing ? TRN_E_MISSING
                                 : trn_plot_run(plot->script.text, "svg", &picture, &faults);
    if (status == TRN_OK) {
        trn_buffer *file = made_file(made, plot->name, ".svg");
        if (file)
            *file = picture;
        else
            trn_buffer_free(&picture);
    } else if (status == TRN_E_MISSING && !*missing) {
        (void)fprintf(stderr, "no plots: gnuplot is not installed\n");
        *missing = true;
    } else if (status != TRN_E_MISSING) {
        (void)cli_faults(status, &faults, NULL);
    }
    trn_faults_free(&faults);
    return status != TRN_E_MEMORY;
}

static bool add_plots(const trn_review *v, cli_made *made)
{
    bool missing = false;
    trn_plots plots;
    if (trn_plots_for_review(v, &plots) != TRN_OK)
        return false;
    bool whole = true;
    for (size_t i = 0; i < plots.n; i++)
        whole = add_plot(made, &plots.list[i], &missing) && whole;
    trn_plots_free(&plots);
    return whole;
}

bool cli_review_make(const trn_review *review, cli_made *made)
{
    for (size_t i = 0; i < TRN_REVIEW_FILES; i++)
        trn_review_csv(review, i, made_file(made, trn_review_files[i], ""));
    trn_review_text(review, TERMINAL_WIDTH, made_file(made, "review.txt", ""));
    return add_plots(review, made);
}

void cli_made_free(cli_made *made)
{
    for (size_t i = 0; made && i < made->n; i++)
        trn_buffer_free(&made->text[i]);
    free(made);
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

static cli_exit write_all(const cli_options *options, const trn_review *review)
{
    cli_made *made = calloc(1, sizeof *made);
    const char *names[CLI_MADE_MAX];
    cli_exit code = made && cli_review_make(review, made) ? CLI_DONE : CLI_FAILED;
    for (size_t i = 0; made && i < made->n; i++)
        names[i] = made->name[i];
    if (code == CLI_DONE)
        code = cli_write_files(options, names, made->text, made->n);
    if (code == CLI_DONE && options->quiet.n == 0)
        (void)fprintf(stderr, "%zu files in %s\n", made->n, options->out.v[options->out.n - 1]);
    cli_made_free(made);
    return code;
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
        code = write_all(options, review);
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
