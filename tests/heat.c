/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Heat transfer of a housing. Published values: tests/published/heat.csv. */
#include <criterion/criterion.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_math.h>
#include <gsl/gsl_odeiv2.h>
#include <math.h>
#include <trunnion/formula.h>
#include <trunnion/heat.h>

#include "support.h"

static trn_heat_surface housing(void)
{
    return (trn_heat_surface){.heat_transfer_w_m2k = NAN,
                              .air_speed_m_s = 1.73,
                              .height_m = 0.263,
                              .emissivity = 0.87,
                              .residue_m = 0,
                              .residue_w_mk = TRN_HEAT_RESIDUE_W_MK,
                              .film_w_m2k = TRN_HEAT_OIL_FILM_W_M2K,
                              .wall_m = TRN_HEAT_WALL_MM * 1e-3,
                              .wall_w_mk = TRN_HEAT_WALL_W_MK};
}

/* derived: exponents of the housing's law, by ratios */
Test(heat, housing_laws_follow_their_powers)
{
    double a, b;
    cr_assert_eq(trn_heat_free_convection(0.263, 341.7, 298.4, TRN_HEAT_HOUSING, &a), TRN_OK);
    cr_assert_eq(trn_heat_free_convection(2 * 0.263, 341.7, 298.4, TRN_HEAT_HOUSING, &b), TRN_OK);
    cr_expect(test_near(b / a, pow(2, -0.1), 1e-13));
    cr_assert_eq(trn_heat_free_convection(0.263, 298.4 + 2 * 43.3, 298.4, TRN_HEAT_HOUSING, &b),
                 TRN_OK);
    cr_expect(test_near(b / a, pow(2, 0.3), 1e-12));
    cr_assert_eq(trn_heat_free_convection(0.263, 298.4 - 43.3, 298.4, TRN_HEAT_HOUSING, &b),
                 TRN_OK);
    cr_expect(test_near(a, b, 1e-13)); /* a colder wall takes up as much */
    /* without difference of temperature the law of moving air is Re^0.64 */
    cr_assert_eq(trn_heat_forced_convection(0.33, 1.7, 310, 310, TRN_HEAT_HOUSING, &a), TRN_OK);
    cr_assert_eq(trn_heat_forced_convection(0.33, 3.4, 310, 310, TRN_HEAT_HOUSING, &b), TRN_OK);
    cr_expect(test_near(b / a, pow(2, 0.64), 1e-13));
    cr_assert_eq(trn_heat_forced_convection(0.33, 0, 310, 310, TRN_HEAT_HOUSING, &a), TRN_OK);
    cr_expect_eq(a, 0);
    cr_assert_eq(trn_heat_forced_convection(0.33, 0, 350, 310, TRN_HEAT_HOUSING, &a), TRN_OK);
    cr_expect_gt(a, 0);
}

/* memory: Churchill and Chu without buoyancy is Nu 0.825^2; the plate's two laws meet at Re 5e5;
 * housings give 2.1 to 2.6 times a plate where they work */
Test(heat, plate_laws_have_their_limits)
{
    double still;
    cr_assert_eq(trn_heat_free_convection(0.5, 310, 310, TRN_HEAT_PLATE, &still), TRN_OK);
    double k_air = still * 0.5 / (0.825 * 0.825);
    cr_expect(fabs(k_air - 0.0270) < 0.0003, "k of air at 37 degC %.6g", k_air); /* air tables */
    double before = 0;
    for (double v = 20.5; v < 21.5; v += 0.01) { /* Re 5e5 lies at 20.9 m/s */
        double alpha;
        cr_assert_eq(trn_heat_forced_convection(0.4, v, 310, 310, TRN_HEAT_PLATE, &alpha), TRN_OK);
        cr_expect(before == 0 || fabs(alpha / before - 1) < 0.003, "%g m/s", v);
        before = alpha;
    }
    for (double dT = 11; dT < 90; dT += 13.7) {
        double plate, law;
        cr_assert_eq(trn_heat_free_convection(0.3, 300 + dT, 300, TRN_HEAT_PLATE, &plate), TRN_OK);
        cr_assert_eq(trn_heat_free_convection(0.3, 300 + dT, 300, TRN_HEAT_HOUSING, &law), TRN_OK);
        cr_expect(law > 1.9 * plate && law < 2.7 * plate, "dT %g: %.6g", dT, law / plate);
    }
}

