/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Temperatures read at a gearbox, and conditions that alternate. */
#include <math.h>
#include <trunnion/heat_reading.h>

#include "catalogue.h"

#define AIR REQ("T_air", "degC", "K", "(-273.15,inf)", "temperature of the air")

/* ---- heat.oil_at_stop --------------------------------------------------------------------- */

static const trn_symbol stop_in[] = {
    REQ("T_read", "degC", "K", "(-273.15,inf)", "temperature as read"),
    DEF("rise", "K", "K", "[0,inf)", "0", "oil over the place of the reading (skin: 5 K)"),
    AIR,
    DEF("stopped", "min", "s", "[0,inf)", "0", "time from the stop to the reading"),
    OPT("tau", "min", "s", "(0,inf)", "time constant of the box; needed where it was stopped"),
};
static const trn_symbol stop_out[] = {OUT("T", "degC", "K", "oil when it stopped")};

static trn_status stop_call(const trn_value *in, trn_value *out)
{
    if (in[3].x > 0 && !in[4].given)
        return TRN_E_MISSING;
    return trn_heat_oil_at_stop(in[0].x, in[1].x, in[2].x, in[3].x, in[4].given ? in[4].x : NAN,
                                &out[0].x);
}

/* ---- heat.cooling_factor ------------------------------------------------------------------ */

#define BOUNDS                                                                          \
    DEF("low", "1", "1", "(0,inf)", "0.5", "below it the inputs do not agree"),         \
        DEF("high", "1", "1", "(0,inf)", "2", "above it the inputs do not agree")

static const trn_symbol factor_in[] = {
    REQ("loss", "W", "W", "[0,inf)", "power lost at T"),
    REQ("sun", "W", "W", "[0,inf)", "sun that reaches the oil"),
    REQ("k", "W/m2/K", "W/m2/K", "(0,inf)", "oil to air at T, as computed"),
    REQ("A", "m2", "m2", "(0,inf)", "outside surface, as entered"),
    REQ("T", "degC", "K", "(-273.15,inf)", "oil as read, at the stop"),
    AIR,
    BOUNDS,
};
static const trn_symbol factor_out[] = {OUT("c", "1", "1", "cooling factor, on k")};

static trn_status factor_call(const trn_value *in, trn_value *out)
{
    return trn_heat_cooling_factor(in[0].x, in[1].x, in[2].x, in[3].x, in[4].x, in[5].x, in[6].x,
                                   in[7].x, &out[0].x);
}

/* ---- heat.shared_factor ------------------------------------------------------------------- */

static const trn_symbol shared_factor_in[] = {
    REQ("heat", "W", "W", "(0,inf)", "sum of share (loss + sun) at T"),
    REQ("transfer", "W/K", "W/K", "(0,inf)", "sum of share k A at T"),
    REQ("T", "degC", "K", "(-273.15,inf)", "oil as read, at the stop"),
    AIR,
    BOUNDS,
};

static trn_status shared_factor_call(const trn_value *in, trn_value *out)
{
    return trn_heat_cooling_factor(in[0].x, 0, in[1].x, 1, in[2].x, in[3].x, in[4].x, in[5].x,
                                   &out[0].x);
}

/* ---- heat.cooling_mean -------------------------------------------------------------------- */

#define ONE(k) OPT("c" #k, "1", "1", "(0,inf)", "factor of reading " #k)

static const trn_symbol mean_in[] = {
    ONE(1), ONE(2),  ONE(3),  ONE(4),  ONE(5),  ONE(6),  ONE(7),  ONE(8),
    ONE(9), ONE(10), ONE(11), ONE(12), ONE(13), ONE(14), ONE(15), ONE(16),
};
static const trn_symbol mean_out[] = {OUT("c", "1", "1", "cooling factor of the box")};

static trn_status mean_call(const trn_value *in, trn_value *out)
{
    double sum = 0;
    size_t n = 0;
    for (size_t i = 0; i < TRN_COUNT(mean_in); i++)
        if (in[i].given) {
            if (!(in[i].x > 0) || !isfinite(in[i].x))
                return TRN_E_DOMAIN;
            sum += log(in[i].x);
            n++;
        }
    if (n == 0)
        return TRN_E_MISSING;
    out[0].x = exp(sum / (double)n);
    return TRN_OK;
}

/* ---- heat.read_transfer ------------------------------------------------------------------- */

static const trn_symbol transfer_in[] = {
    REQ("k", "W/m2/K", "W/m2/K", "(0,inf)", "oil to air, as computed"),
    REQ("c", "1", "1", "(0,inf)", "cooling factor of the box"),
};
static const trn_symbol transfer_out[] = {
    OUT("k_c", "W/m2/K", "W/m2/K", "oil to air that agrees with the readings"),
};

static trn_status transfer_call(const trn_value *in, trn_value *out)
{
    if (!(in[0].x > 0) || !(in[1].x > 0) || !isfinite(in[0].x * in[1].x))
        return TRN_E_DOMAIN;
    out[0].x = in[1].x * in[0].x;
    return TRN_OK;
}

/* ---- heat.add_share, heat.shared_temperature ---------------------------------------------- */

static const trn_symbol add_in[] = {
    OPT("heat_sum", "W", "W", "[0,inf)", "heat of the conditions before"),
    OPT("transfer_sum", "W/K", "W/K", "[0,inf)", "their heat transfer"),
    OPT("air_sum", "degC", "K", "(-273.15,inf)", "their mean air"),
    REQ("share", "%", "1", "(0,inf)", "share of the condition"),
    REQ("loss", "W", "W", "[0,inf)", "power lost in it at T"),
    REQ("sun", "W", "W", "[0,inf)", "sun that reaches the oil in it"),
    REQ("k", "W/m2/K", "W/m2/K", "(0,inf)", "oil to air in it"),
    REQ("A", "m2", "m2", "(0,inf)", "outside surface that gives off heat"),
    AIR,
};
static const trn_symbol add_out[] = {
    OUT("heat", "W", "W", "sum of share (loss + sun)"),
    OUT("transfer", "W/K", "W/K", "sum of share k A"),
    OUT("T_mean", "degC", "K", "air, weighted by share k A"),
};

