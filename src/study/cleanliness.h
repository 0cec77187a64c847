/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/study only: how clean the oil of a gearbox is held to be. */
#ifndef TRUNNION_STUDY_CLEANLINESS_H
#define TRUNNION_STUDY_CLEANLINESS_H

#include <trunnion/bearing.h>
#include <trunnion/study.h>

enum { TRN_SYSTEM_PARTS_MAX = 128 };

typedef struct trn_cleanliness {
    bool known, beyond; /* beyond: dirtier than 21/18, e_C = 0 */
    trn_cleanliness_class clean;
    trn_remark_id remark; /* where not known */
    const char *text;
} trn_cleanliness;

/* From the cell `cleanliness`, else from the mean dust over the manual's change interval. */
trn_cleanliness trn_cleanliness_of(const trn_machine *m, const trn_results *r, size_t gearbox,
                                   trn_trace *trace);

/* Bath class of a dust content, mg of dust per kg of oil. */
trn_cleanliness trn_cleanliness_of_dust(const trn_machine *m, size_t gearbox, double dust_ppm,
                                        trn_trace *trace);

/* Part of a bearing's life that an hour of the duty takes with the oil that clean: of the life at
 * the reliability asked for, and at 90 %. NaN: not known. */
typedef struct trn_clean_damage {
    double per_h, l10_per_h;
} trn_clean_damage;
trn_clean_damage trn_damage_when(const trn_machine *m, const trn_results *r, size_t bearing,
                                 const trn_cleanliness *clean); /* lives.c */

/* Dust in mg/h that passes the seals, mean over the duty; NaN where intake or dust is unknown. */
double trn_dust_source(const trn_machine *m, const trn_results *r, size_t gearbox);

/* Least manual interval of the gearbox's change_oil points, h; NaN: none. */
double trn_manual_change(const trn_machine *m, size_t gearbox);

/* Oil mass, kg, at 15 degC. */
double trn_oil_mass(const trn_machine *m, size_t gearbox);

/* Dust of a duty row, kg/m3, from `dust` or the median of its class; NaN: neither. */
double trn_duty_dust(const trn_duty *duty);

#endif
