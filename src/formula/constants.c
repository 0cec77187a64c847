/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The list of recalled constants, and taking over values that were compared with the print. */
#include <trunnion/constants.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/csv_write.h>

#include "../physics/constant_tables.h"

typedef struct group {
    const trn_constant *list;
    const size_t *count;
} group;

static const group groups[] = {
#define TRN_X(name) {trn_constants_##name, &trn_constants_##name##_count},
    TRN_CONSTANT_TABLES(TRN_X)
#undef TRN_X
};
enum { GROUPS = sizeof groups / sizeof groups[0], MOST = 512 };

static trn_compared comparisons[MOST];

size_t trn_constant_count(void)
{
    size_t n = 0;
    for (size_t g = 0; g < GROUPS; g++)
        n += *groups[g].count;
    return n < MOST ? n : MOST;
}

const trn_constant *trn_constant_at(size_t i)
{
    for (size_t g = 0; g < GROUPS; g++) {
        if (i < *groups[g].count)
            return &groups[g].list[i];
        i -= *groups[g].count;
    }
    return NULL;
}

static size_t place_of(const char *key)
{
    size_t n = trn_constant_count();
    for (size_t i = 0; i < n; i++)
        if (strcmp(trn_constant_at(i)->key, key) == 0)
            return i;
    return n;
}

const trn_constant *trn_constant_find(const char *key)
{
    return trn_constant_at(place_of(key));
}

const trn_compared *trn_constant_comparison(size_t i)
{
    return i < trn_constant_count() ? &comparisons[i] : NULL;
}

/* ---- reading -------------------------------------------------------------------------------- */

enum column { KEY, PRINTED, EDITION, BY, DATE, NEEDED, VALUE = NEEDED, COLUMNS };
static const char *const names[COLUMNS] = {"key",         "printed_value", "edition",
                                           "compared_by", "date",          "value"};

/* A printed value corrects a digit: another sign or another order of size is a slip of the pen. */
static bool plausible(double recalled, double printed)
{
    if (recalled == 0)
        return fabs(printed) <= 10;
    double ratio = printed / recalled;
    return isfinite(printed) && ratio >= 0.1 && ratio <= 10;
}

/* `value` shows what the program has; a number typed there would be lost without a word. */
static void check_value(const trn_sheet *sheet, size_t column, size_t row, const char *printed,
                        double recalled, trn_faults *faults)
{
    const char *text = trn_sheet_cell(sheet, row, column);
    double value = 0;
    double taken = 0;
    bool number = trn_sheet_number(sheet, text, &value) == TRN_OK;
    if (*text == '\0' || (number && fabs(value - recalled) <= 1e-9 * fabs(recalled)) ||
        (number && trn_sheet_number(sheet, printed, &taken) == TRN_OK && taken == value))
        return;
    trn_fault_add(faults, sheet->name, sheet->line[row], "value",
                  "%s is not the recalled %.10g: this column is not read, the number as printed "
                  "goes into printed_value",
                  text, recalled);
}

/* A text of the comparison, whole or not at all. */
static void keep_text(const trn_sheet *sheet, size_t row, size_t at, enum column column, char *out,
                      size_t size, trn_faults *faults)
{
    const char *text = trn_sheet_cell(sheet, row, at);
    if (*text == '\0')
        trn_fault_add(faults, sheet->name, sheet->line[row], names[column],
                      "the cell is blank; a comparison names edition, person and date");
    else if (strlen(text) >= size)
        trn_fault_add(faults, sheet->name, sheet->line[row], names[column],
                      "%zu bytes long; at most %zu are kept", strlen(text), size - 1);
    else
        (void)snprintf(out, size, "%s", text);
}

