/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `samples`: rates from oil samples, of a table or of a case. */
#include <math.h>
#include <stdio.h>
#include <sys/stat.h>
#include <trunnion/samples_table.h>

#include "outputs.h"

enum { TERMINAL_WIDTH = 100 };

static bool is_folder(const char *path)
{
    struct stat info;
    return stat(path, &info) == 0 && S_ISDIR(info.st_mode);
}

static cli_exit settings_of(const cli_options *options, trn_samples_settings *settings)
{
    double volume_l = NAN;
    double residual_pct = NAN;
    cli_exit code =
        cli_number("samples", "oil-volume", &options->oil_volume, "L", "(0,inf)", &volume_l);
    if (code == CLI_DONE)
        code = cli_number("samples", "residual-oil", &options->residual_oil, "%", "[0,100)",
                          &residual_pct);
    trn_samples_settings_default(settings);
    settings->oil_volume = volume_l / 1000;
    settings->residual = residual_pct / 100;
    return code;
}

static trn_status make(const cli_options *options, trn_samples_settings *settings,
                       trn_faults *faults, trn_machine **machine, trn_samples_table *table)
{
    const char *path = options->inputs.v[0];
    bool whole = is_folder(path);
    trn_status status = TRN_OK;
    *machine = NULL;
    if (options->limits.n > 0)
        status = trn_samples_limits_read(options->limits.v[options->limits.n - 1], faults,
                                         settings);
    if (status == TRN_OK)
        status = whole ? trn_machine_read(path, faults, machine)
                       : trn_machine_read_table(path, "samples", faults, machine);
    if (status != TRN_OK)
        return status;
    if (whole) {
        settings->gearboxes = (*machine)->gearboxes;
        settings->gearbox_count = (*machine)->gearboxes_count;
    }
    return trn_samples_table_make((*machine)->samples, (*machine)->samples_count,
                                  whole ? "samples.csv" : path, settings, faults, table);
}

enum { PICTURES_MAX = 32 };

static cli_exit write_files(const cli_options *options, const trn_samples_table *table)
{
    cli_outputs files = {0};
    trn_buffer text = {0};
    const char *gearbox = NULL;
    trn_samples_csv(table, &text);
    cli_outputs_take(&files, "sample_rates.csv", &text);
    trn_samples_points_csv(table, &text);
    cli_outputs_take(&files, "sample_readings.csv", &text);
    for (size_t i = 0; i < PICTURES_MAX && (gearbox = trn_samples_gearbox(table, i)); i++) {
        char name[32];
        trn_buffer script = {0};
        trn_buffer finding = {0};
        trn_status built = trn_plot_samples(table, gearbox, &script, &finding);
        (void)snprintf(name, sizeof name, "samples-%02zu", i + 1);
        cli_outputs_picture(&files, name, built, &script, &finding);
    }
    return cli_outputs_write(options, &files);
}

static cli_exit give(const cli_options *options, const trn_samples_table *table)
{
    cli_exit code = CLI_DONE;
    if (options->out.n > 0) {
        code = write_files(options, table);
    } else {
        trn_buffer out = {0};
        if (options->as_csv)
            trn_samples_csv(table, &out);
        else
            trn_samples_text(table, TERMINAL_WIDTH, &out);
        code = cli_print(&out);
    }
    if (!options->as_csv || options->out.n > 0) {
        cli_caution(options, TRN_CAUTION_OIL);
        cli_caution(options, TRN_CAUTION_ALL);
    }
    return code;
}

cli_exit cli_samples(const cli_options *options)
{
    trn_samples_settings settings;
    if (options->inputs.n != 1) {
        (void)fprintf(stderr, "trunnion samples: one file is expected, not %zu\n",
                      options->inputs.n);
        return CLI_MISUSE;
    }
    cli_exit code = settings_of(options, &settings);
    if (code == CLI_DONE && options->out.n > 0)
        code = cli_refuse_case_folder(options->out.v[options->out.n - 1]);
    if (code != CLI_DONE)
        return code;
    trn_faults faults = {0};
    trn_machine *machine = NULL;
    trn_samples_table table = {0};
    trn_status status = make(options, &settings, &faults, &machine, &table);
    if (status < 0) {
        if (faults.count == 0)
            trn_fault_add(&faults, options->inputs.v[0], 0, NULL, "%s", trn_status_text(status));
        code = cli_faults(status, &faults, NULL);
    } else {
        code = give(options, &table);
    }
    trn_samples_table_free(&table);
    trn_machine_free(machine);
    trn_faults_free(&faults);
    return code;
}
