/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Steps of the interval study that no subject of its own covers. */
#include <math.h>
#include <trunnion/interval.h>

#include "catalogue.h"

static const trn_symbol add_rate_in[] = {
    DEF("sum", "1", "1", "[0,inf)", "0", "conditions added so far"),
    REQ("share", "%", "1", "[0,100]", "share of the hours"),
    REQ("rate", "1", "1", "[0,inf)", "rate in the condition"),
};
static const trn_symbol add_rate_out[] = {OUT("total", "1", "1", "with this condition")};

static trn_status add_rate_call(const trn_value *in, trn_value *out)
{
    out[0].x = in[0].x + in[1].x * in[2].x;
    return TRN_OK;
}

static const trn_symbol add_life_in[] = {
    DEF("sum", "1/h", "1/s", "[0,inf)", "0", "conditions added so far"),
    REQ("share", "%", "1", "[0,100]", "share of the hours"),
    REQ("L", "h", "s", "(0,inf)", "life in the condition"),
};
static const trn_symbol add_life_out[] = {OUT("total", "1/h", "1/s", "with this condition")};

static trn_status add_life_call(const trn_value *in, trn_value *out)
{
    if (!(in[2].x > 0))
        return TRN_E_DOMAIN;
    out[0].x = in[0].x + in[1].x / in[2].x;
    return TRN_OK;
}

static const trn_symbol ageing_in[] = {
    REQ("rate", "1/h", "1/s", "(0,inf)", "sum of share/L over the duty"),
    OPT("t1", "h", "s", "[0,inf)", "hours until the oil is damp; left out: never"),
    OPT("t2", "h", "s", "[0,inf)", "hours until the oil is wet; left out: never"),
    DEF("F_damp", "1", "1", "[1,inf)", "2", "ageing of damp oil"),
    DEF("F_wet", "1", "1", "[1,inf)", "5", "ageing of wet oil"),
};
static const trn_symbol ageing_out[] = {
    OUT("Lbar", "h", "s", "life of the dry oil over the duty"),
    OUT("T", "h", "s", "interval"),
};

static trn_status ageing_call(const trn_value *in, trn_value *out)
{
    out[0].x = 1 / in[0].x;
    return trn_interval_ageing(out[0].x, in[1].given ? in[1].x : INFINITY,
                               in[2].given ? in[2].x : INFINITY, in[3].x, in[4].x, &out[1].x);
}

static const trn_symbol drying_in[] = {
    REQ("T", "degC", "K", "[-273.15,inf)", "oil temperature"),
    DEF("k_full", "1/h", "1/s", "[0,inf)", "0.02", "drying of hot oil"),
    DEF("T_dry", "degC", "K", "[-273.15,inf)", "60", "it begins above this"),
    DEF("T_full", "degC", "K", "[-273.15,inf)", "80", "it is full from this"),
};
static const trn_symbol drying_out[] = {OUT("k", "1/h", "1/s", "removal of water")};

static trn_status drying_call(const trn_value *in, trn_value *out)
{
    return trn_interval_drying(in[0].x, in[1].x, in[2].x, in[3].x, &out[0].x);
}

static const trn_symbol add_water_in[] = {
    DEF("s_sum", "mg/h", "kg/s", "[0,inf)", "0", "water of the conditions so far"),
    DEF("k_sum", "1/h", "1/s", "[0,inf)", "0", "drying of the conditions so far"),
    REQ("share", "%", "1", "[0,100]", "share of the hours"),
    REQ("k", "1/h", "1/s", "[0,inf)", "drying in the condition"),
    DEF("starts", "1", "1", "[0,inf)", "0", "cool-downs in 100 h"),
    DEF("breath", "mg", "kg", "[0,inf)", "0", "water of one cool-down"),
    DEF("washes", "1", "1", "[0,inf)", "0", "washes in 100 h"),
    DEF("wash_water", "mL", "m3", "[0,inf)", "0.2", "water of one wash"),
};
static const trn_symbol add_water_out[] = {
    OUT("s", "mg/h", "kg/s", "water with this condition"),
    OUT("drying", "1/h", "1/s", "drying with this condition"),
};

