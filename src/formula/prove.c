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

/* One row under judgement. */
typedef struct bench {
    const trn_sheet *sheet;
    const size_t *at; /* places of the columns */
    const trn_prove_results *results; /* NULL: formulas only */
    trn_faults *faults;
    char computed[64];
    bool pass;
} bench;

static const char *cell(const bench *b, size_t row, enum column c)
{
    return trn_sheet_cell(b->sheet, row, b->at[c]);
}

/* An answer that is no number: a word, or error:NAME. */
static trn_status judge_word(bench *b, size_t row, const char *answer)
{
    (void)snprintf(b->computed, sizeof b->computed, "%s", answer);
    b->pass = strcmp(cell(b, row, EXPECTED), b->computed) == 0;
    return TRN_OK;
}

/* A number in the unit of the symbol; NaN where there is none. */
static trn_status judge_number(bench *b, size_t row, const trn_symbol *symbol, double value)
{
    const char *expected_text = cell(b, row, EXPECTED);
    const char *tolerance_text = cell(b, row, TOLERANCE);
    double expected = 0;
    double tolerance = 0;
    trn_text_of_number(value, b->computed, sizeof b->computed);
    if (strncmp(expected_text, "error:", 6) == 0 || (isnan(value) && *expected_text == '\0')) {
        b->pass = *expected_text == '\0';
        return TRN_OK;
    }
    if (read_expected(symbol, expected_text, &expected) != TRN_OK) {
        trn_fault_add(b->faults, b->sheet->name, b->sheet->line[row], "expected",
                      "`%s` is no number in %s, no word of the output and no error:NAME",
                      expected_text, symbol->unit);
        return TRN_E_INPUT;
    }
    if (read_tolerance(symbol, tolerance_text, expected, &tolerance) != TRN_OK) {
        trn_fault_add(b->faults, b->sheet->name, b->sheet->line[row], "tolerance",
                      "`%s` is no number, with or without unit, and no percentage", tolerance_text);
        return TRN_E_INPUT;
    }
    if (isinf(expected) || isinf(value))
        b->pass = value == expected;
    else /* the last bit of the unit conversion is no part of a tolerance */
        b->pass = fabs(value - expected) <= tolerance + 4e-16 * fabs(expected);
    return TRN_OK;
}

/* A row whose formula is the address of a result. */
static trn_status judge_result(bench *b, size_t row)
{
    trn_prove_cell found = {.unit = "1"};
    trn_status status = b->results->find(b->results->context, cell(b, row, FORMULA),
                                         cell(b, row, OUTPUT), &found);
    if (status == TRN_E_MEMORY)
        return status;
    if (status < 0)
        return judge_word(b, row, "error:result");
    if (found.word)
        return judge_word(b, row, found.word);
    trn_symbol symbol = {.unit = found.unit, .si = found.unit};
    return judge_number(b, row, &symbol, found.value);
}

/* The verdict on a row. Negative: the row itself is faulty. */
static trn_status judge(bench *b, size_t row)
{
    const trn_formula *formula = trn_formula_find(cell(b, row, FORMULA));
    if (!formula)
        return b->results ? judge_result(b, row) : judge_word(b, row, "error:formula");
    size_t k = 0;
    while (k < formula->output_count &&
           strcmp(formula->outputs[k].name, cell(b, row, OUTPUT)) != 0)
        k++;
    if (k == formula->output_count)
        return judge_word(b, row, "error:symbol");
    char *inputs = trn_text_copy(cell(b, row, INPUTS));
    if (!inputs)
        return TRN_E_MEMORY;
    const char *pairs[PAIRS_MAX];
    size_t n = cut_pairs(inputs, pairs);
    trn_answer answer;
    trn_status status = trn_formula_evaluate(formula, pairs, n, &answer);
    free(inputs);
    const trn_symbol *symbol = &formula->outputs[k];
    char text[64];
    if (status < 0)
        (void)snprintf(text, sizeof text, "error:%s", trn_status_word(status));
    else if (symbol->kind == TRN_WORD)
        trn_formula_text(symbol, &answer.out[k], 0, text, sizeof text);
    else
        return judge_number(b, row, symbol,
                            answer.out[k].given ? trn_formula_shown(symbol, answer.out[k].x) : NAN);
    return judge_word(b, row, text);
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

static trn_status prove_sheet(const trn_sheet *sheet, const trn_prove_results *results,
                              trn_faults *faults, trn_checks *checks)
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
        bench b = {.sheet = sheet, .at = at, .results = results, .faults = faults};
        status = judge(&b, row);
        if (status == TRN_OK)
            status = add(checks, sheet, at, row, b.computed, b.pass);
    }
    return status;
}

trn_status trn_prove_bytes(const char *name, const void *bytes, size_t size, trn_faults *faults,
                           trn_checks *checks)
{
    trn_sheet *sheet = NULL;
    trn_status status = trn_sheet_parse(name, bytes, size, faults, &sheet);
    if (status == TRN_OK)
        status = prove_sheet(sheet, NULL, faults, checks);
    trn_sheet_free(sheet);
    return status;
}

trn_status trn_prove_file(const char *path, const trn_prove_results *results, trn_faults *faults,
                          trn_checks *checks)
{
    trn_sheet *sheet = NULL;
    trn_status status = trn_sheet_read(path, faults, &sheet);
    if (status == TRN_OK)
        status = prove_sheet(sheet, results, faults, checks);
    trn_sheet_free(sheet);
    return status;
}
