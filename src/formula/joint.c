/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <trunnion/joint.h>

#include "catalogue.h"

static const char *const views_words[] = {"projected", "successive", NULL};

/* ---- joint.ratio ----------------------------------------------------------------------------- */

static const trn_symbol ratio_in[] = {
    REQ("beta", "deg", "rad", "[0,90)", "angle between the two shafts"),
    REQ("theta", "deg", "rad", NULL,
        "turn of the driving shaft, 0 = its yoke in the plane of both shafts"),
};
static const trn_symbol ratio_out[] = {
    OUT("ratio", "1", "1", "driven over driving speed"),
};

static trn_status ratio_call(const trn_value *in, trn_value *out)
{
    return trn_joint_ratio(in[0].x, in[1].x, &out[0].x);
}

/* ---- joint.output_angle ---------------------------------------------------------------------- */

static const trn_symbol output_angle_in[] = {
    REQ("beta", "deg", "rad", "[0,90)", "angle between the two shafts"),
    REQ("theta", "deg", "rad", NULL,
        "turn of the driving shaft, 0 = its yoke in the plane of both shafts"),
};
static const trn_symbol output_angle_out[] = {
    OUT("phi", "deg", "rad", "turn of the driven shaft, 360 at theta = 360"),
};

static trn_status output_angle_call(const trn_value *in, trn_value *out)
{
    return trn_joint_output_angle(in[0].x, in[1].x, &out[0].x);
}

/* ---- joint.acceleration ---------------------------------------------------------------------- */

static const trn_symbol acceleration_in[] = {
    REQ("beta", "deg", "rad", "[0,90)", "angle between the two shafts"),
    REQ("theta", "deg", "rad", NULL,
        "turn of the driving shaft, 0 = its yoke in the plane of both shafts"),
    REQ("n", "rpm", "rad/s", "[0,inf)", "speed of the driving shaft"),
};
static const trn_symbol acceleration_out[] = {
    OUT("alpha", "rad/s2", "rad/s2", "negative while the driven shaft slows"),
};

static trn_status acceleration_call(const trn_value *in, trn_value *out)
{
    return trn_joint_acceleration(in[0].x, in[1].x, in[2].x, &out[0].x);
}

/* ---- joint.fluctuation ----------------------------------------------------------------------- */

static const trn_symbol fluctuation_in[] = {
    REQ("beta", "deg", "rad", "[0,90)", "angle between the two shafts"),
    DEF("n", "rpm", "rad/s", "[0,inf)", "1", "speed of the driving shaft"),
};
static const trn_symbol fluctuation_out[] = {
    OUT("ratio_max", "1", "1", "largest speed ratio"),
    OUT("ratio_min", "1", "1", "least speed ratio"),
    OUT("U", "%", "1", "(max - min)/mean of the speed"),
    OUT("angle_error", "deg", "rad", "largest lead of the driven shaft"),
    OUT("n_max", "rpm", "rad/s", "largest driven speed"),
    OUT("n_min", "rpm", "rad/s", "least driven speed"),
};

static trn_status fluctuation_call(const trn_value *in, trn_value *out)
{
    trn_joint_swing swing;
    trn_status status = trn_joint_fluctuation(in[0].x, in[1].x, &swing);
    if (status < 0)
        return status;
    out[0].x = swing.ratio_max;
    out[1].x = swing.ratio_min;
    out[2].x = swing.fluctuation;
    out[3].x = swing.angle_error_rad;
    out[4].x = swing.omega_max_rad_s;
    out[5].x = swing.omega_min_rad_s;
    return status;
}

/* ---- joint.peak_acceleration ----------------------------------------------------------------- */

static const trn_symbol peak_acceleration_in[] = {
    REQ("beta", "deg", "rad", "[0,90)", "angle between the two shafts"),
    REQ("n", "rpm", "rad/s", "[0,inf)", "speed of the driving shaft"),
};
static const trn_symbol peak_acceleration_out[] = {
    OUT("alpha", "rad/s2", "rad/s2", "largest magnitude"),
    OUT("theta", "deg", "rad", "turn at which the driven shaft slows most, in (0, 45]"),
};

