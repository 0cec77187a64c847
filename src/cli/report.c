/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `intervals` and `report`: the whole evaluation, on the terminal or as files. */
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/file.h>
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

enum { FILES_MAX = 192 };

typedef struct files {
    trn_file list[FILES_MAX];
    char name[FILES_MAX][64];
    trn_buffer text[FILES_MAX];
    size_t n;
    bool failed;
    trn_plots plots;                   /* what the pictures show */
    trn_page_picture shown[FILES_MAX]; /* on the page */
    size_t shown_count;
} files;

static void add_file(files *set, const char *name, trn_buffer *text)
{
    if (set->n == FILES_MAX || text->failed) {
        set->failed = true;
        trn_buffer_free(text);
        return;
    }
    size_t i = set->n++;
    (void)snprintf(set->name[i], sizeof set->name[i], "%s", name);
    set->text[i] = *text;
    set->list[i] = (trn_file){
        .name = set->name[i], .bytes = text->text ? text->text : "", .size = text->length};
    *text = (trn_buffer){0};
}

/* names: the result files wanted, NULL for every one. */
static void add_tables(files *set, const trn_results *results, const char *const *names,
                       size_t count)
{
    for (size_t i = 0; i < (names ? count : trn_view_count()); i++) {
        const trn_view *view = names ? trn_view_find(names[i]) : trn_view_at(i);
        trn_buffer text = {0};
        char name[64];
        (void)snprintf(name, sizeof name, "%s.csv", view->name);
        trn_view_csv(view, results, NULL, true, &text);
        add_file(set, name, &text);
    }
}

/* A picture in one format; false where gnuplot is not there. */
static bool add_picture(files *set, const trn_plot *plot, const char *format)
{
    trn_buffer picture = {0};
    trn_faults faults = {0};
    char name[64];
    trn_status status = trn_plot_run(plot->script.text, format, &picture, &faults);
    (void)snprintf(name, sizeof name, "%s.%s", plot->name, format);
    if (status == TRN_OK)
        add_file(set, name, &picture);
    else if (status == TRN_E_MISSING)
        (void)fprintf(stderr, "no plots: gnuplot is not installed\n");
    else
        (void)cli_faults(status, &faults, NULL);
    trn_buffer_free(&picture);
    trn_faults_free(&faults);
    return status != TRN_E_MISSING;
}

/* Pictures beside the tables; a report without gnuplot is a report all the same. */
static void add_plots(files *set, const trn_results *results)
{
    if (trn_plots_for_report(results, &set->plots) != TRN_OK) {
        set->failed = true;
        return;
    }
    for (size_t i = 0; i < set->plots.n; i++) {
        const trn_plot *plot = &set->plots.list[i];
        size_t before = set->n;
        if (!add_picture(set, plot, "svg"))
            return;
        if (set->n > before)
            set->shown[set->shown_count++] =
                (trn_page_picture){plot->name, plot->topic, plot->finding.text,
                                   set->text[before].text};
        (void)add_picture(set, plot, "png");
    }
}

/* Hashes of the files so far. */
static bool manifest_of(const files *set, const trn_page_facts *facts, trn_buffer *text)
{
    trn_page_file *results = calloc(set->n + 1, sizeof *results);
    for (size_t i = 0; results && i < set->n; i++) {
        (void)snprintf(results[i].name, sizeof results[i].name, "%s", set->name[i]);
        trn_sha256(set->list[i].bytes, set->list[i].size, results[i].sha256);
    }
    if (results)
        trn_manifest_csv(&(trn_manifest){facts, results, set->n}, text);
    bool whole = results != NULL && !text->failed;
    free(results);
    return whole;
}

/* The tables as a workbook, and a description of the CSV files; after all of them. Of the
 * manifest, which comes last, a draft shows the columns. */
static trn_status add_handover(files *set, const trn_results *results,
                               const trn_page_facts *facts, trn_faults *faults)
{
    trn_package_file described[FILES_MAX + 1];
    trn_buffer draft = {0};
    trn_buffer book = {0};
    trn_buffer package = {0};
    for (size_t i = 0; i < set->n; i++) {
        char view[64];
        (void)snprintf(view, sizeof view, "%.*s", (int)strcspn(set->name[i], "."), set->name[i]);
        described[i] = (trn_package_file){.name = set->name[i], .bytes = set->list[i].bytes,
                                          .size = set->list[i].size, .view = trn_view_find(view)};
    }
    trn_status status = manifest_of(set, facts, &draft) ? TRN_OK : TRN_E_MEMORY;
    described[set->n] = (trn_package_file){.name = "manifest.csv",
                                           .bytes = draft.text ? draft.text : "",
                                           .size = draft.length, .unsized = true};
    if (status == TRN_OK)
        status = trn_data_package(results, described, set->n + 1, &package);
    if (status == TRN_OK)
        status = trn_workbook(results, described, set->n, &book);
    if (status == TRN_E_IO)
        trn_fault_add(faults, "report.xlsx", 0, NULL, "no room for its temporary file");
    add_file(set, "datapackage.json", &package);
    add_file(set, "report.xlsx", &book);
    trn_buffer_free(&package);
    trn_buffer_free(&book);
    trn_buffer_free(&draft);
    return status;
}

