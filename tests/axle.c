/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <criterion/criterion.h>
#include <gsl/gsl_math.h>
#include <gsl/gsl_rng.h>
#include <string.h>
#include <trunnion/axle.h>
#include <trunnion/formula.h>

#include "support.h"

static const double deg = M_PI / 180;

static void near(const char *what, double got, double wanted, double tolerance)
{
    cr_expect(fabs(got - wanted) <= tolerance, "%s: got %.12g, wanted %.12g +- %g", what, got,
              wanted, tolerance);
}

/* published: Budynas and Nisbett, solutions to ch. 13 (lbf, in): D at 0, C at 6, force
 * (344, 250, 595) at (3, -4.04, 0); from the printed force, not the rounded moment */
Test(axle, helical_gear_between_bearings)
{
    double fx = 344;
    double fy = 250;
    double fz = 595;
    trn_axle_load load = {.Fx = fx,
                          .Fy = fy,
                          .Fz = fz,
                          .Mx = -4.04 * fz,
                          .My = -3 * fz,
                          .Mz = 3 * fy + 4.04 * fx};
    near("Mx", load.Mx, -2404, 0.5);
    near("My", load.My, -1785, 0.5);
    near("Mz", load.Mz, 2140, 0.5);
    trn_axle_reaction r;
    cr_assert_eq(trn_axle_reactions(load, 0, 6, &r), TRN_OK);
    near("D y", r.R_Ay, 106.63, 0.005);
    near("D z", r.R_Az, -297.5, 0.05);
    near("C y", r.R_By, -356.63, 0.005);
    near("C z", r.R_Bz, -297.5, 0.05);
    near("C x", -r.K, -344, 1e-12);
    /* the same from tooth forces: driven, apex of no meaning, mesh at azimuth 180 deg */
    trn_axle_load mesh;
    cr_assert_eq(trn_axle_mesh_load((trn_axle_mesh){.kind = TRN_MESH_HELICAL,
                                                    .role = TRN_MESH_DRIVEN,
                                                    .sigma = -1,
                                                    .force = {.Ft = 595, .Fr = 250, .Fa = 344},
                                                    .hand = TRN_HAND_RIGHT,
                                                    .azimuth_rad = M_PI,
                                                    .station = 3,
                                                    .r_m = 4.04},
                                    &mesh),
                 TRN_OK);
    near("Fx", mesh.Fx, load.Fx, 1e-9);
    near("Fy", mesh.Fy, load.Fy, 1e-9);
    near("Fz", mesh.Fz, load.Fz, 1e-9);
    near("Mx", mesh.Mx, load.Mx, 1e-9);
    near("My", mesh.My, load.My, 1e-9);
    near("Mz", mesh.Mz, load.Mz, 1e-9);
}

/* derived: overhung spiral bevel pinion on two tapered bearings */
static trn_axle_load worked_pinion(double *T_joint)
{
    double d_m = 0;
    int sigma = 0;
    trn_bevel_mesh bevel = {.T = 350,
                            .d_e = 0.0857,
                            .b = 0.026,
                            .alpha_n_rad = 20 * deg,
                            .delta_rad = 24.2 * deg,
                            .psi_rad = 35 * deg,
                            .hand = TRN_HAND_LEFT,
                            .rotation = TRN_TURN_CW,
                            .role = TRN_MESH_DRIVER};
    trn_axle_mesh mesh = {.kind = TRN_MESH_SPIRAL_BEVEL,
                          .role = TRN_MESH_DRIVER,
                          .apex = TRN_APEX_PLUS,
                          .azimuth_rad = M_PI_2,
                          .station = 0.110};
    cr_assert_eq(trn_gear_bevel_force(bevel, &d_m, &mesh.force), TRN_OK);
    cr_assert_eq(trn_axle_turn(mesh.kind, mesh.apex, bevel.rotation, &sigma), TRN_OK);
    near("d_m", d_m, 75.0420e-3, 5e-8);
    near("Ft", mesh.force.Ft, 9328.109, 5e-4);
    near("Fr", mesh.force.Fr, 1103.022, 5e-4);
    near("Fa", mesh.force.Fa, 7656.631, 5e-4);
    mesh.sigma = sigma;
    mesh.r_m = d_m / 2;
    trn_axle_load load = {0};
    cr_assert_eq(trn_axle_mesh_load(mesh, &load), TRN_OK);
    *T_joint = 350;
    return load;
}

