/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <gsl/gsl_math.h>
#include <math.h>
#include <trunnion/bearing.h>
#include <trunnion/loss.h>

#include "constant_tables.h"

/* from memory: Palmgren's moments, seals of ISO/TR 14179-2 and -1 */
static double no_load = 1e-7;
static double no_load_slow = 160;
static double seal_part_2 = 7.69e-6;
static double seal_nitrile = 2.429e-3;
static double seal_fluoroelastomer = 3.737e-3;

/* guards are written so that NaN fails them */
static int positive(double x)
{
    return x > 0 && isfinite(x);
}

static int not_negative(double x)
{
    return x >= 0 && isfinite(x);
}

trn_status trn_loss_mesh(double P_w, double mu, double H_v, double *loss_w)
{
    if (!not_negative(P_w) || !not_negative(mu) || !positive(H_v))
        return TRN_E_DOMAIN;
    *loss_w = P_w * mu * H_v;
    return TRN_OK;
}

/* ---- bearings ----------------------------------------------------------------------------- */

trn_status trn_bearing_friction(double f0, double f1, double nu_m2_s, double n_rad_s, double dm_m,
                                double P1_n, double *M0_nm, double *M1_nm, double *loss_w)
{
    if (!not_negative(f0) || !not_negative(f1) || !positive(nu_m2_s) || !not_negative(n_rad_s) ||
        !positive(dm_m) || !not_negative(P1_n))
        return TRN_E_DOMAIN;
    double dm_mm = dm_m * 1e3;
    double nu_n = nu_m2_s * 1e6 * n_rad_s * 30 / M_PI; /* mm2/s times rev/min */
    double size = no_load * f0 * dm_mm * dm_mm * dm_mm;
    double root = cbrt(nu_n);
    /* Palmgren; the limit belongs to the upper law, also after a trip through SI units */
    int turning = nu_n >= TRN_BEARING_FRICTION_STEP * (1 - 1e-9);
    double M0 = 1e-3 * size * (turning ? root * root : no_load_slow);
    double M1 = f1 * P1_n * dm_m;
    double loss = (M0 + M1) * n_rad_s;
    if (!isfinite(loss))
        return TRN_E_DOMAIN;
    *M0_nm = M0;
    *M1_nm = M1;
    *loss_w = loss;
    return TRN_OK;
}

/* Friction values by kind, oil bath with its level at the lowest rolling element or somewhat
 * above; f1 = c (P0/C0)^q, P0 the static load of ISO 76. Handbook tables after Palmgren, `memory`
 * medium to high. The upper end of printed ranges is kept for f1 of deep
 * groove bearings, and f0 of tapered ones is twice that of ISO 15312 annex A: hotter oil. */
static struct friction_row {
    double f0, c, q;
} friction_rows[TRN_FRICTION_KINDS] = {
    {2, 0.0009, 0.55},  /* deep groove */
    {3.3, 0.001, 0.33}, /* angular, 15 deg */
    {3.3, 0.001, 0.33}, /* 20 */
    {3.3, 0.001, 0.33}, /* 25 */
    {3.3, 0.001, 0.33}, /* 30 */
    {3.3, 0.001, 0.33}, /* 35 */
    {3.3, 0.001, 0.33}, /* 40 */
    {6, 0.0004, 0},     /* tapered */
    {3, 0.0003, 0},     /* cylindrical, with cage */
    {12, 0.002, 0},     /* needle */
};

double trn_bearing_friction_f0(trn_friction_kind kind)
{
    return (size_t)kind < TRN_FRICTION_KINDS ? friction_rows[kind].f0 : NAN;
}

trn_status trn_bearing_friction_values(trn_friction_kind kind, double Fr_n, double Fa_n,
                                       double C0_n, double angle_rad, double *f0, double *f1,
                                       double *P1_n)
{
    if ((size_t)kind >= TRN_FRICTION_KINDS || !not_negative(Fr_n) || !not_negative(Fa_n))
        return TRN_E_DOMAIN;
    const struct friction_row *row = &friction_rows[kind];
    double value = row->c;
    double P1 = Fr_n;
    if (kind <= TRN_FRICTION_ANGULAR_40) {
        double P0 = 0;
        if (!positive(C0_n) ||
            trn_bearing_static_load((trn_bearing_kind)kind, Fr_n, Fa_n, NAN, &P0) < 0)
            return TRN_E_DOMAIN;
        value *= pow(P0 / C0_n, row->q);
        P1 = fmax((kind == TRN_FRICTION_DEEP_GROOVE ? 3 : 1) * Fa_n - 0.1 * Fr_n, Fr_n);
    } else if (kind == TRN_FRICTION_TAPERED) {
        if (!(angle_rad > 0 && angle_rad <= M_PI_4 * (1 + 1e-9)))
            return TRN_E_DOMAIN;
        P1 = fmax(2 * (trn_bearing_tapered_factor() / tan(angle_rad)) * Fa_n, Fr_n); /* 2 Y Fa */
    }
    if (!isfinite(value) || !isfinite(P1))
        return TRN_E_DOMAIN;
    *f0 = row->f0;
    *f1 = value;
    *P1_n = P1;
    return TRN_OK;
}

