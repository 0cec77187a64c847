/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `prove`: replays check files, or the published checks built into the program. */
#include <stdio.h>
#include <string.h>
#include <trunnion/address.h>
#include <trunnion/constants.h>
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

/* ---- results of a case ---------------------------------------------------------------------- */

static trn_status find_result(void *context, const char *address, const char *column,
                              trn_prove_cell *cell)
{
    const trn_results *results = context;
    trn_addresses found = {0};
    trn_buffer text = {0};
    trn_buffer why = {0};
    trn_buffer_add(&text, address);
    trn_status status = text.failed ? TRN_E_MEMORY
                                    : trn_address_find(results, text.text, &found, &why);
    bool whole = status == TRN_OK && found.n == 1 && found.list[0].field;
    if (!whole && status != TRN_E_MEMORY && *column) { /* the column may stand apart */
        trn_addresses_free(&found);
        found = (trn_addresses){0};
        trn_buffer_print(&text, ".%s", column);
        status = text.failed ? TRN_E_MEMORY : trn_address_find(results, text.text, &found, &why);
        whole = status == TRN_OK && found.n == 1 && found.list[0].field;
    }
    if (whole) {
        const trn_field *field = found.list[0].field;
        const void *row = trn_address_row(&found.list[0], results);
        bool is_text = field->kind == TRN_FIELD_TEXT || field->kind == TRN_FIELD_WORD;
        cell->unit = field->unit ? field->unit : "1";
        cell->value = trn_address_value(&found.list[0], results);
        cell->word = is_text && row ? field->text(results, row) : NULL;
    }
    trn_addresses_free(&found);
    trn_buffer_free(&text);
    trn_buffer_free(&why);
    return status == TRN_E_MEMORY || whole ? status : TRN_E_INPUT;
}

static trn_status prove_files(const cli_options *options, const trn_results *results,
                              trn_faults *faults, trn_checks *checks)
{
    trn_prove_results lookup = {find_result, (void *)(uintptr_t)results};
    trn_status status = TRN_OK;
    for (size_t i = 0; i < options->inputs.n && status == TRN_OK; i++)
        status = trn_prove_file(options->inputs.v[i], results ? &lookup : NULL, faults, checks);
    return status;
}

static trn_status prove_case(const cli_options *options, trn_faults *faults, trn_checks *checks,
                             cli_exit *code)
{
    trn_machine *base = NULL;
    trn_machine *machine =
        cli_case(options, options->the_case.v[options->the_case.n - 1], &base, code);
    trn_results *results = machine ? cli_evaluate(machine, true, code) : NULL;
    trn_status status = results ? prove_files(options, results, faults, checks) : TRN_E_INPUT;
    trn_results_free(results);
    trn_machine_free(machine);
    trn_machine_free(base);
    return status;
}

/* `--constants` without a file, or with one and nothing to prove: the list. */
static bool wants_constants(const cli_options *options)
{
    return options->constants.n > 0 && options->inputs.n == 0 && options->the_case.n == 0 &&
           options->constants.v[options->constants.n - 1][0] == '\0';
}

cli_exit cli_prove(const cli_options *options)
{
    if (wants_constants(options)) {
        trn_buffer list = {0};
        trn_constants_csv(&list);
        return cli_print(&list);
    }
    trn_faults faults = {0};
    trn_checks checks = {0};
    trn_status status = TRN_OK;
    if (options->inputs.n == 0 && options->the_case.n == 0)
        status = prove_built_in(&faults, &checks);
    cli_exit code = CLI_DONE;
    if (options->the_case.n > 0 && options->inputs.n == 0) {
        (void)fprintf(stderr, "trunnion prove: --case needs a check file\n");
        return CLI_MISUSE;
    }
    if (options->the_case.n > 0)
        status = prove_case(options, &faults, &checks, &code);
    else if (options->inputs.n > 0)
        status = prove_files(options, NULL, &faults, &checks);
    if (status != TRN_OK) {
        code = code != CLI_DONE ? code : cli_faults(status, &faults, NULL);
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