Test(axle, overhung_pinion_radial)
{
    double T = 0;
    trn_axle_load load = worked_pinion(&T);
    near("Fx", load.Fx, -7656.631, 5e-4);
    near("Fy", load.Fy, 9328.109, 5e-4);
    near("Fz", load.Fz, -1103.022, 5e-4);
    near("the mesh brakes the driver", load.Mx, -T, 1e-9);
    trn_axle_reaction r;
    cr_assert_eq(trn_axle_reactions(load, 0, 0.070, &r), TRN_OK);
    near("R_Ay", r.R_Ay, 5330.348, 5e-4);
    near("R_Az", r.R_Az, 3473.765, 5e-4);
    near("R_By", r.R_By, -14658.458, 5e-4);
    near("R_Bz", r.R_Bz, -2370.743, 5e-4);
    near("FrA", r.FrA, 6362.362, 5e-4);
    near("FrB", r.FrB, 14848.933, 5e-4);
}

Test(axle, overhung_pinion_thrust_and_load)
{
    static const struct {
        double shaft, FaA, FaB, PA, PB;
    } row[] = {{0, 2.348563, 10.005194, 7.425145, 23.768867},
               {1400, 2.348563, 8.605194, 7.425145, 21.333547},
               {-1400, 2.348563, 11.405194, 7.425145, 26.204188}};
    double T = 0;
    trn_axle_load load = worked_pinion(&T);
    trn_axle_reaction r;
    cr_assert_eq(trn_axle_reactions(load, 0, 0.070, &r), TRN_OK);
    double M_p = T * tan(12 * deg);
    near("M_p", M_p, 74.3948, 5e-5);
    double added = 0;
    cr_assert_eq(trn_axle_couple(M_p, 0.070, &added), TRN_OK);
    near("added", added, 1062.783, 5e-4);
    double FrA = r.FrA + added;
    double FrB = r.FrB + added;
    near("FrA", FrA, 7425.145, 5e-4);
    near("FrB", FrB, 15911.716, 5e-4);
    trn_axle_support A = {TRN_BEARING_TAPERED, TRN_THRUST_PLUS, 0};
    trn_axle_support B = {TRN_BEARING_TAPERED, TRN_THRUST_MINUS, 0};
    cr_assert_eq(trn_bearing_induced_thrust(A.kind, FrA, 0, 0, 14.2 * deg, &A.S), TRN_OK);
    cr_assert_eq(trn_bearing_induced_thrust(B.kind, FrB, 0, 0, 12.95 * deg, &B.S), TRN_OK);
    for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
        double FaA = 0;
        double FaB = 0;
        cr_assert_eq(trn_axle_thrust(A, B, r.K + row[i].shaft, 9328, &FaA, &FaB), TRN_OK);
        near("FaA", FaA, 1e3 * row[i].FaA, 5e-4);
        near("FaB", FaB, 1e3 * row[i].FaB, 5e-4);
        trn_equivalent_load a;
        trn_equivalent_load b;
        cr_assert_eq(trn_bearing_load(A.kind, FrA, FaA, 0, 0, 14.2 * deg, &a), TRN_OK);
        cr_assert_eq(trn_bearing_load(B.kind, FrB, FaB, 0, 0, 12.95 * deg, &b), TRN_OK);
        near("PA", a.P, 1e3 * row[i].PA, 5e-4);
        near("PB", b.P, 1e3 * row[i].PB, 5e-4);
        near("Y of B", b.Y, 1.739515, 5e-7);
        /* the bearings given the other way round carry the same */
        double again_A = 0;
        double again_B = 0;
        cr_assert_eq(trn_axle_thrust(B, A, r.K + row[i].shaft, 9328, &again_B, &again_A), TRN_OK);
        cr_expect(again_A == FaA && again_B == FaB);
    }
}

