/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <trunnion/gear_loss.h>

#include "catalogue.h"

/* ---- gear.loss_factor --------------------------------------------------------------------- */

static const trn_symbol factor_in[] = {
    REQ("z1", "1", "1", "(0,inf)", "teeth of gear 1"),
    REQ("z2", "1", "1", "(0,inf)", "teeth of gear 2"),
    REQ("m", "mm", "m", "(0,inf)", "normal module"),
    REQ("alpha", "deg", "rad", "(0,45)", "normal pressure angle"),
    REQ("beta", "deg", "rad", "(-60,60)", "helix angle at the reference circle"),
    REQ("a_w", "mm", "m", "(0,inf)", "centre distance"),
    REQ("d_a1", "mm", "m", "(0,inf)", "tip diameter of gear 1"),
    REQ("d_a2", "mm", "m", "(0,inf)", "tip diameter of gear 2"),
};
static const trn_symbol factor_out[] = {
    OUT("eps_a", "1", "1", "transverse contact ratio"),
    OUT("H_v", "1", "1", "loss factor: loss = power * mean friction * H_v"),
};

static trn_status factor_call(const trn_value *in, trn_value *out)
{
    trn_gear_path path;
    trn_status status = trn_gear_loss_factor(in[0].x, in[1].x, in[2].x, in[3].x, in[4].x, in[5].x,
                                             in[6].x, in[7].x, &path);
    if (status >= 0) {
        out[0].x = path.eps_a;
        out[1].x = path.H_v;
    }
    return status;
}

/* ---- gear.bevel_virtual ------------------------------------------------------------------- */

static const trn_symbol virtual_in[] = {
    REQ("z1", "1", "1", "(0,inf)", "teeth of gear 1"),
    REQ("z2", "1", "1", "(0,inf)", "teeth of gear 2"),
    REQ("m_et", "mm", "m", "(0,inf)", "outer transverse module"),
    REQ("b", "mm", "m", "(0,inf)", "face width"),
    REQ("alpha", "deg", "rad", "(0,45)", "normal pressure angle"),
    DEF("Sigma", "deg", "rad", "(0,180)", "90", "shaft angle"),
    DEF("psi", "deg", "rad", "(-60,60)", "0", "mean spiral angle"),
};
static const trn_symbol virtual_out[] = {
    OUT("delta1", "deg", "rad", "cone angle of gear 1"),
    OUT("delta2", "deg", "rad", "cone angle of gear 2"),
    OUT("d_m1", "mm", "m", "mean pitch diameter of gear 1"),
    OUT("d_m2", "mm", "m", "mean pitch diameter of gear 2"),
    OUT("z_v1", "1", "1", "teeth of the virtual gear 1"),
    OUT("z_v2", "1", "1", "teeth of the virtual gear 2"),
    OUT("eps_a", "1", "1", "transverse contact ratio of the virtual pair"),
    OUT("H_v", "1", "1", "loss factor: loss = power * mean friction * H_v"),
    OUT("d_v1", "mm", "m", "pitch diameter of the virtual gear 1: z_v1 m_mt"),
    OUT("d_v2", "mm", "m", "pitch diameter of the virtual gear 2: z_v2 m_mt"),
};

static trn_status virtual_call(const trn_value *in, trn_value *out)
{
    trn_gear_bevel p;
    trn_status status = trn_gear_bevel_virtual(in[0].x, in[1].x, in[2].x, in[3].x, in[4].x,
                                               in[5].x, in[6].x, &p);
    if (status >= 0) {
        const double results[] = {p.delta1_rad, p.delta2_rad, p.d_m1_m,     p.d_m2_m,
                                  p.z_v1,       p.z_v2,       p.path.eps_a, p.path.H_v,
                                  p.d_v1_m,     p.d_v2_m};
        for (size_t i = 0; i < TRN_COUNT(results); i++)
            out[i].x = results[i];
    }
    return status;
}

/* ---- gear.contact ------------------------------------------------------------------------- */

