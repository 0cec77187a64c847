/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `digest`: machine logs to duty rows and a histogram; parts merged. */
#include <stdio.h>
#include <string.h>
#include <trunnion/digest.h>
#include <trunnion/plot.h>

#include "outputs.h"

enum { TERMINAL_WIDTH = 100 };

static cli_exit misuse(const char *why)
{
    (void)fprintf(stderr, "trunnion digest: %s\n", why);
    return CLI_MISUSE;
}

/* ---- settings ------------------------------------------------------------------------------ */

/* `torque=Tq`: the heading under which a log has a channel. */
static cli_exit take_name(trn_log_names *names, const char *text)
{
    const char *equals = strchr(text, '=');
    size_t n = equals ? (size_t)(equals - text) : 0;
    for (size_t c = 0; equals && c < TRN_LOG_CHANNEL_COUNT + 2; c++) {
        const char *name = c == TRN_LOG_TIME       ? "time"
                           : c == TRN_LOG_POSITION ? "position"
                                                   : trn_log_channel_name((trn_log_channel)c);
        if (strlen(name) == n && memcmp(name, text, n) == 0 && equals[1] != '\0') {
            names->heading[c] = equals + 1;
            return CLI_DONE;
        }
    }
    (void)fprintf(stderr, "trunnion digest: --column %s: write NAME=HEADING, as torque=Tq; names: "
                          "time position", text);
    for (size_t c = 0; c < TRN_LOG_CHANNEL_COUNT; c++)
        (void)fprintf(stderr, " %s", trn_log_channel_name((trn_log_channel)c));
    (void)fprintf(stderr, "\n");
    return CLI_MISUSE;
}

/* Options that say how a log is read; with --merge the parts say it. */
static cli_exit settings_of(const cli_options *o, trn_digest_settings *s, bool *given)
{
    const struct {
        const char *option, *unit, *range;
        const cli_texts *texts;
        double *to;
    } list[] = {
#define TRN_X(member, name, unit, range) {name, unit, range, &o->digest_##member, &s->member},
        TRN_DIGEST_SETTINGS(TRN_X)
#undef TRN_X
    };
    cli_exit code = CLI_DONE;
    double count = 0;
    double jobs = 0;
    trn_digest_defaults(s);
    for (size_t i = 0; i < sizeof list / sizeof list[0] && code == CLI_DONE; i++) {
        *given = *given || list[i].texts->n > 0;
        code = cli_number("digest", list[i].option, list[i].texts, list[i].unit, list[i].range,
                          list[i].to);
    }
    for (size_t i = 0; i < o->column.n && code == CLI_DONE; i++)
        code = take_name(&s->names, o->column.v[i]);
    if (code == CLI_DONE)
        code = cli_number("digest", "skip-bad", &o->skip_bad, "", "[0,1e15]", &count);
    if (code == CLI_DONE)
        code = cli_number("digest", "jobs", &o->jobs, "", "[0,64]", &jobs);
    s->skip_bad = (size_t)count;
    s->jobs = (unsigned)jobs;
    s->rainflow = o->rainflow.n > 0;
    *given = *given || s->rainflow || o->column.n > 0 || o->skip_bad.n > 0;
    return code;
}

/* ---- reading ------------------------------------------------------------------------------- */

static trn_status merge_parts(const cli_options *o, trn_faults *faults, trn_digest **out)
{
    trn_status status = TRN_OK;
    *out = NULL;
    for (size_t i = 0; i < o->inputs.n && status == TRN_OK; i++) {
        trn_digest *part = NULL;
        status = trn_digest_part_read(o->inputs.v[i], faults, &part);
        if (status == TRN_OK && !*out) {
            *out = part;
            part = NULL;
        } else if (status == TRN_OK) {
            status = trn_digest_merge(*out, part, o->inputs.v[i], faults);
        }
        trn_digest_free(part);
    }
    return status;
}

/* ---- writing ------------------------------------------------------------------------------- */

/* The columns of a table that needs memory of its own. */
static void take(cli_outputs *files, const char *name, trn_status made, trn_buffer *text)
{
    text->failed = text->failed || made != TRN_OK;
    cli_outputs_take(files, name, text);
}

static cli_exit write_files(const cli_options *o, const trn_digest *d)
{
    cli_outputs files = {0};
    trn_buffer text = {0};
    take(&files, "duty.csv", trn_digest_duty_csv(d, &text), &text);
    take(&files, "histogram.csv", trn_digest_histogram_csv(d, &text), &text);
    trn_digest_quality_csv(d, &text);
    cli_outputs_take(&files, "quality.csv", &text);
    trn_digest_part_csv(d, &text);
    cli_outputs_take(&files, "part.csv", &text);
    if (trn_digest_settings_of(d)->rainflow)
        take(&files, "rainflow.csv", trn_digest_rainflow_csv(d, &text), &text);
    if (o->no_plot.n == 0) {
        trn_buffer script = {0};
        trn_buffer finding = {0};
        trn_status built = trn_plot_digest(d, &script, &finding);
        cli_outputs_picture(&files, "histogram", built, &script, &finding);
    }
    return cli_outputs_write(o, &files);
}

static cli_exit show(const cli_options *o, const trn_digest *d)
{
    trn_buffer out = {0};
    trn_status status = o->as_csv ? trn_digest_duty_csv(d, &out)
                                  : trn_digest_text(d, TERMINAL_WIDTH, &out);
    if (status < 0)
        out.failed = true;
    cli_exit code = cli_print(&out);
    if (!o->as_csv)
        cli_caution(o, TRN_CAUTION_ALL);
    return code;
}

cli_exit cli_digest(const cli_options *o)
{
    trn_digest_settings settings;
    bool given = false;
    bool merge = o->merge.n > 0;
    if (o->inputs.n == 0)
        return misuse(merge ? "parts are expected (folders or files part.csv)"
                            : "a log is expected");
    cli_exit code = settings_of(o, &settings, &given);
    if (code == CLI_DONE && merge && given)
        return misuse("--merge: the parts say how they were read; only --out goes with it");
    if (code == CLI_DONE && o->out.n > 0)
        code = cli_refuse_case_folder(o->out.v[o->out.n - 1]);
    if (code != CLI_DONE)
        return code;
    trn_faults faults = {0};
    trn_digest *d = NULL;
    trn_status status = merge ? merge_parts(o, &faults, &d)
                              : trn_digest_logs(o->inputs.v, o->inputs.n, &settings, &faults, &d);
    if (status < 0) {
        if (faults.count == 0)
            trn_fault_add(&faults, o->inputs.v[0], 0, NULL, "%s", trn_status_text(status));
        code = cli_faults(status, &faults, NULL);
    } else {
        code = o->out.n > 0 ? write_files(o, d) : show(o, d);
        if (o->quiet.n == 0) {
            trn_buffer notes = {0};
            trn_digest_notes(d, &notes);
            (void)fputs(notes.text ? notes.text : "", stderr);
            trn_buffer_free(&notes);
        }
    }
    trn_digest_free(d);
    trn_faults_free(&faults);
    return code;
}
