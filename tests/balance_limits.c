/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The heat balance of one gearbox: what is given or missing, warnings, working. */
#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "balance_case.h"
#include "support.h"

/* ---- given temperature, what is missing --------------------------------------------------- */

Test(balance_limits, a_given_temperature_stands_beside_the_balance)
{
    worked w;
    worked_case(&w);
    trn_balance_result free_run = solved(&w.box);
    trn_balance_result r;
    cr_assert_eq(trn_balance_solve(&w.box, 60 + zero_c, TRN_BALANCE_WANT_ALL, NULL, &r), TRN_OK);
    printed("loss at 60", 304.435, r.at.loss_w, 1e-3);
    printed("nu at 60", 78.8199, r.at.nu_m2_s * 1e6, 1e-4);
    cr_expect_eq(r.T_k, 60 + zero_c);
    cr_expect_eq(r.modelled_k, free_run.T_k);
    cr_expect_eq(r.low_k, free_run.low_k);
    cr_expect_eq(r.high_k, free_run.high_k);
    cr_expect_eq(r.time_constant_s, free_run.time_constant_s);
    cr_expect(test_near(r.efficiency, 1 - r.at.loss_w / 18000, 1e-14));

    w.box.area_m2 = NAN; /* losses at the given temperature only */
    trn_balance_result bare;
    cr_assert_eq(trn_balance_solve(&w.box, 60 + zero_c, TRN_BALANCE_WANT_ALL, NULL, &bare), TRN_OK);
    cr_expect_eq(bare.at.loss_w, r.at.loss_w);
    cr_expect(isnan(bare.modelled_k) && isnan(bare.low_k) && isnan(bare.time_constant_s));
    memset(&bare, 0x5a, sizeof bare);
    trn_balance_result before = bare;
    cr_expect_eq(trn_balance_solve(&w.box, NAN, TRN_BALANCE_WANT_ALL, NULL, &bare), TRN_E_UNKNOWN);
    cr_expect_eq(memcmp(&before, &bare, sizeof bare), 0);
}

Test(balance_limits, without_mass_no_time_constant_and_no_warmup)
{
    worked w;
    worked_case(&w);
    w.box.mass_kg = NAN;
    trn_balance_result r = solved(&w.box);
    printed("balance", 80.751, r.T_k - zero_c, 1e-3);
    cr_expect(isnan(r.time_constant_s));
    double T[2] = {-7.1, -7.1};
    cr_expect_eq(trn_balance_warmup(&w.box, 60, T, 2), TRN_E_UNKNOWN);
    cr_expect_eq(T[0], -7.1);
}

/* derived: a box that loses more than 300 K can carry off has no oil temperature */
Test(balance_limits, no_balance_is_said)
{
    worked w;
    worked_case(&w);
    w.box.area_m2 = 0.031;
    trn_balance_result r;
    cr_expect_eq(trn_balance_solve(&w.box, NAN, TRN_BALANCE_WANT_ALL, NULL, &r),
                 TRN_R_HEAT_NO_BALANCE);
    cr_expect(isnan(r.T_k) && isnan(r.at.loss_w) && isnan(r.modelled_k) && isnan(r.sun_w));
    cr_expect(r.warnings & TRN_BALANCE_BIT(NO_BALANCE));
    cr_expect_eq(trn_balance_solve(&w.box, 350, TRN_BALANCE_WANT_ALL, NULL, &r),
                 TRN_R_HEAT_NO_BALANCE);
    cr_expect(r.at.loss_w > 200 && isnan(r.modelled_k));
    double T[481];
    cr_expect_eq(trn_balance_warmup(&w.box, 60, T, 481), TRN_R_HEAT_NO_BALANCE);
    cr_expect_eq(T[0], w.box.T_air_k);
    cr_expect(isnan(T[480]));
}

static void refuse(const trn_balance_box *box, trn_status wanted, const char *what)
{
    trn_balance_result r;
    memset(&r, 0x5a, sizeof r);
    trn_balance_result before = r;
    trn_status status = trn_balance_solve(box, NAN, TRN_BALANCE_WANT_ALL, NULL, &r);
    cr_expect_eq(status, wanted, "%s: status %d", what, (int)status);
    cr_expect_eq(memcmp(&before, &r, sizeof r), 0, "%s", what);
}

