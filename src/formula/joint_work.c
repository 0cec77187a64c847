/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Angle at which a cross works, and ripple without a model. The sources stand in joint.c. */
#include <math.h>

#include "catalogue.h"

static const double right_angle = 3.14159265358979323846 / 2;

/* ---- joint.cross_angle -------------------------------------------------------------------- */

static const char *const arrangements[] = {"single", "wide_angle", NULL};

static const trn_symbol angle_in[] = {
    REQ("beta", "deg", "rad", "[0,90)", "angle of the joint"),
    WORD("arrangement", arrangements, "single",
         "wide_angle: two crosses in one joint, each takes half"),
    DEF("least", "deg", "rad", "[0,90)", "2", "angle that a life is reckoned with at least"),
};
static const trn_symbol angle_out[] = {
    OUT("works", "deg", "rad", "angle of one cross"),
    OUT("life", "deg", "rad", "angle for its life"),
};

static trn_status angle_call(const trn_value *in, trn_value *out)
{
    if (!(in[0].x >= 0 && in[0].x < right_angle) || !(in[2].x >= 0 && in[2].x < right_angle))
        return TRN_E_DOMAIN;
    out[0].x = in[1].x == 0 ? in[0].x : in[0].x / 2;
    out[1].x = fmax(out[0].x, in[2].x);
    return TRN_OK;
}

/* ---- shaft.steady_ripple ------------------------------------------------------------------ */

static const trn_symbol steady_in[] = {
    REQ("T", "N.m", "N.m", "[0,inf)", "mean torque"),
    REQ("U", "%", "1", "[0,inf)", "fluctuation of the equivalent joint"),
};
static const trn_symbol steady_out[] = {
    OUT("amplitude", "N.m", "N.m", "torque amplitude"),
    OUT("share", "%", "1", "amplitude over mean torque"),
};

static trn_status steady_call(const trn_value *in, trn_value *out)
{
    if (!(in[0].x >= 0) || !isfinite(in[0].x) || !(in[1].x >= 0) || !isfinite(in[1].x))
        return TRN_E_DOMAIN;
    out[1].x = in[1].x / 2;
    out[0].x = in[0].x * out[1].x;
    return TRN_OK;
}

/* ---- table -------------------------------------------------------------------------------- */

const trn_formula trn_formulas_joint_work[] = {
    {
        .name = "joint.cross_angle",
        .what = "angle at which one cross of a joint works",
        .equation = "works = beta; wide_angle: beta/2, either of its two crosses, which work alike\n"
                    "life = max(works, least)",
        .validity = "0 <= beta < 90 deg; below 2 deg false brinelling governs, not fatigue",
        .source = "JointDerived; JointPractice",
        .standing = "derived, least angle practice",
        .example = "beta=17deg arrangement=wide_angle",
        ENTRY(angle),
    },
    {
        .name = "shaft.steady_ripple",
        .what = "torque ripple where stiffness and inertia are not known",
        .equation = "amplitude = T U/200; share = U/2",
        .validity = "quasi-static: power constant over a turn, no resonance; T, U >= 0",
        .source = "JointDerived; JointPractice",
        .standing = "practice",
        .example = "T=389N.m U=2.4%",
        ENTRY(steady),
    },
};
const size_t trn_formulas_joint_work_count = TRN_COUNT(trn_formulas_joint_work);

const trn_source trn_sources_joint_work[] = {{0}};
const size_t trn_sources_joint_work_count = 0;
