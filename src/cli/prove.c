/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `prove`: replays check files, or the published checks built into the program. */
#include <stdio.h>
#include <string.h>
#include <trunnion/csv_write.h>

#include "cli.h"

static void write_checks(const trn_checks *checks, trn_buffer *out)
{
    static const char *const head[] = {"id",        "formula",  "output",  "computed", "expected",
                                       "tolerance", "standing", "verdict", "source"};
    trn_csv_writer csv = {.out = out};
    for (size_t i = 0; i < sizeof head / sizeof head[0]; i++)
        trn_csv_word(&csv, head[i]);
    trn_csv_end(&csv);
    for (size_t i = 0; i < checks->count; i++) {
        const trn_check *c = &checks->list[i];
        trn_csv_text(&csv, c->id);
        trn_csv_text(&csv, c->formula);
        trn_csv_text(&csv, c->output);
        trn_csv_word(&csv, c->computed);
        trn_csv_word(&csv, c->expected);
        trn_csv_word(&csv, c->tolerance);
        trn_csv_text(&csv, c->standing);
        trn_csv_word(&csv, c->pass ? "pass" : "fail");
        trn_csv_text(&csv, c->source);
        trn_csv_end(&csv);
    }
}

static trn_status prove_built_in(trn_faults *faults, trn_checks *checks)
{
    trn_status status = TRN_OK;
    for (size_t i = 0; i < trn_built_in_count && status == TRN_OK; i++) {
        trn_buffer text = {0};
        for (const char *const *line = trn_built_in[i].lines; *line; line++)
            trn_buffer_add(&text, *line);
        status = text.failed ? TRN_E_MEMORY
                             : trn_prove_bytes(trn_built_in[i].name, text.text, text.length,
                                               faults, checks);
        trn_buffer_free(&text);
    }
    return status;
}

cli_exit cli_prove(const cli_options *options)
{
    trn_faults faults = {0};
    trn_checks checks = {0};
    trn_status status = TRN_OK;
    if (options->inputs.n == 0)
        status = prove_built_in(&faults, &checks);
    for (size_t i = 0; i < options->inputs.n && status == TRN_OK; i++)
        status = trn_prove_file(options->inputs.v[i], &faults, &checks);
    cli_exit code = CLI_DONE;
    if (status != TRN_OK) {
        code = cli_faults(status, &faults, NULL);
    } else {
        trn_buffer out = {0};
        write_checks(&checks, &out);
        code = cli_print(&out);
        if (options->quiet.n == 0 || checks.passed < checks.count)
            (void)fprintf(stderr, "%zu checks: %zu pass, %zu fail\n", checks.count, checks.passed,
                          checks.count - checks.passed);
        if (code == CLI_DONE && checks.passed < checks.count)
            code = CLI_FAILED;
    }
    trn_checks_free(&checks);
    trn_faults_free(&faults);
    return code;
}
