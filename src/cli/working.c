/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `--working RESULT`: how a result came about. */
#include <stdio.h>

#include "cli.h"

enum { WIDTH = 100 };

static cli_exit refused(const char *text, trn_status status, const trn_buffer *why)
{
    (void)fprintf(stderr, "trunnion: --working %s: %s\n", text,
                  why->text ? why->text : trn_status_text(status));
    return status == TRN_E_USAGE ? CLI_MISUSE : status == TRN_E_INPUT ? CLI_INPUT : CLI_FAILED;
}

/* One working after another; nothing is printed where one of them is refused. */
static cli_exit work(const cli_options *options, const char *text, const trn_results *results,
                     const trn_trace *trace, trn_buffer *out)
{
    trn_working_place address;
    trn_buffer why = {0};
    trn_working *working = NULL;
    cli_exit code = CLI_DONE;
    trn_status status = trn_working_find(results, text, &address, &why);
    if (status == TRN_OK)
        status = trn_working_make(results, trace, &address, &working);
    if (status != TRN_OK)
        code = refused(text, status, &why);
    else if (options->as_csv)
        trn_working_csv(working, trace, out);
    else
        trn_working_text(working, trace, WIDTH, out);
    trn_working_free(working);
    trn_buffer_free(&why);
    return code;
}

cli_exit cli_working(const cli_options *options, const trn_machine *machine, unsigned wanted)
{
    for (size_t i = 0; i < options->working.n; i++)
        wanted |= trn_working_wanted(options->working.v[i]);
    trn_results *results = trn_results_new(machine);
    trn_trace trace = {0};
    trn_buffer out = {0};
    cli_exit code = CLI_DONE;
    if (!results) {
        (void)fprintf(stderr, "trunnion: out of memory\n");
        return CLI_FAILED;
    }
    (void)trn_study_evaluate(machine, wanted, results, &trace);
    for (size_t i = 0; code == CLI_DONE && i < options->working.n; i++) {
        if (i)
            trn_buffer_add(&out, "\n");
        code = work(options, options->working.v[i], results, &trace, &out);
    }
    if (code == CLI_DONE)
        code = cli_print(&out);
    else
        trn_buffer_free(&out);
    trn_trace_free(&trace);
    trn_results_free(results);
    return code;
}
