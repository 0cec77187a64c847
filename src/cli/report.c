/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `intervals` and `report`: the whole evaluation, on the terminal or as files. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/handover.h>
#include <trunnion/hash.h>
#include <trunnion/plot.h>

#include "cli.h"
#include "page.h"
#include "review.h"

enum { TERMINAL_WIDTH = 100 };

/* One case of `intervals`; several cases add a first column. */
static cli_exit one_table(const cli_options *options, const char *folder, bool several,
                          bool first, trn_buffer *out)
{
    cli_exit code = CLI_DONE;
    trn_machine *base = NULL;
    trn_machine *machine = cli_case(options, folder, &base, &code);
    trn_results *results = machine ? cli_evaluate_drawn(options, machine, false, &code) : NULL;
    if (results) {
        const trn_view *view = trn_view_find("intervals");
        bool choices = options->choices.n > 0;
        if (options->as_csv)
            trn_view_csv(choices ? trn_view_find("choices") : view, results,
                         several ? machine->head.name : NULL, first, out);
        else
            trn_intervals_table(results, TERMINAL_WIDTH, out);
        if (choices && !options->as_csv) {
            trn_buffer_add(out, "\n");
            trn_choices_text(results, TERMINAL_WIDTH, out);
        }
        if (options->strict.n && cli_outside_validity(view, results))
            code = CLI_OUTSIDE;
    }
    trn_results_free(results);
    trn_machine_free(machine);
    trn_machine_free(base);
    return code;
}

static cli_exit one_working(const cli_options *options)
{
    cli_exit code = CLI_MISUSE;
    trn_machine *base = NULL;
    if (options->inputs.n != 1) {
        (void)fprintf(stderr, "trunnion intervals: --working takes one case folder\n");
        return code;
    }
    trn_machine *machine = cli_case(options, options->inputs.v[0], &base, &code);
    if (machine)
        code = cli_working(options, machine, TRN_WANT_ALL);
    trn_machine_free(machine);
    trn_machine_free(base);
    return code;
}

cli_exit cli_intervals(const cli_options *options)
{
    size_t n = options->inputs.n;
    if (n == 0) {
        (void)fprintf(stderr, "trunnion intervals: a case folder is expected\n");
        return CLI_MISUSE;
    }
    if (options->out.n > 0)
        return cli_report(options);
    if (options->working.n > 0)
        return one_working(options);
    trn_buffer out = {0};
    cli_exit worst = CLI_DONE;
    bool header = true;
    for (size_t i = 0; i < n; i++) {
        size_t before = out.length;
        cli_exit code = one_table(options, options->inputs.v[i], n > 1 || options->machine.n > 0, header,
                                  &out);
        if (code == CLI_INPUT && n > 1)
            (void)fprintf(stderr, "trunnion intervals: %s is left out\n", options->inputs.v[i]);
        header = header && out.length == before;
        worst = code > worst && code != CLI_OUTSIDE ? code : worst == CLI_DONE ? code : worst;
        if (code == CLI_FAILED)
            break;
    }
    cli_exit printed = cli_print(&out);
    if (!options->as_csv && worst != CLI_INPUT && worst != CLI_FAILED)
        cli_caution(options, TRN_CAUTION_INTERVALS);
    return printed != CLI_DONE ? printed : worst;
}

/* ---- report --------------------------------------------------------------------------------- */

cli_exit cli_refuse_case_folder(const char *folder)
{
    char path[4096];
    int n = snprintf(path, sizeof path, "%s/machine.csv", folder);
    FILE *file = n > 0 && (size_t)n < sizeof path ? fopen(path, "rb") : NULL;
    if (!file)
        return CLI_DONE;
    (void)fclose(file);
    (void)fprintf(stderr,
                  "trunnion: %s holds a case (machine.csv); results never lie among inputs, choose "
                  "another folder\n",
                  folder);
    return CLI_MISUSE;
}

/* The files of a report, and what of them the page shows. */
typedef struct report {
    cli_outputs files;
    trn_review *review; /* NULL: no failure */
    trn_plots plots;
    trn_page_picture *shown;
    size_t shown_count;
} report;

/* names: the result files wanted, NULL for every one. */
static void add_tables(cli_outputs *files, const trn_results *results, const char *const *names,
                       size_t count)
{
    for (size_t i = 0; i < (names ? count : trn_view_count()); i++) {
        const trn_view *view = names ? trn_view_find(names[i]) : trn_view_at(i);
        trn_buffer text = {0};
        char name[64];
        (void)snprintf(name, sizeof name, "%s.csv", view->name);
        trn_view_csv(view, results, NULL, true, &text);
        cli_outputs_take(files, name, &text);
    }
}

