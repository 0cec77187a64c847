/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <criterion/criterion.h>
#include <gsl/gsl_math.h>
#include <string.h>
#include <trunnion/formula.h>
#include <trunnion/gear_force.h>

#include "support.h"

static const double deg = M_PI / 180;

static void near(const char *what, double got, double wanted, double tolerance)
{
    cr_expect(fabs(got - wanted) <= tolerance, "%s: got %.12g, wanted %.12g +- %g", what, got,
              wanted, tolerance);
}

static trn_bevel_mesh pinion(void)
{
    return (trn_bevel_mesh){.T = 87,
                            .d_e = 0.0857,
                            .b = 0.026,
                            .alpha_n_rad = 20 * deg,
                            .delta_rad = 24.2 * deg,
                            .psi_rad = 35 * deg,
                            .hand = TRN_HAND_RIGHT,
                            .rotation = TRN_TURN_CW,
                            .role = TRN_MESH_DRIVER};
}

/* derived: worked case with a unit tangential force */
Test(gear_force, unit_force_of_a_spiral_bevel)
{
    trn_bevel_mesh mesh = pinion();
    mesh.delta_rad = 26.565 * deg;
    mesh.b = 0;
    mesh.T = 0.5 * mesh.d_e;
    double d_m = 0;
    trn_tooth_force f = {0};
    cr_assert_eq(trn_gear_bevel_force(mesh, &d_m, &f), TRN_OK);
    near("Ft", f.Ft, 1, 1e-14);
    near("Fa cw", f.Fa, -0.4276, 5e-5);
    near("Fr cw", f.Fr, 0.7106, 5e-5);
    mesh.rotation = TRN_TURN_CCW;
    cr_assert_eq(trn_gear_bevel_force(mesh, &d_m, &f), TRN_OK);
    near("Fa ccw", f.Fa, 0.8250, 5e-5);
    near("Fr ccw", f.Fr, 0.0843, 5e-5);
}

/* derived: at 90 deg the axial force of one gear is the radial force of the other */
Test(gear_force, action_and_reaction_at_right_angle)
{
    for (int i = 0; i < 8; i++) {
        trn_bevel_mesh a = pinion();
        a.hand = i & 1 ? TRN_HAND_LEFT : TRN_HAND_RIGHT;
        a.rotation = i & 2 ? TRN_TURN_CCW : TRN_TURN_CW;
        a.role = i & 4 ? TRN_MESH_DRIVEN : TRN_MESH_DRIVER;
        a.psi_rad = (11.3 + 5.7 * i) * deg;
        trn_bevel_mesh b = a; /* the mate: same cone distance, opposite words */
        double ratio = tan(M_PI_2 - a.delta_rad);
        b.T = a.T * ratio;
        b.d_e = a.d_e * ratio;
        b.delta_rad = M_PI_2 - a.delta_rad;
        b.hand = a.hand == TRN_HAND_LEFT ? TRN_HAND_RIGHT : TRN_HAND_LEFT;
        b.rotation = a.rotation == TRN_TURN_CW ? TRN_TURN_CCW : TRN_TURN_CW;
        b.role = a.role == TRN_MESH_DRIVER ? TRN_MESH_DRIVEN : TRN_MESH_DRIVER;
        double d1 = 0;
        double d2 = 0;
        trn_tooth_force f1 = {0};
        trn_tooth_force f2 = {0};
        cr_assert_eq(trn_gear_bevel_force(a, &d1, &f1), TRN_OK);
        cr_assert_eq(trn_gear_bevel_force(b, &d2, &f2), TRN_OK);
        near("d_m ratio", d2 / d1, ratio, 1e-13 * ratio);
        near("Ft", f1.Ft, f2.Ft, 1e-11 * f1.Ft);
        near("Fr1 = Fa2", f1.Fr, f2.Fa, 1e-11 * f1.Ft);
        near("Fa1 = Fr2", f1.Fa, f2.Fr, 1e-11 * f1.Ft);
    }
}

/* derived: without friction the whole force is along the tooth normal, whatever the sign */
Test(gear_force, resultant_is_the_normal_force)
{
    trn_bevel_mesh mesh = pinion();
    for (int i = 0; i < 8; i++) {
        mesh.hand = i & 1 ? TRN_HAND_LEFT : TRN_HAND_RIGHT;
        mesh.rotation = i & 2 ? TRN_TURN_CCW : TRN_TURN_CW;
        mesh.role = i & 4 ? TRN_MESH_DRIVEN : TRN_MESH_DRIVER;
        double d_m = 0;
        trn_tooth_force f = {0};
        cr_assert_eq(trn_gear_bevel_force(mesh, &d_m, &f), TRN_OK);
        double normal = f.Ft / (cos(mesh.alpha_n_rad) * cos(mesh.psi_rad));
        near("F", gsl_hypot3(f.Ft, f.Fr, f.Fa), normal, 1e-11 * normal);
    }
    trn_tooth_force f = {0};
    cr_assert_eq(trn_gear_helical_force(39.7, 0.1064, 20 * deg, 23.85 * deg, &f), TRN_OK);
    double normal = f.Ft / (cos(20 * deg) * cos(23.85 * deg));
    near("helical F", gsl_hypot3(f.Ft, f.Fr, f.Fa), normal, 1e-11 * normal);
}