static const trn_symbol contact_in[] = {
    REQ("T1", "N.m", "N.m", "[0,inf)", "torque of gear 1"),
    REQ("n1", "rpm", "rad/s", "[0,inf)", "speed of gear 1"),
    REQ("d1", "mm", "m", "(0,inf)", "pitch diameter of gear 1 (bevel: mean)"),
    REQ("b", "mm", "m", "(0,inf)", "smaller face width"),
    REQ("d_v1", "mm", "m", "(0,inf)", "pitch diameter of gear 1 (bevel: of its virtual gear)"),
    REQ("d_v2", "mm", "m", "(0,inf)", "pitch diameter of gear 2 (bevel: of its virtual gear)"),
    REQ("alpha", "deg", "rad", "(0,45)", "normal pressure angle"),
    DEF("beta", "deg", "rad", "(-60,60)", "0", "helix or mean spiral angle"),
};
static const trn_symbol contact_out[] = {
    OUT("F_over_b", "N/mm", "N/m", "transverse base tangential force per width"),
    OUT("v_t", "m/s", "m/s", "pitch line speed"),
    OUT("v_sum", "m/s", "m/s", "sum speed at the pitch point"),
    OUT("rho_red", "mm", "m", "reduced radius at the pitch point"),
};

static trn_status contact_call(const trn_value *in, trn_value *out)
{
    trn_gear_touch touch;
    trn_status status = trn_gear_contact(in[0].x, in[1].x, in[2].x, in[3].x, in[4].x, in[5].x,
                                         in[6].x, in[7].x, &touch);
    if (status >= 0) {
        out[0].x = touch.F_over_b_n_m;
        out[1].x = touch.v_t_m_s;
        out[2].x = touch.v_sum_m_s;
        out[3].x = touch.rho_red_m;
    }
    return status;
}

/* ---- gear.friction ------------------------------------------------------------------------ */

static const trn_symbol friction_in[] = {
    REQ("F_over_b", "N/mm", "N/m", "[0,inf)", "transverse base tangential force per width"),
    REQ("v_sum", "m/s", "m/s", "(0,inf)", "sum speed at the pitch point"),
    REQ("rho_red", "mm", "m", "(0,inf)", "reduced radius at the pitch point"),
    REQ("eta", "mPa.s", "Pa.s", "(0,inf)", "dynamic viscosity at the oil temperature"),
    REQ("Ra", "um", "m", "(0,inf)", "mean roughness of both flanks"),
    DEF("X_L", "1", "1", "(0,inf)", "1", "lubricant factor"),
};
static const trn_symbol friction_out[] = {
    OUT("mu", "1", "1", "mean friction along the path"),
};

static trn_status friction_call(const trn_value *in, trn_value *out)
{
    return trn_gear_friction(in[0].x, in[1].x, in[2].x, in[3].x, in[4].x, in[5].x, &out[0].x);
}

/* ---- table -------------------------------------------------------------------------------- */