trn_status trn_loss_cases(const double *loss_w, const double *weight, size_t n, double *mean_w)
{
    double sum = 0;
    double weights = 0;
    for (size_t i = 0; i < n; i++) {
        if (!not_negative(loss_w[i]) || !not_negative(weight[i]))
            return TRN_E_DOMAIN;
        sum += weight[i] * loss_w[i];
        weights += weight[i];
    }
    if (!positive(weights) || !isfinite(sum))
        return TRN_E_DOMAIN;
    *mean_w = sum / weights;
    return TRN_OK;
}

/* ---- seals -------------------------------------------------------------------------------- */

trn_status trn_loss_seal(double d_m, double n_rad_s, int part, trn_seal_material material,
                         double *loss_w)
{
    if (!positive(d_m) || !not_negative(n_rad_s) || (part != 1 && part != 2) ||
        (material != TRN_SEAL_NITRILE && material != TRN_SEAL_FLUOROELASTOMER))
        return TRN_E_DOMAIN;
    double d_mm = d_m * 1e3;
    if (part == 2) /* ISO/TR 14179-2 */
        *loss_w = seal_part_2 * d_mm * d_mm * n_rad_s * 30 / M_PI;
    else /* ISO/TR 14179-1 */
        *loss_w = (material == TRN_SEAL_NITRILE ? seal_nitrile : seal_fluoroelastomer) * d_mm * n_rad_s;
    return TRN_OK;
}

/* ---- recalled, not yet compared with the printed source -------------------------------------- */

