/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `spectrum`: what a torque record asks of shafts, bearings and teeth. */
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <trunnion/spectrum.h>

#include "outputs.h"

enum { TERMINAL_WIDTH = 100 };

typedef void (*table)(const trn_spectrum *spectrum, trn_buffer *out);

static const struct shown {
    const char *name, *file;
    table csv;
} tables[] = {
    {"cycles", "spectrum_cycles.csv", trn_spectrum_cycles_csv},
    {"levels", "spectrum_levels.csv", trn_spectrum_levels_csv},
    {"parts", "spectrum_parts.csv", trn_spectrum_parts_csv},
};
enum { TABLES = sizeof tables / sizeof tables[0] };

static cli_exit settings_of(const cli_options *o, trn_spectrum_settings *s)
{
    double bins = 0;
    trn_spectrum_settings_default(s);
    s->repeating = o->repeating.n > 0;
    if (o->step.n > 0 && o->bins.n > 0) {
        (void)fprintf(stderr, "trunnion spectrum: --step and --bins both set the width; give one\n");
        return CLI_MISUSE;
    }
    cli_exit code = cli_number("spectrum", "step", &o->step, "N.m", "(0,inf)", &s->step_nm);
    if (code == CLI_DONE)
        code = cli_number("spectrum", "bins", &o->bins, "", "[1,100000]", &bins);
    if (code == CLI_DONE)
        code = cli_number("spectrum", "gap", &o->record_gap, "s", "(0,inf)", &s->gap_s);
    if (code == CLI_DONE)
        code = cli_number("spectrum", "slope", &o->fatigue_slope, "", "(0,100]", &s->slope);
    if (code == CLI_DONE && floor(bins) < bins) {
        (void)fprintf(stderr, "trunnion spectrum: --bins %s: a whole number is expected\n",
                      o->bins.v[o->bins.n - 1]);
        return CLI_MISUSE;
    }
    s->bins = (size_t)bins;
    return code;
}

static const struct shown *table_of(const cli_options *o)
{
    const char *name = o->shown_table.n > 0 ? o->shown_table.v[o->shown_table.n - 1] : "cycles";
    for (size_t i = 0; i < TABLES; i++)
        if (strcmp(tables[i].name, name) == 0)
            return &tables[i];
    (void)fprintf(stderr, "trunnion spectrum: --show %s: cycles, levels or parts is expected\n",
                  name);
    return NULL;
}

static cli_exit write_files(const cli_options *options, const trn_spectrum *spectrum)
{
    cli_outputs files = {0};
    trn_buffer script = {0};
    trn_buffer finding = {0};
    for (size_t i = 0; i < TABLES; i++) {
        trn_buffer text = {0};
        tables[i].csv(spectrum, &text);
        cli_outputs_take(&files, tables[i].file, &text);
    }
    trn_status built = trn_plot_spectrum(spectrum, &script, &finding);
    cli_outputs_picture(&files, "spectrum", built, &script, &finding);
    return cli_outputs_write(options, &files);
}

static cli_exit give(const cli_options *options, const struct shown *shown,
                     const trn_spectrum *spectrum)
{
    trn_buffer out = {0};
    cli_exit code = CLI_DONE;
    if (options->out.n > 0) {
        code = write_files(options, spectrum);
    } else {
        if (options->as_csv)
            shown->csv(spectrum, &out);
        else
            trn_spectrum_text(spectrum, TERMINAL_WIDTH, &out);
        code = cli_print(&out);
    }
    if (options->as_csv || options->out.n > 0)
        for (size_t i = 0; i < spectrum->note_count && options->quiet.n == 0; i++)
            (void)fprintf(stderr, "trunnion spectrum: %s\n", spectrum->notes[i]);
    if (!options->as_csv || options->out.n > 0)
        cli_caution(options, TRN_CAUTION_ALL);
    return code;
}

static cli_exit evaluate(const cli_options *options, const struct shown *shown,
                         const trn_spectrum_settings *settings)
{
    trn_faults faults = {0};
    trn_record record = {.n = 0};
    trn_spectrum spectrum;
    const char *path = options->inputs.v[0];
    trn_status status = trn_record_read(path, &faults, &record);
    if (status == TRN_OK)
        status = trn_spectrum_make(&record, settings, &faults, &spectrum);
    cli_exit code = CLI_DONE;
    if (status == TRN_OK) {
        code = give(options, shown, &spectrum);
        trn_spectrum_free(&spectrum);
    } else {
        if (faults.count == 0)
            trn_fault_add(&faults, path, 0, NULL, "%s", trn_status_text(status));
        code = cli_faults(status, &faults, NULL);
    }
    trn_record_free(&record);
    trn_faults_free(&faults);
    return code;
}

cli_exit cli_spectrum(const cli_options *options)
{
    trn_spectrum_settings settings;
    if (options->inputs.n != 1) {
        (void)fprintf(stderr, "trunnion spectrum: one file is expected, not %zu\n",
                      options->inputs.n);
        return CLI_MISUSE;
    }
    cli_exit code = settings_of(options, &settings);
    const struct shown *shown = code == CLI_DONE ? table_of(options) : NULL;
    if (!shown)
        return CLI_MISUSE;
    if (options->out.n > 0)
        code = cli_refuse_case_folder(options->out.v[options->out.n - 1]);
    return code == CLI_DONE ? evaluate(options, shown, &settings) : code;
}
