/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table of `samples` as CSV and for reading. */
#include <trunnion/samples_table.h>

#include <math.h>
#include <string.h>
#include <trunnion/csv_write.h>

#include "rows.h"

#define AT(member) offsetof(trn_samples_row, member)
static const trn_row_field fields[] = {
    {"gearbox", NULL, TRN_ROW_TEXT, AT(gearbox), "gearbox"},
    {"element", NULL, TRN_ROW_WORD, AT(element_word), "element"},
    {"fill", NULL, TRN_ROW_COUNT, AT(fill), "fill"},
    {"samples", NULL, TRN_ROW_COUNT, AT(samples), "read"},
    {"rate", "ppm/100h", TRN_ROW_NUMBER, AT(rate), "ppm/100h"},
    {"rate_low", "ppm/100h", TRN_ROW_NUMBER, AT(rate_low), "low"},
    {"rate_high", "ppm/100h", TRN_ROW_NUMBER, AT(rate_high), "high"},
    {"method", NULL, TRN_ROW_WORD, AT(method_word), "method"},
    {"last", "ppm", TRN_ROW_NUMBER, AT(last_ppm), "last ppm"},
    {"limit", "ppm", TRN_ROW_NUMBER, AT(limit_ppm), "limit"},
    {"hours_to_limit", "h", TRN_ROW_NUMBER, AT(hours_to_limit), "h to limit"},
    {"remark", NULL, TRN_ROW_REMARK, AT(remark), "notes"},
};
#undef AT

static trn_row_set set_of(const trn_samples_table *table)
{
    return (trn_row_set){fields, sizeof fields / sizeof fields[0], table->rows,
                         sizeof table->rows[0], table->count};
}

void trn_samples_csv(const trn_samples_table *table, trn_buffer *out)
{
    trn_row_set set = set_of(table);
    trn_rows_csv(&set, out);
}

static const trn_samples_place *place_of(const trn_samples_table *table,
                                         const trn_samples_point *point)
{
    const trn_samples_row *row = &table->rows[point->row];
    for (size_t i = 0; i < table->place_count; i++) {
        const trn_samples_place *p = &table->places[i];
        if (p->fill == row->fill && strcmp(p->sample->gearbox, row->gearbox) == 0 &&
            !(p->sample->machine_hours < point->machine_h) &&
            !(p->sample->machine_hours > point->machine_h))
            return p;
    }
    return NULL;
}

void trn_samples_points_csv(const trn_samples_table *table, trn_buffer *out)
{
    static const char *const heads[] = {"gearbox",       "element",         "fill",
                                        "machine_hours [h]", "oil_hours [h]", "reading [ppm]",
                                        "corrected [ppm]", "reset"};
    trn_csv_writer csv = {.out = out};
    for (size_t i = 0; i < sizeof heads / sizeof heads[0]; i++)
        trn_csv_word(&csv, heads[i]);
    trn_csv_end(&csv);
    for (size_t i = 0; i < table->point_count; i++) {
        const trn_samples_point *point = &table->points[i];
        const trn_samples_row *row = &table->rows[point->row];
        const trn_samples_place *p = place_of(table, point);
        trn_csv_text(&csv, row->gearbox);
        trn_csv_word(&csv, row->element_word);
        trn_csv_number(&csv, (double)row->fill);
        trn_csv_number(&csv, point->machine_h);
        trn_csv_number(&csv, p ? point->machine_h - p->birth_h : NAN);
        trn_csv_number(&csv, point->ppm);
        trn_csv_number(&csv, point->corrected_ppm);
        trn_csv_word(&csv, p && p->reset ? "not logged" : "");
        trn_csv_end(&csv);
    }
}

void trn_samples_text(const trn_samples_table *table, size_t width, trn_buffer *out)
{
    static const char *const said[] = {
        "low and high: 95 % limits of the rate. Limits are a laboratory's general ones unless "
        "--limits gave others; lists differ widely, and a limit of your own machines counts "
        "for more.",
        "A dust remark says what the readings are consistent with, not what happened. "
        "Spectrometers miss large debris: look at the magnet and into the filter as well.",
    };
    trn_row_set set = set_of(table);
    trn_buffer_add(out, "Oil samples: rates of each fill\n\n");
    trn_rows_text(&set, width, out);
    for (size_t i = 0; i < sizeof said / sizeof said[0]; i++) {
        trn_buffer_add(out, "\n");
        trn_text_wrap(said[i], 0, 0, width, out);
    }
}
