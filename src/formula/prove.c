/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Replays check files: each row is one formula with inputs as text and one output compared. */
#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/formula.h>
#include <trunnion/prove.h>
#include <trunnion/units.h>

enum column { ID, FORMULA, INPUTS, OUTPUT, EXPECTED, TOLERANCE, STANDING, SOURCE, COLUMNS };
static const char *const column_names[COLUMNS] = {"id",       "formula",   "inputs",   "output",
                                                  "expected", "tolerance", "standing", "source"};
static const char *const standings[] = {"published", "derived", "memory", "practice"};

enum { PAIRS_MAX = 64 };

void trn_checks_free(trn_checks *checks)
{
    for (size_t i = 0; i < checks->count; i++) {
        trn_check *c = &checks->list[i];
        char *texts[] = {c->id,       c->formula,   c->output,   c->computed,
                         c->expected, c->tolerance, c->standing, c->source};
        for (size_t k = 0; k < sizeof texts / sizeof texts[0]; k++)
            free(texts[k]);
    }
    free(checks->list);
    *checks = (trn_checks){0};
}

/* Cuts "a=1; b=2" in place at the semicolons. */
static size_t cut_pairs(char *text, const char **pairs)
{
    size_t n = 0;
    char *p = text;
    while (*p && n < PAIRS_MAX) {
        while (isspace((unsigned char)*p) || *p == ';')
            p++;
        if (*p == '\0')
            break;
        pairs[n++] = p;
        while (*p && *p != ';')
            p++;
        if (*p)
            *p++ = '\0';
    }
    return n;
}

/* Tolerance text: absolute in the output's unit or in its own, or a share of the expected value. */
static trn_status read_tolerance(const trn_symbol *symbol, const char *text, double expected,
                                 double *tolerance)
{
    const char *end = NULL;
    double value = 0;
    if (text[0] == '\0') {
        *tolerance = 0;
        return TRN_OK;
    }
    trn_status status = trn_text_number_start(text, &value, &end);
    if (status != TRN_OK || value < 0)
        return TRN_E_NUMBER;
    while (isspace((unsigned char)*end))
        end++;
    if (strcmp(end, "%") == 0)
        value *= fabs(expected) / 100;
    else if (*end) {
        double scale = 1;
        double offset = 0; /* a difference has none */
        status = trn_unit_convert(end, symbol->unit, &scale, &offset);
        if (status != TRN_OK)
            return status;
        value *= scale;
    }
    *tolerance = value;
    return TRN_OK;
}

/* Expected text: number in the catalogue unit of the output, a unit may follow; `inf`. */
static trn_status read_expected(const trn_symbol *symbol, const char *text, double *expected)
{
    if (strcmp(text, "inf") == 0) {
        *expected = INFINITY;
        return TRN_OK;
    }
    const char *end = NULL;
    double value = 0;
    trn_status status = trn_text_number_start(text, &value, &end);
    if (status != TRN_OK)
        return status;
    while (isspace((unsigned char)*end))
        end++;
    if (*end)
        return trn_unit_value(value, end, symbol->unit, expected);
    *expected = value;
    return TRN_OK;
}

/* `computed` as text, and the verdict. Negative: the row itself is faulty. */
static trn_status judge(const trn_sheet *sheet, const size_t *at, size_t row, trn_faults *faults,
                        char *computed, size_t size, bool *pass)
{
    const char *expected_text = trn_sheet_cell(sheet, row, at[EXPECTED]);
    const trn_formula *formula = trn_formula_find(trn_sheet_cell(sheet, row, at[FORMULA]));
    if (!formula) {
        (void)snprintf(computed, size, "error:formula");
        *pass = strcmp(expected_text, computed) == 0;
        return TRN_OK;
    }
    size_t k = 0;
    const char *output = trn_sheet_cell(sheet, row, at[OUTPUT]);
    while (k < formula->output_count && strcmp(formula->outputs[k].name, output) != 0)
        k++;
    if (k == formula->output_count) {
        (void)snprintf(computed, size, "error:symbol");
        *pass = strcmp(expected_text, computed) == 0;
        return TRN_OK;
    }
    char *inputs = trn_text_copy(trn_sheet_cell(sheet, row, at[INPUTS]));
    if (!inputs)
        return TRN_E_MEMORY;
    const char *pairs[PAIRS_MAX];
    size_t n = cut_pairs(inputs, pairs);
    trn_answer answer;
    trn_status status = trn_formula_evaluate(formula, pairs, n, &answer);
    free(inputs);
    const trn_symbol *symbol = &formula->outputs[k];
    if (status < 0)
        (void)snprintf(computed, size, "error:%s", trn_status_word(status));
    else
        trn_formula_text(symbol, &answer.out[k], 0, computed, size);
    if (status < 0 || symbol->kind == TRN_WORD || strncmp(expected_text, "error:", 6) == 0) {
        *pass = strcmp(expected_text, computed) == 0;
        return TRN_OK;
    }
    double expected = 0;
    double tolerance = 0;
    if (read_expected(symbol, expected_text, &expected) != TRN_OK) {
        trn_fault_add(faults, sheet->name, sheet->line[row], "expected",
                      "`%s` is no number in %s, no word of the output and no error:NAME",
                      expected_text, symbol->unit);
        return TRN_E_INPUT;
    }
    const char *tolerance_text = trn_sheet_cell(sheet, row, at[TOLERANCE]);
    if (read_tolerance(symbol, tolerance_text, expected, &tolerance) != TRN_OK) {
        trn_fault_add(faults, sheet->name, sheet->line[row], "tolerance",
                      "`%s` is no number, with or without unit, and no percentage", tolerance_text);
        return TRN_E_INPUT;
    }
    double value = trn_formula_shown(symbol, answer.out[k].x);
    if (!answer.out[k].given)
        *pass = expected_text[0] == '\0';
    else if (isinf(expected) || isinf(value))
        *pass = value == expected;
    else /* the last bit of the unit conversion is no part of a tolerance */
        *pass = fabs(value - expected) <= tolerance + 4e-16 * fabs(expected);
    return TRN_OK;
}

