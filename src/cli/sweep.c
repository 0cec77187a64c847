/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `sweep`: quantities varied, results followed, places where a limit is crossed. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/csv_write.h>
#include <trunnion/sweep_plot.h>

#include "follow.h"
#include "outputs.h"

/* ---- tables --------------------------------------------------------------------------------- */

static void vary_header(const trn_vary *v, trn_buffer *out)
{
    trn_buffer_add(out, v->path);
    if (*v->unit)
        trn_buffer_print(out, " [%s]", v->unit);
}

static void header_cell(trn_csv_writer *csv, trn_buffer *name)
{
    trn_csv_text(csv, name->text);
    csv->out->failed = csv->out->failed || name->failed;
    trn_buffer_free(name);
}

/* A column that nobody asked for by its name and that is blank at every point. */
static bool idle(const trn_sweep *s, const trn_addresses *followed, size_t follow)
{
    if (!followed->list[follow].spread)
        return false;
    for (size_t p = 0; p < s->points; p++)
        if (!isnan(s->value[p * s->follows + follow]))
            return false;
    return true;
}

static void point_row(const trn_sweep *s, const trn_addresses *followed, size_t point,
                      trn_csv_writer *csv)
{
    size_t at[TRN_VARY_MAX];
    trn_sweep_place(s, point, at);
    for (size_t i = 0; i < s->vary_count; i++)
        trn_csv_number(csv, trn_vary_value(&s->vary[i], at[i]));
    for (size_t i = 0; i < s->follows; i++)
        if (!idle(s, followed, i))
            trn_csv_number(csv, s->value[point * s->follows + i]);
    trn_csv_text(csv, s->why[point] ? s->why[point] : s->note[point]);
    trn_csv_end(csv);
}

static void points_csv(const trn_sweep *s, const trn_addresses *followed, trn_buffer *out)
{
    trn_csv_writer csv = {.out = out};
    for (size_t i = 0; i < s->vary_count; i++) {
        trn_buffer name = {0};
        vary_header(&s->vary[i], &name);
        header_cell(&csv, &name);
    }
    for (size_t i = 0; i < s->follows; i++) {
        trn_buffer name = {0};
        if (idle(s, followed, i))
            continue;
        trn_address_text(&followed->list[i], true, &name);
        header_cell(&csv, &name);
    }
    trn_csv_word(&csv, "remark");
    trn_csv_end(&csv);
    for (size_t i = 0; i < s->points; i++)
        point_row(s, followed, i, &csv);
}

static const char *way(const trn_crossing *c)
{
    return c->above ? "rises above" : "falls below";
}

static void crossings_csv(const trn_sweep *s, const trn_addresses *followed, trn_buffer *out)
{
    trn_csv_writer csv = {.out = out};
    for (size_t i = 0; i < s->vary_count; i++) {
        trn_buffer name = {0};
        vary_header(&s->vary[i], &name);
        header_cell(&csv, &name);
    }
    static const char *const heads[] = {"result", "unit", "limit", "limit_value", "way", "remark"};
    for (size_t i = 0; i < sizeof heads / sizeof heads[0]; i++)
        trn_csv_word(&csv, heads[i]);
    trn_csv_end(&csv);
    for (size_t i = 0; i < s->crossings; i++) {
        const trn_crossing *c = &s->crossing[i];
        const trn_address *a = &followed->list[c->follow];
        trn_buffer name = {0};
        trn_csv_number(&csv, c->at);
        if (s->vary_count > 1)
            trn_csv_number(&csv, trn_vary_value(&s->vary[1], c->second));
        trn_address_text(a, false, &name);
        header_cell(&csv, &name);
        trn_csv_word(&csv, a->field->unit ? a->field->unit : "");
        trn_csv_word(&csv, c->bound);
        trn_csv_number(&csv, c->bound_value);
        trn_csv_word(&csv, way(c));
        trn_csv_word(&csv, c->jumps ? "in a step" : "");
        trn_csv_end(&csv);
    }
}

/* ---- for people ----------------------------------------------------------------------------- */

static void number_cell(trn_grid *grid, double value)
{
    char text[48];
    trn_number_for_people(value, 4, text, sizeof text);
    trn_grid_add(grid, text);
}

