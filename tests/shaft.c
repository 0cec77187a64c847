/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tube, fit and ripple: ripple against a solution in time, the load factor against adaptive
 * quadrature, worked figures, refused inputs. */
#include <criterion/criterion.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>
#include <gsl/gsl_odeiv2.h>
#include <math.h>
#include <trunnion/formula.h>
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

/* ---- tube and profile ------------------------------------------------------------------------ */

/* derived: 60 kW at 540 rpm; T = 9549.297 P/n */
Test(shaft, torque)
{
    double t = 0;
    cr_expect_eq(trn_shaft_torque(60e3, 540 * RPM, &t), TRN_OK);
    near_value(t, 1061.03, 0.005, "60 kW", 540);
    near_share(t, 9549.2965855 * 60 / 540, 1e-10, "constant", 540);
    t = UNTOUCHED;
    cr_expect_eq(trn_shaft_torque(60e3, 0, &t), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_torque(-1, 50, &t), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_torque(NAN, 50, &t), TRN_E_DOMAIN);
    cr_expect_eq(t, UNTOUCHED);
    cr_expect_eq(trn_shaft_torque(0, 50, &t), TRN_OK);
    cr_expect_eq(t, 0);
}

/* derived: 1.207e8 sqrt(D^2 + d^2)/L^2 rpm for steel; the beam's own I and A */
Test(shaft, critical_speed)
{
    double w = 0;
    double outside = 0.0634;
    double inside = 0.0551;
    double length = 1.385;
    cr_expect_eq(trn_shaft_critical_speed(outside, inside, length, 71.3e9, 2710, &w), TRN_OK);
    double area = PI / 4 * (outside * outside - inside * inside);
    double second = PI / 64 * (pow(outside, 4) - pow(inside, 4));
    near_share(w, pow(PI / length, 2) * sqrt(71.3e9 * second / (2710 * area)), 1e-13, "beam", 0);
    (void)trn_shaft_critical_speed(outside, inside, length, 206e9, 7850, &w);
    near_share(w / RPM, 1.207e8 * hypot(63.4, 55.1) / (1385. * 1385), 2e-4, "steel", 0);
    double half = 0;
    (void)trn_shaft_critical_speed(outside, inside, 2 * length, 206e9, 7850, &half);
    near_share(half, w / 4, 1e-14, "twice the length", 0);
    w = UNTOUCHED;
    cr_expect_eq(trn_shaft_critical_speed(0.05, 0.05, 1, 206e9, 7850, &w), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_critical_speed(0.05, -0.01, 1, 206e9, 7850, &w), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_critical_speed(0.05, 0.04, 0, 206e9, 7850, &w), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_critical_speed(0.05, 0.04, 1, NAN, 7850, &w), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_critical_speed(0.05, 0.04, 1, 206e9, 0, &w), TRN_E_DOMAIN);
    cr_expect_eq(w, UNTOUCHED);
}

/* derived: stress from the polar moment; twist from the strain; a thin round wall by Bredt */
Test(shaft, torsion_and_profile)
{
    double tau = 0;
    double twist = 0;
    double k = 0;
    cr_expect_eq(trn_shaft_torsion(713.2, 0.0523, 0.0417, 1.137, 79.3e9, &tau, &twist, &k), TRN_OK);
    double polar = PI / 32 * (pow(0.0523, 4) - pow(0.0417, 4));
    near_share(tau, 713.2 * 0.0523 / 2 / polar, 1e-13, "tau", 0);
    near_share(twist, tau / 79.3e9 * 1.137 / (0.0523 / 2), 1e-13, "twist from strain", 0);
    near_share(k * twist, 713.2, 1e-14, "k twist", 0);
    double thin = 0;
    double thin_k = 0;
    double middle = 0.046;
    cr_expect_eq(trn_shaft_profile_torsion(600, PI / 4 * middle * middle, PI * middle, 0.004, 1,
                                           79.3e9, &thin, &twist, &thin_k),
                 TRN_OK);
    (void)trn_shaft_torsion(600, 0.05, 0.042, 1, 79.3e9, &tau, &twist, &k);
    near_value(100 * (1 - thin / tau), 7, 0.5, "Bredt is low by, 50/42", 0); /* joint page */
    middle = 0.05;
    (void)trn_shaft_profile_torsion(600, PI / 4 * middle * middle, PI * middle, 1e-6, 1, 79.3e9,
                                    &thin, &twist, &thin_k);
    (void)trn_shaft_torsion(600, middle + 1e-6, middle - 1e-6, 1, 79.3e9, &tau, &twist, &k);
    near_share(thin, tau, 3e-5, "thin wall, stress", 0);
    near_share(thin_k, k, 1e-9, "thin wall, stiffness", 0);
    cr_expect_eq(trn_shaft_torsion(0, 0.05, 0.04, 1, 79e9, &tau, &twist, &k), TRN_OK);
    cr_expect(tau == 0 && twist == 0 && k > 0);
    tau = UNTOUCHED;
    cr_expect_eq(trn_shaft_torsion(-1, 0.05, 0.04, 1, 79e9, &tau, &tau, &tau), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_torsion(1, 0.05, 0.06, 1, 79e9, &tau, &tau, &tau), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_profile_torsion(1, 0, 1, 1, 1, 1, &tau, &tau, &tau), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_profile_torsion(1, 1, 1, 1, 1, NAN, &tau, &tau, &tau), TRN_E_DOMAIN);
    cr_expect_eq(tau, UNTOUCHED);
}

