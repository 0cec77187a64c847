/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Joints: independent routes (vectors in space, numerical derivative, integral, search) against
 * the closed forms, worked figures of the trade, refused inputs. */
#include <criterion/criterion.h>
#include <gsl/gsl_deriv.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>
#include <gsl/gsl_sf_hyperg.h>
#include <math.h>
#include <string.h>
#include <trunnion/formula.h>
#include <trunnion/joint.h>

#include "support.h"

#define PI 3.14159265358979323846
#define DEG (PI / 180)
#define RPM (2 * PI / 60)
#define UNTOUCHED (-987.125)

static void near_value(double got, double wanted, double tolerance, const char *what, double at)
{
    cr_expect(fabs(got - wanted) <= tolerance, "%s at %.9g: wanted %.12g, got %.12g", what, at,
              wanted, got);
}

static void near_share(double got, double wanted, double relative, const char *what, double at)
{
    cr_expect(test_near(got, wanted, relative), "%s at %.9g: wanted %.12g, got %.12g", what, at,
              wanted, got);
}

static const double bends[] = {0.003, 0.7, 5.31, 12.7, 22.6, 33.4, 45.9, 61.7, 79.3, 88.9};
static const size_t bend_count = sizeof bends / sizeof bends[0];

/* ---- one joint ----------------------------------------------------------------------------- */

static double ratio_at(double theta, void *beta)
{
    double r = NAN;
    (void)trn_joint_ratio(*(double *)beta, theta, &r);
    return r;
}

static double phi_at(double theta, void *beta)
{
    double phi = NAN;
    (void)trn_joint_output_angle(*(double *)beta, theta, &phi);
    return phi;
}

/* derived: the ratio is the derivative of the output angle, the acceleration that of the ratio */
Test(joint, motion_against_numerical_derivatives)
{
    gsl_set_error_handler_off();
    double omega = 540 * RPM;
    for (size_t i = 0; i < bend_count; i++) {
        double beta = bends[i] * DEG;
        for (double theta = -3.385; theta < 9; theta += 0.617) {
            gsl_function angle = {phi_at, &beta};
            gsl_function speed = {ratio_at, &beta};
            double h = 1e-3 * cos(beta);
            double slope = 0;
            double error = 0;
            gsl_deriv_central(&angle, theta, h, &slope, &error);
            near_value(slope, ratio_at(theta, &beta), 1e-9 + 4 * error, "d phi/d theta", theta);
            gsl_deriv_central(&speed, theta, h, &slope, &error);
            double alpha = 0;
            cr_expect_eq(trn_joint_acceleration(beta, theta, omega, &alpha), TRN_OK);
            near_value(alpha / omega / omega, slope, 1e-9 * fabs(slope) + 4 * error,
                       "acceleration", theta);
        }
    }
}

/* derived: tan phi = tan theta/cos beta; a whole turn is a whole turn; the series in kappa */
Test(joint, output_angle_identities)
{
    for (size_t i = 0; i < bend_count; i++) {
        double beta = bends[i] * DEG;
        double kappa = tan(beta / 2) * tan(beta / 2);
        for (double theta = -7.13; theta < 8; theta += 0.293) {
            double phi = phi_at(theta, &beta);
            near_value(sin(phi) * cos(theta) * cos(beta), cos(phi) * sin(theta), 1e-14,
                       "tan phi cos beta = tan theta", theta);
            near_value(phi_at(theta + 2 * PI, &beta), phi + 2 * PI, 1e-11, "a whole turn", theta);
            near_value(phi_at(-theta, &beta), -phi, 1e-14, "odd in theta", theta);
            if (bends[i] < 40) {
                double sum = theta;
                for (int k = 1; k < 40; k++)
                    sum += pow(kappa, k) / k * sin(2 * k * theta);
                near_value(phi, sum, 1e-14, "series", theta);
            }
        }
    }
}

/* derived: mean ratio 1; r = 1 at tan theta = sqrt(cos beta); extremes; largest lead */
Test(joint, fluctuation_against_the_ratio)
{
    gsl_set_error_handler_off();
    for (size_t i = 0; i < bend_count; i++) {
        double beta = bends[i] * DEG;
        trn_joint_swing swing;
        cr_expect_eq(trn_joint_fluctuation(beta, 12.35, &swing), TRN_OK);
        near_share(ratio_at(0, &beta), swing.ratio_max, 1e-14, "ratio_max", bends[i]);
        near_share(ratio_at(PI / 2, &beta), swing.ratio_min, 1e-12, "ratio_min", bends[i]);
        near_share(swing.omega_max_rad_s, 12.35 * swing.ratio_max, 1e-15, "n_max", bends[i]);
        near_share(swing.omega_min_rad_s, 12.35 * swing.ratio_min, 1e-15, "n_min", bends[i]);
        near_value(swing.fluctuation, swing.ratio_max - swing.ratio_min,
                   1e-14 * swing.ratio_max, "U", bends[i]);
        double even = atan(sqrt(cos(beta)));
        near_value(ratio_at(even, &beta), 1, 1e-14, "equal speeds", bends[i]);
        near_value(phi_at(even, &beta) - even, swing.angle_error_rad, 3e-15, "lead", bends[i]);
        double sum = 0; /* periodic and smooth: the plain sum is exact */
        int n = 4000;
        for (int k = 0; k < n; k++)
            sum += ratio_at(2 * PI * k / n, &beta);
        near_value(sum / n, 1, 1e-12, "mean ratio", bends[i]);
    }
}

/* derived: table of the exact figures (printed digits) */
Test(joint, table_of_one_joint)
{
    static const double rows[][7] = {
        {5, 0.7625, 0.10922, 0.007625, 44.782, 1.00127, 1.00255},
        {10, 3.0619, 0.43856, 0.030626, 44.123, 1.00514, 1.01030},
        {15, 6.9350, 0.99312, 0.069434, 43.018, 1.01175, 1.02362},
        {20, 12.4485, 1.78168, 0.124966, 41.459, 1.02136, 1.04311},
        {25, 19.7070, 2.81714, 0.198965, 39.451, 1.03439, 1.06973},
        {30, 28.8675, 4.11719, 0.294571, 37.021, 1.05141, 1.10489},
        {35, 40.1623, 5.70539, 0.417232, 34.228, 1.07327, 1.15062},
        {40, 53.9363, 7.61260, 0.576215, 31.159, 1.10121, 1.20984},
        {45, 70.7107, 9.87928, 0.787200, 27.918, 1.13701, 1.28689},
    };
    gsl_set_error_handler_off();
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const double *row = rows[i];
        double beta = row[0] * DEG;
        trn_joint_swing swing;
        double f = 0;
        double theta = 0;
        double k = 0;
        double other = 0;
        cr_expect_eq(trn_joint_fluctuation(beta, 1, &swing), TRN_OK);
        cr_expect_eq(trn_joint_peak_acceleration(beta, 1, &f, &theta), TRN_OK);
        cr_expect_eq(trn_joint_load_growth(beta, &k, &other), TRN_OK);
        near_value(100 * swing.fluctuation, row[1], 0.5001e-4, "U", row[0]);
        near_value(swing.angle_error_rad / DEG, row[2], 0.5001e-5, "angle error", row[0]);
        near_value(f, row[3], 0.5001e-6, "F", row[0]);
        near_value(theta / DEG, row[4], 0.5001e-3, "theta", row[0]);
        near_value(k, row[5], 0.5001e-5, "K_beta", row[0]);
        near_value(other, row[6], 0.5001e-5, "K of the other pair", row[0]);
    }
}