/* derived: the couple as a vector stays inside the sum of magnitudes */
Test(axle, overhung_pinion_couple_as_vector)
{
    double T = 0;
    trn_axle_load load = worked_pinion(&T);
    double M_p = T * tan(12 * deg);
    static const double wanted_A[] = {5850, 6999};
    static const double wanted_B[] = {14717, 15055};
    for (int i = 0; i < 2; i++) {
        trn_axle_load with[2] = {load, {.Fx = 0}};
        cr_assert_eq(trn_axle_couple_vector(M_p, 0, i == 0 ? 0 : M_PI, &with[1].My, &with[1].Mz),
                     TRN_OK);
        trn_axle_load sum;
        trn_axle_reaction r;
        cr_assert_eq(trn_axle_sum(2, with, &sum), TRN_OK);
        cr_assert_eq(trn_axle_reactions(sum, 0, 0.070, &r), TRN_OK);
        near("A", r.FrA, wanted_A[i], 0.5);
        near("B", r.FrB, wanted_B[i], 0.5);
    }
    trn_axle_reaction alone;
    cr_assert_eq(trn_axle_reactions(load, 0, 0.070, &alone), TRN_OK);
    for (int t = 0; t < 360; t += 7) { /* never above the added values */
        trn_axle_load with[2] = {load, {.Fx = 0}};
        trn_axle_load sum;
        trn_axle_reaction r;
        cr_assert_eq(trn_axle_couple_vector(M_p, t * deg, 0.83, &with[1].My, &with[1].Mz), TRN_OK);
        cr_assert_eq(trn_axle_sum(2, with, &sum), TRN_OK);
        cr_assert_eq(trn_axle_reactions(sum, 0, 0.070, &r), TRN_OK);
        cr_expect_leq(r.FrA, alone.FrA + M_p / 0.070 + 1e-9);
        cr_expect_leq(r.FrB, alone.FrB + M_p / 0.070 + 1e-9);
    }
}

/* derived: magnitude M_p |cos theta|, and the form with half at rest, half at twice the speed */
Test(axle, couple_over_a_turn)
{
    for (int i = 0; i < 25; i++) {
        double theta = 0.37 * i;
        double plane = 1.1 - 0.29 * i;
        double My = 0;
        double Mz = 0;
        cr_assert_eq(trn_axle_couple_vector(74.4, theta, plane, &My, &Mz), TRN_OK);
        near("magnitude", hypot(My, Mz), 74.4 * fabs(cos(theta)), 1e-12);
        double half = 37.2;
        double u = 1 + cos(2 * theta);
        double w = sin(2 * theta);
        near("My", My, half * (u * cos(plane) - w * sin(plane)), 1e-12);
        near("Mz", Mz, half * (u * sin(plane) + w * cos(plane)), 1e-12);
    }
}

static trn_axle_mesh random_mesh(gsl_rng *rng)
{
    return (trn_axle_mesh){
        .kind = (trn_mesh_kind)gsl_rng_uniform_int(rng, 4),
        .role = (trn_mesh_role)gsl_rng_uniform_int(rng, 2),
        .sigma = gsl_rng_uniform_int(rng, 2) ? 1 : -1,
        .force = {.Ft = 1e4 * gsl_rng_uniform(rng),
                  .Fr = 4e3 * gsl_rng_uniform(rng),
                  .Fa = 6e3 * gsl_rng_uniform(rng)},
        .apex = (trn_apex)gsl_rng_uniform_int(rng, 2),
        .hand = (trn_hand)gsl_rng_uniform_int(rng, 2),
        .azimuth_rad = 7 * gsl_rng_uniform(rng) - 3,
        .station = 0.4 * gsl_rng_uniform(rng) - 0.2,
        .r_m = 0.01 + 0.2 * gsl_rng_uniform(rng),
    };
}