/* derived: a tube is a bar less a bar */
Test(shaft, inertia_of_a_difference)
{
    double m[3];
    double j[3];
    (void)trn_shaft_inertia(0.0634, 0, 1.385, 7850, &m[0], &j[0]);
    (void)trn_shaft_inertia(0.0551, 0, 1.385, 7850, &m[1], &j[1]);
    cr_expect_eq(trn_shaft_inertia(0.0634, 0.0551, 1.385, 7850, &m[2], &j[2]), TRN_OK);
    near_share(m[2], m[0] - m[1], 1e-14, "mass", 0);
    near_share(j[2], j[0] - j[1], 1e-14, "inertia", 0);
    m[0] = UNTOUCHED;
    cr_expect_eq(trn_shaft_inertia(0.05, 0.05, 1, 7850, &m[0], &m[0]), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_inertia(INFINITY, 0.05, 1, 7850, &m[0], &m[0]), TRN_E_DOMAIN);
    cr_expect_eq(m[0], UNTOUCHED);
}

/* derived: bounds just met count as met, also after mm -> m; remarks */
Test(shaft, fit_bounds_and_remarks)
{
    double c = 0;
    double o = 0;
    bool fits = false;
    for (int closed = 601; closed < 900; closed += 7) {
        double lc = closed * 1e-3;
        cr_expect_eq(trn_shaft_fit(lc, 0.537, (closed + 50) * 1e-3, (closed + 358) * 1e-3, 0.05,
                                   0.179, &c, &o, &fits),
                     TRN_OK);
        cr_expect(fits, "closed %d mm: clearance %.17g, overlap %.17g", closed, c, o);
        (void)trn_shaft_fit(lc, 0.537, lc + 0.05 - 1e-8, lc + 0.2, 0.05, 0.179, &c, &o, &fits);
        cr_expect_not(fits);
        (void)trn_shaft_fit(lc, 0.537, lc + 0.06, lc + 0.358 + 1e-8, 0.05, 0.179, &c, &o, &fits);
        cr_expect_not(fits);
    }
    cr_expect_eq(trn_shaft_fit(0.76, 0.56, 0.76, 0.9, 0, 0, &c, &o, &fits), TRN_R_SHAFT_BOTTOMS);
    cr_expect_eq(trn_shaft_fit(0.76, 0.56, 0.8, 1.32, 0, 0, &c, &o, &fits), TRN_R_SHAFT_PARTS);
    cr_expect_eq(trn_shaft_fit(0.76, 0.56, 0.8, 1.18, 0, 0, &c, &o, &fits),
                 TRN_R_SHAFT_SHORT_OVERLAP);
    cr_expect_eq(trn_shaft_fit(0.76, 0.56, 0.8, 1.17, 0, 0, &c, &o, &fits), TRN_OK);
    c = UNTOUCHED;
    o = UNTOUCHED;
    cr_expect_eq(trn_shaft_fit(0.76, 0.56, 0.9, 0.89, 0, 0, &c, &o, &fits), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_fit(0.76, 0.77, 0.9, 0.95, 0, 0, &c, &o, &fits), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_fit(0.76, 0, 0.9, 0.95, 0, 0, &c, &o, &fits), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_fit(0.76, 0.5, 0.9, 0.95, -1, 0, &c, &o, &fits), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_fit(0.76, 0.5, 0.9, 0.95, 0, NAN, &c, &o, &fits), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_fit(0.76, 0.5, NAN, 0.95, 0, 0, &c, &o, &fits), TRN_E_DOMAIN);
    cr_expect(c == UNTOUCHED && o == UNTOUCHED);
}

