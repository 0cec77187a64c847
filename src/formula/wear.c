/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <trunnion/film.h>

#include "catalogue.h"

static const trn_symbol film_in[] = {
    REQ("eta", "Pa.s", "Pa.s", "(0,inf)", "dynamic viscosity of the bulk oil"),
    REQ("u", "m/s", "m/s", "(0,inf)", "mean of both surface speeds relative to the contact"),
    REQ("alpha", "1/GPa", "1/Pa", "(0,inf)", "pressure coefficient of viscosity"),
    REQ("E_red", "GPa", "Pa", "(0,inf)", "2/[(1 - v1^2)/E1 + (1 - v2^2)/E2]"),
    REQ("Rx", "mm", "m", "(0,inf)", "reduced radius along the rolling direction"),
    REQ("Ry", "mm", "m", "(0,inf)", "reduced radius across it; very large for a line contact"),
    REQ("F", "N", "N", "(0,inf)", "load of the contact"),
};
static const trn_symbol film_out[] = {OUT("h_min", "um", "m", "smallest film thickness")};

static trn_status film_call(const trn_value *in, trn_value *out)
{
    trn_film_contact contact = {
        .eta_pas = in[0].x,
        .u_mps = in[1].x,
        .alpha_per_pa = in[2].x,
        .e_red_pa = in[3].x,
        .rx_m = in[4].x,
        .ry_m = in[5].x,
        .load_n = in[6].x,
    };
    return trn_film_thickness(contact, &out[0].x);
}

static const trn_symbol lambda_in[] = {
    REQ("h", "um", "m", "[0,inf)", "film thickness"),
    REQ("Rq1", "um", "m", "[0,inf)", "root-mean-square roughness of one surface"),
    REQ("Rq2", "um", "m", "[0,inf)", "root-mean-square roughness of the other"),
};
static const trn_symbol lambda_out[] = {OUT("lambda", "1", "1", "film over roughness")};

static trn_status lambda_call(const trn_value *in, trn_value *out)
{
    return trn_film_lambda(in[0].x, in[1].x, in[2].x, &out[0].x);
}

const trn_formula trn_formulas_wear[] = {
    {
        .name = "wear.film",
        .what = "smallest oil film of a rolling contact",
        .equation = "U = eta u/(E_red Rx), G = alpha E_red, W = F/(E_red Rx^2)\n"
                    "k = 1.0339 (Ry/Rx)^0.636\n"
                    "h_min = 3.63 Rx U^0.68 G^0.49 W^-0.073 [1 - exp(-0.68 k)]",
        .validity = "smooth, steady, isothermal (heating in the inlet is left out), fully flooded; k = 1 to 8; remarks for Ry below "
                    "Rx and for k above 8",
        .source = "HD1977; HB1983 (k); WEAR-INLET (left out)",
        .standing = "published, four digits of k memory",
        .example = "eta=0.045Pa.s u=2m/s alpha=20 E_red=226GPa Rx=15mm Ry=15mm F=420N",
        ENTRY(film),
    },
    {
        .name = "wear.lambda",
        .what = "film thickness over the roughness of both surfaces",
        .equation = "lambda = h/sqrt(Rq1^2 + Rq2^2)",
        .validity = "below 1 the surfaces touch, 1 to 3 mixed, above 3 full film; soft edges",
        .source = "WEAR-LAMBDA",
        .standing = "derived, bands memory",
        .example = "h=0.5um Rq1=0.3um Rq2=0.4um",
        ENTRY(lambda),
    },
};
const size_t trn_formulas_wear_count = TRN_COUNT(trn_formulas_wear);

const trn_source trn_sources_wear[] = {
    {"HD1977", "Hamrock and Dowson, J. Lubr. Technol. 99 (1977) 264, smallest film of an "
               "elliptical contact, fully flooded", "published"},
    {"HB1983", "Hamrock and Brewe 1983, ellipticity from the radii", "memory"},
    {"WEAR-LAMBDA", "definition of the film ratio; bands of lubrication textbooks", "memory"},
    {"WEAR-INLET", "factor for shear heating in the inlet, rolling-bearing friction practice",
     "memory"},
};
const size_t trn_sources_wear_count = TRN_COUNT(trn_sources_wear);