static trn_status peak_acceleration_call(const trn_value *in, trn_value *out)
{
    return trn_joint_peak_acceleration(in[0].x, in[1].x, &out[0].x, &out[1].x);
}

/* ---- joint.angle_for_fluctuation ------------------------------------------------------------- */

static const trn_symbol angle_for_fluctuation_in[] = {
    REQ("U", "%", "1", "[0,inf)", "(max - min)/mean of the speed"),
};
static const trn_symbol angle_for_fluctuation_out[] = {
    OUT("beta", "deg", "rad", "angle between the two shafts"),
};

static trn_status angle_for_fluctuation_call(const trn_value *in, trn_value *out)
{
    return trn_joint_angle_for_fluctuation(in[0].x, &out[0].x);
}

/* ---- joint.angle_for_acceleration ------------------------------------------------------------ */

static const trn_symbol angle_for_acceleration_in[] = {
    REQ("n", "rpm", "rad/s", "(0,inf)", "speed of the driving shaft"),
    REQ("alpha", "rad/s2", "rad/s2", "[0,inf)", "largest acceleration of the driven shaft"),
};
static const trn_symbol angle_for_acceleration_out[] = {
    OUT("beta", "deg", "rad", "angle between the two shafts"),
};

static trn_status angle_for_acceleration_call(const trn_value *in, trn_value *out)
{
    return trn_joint_angle_for_acceleration(in[0].x, in[1].x, &out[0].x);
}

/* ---- joint.compound_angle -------------------------------------------------------------------- */

static const trn_symbol compound_angle_in[] = {
    REQ("h", "deg", "rad", "(-90,90)", "angle in plan"),
    REQ("v", "deg", "rad", "(-90,90)", "angle in side view"),
    WORD("views", views_words, "projected", "how the two were read"),
};
static const trn_symbol compound_angle_out[] = {
    OUT("beta", "deg", "rad", "angle between the two shafts"),
};

static trn_status compound_angle_call(const trn_value *in, trn_value *out)
{
    return trn_joint_compound_angle(in[0].x, in[1].x,
                                    in[2].x > 0 ? TRN_JOINT_VIEWS_SUCCESSIVE
                                                : TRN_JOINT_VIEWS_PROJECTED,
                                    &out[0].x);
}

/* ---- joint.pair ------------------------------------------------------------------------------ */

static const trn_symbol pair_in[] = {
    REQ("beta1", "deg", "rad", "[0,90)", "angle of the first joint (a magnitude)"),
    REQ("beta2", "deg", "rad", "[0,90)", "angle of the second joint (a magnitude)"),
    DEF("epsilon", "deg", "rad", NULL, "0",
        "angle between the yokes of the tube minus the right one"),
};
static const trn_symbol pair_out[] = {
    OUT("beta_e", "deg", "rad", "equivalent single joint"),
    OUT("U", "%", "1", "(max - min)/mean of the output speed"),
};

static trn_status pair_call(const trn_value *in, trn_value *out)
{
    return trn_joint_pair(in[0].x, in[1].x, in[2].x, &out[0].x, &out[1].x);
}

/* ---- joint.pair_phase ------------------------------------------------------------------------ */

static const trn_symbol pair_phase_in[] = {
    REQ("beta1", "deg", "rad", "[0,90)", "angle of the first joint (a magnitude)"),
    REQ("beta2", "deg", "rad", "[0,90)", "angle of the second joint (a magnitude)"),
    DEF("epsilon", "deg", "rad", NULL, "0",
        "angle between the yokes of the tube minus the right one"),
};
static const trn_symbol pair_phase_out[] = {
    OUT("theta0", "deg", "rad", "turn of the driving shaft, in [0, 180)"),
};

static trn_status pair_phase_call(const trn_value *in, trn_value *out)
{
    return trn_joint_pair_phase(in[0].x, in[1].x, in[2].x, &out[0].x);
}

/* ---- joint.turn ------------------------------------------------------------------------------ */

