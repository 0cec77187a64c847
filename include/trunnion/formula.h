/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The formula catalogue: one entry a formula. The library function is the implementation, the
 * entry is its face: names, units, ranges, validity, source. */
#ifndef TRUNNION_FORMULA_H
#define TRUNNION_FORMULA_H

#include <stdbool.h>
#include <stddef.h>
#include <trunnion/status.h>
#include <trunnion/text.h>

#ifdef __cplusplus
extern "C" {
#endif

/* A value as the library function takes it. number: x, in the symbol's `si` unit; word: x is
 * its place in `words`; list: list[0..n-1]. given is false for an input that was left out and
 * has no default. Outputs are written the same way (x, and list never). */
typedef struct trn_value {
    bool given;
    double x;
    const double *list;
    size_t n;
} trn_value;

typedef enum trn_kind { TRN_NUMBER = 0, TRN_WORD, TRN_LIST } trn_kind;

typedef struct trn_symbol {
    const char *name;     /* as the catalogue writes it: case matters */
    trn_kind kind;
    const char *unit;     /* catalogue unit, "1" without one, "" for words */
    const char *si;       /* unit in which the library function takes or gives it */
    const char *range;    /* in catalogue units, as an interval: "[0,90)", "(0,inf)"; NULL: any
                             finite number (a list: each of its members); NULL for outputs */
    const char *fallback; /* default, as text in the catalogue unit; NULL: required;
                             "": may be left out and has no default */
    const char *what;     /* meaning, a few words */
    const char *const *words; /* TRN_WORD: the choices, NULL at the end */
} trn_symbol;

typedef trn_status (*trn_formula_call)(const trn_value *in, trn_value *out);

typedef struct trn_formula {
    const char *name;     /* subject.name */
    const char *what;     /* one line: what it gives */
    const char *equation; /* as plain text, lines parted by \n */
    const char *validity; /* where it holds; what is refused and remarked on */
    const char *source;   /* keys of the source table, parted by "; ", each may be followed by
                             a clause or page in parentheses: "ISO281 (7.2); Jindal (ex. 18-4)" */
    const char *standing; /* published, derived, memory, practice, or several with what they
                             belong to: "form published, constants memory" */
    const char *example;  /* arguments of a worked line: "beta=15deg theta=30deg" */
    const trn_symbol *inputs;
    size_t input_count;
    const trn_symbol *outputs;
    size_t output_count;
    trn_formula_call call;
} trn_formula;

typedef struct trn_source {
    const char *key;      /* short, without blanks: "ISO281" */
    const char *text;     /* author, title, edition, page; what was used of it */
    const char *standing; /* published (text seen), memory (recalled), practice */
} trn_source;

enum { TRN_INPUTS_MAX = 32, TRN_OUTPUTS_MAX = 16 };

/* The catalogue in its order (by subject). */
size_t trn_formula_count(void);
/* Entry i of the catalogue, by subject; NULL past the end. */
const trn_formula *trn_formula_at(size_t i);
/* Entry of a name (`joint.pair`); NULL if there is none. */
const trn_formula *trn_formula_find(const char *name);
/* Number of sources that entries name. */
size_t trn_source_count(void);
/* Source i; NULL past the end. */
const trn_source *trn_source_at(size_t i);
/* Source of a key of `length` characters (keys stand in lists); NULL if there is none. */
const trn_source *trn_source_find(const char *key, size_t length);

/* Evaluated answer. `faulty` names the symbol that a negative status is about (or ""). */
typedef struct trn_answer {
    trn_value out[TRN_OUTPUTS_MAX];
    trn_value in[TRN_INPUTS_MAX]; /* as used, defaults filled in; lists are freed by then */
    char faulty[48];
    char why[160]; /* message for a person where status is negative */
} trn_answer;

/* Evaluate with texts, as `trunnion formula` and check files do.
 * Given:    pairs   "symbol=value unit", count of them; a value without unit is in the
 *                   catalogue unit; lists are parted by '/'
 * Returned: answer  outputs in the library's units (trn_formula_shown converts)
 * Status:   TRN_E_SYMBOL, TRN_E_NUMBER, TRN_E_UNIT, TRN_E_MISSING, TRN_E_DOMAIN (answer->faulty
 *           and ->why say what); a positive remark; TRN_OK */
trn_status trn_formula_evaluate(const trn_formula *formula, const char *const *pairs,
                                size_t count, trn_answer *answer);

/* Evaluate with numbers in the library's units: NaN = left out (default, or not given).
 * in[input_count]; out[output_count]. Lists cannot be passed. No text is touched: for loops.
 * Status: TRN_E_MISSING, TRN_E_DOMAIN, out untouched; a positive remark; TRN_OK */
trn_status trn_formula_numbers(const trn_formula *formula, const double *in, double *out);

/* Value of a symbol in its catalogue unit (numbers) for showing. */
double trn_formula_shown(const trn_symbol *symbol, double x);

/* As text: number in the catalogue unit with `digits` significant digits (0: 12), or the word. */
void trn_formula_text(const trn_symbol *symbol, const trn_value *value, int digits, char *out,
                      size_t size);

/* Range text "[0,90)" against x in the catalogue unit, with a relative slack of 1e-9 at closed
 * ends; NULL or "" accept every finite number. */
bool trn_range_holds(const char *range, double x);

/* Range text in words: "0 to below 90", "above 0"; nothing for NULL or "". */
void trn_range_words(const char *range, trn_buffer *out);

#ifdef __cplusplus
}
#endif
#endif
