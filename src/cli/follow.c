/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Results named by --show, and files into --out. */
#include "follow.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/extras.h>

static trn_status run(const trn_machine *machine, trn_results *results, void *context)
{
    cli_study *study = context;
    trn_faults faults = {0};
    trn_status status = trn_study_evaluate(machine, study->wanted, results, NULL);
    if (status == TRN_OK && study->plan.draws > 0)
        status = trn_study_draws(results, &study->plan, study->bands, &faults);
    if (status == TRN_OK && study->extras)
        status = trn_study_extras(results);
    trn_faults_free(&faults);
    for (size_t i = 0; status == TRN_OK && study->strict && i < study->strict->n; i++)
        study->outside =
            study->outside || cli_outside_validity(study->strict->list[i].view, results);
    return status;
}

trn_evaluation cli_evaluation(cli_study *study)
{
    return (trn_evaluation){run, study};
}

static cli_exit find(const trn_results *results, const char *command, const char *name,
                     trn_addresses *out)
{
    trn_buffer why = {0};
    trn_status status = trn_address_find(results, name, out, &why);
    if (status != TRN_OK)
        (void)fprintf(stderr, "trunnion %s: --show %s: %s\n", command, name,
                      why.text ? why.text : trn_status_text(status));
    trn_buffer_free(&why);
    return status == TRN_OK ? CLI_DONE : status == TRN_E_MEMORY ? CLI_FAILED : CLI_MISUSE;
}

cli_exit cli_follow(const trn_machine *machine, const char *command, const char *const *names,
                    size_t count, cli_followed *out)
{
    *out = (cli_followed){.study = {.wanted = TRN_WANT_JOINTS}};
    for (size_t i = 0; i < count; i++)
        out->study.wanted |= trn_address_wanted(names[i], &out->study.extras);
    trn_results *results = trn_results_new(machine);
    if (!results || run(machine, results, &out->study) != TRN_OK) {
        trn_results_free(results);
        return CLI_FAILED;
    }
    cli_exit code = CLI_DONE;
    for (size_t i = 0; i < count && code == CLI_DONE; i++)
        code = find(results, command, names[i], &out->addresses);
    trn_results_free(results);
    if (code == CLI_DONE && trn_address_spread(&out->addresses) != TRN_OK)
        code = CLI_FAILED;
    if (code == CLI_DONE && !(out->follow = calloc(out->addresses.n + 1, sizeof *out->follow)))
        code = CLI_FAILED;
    for (size_t i = 0; code == CLI_DONE && i < out->addresses.n; i++)
        out->follow[i] = trn_address_follow(&out->addresses.list[i]);
    return code;
}

/* Spread of a life, which only draws give. */
static bool is_band(const trn_address *a)
{
    const char *end = strrchr(a->field->name, '_');
    bool lives = strcmp(a->view->name, "gearbox_life") == 0 ||
                 strcmp(a->view->name, "bearing_lives") == 0;
    return !a->spread && lives && end &&
           (strcmp(end, "_low") == 0 || strcmp(end, "_high") == 0);
}

cli_exit cli_follow_drawn(const cli_options *options, size_t fallback, cli_followed *followed)
{
    cli_study *study = &followed->study;
    trn_draw_plan plan;
    cli_exit code = cli_draw_plan(options, fallback, &plan);
    bool intervals = (study->wanted & TRN_WANT_INTERVALS) != 0;
    if (code != CLI_DONE)
        return code;
    study->strict = options->strict.n > 0 ? &followed->addresses : NULL;
    for (size_t i = 0; i < followed->addresses.n; i++)
        study->bands = study->bands || is_band(&followed->addresses.list[i]);
    if (!intervals && !study->bands)
        return CLI_DONE;
    study->plan = plan;
    if (plan.draws > 0)
        study->wanted |= TRN_WANT_ALL;
    else if (options->quiet.n == 0)
        (void)fprintf(stderr, "at the medians: no margin for what is not known; --draws N adds "
                              "one\n");
    return CLI_DONE;
}

void cli_followed_free(cli_followed *followed)
{
    free(followed->follow);
    trn_addresses_free(&followed->addresses);
}
