/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <trunnion/shaft.h>

#include "catalogue.h"

static const char *const fits_words[] = {"yes", "no", NULL};

/* inputs of shaft.ripple and shaft.torque_wave, in the order of their tables */
static trn_shaft_line line_of(const trn_value *in)
{
    return (trn_shaft_line){in[0].x, in[1].x, in[2].x, in[3].x, in[4].x, in[5].x, in[6].x};
}

/* ---- shaft.torque ---------------------------------------------------------------------------- */

static const trn_symbol torque_in[] = {
    REQ("P", "W", "W", "[0,inf)", "power"),
    REQ("n", "rpm", "rad/s", "(0,inf)", "speed of the shaft"),
};
static const trn_symbol torque_out[] = {
    OUT("T", "N.m", "N.m", "torque"),
};

static trn_status torque_call(const trn_value *in, trn_value *out)
{
    return trn_shaft_torque(in[0].x, in[1].x, &out[0].x);
}

/* ---- shaft.critical_speed -------------------------------------------------------------------- */

static const trn_symbol critical_speed_in[] = {
    REQ("D", "mm", "m", "(0,inf)", "outside diameter"),
    REQ("d", "mm", "m", "[0,inf)", "inside diameter, below D (0: solid)"),
    REQ("L", "mm", "m", "(0,inf)", "length between the joint centres, longest position"),
    DEF("E", "GPa", "Pa", "(0,inf)", "206", "modulus of elasticity"),
    DEF("rho", "kg/m3", "kg/m3", "(0,inf)", "7850", "density"),
};
static const trn_symbol critical_speed_out[] = {
    OUT("n_c", "rpm", "rad/s", "critical speed"),
};

static trn_status critical_speed_call(const trn_value *in, trn_value *out)
{
    return trn_shaft_critical_speed(in[0].x, in[1].x, in[2].x, in[3].x, in[4].x, &out[0].x);
}

/* ---- shaft.torsion --------------------------------------------------------------------------- */

static const trn_symbol torsion_in[] = {
    REQ("T", "N.m", "N.m", "[0,inf)", "torque"),
    REQ("D", "mm", "m", "(0,inf)", "outside diameter"),
    REQ("d", "mm", "m", "[0,inf)", "inside diameter, below D (0: solid)"),
    REQ("L", "mm", "m", "(0,inf)", "length"),
    DEF("G", "GPa", "Pa", "(0,inf)", "79.3", "shear modulus"),
};
static const trn_symbol torsion_out[] = {
    OUT("tau", "MPa", "Pa", "shear stress at the outside"),
    OUT("twist", "deg", "rad", "twist over the length"),
    OUT("k", "N.m/deg", "N.m/rad", "stiffness"),
};

static trn_status torsion_call(const trn_value *in, trn_value *out)
{
    return trn_shaft_torsion(in[0].x, in[1].x, in[2].x, in[3].x, in[4].x, &out[0].x, &out[1].x,
                             &out[2].x);
}

/* ---- shaft.profile_torsion ------------------------------------------------------------------- */

static const trn_symbol profile_torsion_in[] = {
    REQ("T", "N.m", "N.m", "[0,inf)", "torque"),
    REQ("A", "mm2", "m2", "(0,inf)", "area inside the middle line of the wall"),
    REQ("s", "mm", "m", "(0,inf)", "length of that line"),
    REQ("t", "mm", "m", "(0,inf)", "wall"),
    REQ("L", "mm", "m", "(0,inf)", "length"),
    DEF("G", "GPa", "Pa", "(0,inf)", "79.3", "shear modulus"),
};
static const trn_symbol profile_torsion_out[] = {
    OUT("tau", "MPa", "Pa", "mean shear stress of the wall"),
    OUT("twist", "deg", "rad", "twist over the length"),
    OUT("k", "N.m/deg", "N.m/rad", "stiffness"),
};