Test(balance_limits, refused_inputs_leave_the_result_alone)
{
    worked w;
    worked_case(&w);
    double *numbers[] = {&w.box.kv40_m2_s,
                         &w.box.rho15_kg_m3,
                         &w.box.V_oil_m3,
                         &w.box.T_air_k,
                         &w.box.power_w,
                         &w.box.sun_w_m2,
                         &w.box.sun_absorption,
                         &w.box.disc_gap_m,
                         &w.mesh.module_m,
                         &w.mesh.power_w,
                         &w.mesh.omega1_rad_s,
                         &w.mesh.member[0].z,
                         &w.mesh.member[1].b_m,
                         &w.mesh.member[0].Ra_m,
                         &w.bearings[2].bore_m,
                         &w.bearings[1].omega_rad_s,
                         &w.bearings[0].cases[0].Fr_n,
                         &w.seals[1].d_m,
                         &w.box.surface.residue_w_mk,
                         &w.box.churning_scatter,
                         &w.mesh.alpha_rad,
                         &w.mesh.shaft_angle_rad,
                         &w.mesh.member[1].dip_m};
    for (size_t i = 0; i < sizeof numbers / sizeof numbers[0]; i++) {
        double was = *numbers[i];
        char what[32];
        (void)snprintf(what, sizeof what, "input %zu", i);
        *numbers[i] = -was;
        refuse(&w.box, TRN_E_DOMAIN, what);
        *numbers[i] = INFINITY;
        refuse(&w.box, TRN_E_DOMAIN, what);
        *numbers[i] = NAN;
        if (numbers[i] != &w.mesh.member[1].dip_m) /* there NaN says: not known */
            refuse(&w.box, TRN_E_DOMAIN, what);
        *numbers[i] = was;
    }
    w.box.mesh_count = 0;
    refuse(&w.box, TRN_E_UNKNOWN, "no gears");
    w.box.mesh_count = TRN_BALANCE_MESHES_MAX + 1;
    refuse(&w.box, TRN_E_INPUT, "too many gears");
}

/* ---- warnings ----------------------------------------------------------------------------- */

static unsigned warnings_of(const trn_balance_box *box)
{
    trn_balance_result r = {.warnings = 0};
    (void)trn_balance_solve(box, NAN, TRN_BALANCE_WANT_ALL, NULL, &r);
    return r.warnings;
}

Test(balance_limits, low_oil_runs_cooler_and_is_said)
{
    worked w;
    worked_case(&w);
    double full = solved(&w.box).T_k;
    cr_expect_not(warnings_of(&w.box) & TRN_BALANCE_BIT(LOW_OIL));
    w.mesh.member[1].dip_m = 0.0134; /* 2.25 modules are 13.5 mm */
    trn_balance_result low = solved(&w.box);
    cr_expect(low.T_k < full);
    cr_expect(low.warnings & TRN_BALANCE_BIT(LOW_OIL));
    w.mesh.member[1].dip_m = 0.0135;
    cr_expect_not(warnings_of(&w.box) & TRN_BALANCE_BIT(LOW_OIL));
    cr_expect(warnings_of(&w.box) & TRN_BALANCE_BIT(TOE_DRY));
    /* b sin delta = 28.408 mm, tip height 2.762 mm */
    w.mesh.member[1].dip_m = 0.0312;
    cr_expect_not(warnings_of(&w.box) & TRN_BALANCE_BIT(TOE_DRY));
    w.mesh.member[0].dip_m = NAN; /* the pinion may be the deep one */
    w.mesh.member[1].dip_m = 0.001;
    cr_expect_not(warnings_of(&w.box) & TRN_BALANCE_BIT(LOW_OIL));
    w.mesh.member[1].dip_m = NAN;
    trn_balance_result r = solved(&w.box);
    cr_expect(r.warnings & TRN_BALANCE_BIT(DIP_UNKNOWN));
    cr_expect_eq(r.at.churning_w, 0);
}

