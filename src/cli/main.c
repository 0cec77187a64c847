/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The program: commands and dispatch. */
#include <gsl/gsl_errno.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <trunnion/constants.h>

#include "cli.h"

const cli_command cli_commands[] = {
    {"new", "DIR", "writes a starter case, every column explained, and a field sheet to print",
     "trunnion new mycase --for intervals", false,
     cli_new},
    {"check", "CASE", "reads a case, says what is wrong and what can be computed",
     "trunnion check sample-data/winged", true, cli_check},
    {"joints", "CASE", "shaft fit and joint effects", "trunnion joints sample-data/winged", true,
     cli_joints},
    {"heat", "CASE", "power losses and oil temperatures", "trunnion heat sample-data/winged",
     true, cli_heat},
    {"bearings", "CASE", "bearing loads and lives", "trunnion bearings sample-data/winged", true,
     cli_bearings},
    {"intervals", "CASE...", "the recommended interval table, with reasons",
     "trunnion intervals sample-data/winged", true, cli_intervals},
    {"review", "CASE", "explanations of a failure compared by what the hours say",
     "trunnion review tests/cases/failed", true, cli_review},
    {"report", "CASE --out DIR", "all results as CSV and plots",
     "trunnion report sample-data/winged --out results", true, cli_report},
    {"sweep", "CASE --vary PATH=from:to:steps", "one or two quantities varied, results followed",
     "trunnion sweep sample-data/winged --vary 'gearboxes.*.area=0.2:0.5:6' "
     "--show 'heat.dry grass.splitter.oil_temperature'",
     true, cli_sweep},
    {"compare", "CASE --scenario NAME", "the case and its scenarios side by side",
     "trunnion compare sample-data/winged --scenario overspeed --scenario 'lighter duty'", true,
     cli_compare},
    {"digest", "LOG...", "machine logs of any length to duty rows and a histogram",
     "trunnion digest sample-data/logs/mulcher_monday.csv --out results", false, cli_digest},
    {"lives", "FILE", "Weibull analysis of a lives table",
     "trunnion lives tests/published/lives/ball_bearings.csv --slope 1.5", false, cli_lives},
    {"samples", "FILE|CASE", "wear, dirt and resets from oil samples",
     "trunnion samples tests/published/samples/three_fills.csv --oil-volume 2.5", false,
     cli_samples},
    {"spectrum", "FILE", "cycles, torque levels and damage of a torque record",
     "trunnion spectrum tests/published/rainflow/pto_torque.csv --step 100", false, cli_spectrum},
    {"formula", "[NAME [symbol=value...]]", "the formula catalogue",
     "trunnion formula joint.fluctuation beta=15deg n=540rpm", false, cli_formula},
    {"prove", "[FILE...]", "replays published check values", "trunnion prove", false, cli_prove},
};
const size_t cli_command_count = sizeof cli_commands / sizeof cli_commands[0];

const cli_command *cli_command_find(const char *name)
{
    for (size_t i = 0; i < cli_command_count; i++)
        if (strcmp(cli_commands[i].name, name) == 0)
            return &cli_commands[i];
    return NULL;
}

cli_exit cli_print(trn_buffer *text)
{
    cli_exit code = CLI_DONE;
    if (text->failed) {
        (void)fprintf(stderr, "trunnion: out of memory\n");
        code = CLI_FAILED;
    } else if (text->length > 0 && (fwrite(text->text, 1, text->length, stdout) != text->length ||
                                    fflush(stdout) != 0)) {
        perror("trunnion: standard output");
        code = CLI_FAILED;
    }
    trn_buffer_free(text);
    return code;
}

cli_exit cli_faults(trn_status status, const trn_faults *faults, const char *lead)
{
    for (size_t i = 0; i < faults->kept; i++) {
        trn_buffer text = {0};
        trn_fault_text(&faults->list[i], &text);
        (void)fprintf(stderr, "%s%s%s\n", lead ? lead : "", lead ? "/" : "",
                      text.text ? text.text : "");
        trn_buffer_free(&text);
    }
    if (faults->count > faults->kept)
        (void)fprintf(stderr, "and %zu more\n", faults->count - faults->kept);
    return status == TRN_E_MEMORY || status == TRN_E_CONVERGE ? CLI_FAILED : CLI_INPUT;
}

static cli_exit version(void)
{
    trn_buffer out = {0};
    trn_buffer_print(&out, "trunnion %s\n", TRN_VERSION);
    return cli_print(&out);
}

/* Values compared with the print, before anything is computed. */
static cli_exit take_constants(const cli_options *options)
{
    cli_exit code = CLI_DONE;
    for (size_t i = 0; i < options->constants.n && code == CLI_DONE; i++) {
        trn_faults faults = {0};
        size_t taken = 0;
        size_t changed = 0;
        if (options->constants.v[i][0] == '\0')
            continue;
        trn_status status =
            trn_constants_read(options->constants.v[i], &faults, &taken, &changed);
        if (status != TRN_OK)
            code = cli_faults(status, &faults, NULL);
        else if (options->quiet.n == 0)
            (void)fprintf(stderr, "%s: %zu constants compared with the print, %zu of them changed\n",
                          options->constants.v[i], taken, changed);
        trn_faults_free(&faults);
    }
    return code;
}

static int run(int argc, char **argv)
{
    if (argc < 2 || strcmp(argv[1], "--help") == 0 || strcmp(argv[1], "-h") == 0) {
        cli_exit code = cli_help();
        return argc < 2 ? (int)CLI_MISUSE : (int)code;
    }
    if (strcmp(argv[1], "--version") == 0)
        return (int)version();
    if (strcmp(argv[1], "--make-manual-page") == 0) /* of `make docs`, in no help */
        return (int)cli_manual_page();
    if (strcmp(argv[1], "--make-completion") == 0)
        return (int)cli_completion();
    const cli_command *command = cli_command_find(argv[1]);
    if (!command) {
        (void)fprintf(stderr, "trunnion: there is no command `%s`; see `trunnion --help`\n",
                      argv[1]);
        return CLI_MISUSE;
    }
    cli_options *options = calloc(1, sizeof *options);
    if (!options)
        return CLI_FAILED;
    options->words = argv + 1;
    options->word_count = argc - 1;
    cli_exit code = cli_parse(command, argc - 2, argv + 2, options);
    if (code == CLI_DONE && options->help.n > 0)
        code = cli_help_command(command);
    else if (code == CLI_DONE && options->version.n > 0)
        code = version();
    else if (code == CLI_DONE && (code = take_constants(options)) == CLI_DONE)
        code = command->run(options);
    free(options);
    return (int)code;
}

int main(int argc, char **argv)
{
    (void)signal(SIGPIPE, SIG_IGN); /* a closed pipe is a failed write, said as such */
    (void)gsl_set_error_handler_off();
    int code = run(argc, argv);
    if (fclose(stdout) != 0 && code == CLI_DONE)
        code = CLI_FAILED;
    trn_unit_finish();
    return code;
}