/* derived: difference of the fourth powers over the difference, and its limit */
Test(heat, radiation_is_the_fourth_power_law)
{
    double a, b;
    cr_assert_eq(trn_heat_radiation(0.87, 351.3, 297.6, &a), TRN_OK);
    double q = 0.87 * 5.670374419e-8 * (gsl_pow_4(351.3) - gsl_pow_4(297.6));
    cr_expect(test_near(a * (351.3 - 297.6), q, 1e-12));
    cr_assert_eq(trn_heat_radiation(0.87, 297.6, 351.3, &b), TRN_OK);
    cr_expect(test_near(a, b, 1e-14));
    cr_assert_eq(trn_heat_radiation(0.87, 297.6, 297.6, &a), TRN_OK);
    cr_expect(test_near(a, 4 * 0.87 * 5.670374419e-8 * gsl_pow_3(297.6), 1e-14));
}

/* derived: layers add up in any order */
Test(heat, layers_in_series)
{
    double one, both, other;
    cr_assert_eq(trn_heat_layered(21.7, 0.0034, 0.063, &one), TRN_OK);
    cr_assert_eq(trn_heat_layered(one, 0.008, 50, &both), TRN_OK);
    cr_assert_eq(trn_heat_layered(21.7, 0.008, 50, &one), TRN_OK);
    cr_assert_eq(trn_heat_layered(one, 0.0034, 0.063, &other), TRN_OK);
    cr_expect(test_near(both, other, 1e-14));
    cr_expect(test_near(1 / both, 1 / 21.7 + 0.0034 / 0.063 + 0.008 / 50, 1e-14));
}

/* derived: the same heat flows through wall and out; k is all resistances in series */
Test(heat, wall_passes_on_what_it_takes)
{
    trn_heat_surface s = housing();
    for (size_t i = 0; i < 30; i++) {
        s.residue_m = 0.0009 * (double)(i % 4);
        s.air_speed_m_s = 0.61 * (double)(i % 5);
        double T = 311 + 3.7 * (double)i;
        trn_heat_path p;
        cr_assert_eq(trn_heat_wall(&s, T, 297.3, &p), TRN_OK);
        double back = 0; /* the other way round: the surface gives the oil */
        trn_heat_path again;
        cr_assert_eq(trn_heat_wall_inside(&s, p.T_surface_k, 297.3, &back, &again), TRN_OK);
        cr_expect(test_near(back, T, 1e-12), "%.15g %.15g", back, T);
        cr_expect(again.k_w_m2k == p.k_w_m2k && again.alpha_out_w_m2k == p.alpha_out_w_m2k);
        double R_in = 1.0 / 200 + 0.008 / 50 + s.residue_m / 0.06;
        double in = (T - p.T_surface_k) / R_in;
        double out = p.alpha_out_w_m2k * (p.T_surface_k - 297.3);
        cr_expect(test_near(in, out, 1e-9), "%.12g %.12g", in, out);
        cr_expect(test_near(out, p.k_w_m2k * (T - 297.3), 1e-9));
        double still, moving, radiated;
        cr_assert_eq(
            trn_heat_free_convection(s.height_m, p.T_surface_k, 297.3, TRN_HEAT_HOUSING, &still),
            TRN_OK);
        cr_assert_eq(trn_heat_forced_convection(s.height_m, s.air_speed_m_s, p.T_surface_k, 297.3,
                                                TRN_HEAT_HOUSING, &moving),
                     TRN_OK);
        cr_assert_eq(trn_heat_radiation(s.emissivity, p.T_surface_k, 297.3, &radiated), TRN_OK);
        cr_expect(test_near(p.alpha_out_w_m2k, fmax(still, moving) + radiated, 1e-13));
    }
    trn_heat_path p;
    cr_assert_eq(trn_heat_wall(&s, 297.3, 297.3, &p), TRN_OK); /* nothing flows, k stays finite */
    cr_expect(p.T_surface_k == 297.3 && p.k_w_m2k > 0);
    s.heat_transfer_w_m2k = 17.3;
    s.residue_m = 0;
    double kept = 2.385;
    cr_expect_eq(trn_heat_wall_inside(&s, 310, 297.3, &kept, &p), TRN_E_DOMAIN); /* not computed */
    cr_expect_eq(kept, 2.385);
    cr_assert_eq(trn_heat_wall(&s, 350, 297.3, &p), TRN_OK);
    cr_expect(p.k_w_m2k == 17.3 && p.alpha_out_w_m2k == 17.3);
    cr_expect(test_near(p.T_surface_k, 350, 1e-14));
}