/* derived: forces and moments of meshes and bearings sum to nothing about any point */
Test(axle, random_axles_are_in_equilibrium)
{
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_taus2);
    cr_assert(rng);
    for (int i = 0; i < 300; i++) {
        trn_axle_load load[3];
        double size = 0;
        for (int k = 0; k < 3; k++) {
            trn_axle_mesh mesh = random_mesh(rng);
            cr_assert_eq(trn_axle_mesh_load(mesh, &load[k]), TRN_OK);
            size += mesh.force.Ft + mesh.force.Fa;
            near("work of the mesh", load[k].Mx * mesh.sigma,
                 (mesh.role == TRN_MESH_DRIVER ? -1 : 1) * mesh.force.Ft * mesh.r_m, 1e-9);
        }
        double x_A = 0.5 * gsl_rng_uniform(rng) - 0.3;
        double x_B = x_A + (gsl_rng_uniform(rng) - 0.5 > 0 ? 0.083 : -0.211);
        trn_axle_load sum;
        trn_axle_reaction r;
        cr_assert_eq(trn_axle_sum(3, load, &sum), TRN_OK);
        cr_assert_eq(trn_axle_reactions(sum, x_A, x_B, &r), TRN_OK);
        near("Fy", sum.Fy + r.R_Ay + r.R_By, 0, 1e-11 * size);
        near("Fz", sum.Fz + r.R_Az + r.R_Bz, 0, 1e-11 * size);
        near("My", sum.My - x_A * r.R_Az - x_B * r.R_Bz, 0, 1e-11 * size);
        near("Mz", sum.Mz + x_A * r.R_Ay + x_B * r.R_By, 0, 1e-11 * size);
        trn_axle_reaction swapped; /* names of the bearings do not matter */
        cr_assert_eq(trn_axle_reactions(sum, x_B, x_A, &swapped), TRN_OK);
        near("swapped", swapped.FrA, r.FrB, 1e-10 * size);
    }
    gsl_rng_free(rng);
}

/* derived: the mirror x -> -x swaps apex and thrust words, and turns sigma and hand round */
Test(axle, mirror_symmetry)
{
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_taus2);
    cr_assert(rng);
    for (int i = 0; i < 100; i++) {
        trn_axle_mesh mesh = random_mesh(rng);
        trn_axle_mesh mirror = mesh;
        /* seen in the mirror the speed, an axial vector, keeps its x part; so does the hand of a
         * helix change, and its thrust with it */
        mirror.station = -mesh.station;
        mirror.apex = mesh.apex == TRN_APEX_PLUS ? TRN_APEX_MINUS : TRN_APEX_PLUS;
        mirror.hand = mesh.hand == TRN_HAND_RIGHT ? TRN_HAND_LEFT : TRN_HAND_RIGHT;
        trn_axle_load a;
        trn_axle_load b;
        trn_axle_reaction ra;
        trn_axle_reaction rb;
        cr_assert_eq(trn_axle_mesh_load(mesh, &a), TRN_OK);
        cr_assert_eq(trn_axle_mesh_load(mirror, &b), TRN_OK);
        cr_expect_eq(b.Fx, -a.Fx);
        cr_expect_eq(b.Fy, a.Fy);
        cr_expect_eq(b.Fz, a.Fz);
        cr_expect_eq(b.Mx, a.Mx);
        cr_assert_eq(trn_axle_reactions(a, 0.011, 0.094, &ra), TRN_OK);
        cr_assert_eq(trn_axle_reactions(b, -0.011, -0.094, &rb), TRN_OK);
        cr_expect(test_near(ra.FrA, rb.FrA, 1e-9), "%.12g, %.12g", ra.FrA, rb.FrA);
        cr_expect(test_near(ra.FrB, rb.FrB, 1e-9), "%.12g, %.12g", ra.FrB, rb.FrB);
        cr_expect_eq(rb.K, -ra.K);
        trn_axle_support A = {TRN_BEARING_TAPERED, TRN_THRUST_PLUS, 0.3 * ra.FrA};
        trn_axle_support B = {TRN_BEARING_TAPERED, TRN_THRUST_MINUS, 0.3 * ra.FrB};
        trn_axle_support mA = {TRN_BEARING_TAPERED, TRN_THRUST_MINUS, A.S};
        trn_axle_support mB = {TRN_BEARING_TAPERED, TRN_THRUST_PLUS, B.S};
        double f[4] = {0};
        cr_assert_eq(trn_axle_thrust(A, B, ra.K, 0, &f[0], &f[1]), TRN_OK);
        cr_assert_eq(trn_axle_thrust(mA, mB, rb.K, 0, &f[2], &f[3]), TRN_OK);
        cr_expect(f[0] == f[2] && f[1] == f[3]);
    }
    gsl_rng_free(rng);
}

