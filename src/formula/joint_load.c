/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a bent joint does to its shafts and its cross: couples, life, heat. */
#include <trunnion/joint.h>

#include "catalogue.h"

static const char *const shape_words[] = {"z", "w", NULL};
static const char *const growth_words[] = {"yes", "no", NULL};

/* ---- joint.secondary_couple ------------------------------------------------------------------ */

static const trn_symbol secondary_couple_in[] = {
    REQ("T", "N.m", "N.m", "[0,inf)", "torque of the driving shaft, constant"),
    REQ("beta", "deg", "rad", "[0,90)", "angle between the two shafts"),
};
static const trn_symbol secondary_couple_out[] = {
    OUT("driving", "N.m", "N.m", "on the driving shaft, yoke across the plane"),
    OUT("driven", "N.m", "N.m", "on the driven shaft"),
};

static trn_status secondary_couple_call(const trn_value *in, trn_value *out)
{
    return trn_joint_secondary_couple(in[0].x, in[1].x, &out[0].x, &out[1].x);
}

/* ---- joint.transverse_force ------------------------------------------------------------------ */

static const trn_symbol transverse_force_in[] = {
    REQ("T", "N.m", "N.m", "[0,inf)", "torque of the driving shaft, constant"),
    REQ("beta1", "deg", "rad", "[0,90)", "angle of the first joint (a magnitude)"),
    REQ("beta2", "deg", "rad", "[0,90)", "angle of the second joint (a magnitude)"),
    REQ("L", "mm", "m", "(0,inf)", "length between the joint centres"),
    WORD("shape", shape_words, NULL, "z: ends bent opposite ways, w: the same way twice"),
};
static const trn_symbol transverse_force_out[] = {
    OUT("F", "N", "N", "peak side force"),
};

static trn_status transverse_force_call(const trn_value *in, trn_value *out)
{
    return trn_joint_transverse_force(in[0].x, in[1].x, in[2].x, in[3].x,
                                      in[4].x > 0 ? TRN_JOINT_SHAPE_W : TRN_JOINT_SHAPE_Z,
                                      &out[0].x);
}

/* ---- joint.load_growth ----------------------------------------------------------------------- */

static const trn_symbol load_growth_in[] = {
    REQ("beta", "deg", "rad", "[0,90)", "angle between the two shafts"),
};
static const trn_symbol load_growth_out[] = {
    OUT("K_beta", "1", "1", "yoke with constant torque"),
    OUT("K_other", "1", "1", "the other yoke"),
};

static trn_status load_growth_call(const trn_value *in, trn_value *out)
{
    return trn_joint_load_growth(in[0].x, &out[0].x, &out[1].x);
}

/* ---- joint.cross_life ------------------------------------------------------------------------ */

static const trn_symbol cross_life_in[] = {
    REQ("C", "kN", "N", "(0,inf)", "dynamic rating of one needle bearing"),
    REQ("R", "mm", "m", "(0,inf)", "arm: joint centre to the middle of the needles"),
    REQ("T", "N.m", "N.m", "(0,inf)", "torque of the shaft"),
    REQ("n", "rpm", "rad/s", "(0,inf)", "speed of the shaft"),
    REQ("beta", "deg", "rad", "(0,90)", "angle of the joint"),
    DEF("shock", "1", "1", "(0,inf)", "1", "application factor"),
    WORD("growth", growth_words, "yes", "growth of the load with the bend"),
};
static const trn_symbol cross_life_out[] = {
    OUT("P", "kN", "N", "equivalent load"),
    OUT("K_beta", "1", "1", "growth of the load"),
    OUT("n_eq", "rpm", "rad/s", "equivalent speed of full turns"),
    OUT("L10h", "h", "s", "basic rating life"),
};

static trn_status cross_life_call(const trn_value *in, trn_value *out)
{
    trn_joint_life life;
    trn_status status = trn_joint_cross_life(in[0].x, in[1].x, in[2].x, in[3].x, in[4].x, in[5].x,
                                             in[6].x == 0, &life);
    if (status < 0)
        return status;
    out[0].x = life.load_n;
    out[1].x = life.k_beta;
    out[2].x = life.omega_eq_rad_s;
    out[3].x = life.life_s;
    return status;
}

/* ---- joint.critical_oscillation -------------------------------------------------------------- */

static const trn_symbol critical_oscillation_in[] = {
    REQ("Z", "1", "1", "[3,inf)", "needles of one bearing, a whole number"),
    REQ("gamma", "1", "1", "(0,1)", "needle diameter over pitch diameter"),
};
static const trn_symbol critical_oscillation_out[] = {
    OUT("inner", "deg", "rad", "on the inner raceway"),
    OUT("outer", "deg", "rad", "on the outer raceway"),
};

static trn_status critical_oscillation_call(const trn_value *in, trn_value *out)
{
    return trn_joint_critical_oscillation(in[0].x, in[1].x, &out[0].x, &out[1].x);
}

