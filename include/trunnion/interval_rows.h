/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of the interval table. */
#ifndef TRUNNION_INTERVAL_ROWS_H
#define TRUNNION_INTERVAL_ROWS_H

#include <trunnion/mechanism.h>
#include <trunnion/study.h>

#ifdef __cplusplus
extern "C" {
#endif

enum { TRN_REASON_MAX = 400 };

struct trn_point_row {
    size_t point;
    double manual_h, nominal_h, median_h, low_h, high_h, at_risk_h, recommended_h, first_change_h,
        shortening, times_per_year;
    double too_long_pct;    /* draws that the manual's interval is too long for; NaN: no draws */
    double at_risk_error_h; /* of the risk quantile */
    double support_h;       /* interval beyond the manual's that samples support; NaN: none */
    double severe_h;        /* the manual's own interval for severe service; NaN: none */
    double dust_mg_m3;      /* mean over the duty */
    bool severe;            /* that interval is the recommended one */
    bool drawn;             /* the numbers are of draws, not the medians alone */
    trn_cause sets;         /* with draws: what sets the recommendation */
    trn_cause governed_by, second_limit;
    char reason[TRN_REASON_MAX];
    trn_nominal nominal;
    trn_remarks remarks;
};

#ifdef __cplusplus
}
#endif
#endif
