/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Addresses of results: `file.keys.column`, as `heat.dry.centre.oil_temperature`.
 *
 * The keys are the texts that name a row, in the order of its columns. One that is not needed to
 * tell the row may be left out; where several rows are left, the one of which all that was left
 * out is `all` is meant. The column may be left out too. `*` stands for any text of its place, and
 * then the address names every row that fits. */
#ifndef TRUNNION_ADDRESS_H
#define TRUNNION_ADDRESS_H

#include <trunnion/present.h>
#include <trunnion/sweep.h>

#ifdef __cplusplus
extern "C" {
#endif

enum { TRN_ADDRESS_KEYS = 4, TRN_ADDRESS_KEY = 128 };

typedef struct trn_address {
    const trn_view *view;
    const trn_field *field; /* NULL: the column was left out */
    bool spread;            /* put in by trn_address_spread, not asked for by its name */
    size_t keys;
    char key[TRN_ADDRESS_KEYS][TRN_ADDRESS_KEY]; /* that name the row; "" fits any */
} trn_address;

typedef struct trn_addresses { /* start with {0} */
    trn_address *list;
    size_t n;
} trn_addresses;
/* Frees the list, not the results it points into; the list is then empty. */
void trn_addresses_free(trn_addresses *addresses);

/* Finds what a text names and adds it to the list.
 *
 * Given:    results  evaluated, with the rows of the file that is named (trn_address_wanted)
 * Status:   TRN_E_INPUT with `why` filled: nothing of that name (the nearest that there are), or
 *           several rows although no `*` was given (they are named); TRN_E_MEMORY
 * Checked by tests/sweep.c */
trn_status trn_address_find(const trn_results *results, const char *text, trn_addresses *out,
                            trn_buffer *why);

/* Puts every column with numbers in the place of an address without column.
 * Status: TRN_E_MEMORY */
trn_status trn_address_spread(trn_addresses *addresses);

/* Parts of the evaluation that the file of a text needs; 0 where there is no such file.
 * *extras: it is one of the series of trn_study_extras. */
unsigned trn_address_wanted(const char *text, bool *extras);

/* The row that an address names in other results of the case; NULL where it is gone. */
const void *trn_address_row(const trn_address *address, const trn_results *results);

/* The number there; NaN where it is not known, the row is gone, or the column holds no numbers. */
double trn_address_value(const trn_address *address, const trn_results *results);

/* Its remarks, "" where there are none. */
void trn_address_remarks(const trn_address *address, const trn_results *results, trn_buffer *out);

/* `heat.dry.centre.oil_temperature` and, with_unit, ` [degC]`. */
void trn_address_text(const trn_address *address, bool with_unit, trn_buffer *out);

/* Limits that the number is held against, as it stands in the results:
 *   angles              angle_limit of the shaft
 *   clearance           bottoming (0) and clearance needed
 *   overlap             parting (0) and overlap needed
 *   oil temperatures    95 degC where the oil is mineral
 *   lives               design_life and, where given, warranty_hours
 *   reliability         the machine's
 *   intervals           the manual's
 * Source: heat page, section 6 (95 degC); the rest from the case. Standing: as there. */
size_t trn_address_bounds(const trn_address *address, const trn_results *results,
                          trn_bound out[TRN_BOUNDS_MAX]);

/* For trn_sweep_run and trn_compare_run; the address must outlive it. */
trn_follow trn_address_follow(const trn_address *address);

#ifdef __cplusplus
}
#endif
#endif
