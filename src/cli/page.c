/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What report.html, inputs.csv and manifest.csv are made of. */
#include "page.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/hash.h>
#include <trunnion/schema.h>
#include <unistd.h>

void cli_tables_hash(const char *folder, cli_tables *tables)
{
    tables->n = 0;
    tables->failed = false;
    for (size_t i = 0; i <= trn_table_count() && i < CLI_TABLES_MAX; i++) {
        const trn_table *table = i == 0 ? trn_table_head() : trn_table_at(i - 1);
        trn_page_file *file = &tables->file[tables->n];
        char path[4200];
        (void)snprintf(file->name, sizeof file->name, "%s.csv", table->name);
        int n = snprintf(path, sizeof path, "%.4096s/%s", folder, file->name);
        if (n < 0 || (size_t)n >= sizeof path || access(path, F_OK) != 0)
            continue;
        if (trn_sha256_file(path, file->sha256) == TRN_OK)
            tables->n++;
        else
            tables->failed = true;
    }
}

bool cli_tables_same(const cli_tables *a, const cli_tables *b)
{
    if (a->failed || b->failed || a->n != b->n)
        return false;
    for (size_t i = 0; i < a->n; i++)
        if (strcmp(a->file[i].name, b->file[i].name) != 0 ||
            strcmp(a->file[i].sha256, b->file[i].sha256) != 0)
            return false;
    return true;
}

/* As a shell would take it again. */
static void add_word(const char *word, trn_buffer *out)
{
    static const char plain[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789"
                                "_./=:,%+-";
    if (*word && strspn(word, plain) == strlen(word)) {
        trn_buffer_add(out, word);
        return;
    }
    trn_buffer_add(out, "'");
    for (const char *p = word; *p; p++)
        trn_buffer_add_n(out, *p == '\'' ? "'\\''" : p, *p == '\'' ? 4 : 1);
    trn_buffer_add(out, "'");
}

static trn_status evaluate(trn_results *results, trn_trace *trace)
{
    trn_results *again = trn_results_new(results->machine);
    if (!again)
        return TRN_E_MEMORY;
    trn_status status = trn_study_evaluate(results->machine, TRN_WANT_ALL, again, trace);
    trn_results_free(again);
    if (status == TRN_OK && results->draws)
        trn_working_note_drawn(results, trace);
    return status == TRN_OK && trace->failed ? TRN_E_MEMORY : status;
}

trn_status cli_page_make(const cli_options *options, trn_results *results,
                         const cli_tables *tables, cli_page *page, trn_buffer *inputs)
{
    *page = (cli_page){.facts = {.results = results, .trace = &page->trace,
                                 .inputs = &page->inputs, .stands = &page->stands,
                                 .checkup = &page->checkup, .files = tables->file,
                                 .file_count = tables->n}};
    trn_buffer_add(&page->command, "trunnion");
    for (int i = 0; i < options->word_count; i++) {
        trn_buffer_add(&page->command, " ");
        add_word(options->words[i], &page->command);
    }
    trn_status status = evaluate(results, &page->trace);
    if (status == TRN_OK)
        status = trn_inputs_make(results, &page->trace, &page->inputs);
    page->stands = (trn_stands){.results = results, .trace = &page->trace,
                                .inputs = &page->inputs};
    if (status == TRN_OK)
        status = trn_stands_count(&page->stands, &page->inputs);
    if (status == TRN_OK)
        status = trn_checkup_make(results->machine, &page->checkup);
    if (status < 0)
        return status;
    trn_inputs_csv(&page->inputs, inputs);
    if (inputs->failed || page->command.failed)
        return TRN_E_MEMORY;
    trn_sha256(inputs->text, inputs->length, page->inputs_sha256);
    page->facts.inputs_sha256 = page->inputs_sha256;
    page->facts.command = page->command.text;
    return TRN_OK;
}

void cli_page_free(cli_page *page)
{
    trn_checkup_free(&page->checkup);
    trn_stands_free(&page->stands);
    trn_inputs_free(&page->inputs);
    trn_trace_free(&page->trace);
    trn_buffer_free(&page->command);
}
