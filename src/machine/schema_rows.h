/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/machine only: short ways to write a column of the schema. */
#ifndef TRUNNION_SCHEMA_ROWS_H
#define TRUNNION_SCHEMA_ROWS_H

#include <trunnion/schema.h>

#define COUNT(array) (sizeof(array) / sizeof(array)[0])
#define AT(field) offsetof(ROW, field)

#define KEY(field, what) \
    {#field, TRN_CELL_KEY, AT(field), "", "", NULL, true, NULL, NULL, what, NULL}
#define NAME(field, required, what) \
    {#field, TRN_CELL_NAME, AT(field), "", "", NULL, required, NULL, NULL, what, NULL}
#define TEXT(field, required, what) \
    {#field, TRN_CELL_TEXT, AT(field), "", "", NULL, required, NULL, NULL, what, NULL}
#define WORD(field, required, fallback, words, what) \
    {#field, TRN_CELL_WORD, AT(field), "", "", NULL, required, fallback, words, what, NULL}
/* a number that must be there, one with a default, one that may be left out */
#define REQ(field, unit, inner, range, what) \
    {#field, TRN_CELL_NUMBER, AT(field), unit, inner, range, true, NULL, NULL, what, NULL}
#define DEF(field, unit, inner, range, fallback, what) \
    {#field, TRN_CELL_NUMBER, AT(field), unit, inner, range, false, fallback, NULL, what, NULL}
#define OPT(field, unit, inner, range, what) \
    {#field, TRN_CELL_NUMBER, AT(field), unit, inner, range, false, NULL, NULL, what, NULL}
/* hours of use: h or min only, since a day is 24 h to the units library */
#define HOURS(field, range, required, fallback, what)                                      \
    {#field, TRN_CELL_NUMBER, AT(field), "h", "h", range, required, fallback, NULL, what, "h/min"}
#define NOTE TEXT(note, false, "free text, printed with the row")

/* a table of the case, its rows in the member of the same name */
#define TABLE(name, columns, required, what, buys)                                 \
    {#name, what, sizeof *((trn_machine *)0)->name, offsetof(trn_machine, name),   \
     offsetof(trn_machine, name##_count), columns, COUNT(columns), required, buys}

extern const trn_table trn_evidence_tables[];
extern const size_t trn_evidence_table_count;

#endif
