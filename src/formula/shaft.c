/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <trunnion/shaft.h>

#include "catalogue.h"

static const char *const fits_words[] = {"yes", "no", NULL};

/* inputs of shaft.ripple and shaft.torque_wave, in the order of their tables */
static trn_shaft_line line_of(const trn_value *in)
{
    return (trn_shaft_line){in[0].x, in[1].x, in[2].x, in[3].x, in[4].x, in[5].x, in[6].x};
}

static trn_status give_layout(trn_status status, const trn_shaft_layout *layout, trn_value *out)
{
    if (status < 0)
        return status;
    out[0].x = layout->length_m;
    out[1].x = layout->beta1_rad;
    out[2].x = layout->beta2_rad;
    out[3].x = layout->beta_e_rad;
    return status;
}

static trn_status give_space(trn_status status, double length_m, const trn_joint_space *space,
                             trn_value *out)
{
    if (status < 0)
        return status;
    out[0].x = length_m;
    out[1].x = space->beta1_rad;
    out[2].x = space->beta2_rad;
    out[3].x = space->zeta_rad;
    out[4].x = space->beta_e_rad;
    return status;
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

/* ---- shaft.hitch ----------------------------------------------------------------------------- */

static const trn_symbol hitch_in[] = {
    REQ("x", "mm", "m", "(0,inf)", "joint 2 behind joint 1"),
    REQ("z", "mm", "m", NULL, "joint 2 above joint 1"),
    REQ("pitch", "deg", "rad", "(-90,90)", "of the driven axis, + up rearward"),
};
static const trn_symbol hitch_out[] = {
    OUT("L", "mm", "m", "length between the joint centres"),
    OUT("beta1", "deg", "rad", "signed slope of the tube against the axis, first joint"),
    OUT("beta2", "deg", "rad", "signed slope of the tube against the axis, second joint"),
    OUT("beta_e", "deg", "rad", "equivalent single joint, yokes in line"),
};

static trn_status hitch_call(const trn_value *in, trn_value *out)
{
    trn_shaft_layout layout;
    return give_layout(trn_shaft_hitch(in[0].x, in[1].x, in[2].x, &layout), &layout, out);
}

/* ---- shaft.drawbar --------------------------------------------------------------------------- */

static const trn_symbol drawbar_in[] = {
    REQ("x", "mm", "m", "(0,inf)", "hitch pin behind joint 1"),
    REQ("y", "mm", "m", "(0,inf)", "joint 2 behind the hitch pin"),
    REQ("psi", "deg", "rad", "(-180,180)", "turn of the machine against the tractor"),
};
static const trn_symbol drawbar_out[] = {
    OUT("L", "mm", "m", "length between the joint centres"),
    OUT("beta1", "deg", "rad", "signed share of the turn, first joint"),
    OUT("beta2", "deg", "rad", "signed share of the turn, second joint"),
    OUT("beta_e", "deg", "rad", "equivalent single joint, yokes in line"),
};

static trn_status drawbar_call(const trn_value *in, trn_value *out)
{
    trn_shaft_layout layout;
    return give_layout(trn_shaft_drawbar(in[0].x, in[1].x, in[2].x, &layout), &layout, out);
}

/* ---- shaft.wing ------------------------------------------------------------------------------ */

static const trn_symbol wing_in[] = {
    REQ("a", "mm", "m", "(0,inf)", "hinge outside joint 1"),
    REQ("h1", "mm", "m", NULL, "joint 1 above the hinge"),
    REQ("b", "mm", "m", "(0,inf)", "joint 2 outside the hinge, level"),
    REQ("h2", "mm", "m", NULL, "joint 2 above the hinge, level"),
    REQ("tau", "deg", "rad", "(-180,180)", "tilt of the wing, + up"),
};
static const trn_symbol wing_out[] = {
    OUT("L", "mm", "m", "length between the joint centres"),
    OUT("beta1", "deg", "rad", "signed share of the tilt, first joint"),
    OUT("beta2", "deg", "rad", "signed share of the tilt, second joint"),
    OUT("beta_e", "deg", "rad", "equivalent single joint, yokes in line"),
};

static trn_status wing_call(const trn_value *in, trn_value *out)
{
    trn_shaft_layout layout;
    return give_layout(
        trn_shaft_wing(in[0].x, in[1].x, in[2].x, in[3].x, in[4].x, &layout), &layout, out);
}

/* ---- shaft.linkage --------------------------------------------------------------------------- */

static const trn_symbol linkage_in[] = {
    REQ("lower_x", "mm", "m", NULL, "lower pivot"),
    REQ("lower_z", "mm", "m", NULL, "lower pivot, up"),
    REQ("lower_link", "mm", "m", "(0,inf)", "lower link, pivot to A"),
    REQ("upper_x", "mm", "m", NULL, "upper pivot"),
    REQ("upper_z", "mm", "m", NULL, "upper pivot, up"),
    REQ("upper_link", "mm", "m", "(0,inf)", "top link"),
    REQ("mast", "mm", "m", "(0,inf)", "A to the mast top"),
    REQ("joint_x", "mm", "m", NULL, "joint 1"),
    REQ("joint_z", "mm", "m", NULL, "joint 1, up"),
    REQ("input_d", "mm", "m", NULL, "joint 2 behind A, level machine"),
    REQ("input_e", "mm", "m", NULL, "joint 2 above A, level machine"),
    REQ("link_angle", "deg", "rad", NULL, "lower links against the level, + up"),
};
static const trn_symbol linkage_out[] = {
    OUT("L", "mm", "m", "length between the joint centres"),
    OUT("pitch", "deg", "rad", "of the driven axis, + up rearward"),
    OUT("beta1", "deg", "rad", "signed slope of the tube against the axis, first joint"),
    OUT("beta2", "deg", "rad", "signed slope of the tube against the axis, second joint"),
    OUT("beta_e", "deg", "rad", "equivalent single joint, yokes in line"),
};

static trn_status linkage_call(const trn_value *in, trn_value *out)
{
    const trn_shaft_four_bar linkage = {
        .lower_x_m = in[0].x,
        .lower_z_m = in[1].x,
        .lower_link_m = in[2].x,
        .upper_x_m = in[3].x,
        .upper_z_m = in[4].x,
        .upper_link_m = in[5].x,
        .mast_m = in[6].x,
        .joint_x_m = in[7].x,
        .joint_z_m = in[8].x,
        .input_d_m = in[9].x,
        .input_e_m = in[10].x,
        .link_angle_rad = in[11].x,
    };
    trn_shaft_layout layout;
    trn_status status = trn_shaft_linkage(linkage, &out[1].x, &layout);
    if (status < 0)
        return status;
    out[0].x = layout.length_m;
    out[2].x = layout.beta1_rad;
    out[3].x = layout.beta2_rad;
    out[4].x = layout.beta_e_rad;
    return status;
}

/* ---- shaft.hitch_space ----------------------------------------------------------------------- */

static const trn_symbol hitch_space_in[] = {
    REQ("x", "mm", "m", NULL, "hitch point A behind joint 1"),
    REQ("y", "mm", "m", NULL, "A to the left along the power flow"),
    REQ("z", "mm", "m", NULL, "A above joint 1"),
    REQ("d", "mm", "m", NULL, "joint 2 behind A, level machine"),
    REQ("e", "mm", "m", NULL, "joint 2 above A, level machine"),
    DEF("yaw", "deg", "rad", "(-180,180)", "0",
        "turn of the machine, + to the left along the power flow"),
    DEF("pitch", "deg", "rad", "(-90,90)", "0", "of the machine, + up rearward"),
    DEF("roll", "deg", "rad", "(-180,180)", "0", "of the machine, right-handed about x"),
    DEF("offset", "deg", "rad", NULL, "0",
        "angle of the tube's second yoke from its first, right-handed"),
};
static const trn_symbol hitch_space_out[] = {
    OUT("L", "mm", "m", "length between the joint centres"),
    OUT("beta1", "deg", "rad", "bend of the first joint"),
    OUT("beta2", "deg", "rad", "bend of the second joint"),
    OUT("zeta", "deg", "rad", "plane of joint 1 to plane of joint 2, in (-90, 90]"),
    OUT("beta_e", "deg", "rad", "equivalent single joint"),
};

static trn_status hitch_space_call(const trn_value *in, trn_value *out)
{
    const double point[3] = {in[0].x, in[1].x, in[2].x};
    trn_joint_space space;
    double length = 0;
    trn_status status =
        trn_shaft_hitch_space(point, in[3].x, in[4].x, in[5].x, in[6].x, in[7].x, in[8].x, &length,
                              &space);
    return give_space(status, length, &space, out);
}

/* ---- shaft.drawbar_space --------------------------------------------------------------------- */

static const trn_symbol drawbar_space_in[] = {
    REQ("x", "mm", "m", "(0,inf)", "hitch pin behind joint 1"),
    REQ("d1", "mm", "m", NULL, "joint 1 above the pin"),
    REQ("y", "mm", "m", "(0,inf)", "joint 2 behind the pin"),
    REQ("d2", "mm", "m", NULL, "joint 2 above the pin, level machine"),
    DEF("yaw", "deg", "rad", "(-180,180)", "0",
        "turn of the machine, + to the left along the power flow"),
    DEF("pitch", "deg", "rad", "(-90,90)", "0", "of the machine, + up rearward"),
    DEF("roll", "deg", "rad", "(-180,180)", "0", "of the machine, right-handed about x"),
    DEF("offset", "deg", "rad", NULL, "0",
        "angle of the tube's second yoke from its first, right-handed"),
};
static const trn_symbol drawbar_space_out[] = {
    OUT("L", "mm", "m", "length between the joint centres"),
    OUT("beta1", "deg", "rad", "bend of the first joint"),
    OUT("beta2", "deg", "rad", "bend of the second joint"),
    OUT("zeta", "deg", "rad", "plane of joint 1 to plane of joint 2, in (-90, 90]"),
    OUT("beta_e", "deg", "rad", "equivalent single joint"),
};

static trn_status drawbar_space_call(const trn_value *in, trn_value *out)
{
    trn_joint_space space;
    double length = 0;
    trn_status status =
        trn_shaft_drawbar_space(in[0].x, in[1].x, in[2].x, in[3].x, in[4].x, in[5].x, in[6].x,
                                in[7].x, &length, &space);
    return give_space(status, length, &space, out);
}

/* ---- shaft.wing_space ------------------------------------------------------------------------ */

static const trn_symbol wing_space_in[] = {
    REQ("a", "mm", "m", "(0,inf)", "hinge outside joint 1"),
    REQ("c1", "mm", "m", NULL, "joint 1 along the hinge"),
    REQ("h1", "mm", "m", NULL, "joint 1 above the hinge"),
    REQ("b", "mm", "m", "(0,inf)", "joint 2 outside the hinge, level"),
    REQ("c2", "mm", "m", NULL, "joint 2 along the hinge"),
    REQ("h2", "mm", "m", NULL, "joint 2 above the hinge, level"),
    REQ("tau", "deg", "rad", "(-180,180)", "tilt of the wing, + up"),
    DEF("offset", "deg", "rad", NULL, "0",
        "angle of the tube's second yoke from its first, right-handed"),
};
static const trn_symbol wing_space_out[] = {
    OUT("L", "mm", "m", "length between the joint centres"),
    OUT("beta1", "deg", "rad", "bend of the first joint"),
    OUT("beta2", "deg", "rad", "bend of the second joint"),
    OUT("zeta", "deg", "rad", "plane of joint 1 to plane of joint 2, in (-90, 90]"),
    OUT("beta_e", "deg", "rad", "equivalent single joint"),
};

static trn_status wing_space_call(const trn_value *in, trn_value *out)
{
    trn_joint_space space;
    double length = 0;
    trn_status status =
        trn_shaft_wing_space(in[0].x, in[1].x, in[2].x, in[3].x, in[4].x, in[5].x, in[6].x,
                             in[7].x, &length, &space);
    return give_space(status, length, &space, out);
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
    {
        .name = "shaft.hitch",
        .what = "length and angles of a shaft to a machine on the three-point hitch",
        .equation = "L = hypot(x, z), beta1 = atan2(z, x), beta2 = beta1 - pitch",
        .validity =
            "x > 0, |pitch| < 90 deg, both joints below 90 deg; equal signs: Z, opposite: W; "
            "beta_e with the yokes in line",
        .source = "JointDerived",
        .standing = "derived",
        .example = "x=760mm z=400mm pitch=8deg",
        ENTRY(hitch),
    },
    {
        .name = "shaft.drawbar",
        .what = "length and angles of a shaft to a drawn machine in a turn",
        .equation =
            "beta1 = atan2(y sin psi, x + y cos psi), beta2 = psi - beta1\n"
            "L = sqrt(x^2 + y^2 + 2 x y cos psi)",
        .validity =
            "x, y > 0, |psi| < 180 deg, both joints below 90 deg; always W; psi/2 each only "
            "where x = y",
        .source = "JointDerived",
        .standing = "derived",
        .example = "x=356mm y=600mm psi=40deg",
        ENTRY(drawbar),
    },
    {
        .name = "shaft.wing",
        .what = "length and angles of a shaft to a folding wing",
        .equation =
            "X = a + b cos tau - h2 sin tau, Z = b sin tau + h2 cos tau - h1\n"
            "L = hypot(X, Z), beta1 = atan2(Z, X), beta2 = tau - beta1",
        .validity =
            "a, b > 0, |tau| < 180 deg, both joints below 90 deg; same sign: W, opposite: Z",
        .source = "JointDerived",
        .standing = "derived",
        .example = "a=400mm h1=200mm b=400mm h2=100mm tau=-20deg",
        ENTRY(wing),
    },
    {
        .name = "shaft.linkage",
        .what = "pitch of a machine on its four-bar hitch, and the shaft between",
        .equation =
            "A = lower pivot + lower_link (cos q, sin q)\n"
            "B = upper intersection of the circles (A, mast), (upper pivot, upper_link)\n"
            "pitch = atan2(-(B_x - A_x), B_z - A_z)\n"
            "joint 2 = A + (d cos p - e sin p, d sin p + e cos p); then shaft.hitch",
        .validity =
            "links and mast > 0; refused where the links do not close, joint 2 is not behind "
            "joint 1 or a joint reaches 90 deg; x rearward, z up",
        .source = "JointDerived",
        .standing = "derived",
        .example =
            "lower_x=-400mm lower_z=500mm lower_link=950mm upper_x=-250mm upper_z=930mm "
            "upper_link=792.197mm mast=610mm joint_x=0mm joint_z=600mm input_d=300mm "
            "input_e=150mm link_angle=10deg",
        ENTRY(linkage),
    },
    {
        .name = "shaft.hitch_space",
        .what = "hitch layout with yaw, pitch and roll at once",
        .equation =
            "p2 = (x, y, z) + R (d, 0, e), R = Rz(yaw) Ry(-pitch) Rx(roll)\n"
            "L = |p2|, axes (1,0,0), p2, R (1,0,0) into joint.pair_space",
        .validity =
            "joint 1 at the origin; |yaw|, |roll| < 180 deg, |pitch| < 90 deg; both joints "
            "below 90 deg",
        .source = "JointDerived",
        .standing = "derived",
        .example = "x=540mm y=30mm z=-100mm d=300mm e=150mm yaw=6deg pitch=5deg roll=3deg",
        ENTRY(hitch_space),
    },
    {
        .name = "shaft.drawbar_space",
        .what = "drawbar layout with yaw, pitch and roll at once",
        .equation =
            "p2 = (x, 0, -d1) + R (y, 0, d2), R = Rz(yaw) Ry(-pitch) Rx(roll)\n"
            "L = |p2|, axes (1,0,0), p2, R (1,0,0) into joint.pair_space",
        .validity =
            "x, y > 0; joint 1 at the origin; |yaw|, |roll| < 180 deg, |pitch| < 90 deg; both "
            "joints below 90 deg",
        .source = "JointDerived",
        .standing = "derived",
        .example = "x=406mm d1=250mm y=700mm d2=230mm yaw=35deg pitch=6deg roll=4deg",
        ENTRY(drawbar_space),
    },
    {
        .name = "shaft.wing_space",
        .what = "wing layout with joints apart along the hinge",
        .equation =
            "x outward, y along the hinge: p1 = (-a, c1, h1), p2 = Ry(-tau) (b, c2, h2)\n"
            "L = |p2 - p1|, axes (1,0,0), p2 - p1, Ry(-tau) (1,0,0) into joint.pair_space",
        .validity = "a, b > 0, |tau| < 180 deg; both joints below 90 deg",
        .source = "JointDerived",
        .standing = "derived",
        .example = "a=400mm c1=0mm h1=150mm b=400mm c2=60mm h2=150mm tau=22deg",
        ENTRY(wing_space),
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
