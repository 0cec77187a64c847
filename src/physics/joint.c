/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <trunnion/joint.h>

static const double right_angle = 1.57079632679489661923;

/* guards are written so that NaN fails them */
static int bend_angle(double beta_rad)
{
    return beta_rad >= 0 && beta_rad < right_angle;
}

trn_status trn_joint_ratio(double beta_rad, double theta_rad, double *ratio)
{
    if (!bend_angle(beta_rad) || !isfinite(theta_rad))
        return TRN_E_DOMAIN;
    double s = sin(beta_rad) * sin(beta_rad);
    double c = cos(theta_rad);
    *ratio = cos(beta_rad) / (1 - s * c * c); /* E1 */
    return TRN_OK;
}