static void vary_cell(trn_grid *grid, double value)
{
    trn_buffer text = {0};
    trn_buffer_print(&text, "%.6g", value);
    trn_grid_add(grid, text.text ? text.text : "");
    trn_buffer_free(&text);
}

enum { COLUMNS_MAX = 12 }; /* results that fit a terminal */

/* Which results the table shows; how many are left for the CSV. */
static size_t choose(const trn_sweep *s, const trn_addresses *followed, size_t *shown,
                     size_t *left)
{
    size_t n = 0;
    *left = 0;
    for (size_t i = 0; i < s->follows; i++) {
        if (idle(s, followed, i))
            continue;
        if (n < COLUMNS_MAX)
            shown[n++] = i;
        else
            ++*left;
    }
    return n;
}

/* Columns are lettered: their addresses are too long for a heading. */
static void points_table(const trn_sweep *s, const trn_addresses *followed, trn_buffer *out)
{
    size_t shown[COLUMNS_MAX];
    bool right[COLUMNS_MAX + TRN_VARY_MAX];
    size_t left = 0;
    size_t n = choose(s, followed, shown, &left);
    trn_grid grid = {.columns = s->vary_count + n};
    for (size_t i = 0; i < grid.columns; i++) {
        char letter[2] = {"abcdefghijklmnopqrstuvwxyz"[i], '\0'};
        right[i] = true;
        trn_buffer_print(out, "  %s  ", letter);
        if (i < s->vary_count)
            vary_header(&s->vary[i], out);
        else
            trn_address_text(&followed->list[shown[i - s->vary_count]], true, out);
        trn_buffer_add(out, "\n");
        trn_grid_add(&grid, letter);
    }
    trn_buffer_add(out, "\n");
    for (size_t p = 0; p < s->points; p++) {
        size_t at[TRN_VARY_MAX];
        trn_sweep_place(s, p, at);
        for (size_t i = 0; i < s->vary_count; i++)
            vary_cell(&grid, trn_vary_value(&s->vary[i], at[i]));
        for (size_t i = 0; i < n; i++)
            number_cell(&grid, s->value[p * s->follows + shown[i]]);
    }
    trn_grid_print(&grid, right, out);
    if (left > 0)
        trn_buffer_print(out, "\n%zu further results with --csv\n", left);
    out->failed = out->failed || grid.failed;
    trn_grid_free(&grid);
}

static void talk(const trn_sweep *s, const trn_addresses *followed)
{
    trn_buffer text = {0};
    for (size_t i = 0; i < s->crossings; i++) {
        trn_crossing_text(s, followed, &s->crossing[i], &text);
        trn_buffer_add(&text, "\n");
    }
    size_t refused = 0;
    for (size_t i = 0; i < s->points; i++)
        refused += s->why[i] != NULL;
    if (refused > 0)
        trn_buffer_print(&text, "%zu of %zu points could not be evaluated; the remark says why\n",
                         refused, s->points);
    if (text.text)
        (void)fputs(text.text, stderr);
    trn_buffer_free(&text);
}

/* ---- command -------------------------------------------------------------------------------- */

static cli_exit read_vary(const cli_options *options, trn_vary vary[TRN_VARY_MAX])
{
    trn_buffer why = {0};
    if (options->vary.n < 1 || options->vary.n > TRN_VARY_MAX || options->show.n < 1) {
        (void)fprintf(stderr, "trunnion sweep: --vary PATH=from:to:steps once or twice, and at "
                              "least one --show RESULT are expected\n");
        return CLI_MISUSE;
    }
    for (size_t i = 0; i < options->vary.n; i++)
        if (trn_vary_read(options->vary.v[i], &vary[i], &why) != TRN_OK) {
            (void)fprintf(stderr, "trunnion sweep: --vary %s\n", why.text ? why.text : "");
            trn_buffer_free(&why);
            return CLI_MISUSE;
        }
    return CLI_DONE;
}

static cli_exit check_vary(const trn_machine *machine, trn_vary *vary, size_t count)
{
    trn_buffer why = {0};
    for (size_t i = 0; i < count; i++)
        if (trn_vary_check(machine, &vary[i], &why) != TRN_OK) {
            (void)fprintf(stderr, "--vary: %s: %s\n", vary[i].path, why.text ? why.text : "");
            trn_buffer_free(&why);
            return CLI_INPUT;
        }
    return CLI_DONE;
}

