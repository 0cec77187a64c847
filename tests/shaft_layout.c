/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Layouts: plane against space, closing linkages, worked figures, refused inputs. */
#include <criterion/criterion.h>
#include <math.h>
#include <trunnion/shaft.h>

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

/* ---- layouts --------------------------------------------------------------------------------- */

static trn_shaft_four_bar invented(double link_angle)
{
    return (trn_shaft_four_bar){-0.4,  0.5, 0.95, -0.25, 0.93, 0.792197,
                                0.61, 0,   0.6,  0.3,   0.15, link_angle * DEG};
}

/* The top link that holds the machine level at -8 deg; the joint page prints 792.197 mm. */
static double level_link(void)
{
    trn_shaft_four_bar k = invented(-8);
    return hypot(k.lower_x_m + k.lower_link_m * cos(k.link_angle_rad) - k.upper_x_m,
                 k.lower_z_m + k.lower_link_m * sin(k.link_angle_rad) + k.mast_m - k.upper_z_m);
}

/* derived: worked linkage of the joint page (printed digits) */
Test(shaft, linkage_worked)
{
    static const double rows[][6] = {
        {-8, 0, 844.8, 5.58, 5.58, 0},
        {10, 6.63, 853.3, 16.94, 10.31, 13.52},
        {20, 11.56, 871.2, 29.73, 18.17, 23.94},
        {28, 16.45, 893.5, 40.04, 23.59, 33.34},
    };
    near_value(1000 * level_link(), 792.197, 0.0005, "top link", -8);
    for (int i = 0; i < 4; i++) {
        double pitch = 0;
        trn_shaft_layout a;
        trn_shaft_four_bar k = invented(rows[i][0]);
        k.upper_link_m = level_link();
        cr_expect_eq(trn_shaft_linkage(k, &pitch, &a), TRN_OK);
        near_value(pitch / DEG, rows[i][1], 0.005001, "pitch", rows[i][0]);
        near_value(1000 * a.length_m, rows[i][2], 0.05001, "L", rows[i][0]);
        near_value(fabs(a.beta1_rad) / DEG, rows[i][3], 0.005001, "beta1", rows[i][0]);
        near_value(fabs(a.beta2_rad) / DEG, rows[i][4], 0.005001, "beta2", rows[i][0]);
        near_value(a.beta_e_rad / DEG, rows[i][5], 0.005001, "beta_e", rows[i][0]);
    }
    double pitch = 0;
    double alpha = 0;
    double theta = 0;
    trn_shaft_layout a;
    (void)trn_shaft_linkage(invented(28), &pitch, &a);
    (void)trn_joint_peak_acceleration(a.beta_e_rad, 540 * RPM, &alpha, &theta);
    near_value(alpha, 1193, 0.5, "rad/s2 at the top", 28);
}

/* derived: the found mast top keeps both link lengths; joint 2 keeps its place on the machine */
Test(shaft, linkage_closes)
{
    for (double q = -24; q < 31; q += 2.7) {
        trn_shaft_four_bar k = invented(q);
        double pitch = 0;
        trn_shaft_layout a;
        cr_expect_eq(trn_shaft_linkage(k, &pitch, &a), TRN_OK, "at %g", q);
        double ax = k.lower_x_m + k.lower_link_m * cos(k.link_angle_rad);
        double az = k.lower_z_m + k.lower_link_m * sin(k.link_angle_rad);
        double bx = ax - k.mast_m * sin(pitch);
        double bz = az + k.mast_m * cos(pitch);
        near_share(hypot(bx - k.upper_x_m, bz - k.upper_z_m), k.upper_link_m, 1e-13, "top link",
                   q);
        double x = a.length_m * cos(a.beta1_rad) + k.joint_x_m - ax;
        double z = a.length_m * sin(a.beta1_rad) + k.joint_z_m - az;
        near_share(hypot(x, z), hypot(k.input_d_m, k.input_e_m), 1e-13, "joint 2", q);
        near_value(atan2(z, x) - atan2(k.input_e_m, k.input_d_m), pitch, 1e-13, "turn", q);
    }
    double pitch = UNTOUCHED;
    trn_shaft_layout a = {.length_m = UNTOUCHED};
    trn_shaft_four_bar torn = invented(5);
    torn.upper_link_m = 0.1;
    cr_expect_eq(trn_shaft_linkage(torn, &pitch, &a), TRN_E_DOMAIN);
    torn = invented(5);
    torn.mast_m = 0;
    cr_expect_eq(trn_shaft_linkage(torn, &pitch, &a), TRN_E_DOMAIN);
    torn = invented(5);
    torn.upper_x_m = NAN;
    cr_expect_eq(trn_shaft_linkage(torn, &pitch, &a), TRN_E_DOMAIN);
    torn = invented(5);
    torn.input_e_m = INFINITY;
    cr_expect_eq(trn_shaft_linkage(torn, &pitch, &a), TRN_E_DOMAIN);
    cr_expect(pitch == UNTOUCHED && a.length_m == UNTOUCHED);
}