typedef struct body {
    double P, kA, C;
} body;

static int heating(double t, const double y[], double dydt[], void *context)
{
    const body *b = context;
    (void)t;
    dydt[0] = (b->P - b->kA * y[0]) / b->C;
    return GSL_SUCCESS;
}

static void march(double P, double seconds, double *rise)
{
    body b = {P, 7.45, 23400};
    gsl_odeiv2_system system = {.function = heating, .dimension = 1, .params = &b};
    gsl_odeiv2_driver *driver =
        gsl_odeiv2_driver_alloc_y_new(&system, gsl_odeiv2_step_rk8pd, 1, 1e-12, 1e-12);
    double t = 0;
    cr_assert_eq(gsl_odeiv2_driver_apply(driver, &t, seconds, rise), GSL_SUCCESS);
    gsl_odeiv2_driver_free(driver);
}

/* derived: thirty turns of the equation itself */
Test(heat, cycle_is_what_the_equation_settles_to)
{
    double peak, trough, mean;
    cr_assert_eq(trn_heat_cycle(347, 7.45, 23400, 1500, 2350, &peak, &trough, &mean), TRN_OK);
    double rise = 0;
    double top = 0;
    for (int i = 0; i < 30; i++) {
        march(347, 1500, &rise);
        top = rise;
        march(0, 2350, &rise);
    }
    cr_expect(test_near(top, peak, 1e-9), "%.12g %.12g", top, peak);
    cr_expect(test_near(rise, trough, 1e-9), "%.12g %.12g", rise, trough);
    cr_expect(test_near(mean, 347 / 7.45 * 1500 / 3850, 1e-14));
}

/* derived: no overflow in long phases, the mean in very short ones */
Test(heat, cycle_limits)
{
    double peak, trough, mean;
    cr_assert_eq(trn_heat_cycle(347, 7.45, 23400, 1e9, 1e9, &peak, &trough, &mean), TRN_OK);
    cr_expect(test_near(peak, 347 / 7.45, 1e-14));
    cr_expect_eq(trough, 0);
    cr_assert_eq(trn_heat_cycle(347, 7.45, 23400, 1e-7, 3e-7, &peak, &trough, &mean), TRN_OK);
    cr_expect(test_near(peak, mean, 1e-9) && test_near(trough, mean, 1e-9));
    cr_assert_eq(trn_heat_cycle(347, 7.45, 23400, 1e-320, 3e-320, &peak, &trough, &mean), TRN_OK);
    cr_expect(isfinite(peak) && peak > 0);
    cr_assert_eq(trn_heat_cycle(347, 7.45, 23400, 0, 60, &peak, &trough, &mean), TRN_OK);
    cr_expect(peak == 0 && trough == 0 && mean == 0);
}

/* derived: first law; share of the sun by resistances */
Test(heat, sums)
{
    double loss, efficiency, absorbed, sun, out, rest;
    cr_assert_eq(trn_heat_losses(187.2, 14.8, 57.5, 19.4, 18000, &loss, &efficiency), TRN_OK);
    cr_expect(test_near(loss, 278.9, 1e-14) && test_near(efficiency, 1 - 278.9 / 18000, 1e-14));
    cr_assert_eq(trn_heat_losses(0, 0, 0, 19.4, 0, &loss, &efficiency), TRN_OK);
    cr_expect(isnan(efficiency));
    cr_assert_eq(trn_heat_sun(0.8, 900, 0.12, 7.2, 18, &absorbed, &sun), TRN_OK);
    cr_expect(test_near(absorbed, 86.4, 1e-14) && test_near(sun, 34.56, 1e-14));
    cr_assert_eq(trn_heat_balance(278.9, 34.56, 7.2, 0.4, 350, 300, &out, &rest), TRN_OK);
    cr_expect(test_near(out, 144, 1e-14) && test_near(rest, 169.46, 1e-13));
}