/* derived: two bevels at 90 deg in one frame, apex in the origin. Pinion along X (apex +, mesh at
 * azimuth 0); wheel along Y (apex -), its y axis along -X, its z axis along Z. What one gets the
 * other gives, and they meet in one point: force and moment vanish together. */
Test(axle, bevel_pair_acts_and_reacts_in_space)
{
    for (int i = 0; i < 16; i++) {
        double delta = (17.3 + 3.1 * i) * deg;
        double R_m = 0.0713;
        trn_bevel_mesh bevel[2];
        trn_axle_load load[2];
        for (int g = 0; g < 2; g++) {
            double cone = g == 0 ? delta : M_PI_2 - delta;
            bool flip = g == 1;
            bevel[g] = (trn_bevel_mesh){.d_e = 2 * R_m * sin(cone),
                                        .alpha_n_rad = 20 * deg,
                                        .delta_rad = cone,
                                        .psi_rad = 35 * deg,
                                        .hand = (trn_hand)((i & 1) ^ flip),
                                        .rotation = (trn_rotation)(((i >> 1) & 1) ^ flip),
                                        .role = (trn_mesh_role)(((i >> 2) & 1) ^ flip)};
            bevel[g].T = 4310 * bevel[g].d_e / 2;
            trn_axle_mesh mesh = {.kind = TRN_MESH_SPIRAL_BEVEL,
                                  .role = bevel[g].role,
                                  .apex = g == 0 ? TRN_APEX_PLUS : TRN_APEX_MINUS,
                                  .station = g == 0 ? -R_m * cos(cone) : R_m * cos(cone),
                                  .r_m = R_m * sin(cone)};
            double d_m = 0;
            cr_assert_eq(trn_gear_bevel_force(bevel[g], &d_m, &mesh.force), TRN_OK);
            cr_assert_eq(trn_axle_turn(mesh.kind, mesh.apex, bevel[g].rotation, &mesh.sigma),
                         TRN_OK);
            cr_assert_eq(trn_axle_mesh_load(mesh, &load[g]), TRN_OK);
        }
        /* wheel frame -> pinion frame: x' = Y, y' = -X, z' = Z */
        near("X", load[0].Fx - load[1].Fy, 0, 1e-8);
        near("Y", load[0].Fy + load[1].Fx, 0, 1e-8);
        near("Z", load[0].Fz + load[1].Fz, 0, 1e-8);
        near("MX", load[0].Mx - load[1].My, 0, 1e-9);
        near("MY", load[0].My + load[1].Mx, 0, 1e-9);
        near("MZ", load[0].Mz + load[1].Mz, 0, 1e-9);
    }
}

/* derived: a helical pair on parallel axles */
Test(axle, helical_pair_acts_and_reacts)
{
    for (int i = 0; i < 8; i++) {
        trn_axle_load load[2];
        for (int g = 0; g < 2; g++) {
            trn_rotation rotation = (trn_rotation)((i & 1) ^ g);
            trn_axle_mesh mesh = {.kind = TRN_MESH_HELICAL,
                                  .role = (trn_mesh_role)(((i >> 1) & 1) ^ g),
                                  .force = {.Ft = 747.8, .Fr = 289.6, .Fa = 272.2},
                                  .hand = (trn_hand)(((i >> 2) & 1) ^ g),
                                  .azimuth_rad = 0.71 + g * M_PI,
                                  .station = 0.1,
                                  .r_m = g ? 0.11 : 0.053};
            cr_assert_eq(trn_axle_turn(mesh.kind, mesh.apex, rotation, &mesh.sigma), TRN_OK);
            cr_assert_eq(trn_axle_mesh_load(mesh, &load[g]), TRN_OK);
        }
        near("x", load[0].Fx + load[1].Fx, 0, 1e-9);
        near("y", load[0].Fy + load[1].Fy, 0, 1e-9);
        near("z", load[0].Fz + load[1].Fz, 0, 1e-9);
    }
}

