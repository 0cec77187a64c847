/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Torsional ripple of a shaft between two inertias, and what it does to bearing loads. */
#include <gsl/gsl_errno.h>
#include <gsl/gsl_sf_gamma.h>
#include <gsl/gsl_sf_hyperg.h>
#include <trunnion/shaft.h>

#include "joint_guard.h"

static bool line_holds(const trn_shaft_line *line)
{
    return joint_positive(line->torque_nm) && joint_not_negative(line->omega_rad_s) &&
           joint_bend_angle(line->beta_e_rad) && joint_positive(line->stiffness_nm_rad) &&
           joint_positive(line->inertia_driven_kg_m2) &&
           joint_positive(line->inertia_driving_kg_m2) && joint_not_negative(line->damping);
}

/* 1/J_r = 1/J1 + 1/J2 */
static double natural_frequency(const trn_shaft_line *line)
{
    return sqrt(line->stiffness_nm_rad *
                (1 / line->inertia_driven_kg_m2 + 1 / line->inertia_driving_kg_m2));
}

trn_status trn_shaft_ripple_of(trn_shaft_line line, trn_shaft_ripple *ripple)
{
    static const double slack = 1e-9;
    if (!line_holds(&line))
        return TRN_E_DOMAIN;
    double natural = natural_frequency(&line);
    double r = 2 * line.omega_rad_s / natural;
    double damper = 2 * line.damping * r;
    if (line.damping == 0 && fabs(r - 1) <= slack)
        return TRN_E_DOMAIN; /* no bound to the amplitude */
    double amplitude = line.stiffness_nm_rad * joint_kappa(line.beta_e_rad) * r * r *
                       hypot(1, damper) / hypot((1 - r) * (1 + r), damper);
    double share = amplitude / line.torque_nm;
    *ripple = (trn_shaft_ripple){amplitude, share, r, natural / 2};
    if (share > 1 + slack)
        return TRN_R_SHAFT_TORQUE_REVERSES;
    if (r > 0.8 * (1 + slack) && r < 1.25 * (1 - slack))
        return TRN_R_SHAFT_RESONANCE;
    return TRN_OK;
}

trn_status trn_shaft_torque_wave(trn_shaft_line line, double theta_rad, double theta0_rad,
                                 double *torque_nm)
{
    trn_shaft_ripple ripple;
    if (!isfinite(theta_rad) || !isfinite(theta0_rad))
        return TRN_E_DOMAIN;
    trn_status status = trn_shaft_ripple_of(line, &ripple);
    if (status < 0)
        return status;
    double r = ripple.frequency_ratio;
    double damper = 2 * line.damping * r;
    double lag = atan2(damper, 1) - atan2(damper, (1 - r) * (1 + r)); /* arg H */
    *torque_nm =
        line.torque_nm - ripple.amplitude_nm * sin(2 * (theta_rad - theta0_rad) + lag);
    return status;
}

/* ---- load factor --------------------------------------------------------------------------- */

/* The p-mean is a hypergeometric function (Legendre's integral). GSL 2.7 returns wrong values
 * without an error where c - a - b = p + 1/2 is a whole number, and fails for large p: both go
 * to the quadrature. The exponents of bearings, 3 and 10/3, are on the fast side. */
static bool closed_form_holds(double p)
{
    double d = p + 0.5;
    return p <= 10 && fabs(d - round(d)) >= 0.05;
}

static trn_status mean_closed(double rho, double p, double *mean)
{
    gsl_sf_result f;
    if (rho <= 1) {
        if (gsl_sf_hyperg_2F1_e(-p / 2, (1 - p) / 2, 1, rho * rho, &f) != GSL_SUCCESS)
            return TRN_E_CONVERGE;
        *mean = f.val / pow(1 + rho, p);
        return TRN_OK;
    }
    gsl_sf_result above;
    gsl_sf_result below;
    if (gsl_sf_hyperg_2F1_e(-p / 2, -p / 2, 0.5, 1 / rho / rho, &f) != GSL_SUCCESS ||
        gsl_sf_gamma_e((p + 1) / 2, &above) != GSL_SUCCESS ||
        gsl_sf_gamma_e(p / 2 + 1, &below) != GSL_SUCCESS)
        return TRN_E_CONVERGE;
    *mean = f.val * above.val / (below.val * sqrt(JOINT_PI)) / pow(1 + 1 / rho, p);
    return TRN_OK;
}

/* Integral from `from` to `to` of (|1 + rho cos x|/(1 + rho))^p by the double exponential rule,
 * which does not mind the kink that stands at an end of the interval. */
static double piece(double rho, double p, double from, double to)
{
    static const double step = 1.0 / 32;
    static const int steps = 112; /* weights have died off at 3.5 */
    double sum = 0;
    for (int i = -steps; i <= steps; i++) {
        double t = step * i;
        double g = JOINT_RIGHT_ANGLE * sinh(t);
        double x = from + (to - from) / (1 + exp(-2 * g));
        double weight = JOINT_RIGHT_ANGLE * cosh(t) / (cosh(g) * cosh(g));
        sum += weight * pow(fabs(1 + rho * cos(x)) / (1 + rho), p);
    }
    return sum * step * (to - from) / 2;
}

static double mean_by_pieces(double rho, double p)
{
    if (rho <= 1)
        return piece(rho, p, 0, JOINT_PI) / JOINT_PI;
    double kink = acos(-1 / rho);
    return (piece(rho, p, 0, kink) + piece(rho, p, kink, JOINT_PI)) / JOINT_PI;
}

trn_status trn_shaft_ripple_factor(double rho, double p, double *factor)
{
    if (!joint_not_negative(rho) || !(p >= 1) || !(p <= 100))
        return TRN_E_DOMAIN;
    double mean = 0; /* of (load/largest load)^p */
    if (!closed_form_holds(p))
        mean = mean_by_pieces(rho, p);
    else if (mean_closed(rho, p, &mean) < 0)
        return TRN_E_CONVERGE;
    *factor = (1 + rho) * pow(mean, 1 / p);
    return TRN_OK;
}
