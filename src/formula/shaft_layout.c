/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Layouts: length and angles of a shaft from dimensions. */
#include <trunnion/shaft.h>

#include "catalogue.h"

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

const trn_formula trn_formulas_shaft_layout[] = {
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
const size_t trn_formulas_shaft_layout_count = TRN_COUNT(trn_formulas_shaft_layout);

/* sources: shaft.c */
const trn_source trn_sources_shaft_layout[] = {{0}};
const size_t trn_sources_shaft_layout_count = 0;