/* ---- joint.heat ------------------------------------------------------------------------------ */

static const trn_symbol heat_in[] = {
    REQ("T", "N.m", "N.m", "[0,inf)", "torque of the driving shaft, constant"),
    REQ("n", "rpm", "rad/s", "[0,inf)", "speed of the driving shaft"),
    REQ("beta", "deg", "rad", "[0,90)", "angle between the two shafts"),
    REQ("mu", "1", "1", "[0,inf)", "friction of the needle bearings"),
    REQ("r_over_R", "1", "1", "(0,1)", "trunnion radius over arm"),
};
static const trn_symbol heat_out[] = {
    OUT("loss", "W", "W", "friction heat"),
};

static trn_status heat_call(const trn_value *in, trn_value *out)
{
    return trn_joint_heat(in[0].x, in[1].x, in[2].x, in[3].x, in[4].x, &out[0].x);
}

const trn_formula trn_formulas_joint_load[] = {
    {
        .name = "joint.secondary_couple",
        .what = "largest couples that a bent joint puts on its two shafts",
        .equation = "driving = T tan beta, driven = T sin beta",
        .validity =
            "T >= 0, 0 <= beta < 90 deg; above 45 deg the largest driven couple is T/(2 cos "
            "beta) (remark); where the driven torque is the constant one its couple reaches T "
            "tan beta",
        .source = "JointDerived",
        .standing = "derived",
        .example = "T=600N.m beta=20deg",
        ENTRY(secondary_couple),
    },
    {
        .name = "joint.transverse_force",
        .what = "peak side force at the joint centres of a two-joint shaft, twice a turn",
        .equation = "F = T |sin beta1 + cos beta1 tan beta2|/L (W), with minus for Z",
        .validity = "one plane, tube yokes in line, beta < 45 deg (remark above)",
        .source = "JointDerived",
        .standing = "derived",
        .example = "T=600N.m beta1=20deg beta2=15deg L=900mm shape=w",
        ENTRY(transverse_force),
    },
    {
        .name = "joint.load_growth",
        .what = "growth of the trunnion loads with the bend, mean over the rocking",
        .equation =
            "K_beta = [(1/beta) int_0^beta sec^(10/3) d dd]^(3/10)\n"
            "K_other = [(1/beta) int_0^beta (cos d/cos beta)^(10/3) dd]^(3/10)",
        .validity = "0 <= beta < 90 deg; K_beta: the yoke whose torque is constant",
        .source = "JointISO281; JointDerived",
        .standing = "derived",
        .example = "beta=20deg",
        ENTRY(load_growth),
    },
    {
        .name = "joint.cross_life",
        .what = "basic rating life of one needle bearing of the cross",
        .equation =
            "P = K_beta shock T/(2 R), n_eq = n beta/90 deg\n"
            "L10h = 1e6 (C/P)^(10/3)/(60 n_eq)\n"
            "K_beta = [(1/beta) int_0^beta sec^(10/3) d dd]^(3/10) (growth=yes), 1 "
            "(growth=no)",
        .validity =
            "all inputs above 0 (beta = 0: no rocking, no life); remarks: P > C/2, beta < 2 "
            "deg, beta > 45 deg; an upper bound below joint.critical_oscillation",
        .source = "JointISO281; JointT2; JointR4 (cross bearings fail first); JointDerived",
        .standing = "exponent published, travel and growth derived",
        .example = "C=30kN R=40mm T=900N.m n=540rpm beta=10deg",
        ENTRY(cross_life),
    },
    {
        .name = "joint.critical_oscillation",
        .what = "half-amplitude below which the tracks of neighbouring needles do not overlap",
        .equation = "inner = 360 deg/(Z (1 + gamma)), outer = 360 deg/(Z (1 - gamma))",
        .validity = "Z whole number >= 3, 0 < gamma < 1",
        .source = "JointR1; JointR2; JointR3 (load zone); JointDerived",
        .standing = "derived, notion published",
        .example = "Z=24 gamma=0.12",
        ENTRY(critical_oscillation),
    },
    {
        .name = "joint.heat",
        .what = "friction heat of the four needle bearings of a joint",
        .equation = "loss = (2/pi) mu r_over_R [ln tan(45 deg + beta/2) + tan beta] T omega",
        .validity =
            "T, n, mu >= 0, 0 <= beta < 90 deg, 0 < r_over_R < 1; T constant on the driving "
            "side; mu about 0.003 greased needles, 0.01 dry or dirty (practice)",
        .source = "JointDerived; JointPractice",
        .standing = "derived, values of mu practice",
        .example = "T=1061N.m n=540rpm beta=20deg mu=0.003 r_over_R=0.3",
        ENTRY(heat),
    },
};
const size_t trn_formulas_joint_load_count = TRN_COUNT(trn_formulas_joint_load);

/* sources: joint.c */
const trn_source trn_sources_joint_load[] = {{0}};
const size_t trn_sources_joint_load_count = 0;
