/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <trunnion/samples_rate.h>

#include "statistics.h"

trn_status trn_samples_rate(double c1, double c2, double t1_h, double t2_h, double s_m,
                            double *rate, double *sd)
{
    if (!trn_not_negative(c1) || !trn_not_negative(c2) || !trn_not_negative(t1_h) ||
        !isfinite(t2_h) || !(t2_h > t1_h) || !trn_not_negative(s_m))
        return TRN_E_DOMAIN;
    *rate = (c2 - c1) / (t2_h - t1_h);
    *sd = sqrt(2) * s_m / (t2_h - t1_h);
    return TRN_OK;
}

trn_status trn_samples_residual(double c, double t_h, double c_last, double rho, double c_new,
                                double *c_start, double *rate, double *naive)
{
    if (!trn_not_negative(c) || !trn_positive(t_h) || !trn_not_negative(c_last) ||
        !(rho >= 0) || !(rho < 1) || !trn_not_negative(c_new))
        return TRN_E_DOMAIN;
    double start = rho * c_last + (1 - rho) * c_new;
    *c_start = start;
    *rate = (c - start) / t_h;
    *naive = c / t_h;
    return TRN_OK;
}

trn_status trn_samples_top_up(double c, double t_h, double volume, double leak, double c_0,
                              double *rate, double *naive, double *c_limit, double *tau_h)
{
    if (!trn_not_negative(c) || !trn_positive(t_h) || !trn_positive(volume) ||
        !trn_not_negative(leak) || !trn_not_negative(c_0))
        return TRN_E_DOMAIN;
    double plain = (c - c_0) / t_h;
    double exchanged = leak * t_h / volume;
    double a = plain;
    double limit = INFINITY;
    double tau = INFINITY;
    if (exchanged > 0) {
        /* C - C_0 e^-u = (C - C_0) + C_0 (1 - e^-u): nothing cancels for a small leak */
        limit = (c - c_0) / -expm1(-exchanged) + c_0;
        tau = volume / leak;
        a = limit / tau;
    }
    *rate = a;
    *naive = plain;
    *c_limit = limit;
    *tau_h = tau;
    return TRN_OK;
}

trn_status trn_samples_dust(double si, double al, double low, double high, double *ratio,
                            bool *dust)
{
    if (!trn_not_negative(si) || !trn_positive(al) || !trn_positive(low) || !(high >= low) ||
        !isfinite(high))
        return TRN_E_DOMAIN;
    double r = si / al;
    *ratio = r;
    *dust = r >= low && r <= high;
    return TRN_OK;
}