static trn_status add_water_call(const trn_value *in, trn_value *out)
{
    static const double hundred_hours = 100 * 3600.0;
    static const double water = 1000; /* kg/m3 */
    out[0].x = in[0].x + in[2].x * (in[4].x * in[5].x + in[6].x * in[7].x * water) / hundred_hours;
    out[1].x = in[1].x + in[2].x * in[3].x;
    return TRN_OK;
}

static const trn_symbol add_dust_in[] = {
    DEF("s_sum", "mg/h", "kg/s", "[0,inf)", "0", "dust of the conditions so far"),
    REQ("share", "%", "1", "[0,100]", "share of the hours"),
    REQ("Q", "L/h", "m3/s", "[0,inf)", "outside air that passes the seals"),
    REQ("C", "mg/m3", "kg/m3", "[0,inf)", "dust in the condition"),
};
static const trn_symbol add_dust_out[] = {OUT("s", "mg/h", "kg/s", "with this condition")};

static trn_status add_dust_call(const trn_value *in, trn_value *out)
{
    out[0].x = in[0].x + in[1].x * in[2].x * in[3].x;
    return TRN_OK;
}

static const trn_symbol time_to_in[] = {
    REQ("level", "ppm", "1", "[0,inf)", "content asked for"),
    REQ("C_0", "ppm", "1", "[0,inf)", "content at the start"),
    REQ("m", "kg", "kg", "(0,inf)", "oil"),
    REQ("s", "mg/h", "kg/s", "[0,inf)", "what comes in"),
    DEF("k", "1/h", "1/s", "[0,inf)", "0", "removal"),
    DEF("C_eq", "ppm", "1", "[0,inf)", "0", "content that removal alone would lead to"),
};
static const trn_symbol time_to_out[] = {OUT("t", "h", "s", "hours until then, inf if never")};

static trn_status time_to_call(const trn_value *in, trn_value *out)
{
    return trn_interval_time_to(in[0].x, in[1].x, in[2].x, in[3].x, in[4].x, in[5].x, &out[0].x);
}

static const trn_symbol additive_rate_in[] = {
    REQ("lambda", "1", "1", "[0,inf)", "power over rated power"),
    REQ("T", "degC", "K", "(-273.15,inf)", "oil temperature"),
    DEF("T_ref", "degC", "K", "(-273.15,inf)", "70", "temperature of the reference"),
    DEF("step", "K", "K", "(0,inf)", "10", "rise that doubles the rate"),
};
static const trn_symbol additive_rate_out[] = {OUT("r", "1", "1", "rate against the reference")};

static trn_status additive_rate_call(const trn_value *in, trn_value *out)
{
    return trn_interval_additive_rate(in[0].x, in[1].x, in[2].x, in[3].x, &out[0].x);
}

static const trn_symbol grease_ratio_in[] = {
    REQ("f", "1", "1", "(0,1]", "product of factors in the condition"),
    REQ("f_ref", "1", "1", "(0,1]", "product of factors at the reference"),
};
static const trn_symbol grease_ratio_out[] = {
    OUT("ratio", "1", "1", "part of the interval that is left"),
    OUT("rate", "1", "1", "its inverse"),
};

static trn_status grease_ratio_call(const trn_value *in, trn_value *out)
{
    trn_status status = trn_interval_grease_ratio(in[0].x, in[1].x, &out[0].x);
    out[1].x = 1 / out[0].x;
    return status;
}

static const trn_symbol anchored_in[] = {
    REQ("T_m", "h", "s", "(0,inf)", "the manual's interval"),
    REQ("rate", "1", "1", "[0,inf)", "mean rate over the duty against the reference"),
    DEF("margin", "1", "1", "(0,inf)", "1", "spare of the manual's interval"),
};
static const trn_symbol anchored_out[] = {OUT("T", "h", "s", "interval")};

static trn_status anchored_call(const trn_value *in, trn_value *out)
{
    return trn_interval_anchored(in[0].x, in[1].x, in[2].x, &out[0].x);
}

