/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/physics only: guards that joint and shaft share. Written so that NaN fails them. */
#ifndef TRUNNION_JOINT_GUARD_H
#define TRUNNION_JOINT_GUARD_H

#include <math.h>
#include <stdbool.h>

#define JOINT_PI 3.14159265358979323846
#define JOINT_RIGHT_ANGLE 1.57079632679489661923
#define JOINT_DEG (JOINT_PI / 180)

static inline bool joint_bend_angle(double beta_rad)
{
    return beta_rad >= 0 && beta_rad < JOINT_RIGHT_ANGLE;
}

/* A bend that was computed from vectors or lengths carries their last bits: 90 deg may come out
 * as a hair less, and must be refused all the same. */
static inline bool joint_computed_bend(double beta_rad)
{
    return fabs(beta_rad) < JOINT_RIGHT_ANGLE * (1 - 1e-12);
}

static inline bool joint_slope(double angle_rad)
{
    return fabs(angle_rad) < JOINT_RIGHT_ANGLE;
}

static inline bool joint_positive(double x)
{
    return x > 0 && isfinite(x);
}

static inline bool joint_not_negative(double x)
{
    return x >= 0 && isfinite(x);
}

/* kappa = tan^2(beta/2), amplitude of the second harmonic of the angle error in rad */
static inline double joint_kappa(double beta_rad)
{
    double t = tan(beta_rad / 2);
    return t * t;
}

#endif
