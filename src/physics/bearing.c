/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Loads of a bearing: dynamic, static, and the thrust of inclined contact. */
#include <gsl/gsl_interp.h>
#include <gsl/gsl_math.h>
#include <trunnion/bearing.h>

#include "constant_tables.h"
#include "bearing_guard.h"

enum { POINTS = 9 };

typedef struct thrust_table {
    double X;
    double z[POINTS], e[POINTS], Y[POINTS]; /* z = f0 Fa/C0 */
} thrust_table;

/* ISO 281:2007 Table 3, published */
static const thrust_table deep_groove = {
    .X = 0.56,
    .z = {0.172, 0.345, 0.689, 1.03, 1.38, 2.07, 3.45, 5.17, 6.89},
    .e = {0.19, 0.22, 0.26, 0.28, 0.30, 0.34, 0.38, 0.42, 0.44},
    .Y = {2.30, 1.99, 1.71, 1.55, 1.45, 1.31, 1.15, 1.04, 1.00},
};

/* ISO 281:2007 Table 3, 15 deg, published */
static const thrust_table angular_15 = {
    .X = 0.44,
    .z = {0.178, 0.357, 0.714, 1.07, 1.43, 2.14, 3.57, 5.35, 7.14},
    .e = {0.38, 0.40, 0.43, 0.46, 0.47, 0.50, 0.55, 0.56, 0.56},
    .Y = {1.47, 1.40, 1.30, 1.23, 1.19, 1.12, 1.02, 1.00, 1.00},
};

/* ISO 281:2007 Table 3: 30 and 40 deg published, 20, 25 and 35 deg memory */
static struct {
    double e, X, Y;
} angular[] = {
    {0.57, 0.43, 1.00}, /* 20 deg */
    {0.68, 0.41, 0.87}, /* 25 */
    {0.80, 0.39, 0.76}, /* 30 */
    {0.95, 0.37, 0.66}, /* 35 */
    {1.14, 0.35, 0.57}, /* 40 */
};

/* ISO 76:2006, Y0 of angular contact (X0 = 0.5): 15, 30, 40 deg published, the others memory */
static double angular_Y0[] = {0.46, 0.42, 0.38, 0.33, 0.29, 0.26};

/* ISO 281:2007 and ISO 76:2006, tapered bearings, memory */
static double tapered_X = 0.4;
static double tapered_Y = 0.4;
static double tapered_e = 1.5;
static double tapered_Y0 = 0.22;

double trn_bearing_tapered_factor(void)
{
    return tapered_Y;
}

static bool known_kind(trn_bearing_kind kind)
{
    return (int)kind >= 0 && kind < TRN_BEARING_KINDS;
}

static bool tapered_angle(double alpha_rad)
{
    return alpha_rad > 0 && at_most(alpha_rad, M_PI_4);
}

trn_rolling_element trn_bearing_element(trn_bearing_kind kind)
{
    return kind < TRN_BEARING_TAPERED ? TRN_ELEMENT_BALL : TRN_ELEMENT_ROLLER;
}

trn_life_kind trn_bearing_life_kind(trn_bearing_kind kind)
{
    return trn_bearing_element(kind) == TRN_ELEMENT_BALL ? TRN_LIFE_RADIAL_BALL
                                                         : TRN_LIFE_RADIAL_ROLLER;
}

double trn_bearing_exponent(trn_rolling_element element)
{
    return element == TRN_ELEMENT_BALL ? 3 : 10.0 / 3;
}

/* linear between the rows, constant beyond the ends */
static double look_up(const double *z, const double *value, double at)
{
    if (at <= z[0])
        return value[0];
    if (at >= z[POINTS - 1])
        return value[POINTS - 1];
    size_t i = gsl_interp_bsearch(z, at, 0, POINTS - 1);
    return value[i] + (value[i + 1] - value[i]) * (at - z[i]) / (z[i + 1] - z[i]);
}

static const thrust_table *table_of(trn_bearing_kind kind)
{
    return kind == TRN_BEARING_DEEP_GROOVE  ? &deep_groove
           : kind == TRN_BEARING_ANGULAR_15 ? &angular_15
                                            : NULL;
}

static trn_status factors_of_table(const thrust_table *table, double z, double Fa,
                                   trn_equivalent_load *factors)
{
    factors->X = table->X;
    factors->Y = look_up(table->z, table->Y, z);
    factors->e = look_up(table->z, table->e, z);
    bool inside = at_least(z, table->z[0]) && at_most(z, table->z[POINTS - 1]);
    return Fa > 0 && !inside ? TRN_R_BEARING_TABLE : TRN_OK;
}