static trn_status profile_torsion_call(const trn_value *in, trn_value *out)
{
    return trn_shaft_profile_torsion(in[0].x, in[1].x, in[2].x, in[3].x, in[4].x, in[5].x,
                                     &out[0].x, &out[1].x, &out[2].x);
}

/* ---- shaft.inertia --------------------------------------------------------------------------- */

static const trn_symbol inertia_in[] = {
    REQ("D", "mm", "m", "(0,inf)", "outside diameter"),
    REQ("d", "mm", "m", "[0,inf)", "inside diameter, below D (0: solid)"),
    REQ("L", "mm", "m", "(0,inf)", "length"),
    DEF("rho", "kg/m3", "kg/m3", "(0,inf)", "7850", "density"),
};
static const trn_symbol inertia_out[] = {
    OUT("m", "kg", "kg", "mass"),
    OUT("J", "kg.m2", "kg.m2", "inertia about the axis"),
};

static trn_status inertia_call(const trn_value *in, trn_value *out)
{
    return trn_shaft_inertia(in[0].x, in[1].x, in[2].x, in[3].x, &out[0].x, &out[1].x);
}

/* ---- shaft.fit ------------------------------------------------------------------------------- */

static const trn_symbol fit_in[] = {
    REQ("length_closed", "mm", "m", "(0,inf)", "joint to joint, fully telescoped"),
    REQ("overlap_closed", "mm", "m", "(0,inf)", "overlap of the tubes then"),
    REQ("length_min", "mm", "m", "(0,inf)", "shortest of all positions"),
    REQ("length_max", "mm", "m", "(0,inf)", "longest of the positions in which it turns"),
    DEF("clearance_needed", "mm", "m", "[0,inf)", "50", "clearance asked for"),
    OPT("overlap_needed", "mm", "m", "[0,inf)", "overlap asked for, left out: overlap_closed/3"),
};
static const trn_symbol fit_out[] = {
    OUT("clearance", "mm", "m", "left in the shortest position; 0 or below: bottoms"),
    OUT("overlap", "mm", "m", "in the longest position; 0 or below: parts"),
    OUTWORD("fits", fits_words, "both bounds are met"),
};

static trn_status fit_call(const trn_value *in, trn_value *out)
{
    bool fits = false;
    double overlap_needed = in[5].given ? in[5].x : in[1].x / 3;
    trn_status status = trn_shaft_fit(in[0].x, in[1].x, in[2].x, in[3].x, in[4].x, overlap_needed,
                                      &out[0].x, &out[1].x, &fits);
    out[2].x = fits ? 0 : 1;
    return status;
}

/* ---- shaft.telescoping_thrust ---------------------------------------------------------------- */

static const trn_symbol telescoping_thrust_in[] = {
    REQ("T", "N.m", "N.m", "[0,inf)", "torque"),
    REQ("mu", "1", "1", "[0,inf)", "friction of the flanks"),
    REQ("r_m", "mm", "m", "(0,inf)", "mean radius of the flanks that carry"),
};
static const trn_symbol telescoping_thrust_out[] = {
    OUT("F", "N", "N", "thrust"),
};

static trn_status telescoping_thrust_call(const trn_value *in, trn_value *out)
{
    return trn_shaft_telescoping_thrust(in[0].x, in[1].x, in[2].x, &out[0].x);
}

/* ---- shaft.input_torque ---------------------------------------------------------------------- */

static const trn_symbol input_torque_in[] = {
    REQ("T", "N.m", "N.m", "[0,inf)", "driven torque, steady"),
    REQ("J", "kg.m2", "kg.m2", "[0,inf)", "inertia of the tube"),
    REQ("n", "rpm", "rad/s", "[0,inf)", "speed of the driving shaft"),
    REQ("beta1", "deg", "rad", "[0,90)", "angle of the first joint (a magnitude)"),
    REQ("beta2", "deg", "rad", "[0,90)", "angle of the second joint (a magnitude)"),
    REQ("theta", "deg", "rad", NULL,
        "turn of the driving shaft, 0 = its yoke in the plane of both shafts"),
    DEF("epsilon", "deg", "rad", NULL, "0",
        "angle between the yokes of the tube minus the right one"),
};
static const trn_symbol input_torque_out[] = {
    OUT("T1", "N.m", "N.m", "torque at the driving end"),
};