static trn_status add(trn_checks *checks, const trn_sheet *sheet, const size_t *at, size_t row,
                      const char *computed, bool pass)
{
    if (checks->count == checks->capacity) {
        size_t capacity = checks->capacity ? 2 * checks->capacity : 256;
        trn_check *list = realloc(checks->list, capacity * sizeof *list);
        if (!list)
            return TRN_E_MEMORY;
        checks->list = list;
        checks->capacity = capacity;
    }
    trn_check *c = &checks->list[checks->count];
    *c = (trn_check){
        .id = trn_text_copy(trn_sheet_cell(sheet, row, at[ID])),
        .formula = trn_text_copy(trn_sheet_cell(sheet, row, at[FORMULA])),
        .output = trn_text_copy(trn_sheet_cell(sheet, row, at[OUTPUT])),
        .computed = trn_text_copy(computed),
        .expected = trn_text_copy(trn_sheet_cell(sheet, row, at[EXPECTED])),
        .tolerance = trn_text_copy(trn_sheet_cell(sheet, row, at[TOLERANCE])),
        .standing = trn_text_copy(trn_sheet_cell(sheet, row, at[STANDING])),
        .source = trn_text_copy(trn_sheet_cell(sheet, row, at[SOURCE])),
        .pass = pass,
        .line = sheet->line[row],
    };
    checks->count++;
    checks->passed += pass;
    return c->id && c->formula && c->output && c->computed && c->expected && c->tolerance &&
                   c->standing && c->source
               ? TRN_OK
               : TRN_E_MEMORY;
}

static trn_status find_columns(const trn_sheet *sheet, trn_faults *faults, size_t *at)
{
    trn_status status = TRN_OK;
    for (size_t c = 0; c < COLUMNS; c++) {
        at[c] = 0;
        while (at[c] < sheet->columns && strcmp(sheet->header[at[c]], column_names[c]) != 0)
            at[c]++;
        if (at[c] == sheet->columns) {
            trn_fault_add(faults, sheet->name, sheet->header_line, column_names[c],
                          "the column is missing; a check file has "
                          "id,formula,inputs,output,expected,tolerance,standing,source");
            status = TRN_E_INPUT;
        }
    }
    return status;
}

static trn_status prove_sheet(const trn_sheet *sheet, trn_faults *faults, trn_checks *checks)
{
    size_t at[COLUMNS];
    trn_status status = find_columns(sheet, faults, at);
    for (size_t row = 0; status == TRN_OK && row < sheet->rows; row++) {
        const char *standing = trn_sheet_cell(sheet, row, at[STANDING]);
        size_t s = 0;
        while (s < sizeof standings / sizeof standings[0] && strcmp(standing, standings[s]) != 0)
            s++;
        if (s == sizeof standings / sizeof standings[0]) {
            trn_fault_add(faults, sheet->name, sheet->line[row], "standing",
                          "`%s` is none of published, derived, memory, practice", standing);
            status = TRN_E_INPUT;
            break;
        }
        char computed[64];
        bool pass = false;
        status = judge(sheet, at, row, faults, computed, sizeof computed, &pass);
        if (status == TRN_OK)
            status = add(checks, sheet, at, row, computed, pass);
    }
    return status;
}

trn_status trn_prove_bytes(const char *name, const void *bytes, size_t size, trn_faults *faults,
                           trn_checks *checks)
{
    trn_sheet *sheet = NULL;
    trn_status status = trn_sheet_parse(name, bytes, size, faults, &sheet);
    if (status == TRN_OK)
        status = prove_sheet(sheet, faults, checks);
    trn_sheet_free(sheet);
    return status;
}

trn_status trn_prove_file(const char *path, trn_faults *faults, trn_checks *checks)
{
    trn_sheet *sheet = NULL;
    trn_status status = trn_sheet_read(path, faults, &sheet);
    if (status == TRN_OK)
        status = prove_sheet(sheet, faults, checks);
    trn_sheet_free(sheet);
    return status;
}