static const trn_symbol turn_in[] = {
    REQ("beta1", "deg", "rad", "[0,90)", "angle of the first joint (a magnitude)"),
    REQ("beta2", "deg", "rad", "[0,90)", "angle of the second joint (a magnitude)"),
    REQ("theta", "deg", "rad", NULL,
        "turn of the driving shaft, 0 = its yoke in the plane of both shafts"),
    DEF("epsilon", "deg", "rad", NULL, "0",
        "angle between the yokes of the tube minus the right one"),
};
static const trn_symbol turn_out[] = {
    OUT("tube", "1", "1", "speed of the tube over that of the driving shaft"),
    OUT("out", "1", "1", "speed of the output over that of the driving shaft"),
};

static trn_status turn_call(const trn_value *in, trn_value *out)
{
    return trn_joint_turn(in[0].x, in[1].x, in[3].x, in[2].x, &out[0].x, &out[1].x);
}

/* ---- joint.pair_space ------------------------------------------------------------------------ */

static const trn_symbol pair_space_in[] = {
    REQ("h1", "deg", "rad", "(-90,90)", "driving axis in plan, + to the left along the power flow"),
    REQ("v1", "deg", "rad", "(-90,90)", "driving axis in side view, + up"),
    REQ("h2", "deg", "rad", "(-90,90)", "tube in plan, + to the left along the power flow"),
    REQ("v2", "deg", "rad", "(-90,90)", "tube in side view, + up"),
    REQ("h3", "deg", "rad", "(-90,90)", "driven axis in plan, + to the left along the power flow"),
    REQ("v3", "deg", "rad", "(-90,90)", "driven axis in side view, + up"),
    DEF("offset", "deg", "rad", NULL, "0",
        "angle of the tube's second yoke from its first, right-handed"),
};
static const trn_symbol pair_space_out[] = {
    OUT("beta1", "deg", "rad", "bend of the first joint"),
    OUT("beta2", "deg", "rad", "bend of the second joint"),
    OUT("zeta", "deg", "rad", "plane of joint 1 to plane of joint 2, in (-90, 90]"),
    OUT("beta_e", "deg", "rad", "equivalent single joint"),
};

static trn_status pair_space_call(const trn_value *in, trn_value *out)
{
    trn_joint_space space;
    trn_status status = trn_joint_pair_space(in[0].x, in[1].x, in[2].x, in[3].x, in[4].x, in[5].x,
                                             in[6].x, &space);
    if (status < 0)
        return status;
    out[0].x = space.beta1_rad;
    out[1].x = space.beta2_rad;
    out[2].x = space.zeta_rad;
    out[3].x = space.beta_e_rad;
    return status;
}

