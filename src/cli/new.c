/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `new`: a starter case, every column explained, with an invented machine that computes. */
#include <stdio.h>
#include <trunnion/csv_write.h>
#include <trunnion/field_sheet.h>
#include <trunnion/starter.h>

#include "cli.h"

static const trn_table *table_of(size_t i)
{
    return i == 0 ? trn_table_head() : trn_table_at(i - 1);
}

static const char sheet_name[] = "field-sheet.html";

static void list_row(trn_csv_writer *csv, const char *name, const char *what, bool required)
{
    trn_csv_word(csv, name);
    trn_csv_word(csv, what);
    trn_csv_word(csv, required ? "yes" : "no");
    trn_csv_end(csv);
}

static void list_files(trn_starter starter, trn_buffer *out)
{
    trn_csv_writer csv = {.out = out};
    trn_csv_word(&csv, "file");
    trn_csv_word(&csv, "what");
    trn_csv_word(&csv, "required");
    trn_csv_end(&csv);
    for (size_t i = 0; i <= trn_table_count(); i++) {
        const trn_table *table = table_of(i);
        char name[64];
        (void)snprintf(name, sizeof name, "%s.csv", table->name);
        if (trn_starter_has(starter, table->name))
            list_row(&csv, name, table->what, table->required);
    }
    list_row(&csv, sheet_name, "what to measure, to print", false);
}

/* The command that answers the question; `report` where there is no single one. */
static const char *command_of(trn_starter starter)
{
    static const char *const commands[TRN_STARTERS] = {
        [TRN_STARTER_INTERVALS] = "intervals", [TRN_STARTER_SHAFTS] = "joints",
        [TRN_STARTER_HEAT] = "heat",           [TRN_STARTER_BEARINGS] = "bearings",
        [TRN_STARTER_REVIEW] = "review",
    };
    const char *command = commands[starter] ? commands[starter] : "intervals";
    return cli_command_find(command) ? command : "check";
}

static void next_steps(const char *folder, trn_starter starter, trn_buffer *out)
{
    size_t tables = 0;
    for (size_t i = 0; i <= trn_table_count(); i++)
        tables += trn_starter_has(starter, table_of(i)->name);
    trn_buffer_print(out,
                     "%zu tables are in %s, filled with an invented machine that computes: %s.\n\n",
                     tables, folder, trn_starter_what(starter));
    for (size_t i = 0; i <= trn_table_count(); i++) {
        const trn_table *table = table_of(i);
        char name[64];
        (void)snprintf(name, sizeof name, "%s.csv", table->name);
        if (trn_starter_has(starter, table->name))
            trn_buffer_print(out, "  %-16s  %s%s\n", name, table->what,
                             table->required ? " (required)" : "");
    }
    trn_buffer_print(out, "  %-16s  what to measure, where, with what: print it\n", sheet_name);
    trn_buffer_print(out,
                     "\nNext\n"
                     "  1  Print %s/%s and take it to the machine.\n"
                     "  2  Open the tables in a spreadsheet or editor; each column is explained at "
                     "the top.\n"
                     "     Put your own figures in place of the rows marked EXAMPLE.%s\n"
                     "  3  trunnion check %s\n"
                     "     what is wrong, which way things turn, what each blank costs\n"
                     "  4  trunnion %s %s\n",
                     folder, sheet_name,
                     starter == TRN_STARTER_INTERVALS
                         ? ""
                         : "\n     Delete the tables that you cannot fill; what they would add is "
                           "left out, not invented.",
                     folder, command_of(starter), folder);
}

static cli_exit wanted_of(const cli_options *options, trn_starter *starter)
{
    *starter = TRN_STARTER_ALL;
    const cli_texts *given = &options->purpose;
    if (given->n == 0 || trn_starter_find(given->v[given->n - 1], starter) == TRN_OK)
        return CLI_DONE;
    (void)fprintf(stderr, "trunnion new: --for %s: one of", given->v[given->n - 1]);
    for (size_t i = 0; i < TRN_STARTERS; i++)
        (void)fprintf(stderr, "%s %s", i ? "," : "", trn_starter_word((trn_starter)i));
    (void)fprintf(stderr, " is expected\n");
    return CLI_MISUSE;
}

cli_exit cli_new(const cli_options *options)
{
    if (options->inputs.n != 1) {
        (void)fprintf(stderr, "trunnion new: one folder is expected, not %zu\n",
                      options->inputs.n);
        return CLI_MISUSE;
    }
    trn_starter starter;
    cli_exit misuse = wanted_of(options, &starter);
    if (misuse != CLI_DONE)
        return misuse;
    const char *folder = options->inputs.v[0];
    trn_faults faults = {0};
    trn_buffer sheet = {0};
    trn_status status = trn_field_sheet(starter, &sheet);
    if (status == TRN_OK)
        status = trn_starter_write(folder, starter,
                                   &(trn_file){sheet_name, sheet.text, sheet.length}, 1, &faults);
    trn_buffer_free(&sheet);
    if (status < 0) {
        cli_exit code = cli_faults(status, &faults, NULL);
        trn_faults_free(&faults);
        return status == TRN_E_INPUT ? code : CLI_FAILED;
    }
    trn_faults_free(&faults);
    trn_buffer out = {0};
    if (options->as_csv)
        list_files(starter, &out);
    else
        next_steps(folder, starter, &out);
    cli_exit code = cli_print(&out);
    cli_caution(options, TRN_CAUTION_SHAFTS);
    return code;
}
