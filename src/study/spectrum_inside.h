/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/study only: the parts of a load spectrum. */
#ifndef TRUNNION_SPECTRUM_INSIDE_H
#define TRUNNION_SPECTRUM_INSIDE_H

#include <trunnion/spectrum.h>

enum { TRN_SPECTRUM_ROWS_MAX = 100000, TRN_SPECTRUM_LEVELS = 20 };

/* Rows of the piece that begins at row i: up to a gap or a row without torque; 0: none begins. */
size_t trn_spectrum_piece(const trn_record *record, double gap_s, size_t i);

/* Place of a value among cells of a width, lower edge in, upper edge out; a value within rounding
 * of an edge stands on it. */
double trn_spectrum_place(double value, double width);

/* Cycles of all pieces; cycles in bins; needs least_nm, most_nm and settings. */
trn_status trn_spectrum_count(const trn_record *record, trn_spectrum *spectrum);
trn_status trn_spectrum_bins(trn_spectrum *spectrum, double width, trn_faults *faults,
                             const char *file);

/* Levels and what goes by them: weight[n] of each row in the unit of spectrum->weight. */
trn_status trn_spectrum_levels(const trn_record *record, const double *time_s,
                               const double *weight, trn_spectrum *spectrum, trn_faults *faults);
trn_status trn_spectrum_parts(const trn_record *record, const double *weight,
                              trn_spectrum *spectrum);

#endif