/* derived: a cone that closes becomes a cylinder, a spiral of 0 a straight tooth */
Test(gear_force, limits_of_the_bevel)
{
    trn_bevel_mesh mesh = pinion();
    mesh.delta_rad = 1e-9;
    mesh.hand = TRN_HAND_LEFT;
    double d_m = 0;
    trn_tooth_force f = {0};
    trn_tooth_force h = {0};
    cr_assert_eq(trn_gear_bevel_force(mesh, &d_m, &f), TRN_OK);
    cr_assert_eq(trn_gear_helical_force(mesh.T, mesh.d_e, mesh.alpha_n_rad, mesh.psi_rad, &h),
                 TRN_OK);
    near("Ft", f.Ft, h.Ft, 1e-8 * h.Ft);
    near("Fr", f.Fr, h.Fr, 1e-8 * h.Ft);
    near("Fa", f.Fa, h.Fa, 1e-8 * h.Ft);
    trn_tooth_force spur = {0};
    cr_assert_eq(trn_gear_helical_force(mesh.T, mesh.d_e, mesh.alpha_n_rad, 0, &h), TRN_OK);
    cr_assert_eq(trn_gear_spur_force(mesh.T, mesh.d_e, mesh.alpha_n_rad, &spur), TRN_OK);
    cr_expect(memcmp(&h, &spur, sizeof h) == 0);
    cr_expect_eq(spur.Fa, 0);
    mesh = pinion();
    mesh.psi_rad = 0;
    cr_assert_eq(trn_gear_bevel_force(mesh, &d_m, &f), TRN_OK);
    near("straight: Fa/Fr = tan delta", f.Fa / f.Fr, tan(mesh.delta_rad), 1e-13);
}

/* practice: face up to a third of the cone distance */
Test(gear_force, wide_face_is_remarked)
{
    trn_bevel_mesh mesh = pinion();
    double cone_distance = mesh.d_e / (2 * sin(mesh.delta_rad));
    double d_m = 0;
    trn_tooth_force f;
    mesh.b = cone_distance / 3;
    cr_expect_eq(trn_gear_bevel_force(mesh, &d_m, &f), TRN_OK);
    mesh.b = cone_distance / 3 * (1 + 1e-6);
    cr_expect_eq(trn_gear_bevel_force(mesh, &d_m, &f), TRN_R_GEAR_WIDE);
}

Test(gear_force, refused_inputs_leave_the_outputs)
{
    static const double bad[] = {-0.7, NAN, INFINITY};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        for (size_t k = 0; k < 6; k++) {
            trn_bevel_mesh mesh = pinion();
            double *place[] = {&mesh.T,           &mesh.d_e,       &mesh.b,
                               &mesh.alpha_n_rad, &mesh.delta_rad, &mesh.psi_rad};
            *place[k] = bad[i];
            double d_m = 4.31;
            trn_tooth_force f = {.Ft = 5.17};
            cr_expect_eq(trn_gear_bevel_force(mesh, &d_m, &f), TRN_E_DOMAIN, "input %zu", k);
            cr_expect(d_m == 4.31 && f.Ft == 5.17);
        }
        trn_tooth_force f = {.Ft = 5.17};
        cr_expect_eq(trn_gear_helical_force(bad[i], 0.1, 0.3, 0.2, &f), TRN_E_DOMAIN);
        cr_expect_eq(trn_gear_helical_force(9, bad[i], 0.3, 0.2, &f), TRN_E_DOMAIN);
        cr_expect_eq(trn_gear_helical_force(9, 0.1, bad[i], 0.2, &f), TRN_E_DOMAIN);
        cr_expect_eq(trn_gear_helical_force(9, 0.1, 0.3, bad[i], &f), TRN_E_DOMAIN);
        cr_expect_eq(f.Ft, 5.17);
    }
    trn_bevel_mesh mesh = pinion();
    mesh.hand = (trn_hand)7;
    double d_m = 4.31;
    trn_tooth_force f;
    cr_expect_eq(trn_gear_bevel_force(mesh, &d_m, &f), TRN_E_DOMAIN);
    mesh = pinion();
    mesh.b = mesh.d_e / (2 * sin(mesh.delta_rad)); /* the face would reach the apex */
    cr_expect_eq(trn_gear_bevel_force(mesh, &d_m, &f), TRN_E_DOMAIN);
}

/* derived: the same gear in mm and N.m, in inch and lbf.in */
Test(gear_force, inch_against_mm)
{
    const char *metric[] = {"T=87 N.m", "d_e=85.7 mm", "b=26 mm", "alpha_n=20", "delta=24.2",
                            "psi=35"};
    const char *inch[] = {"T=770.014883845465 lbf.in", "d_e=3.3740157480315 in",
                          "b=1.02362204724409 in",   "alpha_n=0.349065850398866 rad",
                          "delta=24.2 deg",          "psi=35 deg"};
    const trn_formula *formula = trn_formula_find("gear.bevel_force");
    cr_assert(formula);
    trn_answer a;
    trn_answer b;
    cr_assert_geq(trn_formula_evaluate(formula, metric, 6, &a), 0);
    cr_assert_geq(trn_formula_evaluate(formula, inch, 6, &b), 0);
    for (size_t k = 0; k < formula->output_count; k++)
        cr_expect(test_near(a.out[k].x, b.out[k].x, 1e-9), "%s: %.12g, %.12g",
                  formula->outputs[k].name, a.out[k].x, b.out[k].x);
}