const trn_formula trn_formulas_gear_loss[] = {
    {
        .name = "gear.loss_factor",
        .what = "contact ratio and loss factor of a spur or helical pair",
        .equation = "tan alpha_t = tan alpha/cos beta; r_b = z m cos alpha_t/(2 cos beta); "
                    "p_bt = pi m cos alpha_t/cos beta; sin beta_b = sin beta cos alpha\n"
                    "cos alpha_wt = (r_b1 + r_b2)/a_w; r_w1 = a_w z1/(z1 + z2)\n"
                    "eps_i = (sqrt(r_ai^2 - r_bi^2) - r_wi sin alpha_wt)/p_bt; "
                    "eps_a = eps_1 + eps_2\n"
                    "H_v = pi (1/z1 + 1/z2)/cos beta_b (1 - eps_a + eps_1^2 + eps_2^2)",
        .validity = "external pairs. Refused: centre distance below the base circles, tips inside "
                    "the base circles, no path. Remark: eps_a below 1 or above 2, one part below "
                    "0, interference",
        .source = "Ohlendorf; Niemann2; TR14179-2",
        .standing = "memory; derived by integration over the path",
        .example = "z1=19 z2=47 m=4.25mm alpha=20deg beta=0deg a_w=140.25mm d_a1=89.25mm "
                   "d_a2=208.25mm",
        ENTRY(factor),
    },
    {
        .name = "gear.bevel_virtual",
        .what = "cone angles, virtual cylindrical pair and loss factor of a bevel pair",
        .equation = "tan delta1 = sin Sigma/(z2/z1 + cos Sigma); delta2 = Sigma - delta1; "
                    "R_e = z1 m_et/(2 sin delta1); R_m = R_e - b/2\n"
                    "d_m = z m_et R_m/R_e; m_mt = m_et R_m/R_e; m_mn = m_mt cos psi\n"
                    "d_v = d_m/cos delta; z_v = z/cos delta; d_va = d_v + 2 m_mn; "
                    "a_v = (d_v1 + d_v2)/2\n"
                    "tan alpha_vt = tan alpha/cos psi; sin beta_vb = sin psi cos alpha; then as "
                    "gear.loss_factor",
        .validity = "no hypoid offset; one mean normal module of addendum on both gears (others "
                    "shift the path by a few per cent). Refused: a cone angle of 90 deg or more, "
                    "b not below R_e. Remark: b above 0.35 R_e",
        .source = "ISO10300-1; ISO23509",
        .standing = "forms memory, geometry derived",
        .example = "z1=14 z2=27 m_et=6mm b=32mm alpha=20deg",
        ENTRY(virtual),
    },
    {
        .name = "gear.contact",
        .what = "force per width, speeds and curvature at the pitch point of a pair",
        .equation = "F_over_b = 2 T1/(d1 cos alpha_t b); v_t = pi d1 n1; "
                    "v_sum = 2 v_t sin alpha_t\n"
                    "rho_red = r_v1 r_v2 sin alpha_t/((r_v1 + r_v2) cos beta_b); r_v = d_v/2\n"
                    "tan alpha_t = tan alpha/cos beta; sin beta_b = sin beta cos alpha; bevel: d1 "
                    "= d_m1, d_v = d_m/cos delta = z_v m_mt of gear.bevel_virtual",
        .validity = "standard centre distance",
        .source = "TR14179-2",
        .standing = "force and speeds memory, geometry derived",
        .example = "T1=165.0496N.m n1=1041.428571rpm d1=69.2699mm b=32mm d_v1=78.02816mm "
                   "d_v2=290.21697mm alpha=20deg",
        ENTRY(contact),
    },
    {
        .name = "gear.friction",
        .what = "mean friction of a mesh along its path of contact",
        .equation = "mu = 0.048 (max(F_over_b, 150)/(v_sum rho_red))^0.2 eta^-0.05 Ra^0.25 X_L\n"
                    "X_L: mineral 1, polyalphaolefin or ester 0.8, polyglycol 0.75 (6/v_sum)^0.2",
        .validity = "pitch line speed up to 50 m/s. Remark below 150 N/mm, where the method takes "
                    "150. Another formula of the scuffing standards gives about 20 % more: not to "
                    "be mixed",
        .source = "Schlenk; TR14179-2",
        .standing = "memory (form high, X_L medium)",
        .example = "F_over_b=238.6N/mm v_sum=3.17m/s rho_red=9.42mm eta=31.8mPa.s Ra=0.65um",
        ENTRY(friction),
    },
};
const size_t trn_formulas_gear_loss_count = TRN_COUNT(trn_formulas_gear_loss);

const trn_source trn_sources_gear_loss[] = {
    {"Ohlendorf", "H. Ohlendorf, doctoral thesis on power loss and heating of spur gears, "
                  "Technical University of Munich, 1958: loss factor of the path of contact",
     "memory"},
    {"Niemann2", "G. Niemann and H. Winter, Maschinenelemente, volume II: gear losses", "memory"},
    {"ISO10300-1", "ISO 10300-1, load capacity of bevel gears: virtual cylindrical gears",
     "memory"},
    {"ISO23509", "ISO 23509, bevel and hypoid gear geometry: standard addendum", "memory"},
    {"Schlenk", "L. Schlenk, doctoral thesis on scuffing of large gears, Technical University of "
                "Munich, 1994: mean friction of the mesh",
     "memory"},
};
const size_t trn_sources_gear_loss_count = TRN_COUNT(trn_sources_gear_loss);