/* derived: hitch signs and heights, drawbar shares, symmetric wing; mirror images */
Test(shaft, plane_layouts)
{
    trn_shaft_layout a;
    trn_shaft_layout b;
    cr_expect_eq(trn_shaft_hitch(0.8, -0.15, 0, &a), TRN_OK);
    cr_expect_eq(a.beta_e_rad, 0);
    for (double psi = -110; psi < 115; psi += 8.3) {
        cr_expect_eq(trn_shaft_drawbar(0.356, 0.391, psi * DEG, &a), TRN_OK);
        near_value(a.beta1_rad + a.beta2_rad, psi * DEG, 1e-15, "shares", psi);
        near_share(a.length_m,
                   sqrt(0.356 * 0.356 + 0.391 * 0.391 + 2 * 0.356 * 0.391 * cos(psi * DEG)),
                   1e-14, "L", psi);
        /* sines: the two triangles on the pin share a height */
        near_value(0.356 * sin(a.beta1_rad), 0.391 * sin(a.beta2_rad), 1e-15, "sines", psi);
        cr_expect_eq(trn_shaft_drawbar(0.356, 0.391, -psi * DEG, &b), TRN_OK);
        near_share(b.beta1_rad, -a.beta1_rad, 1e-15, "mirror", psi);
        near_share(b.beta_e_rad, a.beta_e_rad, 1e-15, "mirror", psi);
        cr_expect_eq(trn_shaft_drawbar(0.391, 0.356, psi * DEG, &b), TRN_OK);
        near_share(b.beta1_rad, a.beta2_rad, 1e-13, "ends changed", psi);
    }
    for (double tau = -60; tau < 65; tau += 7.7) {
        cr_expect_eq(trn_shaft_wing(0.4, 0.15, 0.4, 0.15, tau * DEG, &a), TRN_OK);
        near_value(a.beta1_rad, tau / 2 * DEG, 1e-15, "half the tilt", tau);
        near_share(a.length_m, 2 * (0.4 * cos(tau / 2 * DEG) - 0.15 * sin(tau / 2 * DEG)), 1e-14,
                   "L", tau);
        cr_expect_eq(trn_shaft_wing(0.4, 0.23, 0.37, -0.11, tau * DEG, &a), TRN_OK);
        cr_expect_eq(trn_shaft_wing(0.37, -0.11, 0.4, 0.23, tau * DEG, &b), TRN_OK);
        near_share(b.length_m, a.length_m, 1e-14, "ends changed", tau);
        near_value(b.beta1_rad, a.beta2_rad, 1e-14, "ends changed", tau);
        /* a wing with both joints on the hinge line's height is a drawbar */
        cr_expect_eq(trn_shaft_wing(0.31, 0, 0.47, 0, tau * DEG, &a), TRN_OK);
        cr_expect_eq(trn_shaft_drawbar(0.31, 0.47, tau * DEG, &b), TRN_OK);
        near_share(a.beta_e_rad, b.beta_e_rad, 1e-14, "wing as drawbar", tau);
    }
}

