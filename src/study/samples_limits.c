/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A table of limits, `element,limit [ppm]`. */
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/samples_table.h>
#include <trunnion/units.h>

typedef struct places {
    size_t element, limit; /* columns; TRN_NONE: missing */
    double scale, offset;  /* limit to ppm */
} places;

static void place_column(const trn_sheet *sheet, size_t c, places *at, trn_faults *faults)
{
    char *name = NULL;
    char *unit = NULL;
    if (trn_header_split(sheet->header[c], &name, &unit) != TRN_OK) {
        trn_fault_add(faults, sheet->name, sheet->header_line, sheet->header[c],
                      "the bracket is not closed; write `limit [ppm]`");
        return;
    }
    if (strcmp(name, "element") == 0)
        at->element = c;
    else if (strcmp(name, "limit") == 0) {
        at->limit = c;
        if (!unit || trn_unit_convert(unit, "ppm", &at->scale, &at->offset) != TRN_OK)
            trn_fault_add(faults, sheet->name, sheet->header_line, sheet->header[c],
                          "ppm or a unit that converts to it is expected; write `limit [ppm]`");
    } else if (strncmp(name, "note", 4) != 0)
        trn_fault_add(faults, sheet->name, sheet->header_line, sheet->header[c],
                      "the columns are `element` and `limit [ppm]` (one of your own begins with "
                      "`note`)");
    free(name);
    free(unit);
}

static size_t element_of(const char *word)
{
    for (size_t e = 0; e < TRN_ELEMENTS; e++)
        if (strcmp(trn_samples_element_word(e), word) == 0)
            return e;
    return TRN_NONE;
}

static void read_row(const trn_sheet *sheet, size_t r, const places *at, size_t *seen,
                     double *limit_ppm, trn_faults *faults)
{
    const char *word = trn_sheet_cell(sheet, r, at->element);
    const char *text = trn_sheet_cell(sheet, r, at->limit);
    size_t e = element_of(word);
    double value = NAN;
    if (e == TRN_NONE) {
        trn_fault_add(faults, sheet->name, sheet->line[r], "element",
                      "`%.40s` is none of fe, cu, si, al, cr, pb, water", word);
        return;
    }
    if (seen[e])
        trn_fault_add(faults, sheet->name, sheet->line[r], "element",
                      "`%s` stands in line %zu already", word, seen[e]);
    seen[e] = sheet->line[r];
    if (*text && trn_sheet_number(sheet, text, &value) != TRN_OK)
        trn_fault_add(faults, sheet->name, sheet->line[r], sheet->header[at->limit],
                      "`%.40s` is not a number", text);
    else if (*text && !(value * at->scale + at->offset > 0))
        trn_fault_add(faults, sheet->name, sheet->line[r], sheet->header[at->limit],
                      "%.10g is not above 0; leave the cell empty for no limit", value);
    limit_ppm[e] = value * at->scale + at->offset;
}

trn_status trn_samples_limits_read(const char *path, trn_faults *faults,
                                   trn_samples_settings *settings)
{
    trn_sheet *sheet = NULL;
    size_t before = faults->count;
    trn_status status = trn_sheet_read(path, faults, &sheet);
    if (status != TRN_OK)
        return status;
    places at = {TRN_NONE, TRN_NONE, 1, 0};
    size_t seen[TRN_ELEMENTS] = {0};
    double limit_ppm[TRN_ELEMENTS];
    memcpy(limit_ppm, settings->limit_ppm, sizeof limit_ppm);
    for (size_t c = 0; c < sheet->columns; c++)
        place_column(sheet, c, &at, faults);
    if (at.element == TRN_NONE || at.limit == TRN_NONE)
        trn_fault_add(faults, sheet->name, sheet->header_line, NULL,
                      "the columns `element` and `limit [ppm]` are needed");
    for (size_t r = 0; faults->count == before && r < sheet->rows; r++)
        read_row(sheet, r, &at, seen, limit_ppm, faults);
    trn_sheet_free(sheet);
    if (faults->count > before)
        return TRN_E_INPUT;
    memcpy(settings->limit_ppm, limit_ppm, sizeof limit_ppm);
    return TRN_OK;
}
