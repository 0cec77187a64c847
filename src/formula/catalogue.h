/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/formula only: the tables of the subjects, and short ways to write an entry. */
#ifndef TRUNNION_CATALOGUE_H
#define TRUNNION_CATALOGUE_H

#include <trunnion/formula.h>

/* X(subject file): each file defines trn_formulas_NAME, its count, trn_sources_NAME, its count */
#define TRN_CATALOGUE(X) \
    X(power)             \
    X(joint)             \
    X(joint_load)        \
    X(joint_work)        \
    X(shaft)             \
    X(shaft_layout)      \
    X(oil)               \
    X(oil_work)          \
    X(grease)            \
    X(bearing)           \
    X(bearing_life)      \
    X(bearing_system)    \
    X(bearing_work)      \
    X(gear)              \
    X(gear_loss)         \
    X(gear_work)         \
    X(axle)              \
    X(axle_work)         \
    X(loss)              \
    X(heat_work)         \
    X(heat)              \
    X(heat_reading)      \
    X(wear)              \
    X(interval)          \
    X(mechanism)         \
    X(interval_work)     \
    X(life)              \
    X(evidence)          \
    X(spectrum)

#define TRN_X(subject)                                  \
    extern const trn_formula trn_formulas_##subject[];  \
    extern const size_t trn_formulas_##subject##_count; \
    extern const trn_source trn_sources_##subject[];    \
    extern const size_t trn_sources_##subject##_count;
TRN_CATALOGUE(TRN_X)
#undef TRN_X

/* Defaults of an entry's inputs, read once; trn_formula_numbers with them at hand. */
const trn_value *trn_formula_defaults(const trn_formula *formula);
trn_status trn_formula_run(const trn_formula *formula, const trn_value *known, const double *in,
                           double *out);

#define TRN_COUNT(array) (sizeof(array) / sizeof(array)[0])

/* symbols: required number, number with default, optional number without default, word, list */
#define REQ(name, unit, si, range, what) {name, TRN_NUMBER, unit, si, range, NULL, what, NULL}
#define DEF(name, unit, si, range, fallback, what) \
    {name, TRN_NUMBER, unit, si, range, fallback, what, NULL}
#define OPT(name, unit, si, range, what) {name, TRN_NUMBER, unit, si, range, "", what, NULL}
#define WORD(name, words, fallback, what) {name, TRN_WORD, "", "", NULL, fallback, what, words}
#define LIST(name, unit, si, range, fallback, what) \
    {name, TRN_LIST, unit, si, range, fallback, what, NULL}
#define OUT(name, unit, si, what) {name, TRN_NUMBER, unit, si, NULL, NULL, what, NULL}
#define OUTWORD(name, words, what) {name, TRN_WORD, "", "", NULL, NULL, what, words}

/* inputs, outputs and call of an entry from arrays NAME_in, NAME_out and function NAME_call */
#define ENTRY(name)                                                                      \
    .inputs = name##_in, .input_count = TRN_COUNT(name##_in), .outputs = name##_out,     \
    .output_count = TRN_COUNT(name##_out), .call = name##_call

#endif
