/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Basic and modified rating life of one bearing at one load. */
#include <gsl/gsl_math.h>
#include <trunnion/bearing.h>

#include "constant_tables.h"
#include "bearing_guard.h"

/* ISO 281:2007, from memory: Table 12, thrust bearings of 9.3, Annex B */
static double minimum_life = 0.05;
static double thrust_ball_divisor = 3;
static double thrust_roller_divisor = 2.5;
static double ball_divisor = 22;
static double roller_divisor = 8.2;
static double ball_exponent = 0.5;
static double roller_exponent = 0.3;

static bool known_element(trn_rolling_element element)
{
    return element == TRN_ELEMENT_BALL || element == TRN_ELEMENT_ROLLER;
}

static bool known_life_kind(trn_life_kind kind)
{
    return (int)kind >= 0 && kind <= TRN_LIFE_THRUST_ROLLER;
}

static bool of_balls(trn_life_kind kind)
{
    return kind == TRN_LIFE_RADIAL_BALL || kind == TRN_LIFE_THRUST_BALL;
}

trn_status trn_bearing_basic_life(trn_rolling_element element, double C, double P, double omega,
                                  double *L10_rev, double *L10_h)
{
    if (!known_element(element) || !is_positive(C) || !is_positive(P) || !is_positive(omega))
        return TRN_E_DOMAIN;
    double revolutions = 1e6 * pow(C / P, trn_bearing_exponent(element)); /* ISO 281:2007 */
    if (!isfinite(revolutions))
        return TRN_E_DOMAIN;
    *L10_rev = revolutions;
    *L10_h = revolutions * (2 * M_PI) / omega / 3600;
    if (!at_most(P, 0.5 * C))
        return TRN_R_BEARING_HEAVY;
    double least = element == TRN_ELEMENT_BALL ? 0.01 : 0.02; /* practice */
    return at_least(P, least * C) ? TRN_OK : TRN_R_BEARING_LIGHT;
}

double trn_bearing_minimum_life(void)
{
    return minimum_life;
}

trn_status trn_bearing_reliability_factor(double R, trn_a1_edition edition, double *a1)
{
    if (!(R > 0 && R < 1) || (edition != TRN_A1_2007 && edition != TRN_A1_1990))
        return TRN_E_DOMAIN;
    /* ISO 281:2007 Table 12 (memory), ISO 281:1990 (published), as a Weibull law of slope 1.5 */
    double least = edition == TRN_A1_2007 ? minimum_life : 0;
    double top = edition == TRN_A1_2007 ? 0.9995 : 0.99;
    *a1 = least + (1 - least) * pow(log(R) / log(0.9), 2.0 / 3);
    return at_least(R, 0.9) && at_most(R, top) ? TRN_OK : TRN_R_BEARING_RELIABILITY;
}

trn_status trn_bearing_reference_viscosity(double omega, double Dpw, double *nu1)
{
    if (!is_positive(omega) || !is_positive(Dpw))
        return TRN_E_DOMAIN;
    double n = omega * 30 / M_PI; /* r/min */
    double root = sqrt(1e3 * Dpw);
    /* ISO 281:2007, published; the two branches do not meet at 1000 r/min */
    double in_mm2_s = at_least(n, 1000) ? 4500 / sqrt(n) / root : 45000 * pow(n, -0.83) / root;
    *nu1 = 1e-6 * in_mm2_s;
    return TRN_OK;
}

/* ISO 281:2007 9.3, radial published. The exponent of the middle branch is 0.19087: with 0.019087,
 * a misprint that goes round, the branches would not meet at kappa = 0.4. */
static double lubrication_term(int balls, double kappa)
{
    static const struct {
        double b, d;
    } factor[2] = {{1.3993, 1.2348}, {2.2649, 1.9987}};
    double a = balls ? 2.5671 : 1.5859;
    double s = !at_least(kappa, 0.4) ? a - factor[balls].b * pow(kappa, -0.054381)
               : !at_least(kappa, 1) ? a - factor[balls].d * pow(kappa, -0.19087)
                                     : a - factor[balls].d * pow(kappa, -0.071739);
    return fmax(s, 0); /* -6e-5 for rollers at kappa = 0.1 */
}

trn_status trn_bearing_life_factor(trn_life_kind kind, double kappa, double x, double *a_iso)
{
    if (!known_life_kind(kind) || !is_positive(kappa) || !not_negative(x))
        return TRN_E_DOMAIN;
    if (!at_least(kappa, 0.1)) {
        *a_iso = 0.1;
        return TRN_R_BEARING_KAPPA;
    }
    int balls = of_balls(kind);
    double s = lubrication_term(balls, fmin(kappa, 4));
    double used = fmin(x, 5);
    if (kind == TRN_LIFE_THRUST_BALL)
        used /= thrust_ball_divisor;
    if (kind == TRN_LIFE_THRUST_ROLLER)
        used /= thrust_roller_divisor;
    double bracket = 1 - (balls ? pow(s, 0.83) * cbrt(used) : s * pow(used, 0.4));
    double a = bracket > 0 ? 0.1 * pow(bracket, balls ? -9.3 : -9.185) : 50;
    *a_iso = fmin(a, 50);
    return at_most(x, 5) ? TRN_OK : TRN_R_BEARING_X;
}

