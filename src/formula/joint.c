/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <trunnion/joint.h>

#include "catalogue.h"

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

const trn_formula trn_formulas_joint[] = {
    {
        .name = "joint.ratio",
        .what = "speed ratio of one universal joint at a turn of the driving shaft",
        .equation = "ratio = cos beta/(1 - sin^2 beta cos^2 theta)",
        .validity = "0 <= beta < 90 deg, any theta",
        .source = "E1",
        .standing = "published",
        .example = "beta=15deg theta=30deg",
        ENTRY(ratio),
    },
};
const size_t trn_formulas_joint_count = TRN_COUNT(trn_formulas_joint);

const trn_source trn_sources_joint[] = {
    {"E1", "encyclopaedia article on the universal joint, equation of motion", "published"},
};
const size_t trn_sources_joint_count = TRN_COUNT(trn_sources_joint);
