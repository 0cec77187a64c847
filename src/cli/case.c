/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Commands that read a case and show one view of its results. */
#include <stdio.h>
#include <string.h>
#include <trunnion/extras.h>

#include "cli.h"

enum { TERMINAL_WIDTH = 100 };

trn_machine *cli_case_read(const char *folder, cli_exit *code)
{
    trn_faults faults = {0};
    trn_machine *base = NULL;
    trn_status status = trn_machine_read(folder, &faults, &base);
    if (status != TRN_OK)
        *code = cli_faults(status, &faults, NULL);
    trn_faults_free(&faults);
    return base;
}

static trn_status set_one(trn_machine *machine, const char *text, trn_faults *faults)
{
    const char *equals = strchr(text, '=');
    char path[512];
    size_t n = equals ? (size_t)(equals - text) : 0;
    if (!equals || n >= sizeof path) {
        trn_fault_add(faults, "--set", 0, NULL, "`%s`: write PATH=VALUE", text);
        return TRN_E_INPUT;
    }
    memcpy(path, text, n);
    path[n] = '\0';
    return trn_machine_set(machine, path, equals + 1, "--set", faults);
}

trn_machine *cli_case_change(const cli_options *options, const trn_machine *base,
                             const char *const *scenarios, size_t count, cli_exit *code)
{
    trn_faults faults = {0};
    trn_machine *changed = trn_machine_copy(base);
    trn_status status = changed ? TRN_OK : TRN_E_MEMORY;
    for (size_t i = 0; status == TRN_OK && i < count; i++)
        status = trn_machine_scenario(changed, scenarios[i], &faults);
    for (size_t i = 0; status == TRN_OK && i < options->set.n; i++)
        status = set_one(changed, options->set.v[i], &faults);
    if (status == TRN_OK && (options->set.n > 0 || count > 0))
        status = trn_machine_link(changed, &faults);
    if (status != TRN_OK) {
        *code = cli_faults(status, &faults, NULL);
        trn_machine_free(changed);
        changed = NULL;
    }
    trn_faults_free(&faults);
    return changed;
}

trn_machine *cli_case(const cli_options *options, const char *folder, trn_machine **base,
                      cli_exit *code)
{
    *base = cli_case_read(folder, code);
    trn_machine *changed = *base ? cli_case_change(options, *base, options->scenario.v,
                                                   options->scenario.n, code)
                                 : NULL;
    if (!changed) {
        trn_machine_free(*base);
        *base = NULL;
    }
    return changed;
}

static bool one_case(const cli_options *options, const char *command)
{
    if (options->inputs.n == 1)
        return true;
    (void)fprintf(stderr, "trunnion %s: one case folder is expected, not %zu\n", command,
                  options->inputs.n);
    return false;
}

bool cli_outside_validity(const trn_view *view, const trn_results *results)
{
    for (size_t i = 0; i < view->rows(results); i++)
        for (size_t c = 0; c < view->field_count; c++)
            if (view->fields[c].kind == TRN_FIELD_REMARK) {
                const trn_remarks *remarks =
                    (const trn_remarks *)(const void *)((const char *)view->row(results, i) +
                                                        view->fields[c].offset);
                if (trn_remarks_outside(remarks))
                    return true;
            }
    return false;
}

/* csv: which of the views goes out as CSV. */
/* A command that shows part of the results of one case. */
typedef struct part {
    const char *command;
    unsigned wanted;
    const char *const *shown; /* views on a terminal */
    size_t shown_count, csv;  /* csv: the one of them that goes into a pipe */
    const char *const *files; /* views that --out writes */
    size_t file_count;
    trn_caution caution;
} part;

static cli_exit print_part(const cli_options *options, const part *p, const trn_results *results)
{
    trn_buffer out = {0};
    cli_exit code = CLI_DONE;
    for (size_t i = 0; i < p->shown_count; i++) {
        const trn_view *view = trn_view_find(p->shown[i]);
        if (options->as_csv) {
            if (i == p->csv)
                trn_view_csv(view, results, NULL, true, &out);
        } else {
            if (i)
                trn_buffer_add(&out, "\n");
            trn_view_table(view, results, TERMINAL_WIDTH, &out);
        }
        if (options->strict.n && cli_outside_validity(view, results))
            code = CLI_OUTSIDE;
    }
    cli_exit printed = cli_print(&out);
    if (!options->as_csv)
        cli_caution(options, p->caution);
    return printed != CLI_DONE ? printed : code;
}

static cli_exit show_results(const cli_options *options, const part *p,
                             const trn_machine *machine)
{
    trn_results *results = trn_results_new(machine);
    trn_status status = results ? trn_study_evaluate(machine, p->wanted, results, NULL)
                                : TRN_E_MEMORY;
    if (status == TRN_OK && options->out.n > 0)
        status = trn_study_extras(results);
    cli_exit code = CLI_FAILED;
    if (status != TRN_OK)
        (void)fprintf(stderr, "trunnion: %s\n", trn_status_text(status));
    else if (options->out.n > 0) {
        code = cli_write(options, results, p->files, p->file_count);
        for (size_t i = 0; i < p->shown_count && code == CLI_DONE; i++)
            if (options->strict.n && cli_outside_validity(trn_view_find(p->shown[i]), results))
                code = CLI_OUTSIDE;
    } else
        code = print_part(options, p, results);
    trn_results_free(results);
    return code;
}

static cli_exit show(const cli_options *options, const part *p)
{
    cli_exit code = CLI_DONE;
    trn_machine *base = NULL;
    if (!one_case(options, p->command))
        return CLI_MISUSE;
    if (options->out.n > 0)
        code = cli_refuse_case_folder(options->out.v[options->out.n - 1]);
    trn_machine *machine =
        code == CLI_DONE ? cli_case(options, options->inputs.v[0], &base, &code) : NULL;
    if (!machine)
        return code;
    code = options->working.n > 0 ? cli_working(options, machine, p->wanted)
                                  : show_results(options, p, machine);
    trn_machine_free(machine);
    trn_machine_free(base);
    return code;
}

void cli_caution(const cli_options *options, trn_caution caution)
{
    if (options->quiet.n == 0)
        (void)fprintf(stderr, "%s\n", trn_caution_line(caution));
}

#define COUNT(array) (sizeof(array) / sizeof(array)[0])

cli_exit cli_joints(const cli_options *options)
{
    static const char *const shown[] = {"fit", "joints"};
    static const char *const files[] = {"fit", "joints", "one_turn"};
    return show(options, &(part){"joints", TRN_WANT_JOINTS | TRN_WANT_FIT, shown, COUNT(shown), 1,
                                 files, COUNT(files), TRN_CAUTION_SHAFTS});
}

cli_exit cli_heat(const cli_options *options)
{
    static const char *const shown[] = {"heat"};
    static const char *const files[] = {"heat", "cooling", "warmup"};
    return show(options, &(part){"heat", TRN_WANT_JOINTS | TRN_WANT_HEAT, shown, COUNT(shown), 0,
                                 files, COUNT(files), TRN_CAUTION_OIL});
}

cli_exit cli_bearings(const cli_options *options)
{
    static const char *const shown[] = {"bearing_lives", "gearbox_life"};
    static const char *const files[] = {"bearing_lives", "gearbox_life", "gear_loads",
                                        "reactions"};
    return show(options,
                &(part){"bearings",
                        TRN_WANT_JOINTS | TRN_WANT_HEAT | TRN_WANT_LIVES | TRN_WANT_CONTACTS, shown,
                        COUNT(shown), 0, files, COUNT(files), TRN_CAUTION_ALL});
}
