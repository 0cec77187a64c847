/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/machine only. */
#ifndef TRUNNION_RULES_H
#define TRUNNION_RULES_H

#include <trunnion/machine.h>

/* place of `tapered` in the kinds of bearing */
enum { TRN_KIND_TAPERED = 7 };

/* Rules of single tables; the shares of the duty are normalised to 1. */
void trn_rules_check(trn_machine *machine, trn_faults *faults);

/* Samples of a gearbox at one hour, or on oil older than their order allows. */
void trn_rules_samples(const trn_machine *machine, trn_faults *faults);
/* Rules of failure.csv and of the quantity `life`. */
void trn_rules_evidence(const trn_machine *machine, trn_faults *faults);
/* Rules of basis.csv, once the other tables are linked. */
void trn_basis_check(const trn_machine *machine, trn_faults *faults);
/* 2026, 2026-05, 2026-05-14, 2026-05-14T08:30+02:00 */
bool trn_is_iso_date(const char *text);

/* Was this cell filled in by the user, or set by an override? */
bool trn_cell_given(const char *table, const char *column, const trn_row *row);

#endif