Test(axle, turn_and_rotation_are_reverse)
{
    static const struct {
        trn_mesh_kind kind;
        trn_apex apex;
        trn_rotation rotation;
        int sigma;
    } row[] = {{TRN_MESH_SPIRAL_BEVEL, TRN_APEX_PLUS, TRN_TURN_CW, 1},
               {TRN_MESH_SPIRAL_BEVEL, TRN_APEX_MINUS, TRN_TURN_CCW, 1},
               {TRN_MESH_STRAIGHT_BEVEL, TRN_APEX_PLUS, TRN_TURN_CCW, -1},
               {TRN_MESH_STRAIGHT_BEVEL, TRN_APEX_MINUS, TRN_TURN_CW, -1},
               {TRN_MESH_SPUR, TRN_APEX_PLUS, TRN_TURN_CW, -1},
               {TRN_MESH_HELICAL, TRN_APEX_MINUS, TRN_TURN_CCW, 1}};
    for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
        int sigma = 0;
        trn_rotation rotation = TRN_TURN_CW;
        trn_rotation mate = TRN_TURN_CW;
        cr_assert_eq(trn_axle_turn(row[i].kind, row[i].apex, row[i].rotation, &sigma), TRN_OK);
        cr_expect_eq(sigma, row[i].sigma, "row %zu", i);
        cr_assert_eq(trn_axle_rotation(row[i].kind, row[i].apex, sigma, &rotation), TRN_OK);
        cr_expect_eq(rotation, row[i].rotation, "row %zu", i);
        cr_assert_eq(trn_axle_mate_rotation(rotation, &mate), TRN_OK);
        cr_expect_neq(mate, rotation);
    }
}

static trn_axle_support support(trn_bearing_kind kind, trn_thrust_word thrust)
{
    return (trn_axle_support){kind, thrust, 210};
}

/* derived: the table of thrust words, all sixteen pairs of simple bearings */
Test(axle, thrust_words)
{
    enum { none = TRN_THRUST_NONE, plus, minus, both };
    static const struct {
        int a, b;
        double K;
        int status;
        double FaA, FaB;
    } row[] = {
        {both, none, -1431, TRN_OK, 1431, 0},
        {none, both, 1431, TRN_OK, 0, 1431},
        {both, plus, 1431, TRN_OK, 1431, 0},
        {minus, both, -1431, TRN_OK, 0, 1431},
        {plus, minus, 1431, TRN_OK, 1641, 210},
        {minus, plus, 1431, TRN_OK, 210, 1641},
        {plus, none, 1431, TRN_OK, 1431, 0},
        {none, minus, -1431, TRN_OK, 0, 1431},
        {plus, none, -1431, TRN_E_DOMAIN, 0, 0},
        {none, minus, 1431, TRN_E_DOMAIN, 0, 0},
        {both, both, -1431, TRN_R_AXLE_OVER_LOCATED, 1431, 1431},
        {none, none, 1431, TRN_E_DOMAIN, 0, 0},
        {none, none, 0, TRN_OK, 0, 0},
        {none, none, 5e-6, TRN_OK, 0, 0}, /* rounding of tooth forces of 9 kN */
        {none, none, 2e-5, TRN_E_DOMAIN, 0, 0},
        {plus, none, -5e-6, TRN_OK, 0, 0},
        {plus, plus, 1431, TRN_R_AXLE_OVER_LOCATED, 1431, 1431},
        {plus, plus, -1431, TRN_E_DOMAIN, 0, 0},
    };
    for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
        double FaA = -1;
        double FaB = -1;
        trn_status status = trn_axle_thrust(
            support(TRN_BEARING_DEEP_GROOVE, (trn_thrust_word)row[i].a),
            support(TRN_BEARING_DEEP_GROOVE, (trn_thrust_word)row[i].b), row[i].K, 9e3, &FaA, &FaB);
        cr_expect_eq(status, row[i].status, "row %zu: status %d", i, status);
        double a = status < 0 ? -1 : row[i].FaA; /* untouched where refused */
        double b = status < 0 ? -1 : row[i].FaB;
        cr_expect(FaA == a && FaB == b, "row %zu: %g %g, wanted %g %g", i, FaA, FaB, a, b);
    }
}

