/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two and more joints, and couples: chains of vectors in space against the closed forms. */
#include <criterion/criterion.h>
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

/* ---- pairs --------------------------------------------------------------------------------- */

/* derived: worked figures of the joint page (printed digits) */
Test(joint, worked_pairs)
{
    static const double rows[][5] = {
        {20, 20, 5, 8.425, 0.0005},   {20, 20, 15, 14.466, 0.0005}, {20, 20, 30, 20.005, 0.0005},
        {20, 20, 60, 26.12346, 0.000005}, {20, 20, 90, 27.991, 0.0005}, {45, 30, 0, 35.264, 0.0005},
        {20, 20, 0, 0, 0},            {13.7, 13.7, 180, 0, 0},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        double beta_e = -1;
        double u = -1;
        cr_expect_eq(
            trn_joint_pair(rows[i][0] * DEG, rows[i][1] * DEG, rows[i][2] * DEG, &beta_e, &u),
            TRN_OK);
        near_value(beta_e / DEG, rows[i][3], rows[i][4], "pair", rows[i][2]);
        near_share(u, sin(beta_e) * tan(beta_e), 1e-15, "U", rows[i][2]);
    }
}

/* derived: the form with q; cos beta_e in line and square; symmetry, period, evenness */
Test(joint, pair_identities)
{
    for (size_t i = 2; i < 8; i++)
        for (size_t k = 2; k < 8; k++)
            for (double eps = -77.1; eps < 100; eps += 21.37) {
                double b1 = bends[i] * DEG;
                double b2 = bends[k] * DEG;
                double c1 = cos(b1);
                double c2 = cos(b2);
                double e = eps * DEG;
                double beta_e = 0;
                double other = 0;
                double u = 0;
                (void)trn_joint_pair(b1, b2, e, &beta_e, &u);
                double q = (sin(e) * sin(e) * (1 + c1 * c1 * c2 * c2) +
                            cos(e) * cos(e) * (c1 * c1 + c2 * c2)) /
                           (2 * c1 * c2);
                near_value(cos(beta_e), q - sqrt(fmax(q * q - 1, 0)), 1e-11, "form with q", eps);
                (void)trn_joint_pair(b2, b1, -e, &other, &u);
                near_share(other, beta_e, 1e-13, "order and sign", eps);
                (void)trn_joint_pair(b1, b2, e - 3 * PI, &other, &u);
                near_share(other, beta_e, 1e-12, "half turns", eps);
                (void)trn_joint_pair(b1, b2, 0, &other, &u);
                near_value(cos(other), fmin(c1, c2) / fmax(c1, c2), 1e-15, "in line", eps);
                (void)trn_joint_pair(b1, b2, PI / 2, &other, &u);
                near_value(cos(other), c1 * c2, 1e-15, "square", eps);
            }
    double beta_e = 0;
    double u = 0;
    /* derived: small angles, sqrt(b1^2 - b2^2) and beta sqrt(2 |sin eps|), no digits lost */
    (void)trn_joint_pair(5e-6, 3e-6, 0, &beta_e, &u);
    near_share(beta_e, 4e-6, 1e-10, "small, in line", 0);
    (void)trn_joint_pair(5e-6, 5e-6, 0.3, &beta_e, &u);
    near_share(beta_e, 5e-6 * sqrt(2 * sin(0.3)), 1e-10, "small, equal", 0.3);
    (void)trn_joint_pair(0, 0.31, 0.8, &beta_e, &u);
    near_share(beta_e, 0.31, 1e-14, "one straight joint", 0.8);
}

/* derived: tan of the singular values of the plain matrix product */
static double matrix_beta_e(const double *beta, const double *eps, size_t n)
{
    double m[4] = {cos(beta[0]), 0, 0, 1};
    for (size_t i = 1; i < n; i++) {
        double c = cos(PI / 2 + eps[i - 1]);
        double s = sin(PI / 2 + eps[i - 1]);
        double r[4] = {c * m[0] - s * m[2], c * m[1] - s * m[3], s * m[0] + c * m[2],
                       s * m[1] + c * m[3]};
        m[0] = cos(beta[i]) * r[0];
        m[1] = cos(beta[i]) * r[1];
        m[2] = r[2];
        m[3] = r[3];
    }
    double sum = hypot(m[0] + m[3], m[2] - m[1]);
    double difference = hypot(m[0] - m[3], m[2] + m[1]);
    return acos((sum - difference) / (sum + difference));
}