/* Pictures beside the tables; a report without gnuplot is a report all the same. */
static void add_plots(report *all, const trn_results *results)
{
    bool built = trn_plots_for_report(results, &all->plots) == TRN_OK;
    all->shown = built ? calloc(all->plots.n + 1, sizeof *all->shown) : NULL;
    all->files.failed = all->files.failed || !all->shown;
    for (size_t i = 0; all->shown && i < all->plots.n; i++) {
        const trn_plot *plot = &all->plots.list[i];
        const char *svg = cli_outputs_draw(&all->files, plot->name, plot->script.text);
        if (svg)
            all->shown[all->shown_count++] =
                (trn_page_picture){plot->name, plot->topic, plot->finding.text, svg};
    }
}

/* Hashes of the files so far. */
static bool manifest_of(const cli_outputs *files, const trn_page_facts *facts, trn_buffer *text)
{
    trn_page_file *results = calloc(files->n + 1, sizeof *results);
    for (size_t i = 0; results && i < files->n; i++) {
        trn_file file = cli_outputs_file(files, i);
        (void)snprintf(results[i].name, sizeof results[i].name, "%s", file.name);
        trn_sha256(file.bytes, file.size, results[i].sha256);
    }
    if (results)
        trn_manifest_csv(&(trn_manifest){facts, results, files->n}, text);
    bool whole = results != NULL && !text->failed;
    free(results);
    return whole;
}

/* The tables as a workbook, and a description of the CSV files; after all of them. Of the
 * manifest, which comes last, a draft shows the columns. */
static trn_status add_handover(cli_outputs *files, const trn_results *results,
                               const trn_page_facts *facts, trn_faults *faults)
{
    trn_package_file *described = calloc(files->n + 1, sizeof *described);
    trn_buffer draft = {0};
    trn_buffer book = {0};
    trn_buffer package = {0};
    size_t n = files->n;
    for (size_t i = 0; described && i < n; i++) {
        trn_file file = cli_outputs_file(files, i);
        char view[64];
        (void)snprintf(view, sizeof view, "%.*s", (int)strcspn(file.name, "."), file.name);
        described[i] = (trn_package_file){.name = file.name, .bytes = file.bytes,
                                          .size = file.size, .view = trn_view_find(view)};
    }
    trn_status status =
        described && manifest_of(files, facts, &draft) ? TRN_OK : TRN_E_MEMORY;
    if (status == TRN_OK) {
        described[n] = (trn_package_file){.name = "manifest.csv",
                                          .bytes = draft.text ? draft.text : "",
                                          .size = draft.length, .unsized = true};
        status = trn_data_package(results, described, n + 1, &package);
    }
    if (status == TRN_OK)
        status = trn_workbook(results, described, n, &book);
    if (status == TRN_E_IO)
        trn_fault_add(faults, "report.xlsx", 0, NULL, "no room for its temporary file");
    if (status == TRN_OK) {
        cli_outputs_take(files, "datapackage.json", &package);
        cli_outputs_take(files, "report.xlsx", &book);
    }
    free(described);
    trn_buffer_free(&package);
    trn_buffer_free(&book);
    trn_buffer_free(&draft);
    return status;
}

/* One sheet for the owner of the machine. */
static trn_status add_owner(cli_outputs *files, const trn_results *results)
{
    trn_buffer page = {0};
    trn_status status = trn_owner_page(results, &page);
    if (status == TRN_OK)
        cli_outputs_take(files, "owner.html", &page);
    trn_buffer_free(&page);
    return status;
}

/* Files of the failure review, where there is a failure to review. */
static cli_exit add_review(report *all, const cli_options *options, const trn_machine *machine)
{
    cli_exit code = CLI_DONE;
    if (machine->failure_count == 0)
        return code;
    if (machine->scenarios_count == 0) {
        (void)fprintf(stderr, "no review: failure.csv is there, scenarios.csv with the "
                              "explanations is not\n");
        return code;
    }
    all->review = cli_review_run(options, machine, &code);
    if (all->review)
        cli_review_files(all->review, &all->files);
    return code;
}

/* As the last file. */
static trn_status add_manifest(cli_outputs *files, const trn_page_facts *facts)
{
    trn_buffer text = {0};
    bool whole = manifest_of(files, facts, &text);
    cli_outputs_take(files, "manifest.csv", &text);
    return whole ? TRN_OK : TRN_E_MEMORY;
}