/* derived: the peak is the least acceleration of the turn, by search; the explicit form */
Test(joint, peak_acceleration_is_the_peak)
{
    for (size_t i = 0; i < bend_count; i++) {
        double beta = bends[i] * DEG;
        double omega = 104.7;
        double alpha = 0;
        double theta = 0;
        double at = 0;
        cr_expect_eq(trn_joint_peak_acceleration(beta, omega, &alpha, &theta), TRN_OK);
        cr_expect(theta > 0 && theta <= PI / 4);
        cr_expect_eq(trn_joint_acceleration(beta, theta, omega, &at), TRN_OK);
        near_share(at, -alpha, 1e-12, "acceleration at theta*", bends[i]);
        cr_expect_eq(trn_joint_acceleration(beta, PI - theta, omega, &at), TRN_OK);
        near_share(at, alpha, 1e-12, "speeds up at 180 - theta*", bends[i]);
        double largest = 0;
        for (int k = 0; k <= 100000; k++) {
            (void)trn_joint_acceleration(beta, PI / 2 * k / 100000, omega, &at);
            largest = fmax(largest, -at);
        }
        cr_expect_leq(largest, alpha * (1 + 1e-13));
        near_share(largest, alpha, 1e-5, "search", bends[i]);
        double s = sin(beta) * sin(beta);
        double a = 1 - s / 2;
        double c2 = 2 * s / (a + sqrt(a * a + 2 * s * s));
        if (bends[i] < 80)
            near_value(cos(2 * theta), c2, 1e-15 / cos(beta), "cos 2 theta*", bends[i]);
    }
    double alpha = 0;
    double theta = 0;
    cr_expect_eq(trn_joint_peak_acceleration(0, 10, &alpha, &theta), TRN_OK);
    cr_expect_eq(alpha, 0);
    near_value(theta, PI / 4, 1e-15, "theta* of a straight joint", 0);
    /* derived: F -> beta^2 without loss of digits */
    cr_expect_eq(trn_joint_peak_acceleration(1e-7, 1, &alpha, &theta), TRN_OK);
    near_share(alpha, 1e-14, 1e-12, "small angle", 1e-7);
}

/* derived: round trips; limits of section 12 of the joint page, printed digits */
Test(joint, inverse_functions)
{
    static const double limits[][3] = {{540, 400, 20.01},   {1000, 400, 10.91}, {1300, 400, 8.40},
                                       {540, 1000, 30.82},  {1000, 1000, 17.15},
                                       {1300, 1000, 13.24}};
    for (size_t i = 0; i < bend_count; i++) {
        double beta = bends[i] * DEG;
        double omega = 56.55;
        double back = 0;
        double alpha = 0;
        double theta = 0;
        trn_joint_swing swing;
        (void)trn_joint_fluctuation(beta, 1, &swing);
        cr_expect_eq(trn_joint_angle_for_fluctuation(swing.fluctuation, &back), TRN_OK);
        near_share(back, beta, 1e-13, "angle for fluctuation", bends[i]);
        (void)trn_joint_peak_acceleration(beta, omega, &alpha, &theta);
        cr_expect_eq(trn_joint_angle_for_acceleration(omega, alpha, &back), TRN_OK);
        near_share(back, beta, 1e-13, "angle for acceleration", bends[i]);
    }
    for (size_t i = 0; i < sizeof limits / sizeof limits[0]; i++) {
        double beta = 0;
        cr_expect_eq(
            trn_joint_angle_for_acceleration(limits[i][0] * RPM, limits[i][1], &beta), TRN_OK);
        near_value(beta / DEG, limits[i][2], 0.005001, "limit", limits[i][0]);
    }
    double beta = 1;
    cr_expect_eq(trn_joint_angle_for_acceleration(12, 0, &beta), TRN_OK);
    cr_expect_eq(beta, 0);
    /* derived: small-angle constant n beta(deg) = 547.13 sqrt(alpha) */
    cr_expect_eq(trn_joint_angle_for_acceleration(1000 * RPM, 1e-4, &beta), TRN_OK);
    near_value(1000 * beta / DEG / sqrt(1e-4), 547.13, 0.005, "small-angle constant", 1e-4);
    /* derived: 100 rpm at 1200 rpm, and +-6 % */
    cr_expect_eq(trn_joint_angle_for_fluctuation(100.0 / 1200, &beta), TRN_OK);
    near_value(beta / DEG, 16.423, 0.0005, "swing of 100 rpm", 1200);
    cr_expect_eq(trn_joint_angle_for_fluctuation(0.12, &beta), TRN_OK);
    near_value(beta / DEG, 19.644, 0.0005, "+-6 %", 0.12);
}

/* derived: angle between unit vectors; both rules below hypot(h, v) */
Test(joint, compound_angle_against_vectors)
{
    for (double h = -71.3; h < 80; h += 13.77)
        for (double v = -62.9; v < 80; v += 17.31) {
            double projected = 0;
            double successive = 0;
            cr_expect_eq(trn_joint_compound_angle(h * DEG, v * DEG, TRN_JOINT_VIEWS_PROJECTED,
                                                  &projected),
                         TRN_OK);
            cr_expect_eq(trn_joint_compound_angle(h * DEG, v * DEG, TRN_JOINT_VIEWS_SUCCESSIVE,
                                                  &successive),
                         TRN_OK);
            double ty = tan(h * DEG);
            double tz = tan(v * DEG);
            near_value(cos(projected), 1 / sqrt(1 + ty * ty + tz * tz), 1e-14, "projected", h);
            near_value(cos(successive), cos(h * DEG) * cos(v * DEG), 1e-14, "successive", h);
            double both = hypot(h, v) * DEG;
            cr_expect(projected <= both && successive <= both, "hypot at %g %g", h, v);
        }
    double beta = 0;
    (void)trn_joint_compound_angle(3e-9, 4e-9, TRN_JOINT_VIEWS_SUCCESSIVE, &beta);
    near_share(beta, 5e-9, 1e-14, "small successive angle", 0);
    cr_expect_eq(trn_joint_compound_angle(0.1, 0.1, (trn_joint_views)7, &beta), TRN_E_DOMAIN);
}