/* X, Y, e of the branch above e */
static trn_status factors_of(trn_bearing_kind kind, double Fa, double C0, double f0,
                             double alpha_rad, trn_equivalent_load *factors)
{
    const thrust_table *table = table_of(kind);
    if (table) {
        if (!is_positive(C0) || !is_positive(f0) || !isfinite(f0 * Fa / C0))
            return TRN_E_DOMAIN;
        return factors_of_table(table, f0 * Fa / C0, Fa, factors);
    }
    if (kind == TRN_BEARING_TAPERED) {
        if (!tapered_angle(alpha_rad))
            return TRN_E_DOMAIN;
        /* ISO 281:2007, radial roller bearings; constants memory */
        *factors = (trn_equivalent_load){
            .X = tapered_X, .Y = tapered_Y / tan(alpha_rad), .e = tapered_e * tan(alpha_rad)};
        return TRN_OK;
    }
    if (kind == TRN_BEARING_CYLINDRICAL || kind == TRN_BEARING_NEEDLE) {
        *factors = (trn_equivalent_load){.X = 1};
        return Fa > 0 ? TRN_E_DOMAIN : TRN_OK;
    }
    size_t i = (size_t)kind - TRN_BEARING_ANGULAR_20;
    *factors = (trn_equivalent_load){.X = angular[i].X, .Y = angular[i].Y, .e = angular[i].e};
    return TRN_OK;
}

trn_status trn_bearing_load(trn_bearing_kind kind, double Fr, double Fa, double C0, double f0,
                            double alpha_rad, trn_equivalent_load *load)
{
    if (!known_kind(kind) || !not_negative(Fr) || !not_negative(Fa))
        return TRN_E_DOMAIN;
    trn_equivalent_load found = {0};
    trn_status status = factors_of(kind, Fa, C0, f0, alpha_rad, &found);
    if (status < 0)
        return status;
    double combined = found.X * Fr + found.Y * Fa;
    /* the second condition: X + Y e of the rounded tables is up to 0.7 % below 1 */
    if (Fa <= found.e * Fr || combined < Fr) {
        found.X = 1;
        found.Y = 0;
        combined = Fr;
    }
    found.P = combined;
    *load = found;
    return status;
}

trn_status trn_bearing_static_load(trn_bearing_kind kind, double Fr, double Fa, double alpha_rad,
                                   double *P0)
{
    if (!known_kind(kind) || !not_negative(Fr) || !not_negative(Fa))
        return TRN_E_DOMAIN;
    double X0 = 0.5;
    double Y0 = 0;
    if (kind == TRN_BEARING_DEEP_GROOVE) { /* ISO 76:2006, published */
        X0 = 0.6;
        Y0 = 0.5;
    } else if (kind == TRN_BEARING_TAPERED) { /* ISO 76:2006, memory */
        if (!tapered_angle(alpha_rad))
            return TRN_E_DOMAIN;
        Y0 = tapered_Y0 / tan(alpha_rad);
    } else if (kind == TRN_BEARING_CYLINDRICAL || kind == TRN_BEARING_NEEDLE) {
        if (Fa > 0)
            return TRN_E_DOMAIN;
        X0 = 1;
    } else
        Y0 = angular_Y0[(size_t)kind - TRN_BEARING_ANGULAR_15];
    *P0 = fmax(X0 * Fr + Y0 * Fa, Fr);
    return TRN_OK;
}

/* e at the bearing's own induced thrust: a fixed point; its slope stays well below 1 */
static trn_status induced_of_15(double Fr, double C0, double f0, double *S)
{
    if (!is_positive(C0) || !is_positive(f0) || !isfinite(f0 * Fr / C0))
        return TRN_E_DOMAIN;
    double e = 0.5;
    for (int round = 0; round < 100; round++) {
        double next = look_up(angular_15.z, angular_15.e, f0 * e * Fr / C0);
        double change = fabs(next - e);
        e = next;
        if (change <= 1e-12) { /* asked for is 1e-9; the rest costs two rounds */
            *S = e * Fr;
            return TRN_OK;
        }
    }
    return TRN_E_CONVERGE;
}