Test(joint, chain_of_joints)
{
    static const double beta[] = {10 * DEG, 15 * DEG, 12 * DEG, 31 * DEG, 7.3 * DEG};
    static const double none[] = {0, 0, 0, 0};
    static const double eps[] = {20 * DEG, -35 * DEG, 71.3 * DEG, 8.8 * DEG};
    double beta_e = 0;
    double theta0 = 0;
    cr_expect_eq(trn_joint_chain(beta, none, 3, &beta_e, &theta0), TRN_OK);
    near_value(beta_e / DEG, 4.2359, 0.5e-4, "10/15/12 in line", 0); /* derived: joint page */
    cr_expect_eq(trn_joint_chain(beta, eps, 3, &beta_e, &theta0), TRN_OK);
    near_value(beta_e / DEG, 14.9110, 0.5e-4, "with 20, -35", 0);
    for (size_t n = 1; n <= 5; n++) {
        cr_expect_eq(trn_joint_chain(beta, eps, n, &beta_e, &theta0), TRN_OK);
        near_value(beta_e, matrix_beta_e(beta, eps, n), 1e-13, "matrix product", (double)n);
    }
    double pair = 0;
    double u = 0;
    double phase = 0;
    for (double e = -1.9; e < 2; e += 0.237) {
        const double two[] = {beta[3], beta[1]};
        (void)trn_joint_chain(two, &e, 2, &beta_e, &theta0);
        (void)trn_joint_pair(two[0], two[1], e, &pair, &u);
        (void)trn_joint_pair_phase(two[0], two[1], e, &phase);
        near_share(beta_e, pair, 1e-13, "two as a chain", e);
        near_value(remainder(theta0 - phase, PI), 0, 1e-13, "phase of two", e);
    }
    cr_expect_eq(trn_joint_chain(beta, eps, 1, &beta_e, &theta0), TRN_OK);
    near_share(beta_e, beta[0], 1e-15, "one joint", 0);
    near_value(theta0, 0, 0, "phase of one", 0);
    /* equal angles cancel exactly, not to within the square root of the last bit */
    const double equal[] = {0.37, 0.37};
    cr_expect_eq(trn_joint_chain(equal, none, 2, &beta_e, &theta0), TRN_OK);
    near_value(beta_e, 0, 0, "equal angles", 0);
    double kept = UNTOUCHED;
    const double bad[] = {0.2, PI / 2};
    cr_expect_eq(trn_joint_chain(bad, none, 2, &kept, &kept), TRN_E_DOMAIN);
    cr_expect_eq(trn_joint_chain(beta, none, 0, &kept, &kept), TRN_E_DOMAIN);
    cr_expect_eq(kept, UNTOUCHED);
}

/* ---- a chain of vectors in space, independent of the library --------------------------------- */

typedef struct vector {
    double x, y, z;
} vector;

