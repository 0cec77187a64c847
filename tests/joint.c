/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One joint: numerical derivatives, integrals and searches against the closed forms; worked
 * figures; refused inputs of all joint functions; the catalogue entries. */
#include <criterion/criterion.h>
#include <gsl/gsl_deriv.h>
#include <gsl/gsl_errno.h>
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
