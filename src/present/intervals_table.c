/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The interval table for reading: four figures side by side, the reason under each row. */
#include <math.h>
#include <stdio.h>
#include <string.h>
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
    trn_buffer_add(out, "\nhours of turning PTO. manual: as the operator's manual says; duty: what "
                        "this use allows;\ncaution: the same with a margin for what is not known; "
                        "do every: on the service clock.\n\n");
    for (size_t i = 0; i < m->points_count; i++) {
        const trn_point_row *row = &r->points[i];
        char label[24];
        int n = snprintf(label, sizeof label, "%4zu  ", i + 1);
        trn_buffer line = {0};
        trn_buffer_add(&line, row->reason);
        if (!isnan(row->first_change_h) && row->first_change_h < row->recommended_h)
            trn_buffer_print(&line, "; first change of a new or rebuilt box at %.3g h",
                             row->first_change_h);
        if (row->remarks.n > 0) {
            trn_buffer_add(&line, ". Note: ");
            trn_remarks_text(&row->remarks, &line);
        }
        trn_buffer_add(out, label);
        trn_text_wrap(line.text ? line.text : "", n > 0 ? (size_t)n : 0, 6, width, out);
        out->failed = out->failed || line.failed;
        trn_buffer_free(&line);
    }
    out->failed = out->failed || grid.failed;
    trn_grid_free(&grid);
}