/* derived: 600 N.m on 20 mm, greased and dry */
Test(shaft, telescoping_thrust)
{
    double f = 0;
    (void)trn_shaft_telescoping_thrust(600, 0.1, 0.02, &f);
    near_share(f, 3000, 1e-14, "greased", 0.1);
    (void)trn_shaft_telescoping_thrust(600, 0.25, 0.02, &f);
    near_share(f, 7500, 1e-14, "dry", 0.25);
    f = UNTOUCHED;
    cr_expect_eq(trn_shaft_telescoping_thrust(600, 0.1, 0, &f), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_telescoping_thrust(600, -0.1, 0.02, &f), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_telescoping_thrust(-600, 0.1, 0.02, &f), TRN_E_DOMAIN);
    cr_expect_eq(f, UNTOUCHED);
}

/* derived: over a turn the tube's inertia gives back what it took: work in = work out */
Test(shaft, input_torque_keeps_energy)
{
    double work_in = 0;
    double work_out = 0;
    int n = 2000;
    for (int i = 0; i < n; i++) {
        double theta = 2 * PI * i / n;
        double t1 = 0;
        double tube = 0;
        double out = 0;
        cr_expect_eq(trn_shaft_input_torque(587.3, 0.0231, 104.7, 0.44, 0.31, 0.23, theta, &t1),
                     TRN_OK);
        (void)trn_joint_turn(0.44, 0.31, 0.23, theta, &tube, &out);
        work_in += t1 * 2 * PI / n;
        work_out += 587.3 * out * 2 * PI / n;
    }
    near_share(work_in, work_out, 1e-12, "work of a turn", 0);
    near_share(work_out, 587.3 * 2 * PI, 1e-12, "mean speed", 0);
    double t1 = UNTOUCHED;
    cr_expect_eq(trn_shaft_input_torque(1, -1, 1, 0.1, 0.1, 0, 0, &t1), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_input_torque(1, 1, 1, 0.1, 2, 0, 0, &t1), TRN_E_DOMAIN);
    cr_expect_eq(t1, UNTOUCHED);
}

/* ---- ripple ---------------------------------------------------------------------------------- */

/* the two inertias in time; the mean motion is taken out */
typedef struct motion {
    trn_shaft_line line;
    double theta0;
} motion;

static double excitation(const motion *m, double t, double *rate)
{
    double kappa = pow(tan(m->line.beta_e_rad / 2), 2);
    double phase = 2 * (m->line.omega_rad_s * t - m->theta0);
    *rate = kappa * 2 * m->line.omega_rad_s * cos(phase);
    return kappa * sin(phase);
}

static double shaft_torque(const motion *m, double t, const double *y)
{
    const trn_shaft_line *l = &m->line;
    double reduced = l->inertia_driven_kg_m2 * l->inertia_driving_kg_m2 /
                     (l->inertia_driven_kg_m2 + l->inertia_driving_kg_m2);
    double c = 2 * l->damping * sqrt(l->stiffness_nm_rad * reduced);
    double rate = 0;
    double e = excitation(m, t, &rate);
    return l->stiffness_nm_rad * (y[0] + e - y[2]) + c * (y[1] + rate - y[3]);
}

static int slopes(double t, const double *y, double *f, void *params)
{
    const motion *m = params;
    double torque = shaft_torque(m, t, y);
    f[0] = y[1];
    f[1] = (m->line.torque_nm - torque) / m->line.inertia_driving_kg_m2;
    f[2] = y[3];
    f[3] = (torque - m->line.torque_nm) / m->line.inertia_driven_kg_m2;
    return GSL_SUCCESS;
}

