/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Dynamic viscosity, and mean dust of an oil between changes. The sources stand in oil.c. */
#include <math.h>

#include "catalogue.h"

static bool positive(double x)
{
    return x > 0 && isfinite(x);
}

/* ---- oil.dynamic_viscosity ---------------------------------------------------------------- */

static const trn_symbol dynamic_in[] = {
    REQ("nu", "mm2/s", "m2/s", "(0,inf)", "kinematic viscosity"),
    REQ("rho", "kg/m3", "kg/m3", "(0,inf)", "density at the same temperature"),
};
static const trn_symbol dynamic_out[] = {
    OUT("eta", "mPa.s", "Pa.s", "dynamic viscosity"),
};

static trn_status dynamic_call(const trn_value *in, trn_value *out)
{
    if (!positive(in[0].x) || !positive(in[1].x))
        return TRN_E_DOMAIN;
    out[0].x = in[0].x * in[1].x;
    return TRN_OK;
}

/* ---- oil.mean_dust ------------------------------------------------------------------------ */

static const trn_symbol dust_in[] = {
    REQ("s", "mg/h", "kg/s", "[0,inf)", "dust that comes into the oil"),
    REQ("T_m", "h", "s", "(0,inf)", "change interval"),
    REQ("V_oil", "L", "m3", "(0,inf)", "oil"),
    DEF("residual", "%", "1", "[0,100)", "10", "old oil left at a change"),
};
static const trn_symbol dust_out[] = {
    OUT("dust", "mg/L", "kg/m3", "mean content over an interval in the steady cycle"),
};

static trn_status dust_call(const trn_value *in, trn_value *out)
{
    double kept = in[3].x;
    if (!(in[0].x >= 0) || !isfinite(in[0].x) || !positive(in[1].x) || !positive(in[2].x) ||
        !(kept >= 0 && kept < 1))
        return TRN_E_DOMAIN;
    out[0].x = in[0].x * in[1].x / in[2].x * (kept / (1 - kept) + 0.5);
    return TRN_OK;
}

/* ---- table -------------------------------------------------------------------------------- */

const trn_formula trn_formulas_oil_work[] = {
    {
        .name = "oil.dynamic_viscosity",
        .what = "dynamic viscosity of an oil",
        .equation = "eta = nu rho/1000",
        .validity = "nu, rho > 0",
        .source = "OIL-BALANCE",
        .standing = "derived",
        .example = "nu=38mm2/s rho=862kg/m3",
        ENTRY(dynamic),
    },
    {
        .name = "oil.mean_dust",
        .what = "mean dust content of an oil between changes",
        .equation = "dust = s T_m/V_oil [rho/(1 - rho) + 1/2], rho = residual/100",
        .validity = "s >= 0, T_m, V_oil > 0, 0 <= residual < 100 %; steady cycle, nothing settles",
        .source = "OIL-BALANCE",
        .standing = "derived",
        .example = "s=0.6mg/h T_m=500h V_oil=2.1L residual=12%",
        ENTRY(dust),
    },
};
const size_t trn_formulas_oil_work_count = TRN_COUNT(trn_formulas_oil_work);

const trn_source trn_sources_oil_work[] = {{0}};
const size_t trn_sources_oil_work_count = 0;