Test(axle, hold_says_why)
{
    static const struct {
        trn_bearing_kind kind_A;
        trn_thrust_word A;
        trn_bearing_kind kind_B;
        trn_thrust_word B;
        trn_axle_hold hold;
    } row[] = {
        {TRN_BEARING_TAPERED, TRN_THRUST_PLUS, TRN_BEARING_TAPERED, TRN_THRUST_MINUS,
         TRN_HOLD_HELD},
        {TRN_BEARING_TAPERED, TRN_THRUST_MINUS, TRN_BEARING_DEEP_GROOVE, TRN_THRUST_PLUS,
         TRN_HOLD_HELD},
        {TRN_BEARING_TAPERED, TRN_THRUST_BOTH, TRN_BEARING_CYLINDRICAL, TRN_THRUST_NONE,
         TRN_HOLD_NOT_OPPOSED},
        {TRN_BEARING_ANGULAR_40, TRN_THRUST_PLUS, TRN_BEARING_NEEDLE, TRN_THRUST_NONE,
         TRN_HOLD_NOT_OPPOSED},
        {TRN_BEARING_TAPERED, TRN_THRUST_PLUS, TRN_BEARING_DEEP_GROOVE, TRN_THRUST_BOTH,
         TRN_HOLD_NOT_OPPOSED},
        {TRN_BEARING_TAPERED, TRN_THRUST_NONE, TRN_BEARING_TAPERED, TRN_THRUST_NONE,
         TRN_HOLD_NOT_OPPOSED},
        {TRN_BEARING_NEEDLE, TRN_THRUST_NONE, TRN_BEARING_CYLINDRICAL, TRN_THRUST_NONE,
         TRN_HOLD_NOT_HELD},
        {TRN_BEARING_DEEP_GROOVE, TRN_THRUST_BOTH, TRN_BEARING_DEEP_GROOVE, TRN_THRUST_BOTH,
         TRN_HOLD_OVER_LOCATED},
    };
    for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
        trn_axle_hold hold = TRN_HOLD_HELD;
        cr_assert_eq(trn_axle_held(support(row[i].kind_A, row[i].A),
                                   support(row[i].kind_B, row[i].B), 870, 9e3, &hold),
                     TRN_OK);
        cr_expect_eq(hold, row[i].hold, "row %zu: %d", i, hold);
    }
}

/* derived: the side force from the equilibrium of the tube, t x (M1 - M2)/L_t, at most twice the
 * couple; at the nearer bearing by the lever */
Test(axle, side_force_is_a_lever)
{
    double F = 0;
    double near_bearing = 0;
    double beta = 15 * deg;
    cr_assert_eq(trn_axle_side_force(350, beta, 0.9, 0.1, -0.07, &F, &near_bearing), TRN_OK);
    near("F", F, 2 * 350 * sin(beta) / 0.9, 1e-11);
    trn_axle_reaction r; /* force F along y at the joint, 0.1 outside A */
    cr_assert_eq(trn_axle_reactions((trn_axle_load){.Fy = F, .Mz = -0.1 * F}, 0, 0.07, &r), TRN_OK);
    near("bearing", near_bearing, r.FrA, 1e-9);
}

