/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Constants of standards that were recalled and not yet compared with the printed source.
 *
 * Each stands once, in the source file of its formula, as a variable that this table points to. It
 * may be replaced by the value of a licensed copy: once, before anything is computed and before a
 * second thread exists. After that it is only read, so that the formulas stay pure functions of
 * their inputs and of this one table. */
#ifndef TRUNNION_CONSTANTS_H
#define TRUNNION_CONSTANTS_H

#include <trunnion/table.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef struct trn_constant {
    const char *key;      /* stable: iso281.e_c.bath.17_14.c */
    const char *standard; /* with edition as recalled */
    const char *clause;
    const char *what;
    const char *unit;     /* "1": none */
    const char *formulas; /* that use it, parted by blanks */
    double *value;
} trn_constant;

/* Who compared a constant with what; NULL texts: nobody yet. */
typedef struct trn_compared {
    bool compared;
    double recalled; /* value before the comparison */
    char edition[64], by[64], date[16];
} trn_compared;

/* Number of recalled constants. */
size_t trn_constant_count(void);
/* Constant i of the list; NULL past the end. */
const trn_constant *trn_constant_at(size_t i);
/* Constant of a key as `prove --constants` lists it; NULL if there is none. */
const trn_constant *trn_constant_find(const char *key);
/* Of the constant at a place. */
const trn_compared *trn_constant_comparison(size_t i);

/* Takes over a filled list: key, printed_value, edition, compared_by, date; rows without
 * printed_value are left as they are, further columns are not looked at. All or nothing.
 * Status: TRN_E_INPUT (faults name line, column and rule), TRN_E_IO, TRN_E_MEMORY
 * Returned: *taken  how many were compared, *changed  how many of them have another value now */
trn_status trn_constants_read(const char *path, trn_faults *faults, size_t *taken,
                              size_t *changed);

/* The list as CSV, ready to be filled: key,standard,clause,what,value,unit,standing,
 * printed_value,edition,compared_by,date,formulas. */
void trn_constants_csv(trn_buffer *out);

#ifdef __cplusplus
}
#endif
#endif
