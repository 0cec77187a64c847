/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/study only: what the oil samples of a case say, worked out once for its results. */
#ifndef TRUNNION_STUDY_CALIBRATION_H
#define TRUNNION_STUDY_CALIBRATION_H

#include <math.h>
#include <trunnion/clock.h>
#include <trunnion/interval_rows.h>
#include <trunnion/samples_table.h>

enum { TRN_MEASURANDS_MAX = TRN_ELEMENTS + 2 }; /* viscosity has two limits */

/* Of one gearbox. */
typedef struct trn_calibration {
    trn_status status;          /* of the samples; not TRN_OK: refused, nothing is taken from them */
    trn_samples_calibration of; /* of.samples 0: there are none */
    double *work;               /* room for the water pairs */
    double water_mg_h;          /* with the drying of the duty as evaluated; NaN: not known */
    double machine_hours;       /* at the last sample */
    double *pool;               /* readings of the measurands */
    trn_measurand list[TRN_MEASURANDS_MAX];
    size_t list_count;
} trn_calibration;

/* One a gearbox. The samples belong to the case as it was read, so a copy with other numbers is
 * calibrated by its original: how dirty the air was while they were taken is no matter of what
 * is being tried. Status: TRN_E_MEMORY */
trn_status trn_calibrations_make(const trn_machine *machine, trn_calibration **out);
void trn_calibrations_free(trn_calibration *list, size_t count);

/* Water sources under the temperatures of the evaluated heat balance; no allocation. */
void trn_calibrations_water(const trn_machine *m, trn_results *r);

/* Outside air past the seals of a gearbox, m3/s: from silicon, else as stated; NaN: neither. */
double trn_intake_of(const trn_machine *m, const trn_results *r, size_t gearbox);

/* Puts what the samples say into a point of the gearbox, and takes it out again. */
void trn_calibrate_point(const trn_calibration *c, trn_service_point *sp);
void trn_uncalibrate_point(trn_service_point *sp);

/* The lesser of two lives; NaN where either is not known. */
static inline double trn_lesser_known(double a, double b)
{
    return isnan(a) || isnan(b) ? NAN : a < b ? a : b;
}

/* What samples say of a change interval beyond the manual's, into the row of a change_oil point.
 * oil_h: risk quantile of min(ageing, water), NaN: not known. */
void trn_calibration_support(const trn_machine *m, const trn_results *r, size_t point,
                             double oil_h, trn_point_row *row);

#endif