const trn_formula trn_formulas_joint[] = {
    {
        .name = "joint.ratio",
        .what = "speed ratio of one universal joint at a turn of the driving shaft",
        .equation = "ratio = cos beta/(1 - sin^2 beta cos^2 theta)",
        .validity = "0 <= beta < 90 deg, any theta; rigid shafts that meet in one point",
        .source = "JointE1",
        .standing = "published",
        .example = "beta=15deg theta=30deg",
        ENTRY(ratio),
    },
    {
        .name = "joint.output_angle",
        .what = "turn of the driven shaft, continuous over many turns",
        .equation =
            "phi = theta + atan2(kappa sin 2 theta, 1 - kappa cos 2 theta)\n"
            "kappa = tan^2(beta/2)     (tan phi = tan theta/cos beta on its right branch)",
        .validity = "0 <= beta < 90 deg, any theta",
        .source = "JointE1",
        .standing = "published, continuous form derived",
        .example = "beta=30deg theta=40.1deg",
        ENTRY(output_angle),
    },
    {
        .name = "joint.acceleration",
        .what = "acceleration of the driven shaft at a turn of the driving shaft",
        .equation =
            "alpha = -omega^2 cos beta sin^2 beta sin 2 theta/(1 - sin^2 beta cos^2 theta)^2",
        .validity = "0 <= beta < 90 deg, n >= 0, steady driving speed",
        .source = "JointE1; JointDerived",
        .standing = "derived",
        .example = "beta=22.6deg theta=33.3deg n=540rpm",
        ENTRY(acceleration),
    },
    {
        .name = "joint.fluctuation",
        .what = "extremes of ratio, angle error and speed of one joint over a turn",
        .equation =
            "ratio_max = 1/cos beta, ratio_min = cos beta\n"
            "U = 1/cos beta - cos beta = sin beta tan beta\n"
            "angle_error = arcsin tan^2(beta/2), n_max = n/cos beta, n_min = n cos beta",
        .validity = "0 <= beta < 90 deg; U is peak to peak, the swing is not symmetric",
        .source = "JointE3; JointDerived",
        .standing = "extremes published, angle error derived",
        .example = "beta=20deg n=500rpm",
        ENTRY(fluctuation),
    },
    {
        .name = "joint.peak_acceleration",
        .what = "largest acceleration of the driven shaft over a turn, and where it stands",
        .equation =
            "s = sin^2 beta, A = 1 - s/2, cos 2 theta = 2 s/(A + sqrt(A^2 + 2 s^2))\n"
            "alpha = omega^2 cos beta s sin 2 theta/(1 - s cos^2 theta)^2",
        .validity =
            "0 <= beta < 90 deg, n >= 0; exact, not the small-angle form; it speeds up most "
            "at 180 deg - theta",
        .source = "JointT1; JointDerived",
        .standing = "derived",
        .example = "beta=20deg n=540rpm",
        ENTRY(peak_acceleration),
    },
    {
        .name = "joint.angle_for_fluctuation",
        .what = "joint angle that gives a stated unevenness",
        .equation =
            "u = U/100, cos beta = (sqrt(u^2 + 4) - u)/2, beta = atan2(sqrt(u cos beta), cos "
            "beta)",
        .validity = "U >= 0",
        .source = "JointDerived",
        .standing = "derived",
        .example = "U=12",
        ENTRY(angle_for_fluctuation),
    },
    {
        .name = "joint.angle_for_acceleration",
        .what = "joint angle that gives a stated peak acceleration",
        .equation = "root of omega^2 F(beta) = alpha, F of joint.peak_acceleration",
        .validity = "n > 0, alpha >= 0; exact, not the small-angle form",
        .source = "JointDerived; JointE4 (accelerations allowed)",
        .standing = "derived",
        .example = "n=540rpm alpha=400",
        ENTRY(angle_for_acceleration),
    },
    {
        .name = "joint.compound_angle",
        .what = "angle of a joint from the angles seen in two views",
        .equation =
            "projected: beta = atan(hypot(tan h, tan v))\n"
            "successive: cos beta = cos h cos v",
        .validity =
            "|h|, |v| < 90 deg; projected: both read in their view against the other axis; "
            "successive: turned by h, then tilted by v",
        .source = "JointDerived",
        .standing = "derived",
        .example = "h=30deg v=20deg",
        ENTRY(compound_angle),
    },
    {
        .name = "joint.pair",
        .what = "the one joint that two joints in series are equal to, exactly",
        .equation =
            "c = cos beta\n"
            "tan^4(beta_e/2) = [sin^2 eps (1 - c1 c2)^2 + cos^2 eps (c1 - c2)^2]\n"
            "/ [sin^2 eps (1 + c1 c2)^2 + cos^2 eps (c1 + c2)^2]\n"
            "U = sin beta_e tan beta_e",
        .validity =
            "0 <= beta1, beta2 < 90 deg, any epsilon; Z and W alike; in space use "
            "joint.pair_space",
        .source = "JointF1; JointE2 (equal angles); JointDerived",
        .standing = "derived, roles of angles and phase published",
        .example = "beta1=20deg beta2=10deg epsilon=15deg",
        ENTRY(pair),
    },
    {
        .name = "joint.pair_phase",
        .what = "turn of the driving shaft at which the output of two joints is fastest",
        .equation =
            "p - q = cos^2 eps (sin^2 beta1 - sin^2 beta2) + sin^2 eps (1 - c1^2 c2^2)\n"
            "m = -c1 sin^2 beta2 sin eps cos eps\n"
            "theta0 = atan2(-2 m, p - q)/2",
        .validity =
            "0 <= beta1, beta2 < 90 deg; epsilon signed: offset - zeta of joint.pair_space; 0 "
            "where the output is steady",
        .source = "JointDerived",
        .standing = "derived",
        .example = "beta1=20deg beta2=10deg epsilon=15deg",
        ENTRY(pair_phase),
    },
    {
        .name = "joint.turn",
        .what = "speeds of tube and output of two joints at a turn of the driving shaft",
        .equation =
            "tube = r(beta1, theta), theta2 = 90 deg + phi(beta1, theta) + epsilon\n"
            "out = tube r(beta2, theta2)     (r, phi: joint.ratio, joint.output_angle)",
        .validity = "0 <= beta1, beta2 < 90 deg; epsilon signed: offset - zeta of joint.pair_space",
        .source = "JointE1; JointDerived",
        .standing = "derived",
        .example = "beta1=20deg beta2=10deg theta=33deg epsilon=15deg",
        ENTRY(turn),
    },
    {
        .name = "joint.pair_space",
        .what = "two joints in space from the slopes of the three axes",
        .equation =
            "a = (1, tan h, tan v)/norm, n12 = a1 x a2, n23 = a2 x a3\n"
            "beta = atan2(|a x b|, a.b), zeta = atan2((n12 x n23).a2, n12.n23) modulo 180 "
            "deg\n"
            "beta_e of joint.pair with epsilon = offset - zeta",
        .validity =
            "slopes between -90 and 90 deg, all against one level frame; refused where a "
            "joint is bent by 90 deg or more; a straight joint: zeta 0, beta_e the other "
            "angle; offset = zeta is the best there is",
        .source = "JointDerived",
        .standing = "derived",
        .example = "h1=0 v1=0 h2=10deg v2=12deg h3=10deg v3=-5deg offset=15deg",
        ENTRY(pair_space),
    },
};
const size_t trn_formulas_joint_count = TRN_COUNT(trn_formulas_joint);