Test(axle, refused_inputs_leave_the_outputs)
{
    trn_axle_load kept = {.Fx = 4.31};
    trn_axle_load load = kept;
    trn_axle_mesh good = {.kind = TRN_MESH_SPUR,
                          .role = TRN_MESH_DRIVEN,
                          .sigma = 1,
                          .force = {.Ft = 10, .Fr = 3},
                          .r_m = 0.04};
    trn_axle_mesh bad[] = {good, good, good, good, good, good, good, good};
    bad[0].sigma = 0;
    bad[1].force.Ft = -1;
    bad[2].r_m = 0;
    bad[3].azimuth_rad = NAN;
    bad[4].station = INFINITY;
    bad[5].kind = (trn_mesh_kind)9;
    bad[6].role = (trn_mesh_role)2;
    bad[7].force.Fr = NAN;
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        cr_expect_eq(trn_axle_mesh_load(bad[i], &load), TRN_E_DOMAIN, "case %zu", i);
        cr_expect(memcmp(&load, &kept, sizeof load) == 0);
    }
    trn_axle_reaction r = {.K = 2.385};
    cr_expect_eq(trn_axle_reactions(kept, 0.03, 0.03, &r), TRN_E_DOMAIN);
    cr_expect_eq(trn_axle_reactions(kept, NAN, 0.03, &r), TRN_E_DOMAIN);
    cr_expect_eq(trn_axle_reactions((trn_axle_load){.My = NAN}, 0, 0.03, &r), TRN_E_DOMAIN);
    cr_expect_eq(r.K, 2.385);
    double F = 1.7;
    double G = 1.7;
    cr_expect_eq(trn_axle_couple(-1, 0.07, &F), TRN_E_DOMAIN);
    cr_expect_eq(trn_axle_couple(NAN, 0.07, &F), TRN_E_DOMAIN);
    cr_expect_eq(trn_axle_couple(70, 0, &F), TRN_E_DOMAIN);
    cr_expect_eq(trn_axle_side_force(70, M_PI_2, 1, 0, 1, &F, &G), TRN_E_DOMAIN);
    cr_expect_eq(trn_axle_thrust(support(TRN_BEARING_NEEDLE, TRN_THRUST_NONE),
                                 support((trn_bearing_kind)10, TRN_THRUST_BOTH), 3, 0, &F, &G),
                 TRN_E_DOMAIN);
    cr_expect_eq(trn_axle_thrust(support(TRN_BEARING_NEEDLE, TRN_THRUST_NONE),
                                 support(TRN_BEARING_DEEP_GROOVE, TRN_THRUST_BOTH), NAN, 0, &F, &G),
                 TRN_E_DOMAIN);
    cr_expect(F == 1.7 && G == 1.7);
    int sigma = 5;
    cr_expect_eq(trn_axle_turn(TRN_MESH_SPUR, TRN_APEX_PLUS, (trn_rotation)2, &sigma),
                 TRN_E_DOMAIN);
    cr_expect_eq(sigma, 5);
}

/* the entries of the catalogue: examples, missing words, inch against mm */
Test(axle, catalogue)
{
    const trn_formula *turn = trn_formula_find("axle.turn");
    const trn_formula *mesh = trn_formula_find("axle.mesh_load");
    cr_assert(turn && mesh);
    trn_answer a;
    trn_answer b;
    const char *no_apex[] = {"kind=spiral_bevel", "rotation=cw"};
    const char *spur[] = {"kind=spur", "rotation=cw"};
    cr_expect_eq(trn_formula_evaluate(turn, no_apex, 2, &a), TRN_E_MISSING);
    cr_expect_eq(trn_formula_evaluate(turn, spur, 2, &a), TRN_OK);
    cr_expect_eq(a.out[0].x, -1);
    const char *metric[] = {"kind=helical",  "role=driven", "sigma=-1",    "Ft=2647 N",
                            "Fr=1112 N",     "Fa=1530 N",   "azimuth=171", "station=76.2 mm",
                            "r_m=102.616 mm"};
    const char *inch[] = {"kind=helical",
                          "role=driven",
                          "sigma=-1",
                          "Ft=595.069272384934 lbf",
                          "Fr=249.987544726878 lbf",
                          "Fa=343.957682942557 lbf",
                          "azimuth=171 deg",
                          "station=3 in",
                          "r_m=4.04 in"};
    cr_assert_eq(trn_formula_evaluate(mesh, metric, 9, &a), TRN_OK, "%s %s", a.faulty, a.why);
    cr_assert_eq(trn_formula_evaluate(mesh, inch, 9, &b), TRN_OK, "%s %s", b.faulty, b.why);
    for (size_t k = 0; k < mesh->output_count; k++)
        cr_expect(test_near(a.out[k].x, b.out[k].x, 1e-9), "%s: %.12g, %.12g",
                  mesh->outputs[k].name, a.out[k].x, b.out[k].x);
}
