/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Oil film of a contact and the film ratio. */
#include <criterion/criterion.h>
#include <math.h>
#include <trunnion/film.h>
#include <trunnion/formula.h>

#include "support.h"

#define COUNT(array) (sizeof(array) / sizeof(array)[0])

static const double mark = -77.25; /* what an untouched output still holds */

static const trn_film_contact contact = {
    .eta_pas = 0.0238,
    .u_mps = 1.473,
    .alpha_per_pa = 18.79e-9,
    .e_red_pa = 227.3e9,
    .rx_m = 11.7e-3,
    .ry_m = 31.9e-3,
    .load_n = 385,
};

static double film(trn_film_contact c)
{
    double h = NAN;
    cr_expect_geq(trn_film_thickness(c, &h), 0);
    return h;
}

Test(film, depends_on_its_groups_alone)
{
    /* derived: h/Rx is a function of U, G, W and Ry/Rx alone */
    double base = film(contact) / contact.rx_m;
    for (double size = 0.21; size < 30; size *= 2.385)
        for (double stiff = 0.13; stiff < 9; stiff *= 1.87) {
            trn_film_contact c = contact;
            c.rx_m *= size;
            c.ry_m *= size;
            c.e_red_pa *= stiff;
            c.alpha_per_pa /= stiff;
            c.load_n *= stiff * size * size;
            c.u_mps *= 3.17;
            c.eta_pas *= stiff * size / 3.17;
            cr_expect(test_near(film(c) / c.rx_m, base, 1e-12), "wanted %.12g got %.12g", base,
                      film(c) / c.rx_m);
        }
}

Test(film, exponents)
{
    /* published: U^0.68 G^0.49 W^-0.073, so eta and u 0.68, alpha 0.49, F -0.073,
     * E' -0.68 + 0.49 + 0.073 (derived), by numerical logarithmic slopes */
    const double wanted[] = {0.68, 0.68, 0.49, -0.117, -0.073};
    for (size_t i = 0; i < COUNT(wanted); i++) {
        double slope[2];
        for (int k = 0; k < 2; k++) {
            trn_film_contact c = contact;
            double *members[] = {&c.eta_pas, &c.u_mps, &c.alpha_per_pa, &c.e_red_pa, &c.load_n};
            *members[i] *= k ? exp(0.5) : exp(-0.5);
            slope[k] = log(film(c));
        }
        cr_expect(test_near(slope[1] - slope[0], wanted[i], 1e-12), "member %zu: got %.12g", i,
                  slope[1] - slope[0]);
    }
}

Test(film, rounded_ellipticity_of_the_first_paper)
{
    /* published: k = 1.03 (Ry/Rx)^0.64; the difference is below 0.3 % of the film */
    for (double ratio = 1; ratio < 25; ratio *= 1.31) {
        trn_film_contact c = contact;
        c.ry_m = ratio * c.rx_m;
        double share = (1 - exp(-0.68 * 1.03 * pow(ratio, 0.64))) /
                       (1 - exp(-0.68 * 1.0339 * pow(ratio, 0.636)));
        cr_expect(fabs(share - 1) < 3e-3, "%g: %g", ratio, share);
        double h = film(c);
        double by_hand = 3.63 * c.rx_m * pow(c.eta_pas * c.u_mps / (c.e_red_pa * c.rx_m), 0.68) *
                         pow(c.alpha_per_pa * c.e_red_pa, 0.49) *
                         pow(c.load_n / (c.e_red_pa * c.rx_m * c.rx_m), -0.073) *
                         (1 - exp(-0.68 * 1.03 * pow(ratio, 0.64)));
        cr_expect(test_near(h, by_hand, 3e-3), "%g: %g and %g", ratio, h, by_hand);
    }
}

Test(film, remarks_on_the_shape)
{
    double h = NAN;
    trn_film_contact c = contact;
    c.ry_m = c.rx_m;
    cr_expect_eq(trn_film_thickness(c, &h), TRN_OK);
    c.ry_m = 0.999 * c.rx_m;
    cr_expect_eq(trn_film_thickness(c, &h), TRN_R_WEAR_FLAT);
    double edge = pow(8 / 1.0339, 1 / 0.636);
    c.ry_m = edge * c.rx_m;
    cr_expect_eq(trn_film_thickness(c, &h), TRN_OK, "k = 8 belongs to the range");
    c.ry_m = 1.001 * edge * c.rx_m;
    cr_expect_eq(trn_film_thickness(c, &h), TRN_R_WEAR_LINE);
    /* a line contact: the side factor is 1 */
    c.ry_m = 1e9 * c.rx_m;
    double line = film(c);
    c.ry_m *= 100;
    cr_expect(test_near(line, film(c), 1e-14));
}

Test(film, in_other_units)
{
    const trn_formula *formula = trn_formula_find("wear.film");
    const char *metric[] = {"eta=45 mPa.s", "u=2 m/s", "alpha=20 1/GPa", "E_red=226 GPa",
                            "Rx=15 mm",     "Ry=15 mm", "F=420 N"};
    const char *inch[] = {"eta=45 cP",
                          "u=78.740157480314961 in/s",
                          "alpha=20e-9 1/Pa",
                          "E_red=226000 N/mm2",
                          "Rx=0.59055118110236220 in",
                          "Ry=15000 um",
                          "F=94.419756189 lbf"};
    trn_answer a, b;
    cr_assert_geq(trn_formula_evaluate(formula, metric, COUNT(metric), &a), 0);
    cr_assert_geq(trn_formula_evaluate(formula, inch, COUNT(inch), &b), 0, "%s %s", b.faulty,
                  b.why);
    cr_expect(test_near(a.out[0].x, b.out[0].x, 1e-9), "%.12g %.12g", a.out[0].x, b.out[0].x);
}