const trn_source trn_sources_joint[] = {
    {"JointE1", "encyclopaedia article on the universal joint, equation of motion", "published"},
    {"JointE2", "engineering services examination 2013, condition of equal speeds", "published"},
    {"JointE3",
     "public question page on a Cardan joint at 30 deg: ratios 1/cos 30 and cos 30 deg",
     "published"},
    {"JointE4",
     "public engineering page on vehicle driveline angles that refers to SAE AE-7 clause "
     "3.1.1: table of allowable angles",
     "published"},
    {"JointF1",
     "Fischer and Paul, Kinematic displacement analysis of a double-Cardan-joint "
     "driveline, ASME J. Mech. Design (1991, year from memory), abstract",
     "published"},
    {"JointT1",
     "Khurmi and Gupta, Theory of Machines, examples on Hooke's joint; edition to be "
     "confirmed",
     "memory"},
    {"JointT2",
     "Seherr-Thoss, Schmelz and Aucktor, Universal Joints and Driveshafts, 2nd ed. 2006, "
     "section 4.7; life from the rocking travel",
     "memory"},
    {"JointISO281",
     "ISO 281, Rolling bearings, dynamic load ratings and rating life: roller exponent "
     "10/3",
     "published"},
    {"JointR1",
     "Rumbarger and Jones, Dynamic capacity of oscillating rolling element bearings, ASME "
     "J. Lubr. Technol. 90(1) 1968 p. 130, abstract",
     "published"},
    {"JointR2",
     "Menck and Stammler, Wind Energ. Sci. 9 (2024) 777: review of oscillating bearings",
     "published"},
    {"JointR3",
     "Houpert and Menck, J. Tribol. 144(7) 2022 071601, abstract: oscillating bearings "
     "with a load zone",
     "published"},
    {"JointR4",
     "Asonja and Desnica, Span. J. Agric. Res., abstract: field study of farm double-joint "
     "shafts",
     "published"},
    {"JointDerived",
     "derived here from geometry, statics or dynamics; compared with chains of vectors or "
     "numerical solutions in the tests",
     "derived"},
    {"JointPractice", "common practice of the trade, no source", "practice"},
};
const size_t trn_sources_joint_count = TRN_COUNT(trn_sources_joint);
