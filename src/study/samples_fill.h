/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/study only: samples put in order, fills of oil told apart. */
#ifndef TRUNNION_SAMPLES_FILL_H
#define TRUNNION_SAMPLES_FILL_H

#include <math.h>
#include <trunnion/samples_table.h>

/* Litres that a gearbox holds, m3, and the share of old oil left at a change. */
double trn_samples_volume(const trn_samples_settings *settings, const char *gearbox);
double trn_samples_left(const trn_samples_settings *settings, const char *gearbox);

/* Oil added with a sample, m3; 0 where the cell is blank. */
static inline double trn_samples_added(const trn_sample *sample)
{
    return sample->top_up > 0 ? sample->top_up : 0;
}

/* places[n], filled and sorted. Status: TRN_E_INPUT with faults. */
trn_status trn_samples_places(const trn_sample *rows, size_t n, const char *file,
                              const trn_samples_settings *settings, trn_faults *faults,
                              trn_samples_place *places);

#endif