static trn_status add_page(report *all, cli_page *page)
{
    trn_buffer text = {0};
    page->facts.pictures = all->shown;
    page->facts.picture_count = all->shown_count;
    trn_status status = trn_page_write(&page->facts, &text);
    if (status == TRN_OK)
        cli_outputs_take(&all->files, "report.html", &text);
    trn_buffer_free(&text);
    return status;
}

cli_exit cli_write(const cli_options *options, const trn_results *results,
                   const char *const *names, size_t count)
{
    cli_outputs files = {0};
    add_tables(&files, results, names, count);
    return cli_outputs_write(options, &files);
}

/* What is made of the tables, the plots and the review; each step needs those before it. */
static trn_status add_made(report *all, const cli_options *options, trn_results *results,
                           const cli_tables *tables, cli_page *page, trn_faults *faults)
{
    trn_buffer inputs = {0};
    trn_status status = cli_page_make(options, results, tables, page, &inputs);
    page->facts.review = all->review;
    if (status == TRN_OK)
        cli_outputs_take(&all->files, "inputs.csv", &inputs);
    trn_buffer_free(&inputs);
    if (status == TRN_OK)
        status = add_handover(&all->files, results, &page->facts, faults);
    if (status == TRN_OK)
        status = add_owner(&all->files, results);
    if (status == TRN_OK)
        status = add_page(all, page);
    if (status == TRN_OK)
        status = add_manifest(&all->files, &page->facts);
    return status == TRN_OK && all->files.failed ? TRN_E_MEMORY : status;
}

static cli_exit write_report(const cli_options *options, trn_results *results,
                             const cli_tables *tables)
{
    report all = {.shown_count = 0};
    cli_page *page = calloc(1, sizeof *page);
    trn_faults faults = {0};
    add_tables(&all.files, results, NULL, 0);
    add_plots(&all, results);
    cli_exit code = page ? add_review(&all, options, results->machine) : CLI_FAILED;
    if (code == CLI_DONE) {
        trn_status status = add_made(&all, options, results, tables, page, &faults);
        if (status == TRN_OK) {
            code = cli_outputs_write(options, &all.files);
        } else {
            (void)cli_faults(status, &faults, NULL);
            if (faults.count == 0)
                (void)fprintf(stderr, "trunnion report: %s\n", trn_status_text(status));
            code = CLI_FAILED;
        }
    }
    if (page)
        cli_page_free(page);
    free(page);
    trn_review_free(all.review);
    cli_outputs_free(&all.files);
    trn_plots_free(&all.plots);
    free(all.shown);
    trn_faults_free(&faults);
    return code;
}

/* The case, and the hashes of the tables that it was read from. */
static trn_machine *read_hashed(const cli_options *options, trn_machine **base,
                                cli_tables *tables, cli_exit *code)
{
    const char *folder = options->inputs.v[0];
    cli_tables *after = calloc(1, sizeof *after);
    cli_tables_hash(folder, tables);
    trn_machine *machine = after ? cli_case(options, folder, base, code) : NULL;
    if (!after)
        *code = CLI_FAILED;
    if (machine)
        cli_tables_hash(folder, after);
    if (machine && !cli_tables_same(tables, after)) {
        (void)fprintf(stderr, "trunnion report: %s changed while it was read; run it again\n", folder);
        *code = CLI_FAILED;
        trn_machine_free(machine);
        trn_machine_free(*base);
        *base = NULL;
        machine = NULL;
    }
    free(after);
    return machine;
}

cli_exit cli_report(const cli_options *options)
{
    if (options->inputs.n != 1 || options->out.n == 0) {
        (void)fprintf(stderr, "trunnion report: one case folder and --out DIR are expected\n");
        return CLI_MISUSE;
    }
    cli_exit code = cli_refuse_case_folder(options->out.v[options->out.n - 1]);
    if (code != CLI_DONE)
        return code;
    cli_tables *tables = calloc(1, sizeof *tables);
    if (!tables)
        return CLI_FAILED;
    trn_machine *base = NULL;
    trn_machine *machine = read_hashed(options, &base, tables, &code);
    trn_results *results = machine ? cli_evaluate_drawn(options, machine, true, &code) : NULL;
    if (results)
        code = write_report(options, results, tables);
    trn_results_free(results);
    trn_machine_free(machine);
    trn_machine_free(base);
    free(tables);
    if (code == CLI_DONE) {
        cli_caution(options, TRN_CAUTION_INTERVALS);
        cli_caution(options, TRN_CAUTION_ALL);
    }
    return code;
}
