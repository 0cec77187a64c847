/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Power and speed down the tree, and the application factor. */
#include <math.h>

#include "catalogue.h"

static bool not_negative(double x)
{
    return x >= 0 && isfinite(x);
}

/* ---- power.speed -------------------------------------------------------------------------- */

static const trn_symbol speed_in[] = {
    REQ("n", "rpm", "rad/s", "[0,inf)", "speed of the driving gear"),
    REQ("z", "1", "1", "(0,inf)", "teeth of the driving gear"),
    REQ("z_mate", "1", "1", "(0,inf)", "teeth of the driven gear"),
};
static const trn_symbol speed_out[] = {
    OUT("n_mate", "rpm", "rad/s", "speed of the driven gear and its axle"),
};

static trn_status speed_call(const trn_value *in, trn_value *out)
{
    if (!not_negative(in[0].x) || !(in[1].x > 0) || !isfinite(in[1].x) || !(in[2].x > 0) ||
        !isfinite(in[2].x))
        return TRN_E_DOMAIN;
    out[0].x = in[0].x * in[1].x / in[2].x;
    return TRN_OK;
}

/* ---- power.share -------------------------------------------------------------------------- */

static const trn_symbol share_in[] = {
    REQ("P", "kW", "W", "[0,inf)", "power of the whole"),
    DEF("share", "%", "1", "[0,100]", "100", "share that passes here"),
};
static const trn_symbol share_out[] = {
    OUT("P_share", "kW", "W", "power that passes here"),
};

static trn_status share_call(const trn_value *in, trn_value *out)
{
    if (!not_negative(in[0].x) || !(in[1].x >= 0 && in[1].x <= 1 + 1e-9))
        return TRN_E_DOMAIN;
    out[0].x = in[0].x * in[1].x;
    return TRN_OK;
}

/* ---- power.shock -------------------------------------------------------------------------- */

static const trn_symbol shock_in[] = {
    REQ("T", "N.m", "N.m", "[0,inf)", "mean torque"),
    DEF("shock", "1", "1", "[1,inf)", "1", "application factor"),
};
static const trn_symbol shock_out[] = {
    OUT("T_shock", "N.m", "N.m", "torque that the bearings are reckoned with"),
};

static trn_status shock_call(const trn_value *in, trn_value *out)
{
    if (!not_negative(in[0].x) || !(in[1].x >= 1 - 1e-9) || !isfinite(in[1].x))
        return TRN_E_DOMAIN;
    out[0].x = in[0].x * in[1].x;
    return TRN_OK;
}

/* ---- table -------------------------------------------------------------------------------- */

const trn_formula trn_formulas_power[] = {
    {
        .name = "power.speed",
        .what = "speed behind a pair of gears",
        .equation = "n_mate = n z/z_mate",
        .validity = "n >= 0, z and z_mate > 0",
        .source = "POWER-RATIO",
        .standing = "derived",
        .example = "n=540rpm z=17 z_mate=23",
        ENTRY(speed),
    },
    {
        .name = "power.share",
        .what = "power that passes a shaft or a mesh",
        .equation = "P_share = P share/100",
        .validity = "P >= 0, share 0 to 100 %; losses do not lessen it",
        .source = "POWER-SHARE",
        .standing = "practice",
        .example = "P=47kW share=35%",
        ENTRY(share),
    },
    {
        .name = "power.shock",
        .what = "torque with the application factor",
        .equation = "T_shock = shock T",
        .validity = "T >= 0, shock >= 1; for bearing loads and tooth forces, not for losses",
        .source = "POWER-SHARE",
        .standing = "practice",
        .example = "T=389N.m shock=1.35",
        ENTRY(shock),
    },
};
const size_t trn_formulas_power_count = TRN_COUNT(trn_formulas_power);

const trn_source trn_sources_power[] = {
    {"POWER-RATIO", "teeth that pass the mesh in a time are the same for both gears", "derived"},
    {"POWER-SHARE", "how this program carries power and shocks down the machine", "practice"},
};
const size_t trn_sources_power_count = TRN_COUNT(trn_sources_power);
