/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "outputs.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <trunnion/file.h>
#include <trunnion/plot.h>

static bool grow(cli_outputs *o)
{
    size_t room = o->capacity ? 2 * o->capacity : 16;
    trn_buffer *texts = realloc(o->texts, room * sizeof *texts);
    if (texts)
        o->texts = texts;
    char(*names)[48] = texts ? realloc(o->names, room * sizeof *names) : NULL;
    if (!names)
        return false;
    o->names = names;
    o->capacity = room;
    return true;
}

void cli_outputs_take(cli_outputs *o, const char *name, trn_buffer *text)
{
    if (text->failed || (o->n == o->capacity && !grow(o))) {
        o->failed = true;
        trn_buffer_free(text);
        return;
    }
    (void)snprintf(o->names[o->n], sizeof o->names[o->n], "%s", name);
    o->texts[o->n++] = *text;
    *text = (trn_buffer){0};
}

static void add_format(cli_outputs *o, const char *name, const char *script, const char *format)
{
    trn_buffer picture = {0};
    trn_faults faults = {0};
    char file[48];
    if (o->no_pictures)
        return;
    trn_status status = trn_plot_run(script, format, &picture, &faults);
    (void)snprintf(file, sizeof file, "%s.%s", name, format);
    if (status == TRN_OK)
        cli_outputs_take(o, file, &picture);
    else if (status == TRN_E_MISSING)
        (void)fprintf(stderr, "no plots: gnuplot is not installed\n");
    else
        (void)cli_faults(status, &faults, NULL);
    o->no_pictures = status == TRN_E_MISSING;
    o->failed = o->failed || (status != TRN_OK && status != TRN_E_MISSING);
    trn_buffer_free(&picture);
    trn_faults_free(&faults);
}

void cli_outputs_picture(cli_outputs *o, const char *name, trn_status built, trn_buffer *script,
                         trn_buffer *finding)
{
    if (built == TRN_OK && script->text) {
        add_format(o, name, script->text, "svg");
        add_format(o, name, script->text, "png");
    } else if (built != TRN_E_UNKNOWN) {
        o->failed = true;
    }
    trn_buffer_free(script);
    trn_buffer_free(finding);
}

/* An interrupt waits until the files stand: all of the old ones or all of the new. */
static trn_status write_undisturbed(const char *folder, const trn_file *files, size_t n,
                                    trn_faults *faults)
{
    sigset_t stop;
    sigset_t before;
    (void)sigemptyset(&stop);
    (void)sigaddset(&stop, SIGINT);
    (void)sigaddset(&stop, SIGTERM);
    (void)sigprocmask(SIG_BLOCK, &stop, &before);
    trn_status status = trn_files_write(folder, files, n, faults);
    (void)sigprocmask(SIG_SETMASK, &before, NULL);
    return status;
}

cli_exit cli_outputs_write(const cli_options *options, cli_outputs *o)
{
    const char *folder = options->out.v[options->out.n - 1];
    trn_faults faults = {0};
    cli_exit code = cli_refuse_case_folder(folder);
    trn_file *files = calloc(o->n + 1, sizeof *files);
    for (size_t i = 0; files && i < o->n; i++)
        files[i] = (trn_file){o->names[i], o->texts[i].text ? o->texts[i].text : "",
                              o->texts[i].length};
    if (code == CLI_DONE) {
        trn_status status = !files || o->failed ? TRN_E_MEMORY : trn_folder_make(folder, &faults);
        if (status == TRN_OK)
            status = write_undisturbed(folder, files, o->n, &faults);
        if (status != TRN_OK) {
            (void)cli_faults(status, &faults, NULL);
            code = CLI_FAILED;
        } else if (options->quiet.n == 0) {
            (void)fprintf(stderr, "%zu files in %s\n", o->n, folder);
        }
    }
    free(files);
    trn_faults_free(&faults);
    cli_outputs_free(o);
    return code;
}

void cli_outputs_free(cli_outputs *o)
{
    for (size_t i = 0; i < o->n; i++)
        trn_buffer_free(&o->texts[i]);
    free(o->texts);
    free(o->names);
    *o = (cli_outputs){0};
}