static trn_status input_torque_call(const trn_value *in, trn_value *out)
{
    return trn_shaft_input_torque(in[0].x, in[1].x, in[2].x, in[3].x, in[4].x, in[6].x, in[5].x,
                                  &out[0].x);
}

/* ---- shaft.ripple ---------------------------------------------------------------------------- */

static const trn_symbol ripple_in[] = {
    REQ("T", "N.m", "N.m", "(0,inf)", "mean torque"),
    REQ("n", "rpm", "rad/s", "[0,inf)", "speed of the shaft"),
    REQ("beta_e", "deg", "rad", "[0,90)", "equivalent single joint"),
    REQ("k", "N.m/deg", "N.m/rad", "(0,inf)", "stiffness of tube, profile and axles in series"),
    REQ("J_driven", "kg.m2", "kg.m2", "(0,inf)", "inertia driven, at the shaft's speed"),
    DEF("J_driving", "kg.m2", "kg.m2", "(0,inf)", "1e6", "inertia driving, at the shaft's speed"),
    DEF("damping", "1", "1", "[0,inf)", "0.02", "damping ratio of the relative motion"),
};
static const trn_symbol ripple_out[] = {
    OUT("amplitude", "N.m", "N.m", "torque, spring and damper together"),
    OUT("share", "%", "1", "amplitude over mean torque"),
    OUT("r", "1", "1", "excitation over natural frequency"),
    OUT("n_resonance", "rpm", "rad/s", "shaft speed at resonance"),
};

static trn_status ripple_call(const trn_value *in, trn_value *out)
{
    trn_shaft_ripple ripple;
    trn_status status = trn_shaft_ripple_of(line_of(in), &ripple);
    if (status < 0)
        return status;
    out[0].x = ripple.amplitude_nm;
    out[1].x = ripple.share;
    out[2].x = ripple.frequency_ratio;
    out[3].x = ripple.omega_resonance_rad_s;
    return status;
}

/* ---- shaft.torque_wave ----------------------------------------------------------------------- */

static const trn_symbol torque_wave_in[] = {
    REQ("T", "N.m", "N.m", "(0,inf)", "mean torque"),
    REQ("n", "rpm", "rad/s", "[0,inf)", "speed of the shaft"),
    REQ("beta_e", "deg", "rad", "[0,90)", "equivalent single joint"),
    REQ("k", "N.m/deg", "N.m/rad", "(0,inf)", "stiffness of tube, profile and axles in series"),
    REQ("J_driven", "kg.m2", "kg.m2", "(0,inf)", "inertia driven, at the shaft's speed"),
    DEF("J_driving", "kg.m2", "kg.m2", "(0,inf)", "1e6", "inertia driving, at the shaft's speed"),
    DEF("damping", "1", "1", "[0,inf)", "0.02", "damping ratio of the relative motion"),
    REQ("theta", "deg", "rad", NULL,
        "turn of the driving shaft, 0 = its yoke in the plane of both shafts"),
    REQ("theta0", "deg", "rad", NULL, "turn at which the output is fastest"),
};
static const trn_symbol torque_wave_out[] = {
    OUT("T_s", "N.m", "N.m", "torque at that turn"),
};

static trn_status torque_wave_call(const trn_value *in, trn_value *out)
{
    return trn_shaft_torque_wave(line_of(in), in[7].x, in[8].x, &out[0].x);
}

/* ---- shaft.ripple_factor --------------------------------------------------------------------- */