Test(shaft, layouts_refused)
{
    trn_shaft_layout a = {.length_m = UNTOUCHED};
    cr_expect_eq(trn_shaft_hitch(0, 0.15, 0, &a), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_hitch(0.5, NAN, 0, &a), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_hitch(0.5, 0, PI / 2, &a), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_hitch(0.5, 0.5, -50 * DEG, &a), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_hitch(0.5, 0.5, -45 * DEG, &a), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_drawbar(0.1, 0.9, 120 * DEG, &a), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_drawbar(0.1, 0, 0, &a), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_drawbar(0.4, 0.4, PI, &a), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_wing(0.4, 0, -0.4, 0, 0, &a), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_wing(0.4, 0, 0.4, INFINITY, 0, &a), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_wing(0.1, 0.9, 0.1, 0.9, 60 * DEG, &a), TRN_E_DOMAIN);
    cr_expect_eq(a.length_m, UNTOUCHED);
}

/* ---- layouts in space ------------------------------------------------------------------------ */

/* derived: worked figures of the joint page */
Test(shaft, space_worked)
{
    double length = 0;
    trn_joint_space s;
    cr_expect_eq(trn_shaft_drawbar_space(0.406, 0.25, 0.7, 0.23, 35 * DEG, 6 * DEG, 4 * DEG, 0,
                                         &length, &s),
                 TRN_OK);
    near_value(1000 * length, 1036.405, 0.0005, "L", 35);
    near_value(s.beta1_rad / DEG, 21.2676, 0.5e-4, "beta1", 35);
    near_value(s.beta2_rad / DEG, 14.2262, 0.5e-4, "beta2", 35);
    near_value(s.zeta_rad / DEG, 5.9855, 0.5e-4, "zeta", 35);
    near_value(s.beta_e_rad / DEG, 16.2131, 0.5e-4, "beta_e", 35);
    double r[9];
    cr_expect_eq(trn_shaft_attitude(35 * DEG, 6 * DEG, 4 * DEG, r), TRN_OK);
    near_value(1000 * (0.406 + 0.7 * r[0] + 0.23 * r[2]), 965.822, 0.0005, "p2 x", 35);
    near_value(1000 * (0.7 * r[3] + 0.23 * r[5]), 372.405, 0.0005, "p2 y", 35);
    near_value(1000 * (-0.25 + 0.7 * r[6] + 0.23 * r[8]), 51.353, 0.0005, "p2 z", 35);
    cr_expect_eq(
        trn_shaft_wing_space(0.4, 0, 0.15, 0.4, 0.06, 0.15, 22 * DEG, 0, &length, &s), TRN_OK);
    near_value(1000 * length, 730.527, 0.0005, "wing L", 22);
    near_value(s.beta1_rad / DEG, 11.955, 0.0005, "wing beta1", 22);
    near_value(s.beta2_rad / DEG, 11.955, 0.0005, "wing beta2", 22);
    near_value(fabs(s.zeta_rad) / DEG, 45.81, 0.005, "wing zeta", 22);
    near_value(s.beta_e_rad / DEG, 14.294, 0.0005, "wing beta_e", 22);
}