/* One sheet for the owner of the machine. */
static trn_status add_owner(files *set, const trn_results *results)
{
    trn_buffer page = {0};
    trn_status status = trn_owner_page(results, &page);
    if (status == TRN_OK)
        add_file(set, "owner.html", &page);
    trn_buffer_free(&page);
    return status;
}

/* Files of the failure review, where there is a failure to review; *out to be freed. */
static cli_exit add_review(files *set, const cli_options *options, const trn_machine *machine,
                           trn_review **out)
{
    cli_exit code = CLI_DONE;
    if (machine->failure_count == 0)
        return code;
    if (machine->scenarios_count == 0) {
        (void)fprintf(stderr, "no review: failure.csv is there, scenarios.csv with the "
                              "explanations is not\n");
        return code;
    }
    trn_review *review = cli_review_run(options, machine, &code);
    cli_made *made = review ? calloc(1, sizeof *made) : NULL;
    if (review && (!made || !cli_review_make(review, made)))
        code = CLI_FAILED;
    for (size_t i = 0; made && i < made->n && code == CLI_DONE; i++)
        add_file(set, made->name[i], &made->text[i]);
    cli_made_free(made);
    *out = review;
    return code;
}

/* An interrupt waits until the files stand: all of the old ones or all of the new. */
static trn_status write_undisturbed(const char *folder, const files *set, trn_faults *faults)
{
    sigset_t stop;
    sigset_t before;
    (void)sigemptyset(&stop);
    (void)sigaddset(&stop, SIGINT);
    (void)sigaddset(&stop, SIGTERM);
    (void)sigprocmask(SIG_BLOCK, &stop, &before);
    trn_status status = trn_files_write(folder, set->list, set->n, faults);
    (void)sigprocmask(SIG_SETMASK, &before, NULL);
    return status;
}

/* As the last file. */
static void add_manifest(files *set, const trn_page_facts *facts)
{
    trn_buffer text = {0};
    set->failed = !manifest_of(set, facts, &text) || set->failed;
    add_file(set, "manifest.csv", &text);
}

static trn_status add_page(files *set, cli_page *page)
{
    trn_buffer text = {0};
    page->facts.pictures = set->shown;
    page->facts.picture_count = set->shown_count;
    trn_status status = trn_page_write(&page->facts, &text);
    if (status == TRN_OK)
        add_file(set, "report.html", &text);
    trn_buffer_free(&text);
    return status;
}

static cli_exit write_all(const cli_options *options, files *set, trn_faults *faults)
{
    const char *folder = options->out.v[options->out.n - 1];
    trn_status status = set->failed ? TRN_E_MEMORY : trn_folder_make(folder, faults);
    if (status == TRN_OK)
        status = write_undisturbed(folder, set, faults);
    if (status != TRN_OK) {
        (void)cli_faults(status, faults, NULL);
        return CLI_FAILED;
    }
    if (options->quiet.n == 0)
        (void)fprintf(stderr, "%zu files in %s\n", set->n, folder);
    return CLI_DONE;
}

static void free_files(files *set)
{
    for (size_t i = 0; i < set->n; i++)
        trn_buffer_free(&set->text[i]);
    trn_plots_free(&set->plots);
    free(set);
}

cli_exit cli_write(const cli_options *options, const trn_results *results,
                   const char *const *names, size_t count)
{
    files *set = calloc(1, sizeof *set);
    trn_faults faults = {0};
    if (!set)
        return CLI_FAILED;
    add_tables(set, results, names, count);
    cli_exit code = write_all(options, set, &faults);
    free_files(set);
    trn_faults_free(&faults);
    return code;
}

static trn_status add_all(files *set, const cli_options *options, trn_results *results,
                          const cli_tables *tables, const trn_review *review, cli_page *page,
                          trn_faults *faults)
{
    trn_buffer inputs = {0};
    trn_status status = cli_page_make(options, results, tables, page, &inputs);
    page->facts.review = review;
    if (status == TRN_OK)
        add_file(set, "inputs.csv", &inputs);
    trn_buffer_free(&inputs);
    if (status == TRN_OK && !set->failed)
        status = add_handover(set, results, &page->facts, faults);
    if (status == TRN_OK && !set->failed)
        status = add_owner(set, results);
    if (status == TRN_OK && !set->failed)
        status = add_page(set, page);
    if (status == TRN_OK && !set->failed)
        add_manifest(set, &page->facts);
    return status;
}

static cli_exit write_report(const cli_options *options, trn_results *results,
                             const cli_tables *tables)
{
    files *set = calloc(1, sizeof *set);
    cli_page *page = calloc(1, sizeof *page);
    trn_review *review = NULL;
    trn_faults faults = {0};
    cli_exit code = set && page ? CLI_DONE : CLI_FAILED;
    if (code == CLI_DONE) {
        add_tables(set, results, NULL, 0);
        add_plots(set, results);
        code = add_review(set, options, results->machine, &review);
    }
    if (code == CLI_DONE) {
        trn_status status = add_all(set, options, results, tables, review, page, &faults);
        if (status == TRN_OK) {
            code = write_all(options, set, &faults);
        } else {
            (void)cli_faults(status, &faults, NULL);
            code = CLI_FAILED;
        }
    }
    if (page)
        cli_page_free(page);
    trn_review_free(review);
    if (set)
        free_files(set);
    free(page);
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
        (void)fprintf(stderr, "trunnion report: %s changed while it was read; once more\n", folder);
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
