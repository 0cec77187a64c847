/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `compare`: the case and each scenario side by side, and what changed. */
#include <trunnion/compare.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/csv_write.h>

#include "follow.h"
#include "outputs.h"

/* A line of the comparison. */
typedef struct line {
    trn_buffer name;
    const char *unit; /* NULL: none */
} line;

typedef struct lines {
    line *line;
    trn_follow *follow;
    size_t n;
} lines;

/* A temperature has no zero from which a share could be taken. */
static bool has_share(const char *unit)
{
    return !unit || strcmp(unit, "degC") != 0;
}

/* ---- tables --------------------------------------------------------------------------------- */

static void table_csv(const trn_comparison *c, const lines *all,
                      const cli_texts *scenarios, trn_buffer *out)
{
    trn_csv_writer csv = {.out = out};
    trn_csv_word(&csv, "result");
    trn_csv_word(&csv, "unit");
    trn_csv_word(&csv, "case");
    for (size_t k = 0; k < scenarios->n; k++) {
        static const char *const after[] = {"", " change", " change [%]"};
        for (size_t i = 0; i < 3; i++) {
            trn_buffer name = {0};
            trn_buffer_print(&name, "%s%s", scenarios->v[k], after[i]);
            trn_csv_text(&csv, name.text);
            trn_buffer_free(&name);
        }
    }
    trn_csv_end(&csv);
    for (size_t i = 0; i < c->follows; i++) {
        const line *l = &all->line[i];
        const double *value = &c->value[i * c->columns];
        trn_csv_text(&csv, l->name.text);
        trn_csv_word(&csv, l->unit ? l->unit : "");
        trn_csv_number(&csv, value[0]);
        for (size_t k = 1; k < c->columns; k++) {
            trn_difference d = trn_difference_of(value[0], value[k]);
            trn_csv_number(&csv, value[k]);
            trn_csv_number(&csv, d.absolute);
            trn_csv_number(&csv, has_share(l->unit) ? d.percent : NAN);
        }
        trn_csv_end(&csv);
    }
}

static void value_cell(double base, double value, bool share, trn_grid *grid)
{
    char text[48];
    char change[48] = "";
    trn_difference d = trn_difference_of(base, value);
    trn_number_for_people(value, 3, text, sizeof text);
    trn_buffer cell = {0};
    trn_buffer_add(&cell, text);
    if (d.absolute == 0)
        trn_buffer_add(&cell, " =");
    else if (share && !isnan(d.percent))
        trn_buffer_print(&cell, fabs(d.percent) < 1 ? " (%+.1g %%)" : " (%+.0f %%)", d.percent);
    else if (!isnan(d.absolute)) {
        trn_number_for_people(d.absolute, 2, change, sizeof change);
        trn_buffer_print(&cell, " (%s%s)", d.absolute > 0 ? "+" : "", change);
    }
    trn_grid_add(grid, cell.text ? cell.text : "");
    trn_buffer_free(&cell);
}

static void table_people(const trn_comparison *c, const lines *all,
                         const cli_texts *scenarios, trn_buffer *out)
{
    bool *right = calloc(c->columns + 1, sizeof *right);
    trn_grid grid = {.columns = c->columns + 1};
    if (!right) {
        out->failed = true;
        return;
    }
    trn_grid_add(&grid, "result");
    trn_grid_add(&grid, "case");
    for (size_t k = 0; k < scenarios->n; k++)
        trn_grid_add(&grid, scenarios->v[k]);
    for (size_t k = 1; k <= c->columns; k++)
        right[k] = true;
    for (size_t i = 0; i < c->follows; i++) {
        const line *l = &all->line[i];
        const double *value = &c->value[i * c->columns];
        bool known = false;
        for (size_t k = 0; k < c->columns; k++)
            known = known || !isnan(value[k]);
        if (!known)
            continue;
        trn_buffer name = {0};
        char text[48];
        trn_buffer_print(&name, "%s%s%s%s", l->name.text, l->unit ? " [" : "",
                         l->unit ? l->unit : "", l->unit ? "]" : "");
        trn_grid_add(&grid, name.text ? name.text : "");
        trn_buffer_free(&name);
        trn_number_for_people(value[0], 3, text, sizeof text);
        trn_grid_add(&grid, text);
        for (size_t k = 1; k < c->columns; k++)
            value_cell(value[0], value[k], has_share(l->unit), &grid);
    }
    trn_grid_print(&grid, right, out);
    trn_buffer_add(out, "\nin brackets: change against the case; `=`: as in the case\n");
    out->failed = out->failed || grid.failed;
    trn_grid_free(&grid);
    free(right);
}

/* ---- command -------------------------------------------------------------------------------- */

static trn_status add_line(lines *all, trn_follow follow, const char *unit)
{
    line *grown = realloc(all->line, (all->n + 1) * sizeof *grown);
    if (grown)
        all->line = grown;
    trn_follow *follows = realloc(all->follow, (all->n + 1) * sizeof *follows);
    if (follows)
        all->follow = follows;
    if (!grown || !follows)
        return TRN_E_MEMORY;
    all->line[all->n] = (line){.unit = unit};
    all->follow[all->n++] = follow;
    return TRN_OK;
}

static void free_lines(lines *all)
{
    for (size_t i = 0; i < all->n; i++)
        trn_buffer_free(&all->line[i].name);
    free(all->line);
    free(all->follow);
}