/* ---- pairs --------------------------------------------------------------------------------- */

/* derived: worked figures of the joint page (printed digits) */
Test(joint, worked_pairs)
{
    static const double rows[][5] = {
        {20, 20, 5, 8.425, 0.0005},   {20, 20, 15, 14.466, 0.0005}, {20, 20, 30, 20.005, 0.0005},
        {20, 20, 60, 26.12346, 0.000005}, {20, 20, 90, 27.991, 0.0005}, {45, 30, 0, 35.264, 0.0005},
        {20, 20, 0, 0, 0},            {13.7, 13.7, 180, 0, 0},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double beta_e = -1;
        double u = -1;
        cr_expect_eq(
            trn_joint_pair(rows[i][0] * DEG, rows[i][1] * DEG, rows[i][2] * DEG, &beta_e, &u),
            TRN_OK);
        near_value(beta_e / DEG, rows[i][3], rows[i][4], "pair", rows[i][2]);
        near_share(u, sin(beta_e) * tan(beta_e), 1e-15, "U", rows[i][2]);
    }
}

/* derived: the form with q; cos beta_e in line and square; symmetry, period, evenness */
Test(joint, pair_identities)
{
    for (size_t i = 2; i < 8; i++)
        for (size_t k = 2; k < 8; k++)
            for (double eps = -77.1; eps < 100; eps += 21.37) {
                double b1 = bends[i] * DEG;
                double b2 = bends[k] * DEG;
                double c1 = cos(b1);
                double c2 = cos(b2);
                double e = eps * DEG;
                double beta_e = 0;
                double other = 0;
                double u = 0;
                (void)trn_joint_pair(b1, b2, e, &beta_e, &u);
                double q = (sin(e) * sin(e) * (1 + c1 * c1 * c2 * c2) +
                            cos(e) * cos(e) * (c1 * c1 + c2 * c2)) /
                           (2 * c1 * c2);
                near_value(cos(beta_e), q - sqrt(fmax(q * q - 1, 0)), 1e-11, "form with q", eps);
                (void)trn_joint_pair(b2, b1, -e, &other, &u);
                near_share(other, beta_e, 1e-13, "order and sign", eps);
                (void)trn_joint_pair(b1, b2, e - 3 * PI, &other, &u);
                near_share(other, beta_e, 1e-12, "half turns", eps);
                (void)trn_joint_pair(b1, b2, 0, &other, &u);
                near_value(cos(other), fmin(c1, c2) / fmax(c1, c2), 1e-15, "in line", eps);
                (void)trn_joint_pair(b1, b2, PI / 2, &other, &u);
                near_value(cos(other), c1 * c2, 1e-15, "square", eps);
            }
    double beta_e = 0;
    double u = 0;
    /* derived: small angles, sqrt(b1^2 - b2^2) and beta sqrt(2 |sin eps|), no digits lost */
    (void)trn_joint_pair(5e-6, 3e-6, 0, &beta_e, &u);
    near_share(beta_e, 4e-6, 1e-10, "small, in line", 0);
    (void)trn_joint_pair(5e-6, 5e-6, 0.3, &beta_e, &u);
    near_share(beta_e, 5e-6 * sqrt(2 * sin(0.3)), 1e-10, "small, equal", 0.3);
    (void)trn_joint_pair(0, 0.31, 0.8, &beta_e, &u);
    near_share(beta_e, 0.31, 1e-14, "one straight joint", 0.8);
}

/* derived: tan of the singular values of the plain matrix product */
static double matrix_beta_e(const double *beta, const double *eps, size_t n)
{
    double m[4] = {cos(beta[0]), 0, 0, 1};
    for (size_t i = 1; i < n; i++) {
        double c = cos(PI / 2 + eps[i - 1]);
        double s = sin(PI / 2 + eps[i - 1]);
        double r[4] = {c * m[0] - s * m[2], c * m[1] - s * m[3], s * m[0] + c * m[2],
                       s * m[1] + c * m[3]};
        m[0] = cos(beta[i]) * r[0];
        m[1] = cos(beta[i]) * r[1];
        m[2] = r[2];
        m[3] = r[3];
    }
    double sum = hypot(m[0] + m[3], m[2] - m[1]);
    double difference = hypot(m[0] - m[3], m[2] + m[1]);
    return acos((sum - difference) / (sum + difference));
}

Test(joint, chain_of_joints)
{
    static const double beta[] = {10 * DEG, 15 * DEG, 12 * DEG, 31 * DEG, 7.3 * DEG};
    static const double none[] = {0, 0, 0, 0};
    static const double eps[] = {20 * DEG, -35 * DEG, 71.3 * DEG, 8.8 * DEG};
    double beta_e = 0;
    double theta0 = 0;
    cr_expect_eq(trn_joint_chain(beta, none, 3, &beta_e, &theta0), TRN_OK);
    near_value(beta_e / DEG, 4.2359, 0.5e-4, "10/15/12 in line", 0); /* derived: joint page */
    cr_expect_eq(trn_joint_chain(beta, eps, 3, &beta_e, &theta0), TRN_OK);
    near_value(beta_e / DEG, 14.9110, 0.5e-4, "with 20, -35", 0);
    for (size_t n = 1; n <= 5; n++) {
        cr_expect_eq(trn_joint_chain(beta, eps, n, &beta_e, &theta0), TRN_OK);
        near_value(beta_e, matrix_beta_e(beta, eps, n), 1e-13, "matrix product", (double)n);
    }
    double pair = 0;
    double u = 0;
    double phase = 0;
    for (double e = -1.9; e < 2; e += 0.237) {
        const double two[] = {beta[3], beta[1]};
        (void)trn_joint_chain(two, &e, 2, &beta_e, &theta0);
        (void)trn_joint_pair(two[0], two[1], e, &pair, &u);
        (void)trn_joint_pair_phase(two[0], two[1], e, &phase);
        near_share(beta_e, pair, 1e-13, "two as a chain", e);
        near_value(remainder(theta0 - phase, PI), 0, 1e-13, "phase of two", e);
    }
    cr_expect_eq(trn_joint_chain(beta, eps, 1, &beta_e, &theta0), TRN_OK);
    near_share(beta_e, beta[0], 1e-15, "one joint", 0);
    near_value(theta0, 0, 0, "phase of one", 0);
    /* equal angles cancel exactly, not to within the square root of the last bit */
    const double equal[] = {0.37, 0.37};
    cr_expect_eq(trn_joint_chain(equal, none, 2, &beta_e, &theta0), TRN_OK);
    near_value(beta_e, 0, 0, "equal angles", 0);
    double kept = UNTOUCHED;
    const double bad[] = {0.2, PI / 2};
    cr_expect_eq(trn_joint_chain(bad, none, 2, &kept, &kept), TRN_E_DOMAIN);
    cr_expect_eq(trn_joint_chain(beta, none, 0, &kept, &kept), TRN_E_DOMAIN);
    cr_expect_eq(kept, UNTOUCHED);
}