#define SUM(NAME, WHAT, EQUATION, EXAMPLE, ID)                                              \
    {                                                                                       \
        .name = NAME, .what = WHAT, .equation = EQUATION,                                   \
        .validity = "shares of the hour-meter hours", .source = "IntervalBalance",          \
        .standing = "derived", .example = EXAMPLE, ENTRY(ID)                                \
    }

const trn_formula trn_formulas_mechanism[] = {
    SUM("interval.add_rate", "one condition more in a mean rate over the duty",
        "total = sum + share rate", "sum=1.272 share=40% rate=1", add_rate),
    SUM("interval.add_life", "one condition more in a mean life over the duty",
        "total = sum + share/L", "share=60% L=1704.8h", add_life),
    SUM("interval.add_water", "one condition more in the water that comes into an oil and dries",
        "s = s_sum + share (starts breath + washes wash_water 1000 mg/mL)/100 h\n"
        "drying = k_sum + share k",
        "share=40% k=0.015 starts=12 breath=3.846mg washes=1 wash_water=0.2mL", add_water),
    SUM("interval.add_dust", "one condition more in the dust that comes into an oil",
        "s = s_sum + share Q C", "share=60% Q=9L/h C=45mg/m3", add_dust),
    {
        .name = "interval.ageing",
        .what = "interval of ageing with water as a catalyst",
        .equation = "Lbar = 1/rate\n"
                    "integral_0^T F dt = Lbar; F = 1 up to t1, F_damp up to t2, F_wet after",
        .validity = "water up to 400 ppm; an anchor from drain tables holds its margin already",
        .source = "IntervalChoice; CatalystBench (hours to a high acid number)",
        .standing = "chosen, far below the bench factors (memory)",
        .example = "rate=4.16e-4 t1=900h t2=1400h",
        ENTRY(ageing),
    },
    {
        .name = "interval.drying",
        .what = "removal of water from warm oil",
        .equation = "k = 0 up to T_dry, k_full from T_full, straight between",
        .validity = "vented gearbox",
        .source = "IntervalChoice",
        .standing = "chosen",
        .example = "T=75degC",
        ENTRY(drying),
    },
    {
        .name = "interval.time_to",
        .what = "hours until a stirred sump gets from one content up to another",
        .equation = "dC/dt = s/m - k (C - C_eq)",
        .validity = "0 where it starts there, inf where it never gets there",
        .source = "IntervalBalance",
        .standing = "derived",
        .example = "level=200ppm C_0=130ppm m=2.225kg s=7.3mg/h k=0.018 C_eq=100ppm",
        ENTRY(time_to),
    },
    {
        .name = "interval.additive_rate",
        .what = "rate at which friction and heat use additives up, against full power at T_ref",
        .equation = "r = lambda 2^((T - T_ref)/step)",
        .validity = "50 to 110 degC, outside with a remark",
        .source = "TenKelvinRule; IntervalChoice",
        .standing = "form chosen, 10 K practice",
        .example = "lambda=0.7333 T=90degC",
        ENTRY(additive_rate),
    },
    {
        .name = "interval.grease_ratio",
        .what = "part of a greasing interval that a condition leaves",
        .equation = "ratio = min(1, f/f_ref)\nrate = 1/ratio",
        .validity = "never longer than the manual's interval",
        .source = "IntervalChoice",
        .standing = "chosen",
        .example = "f=0.27067 f_ref=0.9",
        ENTRY(grease_ratio),
    },
    {
        .name = "interval.anchored",
        .what = "interval of a mechanism for which the manual's holds at the reference",
        .equation = "T = margin T_m/rate",
        .validity = "the manual's interval taken as right at its reference condition",
        .source = "IntervalChoice",
        .standing = "chosen",
        .example = "T_m=500h rate=1.672",
        ENTRY(anchored),
    },
};
const size_t trn_formulas_mechanism_count = TRN_COUNT(trn_formulas_mechanism);

const trn_source trn_sources_mechanism[] = {
    {"CatalystBench",
     "Weinschelbaum, bench hours of oil with water and metal: dry above 3500, iron 400, copper 100",
     "memory"},
    {"TenKelvinRule", "doubling per 10 K; gear-unit manual B halves the drain per 10 K",
     "practice"},
};
const size_t trn_sources_mechanism_count = TRN_COUNT(trn_sources_mechanism);