/* derived: with one angle only, space and plane agree */
Test(shaft, space_against_plane)
{
    for (double angle = -38.3; angle < 40; angle += 7.1) {
        double length = 0;
        trn_joint_space s;
        trn_shaft_layout p;
        (void)trn_shaft_drawbar(0.356, 0.593, angle * DEG, &p);
        cr_expect_eq(trn_shaft_drawbar_space(0.356, 0.21, 0.593, 0.21, angle * DEG, 0, 0, 0,
                                             &length, &s),
                     TRN_OK);
        near_share(length, p.length_m, 1e-14, "drawbar L", angle);
        near_share(s.beta1_rad, fabs(p.beta1_rad), 1e-13, "drawbar beta1", angle);
        near_share(s.beta_e_rad, p.beta_e_rad, 1e-7, "drawbar beta_e", angle);
        (void)trn_shaft_wing(0.41, 0.17, 0.38, 0.12, angle * DEG, &p);
        cr_expect_eq(trn_shaft_wing_space(0.41, 0.05, 0.17, 0.38, 0.05, 0.12, angle * DEG, 0,
                                          &length, &s),
                     TRN_OK);
        near_share(length, p.length_m, 1e-14, "wing L", angle);
        near_share(s.beta2_rad, fabs(p.beta2_rad), 1e-12, "wing beta2", angle);
        near_share(s.beta_e_rad, p.beta_e_rad, 1e-7, "wing beta_e", angle);
        const double a[] = {0.54, 0, 0.07};
        double x = a[0] + 0.3 * cos(angle * DEG) - 0.15 * sin(angle * DEG);
        double z = a[2] + 0.3 * sin(angle * DEG) + 0.15 * cos(angle * DEG);
        (void)trn_shaft_hitch(x, z, angle * DEG, &p);
        cr_expect_eq(
            trn_shaft_hitch_space(a, 0.3, 0.15, 0, angle * DEG, 0, 0, &length, &s), TRN_OK);
        near_share(length, p.length_m, 1e-14, "hitch L", angle);
        near_share(s.beta1_rad, fabs(p.beta1_rad), 1e-12, "hitch beta1", angle);
        near_share(s.beta_e_rad, p.beta_e_rad, 1e-7, "hitch beta_e", angle);
    }
}

/* derived: a rotation keeps lengths and hands; roll alone does not move an axis along x */
Test(shaft, attitude_is_a_rotation)
{
    double r[9];
    cr_expect_eq(trn_shaft_attitude(2.31, -0.83, 1.17, r), TRN_OK);
    for (int i = 0; i < 3; i++)
        for (int k = 0; k < 3; k++) {
            double d = 0;
            for (int j = 0; j < 3; j++)
                d += r[3 * i + j] * r[3 * k + j];
            near_value(d, i == k, 1e-15, "rows", 3 * i + k);
        }
    near_value(r[0] * (r[4] * r[8] - r[5] * r[7]) - r[1] * (r[3] * r[8] - r[5] * r[6]) +
                   r[2] * (r[3] * r[7] - r[4] * r[6]),
               1, 1e-15, "determinant", 0);
    (void)trn_shaft_attitude(0.3, 0, 0, r);
    cr_expect_gt(r[3], 0, "yaw turns x to the left");
    (void)trn_shaft_attitude(0, 0.3, 0, r);
    cr_expect_gt(r[6], 0, "pitch raises x");
    (void)trn_shaft_attitude(0, 0, 0.3, r);
    cr_expect(r[0] == 1 && r[7] > 0, "roll raises the left side");
    r[0] = UNTOUCHED;
    cr_expect_eq(trn_shaft_attitude(PI, 0, 0, r), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_attitude(0, PI / 2, 0, r), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_attitude(0, 0, NAN, r), TRN_E_DOMAIN);
    double length = UNTOUCHED;
    trn_joint_space s;
    const double here[] = {0.1, 0.2, 0.3};
    const double back[] = {1, 0, 0};
    cr_expect_eq(trn_shaft_between(here, back, here, back, 0, &length, &s), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_drawbar_space(0, 0.2, 0.6, 0.2, 0, 0, 0, 0, &length, &s), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_wing_space(0.4, 0, NAN, 0.4, 0, 0, 0, 0, &length, &s), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_hitch_space(here, NAN, 0.2, 0, 0, 0, 0, &length, &s), TRN_E_DOMAIN);
    cr_expect(length == UNTOUCHED && r[0] == UNTOUCHED);
}