/* Hottest oil of a gearbox over the conditions; self: its row in the case. */
static double hottest(const void *self, const trn_results *r)
{
    const trn_gearbox *box = self;
    const trn_machine *m = r->machine;
    double most = NAN;
    for (size_t i = 0; i < m->duty_count; i++) {
        const trn_heat_row *row =
            &r->heat[i * m->gearboxes_count + trn_find_gearbox(m, box->gearbox)];
        most = fmax(most, row->oil_temperature_c); /* the number, where one is NaN */
    }
    return most;
}

/* Where nothing is named: every point, box and shaft. */
static cli_exit usual(const trn_machine *m, cli_followed *followed)
{
    static const struct {
        const char *name;
        bool of_boxes;
    } results[] = {{"intervals.*.recommended", false},
                   {"gearbox_life.*.Lnmh", true},
                   {"gearbox_life.*.reliability_at_design_life", true},
                   {"fit.*.largest_angle_turning", false},
                   {"joints.all.*.life_in", false},
                   {"joints.all.*.life_out", false},
                   {"fit.*.clearance", false},
                   {"fit.*.overlap", false}};
    const char *names[sizeof results / sizeof results[0]];
    size_t n = 1;
    names[0] = results[0].name;
    for (size_t i = 1; i < sizeof results / sizeof results[0]; i++)
        if (results[i].of_boxes ? m->gearboxes_count > 0 : m->shafts_count > 0)
            names[n++] = results[i].name;
    return cli_follow(m, "compare", names, n, followed);
}

static cli_exit add_hottest(const trn_machine *m, cli_followed *followed, lines *all)
{
    followed->study.wanted |= TRN_WANT_HEAT;
    for (size_t i = 0; i < m->gearboxes_count; i++) {
        if (add_line(all, (trn_follow){&m->gearboxes[i], hottest, NULL, NULL}, "degC") != TRN_OK)
            return CLI_FAILED;
        trn_buffer_print(&all->line[all->n - 1].name, "hottest oil of %s",
                         m->gearboxes[i].gearbox);
    }
    return CLI_DONE;
}

static cli_exit gather(const cli_options *options, const trn_machine *m, cli_followed *followed,
                       lines *all)
{
    cli_exit code = options->show.n > 0 ? cli_follow(m, "compare", options->show.v,
                                                     options->show.n, followed)
                                        : usual(m, followed);
    for (size_t i = 0; i < followed->addresses.n && code == CLI_DONE; i++) {
        const trn_address *a = &followed->addresses.list[i];
        if (add_line(all, followed->follow[i], a->field->unit) != TRN_OK)
            return CLI_FAILED;
        trn_address_text(a, false, &all->line[all->n - 1].name);
    }
    if (code == CLI_DONE && options->show.n == 0)
        code = add_hottest(m, followed, all);
    for (size_t i = 0; i < all->n && code == CLI_DONE; i++)
        if (all->line[i].name.failed)
            code = CLI_FAILED;
    return code;
}

static cli_exit give(const cli_options *options, const trn_comparison *c, const lines *all)
{
    trn_buffer out = {0};
    if (options->out.n > 0) {
        cli_outputs files = {0};
        table_csv(c, all, &options->scenario, &out);
        cli_outputs_take(&files, "compare.csv", &out);
        return cli_outputs_write(options, &files);
    }
    if (options->as_csv)
        table_csv(c, all, &options->scenario, &out);
    else
        table_people(c, all, &options->scenario, &out);
    cli_exit code = cli_print(&out);
    if (!options->as_csv)
        cli_caution(options, TRN_CAUTION_ALL);
    return code;
}

static cli_exit run_compare(const cli_options *options, trn_machine *const *machines, size_t count)
{
    cli_followed followed = {.follow = NULL};
    lines all = {NULL, NULL, 0};
    trn_comparison *c = NULL;
    cli_exit code = gather(options, machines[0], &followed, &all);
    if (code == CLI_DONE)
        code = cli_follow_drawn(options, TRN_DRAWS_DEFAULT, &followed);
    if (code == CLI_DONE) {
        trn_status status = trn_compare_run(machines, count, all.follow, all.n,
                                            cli_evaluation(&followed.study), &c);
        if (status != TRN_OK)
            (void)fprintf(stderr, "trunnion compare: %s\n", trn_status_text(status));
        code = status == TRN_OK ? CLI_DONE : CLI_FAILED;
    }
    if (code == CLI_DONE)
        code = give(options, c, &all);
    if (code == CLI_DONE && followed.study.outside)
        code = CLI_OUTSIDE;
    trn_comparison_free(c);
    free_lines(&all);
    cli_followed_free(&followed);
    return code;
}

cli_exit cli_compare(const cli_options *options)
{
    if (options->inputs.n != 1 || options->scenario.n == 0) {
        (void)fprintf(stderr, "trunnion compare: one case folder and at least one --scenario NAME "
                              "are expected\n");
        return CLI_MISUSE;
    }
    cli_exit code = CLI_DONE;
    size_t count = options->scenario.n + 1;
    trn_machine *base = cli_case_read(options->inputs.v[0], &code);
    trn_machine **machines = base ? calloc(count, sizeof *machines) : NULL;
    if (base && !machines)
        code = CLI_FAILED;
    for (size_t i = 0; machines && i < count && code == CLI_DONE; i++)
        machines[i] = cli_case_change(options, base, i ? &options->scenario.v[i - 1] : NULL,
                                      i ? 1 : 0, &code);
    if (machines && code == CLI_DONE)
        code = run_compare(options, machines, count);
    for (size_t i = 0; machines && i < count; i++)
        trn_machine_free(machines[i]);
    free(machines);
    trn_machine_free(base);
    return code;
}
