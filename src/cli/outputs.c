/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "outputs.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <trunnion/plot.h>

static bool grow(cli_outputs *o)
{
    size_t room = o->capacity ? 2 * o->capacity : 16;
    cli_output *list = realloc(o->list, room * sizeof *list);
    if (!list)
        return false;
    o->list = list;
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
    cli_output *file = &o->list[o->n++];
    (void)snprintf(file->name, sizeof file->name, "%s", name);
    file->text = *text;
    *text = (trn_buffer){0};
}

trn_file cli_outputs_file(const cli_outputs *o, size_t i)
{
    const trn_buffer *text = &o->list[i].text;
    return (trn_file){o->list[i].name, text->text ? text->text : "", text->length};
}

/* ---- pictures ------------------------------------------------------------------------------- */

static const char *draw(cli_outputs *o, const char *name, const char *script, const char *format)
{
    trn_buffer picture = {0};
    trn_faults faults = {0};
    char file[64];
    const char *drawn = NULL;
    if (o->no_pictures)
        return NULL;
    trn_status status = trn_plot_run(script, format, &picture, &faults);
    (void)snprintf(file, sizeof file, "%s.%s", name, format);
    if (status == TRN_OK) {
        drawn = picture.text;
        cli_outputs_take(o, file, &picture);
    } else if (status == TRN_E_MISSING) {
        (void)fprintf(stderr, "no plots: gnuplot is not installed\n");
    } else {
        (void)cli_faults(status, &faults, NULL);
    }
    o->no_pictures = status == TRN_E_MISSING;
    o->failed = o->failed || status == TRN_E_MEMORY;
    trn_buffer_free(&picture);
    trn_faults_free(&faults);
    return o->failed ? NULL : drawn;
}

const char *cli_outputs_draw(cli_outputs *o, const char *name, const char *script)
{
    const char *svg = draw(o, name, script, "svg");
    (void)draw(o, name, script, "png");
    return svg;
}

void cli_outputs_picture(cli_outputs *o, const char *name, trn_status built, trn_buffer *script,
                         trn_buffer *finding)
{
    if (built == TRN_OK && script->text)
        (void)cli_outputs_draw(o, name, script->text);
    else if (built != TRN_E_UNKNOWN)
        o->failed = true;
    trn_buffer_free(script);
    trn_buffer_free(finding);
}

/* ---- writing -------------------------------------------------------------------------------- */

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
        files[i] = cli_outputs_file(o, i);
    if (code == CLI_DONE) {
        trn_status status = !files || o->failed ? TRN_E_MEMORY
                                                : write_undisturbed(folder, files, o->n, &faults);
        if (status != TRN_OK) {
            (void)cli_faults(status, &faults, NULL);
            if (faults.count == 0)
                (void)fprintf(stderr, "trunnion: %s\n", trn_status_text(status));
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
        trn_buffer_free(&o->list[i].text);
    free(o->list);
    *o = (cli_outputs){0};
}