/* derived: forced motion settled after many turns, against the closed wave */
Test(shaft, ripple_against_time_solution)
{
    gsl_set_error_handler_off();
    static const trn_shaft_line lines[] = {
        {400, 540 * RPM, 10 * DEG, 130 / DEG, 0.5, 2.3, 0.05},
        {400, 540 * RPM, 23 * DEG, 1300 / DEG, 0.31, 1e6, 0.11},
        {730, 1000 * RPM, 14 * DEG, 55 / DEG, 0.9, 1.7, 0.08},
    };
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
        motion m = {lines[i], 0.37};
        gsl_odeiv2_system system = {slopes, NULL, 4, &m};
        gsl_odeiv2_driver *driver =
            gsl_odeiv2_driver_alloc_y_new(&system, gsl_odeiv2_step_rk8pd, 1e-5, 1e-13, 1e-12);
        double y[4] = {m.line.torque_nm / m.line.stiffness_nm_rad, 0, 0, 0};
        double t = 0;
        double turn = 2 * PI / m.line.omega_rad_s;
        trn_shaft_ripple ripple;
        cr_assert_geq(trn_shaft_ripple_of(m.line, &ripple), 0);
        cr_assert_eq(gsl_odeiv2_driver_apply(driver, &t, 60 * turn, y), GSL_SUCCESS);
        double largest = 0;
        for (int k = 1; k <= 48; k++) {
            cr_assert_eq(gsl_odeiv2_driver_apply(driver, &t, (60 + k / 48.0) * turn, y),
                         GSL_SUCCESS);
            double wave = 0;
            cr_expect_geq(
                trn_shaft_torque_wave(m.line, m.line.omega_rad_s * t, m.theta0, &wave), 0);
            near_value(wave, shaft_torque(&m, t, y), 1e-5 * ripple.amplitude_nm, "wave", t);
            largest = fmax(largest, fabs(wave - m.line.torque_nm));
        }
        near_share(largest, ripple.amplitude_nm, 0.01, "amplitude", (double)i);
        gsl_odeiv2_driver_free(driver);
    }
}

/* derived: rigid and soft limits, resonance, share, resonance speed */
Test(shaft, ripple_limits)
{
    trn_shaft_line line = {385.3, 540 * RPM, 11.3 * DEG, 1e9, 0.043, 1e6, 0};
    trn_shaft_ripple ripple;
    double kappa = pow(tan(11.3 * DEG / 2), 2);
    double w = 2 * 540 * RPM;
    cr_expect_eq(trn_shaft_ripple_of(line, &ripple), TRN_OK);
    near_share(ripple.amplitude_nm, 0.043 * w * w * kappa, 1e-6, "rigid", 0);
    near_share(ripple.share, ripple.amplitude_nm / 385.3, 1e-15, "share", 0);
    line.stiffness_nm_rad = 0.01;
    (void)trn_shaft_ripple_of(line, &ripple);
    near_share(ripple.amplitude_nm, 0.01 * kappa, 1e-4, "soft", 0);
    line.stiffness_nm_rad = 4000;
    line.damping = 0.07;
    line.omega_rad_s = 0;
    (void)trn_shaft_ripple_of(line, &ripple);
    cr_expect_eq(ripple.amplitude_nm, 0);
    line.omega_rad_s = ripple.omega_resonance_rad_s;
    cr_expect_eq(trn_shaft_ripple_of(line, &ripple), TRN_R_SHAFT_RESONANCE);
    near_share(ripple.frequency_ratio, 1, 1e-14, "r", 0);
    near_share(ripple.amplitude_nm, 4000 * kappa * sqrt(1 + 4 * 0.07 * 0.07) / 0.14, 1e-12,
               "resonance", 0);
    line.torque_nm = 12;
    cr_expect_eq(trn_shaft_ripple_of(line, &ripple), TRN_R_SHAFT_TORQUE_REVERSES);
    line.damping = 0;
    ripple.share = UNTOUCHED;
    cr_expect_eq(trn_shaft_ripple_of(line, &ripple), TRN_E_DOMAIN);
    cr_expect_eq(ripple.share, UNTOUCHED);
    /* the natural frequency of two equal inertias is sqrt 2 of that of one held */
    trn_shaft_line pair = {400, 30, 0.1, 5000, 0.7, 0.7, 0.02};
    trn_shaft_line held = {400, 30, 0.1, 5000, 0.7, 1e18, 0.02};
    trn_shaft_ripple other;
    (void)trn_shaft_ripple_of(pair, &ripple);
    (void)trn_shaft_ripple_of(held, &other);
    near_share(ripple.omega_resonance_rad_s, sqrt(2) * other.omega_resonance_rad_s, 1e-14,
               "two equal inertias", 0);
}

