/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sums of losses, and the balance of a gearbox solved for what is asked. */
#include <math.h>

#include "catalogue.h"

static bool positive(double x)
{
    return x > 0 && isfinite(x);
}

static bool not_negative(double x)
{
    return x >= 0 && isfinite(x);
}

/* ---- loss.sum ----------------------------------------------------------------------------- */

#define PART(k) OPT("loss" #k, "W", "W", "[0,inf)", "loss " #k)

static const trn_symbol sum_in[] = {
    PART(1), PART(2),  PART(3),  PART(4),  PART(5),  PART(6),  PART(7),  PART(8),
    PART(9), PART(10), PART(11), PART(12), PART(13), PART(14), PART(15), PART(16),
};
static const trn_symbol sum_out[] = {
    OUT("loss", "W", "W", "their sum"),
};

static trn_status sum_call(const trn_value *in, trn_value *out)
{
    double sum = 0;
    size_t n = 0;
    for (size_t i = 0; i < TRN_COUNT(sum_in); i++)
        if (in[i].given) {
            if (!not_negative(in[i].x))
                return TRN_E_DOMAIN;
            sum += in[i].x;
            n++;
        }
    if (n == 0)
        return TRN_E_MISSING;
    out[0].x = sum;
    return TRN_OK;
}

/* ---- heat.temperature --------------------------------------------------------------------- */

static const trn_symbol temperature_in[] = {
    REQ("loss", "W", "W", "[0,inf)", "power lost at T"),
    REQ("sun", "W", "W", "[0,inf)", "sun that reaches the oil"),
    REQ("k", "W/m2/K", "W/m2/K", "(0,inf)", "oil to air at T"),
    REQ("A", "m2", "m2", "(0,inf)", "outside surface that gives off heat"),
    REQ("T_air", "degC", "K", "(-273.15,inf)", "temperature of the air"),
};
static const trn_symbol temperature_out[] = {
    OUT("T", "degC", "K", "oil temperature"),
};

static trn_status temperature_call(const trn_value *in, trn_value *out)
{
    if (!not_negative(in[0].x) || !not_negative(in[1].x) || !positive(in[2].x) ||
        !positive(in[3].x) || !positive(in[4].x))
        return TRN_E_DOMAIN;
    out[0].x = in[4].x + (in[0].x + in[1].x) / (in[2].x * in[3].x);
    return TRN_OK;
}

/* ---- heat.time_constant ------------------------------------------------------------------- */

static const trn_symbol time_in[] = {
    REQ("m", "kg", "kg", "(0,inf)", "mass of the box without oil"),
    DEF("c", "J/kg/K", "J/kg/K", "(0,inf)", "500", "heat capacity of its steel and iron"),
    REQ("V_oil", "L", "m3", "(0,inf)", "oil"),
    REQ("rho15", "kg/m3", "kg/m3", "(0,inf)", "density of the oil at 15 degC"),
    REQ("cp", "J/kg/K", "J/kg/K", "(0,inf)", "heat capacity of the oil at 60 degC"),
    REQ("slope", "W/K", "W/K", "(0,inf)",
        "heat given off less losses, per kelvin at the balance (0.02 K apart)"),
};
static const trn_symbol time_out[] = {
    OUT("C", "kJ/K", "J/K", "heat capacity of the whole"),
    OUT("tau", "min", "s", "time constant"),
};

static trn_status time_call(const trn_value *in, trn_value *out)
{
    for (size_t i = 0; i < TRN_COUNT(time_in); i++)
        if (!positive(in[i].x))
            return TRN_E_DOMAIN;
    out[0].x = in[0].x * in[1].x + in[3].x * in[2].x * in[4].x;
    out[1].x = out[0].x / in[5].x;
    return TRN_OK;
}

/* ---- table -------------------------------------------------------------------------------- */

const trn_formula trn_formulas_heat_work[] = {
    {
        .name = "loss.sum",
        .what = "sum of losses of one kind",
        .equation = "loss = loss1 + loss2 + ...",
        .validity = "each >= 0",
        .source = "heat-series",
        .standing = "derived",
        .example = "loss1=34W loss2=51W loss3=12W",
        ENTRY(sum),
    },
    {
        .name = "heat.temperature",
        .what = "oil temperature at which a box gives off what it takes in",
        .equation = "T = T_air + (loss + sun)/(k A)",
        .validity = "losses and k are those at T: repeated, or by a root, until the T put in and "
                    "the T that comes out agree",
        .source = "heat-series",
        .standing = "derived",
        .example = "loss=410W sun=55W k=16.4W/m2/K A=0.62m2 T_air=24degC",
        ENTRY(temperature),
    },
    {
        .name = "heat.time_constant",
        .what = "time constant of a gearbox about its balance",
        .equation = "C = m c + rho15 V_oil cp; tau = C/slope",
        .validity = "all > 0; small changes about the balance, since losses change with T too",
        .source = "heat-series",
        .standing = "derived",
        .example = "m=33kg c=500J/kg/K V_oil=2.1L rho15=895kg/m3 cp=1990J/kg/K slope=7.3W/K",
        ENTRY(time),
    },
};
const size_t trn_formulas_heat_work_count = TRN_COUNT(trn_formulas_heat_work);

const trn_source trn_sources_heat_work[] = {{0}};
const size_t trn_sources_heat_work_count = 0;
