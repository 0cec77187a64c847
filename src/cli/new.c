/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `new`: a starter case, every column explained, with an invented machine that computes. */
#include <stdio.h>
#include <trunnion/csv_write.h>
#include <trunnion/schema.h>

#include "cli.h"

static const trn_table *table_of(size_t i)
{
    return i == 0 ? trn_table_head() : trn_table_at(i - 1);
}

static void list_files(trn_buffer *out)
{
    trn_csv_writer csv = {.out = out};
    trn_csv_word(&csv, "file");
    trn_csv_word(&csv, "what");
    trn_csv_word(&csv, "required");
    trn_csv_end(&csv);
    for (size_t i = 0; i <= trn_table_count(); i++) {
        const trn_table *table = table_of(i);
        trn_buffer name = {0};
        trn_buffer_print(&name, "%s.csv", table->name);
        trn_csv_word(&csv, name.text ? name.text : "");
        trn_csv_word(&csv, table->what);
        trn_csv_word(&csv, table->required ? "yes" : "no");
        trn_csv_end(&csv);
        trn_buffer_free(&name);
    }
}

static void next_steps(const char *folder, trn_buffer *out)
{
    trn_buffer_print(out,
                     "%zu tables are in %s, filled with an invented machine that computes.\n\n",
                     trn_table_count() + 1, folder);
    for (size_t i = 0; i <= trn_table_count(); i++) {
        const trn_table *table = table_of(i);
        char name[64];
        (void)snprintf(name, sizeof name, "%s.csv", table->name);
        trn_buffer_print(out, "  %-16s %s%s\n", name, table->what,
                         table->required ? " (required)" : "");
    }
    trn_buffer_print(out,
                     "\nNext\n"
                     "  1  Open the tables in a spreadsheet or editor; each column is explained at "
                     "the top.\n"
                     "  2  Put your own machine in place of the example: machine.csv, points.csv "
                     "and duty.csv first.\n"
                     "     Delete the tables that you cannot fill; what they would add is left "
                     "out, not invented.\n"
                     "  3  trunnion check %s      what is wrong, what can be computed, "
                     "what is missing\n"
                     "  4  trunnion intervals %s  the recommended intervals\n",
                     folder, folder);
}

cli_exit cli_new(const cli_options *options)
{
    if (options->inputs.n != 1) {
        (void)fprintf(stderr, "trunnion new: one folder is expected, not %zu\n",
                      options->inputs.n);
        return CLI_MISUSE;
    }
    const char *folder = options->inputs.v[0];
    trn_faults faults = {0};
    trn_status status = trn_machine_new(folder, &faults);
    if (status < 0) {
        cli_exit code = cli_faults(status, &faults, NULL);
        trn_faults_free(&faults);
        return status == TRN_E_INPUT ? code : CLI_FAILED;
    }
    trn_faults_free(&faults);
    trn_buffer out = {0};
    if (options->as_csv)
        list_files(&out);
    else
        next_steps(folder, &out);
    cli_exit code = cli_print(&out);
    cli_caution(options, TRN_CAUTION_SHAFTS);
    return code;
}
