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

/* One working; nothing is printed where one of them is refused. */
static cli_exit work(const cli_options *options, size_t i, const trn_results *results,
                     const trn_trace *trace, trn_buffer *out)
{
    const char *text = options->working.v[i];
    trn_working_place address;
    trn_buffer why = {0};
    trn_working *working = NULL;
    cli_exit code = CLI_DONE;
    trn_status status = trn_working_find(results, text, &address, &why);
    if (status == TRN_OK)
        status = trn_working_make(results, trace, &address, &working);
    if (status != TRN_OK) {
        code = refused(text, status, &why);
    } else if (options->as_csv) {
        trn_working_csv(working, trace, i == 0, out);
    } else {
        if (i > 0)
            trn_buffer_add(out, "\n");
        trn_working_text(working, trace, WIDTH, out);
    }
    trn_working_free(working);
    trn_buffer_free(&why);
    return code;
}

/* Intervals as the table shows them, with their draws; the steps are those of the medians, and
 * from the quantiles on those of the draws. */
static trn_results *evaluate(const cli_options *options, const trn_machine *machine,
                             unsigned wanted, trn_trace *trace, cli_exit *code)
{
    trn_results *results = trn_results_new(machine);
    if (!results) {
        (void)fprintf(stderr, "trunnion: out of memory\n");
        *code = CLI_FAILED;
        return NULL;
    }
    bool intervals = false;
    for (size_t i = 0; i < options->working.n; i++)
        intervals = intervals || (trn_working_wanted(options->working.v[i]) & TRN_WANT_INTERVALS);
    (void)trn_study_evaluate(machine, wanted, results, trace);
    if (!intervals)
        return results;
    trn_results *drawn = cli_evaluate_drawn(options, machine, false, code);
    if (drawn)
        trn_working_note_drawn(drawn, trace);
    trn_results_free(results);
    return drawn;
}

cli_exit cli_working(const cli_options *options, const trn_machine *machine, unsigned wanted)
{
    trn_trace trace = {0};
    trn_buffer out = {0};
    cli_exit code = CLI_DONE;
    for (size_t i = 0; i < options->working.n; i++)
        wanted |= trn_working_wanted(options->working.v[i]);
    trn_results *results = evaluate(options, machine, wanted, &trace, &code);
    for (size_t i = 0; code == CLI_DONE && i < options->working.n; i++)
        code = work(options, i, results, &trace, &out);
    if (code == CLI_DONE)
        code = cli_print(&out);
    else
        trn_buffer_free(&out);
    trn_trace_free(&trace);
    trn_results_free(results);
    return code;
}