Test(balance_limits, warnings_of_level_speed_and_heat)
{
    helical_box h;
    helical_case(&h);
    unsigned bits = warnings_of(&h.box);
    cr_expect_not(bits & (TRN_BALANCE_BIT(SHALLOW) | TRN_BALANCE_BIT(LOW_OIL)));
    cr_expect(bits & TRN_BALANCE_BIT(BEARING_LOAD)); /* the third bearing */
    h.meshes[1].member[1].dip_m = 0.0213;            /* 4.5 modules are 21.375 mm */
    cr_expect(warnings_of(&h.box) & TRN_BALANCE_BIT(SHALLOW));
    h.meshes[1].member[1].dip_m = 0.0275;

    cr_expect_not(bits & TRN_BALANCE_BIT(OVERFULL));
    h.meshes[0].member[0].dip_m = 0.0813; /* pitch radius 75.98, module 4.75 */
    bits = warnings_of(&h.box);
    cr_expect(bits & TRN_BALANCE_BIT(OVERFULL));
    cr_expect(bits & TRN_BALANCE_BIT(DEEP));

    worked w;
    worked_case(&w);
    bits = warnings_of(&w.box);
    cr_expect_eq(bits, TRN_BALANCE_BIT(GROUND) | TRN_BALANCE_BIT(FACE), "bits %x", bits);
    w.box.surface.heat_transfer_w_m2k = 13; /* 98.7 degC */
    bits = warnings_of(&w.box);
    cr_expect(bits & TRN_BALANCE_BIT(HOT_MINERAL));
    cr_expect_not(bits & TRN_BALANCE_BIT(HOT_SEALS));
    w.box.surface.heat_transfer_w_m2k = 10; /* 118.7 degC */
    bits = warnings_of(&w.box);
    cr_expect(bits & TRN_BALANCE_BIT(HOT_SEALS));
    w.box.base = TRN_OIL_PAO;
    cr_expect_not(warnings_of(&w.box) & TRN_BALANCE_BIT(HOT_SYNTHETIC)); /* less mesh loss */
    w.box.surface.heat_transfer_w_m2k = 8.5;
    bits = warnings_of(&w.box);
    cr_expect(bits & TRN_BALANCE_BIT(HOT_SYNTHETIC));
    cr_expect_not(bits & TRN_BALANCE_BIT(HOT_MINERAL));

    worked_case(&w);
    w.mesh.omega1_rad_s *= 3.4; /* v_t 12.84 m/s */
    cr_expect(warnings_of(&w.box) & TRN_BALANCE_BIT(FAST));
    worked_case(&w);
    w.mesh.omega1_rad_s *= 0.79;
    cr_expect(warnings_of(&w.box) & TRN_BALANCE_BIT(SLOW));
    worked_case(&w);
    w.mesh.power_w *= 0.9;
    cr_expect(warnings_of(&w.box) & TRN_BALANCE_BIT(LIGHT));
    worked_case(&w);
    w.box.surface.residue_m = 0.0034; /* 18 becomes 8.91 */
    cr_expect(warnings_of(&w.box) & TRN_BALANCE_BIT(RESIDUE));
    w.box.surface.residue_m = 0.0033; /* 9.05 */
    cr_expect_not(warnings_of(&w.box) & TRN_BALANCE_BIT(RESIDUE));
    worked_case(&w);
    w.box.T_air_k = 251.4;
    w.box.kv40_m2_s = 460e-6;
    trn_balance_result r;
    cr_assert_eq(trn_balance_solve(&w.box, 262, 0, NULL, &r), TRN_OK);
    cr_expect(r.warnings & TRN_BALANCE_BIT(COLD));
    double T[1];
    cr_expect_eq(trn_balance_warmup(&w.box, 60, T, 1), TRN_R_HEAT_COLD_START);
    for (size_t i = 0; i < TRN_BALANCE_WARNINGS; i++)
        cr_expect(trn_balance_warning_text(i)[0] != '\0');
    cr_expect_str_eq(trn_balance_warning_text(TRN_BALANCE_WARNINGS), "");
}