enum { PICTURES_MAX = 12 };

static cli_exit give_files(const cli_options *options, const trn_sweep *s,
                           const trn_addresses *followed)
{
    cli_outputs files = {0};
    trn_buffer text = {0};
    points_csv(s, followed, &text);
    cli_outputs_take(&files, "sweep.csv", &text);
    crossings_csv(s, followed, &text);
    cli_outputs_take(&files, "crossings.csv", &text);
    for (size_t i = 0; i < s->follows && i < PICTURES_MAX; i++) {
        trn_buffer script = {0};
        trn_buffer finding = {0};
        char name[32];
        (void)snprintf(name, sizeof name, "sweep-%02zu", i + 1);
        trn_status built = trn_plot_sweep(s, followed, i, &script, &finding);
        cli_outputs_picture(&files, name, built, &script, &finding);
    }
    return cli_outputs_write(options, &files);
}

static cli_exit give(const cli_options *options, const trn_sweep *s,
                     const trn_addresses *followed)
{
    cli_exit code = CLI_DONE;
    if (options->out.n > 0) {
        code = give_files(options, s, followed);
    } else {
        trn_buffer out = {0};
        if (options->as_csv)
            points_csv(s, followed, &out);
        else
            points_table(s, followed, &out);
        code = cli_print(&out);
    }
    if (options->quiet.n == 0)
        talk(s, followed);
    if (!options->as_csv && options->out.n == 0)
        cli_caution(options, TRN_CAUTION_ALL);
    return code;
}

/* Every point refused: the first reason is the fault. */
static cli_exit all_refused(const trn_sweep *s)
{
    for (size_t i = 0; i < s->points; i++)
        if (!s->why[i])
            return CLI_DONE;
    (void)fprintf(stderr, "trunnion sweep: no point could be evaluated: %s\n", s->why[0]);
    return CLI_INPUT;
}

static cli_exit run_sweep(const cli_options *options, const trn_machine *machine,
                          const trn_vary *vary)
{
    cli_followed followed;
    trn_sweep *sweep = NULL;
    cli_exit code = cli_follow(machine, "sweep", options->show.v, options->show.n, &followed);
    if (code == CLI_DONE)
        code = cli_follow_drawn(options, 0, &followed);
    if (code == CLI_DONE) {
        trn_status status =
            trn_sweep_run(machine, vary, options->vary.n, followed.follow, followed.addresses.n,
                          cli_evaluation(&followed.study), &sweep);
        if (status == TRN_E_USAGE)
            (void)fprintf(stderr, "trunnion sweep: more than %d points\n", TRN_SWEEP_POINTS_MAX);
        else if (status != TRN_OK)
            (void)fprintf(stderr, "trunnion sweep: %s\n", trn_status_text(status));
        code = status == TRN_OK ? CLI_DONE : status == TRN_E_USAGE ? CLI_MISUSE : CLI_FAILED;
    }
    if (code == CLI_DONE)
        code = all_refused(sweep);
    if (code == CLI_DONE)
        code = give(options, sweep, &followed.addresses);
    if (code == CLI_DONE && followed.study.outside)
        code = CLI_OUTSIDE;
    trn_sweep_free(sweep);
    cli_followed_free(&followed);
    return code;
}

cli_exit cli_sweep(const cli_options *options)
{
    trn_vary vary[TRN_VARY_MAX];
    if (options->inputs.n != 1) {
        (void)fprintf(stderr, "trunnion sweep: one case folder is expected, not %zu\n",
                      options->inputs.n);
        return CLI_MISUSE;
    }
    cli_exit code = read_vary(options, vary);
    if (code != CLI_DONE)
        return code;
    trn_machine *base = NULL;
    trn_machine *machine = cli_case(options, options->inputs.v[0], &base, &code);
    if (machine)
        code = check_vary(machine, vary, options->vary.n);
    if (machine && code == CLI_DONE)
        code = run_sweep(options, machine, vary);
    trn_machine_free(machine);
    trn_machine_free(base);
    return code;
}