trn_status trn_bearing_induced_thrust(trn_bearing_kind kind, double Fr, double C0, double f0,
                                      double alpha_rad, double *S)
{
    if (!known_kind(kind) || !not_negative(Fr))
        return TRN_E_DOMAIN;
    if (kind == TRN_BEARING_ANGULAR_15)
        return induced_of_15(Fr, C0, f0, S);
    if (kind == TRN_BEARING_TAPERED) {
        if (!tapered_angle(alpha_rad))
            return TRN_E_DOMAIN;
        *S = 0.5 * Fr * tan(alpha_rad) / tapered_Y; /* 0.5 Fr/Y */
        return TRN_OK;
    }
    bool inclined = kind >= TRN_BEARING_ANGULAR_20 && kind <= TRN_BEARING_ANGULAR_40;
    *S = inclined ? angular[(size_t)kind - TRN_BEARING_ANGULAR_20].e * Fr : 0;
    return TRN_OK;
}

trn_status trn_bearing_opposed(double SA, double SB, double Ka, double *FaA, double *FaB)
{
    if (!not_negative(SA) || !not_negative(SB) || !isfinite(Ka))
        return TRN_E_DOMAIN;
    *FaA = fmax(SA, SB + Ka);
    *FaB = fmax(SB, SA - Ka);
    return TRN_OK;
}

trn_status trn_bearing_pair(double FrA, double FrB, double YA, double YB, double Ka, double *FaA,
                            double *FaB)
{
    if (!not_negative(FrA) || !not_negative(FrB) || !is_positive(YA) || !is_positive(YB))
        return TRN_E_DOMAIN;
    return trn_bearing_opposed(0.5 * FrA / YA, 0.5 * FrB / YB, Ka, FaA, FaB);
}

/* ---- recalled, not yet compared with the printed source -------------------------------------- */

const trn_constant trn_constants_bearing[] = {
    {"iso281.load.angular_20.e", "ISO 281:2007", "Table 3",
     "e, angular contact 20 deg", "1",
     "bearing.load", &angular[0].e},
    {"iso281.load.angular_20.X", "ISO 281:2007", "Table 3",
     "X, angular contact 20 deg", "1",
     "bearing.load", &angular[0].X},
    {"iso281.load.angular_20.Y", "ISO 281:2007", "Table 3",
     "Y, angular contact 20 deg", "1",
     "bearing.load", &angular[0].Y},
    {"iso281.load.angular_25.e", "ISO 281:2007", "Table 3",
     "e, angular contact 25 deg", "1",
     "bearing.load", &angular[1].e},
    {"iso281.load.angular_25.X", "ISO 281:2007", "Table 3",
     "X, angular contact 25 deg", "1",
     "bearing.load", &angular[1].X},
    {"iso281.load.angular_25.Y", "ISO 281:2007", "Table 3",
     "Y, angular contact 25 deg", "1",
     "bearing.load", &angular[1].Y},
    {"iso281.load.angular_35.e", "ISO 281:2007", "Table 3",
     "e, angular contact 35 deg", "1",
     "bearing.load", &angular[3].e},
    {"iso281.load.angular_35.X", "ISO 281:2007", "Table 3",
     "X, angular contact 35 deg", "1",
     "bearing.load", &angular[3].X},
    {"iso281.load.angular_35.Y", "ISO 281:2007", "Table 3",
     "Y, angular contact 35 deg", "1",
     "bearing.load", &angular[3].Y},
    {"iso76.load.angular_20.Y0", "ISO 76:2006", "Table",
     "static factor Y0, angular contact 20 deg", "1",
     "bearing.static_load bearing.friction_values", &angular_Y0[1]},
    {"iso76.load.angular_25.Y0", "ISO 76:2006", "Table",
     "static factor Y0, angular contact 25 deg", "1",
     "bearing.static_load bearing.friction_values", &angular_Y0[2]},
    {"iso76.load.angular_35.Y0", "ISO 76:2006", "Table",
     "static factor Y0, angular contact 35 deg", "1",
     "bearing.static_load bearing.friction_values", &angular_Y0[4]},
    {"iso281.load.tapered.X", "ISO 281:2007", "8.2, Table",
     "X of tapered bearings", "1",
     "bearing.load", &tapered_X},
    {"iso281.load.tapered.Y", "ISO 281:2007", "8.2, Table",
     "Y tan alpha of tapered bearings", "1",
     "bearing.load", &tapered_Y},
    {"iso281.load.tapered.e", "ISO 281:2007", "8.2, Table",
     "e/tan alpha of tapered bearings", "1",
     "bearing.load", &tapered_e},
    {"iso76.load.tapered.Y0", "ISO 76:2006", "Table",
     "Y0 tan alpha of tapered bearings", "1",
     "bearing.static_load", &tapered_Y0},
};
const size_t trn_constants_bearing_count =
    sizeof trn_constants_bearing / sizeof trn_constants_bearing[0];