static const trn_symbol ripple_factor_in[] = {
    REQ("rho", "1", "1", "[0,inf)", "amplitude over mean"),
    REQ("p", "1", "1", "[1,100]", "load-life exponent"),
};
static const trn_symbol ripple_factor_out[] = {
    OUT("K", "1", "1", "factor on the mean load"),
};

static trn_status ripple_factor_call(const trn_value *in, trn_value *out)
{
    return trn_shaft_ripple_factor(in[0].x, in[1].x, &out[0].x);
}

const trn_formula trn_formulas_shaft[] = {
    {
        .name = "shaft.torque",
        .what = "torque of a shaft from its power and speed",
        .equation = "T = P/omega",
        .validity = "P >= 0, n > 0",
        .source = "JointDerived",
        .standing = "derived",
        .example = "P=60kW n=540rpm",
        ENTRY(torque),
    },
    {
        .name = "shaft.critical_speed",
        .what = "speed at the first bending frequency of a tube on pinned ends",
        .equation = "n_c = (60/2pi) (pi/L)^2 sqrt(E/rho) sqrt(D^2 + d^2)/4",
        .validity =
            "D, L, E, rho > 0, 0 <= d < D; uniform tube, no shear or rotary inertia; "
            "telescoped tubes run lower; stay below 0.65 to 0.75 n_c (practice), the couples "
            "also excite at n_c/2",
        .source = "ShaftV1 (table 1); JointPractice",
        .standing = "published, margin practice",
        .example = "D=50mm d=42mm L=1000mm",
        ENTRY(critical_speed),
    },
    {
        .name = "shaft.torsion",
        .what = "torsion of a round tube: stress, twist, stiffness",
        .equation = "tau = 16 T D/(pi (D^4 - d^4)), k = G pi (D^4 - d^4)/(32 L), twist = T/k",
        .validity =
            "T >= 0, D, L, G > 0, 0 <= d < D; round, elastic; profiles: shaft.profile_torsion",
        .source = "ShaftP1 (ch. 6, 15)",
        .standing = "published",
        .example = "T=1061N.m D=50mm d=42mm L=1000mm",
        ENTRY(torsion),
    },
    {
        .name = "shaft.profile_torsion",
        .what = "torsion of a thin profile tube that is not round (Bredt)",
        .equation = "tau = T/(2 A t), k = 4 A^2 G t/(s L), twist = T/k",
        .validity =
            "T >= 0, the rest > 0; thin walls: a round 50/42 tube comes out 7 % low in tau; a "
            "measured stiffness goes before it",
        .source = "JointDerived",
        .standing = "derived",
        .example = "T=600N.m A=1500mm2 s=150mm t=4mm L=700mm",
        ENTRY(profile_torsion),
    },
    {
        .name = "shaft.inertia",
        .what = "mass and polar inertia of a tube",
        .equation = "m = rho pi (D^2 - d^2) L/4, J = m (D^2 + d^2)/8",
        .validity = "D, L, rho > 0, 0 <= d < D",
        .source = "JointDerived",
        .standing = "derived",
        .example = "D=50mm d=42mm L=1000mm",
        ENTRY(inertia),
    },
    {
        .name = "shaft.fit",
        .what = "clearance and overlap of a telescoping shaft over its positions",
        .equation =
            "clearance = length_min - length_closed\n"
            "overlap = overlap_closed - (length_max - length_closed)\n"
            "fits = yes where clearance >= clearance_needed and overlap >= overlap_needed",
        .validity =
            "lengths > 0, length_max >= length_min, overlap_closed <= length_closed, needed "
            "values >= 0; a bound just met (1e-6 mm) counts as met; overlap_needed left out: "
            "overlap_closed/3; remarks: bottoms, parts, overlap below 150 mm; the manual of "
            "the shaft goes first",
        .source = "JointDerived; JointPractice",
        .standing = "derived, bounds practice",
        .example = "length_closed=760mm overlap_closed=560mm length_min=815mm length_max=1000mm",
        ENTRY(fit),
    },
    {
        .name = "shaft.telescoping_thrust",
        .what = "thrust of the profile while the length changes under torque, either way",
        .equation = "F = mu T/r_m",
        .validity =
            "T, mu >= 0, r_m > 0; radial flanks; mu about 0.1 greased, 0.15 to 0.25 dry or "
            "dirty (practice)",
        .source = "JointDerived; JointPractice",
        .standing = "derived, values of mu practice",
        .example = "T=600N.m mu=0.1 r_m=20mm",
        ENTRY(telescoping_thrust),
    },
    {
        .name = "shaft.input_torque",
        .what = "torque at the driving end with the tube's inertia, driven torque steady",
        .equation =
            "T1 = T out + J alpha_tube tube     (tube, out: joint.turn; alpha_tube: "
            "joint.acceleration of beta1)",
        .validity = "T, J, n >= 0, 0 <= beta1, beta2 < 90 deg",
        .source = "JointDerived",
        .standing = "derived",
        .example = "T=600N.m J=0.02kg.m2 n=1000rpm beta1=25deg beta2=25deg theta=40deg",
        ENTRY(input_torque),
    },
    {
        .name = "shaft.ripple",
        .what = "torque ripple of a shaft between two inertias",
        .equation =
            "w = 2 omega, J_r = J1 J2/(J1 + J2), r = w/sqrt(k/J_r), kappa = tan^2(beta_e/2)\n"
            "amplitude = k kappa r^2 sqrt[(1 + (2 zeta r)^2)/((1 - r^2)^2 + (2 zeta r)^2)]\n"
            "share = 100 amplitude/T, n_resonance = (60/2pi) sqrt(k/J_r)/2",
        .validity =
            "T, k, J > 0, n, damping >= 0; refused: damping 0 at r = 1; remarks: share > 100 "
            "% (torque reverses), 0.8 < r < 1.25; linear, second harmonic only",
        .source = "ShaftD1; JointDerived",
        .standing = "derived, model published",
        .example = "T=400N.m n=540rpm beta_e=10deg k=130 J_driven=0.5",
        ENTRY(ripple),
    },
    {
        .name = "shaft.torque_wave",
        .what = "torque of the shaft at a turn of the driving shaft",
        .equation =
            "T_s = T - amplitude sin(2 (theta - theta0) + arg H)\n"
            "H = (1 + 2 i zeta r)/(1 - r^2 + 2 i zeta r)     (amplitude, r: shaft.ripple)",
        .validity = "as shaft.ripple; theta0 of joint.pair_phase",
        .source = "ShaftD1; JointDerived",
        .standing = "derived, model published",
        .example = "T=400N.m n=540rpm beta_e=10deg k=130 J_driven=0.5 theta=30deg theta0=0",
        ENTRY(torque_wave),
    },
    {
        .name = "shaft.ripple_factor",
        .what = "load factor of a ripple: p-mean of the load over a turn",
        .equation = "K = [mean over a turn of |1 + rho cos x|^p]^(1/p)",
        .validity =
            "rho >= 0 (above 1 the load reverses), 1 <= p <= 100; p = 3 ball, 10/3 roller "
            "bearings",
        .source = "JointDerived",
        .standing = "derived",
        .example = "rho=0.5 p=3.3333333333",
        ENTRY(ripple_factor),
    },
};
const size_t trn_formulas_shaft_count = TRN_COUNT(trn_formulas_shaft);

const trn_source trn_sources_shaft[] = {
    {"ShaftD1",
     "Crolla, Torsional vibration analysis of tractor and machine PTO drivelines, J. "
     "Agric. Engng Res. 23 (1978) 259-272, abstract",
     "published"},
    {"ShaftV1", "Irvine, Bending frequencies of beams, rods and pipes, table 1", "published"},
    {"ShaftP1",
     "Philpot, Mechanics of Materials, ch. 6 and 15, worked examples of the companion site",
     "published"},
};
const size_t trn_sources_shaft_count = TRN_COUNT(trn_sources_shaft);
