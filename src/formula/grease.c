/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <trunnion/grease.h>

#include "catalogue.h"

static const trn_symbol interval_in[] = {
    WORD("kind", trn_grease_bearings, NULL, "kind of bearing"),
    REQ("n", "rpm", "rad/s", "(0,inf)", "speed"),
    REQ("d", "mm", "m", "(0,inf)", "bore"),
};
static const trn_symbol interval_out[] = {OUT("t_f", "h", "s", "relubrication interval")};

static trn_status interval_call(const trn_value *in, trn_value *out)
{
    if (!(in[0].x >= 0 && in[0].x < TRN_GREASE_BEARINGS))
        return TRN_E_DOMAIN;
    return trn_grease_interval((trn_grease_bearing)(int)in[0].x, in[1].x, in[2].x, &out[0].x);
}

static const trn_symbol quantity_in[] = {
    REQ("D", "mm", "m", "(0,inf)", "outside diameter"),
    REQ("B", "mm", "m", "(0,inf)", "width"),
};
static const trn_symbol quantity_out[] = {OUT("G", "g", "kg", "grease of one relubrication")};

static trn_status quantity_call(const trn_value *in, trn_value *out)
{
    return trn_grease_quantity(in[0].x, in[1].x, &out[0].x);
}

static const trn_symbol life_in[] = {
    REQ("T", "degC", "K", "(-273,inf)", "temperature of the bearing"),
    REQ("n", "rpm", "rad/s", "(0,inf)", "speed"),
    REQ("D", "mm", "m", "(0,inf)", "bore"),
    REQ("n_d_limit", "mm/min", "m/s", "(0,inf)", "limit of the grease: turns a minute times bore"),
    REQ("W", "N", "N", "[0,inf)", "radial load"),
    REQ("C", "N", "N", "(0,inf)", "dynamic rating"),
    DEF("S_G", "1", "1", NULL, "0", "loss by kind of grease: 0 good modern, more for old soaps"),
};
static const trn_symbol life_out[] = {OUT("L50", "h", "s", "median life of the grease")};

static trn_status life_call(const trn_value *in, trn_value *out)
{
    trn_grease_duty duty = {
        .t_k = in[0].x,
        .n_rads = in[1].x,
        .bore_m = in[2].x,
        .nd_limit_mps = in[3].x,
        .radial_n = in[4].x,
        .rating_n = in[5].x,
        .kind_loss = in[6].x,
    };
    return trn_grease_life(duty, &out[0].x);
}

static const trn_symbol heat_factor_in[] = {
    REQ("T", "degC", "K", "(-273.15,inf)", "temperature of the bearing"),
};
static const trn_symbol heat_factor_out[] = {OUT("f", "1", "1", "factor on the interval")};

static trn_status heat_factor_call(const trn_value *in, trn_value *out)
{
    return trn_grease_heat_factor(in[0].x, &out[0].x);
}

const trn_formula trn_formulas_grease[] = {
    {
        .name = "grease.interval",
        .what = "relubrication interval of a rolling bearing",
        .equation = "t_f = k (14e6/(n sqrt d) - 4 d)   h, n in rev/min, d in mm\n"
                    "k = 10 ball, 5 cylindrical and needle, 1 spherical and tapered",
        .validity = "up to 70 degC, clean, P/C up to 0.1, horizontal shaft, turning inner ring; "
                    "not for the bearings of a cross; remark above 30000 h; refused: a result not "
                    "above 0",
        .source = "GREASE-NEALE (section A20)",
        .standing = "published",
        .example = "kind=tapered n=540rpm d=40mm",
        ENTRY(interval),
    },
    {
        .name = "grease.quantity",
        .what = "grease of one relubrication of a rolling bearing",
        .equation = "G = 0.005 D B   g, mm",
        .validity = "relubrication; a first filling takes 30 to 50 % of the free space",
        .source = "GREASE-NEALE (section A20)",
        .standing = "published",
        .example = "D=80mm B=21mm",
        ENTRY(quantity),
    },
    {
        .name = "grease.life",
        .what = "median life of the grease in a ball bearing",
        .equation = "log10 L50 = -2.60 + 2450/(273 + T) - 0.301 (S_G + S_N + S_W)   h, T in degC\n"
                    "S_N = 0.86 n D/n_d_limit, S_W = 0.61 n D W/C^2   rev/min, mm, lbf",
        .validity = "ball bearings, 70 degC to the limit of the grease, n D up to n_d_limit; "
                    "remarks outside; L10 is about half",
        .source = "GREASE-BOOSER",
        .standing = "memory",
        .example = "T=85degC n=1000rpm D=35mm n_d_limit=300000mm/min W=1200N C=25500N",
        ENTRY(life),
    },
    {
        .name = "grease.heat_factor",
        .what = "factor of a hot bearing on its relubrication interval",
        .equation = "f = 2^(-(T - 70)/15) above 70 degC, 1 at and below",
        .validity = "up to the limit of the grease; no credit below 70 degC is a choice",
        .source = "GREASE-TABLES",
        .standing = "published above 70 degC, practice below",
        .example = "T=85degC",
        ENTRY(heat_factor),
    },
};
const size_t trn_formulas_grease_count = TRN_COUNT(trn_formulas_grease);

const trn_source trn_sources_grease[] = {
    {"GREASE-NEALE", "Neale (ed.), Tribology Handbook, section A20: relubrication of rolling "
                     "bearings",
     "published"},
    {"GREASE-BOOSER", "Booser 1974, grease life forecast for ball bearings; Khonsari and Booser, "
                      "Applied Tribology (nomenclature seen, constants recalled)", "memory"},
    {"GREASE-TABLES", "relubrication tables of rolling-bearing practice: interval halved each 15 "
                      "K above 70 degC", "published"},
};
const size_t trn_sources_grease_count = TRN_COUNT(trn_sources_grease);
