/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "balance_case.h"

#include <criterion/criterion.h>
#include <math.h>

/* A tapered bearing of 15 deg whose thrust gives the P1 of the worked case, 2 Y Fa. */
static trn_balance_bearing tapered(double P1_n, double omega_rad_s)
{
    double Y = 0.4 / tan(15 * deg);
    return (trn_balance_bearing){.kind = TRN_FRICTION_TAPERED,
                                 .omega_rad_s = omega_rad_s,
                                 .bore_m = 0.040,
                                 .outside_m = 0.080,
                                 .C0_n = NAN,
                                 .angle_rad = 15 * deg,
                                 .case_count = 1,
                                 .cases = {{P1_n / 3, P1_n / (2 * Y), 1}}};
}

void worked_case(worked *w)
{
    double n1 = 540.0 * 27 / 14 * rpm;
    double n2 = 540 * rpm;
    /* printed as 42.762 mm; the depth of the pitch circle is 40 mm to the digit */
    double dip = 0.040 + 0.006 * cos(atan(27.0 / 14));
    *w = (worked){
        .mesh = {.bevel = true,
                 .member = {{14, 0.032, 0, 1e-6}, {27, 0.032, dip, 1e-6}},
                 .module_m = 0.006,
                 .alpha_rad = 20 * deg,
                 .helix_rad = 0,
                 .shaft_angle_rad = 90 * deg,
                 .power_w = 18000,
                 .omega1_rad_s = n1},
        .bearings = {tapered(2700, n1), tapered(1600, n1), tapered(2300, n2), tapered(1400, n2)},
        .seals = {{0.040, n1}, {0.040, n2}},
        .box = {.mesh_count = 1,
                .bearing_count = 4,
                .seal_count = 2,
                .base = TRN_OIL_MINERAL,
                .kv40_m2_s = 220e-6,
                .kv100_m2_s = 19e-6,
                .rho15_kg_m3 = 895,
                .V_oil_m3 = 2.5e-3,
                .area_m2 = 0.40,
                .surface = trn_balance_surface(),
                .sun_area_m2 = 0.12,
                .sun_absorption = 0.8,
                .sun_w_m2 = 900,
                .T_air_k = 30 + 273.15,
                .mass_kg = 35,
                .power_w = 18000,
                .disc_gap_m = TRN_BALANCE_DISC_GAP_M,
                .churning_scatter = TRN_BALANCE_CHURNING_SCATTER,
                .steel_j_kg_k = TRN_BALANCE_STEEL_J_KG_K}};
    w->box.meshes = &w->mesh;
    w->box.bearings = w->bearings;
    w->box.seals = w->seals;
    w->box.surface.heat_transfer_w_m2k = 18;
}

void helical_case(helical_box *h)
{
    worked w;
    worked_case(&w);
    double n1 = 612.7 * rpm;
    double n2 = n1 * 31 / 22;
    *h = (helical_box){
        .meshes = {{.name = "first",
                    .member = {{31, 0.0335, 0.0314, 0.85e-6}, {22, 0.0361, NAN, 1.15e-6}},
                    .module_m = 0.00475,
                    .alpha_rad = 20 * deg,
                    .helix_rad = 14.3 * deg,
                    .power_w = 23700,
                    .omega1_rad_s = n1},
                   {.name = "second",
                    .member = {{22, 0.0361, 0.0093, 1.15e-6}, {37, 0.0297, 0.0274, 0.7e-6}},
                    .module_m = 0.00475,
                    .alpha_rad = 20 * deg,
                    .power_w = 9800,
                    .omega1_rad_s = n2}},
        .bearings = {{.name = "ball",
                      .kind = TRN_FRICTION_DEEP_GROOVE,
                      .omega_rad_s = n1,
                      .bore_m = 0.035,
                      .outside_m = 0.072,
                      .C0_n = 15300,
                      .angle_rad = NAN,
                      .case_count = 3,
                      .cases = {{2120, 1430, 0.15}, {2380, 310, 0.15}, {2250, 0, 0.7}}},
                     {.kind = TRN_FRICTION_CYLINDRICAL,
                      .omega_rad_s = n2,
                      .bore_m = 0.040,
                      .outside_m = 0.090,
                      .C0_n = NAN,
                      .angle_rad = NAN,
                      .case_count = 1,
                      .cases = {{5130, 0, 1}}},
                     {.kind = TRN_FRICTION_ANGULAR_30,
                      .omega_rad_s = n2,
                      .bore_m = 0.030,
                      .outside_m = 0.062,
                      .C0_n = 14200,
                      .angle_rad = NAN}},
        .seal = {0.0385, n2},
        .box = w.box};
    h->box.meshes = h->meshes;
    h->box.mesh_count = 2;
    h->box.bearings = h->bearings;
    h->box.bearing_count = 3;
    h->box.seals = &h->seal;
    h->box.seal_count = 1;
    h->box.power_w = 23700;
    h->box.surface.heat_transfer_w_m2k = NAN;
}

trn_balance_result solved(const trn_balance_box *box)
{
    trn_balance_result r;
    trn_status status = trn_balance_solve(box, NAN, TRN_BALANCE_WANT_ALL, NULL, &r);
    cr_assert_eq(status, TRN_OK, "status %d", (int)status);
    return r;
}

void printed(const char *what, double wanted, double got, double digit)
{
    cr_expect(fabs(got - wanted) <= 0.5001 * digit, "%s: wanted %.9g, got %.9g", what, wanted, got);
}