Test(shaft, ripple_refused)
{
    const trn_shaft_line good = {400, 50, 0.2, 7000, 0.5, 2, 0.02};
    for (int i = 0; i < 7; i++)
        for (int k = 0; k < 3; k++) {
            static const double bad[] = {-1, NAN, INFINITY};
            trn_shaft_line line = good;
            double *fields[] = {&line.torque_nm, &line.omega_rad_s, &line.beta_e_rad,
                                &line.stiffness_nm_rad, &line.inertia_driven_kg_m2,
                                &line.inertia_driving_kg_m2, &line.damping};
            *fields[i] = bad[k];
            trn_shaft_ripple ripple = {.share = UNTOUCHED};
            double wave = UNTOUCHED;
            cr_expect_eq(trn_shaft_ripple_of(line, &ripple), TRN_E_DOMAIN, "%d %d", i, k);
            cr_expect_eq(trn_shaft_torque_wave(line, 0, 0, &wave), TRN_E_DOMAIN);
            cr_expect(ripple.share == UNTOUCHED && wave == UNTOUCHED);
        }
    double wave = UNTOUCHED;
    cr_expect_eq(trn_shaft_torque_wave(good, NAN, 0, &wave), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_torque_wave(good, 0, INFINITY, &wave), TRN_E_DOMAIN);
    cr_expect_eq(wave, UNTOUCHED);
}

/* ---- load factor ----------------------------------------------------------------------------- */

static double load_power(double x, void *params)
{
    const double *q = params;
    return pow(fabs(1 + q[0] * cos(x)) / (1 + q[0]), q[1]);
}

static double quadrature_factor(double rho, double p)
{
    double q[] = {rho, p};
    gsl_function f = {load_power, q};
    gsl_integration_workspace *w = gsl_integration_workspace_alloc(4000);
    double points[] = {0, rho > 1 ? acos(-1 / rho) : PI / 2, PI};
    double area = 0;
    double error = 0;
    gsl_integration_qagp(&f, points, 3, 0, 1e-12, 4000, w, &area, &error);
    gsl_integration_workspace_free(w);
    return (1 + rho) * pow(area / PI, 1 / p);
}

static const double rhos[] = {0, 0.0013, 0.217, 0.5, 0.733, 0.97, 0.9997, 1, 1.0003, 1.031,
                              1.387, 2.93, 41.7, 1e5};
static const double powers[] = {1, 1.2, 1.5, 2, 2.5, 2.56, 3, 10.0 / 3, 4, 4.5, 6.61, 8.9, 10,
                                10.3, 24, 99.3};

/* derived: adaptive quadrature with the kink as a break point, both sides of every switch */
Test(shaft, ripple_factor_against_quadrature)
{
    gsl_set_error_handler_off();
    for (size_t i = 0; i < sizeof rhos / sizeof rhos[0]; i++)
        for (size_t k = 0; k < sizeof powers / sizeof powers[0]; k++) {
            double factor = 0;
            cr_expect_eq(trn_shaft_ripple_factor(rhos[i], powers[k], &factor), TRN_OK);
            double wanted = quadrature_factor(rhos[i], powers[k]);
            cr_expect(test_near(factor, wanted, 1e-11), "rho %g p %g: wanted %.14g, got %.14g",
                      rhos[i], powers[k], wanted, factor);
        }
}

