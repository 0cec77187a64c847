/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What --set and --scenario changed before a review compared anything: the case of the review is
 * then not the case of the tables, and has to say so cell by cell. */
#include <math.h>
#include <string.h>
#include <trunnion/inputs.h>

#include "review_rows.h"

bool review_is_changed(const void *row, const trn_table *table, const char *column)
{
    const trn_column *of = trn_column_find(table, column);
    return of && (((const trn_row *)row)->changed >> (of - table->columns) & 1);
}

static void cell(const review_page *page, const trn_table *table, size_t r,
                 const trn_column *column)
{
    const trn_machine *m = page->v->machine;
    const bool was_read = m->origin && r < trn_table_rows(m->origin, table);
    trn_buffer path = {0};
    trn_buffer now = {0};
    trn_buffer was = {0};
    trn_cell_path(m, table, r, column, &path);
    trn_cell_value(m, table, r, column, &now);
    if (was_read)
        trn_cell_value(m->origin, table, r, column, &was);
    const char *unit = column->unit && strcmp(column->unit, "1") != 0 ? column->unit : "";
    review_item(page, "  ! ", "%s = %s%s%s, in the tables %s%s%s", path.text ? path.text : "",
                now.text ? now.text : "(blank)", *unit ? " " : "", unit,
                was.text ? was.text : "(blank)", was.text && *unit ? " " : "",
                was.text ? unit : "");
    page->out->failed = page->out->failed || path.failed || now.failed || was.failed;
    trn_buffer_free(&path);
    trn_buffer_free(&now);
    trn_buffer_free(&was);
}

/* Walks the cells that were changed; page NULL: only counts them. */
static size_t walk(const trn_machine *m, const review_page *page)
{
    size_t n = 0;
    for (size_t t = 0; t <= trn_table_count(); t++) {
        const trn_table *table = t ? trn_table_at(t - 1) : trn_table_head();
        size_t rows = t ? trn_table_rows(m, table) : 1;
        for (size_t r = 0; r < rows; r++) {
            const trn_row *row = t ? trn_table_row(m, table, r) : &m->head.row;
            for (size_t c = 0; c < table->column_count; c++)
                if (row->changed >> c & 1) {
                    n++;
                    if (page)
                        cell(page, table, r, &table->columns[c]);
                }
        }
    }
    return n;
}

/* Oil taken out by --set: the case itself has no row with which to compare its level. */
static void oil(const review_page *page)
{
    const trn_machine *m = page->v->machine;
    for (size_t i = 0; m->origin && i < m->gearboxes_count; i++)
        if (m->gearboxes[i].oil_volume < m->origin->gearboxes[i].oil_volume)
            review_item(page, "  ! ", "%s holds less oil than in the tables. If that stands for a low "
                                      "level and not for a corrected figure, no life of this page is "
                                      "to be trusted: a starved box has none.",
                        m->gearboxes[i].gearbox);
}

void review_changed(const review_page *page)
{
    if (walk(page->v->machine, NULL) == 0)
        return;
    review_head(page, "Changed by --set or --scenario before anything was compared");
    review_say(page, "`as specified` on this page is the case with these changes. It is not what the "
                     "tables say, and whoever made them has to answer for them:");
    (void)walk(page->v->machine, page);
    oil(page);
}
