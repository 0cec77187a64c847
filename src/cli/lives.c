/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `lives`: Weibull analysis of a lives table. */
#include <math.h>
#include <stdio.h>
#include <trunnion/lives_table.h>

#include "cli.h"

enum { TERMINAL_WIDTH = 100 };

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
    if (code != CLI_DONE)
        return code;
    trn_faults faults = {0};
    trn_lives_table table;
    trn_status status = trn_lives_table_read(options->inputs.v[0], slope, confidence_pct / 100,
                                             &faults, &table);
    if (status < 0) {
        if (faults.count == 0)
            trn_fault_add(&faults, options->inputs.v[0], 0, NULL, "%s", trn_status_text(status));
        code = cli_faults(status, &faults, NULL);
        trn_faults_free(&faults);
        return code;
    }
    trn_buffer out = {0};
    if (options->as_csv)
        trn_lives_csv(&table, &out);
    else
        trn_lives_text(&table, TERMINAL_WIDTH, &out);
    code = cli_print(&out);
    if (*table.note && options->quiet.n == 0)
        (void)fprintf(stderr, "trunnion lives: %s\n", table.note);
    if (!options->as_csv)
        cli_caution(options, TRN_CAUTION_ALL);
    trn_lives_table_free(&table);
    trn_faults_free(&faults);
    return code;
}