/* A wheel wholly under oil takes the law of the disc (derived: same inputs, same number). */
Test(balance_limits, a_wheel_under_oil_is_a_disc)
{
    worked w;
    worked_case(&w);
    double D = 2 * (0.081 + 0.006 * cos(atan(27.0 / 14)));
    w.mesh.member[1].dip_m = D * 1.08;
    trn_balance_result r = solved(&w.box);
    trn_disc disc;
    cr_assert_geq(trn_loss_disc(D / 2, 0.010, 540 * rpm, r.at.nu_m2_s, r.at.rho_kg_m3, &disc), 0);
    cr_expect(test_near(disc.loss_w, r.at.churning_w, 1e-12));
    double tooth, sides;
    cr_assert_eq(
        trn_loss_churning_iso(r.at.nu_m2_s, 540 * rpm, D, 0.032, 0.006, 0, 1, &tooth, &sides),
        TRN_OK);
    cr_expect(test_near(tooth + sides, r.at.churning_iso_w, 1e-12));
    /* just short of it the pitch circle counts as wholly under */
    w.mesh.member[1].dip_m = D * 0.99;
    cr_expect(solved(&w.box).at.churning_w > 0);
}

/* ---- working ------------------------------------------------------------------------------ */

static double noted(const trn_trace *trace, const char *formula, size_t output, const char *object)
{
    double sum = 0;
    for (size_t i = 0; i < trace->count; i++) {
        const trn_note *n = &trace->list[i];
        if (strcmp(n->formula->name, formula) == 0 && n->variant[0] == '\0' &&
            (!object || strcmp(n->object, object) == 0)) {
            cr_expect_geq(n->status, 0, "%s", formula);
            sum += n->out[output];
        }
    }
    return sum;
}

/* derived: the noted steps give the result again */
Test(balance_limits, working_adds_up)
{
    helical_box h;
    helical_case(&h);
    trn_trace trace = {0};
    trn_trace_scope(&trace, "heat", "dry", "centre");
    trn_balance_result r;
    cr_assert_eq(trn_balance_solve(&h.box, NAN, TRN_BALANCE_WANT_ALL, &trace, &r), TRN_OK);
    static const char *const order[] = {
        "oil.viscosity", "oil.density",  "oil.dynamic_viscosity", "gear.loss_factor",
        "power.share",   "shaft.torque", "gear.contact",          "gear.friction",
        "loss.mesh",     "gear.diameter", "gear.level",           "loss.churning",
        "loss.churning_iso"};
    enum { ORDER = sizeof order / sizeof order[0] };
    cr_assert_geq(trace.count, ORDER);
    for (size_t i = 0; i < ORDER; i++)
        cr_expect_str_eq(trace.list[i].formula->name, order[i]);
    cr_expect(test_near(noted(&trace, "heat.temperature", 0, "centre"), r.T_k, 1e-12));
    cr_expect_str_eq(trace.object, "centre");
    cr_expect(test_near(noted(&trace, "oil.viscosity", 0, "centre"), r.at.nu_m2_s, 1e-12));
    cr_expect(test_near(noted(&trace, "loss.mesh", 0, NULL), r.at.mesh_w, 1e-12));
    cr_expect(test_near(noted(&trace, "loss.churning", 5, NULL), r.at.churning_w, 1e-12));
    cr_expect(test_near(noted(&trace, "loss.churning_iso", 0, NULL) +
                            noted(&trace, "loss.churning_iso", 1, NULL),
                        r.at.churning_iso_w, 1e-12));
    cr_expect(test_near(noted(&trace, "loss.churning_band", 1, NULL), r.at.churning_high_w, 1e-12));
    cr_expect(test_near(noted(&trace, "loss.seal", 0, NULL), r.at.seals_w, 1e-12));
    cr_expect(test_near(noted(&trace, "loss.cases", 0, "ball") +
                            noted(&trace, "bearing.friction", 2, "centre"),
                        r.at.bearings_w, 1e-12));
    cr_expect(test_near(noted(&trace, "heat.losses", 0, NULL), r.at.loss_w, 1e-12));
    cr_expect(test_near(noted(&trace, "heat.wall", 2, NULL), r.path.k_w_m2k, 1e-9));
    cr_expect(test_near(noted(&trace, "heat.sun", 1, NULL), r.sun_w, 1e-9));
    trn_trace_free(&trace);

    worked w;
    worked_case(&w);
    w.box.surface.residue_m = 0.002;
    cr_assert_eq(trn_balance_solve(&w.box, NAN, TRN_BALANCE_WANT_ALL, &trace, &r), TRN_OK);
    cr_expect_str_eq(trace.list[3].formula->name, "gear.bevel_virtual");
    cr_expect(test_near(noted(&trace, "heat.layered", 0, NULL), 11.25, 1e-12));
    cr_expect_not(trace.failed);
    trn_trace_free(&trace);
}