Test(film, refuses)
{
    for (size_t i = 0; i < 28; i++) {
        const double wrong[] = {0, -1, NAN, INFINITY};
        trn_film_contact c = contact;
        double *members[] = {&c.eta_pas, &c.u_mps, &c.alpha_per_pa, &c.e_red_pa,
                             &c.rx_m,    &c.ry_m,  &c.load_n};
        *members[i % 7] = wrong[i / 7];
        double h = mark;
        cr_expect(trn_film_thickness(c, &h) == TRN_E_DOMAIN && h == mark, "row %zu", i);
    }
}

Test(film, ratio)
{
    double lambda = NAN;
    double swapped = NAN;
    cr_expect_eq(trn_film_lambda(0.385e-6, 0.27e-6, 0.83e-6, &lambda), TRN_OK);
    (void)trn_film_lambda(0.385e-6, 0.83e-6, 0.27e-6, &swapped);
    cr_expect(lambda == swapped);
    cr_expect(test_near(lambda, 0.385 / sqrt(0.27 * 0.27 + 0.83 * 0.83), 1e-14));
    cr_expect_eq(trn_film_lambda(0.385e-6, 0, 0.83e-6, &lambda), TRN_OK);
    cr_expect(test_near(lambda, 0.385 / 0.83, 1e-14), "one smooth surface");
    cr_expect_eq(trn_film_lambda(0, 0.1e-6, 0.83e-6, &lambda), TRN_OK);
    cr_expect(lambda == 0);
    const double bad[][3] = {{-1, 1, 1}, {1, -1, 1},  {1, 1, -1},      {1, 0, 0},
                             {NAN, 1, 1}, {1, NAN, 1}, {1, 1, INFINITY}, {INFINITY, 1, 1}};
    for (size_t i = 0; i < COUNT(bad); i++) {
        lambda = mark;
        trn_status status = trn_film_lambda(bad[i][0], bad[i][1], bad[i][2], &lambda);
        cr_expect(status == TRN_E_DOMAIN && lambda == mark, "row %zu", i);
    }
}

Test(film, reduced_modulus)
{
    /* steel on steel lies between 226 and 231 GPa (published range of textbooks) */
    double e = NAN;
    double swapped = NAN;
    (void)trn_film_reduced_modulus(206e9, 0.3, 206e9, 0.3, &e);
    cr_expect(test_near(e, 206e9 / 0.91, 1e-14) && e > 226e9 && e < 231e9, "got %g", e);
    (void)trn_film_reduced_modulus(207.3e9, 0.29, 118e9, 0.34, &e);
    (void)trn_film_reduced_modulus(118e9, 0.34, 207.3e9, 0.29, &swapped);
    cr_expect(test_near(e, swapped, 1e-15) && e > 118e9 && e < 231e9);
    e = mark;
    cr_expect_eq(trn_film_reduced_modulus(0, 0.3, 206e9, 0.3, &e), TRN_E_DOMAIN);
    cr_expect_eq(trn_film_reduced_modulus(206e9, NAN, 206e9, 0.3, &e), TRN_E_DOMAIN);
    cr_expect_eq(trn_film_reduced_modulus(206e9, 0.3, 206e9, 0.6, &e), TRN_E_DOMAIN);
    cr_expect(e == mark);
}

Test(film, speed_in_a_bearing)
{
    /* independent route: cage at omega/2 (1 - g); both raceways seen from it move past the
     * contact at the same speed, omega/2 (1 + g) times the inner raceway radius dp/2 (1 - g) */
    double u = NAN;
    double omega = 56.5;
    double dp = 61.7e-3;
    double dw = 9.53e-3;
    double g = dw / dp;
    cr_expect_eq(trn_film_bearing_speed(omega, dp, dw, &u), TRN_OK);
    double cage = omega / 2 * (1 - g);
    double inner = (omega - cage) * dp / 2 * (1 - g);
    double outer = cage * dp / 2 * (1 + g);
    cr_expect(test_near(inner, outer, 1e-14) && test_near(u, inner, 1e-14), "%g %g %g", u, inner,
              outer);
    u = mark;
    cr_expect_eq(trn_film_bearing_speed(omega, dw, dw, &u), TRN_E_DOMAIN);
    cr_expect_eq(trn_film_bearing_speed(0, dp, dw, &u), TRN_E_DOMAIN);
    cr_expect_eq(trn_film_bearing_speed(omega, INFINITY, dw, &u), TRN_E_DOMAIN);
    cr_expect_eq(trn_film_bearing_speed(NAN, dp, dw, &u), TRN_E_DOMAIN);
    cr_expect(u == mark);
}

Test(film, inlet_heating)
{
    /* from memory: 0.98 at 540 rev/min, dm 60 mm, nu 120 mm2/s */
    double factor = NAN;
    double rpm = acos(-1) / 30;
    cr_expect_eq(trn_film_inlet_heating(540 * rpm, 60e-3, 120e-6, &factor), TRN_OK);
    cr_expect_float_eq(factor, 0.98, 0.005, "got %g", factor);
    double before = 1;
    for (double n = 10; n < 1e4; n *= 2.385) {
        (void)trn_film_inlet_heating(n * rpm, 60e-3, 120e-6, &factor);
        cr_expect(factor < before && factor > 0);
        before = factor;
    }
    factor = mark;
    cr_expect_eq(trn_film_inlet_heating(0, 60e-3, 120e-6, &factor), TRN_E_DOMAIN);
    cr_expect_eq(trn_film_inlet_heating(1, NAN, 120e-6, &factor), TRN_E_DOMAIN);
    cr_expect_eq(trn_film_inlet_heating(1, 1, INFINITY, &factor), TRN_E_DOMAIN);
    cr_expect(factor == mark);
}
