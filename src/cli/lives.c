/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `lives`: Weibull analysis of a lives table. */
#include <math.h>
#include <stdio.h>
#include <trunnion/lives_paper.h>

#include "outputs.h"

enum { TERMINAL_WIDTH = 100 };

static cli_exit refused(const char *file, trn_status status, trn_faults *faults)
{
    if (faults->count == 0)
        trn_fault_add(faults, file, 0, NULL, "%s", trn_status_text(status));
    return cli_faults(status, faults, NULL);
}

static cli_exit write_files(const cli_options *options, const trn_lives_paper *paper)
{
    cli_outputs files = {0};
    trn_buffer text = {0};
    trn_lives_csv(paper->table, &text);
    cli_outputs_take(&files, "lives_fit.csv", &text);
    trn_lives_line_csv(paper, &text);
    cli_outputs_take(&files, "lives_line.csv", &text);
    trn_lives_ranks_csv(paper, &text);
    cli_outputs_take(&files, "lives_ranks.csv", &text);
    trn_lives_survival_csv(paper, &text);
    cli_outputs_take(&files, "lives_survival.csv", &text);
    trn_buffer script = {0};
    trn_buffer finding = {0};
    trn_status built = trn_plot_weibull(paper, &script, &finding);
    cli_outputs_picture(&files, "lives_paper", built, &script, &finding);
    return cli_outputs_write(options, &files);
}

static cli_exit print(const cli_options *options, const trn_lives_paper *paper)
{
    trn_buffer out = {0};
    if (options->as_csv)
        trn_lives_csv(paper->table, &out);
    else {
        trn_lives_text(paper->table, TERMINAL_WIDTH, &out);
        trn_lives_survival_text(paper, TERMINAL_WIDTH, &out);
    }
    return cli_print(&out);
}

/* Nobody asked for ranks and limits where a table goes into a pipe. */
static cli_exit give(const cli_options *options, const trn_lives_table *table)
{
    trn_lives_paper paper = {.table = table};
    bool whole = options->out.n > 0 || !options->as_csv;
    trn_status status = whole ? trn_lives_paper_make(table, &paper) : TRN_OK;
    cli_exit code = CLI_FAILED;
    if (status < 0)
        (void)fprintf(stderr, "trunnion lives: %s\n", trn_status_text(status));
    else
        code = options->out.n > 0 ? write_files(options, &paper) : print(options, &paper);
    trn_lives_paper_free(&paper);
    if (*table->note && options->quiet.n == 0)
        (void)fprintf(stderr, "trunnion lives: %s\n", table->note);
    if (!options->as_csv || options->out.n > 0)
        cli_caution(options, TRN_CAUTION_ALL);
    return code;
}

cli_exit cli_lives(const cli_options *options)
{
    double slope = NAN;
    double confidence_pct = 95;
    if (options->inputs.n != 1) {
        (void)fprintf(stderr, "trunnion lives: one file is expected, not %zu\n",
                      options->inputs.n);
        return CLI_MISUSE;
    }
    cli_exit code = cli_number("lives", "slope", &options->slope, "", "(0,inf)", &slope);
    if (code == CLI_DONE)
        code = cli_number("lives", "confidence", &options->confidence, "%", "(0,100)",
                          &confidence_pct);
    if (code == CLI_DONE && options->out.n > 0)
        code = cli_refuse_case_folder(options->out.v[options->out.n - 1]);
    if (code != CLI_DONE)
        return code;
    trn_faults faults = {0};
    trn_lives_table table;
    trn_status status = trn_lives_table_read(options->inputs.v[0], slope, confidence_pct / 100,
                                             &faults, &table);
    if (status < 0) {
        code = refused(options->inputs.v[0], status, &faults);
    } else {
        code = give(options, &table);
        trn_lives_table_free(&table);
    }
    trn_faults_free(&faults);
    return code;
}
