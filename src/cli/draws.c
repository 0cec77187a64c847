/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The whole evaluation with the draws that the options ask for. */
#include <math.h>
#include <stdio.h>
#include <time.h>
#include <trunnion/draws.h>
#include <trunnion/extras.h>
#include <trunnion/ledger.h>
#include <unistd.h>

#include "cli.h"

/* A whole number of an option; false where the last of them is none. */
static bool whole(const cli_texts *texts, const char *name, double most, double fallback,
                  double *value)
{
    *value = fallback;
    if (texts->n == 0)
        return true;
    const char *text = texts->v[texts->n - 1];
    if (trn_text_number(text, value) == TRN_OK && *value >= 0 && *value <= most &&
        *value == floor(*value))
        return true;
    (void)fprintf(stderr, "trunnion: --%s %s: a whole number from 0 to %.0f is expected\n", name,
                  text, most);
    return false;
}

typedef struct clock_face {
    struct timespec begun, told;
    bool shown;
} clock_face;

static double since(const struct timespec *then, const struct timespec *now)
{
    return (double)(now->tv_sec - then->tv_sec) + 1e-9 * (double)(now->tv_nsec - then->tv_nsec);
}

/* At most ten times a second, and only of what takes longer than half a second. */
static void tell(void *context, double done)
{
    clock_face *face = context;
    struct timespec now;
    if (clock_gettime(CLOCK_MONOTONIC, &now) != 0 || since(&face->begun, &now) < 0.5 ||
        since(&face->told, &now) < 0.1)
        return;
    face->told = now;
    face->shown = true;
    (void)fprintf(stderr, "\rdraws %3.0f %%", 100 * done);
    (void)fflush(stderr);
}

cli_exit cli_draw_plan(const cli_options *options, size_t fallback, trn_draw_plan *plan)
{
    double draws = 0;
    double seed = 0;
    double jobs = 0;
    if (!whole(&options->draws, "draws", TRN_DRAWS_MOST, (double)fallback, &draws) ||
        !whole(&options->seed, "seed", 0x1p53, 1, &seed) ||
        !whole(&options->jobs, "jobs", 64, 0, &jobs))
        return CLI_MISUSE;
    *plan = (trn_draw_plan){.draws = (size_t)draws, .seed = (uint64_t)seed,
                            .jobs = (unsigned)jobs, .plain = options->plain.n > 0};
    return CLI_DONE;
}

static trn_status draw(const cli_options *options, trn_results *results, trn_draw_plan *plan,
                       bool bands, trn_faults *faults)
{
    clock_face face = {.shown = false};
    if (plan->draws == 0)
        return TRN_OK;
    if (options->quiet.n == 0 && isatty(STDERR_FILENO) &&
        clock_gettime(CLOCK_MONOTONIC, &face.begun) == 0) {
        face.told = face.begun;
        plan->progress = tell;
        plan->context = &face;
    }
    trn_status status = trn_study_draws(results, plan, bands, faults);
    if (face.shown)
        (void)fprintf(stderr, "\r            \r");
    if (status == TRN_OK && options->quiet.n == 0 && results->draws->notes.length > 0)
        (void)fprintf(stderr, "%s", results->draws->notes.text);
    return status;
}

trn_results *cli_evaluate_drawn(const cli_options *options, const trn_machine *machine,
                                bool extras, cli_exit *code)
{
    trn_draw_plan plan;
    trn_faults faults = {0};
    *code = cli_draw_plan(options, TRN_DRAWS_DEFAULT, &plan);
    if (*code != CLI_DONE)
        return NULL;
    trn_results *results = trn_results_new(machine);
    trn_status status = results ? trn_study_evaluate(machine, TRN_WANT_ALL, results, NULL)
                                : TRN_E_MEMORY;
    if (status == TRN_OK)
        status = draw(options, results, &plan, extras, &faults);
    if (status == TRN_OK && extras)
        status = trn_study_extras(results);
    if (status == TRN_OK && (extras || options->choices.n > 0))
        status = trn_study_ledger(results);
    if (status != TRN_OK) {
        *code = cli_faults(status, &faults, NULL);
        trn_results_free(results);
        results = NULL;
    }
    trn_faults_free(&faults);
    return results;
}

trn_results *cli_evaluate(const trn_machine *machine, bool extras, cli_exit *code)
{
    static const cli_options medians = {.draws = {.v = {"0"}, .n = 1}};
    return cli_evaluate_drawn(&medians, machine, extras, code);
}
