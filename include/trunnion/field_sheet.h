/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sheet that is taken to the machine: what to measure, where, with what, in which order, and
 * into which cell of which table each figure goes. */
#ifndef TRUNNION_FIELD_SHEET_H
#define TRUNNION_FIELD_SHEET_H

#include <trunnion/starter.h>

#ifdef __cplusplus
extern "C" {
#endif

/* When a figure is taken. */
typedef enum trn_field_time {
    TRN_FIELD_PAPERS, /* manual, plates, data sheets: at the desk */
    TRN_FIELD_COLD,   /* before starting: engine off, key out */
    TRN_FIELD_WORK,   /* at work, from the seat */
    TRN_FIELD_WARM,   /* after stopping, everything at rest */
    TRN_FIELD_TIMES
} trn_field_time;

typedef struct trn_field_entry {
    trn_field_time time;
    const char *table, *column; /* the cell it goes to */
    const char *what;           /* what and where; NULL: a column of a table to be filled in */
    const char *with;           /* the tool */
} trn_field_entry;

/* Number of entries. */
size_t trn_field_entry_count(void);
/* Entry i, in the order of measuring; NULL past the end. */
const trn_field_entry *trn_field_entry_at(size_t i);

/* The sheet as one page that prints on A4, for the tables of a question.
 * Status: TRN_E_MEMORY */
trn_status trn_field_sheet(trn_starter starter, trn_buffer *out);

#ifdef __cplusplus
}
#endif
#endif