trn_status trn_bearing_fatigue_limit(trn_rolling_element element, double C0, double Dpw,
                                     double *Cu)
{
    if (!known_element(element) || !is_positive(C0) || !is_positive(Dpw))
        return TRN_E_DOMAIN;
    /* ISO 281:2007 Annex B, short form, memory */
    double size = 0.1 / Dpw; /* 100 mm */
    *Cu = element == TRN_ELEMENT_BALL ? C0 / ball_divisor * fmin(1, pow(size, ball_exponent))
                                      : C0 / roller_divisor * fmin(1, pow(size, roller_exponent));
    return TRN_OK;
}

/* The list of status.h has the remarks of a life in their order of weight. */
static trn_status weightier(trn_status a, trn_status b)
{
    if (a == TRN_OK || b == TRN_OK)
        return a == TRN_OK ? b : a;
    return a < b ? a : b;
}

trn_status trn_bearing_modified_life(trn_modified_life_case in, trn_modified_life *out)
{
    if (!known_life_kind(in.kind) || !is_positive(in.Cu) || !is_positive(in.nu))
        return TRN_E_DOMAIN;
    trn_modified_life found = {0};
    double nu1 = 0;
    double a1 = 0;
    double revolutions = 0;
    trn_rolling_element element = of_balls(in.kind) ? TRN_ELEMENT_BALL : TRN_ELEMENT_ROLLER;
    trn_status remark =
        trn_bearing_basic_life(element, in.C, in.P, in.omega, &revolutions, &found.L10_h);
    if (remark < 0)
        return remark;
    trn_status status = trn_bearing_reference_viscosity(in.omega, in.Dpw, &nu1);
    if (status < 0)
        return status;
    found.kappa = in.nu / nu1;
    status = trn_bearing_cleanliness(in.regime, in.clean, found.kappa, in.Dpw, &found.e_C);
    if (status < 0)
        return status;
    remark = weightier(remark, status);
    status = trn_bearing_life_factor(in.kind, found.kappa, found.e_C * in.Cu / in.P, &found.a_iso);
    if (status < 0)
        return status;
    remark = weightier(remark, status);
    status = trn_bearing_reliability_factor(in.R, TRN_A1_2007, &a1);
    if (status < 0)
        return status;
    found.Lnm_h = a1 * found.a_iso * found.L10_h;
    *out = found;
    return weightier(remark, status);
}

/* ---- recalled, not yet compared with the printed source -------------------------------------- */

const trn_constant trn_constants_bearing_life[] = {
    {"iso281.a1.minimum_life", "ISO 281:2007", "9.2, Table 12",
     "minimum life over L10 in a1 (1990: none)", "1",
     "bearing.reliability_factor bearing.modified_life statistics.iso281_survival", &minimum_life},
    {"iso281.a_iso.thrust_ball_divisor", "ISO 281:2007", "9.3",
     "divisor of e_C Cu/P, thrust ball bearings", "1",
     "bearing.life_factor", &thrust_ball_divisor},
    {"iso281.a_iso.thrust_roller_divisor", "ISO 281:2007", "9.3",
     "divisor of e_C Cu/P, thrust roller bearings", "1",
     "bearing.life_factor", &thrust_roller_divisor},
    {"iso281.cu.ball_divisor", "ISO 281:2007", "Annex B",
     "C0/Cu of ball bearings up to 100 mm", "1",
     "bearing.fatigue_limit", &ball_divisor},
    {"iso281.cu.roller_divisor", "ISO 281:2007", "Annex B",
     "C0/Cu of roller bearings up to 100 mm", "1",
     "bearing.fatigue_limit", &roller_divisor},
    {"iso281.cu.ball_exponent", "ISO 281:2007", "Annex B",
     "exponent of 100 mm/Dpw, ball bearings", "1",
     "bearing.fatigue_limit", &ball_exponent},
    {"iso281.cu.roller_exponent", "ISO 281:2007", "Annex B",
     "exponent of 100 mm/Dpw, roller bearings", "1",
     "bearing.fatigue_limit", &roller_exponent},
};
const size_t trn_constants_bearing_life_count =
    sizeof trn_constants_bearing_life / sizeof trn_constants_bearing_life[0];