/* derived: the same wall in degC and mm, and in degF, ft/s and inch */
Test(heat, inch_and_millimetre)
{
    const trn_formula *f = trn_formula_find("heat.forced_convection");
    cr_assert_not_null(f);
    const char *metric[] = {"l=304.8", "v=2.4384", "T_wall=75", "T_air=25"};
    const char *imperial[] = {"l=12 in", "v=8 ft/s", "T_wall=167 degF", "T_air=77 degF"};
    trn_answer a, b;
    cr_assert_eq(trn_formula_evaluate(f, metric, 4, &a), TRN_OK);
    cr_assert_eq(trn_formula_evaluate(f, imperial, 4, &b), TRN_OK);
    cr_expect(test_near(a.out[0].x, b.out[0].x, 1e-11));
    /* rises are differences: no 273.15 in them */
    const trn_formula *cycle = trn_formula_find("heat.cycle");
    const char *in[] = {"P=250", "kA=6", "C=20000", "on=30 min", "off=20 min"};
    cr_assert_eq(trn_formula_evaluate(cycle, in, 5, &a), TRN_OK);
    cr_expect(fabs(trn_formula_shown(&cycle->outputs[0], a.out[0].x) - 29.2966) < 5e-5);
}

Test(heat, refused_inputs_leave_outputs_alone)
{
    static const double bad[] = {-1, NAN, INFINITY, -INFINITY};
    double out = -7.1, a = -7.1, b = -7.1;
    for (size_t k = 0; k < 4; k++) {
        cr_expect_eq(trn_heat_free_convection(bad[k], 350, 300, TRN_HEAT_PLATE, &out),
                     TRN_E_DOMAIN);
        cr_expect_eq(trn_heat_free_convection(0.3, bad[k], 300, TRN_HEAT_PLATE, &out),
                     TRN_E_DOMAIN);
        cr_expect_eq(trn_heat_free_convection(0.3, 350, bad[k], TRN_HEAT_HOUSING, &out),
                     TRN_E_DOMAIN);
        cr_expect_eq(trn_heat_forced_convection(0.3, bad[k], 350, 300, TRN_HEAT_HOUSING, &out),
                     TRN_E_DOMAIN);
        cr_expect_eq(trn_heat_radiation(bad[k], 350, 300, &out), TRN_E_DOMAIN);
        cr_expect_eq(trn_heat_layered(18, bad[k], 0.06, &out), TRN_E_DOMAIN);
        cr_expect_eq(trn_heat_layered(bad[k], 0.001, 0.06, &out), TRN_E_DOMAIN);
        cr_expect_eq(trn_heat_cycle(bad[k], 6, 2e4, 10, 10, &out, &a, &b), TRN_E_DOMAIN);
        cr_expect_eq(trn_heat_cycle(250, 6, 2e4, bad[k], 10, &out, &a, &b), TRN_E_DOMAIN);
        cr_expect_eq(trn_heat_losses(1, 1, bad[k], 1, 1, &out, &a), TRN_E_DOMAIN);
        cr_expect_eq(trn_heat_sun(0.8, bad[k], 0.1, 7, 18, &out, &a), TRN_E_DOMAIN);
        cr_expect_eq(trn_heat_balance(1, 1, 7, bad[k], 350, 300, &out, &a), TRN_E_DOMAIN);
    }
    cr_expect_eq(trn_heat_free_convection(0.3, 350, 300, (trn_heat_law)2, &out), TRN_E_DOMAIN);
    cr_expect_eq(trn_heat_radiation(1.01, 350, 300, &out), TRN_E_DOMAIN);
    cr_expect_eq(trn_heat_cycle(250, 6, 2e4, 0, 0, &out, &a, &b), TRN_E_DOMAIN);
    cr_expect(out == -7.1 && a == -7.1 && b == -7.1);
    trn_heat_surface s = housing();
    trn_heat_path p = {-7.1, -7.1, -7.1};
    double *inputs[] = {&s.air_speed_m_s, &s.height_m,   &s.emissivity, &s.residue_m,
                        &s.residue_w_mk,  &s.film_w_m2k, &s.wall_m,     &s.wall_w_mk};
    for (size_t i = 0; i < 8; i++)
        for (size_t k = 0; k < 4; k++) {
            double was = *inputs[i];
            *inputs[i] = bad[k];
            cr_expect_eq(trn_heat_wall(&s, 350, 300, &p), TRN_E_DOMAIN, "input %zu, %g", i, bad[k]);
            *inputs[i] = was;
        }
    cr_expect(p.k_w_m2k == -7.1 && p.T_surface_k == -7.1);
}
