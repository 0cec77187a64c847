/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The interval table for reading: four figures side by side, the reason under each row. */
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <trunnion/choices.h>
#include <trunnion/interval_rows.h>
#include <trunnion/present.h>
#include <trunnion/schema.h>

static void hours(double value, trn_grid *grid)
{
    char text[48];
    if (isinf(value))
        (void)snprintf(text, sizeof text, "never");
    else
        trn_number_for_people(value, 3, text, sizeof text);
    trn_grid_add(grid, text);
}

static void row_cells(const trn_results *r, const trn_point_row *row, trn_grid *grid)
{
    const trn_point *p = &r->machine->points[row->point];
    char number[16];
    (void)snprintf(number, sizeof number, "%zu", row->point + 1);
    trn_grid_add(grid, number);
    trn_grid_add(grid, p->point);
    trn_grid_add(grid, trn_column_find(trn_table_find("points"), "task")->words[p->task]);
    char manual[48];
    (void)snprintf(manual, sizeof manual, "%.4g", row->manual_h);
    trn_grid_add(grid, manual);
    hours(row->nominal_h, grid);
    hours(row->at_risk_h, grid);
    char recommended[48];
    (void)snprintf(recommended, sizeof recommended, "%.4g", row->recommended_h);
    trn_grid_add(grid, isnan(row->recommended_h) ? "-" : recommended);
    trn_grid_add(grid, trn_cause_word(row->governed_by));
    char times[48];
    trn_number_for_people(row->times_per_year, 2, times, sizeof times);
    trn_grid_add(grid, times);
}

static const char medians_only[] = "; medians only, no margin";

/* Reason and notes of a row; what every row would repeat is said once under the table. */
static void reason_text(const trn_point_row *row, trn_buffer *out)
{
    size_t n = strlen(row->reason);
    size_t tail = sizeof medians_only - 1;
    if (n >= tail && strcmp(row->reason + n - tail, medians_only) == 0)
        n -= tail;
    trn_buffer_add_n(out, row->reason, n);
    if (!isnan(row->first_change_h) && row->first_change_h < row->recommended_h)
        trn_buffer_print(out, "; first change of a new or rebuilt box at %.3g h",
                         row->first_change_h);
    if (row->remarks.n > 0) {
        trn_buffer_add(out, ". Note: ");
        trn_remarks_text(&row->remarks, out);
    }
}

/* Points with the same reason share one paragraph. */
static void print_reasons(const trn_results *r, size_t width, trn_buffer *out)
{
    size_t n = r->machine->points_count;
    for (size_t i = 0; i < n; i++) {
        trn_buffer mine = {0};
        trn_buffer label = {0};
        bool told = false;
        reason_text(&r->points[i], &mine);
        for (size_t k = 0; k < n && !told; k++) {
            trn_buffer other = {0};
            reason_text(&r->points[k], &other);
            bool same = mine.text && other.text && strcmp(mine.text, other.text) == 0;
            told = same && k < i;
            if (same && k >= i)
                trn_buffer_print(&label, "%s%zu", label.length ? ", " : "", k + 1);
            trn_buffer_free(&other);
        }
        if (!told && label.text && mine.text) {
            trn_buffer_add(&label, ": ");
            trn_buffer_add(&label, mine.text);
            trn_text_wrap(label.text, 0, 4, width, out);
        }
        out->failed = out->failed || mine.failed || label.failed;
        trn_buffer_free(&mine);
        trn_buffer_free(&label);
    }
}

void trn_intervals_table(const trn_results *r, size_t width, trn_buffer *out)
{
    const trn_machine *m = r->machine;
    static const char *const head[] = {"",       "point",       "task",        "manual", "duty",
                                       "caution", "do every h", "governed by", "a year"};
    enum { COLUMNS = sizeof head / sizeof head[0] };
    bool right[COLUMNS] = {true, false, false, true, true, true, true, false, true};
    trn_grid grid = {.columns = COLUMNS};
    for (size_t i = 0; i < COLUMNS; i++)
        trn_grid_add(&grid, head[i]);
    for (size_t i = 0; i < m->points_count; i++)
        row_cells(r, &r->points[i], &grid);
    trn_buffer_print(out, "Recommended intervals: %s\n\n", m->head.name);
    trn_grid_print(&grid, right, out);
    trn_buffer_print(out, "\nhours of turning PTO. manual: as the operator's manual says; duty: what "
                          "this use allows;\ncaution: the same with a margin for what is not known; "
                          "do every: the step of the service\nclock up to %g %% over caution.\n",
                     trn_choice_value(TRN_CHOICE_SLACK));
    if (strstr(r->points[0].reason, medians_only))
        trn_buffer_add(out, "Medians only, no margin: caution is the same as duty.\n");
    trn_buffer_add(out, "\n");
    print_reasons(r, width, out);
    out->failed = out->failed || grid.failed;
    trn_grid_free(&grid);
}