static void check_row(const trn_sheet *sheet, const size_t *at, size_t row, double *values,
                      trn_compared *found, trn_faults *faults)
{
    const char *printed = trn_sheet_cell(sheet, row, at[PRINTED]);
    const char *key = trn_sheet_cell(sheet, row, at[KEY]);
    size_t line = sheet->line[row];
    size_t i = place_of(key);
    double value = 0;
    if (i < trn_constant_count() && at[VALUE] < sheet->columns)
        check_value(sheet, at[VALUE], row, printed, values[i], faults);
    if (*printed == '\0')
        return;
    if (i == trn_constant_count()) {
        trn_fault_add(faults, sheet->name, line, "key", "there is no constant `%s`", key);
        return;
    }
    if (found[i].compared)
        trn_fault_add(faults, sheet->name, line, "key", "`%s` stands twice", key);
    if (trn_sheet_number(sheet, printed, &value) != TRN_OK)
        trn_fault_add(faults, sheet->name, line, "printed_value", "`%s` is not a number", printed);
    else if (!plausible(values[i], value))
        trn_fault_add(faults, sheet->name, line, "printed_value",
                      "%s is more than ten times off the recalled %.10g, or of another sign",
                      printed, values[i]);
    values[i] = value;
    found[i].compared = true;
    trn_compared *to = &found[i];
    keep_text(sheet, row, at[EDITION], EDITION, to->edition, sizeof to->edition, faults);
    keep_text(sheet, row, at[BY], BY, to->by, sizeof to->by, faults);
    keep_text(sheet, row, at[DATE], DATE, to->date, sizeof to->date, faults);
}

static bool find_columns(const trn_sheet *sheet, size_t *at, trn_faults *faults)
{
    bool whole = true;
    for (size_t c = 0; c < COLUMNS; c++) {
        at[c] = 0;
        while (at[c] < sheet->columns && strcmp(sheet->header[at[c]], names[c]) != 0)
            at[c]++;
        if (at[c] == sheet->columns && c < NEEDED) {
            trn_fault_add(faults, sheet->name, sheet->header_line, names[c],
                          "the column is missing; `trunnion prove --constants` writes the list");
            whole = false;
        }
    }
    return whole;
}

static void take_over(const double *values, const trn_compared *found, size_t *taken,
                      size_t *changed)
{
    for (size_t i = 0; i < trn_constant_count(); i++) {
        const trn_constant *c = trn_constant_at(i);
        if (!found[i].compared)
            continue;
        comparisons[i] = found[i];
        comparisons[i].recalled = *c->value;
        (*taken)++;
        if (*c->value != values[i])
            (*changed)++;
        *c->value = values[i];
    }
}

trn_status trn_constants_read(const char *path, trn_faults *faults, size_t *taken, size_t *changed)
{
    trn_sheet *sheet = NULL;
    size_t at[COLUMNS];
    size_t n = trn_constant_count();
    size_t before = faults->count;
    trn_status status = trn_sheet_read(path, faults, &sheet);
    if (status != TRN_OK)
        return status;
    double *values = calloc(n, sizeof *values);
    trn_compared *found = calloc(n, sizeof *found);
    *taken = *changed = 0;
    if (!values || !found) {
        status = TRN_E_MEMORY;
    } else if (find_columns(sheet, at, faults)) {
        for (size_t i = 0; i < n; i++)
            values[i] = *trn_constant_at(i)->value;
        for (size_t row = 0; row < sheet->rows; row++)
            check_row(sheet, at, row, values, found, faults);
        if (faults->count == before)
            take_over(values, found, taken, changed);
    }
    if (status == TRN_OK && faults->count > before)
        status = TRN_E_INPUT;
    free(values);
    free(found);
    trn_sheet_free(sheet);
    return status;
}

void trn_constants_csv(trn_buffer *out)
{
    static const char *const head[] = {"key",      "standard",      "clause",  "what",
                                       "value",    "unit",          "standing", "printed_value",
                                       "edition",  "compared_by",   "date",     "formulas"};
    trn_csv_writer csv = {.out = out};
    for (size_t i = 0; i < sizeof head / sizeof head[0]; i++)
        trn_csv_word(&csv, head[i]);
    trn_csv_end(&csv);
    for (size_t i = 0; i < trn_constant_count(); i++) {
        const trn_constant *c = trn_constant_at(i);
        const trn_compared *seen = &comparisons[i];
        trn_csv_word(&csv, c->key);
        trn_csv_word(&csv, c->standard);
        trn_csv_word(&csv, c->clause);
        trn_csv_word(&csv, c->what);
        trn_csv_number(&csv, *c->value);
        trn_csv_word(&csv, c->unit);
        trn_csv_word(&csv, seen->compared ? "compared" : "memory");
        trn_csv_number(&csv, seen->compared ? *c->value : NAN);
        trn_csv_text(&csv, seen->edition);
        trn_csv_text(&csv, seen->by);
        trn_csv_text(&csv, seen->date);
        trn_csv_word(&csv, c->formulas);
        trn_csv_end(&csv);
    }
}