static vector cross(vector a, vector b)
{
    return (vector){a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}

static double dot(vector a, vector b)
{
    return a.x * b.x + a.y * b.y + a.z * b.z;
}

static vector scaled(vector a, double f)
{
    return (vector){f * a.x, f * a.y, f * a.z};
}

static vector sum(vector a, vector b)
{
    return (vector){a.x + b.x, a.y + b.y, a.z + b.z};
}

static vector unit(vector a)
{
    return scaled(a, 1 / sqrt(dot(a, a)));
}

/* right-handed by `angle` about the unit vector `axis` (Rodrigues) */
static vector turned(vector v, vector axis, double angle)
{
    vector along = scaled(axis, dot(axis, v) * (1 - cos(angle)));
    return sum(sum(scaled(v, cos(angle)), scaled(cross(axis, v), sin(angle))), along);
}

static vector sloped(double h, double v)
{
    return unit((vector){1, tan(h * DEG), tan(v * DEG)});
}

typedef struct chain {
    vector a1, a2, a3;
    double offset;
} chain;

/* Trunnions of the tube's first yoke and of the driven yoke at a turn of the driving shaft: the
 * two trunnions of a cross are square to each other and to the axes of their own shafts. */
static void trunnions(const chain *c, double theta, vector *tube, vector *driven)
{
    vector plane = unit(sum(c->a2, scaled(c->a1, -dot(c->a1, c->a2))));
    vector driving = turned(plane, c->a1, theta);
    *tube = unit(cross(c->a2, driving));
    *driven = unit(cross(c->a3, turned(*tube, c->a2, c->offset)));
}

/* speeds over that of the driving shaft, from the motion of the trunnions (five-point formula) */
static void speeds(const chain *c, double theta, double *tube, double *out)
{
    static const double h = 1e-3;
    static const double weight[] = {1.0 / 12, -8.0 / 12, 8.0 / 12, -1.0 / 12};
    static const double at[] = {-2, -1, 1, 2};
    vector t;
    vector d;
    trunnions(c, theta, &t, &d);
    vector rate_t = {0, 0, 0};
    vector rate_d = {0, 0, 0};
    for (int k = 0; k < 4; k++) {
        vector tk;
        vector dk;
        trunnions(c, theta + at[k] * h, &tk, &dk);
        rate_t = sum(rate_t, scaled(tk, weight[k] / h));
        rate_d = sum(rate_d, scaled(dk, weight[k] / h));
    }
    *tube = dot(cross(t, rate_t), c->a2);
    *out = dot(cross(d, rate_d), c->a3);
}

static const double spaces[][7] = {
    {0, 0, 15, 10, 25, 4, 0},       {0, 0, 10, 12, 10, -5, 0},
    {0, 0, 10, 12, 10, -5, 40.72},  {2.1, -1.3, 11.4, 12.6, 9.2, -4.9, 15},
    {-7, 3, 21, -14, -12, 9, -63},  {4, 4, -22, 17, 3, 31, 128},
    {0, 0, 0, 16.5, 0, 4.2, 27},    {1, -2, -33, 8, -60, -11, -17.3},
};

/* derived: chain of 3-D vectors against pair_space, turn and pair_phase */
Test(joint, pair_space_against_turning_yokes)
{
    for (size_t i = 0; i < sizeof spaces / sizeof spaces[0]; i++) {
        const double *s = spaces[i];
        chain c = {sloped(s[0], s[1]), sloped(s[2], s[3]), sloped(s[4], s[5]), s[6] * DEG};
        trn_joint_space space;
        cr_assert_eq(trn_joint_pair_space(s[0] * DEG, s[1] * DEG, s[2] * DEG, s[3] * DEG,
                                          s[4] * DEG, s[5] * DEG, s[6] * DEG, &space),
                     TRN_OK);
        near_value(cos(space.beta1_rad), dot(c.a1, c.a2), 1e-14, "beta1", (double)i);
        near_value(cos(space.beta2_rad), dot(c.a2, c.a3), 1e-14, "beta2", (double)i);
        double eps = c.offset - space.zeta_rad;
        for (double theta = 0.05; theta < 6.3; theta += 0.413) {
            double tube = 0;
            double out = 0;
            double tube_wanted = 0;
            double out_wanted = 0;
            cr_expect_eq(
                trn_joint_turn(space.beta1_rad, space.beta2_rad, eps, theta, &tube, &out), TRN_OK);
            speeds(&c, theta, &tube_wanted, &out_wanted);
            near_value(tube, tube_wanted, 2e-9, "tube speed", theta);
            near_value(out, out_wanted, 2e-9, "output speed", theta);
        }
        double theta0 = 0;
        double tube = 0;
        double fastest = 0;
        double slowest = 0;
        cr_expect_eq(trn_joint_pair_phase(space.beta1_rad, space.beta2_rad, eps, &theta0), TRN_OK);
        speeds(&c, theta0, &tube, &fastest);
        speeds(&c, theta0 + PI / 2, &tube, &slowest);
        near_value(fastest, 1 / cos(space.beta_e_rad), 2e-9, "fastest", (double)i);
        near_value(slowest, cos(space.beta_e_rad), 2e-9, "slowest", (double)i);
    }
}

/* derived: whatever the phase, the pair turns as one joint of beta_e started at theta0 */
Test(joint, turn_is_the_equivalent_joint)
{
    for (double eps = -1.4; eps < 1.5; eps += 0.31)
        for (double theta = 0.1; theta < 6; theta += 0.57) {
            double beta_e = 0;
            double u = 0;
            double theta0 = 0;
            double tube = 0;
            double out = 0;
            double one = 0;
            (void)trn_joint_pair(0.43, 0.29, eps, &beta_e, &u);
            (void)trn_joint_pair_phase(0.43, 0.29, eps, &theta0);
            (void)trn_joint_turn(0.43, 0.29, eps, theta, &tube, &out);
            (void)trn_joint_ratio(beta_e, theta - theta0, &one);
            near_share(out, one, 1e-13, "one joint for two", theta);
        }
}

/* derived: worked example of the joint page; offset = zeta leaves the plane value */
Test(joint, pair_space_worked_and_limits)
{
    trn_joint_space space;
    trn_joint_space best;
    (void)trn_joint_pair_space(0, 0, 10 * DEG, 12 * DEG, 10 * DEG, -5 * DEG, 0, &space);
    near_value(space.beta1_rad / DEG, 15.44, 0.005, "beta1", 0);
    near_value(space.beta2_rad / DEG, 16.75, 0.005, "beta2", 0);
    near_value(space.zeta_rad / DEG, 40.72, 0.005, "zeta", 0);
    near_value(space.beta_e_rad / DEG, 18.40, 0.005, "beta_e", 0);
    (void)trn_joint_pair_space(0, 0, 10 * DEG, 12 * DEG, 10 * DEG, -5 * DEG, space.zeta_rad,
                               &best);
    near_value(best.beta_e_rad / DEG, 6.57, 0.005, "beta_e with offset", 0);
    double plane = 0;
    double u = 0;
    (void)trn_joint_pair(space.beta1_rad, space.beta2_rad, 0, &plane, &u);
    near_share(best.beta_e_rad, plane, 1e-14, "plane value", 0);
    /* joint planes that stand square: +90, never -90 */
    (void)trn_joint_pair_space(0, 0, 12 * DEG, 0, 12 * DEG, 7 * DEG, 0, &space);
    near_value(space.zeta_rad / DEG, 90, 1e-10, "square planes", 7);
    (void)trn_joint_pair_space(0, 0, 12 * DEG, 0, 12 * DEG, -7 * DEG, 0, &space);
    near_value(space.zeta_rad / DEG, 90, 1e-10, "square planes", -7);
    /* straight joints have no plane, whatever the offset */
    (void)trn_joint_pair_space(3 * DEG, 4 * DEG, 3 * DEG, 4 * DEG, 20 * DEG, 4 * DEG, 1, &space);
    near_value(space.zeta_rad, 0, 0, "zeta of a straight joint", 1);
    near_share(space.beta_e_rad, space.beta2_rad, 1e-15, "the other angle", 1);
    (void)trn_joint_pair_space(3 * DEG, 4 * DEG, 20 * DEG, 4 * DEG, 20 * DEG, 4 * DEG, 1, &space);
    near_share(space.beta_e_rad, space.beta1_rad, 1e-15, "the other angle", 2);
    /* a plane layout in a tilted plane is a plane layout: W and Z */
    (void)trn_joint_pair_space(0, 0, 20 * DEG, 0, 35 * DEG, 0, 0, &space);
    near_value(space.zeta_rad, 0, 1e-14, "W in a plane", 0);
    (void)trn_joint_pair_space(0, 0, 20 * DEG, 0, 5 * DEG, 0, 0, &space);
    near_value(space.zeta_rad, 0, 1e-14, "Z in a plane", 0);
    /* axes of any length give the same */
    const double a1[] = {3.7, 0, 0};
    const double a2[] = {0.02, 0.02 * tan(20 * DEG), 0};
    const double a3[] = {1e5, 1e5 * tan(5 * DEG), 0};
    (void)trn_joint_pair_axes(a1, a2, a3, 0, &best);
    near_share(best.beta_e_rad, space.beta_e_rad, 1e-13, "axes of any length", 0);
    /* bent by 90 deg or more: refused, also where rounding leaves a hair less */
    best.zeta_rad = UNTOUCHED;
    cr_expect_eq(trn_joint_pair_space(-45 * DEG, 0, 45 * DEG, 0, 30 * DEG, 0, 0, &best),
                 TRN_E_DOMAIN);
    cr_expect_eq(trn_joint_pair_space(-60 * DEG, 0, 60 * DEG, 0, 0, 0, 0, &best), TRN_E_DOMAIN);
    cr_expect_eq(trn_joint_pair_space(0, 0, 0, 90 * DEG, 0, 0, 0, &best), TRN_E_DOMAIN);
    cr_expect_eq(trn_joint_pair_space(0, 0, 0, 0, 0, NAN, 0, &best), TRN_E_DOMAIN);
    cr_expect_eq(trn_joint_pair_space(0, 0, 0, 0, 0, 0, INFINITY, &best), TRN_E_DOMAIN);
    const double nothing[] = {0, 0, 0};
    cr_expect_eq(trn_joint_pair_axes(a1, nothing, a3, 0, &best), TRN_E_DOMAIN);
    cr_expect_eq(best.zeta_rad, UNTOUCHED);
}

/* ---- couples --------------------------------------------------------------------------------- */

/* derived: the couple is square to both trunnions, and its parts along the shafts obey power */
Test(joint, couple_against_vectors)
{
    for (size_t i = 1; i < bend_count; i++)
        for (double theta = 0.03; theta < 6.3; theta += 0.37) {
            double beta = bends[i] * DEG;
            double m[3] = {0, 0, 0};
            double r = 0;
            cr_expect_eq(trn_joint_couple(613.7, beta, theta, m), TRN_OK);
            (void)trn_joint_ratio(beta, theta, &r);
            vector couple = {m[0], m[1], m[2]};
            vector a1 = {1, 0, 0};
            vector a2 = {cos(beta), sin(beta), 0};
            vector t1 = {0, cos(theta), sin(theta)};
            vector t2 = unit(cross(a2, t1));
            near_value(dot(couple, t1), 0, 1e-12 * 613.7 / cos(beta), "along trunnion 1", theta);
            near_value(dot(couple, t2), 0, 1e-12 * 613.7 / cos(beta), "along trunnion 2", theta);
            near_share(dot(couple, a2), 613.7 / r, 1e-11, "torque of shaft 2", theta);
            vector side = sum(couple, scaled(a1, -613.7));
            near_share(sqrt(dot(side, side)), 613.7 * tan(beta) * fabs(sin(theta)), 1e-11,
                       "couple on shaft 1", theta);
        }
}

/* derived: largest over the turn by search; 600 N.m at 20 deg */
Test(joint, secondary_couple_is_the_largest)
{
    for (size_t i = 1; i < 8; i++) {
        double beta = bends[i] * DEG;
        double driving = 0;
        double driven = 0;
        double largest = 0;
        double largest_driven = 0;
        trn_status status = trn_joint_secondary_couple(600, beta, &driving, &driven);
        cr_expect_eq(status, bends[i] > 45 ? TRN_R_JOINT_DRIVEN_COUPLE : TRN_OK);
        for (int k = 0; k <= 7200; k++) {
            double m[3];
            (void)trn_joint_couple(600, beta, PI * k / 7200, m);
            largest = fmax(largest, hypot(m[1], m[2]));
            double along = m[0] * cos(beta) + m[1] * sin(beta);
            double all = m[0] * m[0] + m[1] * m[1] + m[2] * m[2];
            largest_driven = fmax(largest_driven, sqrt(fmax(all - along * along, 0)));
        }
        near_share(largest, driving, 1e-12, "driving", bends[i]);
        near_share(largest_driven, bends[i] > 45 ? 600 / (2 * cos(beta)) : driven, 1e-6,
                   "driven", bends[i]);
    }
    double driving = 0;
    double driven = 0;
    (void)trn_joint_secondary_couple(600, 20 * DEG, &driving, &driven);
    near_value(driving, 218.4, 0.05, "600 N.m, 20 deg", 20);
    cr_expect_eq(trn_joint_secondary_couple(600, 45 * DEG, &driving, &driven), TRN_OK);
}

/* derived: equal angles, W 2 T sin beta/L, Z none; couples of both ends on the tube */
Test(joint, transverse_force)
{
    double f = 0;
    cr_expect_eq(
        trn_joint_transverse_force(600, 0.31, 0.31, 0.9, TRN_JOINT_SHAPE_W, &f), TRN_OK);
    near_share(f, 2 * 600 * sin(0.31) / 0.9, 1e-14, "W", 0.31);
    cr_expect_eq(
        trn_joint_transverse_force(600, 0.31, 0.31, 0.9, TRN_JOINT_SHAPE_Z, &f), TRN_OK);
    near_value(f, 0, 0, "Z", 0.31);
    cr_expect_eq(
        trn_joint_transverse_force(600, 0.31, 0.47, 0.9, TRN_JOINT_SHAPE_Z, &f), TRN_OK);
    near_share(f, 600 * fabs(sin(0.31) - cos(0.31) * tan(0.47)) / 0.9, 1e-13, "Z", 0.47);
    cr_expect_eq(trn_joint_transverse_force(600, 0.31, 0.87, 0.9, TRN_JOINT_SHAPE_W, &f),
                 TRN_R_JOINT_LARGE_ANGLE);
    f = UNTOUCHED;
    cr_expect_eq(
        trn_joint_transverse_force(600, 0.31, 0.47, 0, TRN_JOINT_SHAPE_Z, &f), TRN_E_DOMAIN);
    cr_expect_eq(
        trn_joint_transverse_force(600, 0.31, 0.47, 1, (trn_joint_shape)5, &f), TRN_E_DOMAIN);
    cr_expect_eq(f, UNTOUCHED);
}