static trn_status add_call(const trn_value *in, trn_value *out)
{
    if (in[0].given != in[1].given || in[0].given != in[2].given)
        return TRN_E_MISSING;
    trn_heat_shared sum = {0};
    if (in[0].given)
        sum = (trn_heat_shared){in[0].x, in[1].x, in[2].x};
    trn_status status =
        trn_heat_share_add(in[3].x, in[4].x, in[5].x, in[6].x, in[7].x, in[8].x, &sum);
    if (status >= 0) {
        out[0].x = sum.heat_w;
        out[1].x = sum.transfer_w_k;
        out[2].x = sum.T_air_k;
    }
    return status;
}

static const trn_symbol shared_in[] = {
    REQ("heat", "W", "W", "[0,inf)", "sum of share (loss + sun) at T"),
    REQ("transfer", "W/K", "W/K", "(0,inf)", "sum of share k A at T"),
    REQ("T_air", "degC", "K", "(-273.15,inf)", "air, weighted by share k A"),
};
static const trn_symbol shared_out[] = {OUT("T", "degC", "K", "the one oil temperature")};

static trn_status shared_call(const trn_value *in, trn_value *out)
{
    trn_heat_shared sum = {in[0].x, in[1].x, in[2].x};
    return trn_heat_shared_temperature(&sum, &out[0].x);
}

/* ---- table -------------------------------------------------------------------------------- */

#define shared_factor_out factor_out

const trn_formula trn_formulas_heat_reading[] = {
    {
        .name = "heat.oil_at_stop",
        .what = "oil when the machine stopped, from a later reading",
        .equation = "T = T_air + (T_read + rise - T_air) e^(stopped/tau)",
        .validity = "minutes after the stop; beyond a time constant it is extrapolated",
        .source = "heat-series; heat-skin",
        .standing = "derived; the rise of 5 K over the skin practice",
        .example = "T_read=61degC rise=5K T_air=23degC stopped=6min tau=47min",
        ENTRY(stop),
    },
    {
        .name = "heat.cooling_factor",
        .what = "factor on the heat transfer that makes the balance meet a reading",
        .equation = "c = (loss + sun)/(k A (T - T_air))",
        .validity = "loss, sun and k are those at T in the condition that was read, in the air of "
                    "the reading; outside 0.5 to 2 power, area, level or reading do not agree",
        .source = "heat-series",
        .standing = "derived; the bounds chosen",
        .example = "loss=279.577W sun=86.4W k=18W/m2/K A=0.27m2 T=80degC T_air=30degC",
        ENTRY(factor),
    },
    {
        .name = "heat.shared_factor",
        .what = "the same where conditions alternate",
        .equation = "c = heat/(transfer (T - T_air))",
        .validity = "as heat.cooling_factor; the air is that of the reading for all of them",
        .source = "heat-series",
        .standing = "derived; the bounds chosen",
        .example = "heat=231.4W transfer=5.37W/K T=71.3degC T_air=26.5degC",
        ENTRY(shared_factor),
    },
    {
        .name = "heat.cooling_mean",
        .what = "cooling factor of a gearbox from all of its readings",
        .equation = "c = (c1 c2 ... cn)^(1/n)",
        .validity = "each > 0",
        .source = "heat-series",
        .standing = "derived",
        .example = "c1=1.31 c2=1.17 c3=1.24",
        ENTRY(mean),
    },
    {
        .name = "heat.read_transfer",
        .what = "heat transfer that agrees with the readings",
        .equation = "k_c = c k",
        .validity = "all conditions of the box",
        .source = "heat-series",
        .standing = "derived",
        .example = "k=17.3W/m2/K c=1.23",
        ENTRY(transfer),
    },
    {
        .name = "heat.add_share",
        .what = "heat and heat transfer of conditions that alternate, one more added",
        .equation = "heat = heat_sum + share (loss + sun); transfer = transfer_sum + share k A\n"
                    "T_mean = (transfer_sum air_sum + share k A T_air)/transfer",
        .validity = "all at one oil temperature",
        .source = "heat-series",
        .standing = "derived",
        .example = "heat_sum=112W transfer_sum=2.9W/K air_sum=21degC share=35% loss=263W sun=34W "
                   "k=16.2W/m2/K A=0.44m2 T_air=27degC",
        ENTRY(add),
    },
    {
        .name = "heat.shared_temperature",
        .what = "the one oil temperature of conditions that alternate",
        .equation = "sum of share (loss + sun - k A (T - T_air)) = 0: T = T_air + heat/transfer",
        .validity = "losses and k are those at T: repeated, or by a root, until the T put in and "
                    "the T that comes out agree; the conditions follow each other much faster "
                    "than the time constant",
        .source = "heat-series",
        .standing = "derived",
        .example = "heat=231.4W transfer=5.37W/K T_air=24.2degC",
        ENTRY(shared),
    },
};
const size_t trn_formulas_heat_reading_count = TRN_COUNT(trn_formulas_heat_reading);

const trn_source trn_sources_heat_reading[] = {
    {"heat-skin", "oil about 5 K over the skin of the housing: practice, no source", "practice"},
};
const size_t trn_sources_heat_reading_count = TRN_COUNT(trn_sources_heat_reading);