/* ---- a chain of vectors in space, independent of the library --------------------------------- */

typedef struct vector {
    double x, y, z;
} vector;

static vector cross(vector a, vector b)
{
    return (vector){a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}

static double dot(vector a, vector b)
{
    return a.x * b.x + a.y * b.y + a.z * b.z;
}

static vector scaled(vector a, double f)
{
    return (vector){f * a.x, f * a.y, f * a.z};
}

static vector sum(vector a, vector b)
{
    return (vector){a.x + b.x, a.y + b.y, a.z + b.z};
}

static vector unit(vector a)
{
    return scaled(a, 1 / sqrt(dot(a, a)));
}

/* right-handed by `angle` about the unit vector `axis` (Rodrigues) */
static vector turned(vector v, vector axis, double angle)
{
    vector along = scaled(axis, dot(axis, v) * (1 - cos(angle)));
    return sum(sum(scaled(v, cos(angle)), scaled(cross(axis, v), sin(angle))), along);
}

static vector sloped(double h, double v)
{
    return unit((vector){1, tan(h * DEG), tan(v * DEG)});
}

typedef struct chain {
    vector a1, a2, a3;
    double offset;
} chain;

/* Trunnions of the tube's first yoke and of the driven yoke at a turn of the driving shaft: the
 * two trunnions of a cross are square to each other and to the axes of their own shafts. */
static void trunnions(const chain *c, double theta, vector *tube, vector *driven)
{
    vector plane = unit(sum(c->a2, scaled(c->a1, -dot(c->a1, c->a2))));
    vector driving = turned(plane, c->a1, theta);
    *tube = unit(cross(c->a2, driving));
    *driven = unit(cross(c->a3, turned(*tube, c->a2, c->offset)));
}

/* speeds over that of the driving shaft, from the motion of the trunnions (five-point formula) */
static void speeds(const chain *c, double theta, double *tube, double *out)
{
    static const double h = 1e-3;
    static const double weight[] = {1.0 / 12, -8.0 / 12, 8.0 / 12, -1.0 / 12};
    static const double at[] = {-2, -1, 1, 2};
    vector t;
    vector d;
    trunnions(c, theta, &t, &d);
    vector rate_t = {0, 0, 0};
    vector rate_d = {0, 0, 0};
    for (int k = 0; k < 4; k++) {
        vector tk;
        vector dk;
        trunnions(c, theta + at[k] * h, &tk, &dk);
        rate_t = sum(rate_t, scaled(tk, weight[k] / h));
        rate_d = sum(rate_d, scaled(dk, weight[k] / h));
    }
    *tube = dot(cross(t, rate_t), c->a2);
    *out = dot(cross(d, rate_d), c->a3);
}

static const double spaces[][7] = {
    {0, 0, 15, 10, 25, 4, 0},       {0, 0, 10, 12, 10, -5, 0},
    {0, 0, 10, 12, 10, -5, 40.72},  {2.1, -1.3, 11.4, 12.6, 9.2, -4.9, 15},
    {-7, 3, 21, -14, -12, 9, -63},  {4, 4, -22, 17, 3, 31, 128},
    {0, 0, 0, 16.5, 0, 4.2, 27},    {1, -2, -33, 8, -60, -11, -17.3},
};

/* derived: chain of 3-D vectors against pair_space, turn and pair_phase */
Test(joint, pair_space_against_turning_yokes)
{
    for (size_t i = 0; i < sizeof spaces / sizeof spaces[0]; i++) {
        const double *s = spaces[i];
        chain c = {sloped(s[0], s[1]), sloped(s[2], s[3]), sloped(s[4], s[5]), s[6] * DEG};
        trn_joint_space space;
        cr_assert_eq(trn_joint_pair_space(s[0] * DEG, s[1] * DEG, s[2] * DEG, s[3] * DEG,
                                          s[4] * DEG, s[5] * DEG, s[6] * DEG, &space),
                     TRN_OK);
        near_value(cos(space.beta1_rad), dot(c.a1, c.a2), 1e-14, "beta1", (double)i);
        near_value(cos(space.beta2_rad), dot(c.a2, c.a3), 1e-14, "beta2", (double)i);
        double eps = c.offset - space.zeta_rad;
        for (double theta = 0.05; theta < 6.3; theta += 0.413) {
            double tube = 0;
            double out = 0;
            double tube_wanted = 0;
            double out_wanted = 0;
            cr_expect_eq(
                trn_joint_turn(space.beta1_rad, space.beta2_rad, eps, theta, &tube, &out), TRN_OK);
            speeds(&c, theta, &tube_wanted, &out_wanted);
            near_value(tube, tube_wanted, 2e-9, "tube speed", theta);
            near_value(out, out_wanted, 2e-9, "output speed", theta);
        }
        double theta0 = 0;
        double tube = 0;
        double fastest = 0;
        double slowest = 0;
        cr_expect_eq(trn_joint_pair_phase(space.beta1_rad, space.beta2_rad, eps, &theta0), TRN_OK);
        speeds(&c, theta0, &tube, &fastest);
        speeds(&c, theta0 + PI / 2, &tube, &slowest);
        near_value(fastest, 1 / cos(space.beta_e_rad), 2e-9, "fastest", (double)i);
        near_value(slowest, cos(space.beta_e_rad), 2e-9, "slowest", (double)i);
    }
}

/* derived: whatever the phase, the pair turns as one joint of beta_e started at theta0 */
Test(joint, turn_is_the_equivalent_joint)
{
    for (double eps = -1.4; eps < 1.5; eps += 0.31)
        for (double theta = 0.1; theta < 6; theta += 0.57) {
            double beta_e = 0;
            double u = 0;
            double theta0 = 0;
            double tube = 0;
            double out = 0;
            double one = 0;
            (void)trn_joint_pair(0.43, 0.29, eps, &beta_e, &u);
            (void)trn_joint_pair_phase(0.43, 0.29, eps, &theta0);
            (void)trn_joint_turn(0.43, 0.29, eps, theta, &tube, &out);
            (void)trn_joint_ratio(beta_e, theta - theta0, &one);
            near_share(out, one, 1e-13, "one joint for two", theta);
        }
}

/* derived: worked example of the joint page; offset = zeta leaves the plane value */
Test(joint, pair_space_worked_and_limits)
{
    trn_joint_space space;
    trn_joint_space best;
    (void)trn_joint_pair_space(0, 0, 10 * DEG, 12 * DEG, 10 * DEG, -5 * DEG, 0, &space);
    near_value(space.beta1_rad / DEG, 15.44, 0.005, "beta1", 0);
    near_value(space.beta2_rad / DEG, 16.75, 0.005, "beta2", 0);
    near_value(space.zeta_rad / DEG, 40.72, 0.005, "zeta", 0);
    near_value(space.beta_e_rad / DEG, 18.40, 0.005, "beta_e", 0);
    (void)trn_joint_pair_space(0, 0, 10 * DEG, 12 * DEG, 10 * DEG, -5 * DEG, space.zeta_rad,
                               &best);
    near_value(best.beta_e_rad / DEG, 6.57, 0.005, "beta_e with offset", 0);
    double plane = 0;
    double u = 0;
    (void)trn_joint_pair(space.beta1_rad, space.beta2_rad, 0, &plane, &u);
    near_share(best.beta_e_rad, plane, 1e-14, "plane value", 0);
    /* joint planes that stand square: +90, never -90 */
    (void)trn_joint_pair_space(0, 0, 12 * DEG, 0, 12 * DEG, 7 * DEG, 0, &space);
    near_value(space.zeta_rad / DEG, 90, 1e-10, "square planes", 7);
    (void)trn_joint_pair_space(0, 0, 12 * DEG, 0, 12 * DEG, -7 * DEG, 0, &space);
    near_value(space.zeta_rad / DEG, 90, 1e-10, "square planes", -7);
    /* straight joints have no plane, whatever the offset */
    (void)trn_joint_pair_space(3 * DEG, 4 * DEG, 3 * DEG, 4 * DEG, 20 * DEG, 4 * DEG, 1, &space);
    near_value(space.zeta_rad, 0, 0, "zeta of a straight joint", 1);
    near_share(space.beta_e_rad, space.beta2_rad, 1e-15, "the other angle", 1);
    (void)trn_joint_pair_space(3 * DEG, 4 * DEG, 20 * DEG, 4 * DEG, 20 * DEG, 4 * DEG, 1, &space);
    near_share(space.beta_e_rad, space.beta1_rad, 1e-15, "the other angle", 2);
    /* a plane layout in a tilted plane is a plane layout: W and Z */
    (void)trn_joint_pair_space(0, 0, 20 * DEG, 0, 35 * DEG, 0, 0, &space);
    near_value(space.zeta_rad, 0, 1e-14, "W in a plane", 0);
    (void)trn_joint_pair_space(0, 0, 20 * DEG, 0, 5 * DEG, 0, 0, &space);
    near_value(space.zeta_rad, 0, 1e-14, "Z in a plane", 0);
    /* axes of any length give the same */
    const double a1[] = {3.7, 0, 0};
    const double a2[] = {0.02, 0.02 * tan(20 * DEG), 0};
    const double a3[] = {1e5, 1e5 * tan(5 * DEG), 0};
    (void)trn_joint_pair_axes(a1, a2, a3, 0, &best);
    near_share(best.beta_e_rad, space.beta_e_rad, 1e-13, "axes of any length", 0);
    /* bent by 90 deg or more: refused, also where rounding leaves a hair less */
    best.zeta_rad = UNTOUCHED;
    cr_expect_eq(trn_joint_pair_space(-45 * DEG, 0, 45 * DEG, 0, 30 * DEG, 0, 0, &best),
                 TRN_E_DOMAIN);
    cr_expect_eq(trn_joint_pair_space(-60 * DEG, 0, 60 * DEG, 0, 0, 0, 0, &best), TRN_E_DOMAIN);
    cr_expect_eq(trn_joint_pair_space(0, 0, 0, 90 * DEG, 0, 0, 0, &best), TRN_E_DOMAIN);
    cr_expect_eq(trn_joint_pair_space(0, 0, 0, 0, 0, NAN, 0, &best), TRN_E_DOMAIN);
    cr_expect_eq(trn_joint_pair_space(0, 0, 0, 0, 0, 0, INFINITY, &best), TRN_E_DOMAIN);
    const double nothing[] = {0, 0, 0};
    cr_expect_eq(trn_joint_pair_axes(a1, nothing, a3, 0, &best), TRN_E_DOMAIN);
    cr_expect_eq(best.zeta_rad, UNTOUCHED);
}

/* ---- couples, life, heat --------------------------------------------------------------------- */

/* derived: the couple is square to both trunnions, and its parts along the shafts obey power */
Test(joint, couple_against_vectors)
{
    for (size_t i = 1; i < bend_count; i++)
        for (double theta = 0.03; theta < 6.3; theta += 0.37) {
            double beta = bends[i] * DEG;
            double m[3] = {0, 0, 0};
            double r = 0;
            cr_expect_eq(trn_joint_couple(613.7, beta, theta, m), TRN_OK);
            (void)trn_joint_ratio(beta, theta, &r);
            vector couple = {m[0], m[1], m[2]};
            vector a1 = {1, 0, 0};
            vector a2 = {cos(beta), sin(beta), 0};
            vector t1 = {0, cos(theta), sin(theta)};
            vector t2 = unit(cross(a2, t1));
            near_value(dot(couple, t1), 0, 1e-12 * 613.7 / cos(beta), "along trunnion 1", theta);
            near_value(dot(couple, t2), 0, 1e-12 * 613.7 / cos(beta), "along trunnion 2", theta);
            near_share(dot(couple, a2), 613.7 / r, 1e-11, "torque of shaft 2", theta);
            vector side = sum(couple, scaled(a1, -613.7));
            near_share(sqrt(dot(side, side)), 613.7 * tan(beta) * fabs(sin(theta)), 1e-11,
                       "couple on shaft 1", theta);
        }
}

/* derived: largest over the turn by search; 600 N.m at 20 deg */
Test(joint, secondary_couple_is_the_largest)
{
    for (size_t i = 1; i < 8; i++) {
        double beta = bends[i] * DEG;
        double driving = 0;
        double driven = 0;
        double largest = 0;
        double largest_driven = 0;
        trn_status status = trn_joint_secondary_couple(600, beta, &driving, &driven);
        cr_expect_eq(status, bends[i] > 45 ? TRN_R_JOINT_DRIVEN_COUPLE : TRN_OK);
        for (int k = 0; k <= 7200; k++) {
            double m[3];
            (void)trn_joint_couple(600, beta, PI * k / 7200, m);
            largest = fmax(largest, hypot(m[1], m[2]));
            double along = m[0] * cos(beta) + m[1] * sin(beta);
            double all = m[0] * m[0] + m[1] * m[1] + m[2] * m[2];
            largest_driven = fmax(largest_driven, sqrt(fmax(all - along * along, 0)));
        }
        near_share(largest, driving, 1e-12, "driving", bends[i]);
        near_share(largest_driven, bends[i] > 45 ? 600 / (2 * cos(beta)) : driven, 1e-6,
                   "driven", bends[i]);
    }
    double driving = 0;
    double driven = 0;
    (void)trn_joint_secondary_couple(600, 20 * DEG, &driving, &driven);
    near_value(driving, 218.4, 0.05, "600 N.m, 20 deg", 20);
    cr_expect_eq(trn_joint_secondary_couple(600, 45 * DEG, &driving, &driven), TRN_OK);
}

/* derived: equal angles, W 2 T sin beta/L, Z none; couples of both ends on the tube */
Test(joint, transverse_force)
{
    double f = 0;
    cr_expect_eq(
        trn_joint_transverse_force(600, 0.31, 0.31, 0.9, TRN_JOINT_SHAPE_W, &f), TRN_OK);
    near_share(f, 2 * 600 * sin(0.31) / 0.9, 1e-14, "W", 0.31);
    cr_expect_eq(
        trn_joint_transverse_force(600, 0.31, 0.31, 0.9, TRN_JOINT_SHAPE_Z, &f), TRN_OK);
    near_value(f, 0, 0, "Z", 0.31);
    cr_expect_eq(
        trn_joint_transverse_force(600, 0.31, 0.47, 0.9, TRN_JOINT_SHAPE_Z, &f), TRN_OK);
    near_share(f, 600 * fabs(sin(0.31) - cos(0.31) * tan(0.47)) / 0.9, 1e-13, "Z", 0.47);
    cr_expect_eq(trn_joint_transverse_force(600, 0.31, 0.87, 0.9, TRN_JOINT_SHAPE_W, &f),
                 TRN_R_JOINT_LARGE_ANGLE);
    f = UNTOUCHED;
    cr_expect_eq(
        trn_joint_transverse_force(600, 0.31, 0.47, 0, TRN_JOINT_SHAPE_Z, &f), TRN_E_DOMAIN);
    cr_expect_eq(
        trn_joint_transverse_force(600, 0.31, 0.47, 1, (trn_joint_shape)5, &f), TRN_E_DOMAIN);
    cr_expect_eq(f, UNTOUCHED);
}

static double secant(double d, void *unused)
{
    (void)unused;
    return pow(cos(d), -10.0 / 3);
}

static double cosine(double d, void *unused)
{
    (void)unused;
    return pow(cos(d), 10.0 / 3);
}

/* derived: adaptive quadrature of the plain integrands, and the hypergeometric form */
Test(joint, load_growth_against_quadrature)
{
    gsl_set_error_handler_off();
    gsl_integration_workspace *w = gsl_integration_workspace_alloc(2000);
    gsl_function f = {secant, NULL};
    gsl_function g = {cosine, NULL};
    for (size_t i = 0; i < bend_count; i++) {
        double beta = bends[i] * DEG;
        double k = 0;
        double other = 0;
        double area = 0;
        double error = 0;
        cr_expect_eq(trn_joint_load_growth(beta, &k, &other), TRN_OK);
        gsl_integration_qag(&f, 0, beta, 0, 1e-13, 2000, GSL_INTEG_GAUSS61, w, &area, &error);
        near_share(k, pow(area / beta, 0.3), 1e-12, "K_beta", bends[i]);
        gsl_integration_qag(&g, 0, beta, 0, 1e-13, 2000, GSL_INTEG_GAUSS61, w, &area, &error);
        near_share(other, pow(area / beta, 0.3) / cos(beta), 1e-12, "K other", bends[i]);
        cr_expect(k >= 1 && other >= k && other <= 1 / cos(beta), "order at %g", bends[i]);
        if (bends[i] < 45) {
            double s = sin(beta);
            double form = s * gsl_sf_hyperg_2F1(0.5, 13.0 / 6, 1.5, s * s) / beta;
            near_share(k, pow(form, 0.3), 1e-12, "hypergeometric form", bends[i]);
        }
    }
    gsl_integration_workspace_free(w);
    double k = 0;
    double other = 0;
    cr_expect_eq(trn_joint_load_growth(0, &k, &other), TRN_OK);
    cr_expect(k == 1 && other == 1);
    cr_expect_eq(trn_joint_load_growth(89.9999 * DEG, &k, &other), TRN_OK);
}

/* derived: worked lives of the joint page; exponents; remarks */
Test(joint, cross_life_worked)
{
    gsl_set_error_handler_off();
    trn_joint_life life;
    double n = 540 * RPM;
    cr_expect_eq(trn_joint_cross_life(30e3, 0.04, 900, n, 10 * DEG, 1, false, &life), TRN_OK);
    near_share(life.load_n, 11250, 1e-14, "P", 10);
    near_value(life.life_s / 3600, 7304.5, 0.05, "life without K", 10);
    double plain = life.life_s;
    cr_expect_eq(trn_joint_cross_life(30e3, 0.04, 900, n, 10 * DEG, 1, true, &life), TRN_OK);
    near_value(life.life_s / 3600, 7180.8, 0.05, "life with K", 10);
    near_share(life.life_s, plain * pow(life.k_beta, -10.0 / 3), 1e-13, "K^(10/3)", 10);
    /* duty 20 % 900/8, 50 % 600/12, 30 % 300/20 */
    static const double duty[][3] = {{0.2, 900, 8}, {0.5, 600, 12}, {0.3, 300, 20}};
    double damage = 0;
    for (int i = 0; i < 3; i++) {
        (void)trn_joint_cross_life(30e3, 0.04, duty[i][1], n, duty[i][2] * DEG, 1, false, &life);
        damage += duty[i][0] / (life.life_s / 3600);
    }
    near_value(1 / damage, 22087, 0.5, "duty", 0);
    /* constant of the one-line form, 1.51191e7 (C R/T)^(10/3)/(n beta) */
    near_value(plain / 3600 * 540 * 10 / pow(30e3 * 0.04 / 900, 10.0 / 3), 1.51191e7, 50,
               "constant", 0);
    /* traps: twice the arm is 2^(10/3) in life, twice the shock its inverse */
    (void)trn_joint_cross_life(30e3, 0.08, 900, n, 10 * DEG, 1, false, &life);
    near_share(life.life_s / plain, 10.079368399, 1e-9, "2 R", 0);
    (void)trn_joint_cross_life(30e3, 0.08, 900, n, 10 * DEG, 2, false, &life);
    near_share(life.life_s, plain, 1e-13, "2 R with shock 2", 0);
    cr_expect_eq(trn_joint_cross_life(30e3, 0.02, 900, n, 10 * DEG, 1, true, &life),
                 TRN_R_JOINT_OVERLOADED);
    cr_expect_eq(trn_joint_cross_life(30e3, 0.04, 600, n, 1.9 * DEG, 1, true, &life),
                 TRN_R_JOINT_SMALL_ANGLE);
    cr_expect_eq(trn_joint_cross_life(30e3, 0.04, 600, n, 2 * DEG, 1, true, &life), TRN_OK);
    cr_expect_eq(trn_joint_cross_life(30e3, 0.04, 600, n, 46 * DEG, 1, true, &life),
                 TRN_R_JOINT_LARGE_ANGLE);
    cr_expect_eq(trn_joint_cross_life(30e3, 0.04, 600, n, 45 * DEG, 1, true, &life), TRN_OK);
}

/* derived: heat as friction work of the two pairs over their rocking; 60 kW, 20 deg: 24.8 W */
static double own_pair(double d, void *unused)
{
    (void)unused;
    return 1 / cos(d);
}

Test(joint, heat_against_friction_work)
{
    gsl_set_error_handler_off();
    double torque = 523.7;
    double omega = 1000 * RPM;
    for (size_t i = 0; i < bend_count; i++) {
        double beta = bends[i] * DEG;
        double loss = 0;
        cr_expect_eq(trn_joint_heat(torque, omega, beta, 0.0041, 0.287, &loss), TRN_OK);
        gsl_function f = {own_pair, NULL};
        double own = 0;
        double error = 0;
        gsl_integration_workspace *w = gsl_integration_workspace_alloc(2000);
        gsl_integration_qag(&f, 0, beta, 0, 1e-13, 2000, GSL_INTEG_GAUSS61, w, &own, &error);
        gsl_integration_workspace_free(w);
        /* two bearings a pair, four strokes a turn, force T/(2 R cos d) or T cos d/(2 R cos beta) */
        double work = 8 * 0.0041 * 0.287 * torque / 2 * (own + sin(beta) / cos(beta));
        near_share(loss, work * omega / (2 * PI), 1e-12, "heat", bends[i]);
    }
    double loss = 0;
    (void)trn_joint_heat(60e3 / (540 * RPM), 540 * RPM, 20 * DEG, 0.003, 0.3, &loss);
    near_value(loss, 24.8, 0.05, "60 kW", 20);
    double usual = 4 / PI * 0.003 * 0.3 * 20 * DEG * 60e3;
    near_value(100 * (1 - usual / loss), 3.1, 0.05, "usual form is low by", 20);
}

/* derived: the needle set moves (1 -+ gamma)/2 of the rocking; tracks one pitch apart */
Test(joint, critical_oscillation)
{
    double inner = 0;
    double outer = 0;
    cr_expect_eq(trn_joint_critical_oscillation(31, 0.0963, &inner, &outer), TRN_OK);
    double pitch = 2 * PI / 31;
    near_share(2 * inner * (1 + 0.0963) / 2, pitch, 1e-14, "inner", 31);
    near_share(2 * outer * (1 - 0.0963) / 2, pitch, 1e-14, "outer", 31);
    inner = UNTOUCHED;
    cr_expect_eq(trn_joint_critical_oscillation(24.5, 0.1, &inner, &inner), TRN_E_DOMAIN);
    cr_expect_eq(trn_joint_critical_oscillation(2, 0.1, &inner, &inner), TRN_E_DOMAIN);
    cr_expect_eq(trn_joint_critical_oscillation(24, 0, &inner, &inner), TRN_E_DOMAIN);
    cr_expect_eq(trn_joint_critical_oscillation(24, 1, &inner, &inner), TRN_E_DOMAIN);
    cr_expect_eq(inner, UNTOUCHED);
}

/* ---- refused inputs and units ---------------------------------------------------------------- */

static const double bad_bends[] = {-1e-9, PI / 2, 2.1, NAN, INFINITY, -INFINITY};

Test(joint, refused_bends_leave_outputs_alone)
{
    for (size_t i = 0; i < sizeof bad_bends / sizeof bad_bends[0]; i++) {
        double b = bad_bends[i];
        double x = UNTOUCHED;
        double y = UNTOUCHED;
        double m[3] = {UNTOUCHED, 0, 0};
        trn_joint_swing swing = {.ratio_max = UNTOUCHED};
        trn_joint_life life = {.load_n = UNTOUCHED};
        cr_expect_eq(trn_joint_ratio(b, 1, &x), TRN_E_DOMAIN);
        cr_expect_eq(trn_joint_output_angle(b, 1, &x), TRN_E_DOMAIN);
        cr_expect_eq(trn_joint_acceleration(b, 1, 1, &x), TRN_E_DOMAIN);
        cr_expect_eq(trn_joint_fluctuation(b, 1, &swing), TRN_E_DOMAIN);
        cr_expect_eq(trn_joint_peak_acceleration(b, 1, &x, &y), TRN_E_DOMAIN);
        cr_expect_eq(trn_joint_pair(b, 0.2, 0, &x, &y), TRN_E_DOMAIN);
        cr_expect_eq(trn_joint_pair(0.2, b, 0, &x, &y), TRN_E_DOMAIN);
        cr_expect_eq(trn_joint_pair_phase(0.2, b, 0, &x), TRN_E_DOMAIN);
        cr_expect_eq(trn_joint_turn(0.2, b, 0, 1, &x, &y), TRN_E_DOMAIN);
        cr_expect_eq(trn_joint_turn(b, 0.2, 0, 1, &x, &y), TRN_E_DOMAIN);
        cr_expect_eq(trn_joint_secondary_couple(1, b, &x, &y), TRN_E_DOMAIN);
        cr_expect_eq(trn_joint_couple(1, b, 1, m), TRN_E_DOMAIN);
        cr_expect_eq(trn_joint_load_growth(b, &x, &y), TRN_E_DOMAIN);
        cr_expect_eq(trn_joint_cross_life(1, 1, 1, 1, b, 1, true, &life), TRN_E_DOMAIN);
        cr_expect_eq(trn_joint_heat(1, 1, b, 0.01, 0.3, &x), TRN_E_DOMAIN);
        cr_expect_eq(x, UNTOUCHED);
        cr_expect_eq(y, UNTOUCHED);
        cr_expect_eq(m[0], UNTOUCHED);
        cr_expect_eq(swing.ratio_max, UNTOUCHED);
        cr_expect_eq(life.load_n, UNTOUCHED);
    }
}

Test(joint, refused_other_inputs_leave_outputs_alone)
{
    static const double bad[] = {-1, NAN, INFINITY};
    for (size_t i = 0; i < 3; i++) {
        double x = UNTOUCHED;
        double y = UNTOUCHED;
        trn_joint_swing swing = {.ratio_max = UNTOUCHED};
        trn_joint_life life = {.load_n = UNTOUCHED};
        cr_expect_eq(trn_joint_acceleration(0.2, 1, bad[i], &x), TRN_E_DOMAIN);
        cr_expect_eq(trn_joint_fluctuation(0.2, bad[i], &swing), TRN_E_DOMAIN);
        cr_expect_eq(trn_joint_peak_acceleration(0.2, bad[i], &x, &y), TRN_E_DOMAIN);
        cr_expect_eq(trn_joint_angle_for_fluctuation(bad[i], &x), TRN_E_DOMAIN);
        cr_expect_eq(trn_joint_angle_for_acceleration(bad[i], 1, &x), TRN_E_DOMAIN);
        cr_expect_eq(trn_joint_angle_for_acceleration(1, bad[i], &x), TRN_E_DOMAIN);
        cr_expect_eq(trn_joint_secondary_couple(bad[i], 0.2, &x, &y), TRN_E_DOMAIN);
        cr_expect_eq(trn_joint_cross_life(bad[i], 1, 1, 1, 0.2, 1, true, &life), TRN_E_DOMAIN);
        cr_expect_eq(trn_joint_cross_life(1, bad[i], 1, 1, 0.2, 1, true, &life), TRN_E_DOMAIN);
        cr_expect_eq(trn_joint_cross_life(1, 1, bad[i], 1, 0.2, 1, true, &life), TRN_E_DOMAIN);
        cr_expect_eq(trn_joint_cross_life(1, 1, 1, bad[i], 0.2, 1, true, &life), TRN_E_DOMAIN);
        cr_expect_eq(trn_joint_cross_life(1, 1, 1, 1, 0.2, bad[i], true, &life), TRN_E_DOMAIN);
        cr_expect_eq(trn_joint_heat(bad[i], 1, 0.2, 0.01, 0.3, &x), TRN_E_DOMAIN);
        cr_expect_eq(trn_joint_heat(1, bad[i], 0.2, 0.01, 0.3, &x), TRN_E_DOMAIN);
        cr_expect_eq(trn_joint_heat(1, 1, 0.2, bad[i], 0.3, &x), TRN_E_DOMAIN);
        cr_expect_eq(trn_joint_heat(1, 1, 0.2, 0.01, bad[i], &x), TRN_E_DOMAIN);
        cr_expect_eq(x, UNTOUCHED);
        cr_expect_eq(y, UNTOUCHED);
        cr_expect_eq(swing.ratio_max, UNTOUCHED);
        cr_expect_eq(life.load_n, UNTOUCHED);
    }
    double x = UNTOUCHED;
    double y = UNTOUCHED;
    trn_joint_life life = {.load_n = UNTOUCHED};
    cr_expect_eq(trn_joint_ratio(0.2, NAN, &x), TRN_E_DOMAIN);
    cr_expect_eq(trn_joint_output_angle(0.2, INFINITY, &x), TRN_E_DOMAIN);
    cr_expect_eq(trn_joint_angle_for_acceleration(0, 1, &x), TRN_E_DOMAIN);
    cr_expect_eq(trn_joint_pair(0.2, 0.2, NAN, &x, &y), TRN_E_DOMAIN);
    cr_expect_eq(trn_joint_turn(0.2, 0.2, INFINITY, 1, &x, &y), TRN_E_DOMAIN);
    cr_expect_eq(
        trn_joint_compound_angle(PI / 2, 0.1, TRN_JOINT_VIEWS_PROJECTED, &x), TRN_E_DOMAIN);
    cr_expect_eq(trn_joint_cross_life(1, 1, 1, 1, 0, 1, false, &life), TRN_E_DOMAIN);
    cr_expect_eq(x, UNTOUCHED);
    cr_expect_eq(life.load_n, UNTOUCHED);
}

/* derived: the same joint in the units of the workshop and in those of the drawing office */
Test(joint, inch_against_millimetre)
{
    gsl_set_error_handler_off();
    const trn_formula *f = trn_formula_find("joint.cross_life");
    cr_assert_not_null(f);
    const char *mm[] = {"C=30 kN", "R=40.64 mm", "T=900 N.m", "n=540 rpm", "beta=12 deg"};
    const char *inch[] = {"C=30000 N", "R=1.6 in", "T=0.9 kN.m", "n=56.54866776461628 rad/s",
                          "beta=0.20943951023931953 rad"};
    trn_answer a;
    trn_answer b;
    cr_assert_eq(trn_formula_evaluate(f, mm, 5, &a), TRN_OK);
    cr_assert_eq(trn_formula_evaluate(f, inch, 5, &b), TRN_OK);
    for (size_t k = 0; k < f->output_count; k++)
        near_share(a.out[k].x, b.out[k].x, 1e-12, f->outputs[k].name, (double)k);
}

/* every example of the catalogue can be evaluated, every source key resolves */
Test(joint, catalogue_entries_are_whole)
{
    gsl_set_error_handler_off();
    for (size_t i = 0; i < trn_formula_count(); i++) {
        const trn_formula *f = trn_formula_at(i);
        if (strncmp(f->name, "joint.", 6) != 0 && strncmp(f->name, "shaft.", 6) != 0)
            continue;
        char text[512];
        const char *pairs[TRN_INPUTS_MAX];
        size_t n = 0;
        cr_assert_lt(strlen(f->example), sizeof text);
        memcpy(text, f->example, strlen(f->example) + 1);
        for (char *p = text; *p && n < TRN_INPUTS_MAX;) {
            pairs[n++] = p;
            p += strcspn(p, " ");
            if (*p)
                *p++ = '\0';
        }
        trn_answer answer;
        trn_status status = trn_formula_evaluate(f, pairs, n, &answer);
        cr_expect_geq(status, 0, "%s: %s %s", f->name, answer.faulty, answer.why);
        for (size_t k = 0; k < f->output_count; k++)
            cr_expect(answer.out[k].given, "%s gives no %s", f->name, f->outputs[k].name);
        for (const char *p = f->source; *p;) {
            size_t length = strcspn(p, "; (");
            cr_expect_not_null(trn_source_find(p, length), "%s: source %s", f->name, p);
            p += strcspn(p, ";");
            p += strspn(p, "; ");
        }
    }
}