/* derived: (1 + 1.5 rho^2)^(1/3); figures of the joint page; high-precision quadrature */
Test(shaft, ripple_factor_worked)
{
    gsl_set_error_handler_off();
    double k = 0;
    for (double rho = 0; rho <= 1; rho += 0.0909) {
        (void)trn_shaft_ripple_factor(rho, 3, &k);
        near_share(k, cbrt(1 + 1.5 * rho * rho), 1e-14, "p = 3", rho);
        (void)trn_shaft_ripple_factor(rho, 2, &k);
        near_share(k, sqrt(1 + 0.5 * rho * rho), 1e-14, "p = 2", rho);
        (void)trn_shaft_ripple_factor(rho, 1, &k);
        near_share(k, 1, 1e-14, "p = 1", rho);
    }
    static const double page[][2] = {{0.2, 1.0227}, {0.5, 1.1270}, {1, 1.3905}};
    for (int i = 0; i < 3; i++) {
        (void)trn_shaft_ripple_factor(page[i][0], 10.0 / 3, &k);
        near_value(k, page[i][1], 0.5001e-4, "p = 10/3", page[i][0]);
    }
    /* derived: quadrature with 30 digits */
    static const double exact[][3] = {
        {0.2, 10.0 / 3, 1.02274938483813},  {0.5, 10.0 / 3, 1.12697265043256},
        {1, 10.0 / 3, 1.39045759073598},    {1.37, 10.0 / 3, 1.60720323584032},
        {4.2, 10.0 / 3, 3.4809318967248},   {1.37, 3, 1.56407815885278},
        {4.2, 3, 3.40573711979954},
    };
    for (int i = 0; i < 7; i++) {
        (void)trn_shaft_ripple_factor(exact[i][0], exact[i][1], &k);
        near_share(k, exact[i][2], 2e-14, "30 digits", exact[i][0]);
    }
    k = UNTOUCHED;
    cr_expect_eq(trn_shaft_ripple_factor(-0.1, 3, &k), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_ripple_factor(NAN, 3, &k), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_ripple_factor(0.4, 0.9, &k), TRN_E_DOMAIN);
    cr_expect_eq(trn_shaft_ripple_factor(0.4, INFINITY, &k), TRN_E_DOMAIN);
    cr_expect_eq(k, UNTOUCHED);
}

/* derived: a p-mean rises with p, and with rho */
Test(shaft, ripple_factor_rises)
{
    gsl_set_error_handler_off();
    for (double rho = 0.05; rho < 3; rho += 0.173) {
        double before = 0;
        for (double p = 1.05; p < 14; p += 0.11) {
            double k = 0;
            double more = 0;
            (void)trn_shaft_ripple_factor(rho, p, &k);
            (void)trn_shaft_ripple_factor(rho + 1e-3, p, &more);
            cr_expect(k > before && k <= 1 + rho, "rho %g p %g", rho, p);
            cr_expect(more > k, "rho %g p %g: %.12g then %.12g", rho, p, k, more);
            before = k;
        }
    }
}

/* derived: the same tube in inches and in millimetres; the default of overlap_needed */
Test(shaft, inch_against_millimetre)
{
    gsl_set_error_handler_off();
    const trn_formula *f = trn_formula_find("shaft.torsion");
    cr_assert_not_null(f);
    const char *mm[] = {"T=725.3 N.m", "D=50.8 mm", "d=41.91 mm", "L=990.6 mm"};
    const char *inch[] = {"T=0.7253 kN.m", "D=2 in", "d=1.65 in", "L=3.25 ft", "G=79300 MPa"};
    trn_answer a;
    trn_answer b;
    cr_assert_eq(trn_formula_evaluate(f, mm, 4, &a), TRN_OK);
    cr_assert_eq(trn_formula_evaluate(f, inch, 5, &b), TRN_OK);
    for (size_t k = 0; k < f->output_count; k++)
        near_share(a.out[k].x, b.out[k].x, 1e-12, f->outputs[k].name, (double)k);
    near_share(trn_formula_shown(&f->outputs[2], a.out[2].x), a.out[2].x * DEG, 1e-14,
               "N.m/deg", 0);
    const trn_formula *fit = trn_formula_find("shaft.fit");
    const char *met[] = {"length_closed=900", "overlap_closed=642", "length_min=950",
                         "length_max=1328"};
    const char *asked[] = {"length_closed=900", "overlap_closed=642", "length_min=950",
                           "length_max=1328", "overlap_needed=214.1 mm"};
    cr_assert_eq(trn_formula_evaluate(fit, met, 4, &a), TRN_OK);
    cr_expect_eq(a.out[2].x, 0);
    cr_assert_eq(trn_formula_evaluate(fit, asked, 5, &a), TRN_OK);
    cr_expect_eq(a.out[2].x, 1);
}
