/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Life and heat of the cross bearings: quadrature against the closed forms, worked lives. */
#include <criterion/criterion.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>
#include <gsl/gsl_sf_hyperg.h>
#include <math.h>
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
        /* two bearings a pair, four strokes a turn; forces T/(2 R cos d), T cos d/(2 R cos beta) */
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
