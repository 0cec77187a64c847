/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The catalogue as one list, and evaluation of its entries by text and by numbers. */
#include <ctype.h>
#include <math.h>
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/units.h>

#include "catalogue.h"

typedef struct subject {
    const trn_formula *formulas;
    const size_t *formula_count;
    const trn_source *sources;
    const size_t *source_count;
} subject;

static const subject subjects[] = {
#define TRN_X(name) \
    {trn_formulas_##name, &trn_formulas_##name##_count, trn_sources_##name, &trn_sources_##name##_count},
    TRN_CATALOGUE(TRN_X)
#undef TRN_X
};

size_t trn_formula_count(void)
{
    size_t n = 0;
    for (size_t s = 0; s < TRN_COUNT(subjects); s++)
        n += *subjects[s].formula_count;
    return n;
}

const trn_formula *trn_formula_at(size_t i)
{
    for (size_t s = 0; s < TRN_COUNT(subjects); s++) {
        if (i < *subjects[s].formula_count)
            return &subjects[s].formulas[i];
        i -= *subjects[s].formula_count;
    }
    return NULL;
}

const trn_formula *trn_formula_find(const char *name)
{
    for (size_t s = 0; s < TRN_COUNT(subjects); s++)
        for (size_t i = 0; i < *subjects[s].formula_count; i++)
            if (strcmp(subjects[s].formulas[i].name, name) == 0)
                return &subjects[s].formulas[i];
    return NULL;
}

size_t trn_source_count(void)
{
    size_t n = 0;
    for (size_t s = 0; s < TRN_COUNT(subjects); s++)
        n += *subjects[s].source_count;
    return n;
}

const trn_source *trn_source_at(size_t i)
{
    for (size_t s = 0; s < TRN_COUNT(subjects); s++) {
        if (i < *subjects[s].source_count)
            return &subjects[s].sources[i];
        i -= *subjects[s].source_count;
    }
    return NULL;
}

const trn_source *trn_source_find(const char *key, size_t length)
{
    for (size_t s = 0; s < TRN_COUNT(subjects); s++)
        for (size_t i = 0; i < *subjects[s].source_count; i++)
            if (strlen(subjects[s].sources[i].key) == length &&
                strncmp(subjects[s].sources[i].key, key, length) == 0)
                return &subjects[s].sources[i];
    return NULL;
}

bool trn_range_holds(const char *range, double x)
{
    if (!isfinite(x))
        return false;
    if (!range || range[0] == '\0')
        return true;
    bool open_low = range[0] == '(';
    const char *p = range + 1;
    double bound = 0;
    if (*p == '-' && p[1] == 'i')
        p += 4; /* -inf */
    else if (trn_text_number_start(p, &bound, &p) != TRN_OK)
        return false;
    else {
        double slack = open_low ? 0 : 1e-9 * fabs(bound);
        if (open_low ? !(x > bound) : !(x >= bound - slack))
            return false;
    }
    if (*p != ',')
        return false;
    p++;
    if (*p == 'i')
        return true; /* inf */
    if (trn_text_number_start(p, &bound, &p) != TRN_OK)
        return false;
    bool open_high = *p == ')';
    double slack = open_high ? 0 : 1e-9 * fabs(bound);
    return open_high ? x < bound : x <= bound + slack;
}

double trn_formula_shown(const trn_symbol *symbol, double x)
{
    double shown = x;
    if (symbol->kind != TRN_WORD && strcmp(symbol->unit, symbol->si) != 0)
        (void)trn_unit_value(x, symbol->si, symbol->unit, &shown);
    return shown;
}

void trn_formula_text(const trn_symbol *symbol, const trn_value *value, int digits, char *out,
                      size_t size)
{
    if (size == 0)
        return;
    out[0] = '\0';
    if (!value->given)
        return;
    if (symbol->kind == TRN_WORD) {
        (void)snprintf(out, size, "%s", symbol->words[(size_t)value->x]);
        return;
    }
    if (symbol->kind == TRN_LIST) {
        (void)snprintf(out, size, "list of %zu", value->n);
        return;
    }
    double shown = trn_formula_shown(symbol, value->x);
    if (digits <= 0 || !isfinite(shown))
        trn_text_of_number(shown, out, size);
    else
        (void)snprintf(out, size, "%.*g", digits, shown == 0 ? 0.0 : shown);
}

/* ---- one value from its text ------------------------------------------------------------- */

static trn_status fail(trn_answer *answer, trn_status status, const char *symbol,
                       const char *why)
{
    (void)snprintf(answer->faulty, sizeof answer->faulty, "%s", symbol);
    (void)snprintf(answer->why, sizeof answer->why, "%s", why);
    return status;
}

static trn_status to_library(const trn_symbol *symbol, const char *unit, double *scale,
                             double *offset)
{
    while (isspace((unsigned char)*unit))
        unit++;
    const char *from = *unit ? unit : symbol->unit;
    if (*unit == '\0' && strcmp(symbol->unit, symbol->si) == 0) {
        *scale = 1;
        *offset = 0;
        return TRN_OK;
    }
    return trn_unit_convert(from, symbol->si, scale, offset);
}

static trn_status read_word(const trn_symbol *symbol, const char *text, trn_value *value,
                            trn_answer *answer)
{
    for (size_t i = 0; symbol->words[i]; i++)
        if (strcmp(symbol->words[i], text) == 0) {
            *value = (trn_value){.given = true, .x = (double)i};
            return TRN_OK;
        }
    char why[sizeof answer->why];
    int n = snprintf(why, sizeof why, "`%.40s` is none of:", text);
    for (size_t i = 0; symbol->words[i] && n > 0 && (size_t)n < sizeof why; i++)
        n += snprintf(why + n, sizeof why - (size_t)n, " %s", symbol->words[i]);
    return fail(answer, TRN_E_DOMAIN, symbol->name, why);
}

static trn_status out_of_range(const trn_symbol *symbol, double shown, trn_answer *answer)
{
    char why[sizeof answer->why];
    const char *range = symbol->range ? symbol->range : "finite";
    (void)snprintf(why, sizeof why, "%.10g is outside %s%s%s", shown, range,
                   strcmp(symbol->unit, "1") == 0 ? "" : " ",
                   strcmp(symbol->unit, "1") == 0 ? "" : symbol->unit);
    return fail(answer, TRN_E_DOMAIN, symbol->name, why);
}

/* `nan` and `inf` are numbers that every formula refuses: domain, not a misspelt number. */
static bool not_finite_word(const char *text)
{
    const char *p = text + (*text == '-' || *text == '+');
    size_t n = 0;
    while (isalpha((unsigned char)p[n]))
        n++;
    char word[10];
    if (n == 0 || n >= sizeof word)
        return false;
    memcpy(word, p, n);
    word[n] = '\0';
    return trn_text_same(word, "nan") || trn_text_same(word, "inf") ||
           trn_text_same(word, "infinity");
}

static trn_status read_numbers(const trn_symbol *symbol, const char *text, trn_value *value,
                               double **storage, trn_answer *answer)
{
    size_t count = 1;
    if (symbol->kind == TRN_LIST)
        for (const char *p = text; *p; p++)
            count += *p == '/'; /* a slash of the unit counts too: only a bound */
    double *list = malloc(count * sizeof *list);
    if (!list)
        return fail(answer, TRN_E_MEMORY, symbol->name, trn_status_text(TRN_E_MEMORY));
    free(*storage);
    *storage = list;
    size_t n = 0;
    const char *p = text;
    for (;;) {
        const char *end = p;
        if (not_finite_word(p))
            return fail(answer, TRN_E_DOMAIN, symbol->name, "not a finite number");
        if (trn_text_number_start(p, &list[n], &end) != TRN_OK)
            return fail(answer, TRN_E_NUMBER, symbol->name, "not a number");
        n++;
        p = end;
        if (symbol->kind != TRN_LIST || *p != '/' ||
            !(isdigit((unsigned char)p[1]) || strchr("+-.", p[1]) || not_finite_word(p + 1)))
            break;
        p++;
    }
    double scale = 1;
    double offset = 0;
    if (to_library(symbol, p, &scale, &offset) != TRN_OK) {
        char why[sizeof answer->why];
        (void)snprintf(why, sizeof why, "`%.40s` does not convert to %s", p,
                       strcmp(symbol->unit, "1") == 0 ? "a pure number" : symbol->unit);
        return fail(answer, TRN_E_UNIT, symbol->name, why);
    }
    bool catalogue_unit = p[strspn(p, " \t")] == '\0';
    for (size_t i = 0; i < n; i++) {
        double given = list[i];
        list[i] = scale * given + offset;
        double shown = catalogue_unit ? given : trn_formula_shown(symbol, list[i]);
        if (!trn_range_holds(symbol->range, shown))
            return out_of_range(symbol, shown, answer);
    }
    *value = (trn_value){.given = true, .x = list[0], .list = list, .n = n};
    return TRN_OK;
}

static trn_status read_value(const trn_symbol *symbol, const char *text, trn_value *value,
                             double **storage, trn_answer *answer)
{
    while (isspace((unsigned char)*text))
        text++;
    if (*text == '\0')
        return fail(answer, TRN_E_MISSING, symbol->name, "no value");
    if (symbol->kind == TRN_WORD)
        return read_word(symbol, text, value, answer);
    return read_numbers(symbol, text, value, storage, answer);
}

/* ---- defaults, parsed once ---------------------------------------------------------------- */

typedef struct defaults {
    trn_value in[TRN_INPUTS_MAX];
} defaults;

static defaults *default_table;
static pthread_once_t default_once = PTHREAD_ONCE_INIT;

static void parse_defaults(void)
{
    size_t n = trn_formula_count();
    defaults *table = calloc(n ? n : 1, sizeof *table);
    if (!table)
        return;
    for (size_t i = 0; i < n; i++) {
        const trn_formula *formula = trn_formula_at(i);
        for (size_t k = 0; k < formula->input_count; k++) {
            const trn_symbol *symbol = &formula->inputs[k];
            if (!symbol->fallback || symbol->fallback[0] == '\0' || symbol->kind == TRN_LIST)
                continue;
            double *storage = NULL;
            trn_answer ignored;
            trn_value value = {0};
            if (read_value(symbol, symbol->fallback, &value, &storage, &ignored) == TRN_OK) {
                value.list = NULL;
                table[i].in[k] = value;
            }
            free(storage);
        }
    }
    default_table = table;
}

static const defaults *defaults_of(const trn_formula *formula)
{
    (void)pthread_once(&default_once, parse_defaults);
    if (!default_table)
        return NULL;
    size_t base = 0;
    for (size_t s = 0; s < TRN_COUNT(subjects); s++) {
        size_t count = *subjects[s].formula_count;
        if (formula >= subjects[s].formulas && formula < subjects[s].formulas + count)
            return &default_table[base + (size_t)(formula - subjects[s].formulas)];
        base += count;
    }
    return NULL;
}

/* ---- evaluation --------------------------------------------------------------------------- */

static trn_status call(const trn_formula *formula, const trn_value *in, trn_value *out)
{
    trn_value result[TRN_OUTPUTS_MAX] = {{0}};
    trn_status status = formula->call(in, result);
    if (status >= 0)
        for (size_t k = 0; k < formula->output_count; k++) {
            out[k] = result[k];
            out[k].given = !isnan(result[k].x);
        }
    return status;
}

static trn_status read_pairs(const trn_formula *formula, const char *const *pairs, size_t count,
                             double **storage, trn_answer *answer)
{
    for (size_t i = 0; i < count; i++) {
        const char *equals = strchr(pairs[i], '=');
        char name[48];
        const char *start = pairs[i];
        while (isspace((unsigned char)*start))
            start++;
        size_t n = equals ? (size_t)(equals - start) : strlen(start);
        while (n > 0 && isspace((unsigned char)start[n - 1]))
            n--;
        if (n >= sizeof name)
            n = sizeof name - 1;
        memcpy(name, start, n);
        name[n] = '\0';
        size_t k = 0;
        while (k < formula->input_count && strcmp(formula->inputs[k].name, name) != 0)
            k++;
        if (!equals && k < formula->input_count)
            return fail(answer, TRN_E_SYMBOL, name, "`=` and a value are missing behind it");
        if (!equals || k == formula->input_count)
            return fail(answer, TRN_E_SYMBOL, name, "the formula has no input of this name");
        if (storage[k] || (formula->inputs[k].kind == TRN_WORD && answer->in[k].n))
            return fail(answer, TRN_E_SYMBOL, name, "given twice");
        trn_status status =
            read_value(&formula->inputs[k], equals + 1, &answer->in[k], &storage[k], answer);
        if (status < 0)
            return status;
        answer->in[k].n = answer->in[k].n ? answer->in[k].n : 1;
    }
    return TRN_OK;
}

trn_status trn_formula_evaluate(const trn_formula *formula, const char *const *pairs,
                                size_t count, trn_answer *answer)
{
    *answer = (trn_answer){0};
    double *storage[TRN_INPUTS_MAX] = {NULL};
    const defaults *known = defaults_of(formula);
    trn_status status = known ? read_pairs(formula, pairs, count, storage, answer)
                              : fail(answer, TRN_E_MEMORY, "", trn_status_text(TRN_E_MEMORY));
    for (size_t k = 0; status >= 0 && k < formula->input_count; k++) {
        if (answer->in[k].given)
            continue;
        if (known->in[k].given)
            answer->in[k] = known->in[k];
        else if (!formula->inputs[k].fallback)
            status = fail(answer, TRN_E_MISSING, formula->inputs[k].name, "required");
    }
    if (status >= 0) {
        status = call(formula, answer->in, answer->out);
        if (status < 0)
            (void)fail(answer, status, "", trn_status_text(status));
    }
    for (size_t k = 0; k < formula->input_count; k++) {
        free(storage[k]);
        answer->in[k].list = NULL;
    }
    return status;
}

const trn_value *trn_formula_defaults(const trn_formula *formula)
{
    const defaults *known = defaults_of(formula);
    return known ? known->in : NULL;
}

trn_status trn_formula_run(const trn_formula *formula, const trn_value *known, const double *in,
                           double *out)
{
    trn_value values[TRN_INPUTS_MAX];
    trn_value results[TRN_OUTPUTS_MAX];
    if (!known)
        return TRN_E_MEMORY;
    for (size_t k = 0; k < formula->input_count; k++) {
        if (!isnan(in[k]))
            values[k] = (trn_value){.given = true, .x = in[k], .n = 1};
        else if (known[k].given)
            values[k] = known[k];
        else if (formula->inputs[k].fallback)
            values[k] = (trn_value){0};
        else
            return TRN_E_MISSING;
    }
    for (size_t k = 0; k < formula->output_count; k++)
        results[k] = (trn_value){0};
    trn_status status = formula->call(values, results);
    if (status >= 0)
        for (size_t k = 0; k < formula->output_count; k++)
            out[k] = results[k].x;
    return status;
}

trn_status trn_formula_numbers(const trn_formula *formula, const double *in, double *out)
{
    return trn_formula_run(formula, trn_formula_defaults(formula), in, out);
}