const trn_constant trn_constants_loss[] = {
    {"friction.deep_groove.f0", "handbook tables after Palmgren; ISO/TR 14179-2", "friction moments",
     "no-load factor f0, oil bath, deep groove", "1",
     "bearing.friction_values bearing.friction", &friction_rows[0].f0},
    {"friction.deep_groove.f1", "handbook tables after Palmgren; ISO/TR 14179-2", "friction moments",
     "load factor f1 at P0 = C0, deep groove", "1",
     "bearing.friction_values bearing.friction", &friction_rows[0].c},
    {"friction.deep_groove.f1_exponent", "handbook tables after Palmgren; ISO/TR 14179-2", "friction moments",
     "exponent of P0/C0 in f1, deep groove", "1",
     "bearing.friction_values", &friction_rows[0].q},
    {"friction.angular_15.f0", "handbook tables after Palmgren; ISO/TR 14179-2", "friction moments",
     "no-load factor f0, oil bath, angular 15", "1",
     "bearing.friction_values bearing.friction", &friction_rows[1].f0},
    {"friction.angular_15.f1", "handbook tables after Palmgren; ISO/TR 14179-2", "friction moments",
     "load factor f1 at P0 = C0, angular 15", "1",
     "bearing.friction_values bearing.friction", &friction_rows[1].c},
    {"friction.angular_15.f1_exponent", "handbook tables after Palmgren; ISO/TR 14179-2", "friction moments",
     "exponent of P0/C0 in f1, angular 15", "1",
     "bearing.friction_values", &friction_rows[1].q},
    {"friction.angular_20.f0", "handbook tables after Palmgren; ISO/TR 14179-2", "friction moments",
     "no-load factor f0, oil bath, angular 20", "1",
     "bearing.friction_values bearing.friction", &friction_rows[2].f0},
    {"friction.angular_20.f1", "handbook tables after Palmgren; ISO/TR 14179-2", "friction moments",
     "load factor f1 at P0 = C0, angular 20", "1",
     "bearing.friction_values bearing.friction", &friction_rows[2].c},
    {"friction.angular_20.f1_exponent", "handbook tables after Palmgren; ISO/TR 14179-2", "friction moments",
     "exponent of P0/C0 in f1, angular 20", "1",
     "bearing.friction_values", &friction_rows[2].q},
    {"friction.angular_25.f0", "handbook tables after Palmgren; ISO/TR 14179-2", "friction moments",
     "no-load factor f0, oil bath, angular 25", "1",
     "bearing.friction_values bearing.friction", &friction_rows[3].f0},
    {"friction.angular_25.f1", "handbook tables after Palmgren; ISO/TR 14179-2", "friction moments",
     "load factor f1 at P0 = C0, angular 25", "1",
     "bearing.friction_values bearing.friction", &friction_rows[3].c},
    {"friction.angular_25.f1_exponent", "handbook tables after Palmgren; ISO/TR 14179-2", "friction moments",
     "exponent of P0/C0 in f1, angular 25", "1",
     "bearing.friction_values", &friction_rows[3].q},
    {"friction.angular_30.f0", "handbook tables after Palmgren; ISO/TR 14179-2", "friction moments",
     "no-load factor f0, oil bath, angular 30", "1",
     "bearing.friction_values bearing.friction", &friction_rows[4].f0},
    {"friction.angular_30.f1", "handbook tables after Palmgren; ISO/TR 14179-2", "friction moments",
     "load factor f1 at P0 = C0, angular 30", "1",
     "bearing.friction_values bearing.friction", &friction_rows[4].c},
    {"friction.angular_30.f1_exponent", "handbook tables after Palmgren; ISO/TR 14179-2", "friction moments",
     "exponent of P0/C0 in f1, angular 30", "1",
     "bearing.friction_values", &friction_rows[4].q},
    {"friction.angular_35.f0", "handbook tables after Palmgren; ISO/TR 14179-2", "friction moments",
     "no-load factor f0, oil bath, angular 35", "1",
     "bearing.friction_values bearing.friction", &friction_rows[5].f0},
    {"friction.angular_35.f1", "handbook tables after Palmgren; ISO/TR 14179-2", "friction moments",
     "load factor f1 at P0 = C0, angular 35", "1",
     "bearing.friction_values bearing.friction", &friction_rows[5].c},
    {"friction.angular_35.f1_exponent", "handbook tables after Palmgren; ISO/TR 14179-2", "friction moments",
     "exponent of P0/C0 in f1, angular 35", "1",
     "bearing.friction_values", &friction_rows[5].q},
    {"friction.angular_40.f0", "handbook tables after Palmgren; ISO/TR 14179-2", "friction moments",
     "no-load factor f0, oil bath, angular 40", "1",
     "bearing.friction_values bearing.friction", &friction_rows[6].f0},
    {"friction.angular_40.f1", "handbook tables after Palmgren; ISO/TR 14179-2", "friction moments",
     "load factor f1 at P0 = C0, angular 40", "1",
     "bearing.friction_values bearing.friction", &friction_rows[6].c},
    {"friction.angular_40.f1_exponent", "handbook tables after Palmgren; ISO/TR 14179-2", "friction moments",
     "exponent of P0/C0 in f1, angular 40", "1",
     "bearing.friction_values", &friction_rows[6].q},
    {"friction.tapered.f0", "handbook tables after Palmgren; ISO/TR 14179-2", "friction moments",
     "no-load factor f0, oil bath, tapered", "1",
     "bearing.friction_values bearing.friction", &friction_rows[7].f0},
    {"friction.tapered.f1", "handbook tables after Palmgren; ISO/TR 14179-2", "friction moments",
     "load factor f1 at P0 = C0, tapered", "1",
     "bearing.friction_values bearing.friction", &friction_rows[7].c},
    {"friction.cylindrical.f0", "handbook tables after Palmgren; ISO/TR 14179-2", "friction moments",
     "no-load factor f0, oil bath, cylindrical", "1",
     "bearing.friction_values bearing.friction", &friction_rows[8].f0},
    {"friction.cylindrical.f1", "handbook tables after Palmgren; ISO/TR 14179-2", "friction moments",
     "load factor f1 at P0 = C0, cylindrical", "1",
     "bearing.friction_values bearing.friction", &friction_rows[8].c},
    {"friction.needle.f0", "handbook tables after Palmgren; ISO/TR 14179-2", "friction moments",
     "no-load factor f0, oil bath, needle", "1",
     "bearing.friction_values bearing.friction", &friction_rows[9].f0},
    {"friction.needle.f1", "handbook tables after Palmgren; ISO/TR 14179-2", "friction moments",
     "load factor f1 at P0 = C0, needle", "1",
     "bearing.friction_values bearing.friction", &friction_rows[9].c},
    {"friction.no_load", "handbook tables after Palmgren; ISO/TR 14179-2", "friction moments",
     "constant of the no-load moment (N.mm, mm, mm2/s, rev/min)", "1",
     "bearing.friction", &no_load},
    {"friction.no_load_slow", "handbook tables after Palmgren; ISO/TR 14179-2", "friction moments",
     "the same below nu n = 2000, over the one above", "1",
     "bearing.friction", &no_load_slow},
    {"tr14179_2.seal", "ISO/TR 14179-2:2001", "seals",
     "loss over d^2 n (W, mm, rev/min)", "1",
     "loss.seal", &seal_part_2},
    {"tr14179_1.seal.nitrile", "ISO/TR 14179-1:2001", "seals",
     "torque over d, nitrile (N.m, mm)", "1",
     "loss.seal", &seal_nitrile},
    {"tr14179_1.seal.fluoroelastomer", "ISO/TR 14179-1:2001", "seals",
     "torque over d, fluoroelastomer (N.m, mm)", "1",
     "loss.seal", &seal_fluoroelastomer},
};
const size_t trn_constants_loss_count =
    sizeof trn_constants_loss / sizeof trn_constants_loss[0];
