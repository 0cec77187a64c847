/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sums of a person's working on an axle. The sources stand in axle.c. */
#include <math.h>

#include "catalogue.h"

/* ---- axle.add_load ------------------------------------------------------------------------ */

#define SIX(a)                                                                    \
    REQ("Fx" #a, "N", "N", NULL, "force along the axle"),                         \
        REQ("Fy" #a, "N", "N", NULL, "force across"),                             \
        REQ("Fz" #a, "N", "N", NULL, "force across"),                             \
        REQ("Mx" #a, "N.m", "N.m", NULL, "moment along the axle"),                \
        REQ("My" #a, "N.m", "N.m", NULL, "moment across"),                        \
        REQ("Mz" #a, "N.m", "N.m", NULL, "moment across")

static const trn_symbol add_in[] = {SIX(1), SIX(2)};
static const trn_symbol add_out[] = {
    OUT("Fx", "N", "N", "force along the axle"), OUT("Fy", "N", "N", "force across"),
    OUT("Fz", "N", "N", "force across"),         OUT("Mx", "N.m", "N.m", "moment along the axle"),
    OUT("My", "N.m", "N.m", "moment across"),    OUT("Mz", "N.m", "N.m", "moment across"),
};

static trn_status add_call(const trn_value *in, trn_value *out)
{
    for (size_t i = 0; i < TRN_COUNT(add_in); i++)
        if (!isfinite(in[i].x))
            return TRN_E_DOMAIN;
    for (size_t i = 0; i < TRN_COUNT(add_out); i++)
        out[i].x = in[i].x + in[TRN_COUNT(add_out) + i].x;
    return TRN_OK;
}

/* ---- axle.attached_couple ----------------------------------------------------------------- */

#define COUPLE(k) OPT("M" #k, "N.m", "N.m", "[0,inf)", "peak of the couple of shaft " #k)

static const trn_symbol attached_in[] = {
    COUPLE(1), COUPLE(2), COUPLE(3), COUPLE(4),
    DEF("shock", "1", "1", "[1,inf)", "1", "application factor"),
};
static const trn_symbol attached_out[] = {
    OUT("M_p", "N.m", "N.m", "couple that the bearings of the axle carry"),
};

static trn_status attached_call(const trn_value *in, trn_value *out)
{
    double sum = 0;
    size_t n = 0;
    for (size_t i = 0; i < 4; i++)
        if (in[i].given) {
            if (!(in[i].x >= 0) || !isfinite(in[i].x))
                return TRN_E_DOMAIN;
            sum += in[i].x;
            n++;
        }
    if (n == 0)
        return TRN_E_MISSING;
    if (!(in[4].x >= 1 - 1e-9) || !isfinite(in[4].x))
        return TRN_E_DOMAIN;
    out[0].x = in[4].x * sum;
    return TRN_OK;
}

/* ---- axle.radial_load --------------------------------------------------------------------- */

static const trn_symbol radial_in[] = {
    REQ("FrA", "kN", "N", "[0,inf)", "radial reaction of bearing A"),
    REQ("FrB", "kN", "N", "[0,inf)", "radial reaction of bearing B"),
    REQ("F", "N", "N", "[0,inf)", "radial load that the couples add at each"),
};
static const trn_symbol radial_out[] = {
    OUT("Fr_A", "kN", "N", "radial load of bearing A"),
    OUT("Fr_B", "kN", "N", "radial load of bearing B"),
};

static trn_status radial_call(const trn_value *in, trn_value *out)
{
    for (size_t i = 0; i < 3; i++)
        if (!(in[i].x >= 0) || !isfinite(in[i].x))
            return TRN_E_DOMAIN;
    out[0].x = in[0].x + in[2].x;
    out[1].x = in[1].x + in[2].x;
    return TRN_OK;
}

/* ---- axle.thrust_case --------------------------------------------------------------------- */

static const trn_symbol case_in[] = {
    REQ("K", "kN", "N", NULL, "thrust of the gears along +x"),
    REQ("F1", "N", "N", "[0,inf)", "thrust of the first shaft"),
    REQ("way1", "1", "1", "[-1,1]", "its way in this case: 1, -1, 0 none"),
    REQ("sliding1", "%", "1", "[0,100]", "share of time in which its profile slides"),
    DEF("F2", "N", "N", "[0,inf)", "0", "thrust of a second shaft"),
    DEF("way2", "1", "1", "[-1,1]", "0", "its way in this case"),
    DEF("sliding2", "%", "1", "[0,100]", "0", "share of time in which its profile slides"),
    DEF("shock", "1", "1", "[1,inf)", "1", "application factor"),
};
static const trn_symbol case_out[] = {
    OUT("K_case", "kN", "N", "thrust of the axle along +x in this case"),
    OUT("q", "%", "1", "share of time of this case"),
};

static double part(double way, double sliding)
{
    return way == 0 ? 1 - sliding : sliding / 2;
}

static bool is_way(double way)
{
    return way == 0 || way == 1 || way == -1;
}

static trn_status case_call(const trn_value *in, trn_value *out)
{
    if (!isfinite(in[0].x) || !(in[1].x >= 0) || !isfinite(in[1].x) || !is_way(in[2].x) ||
        !(in[3].x >= 0 && in[3].x <= 1) || !(in[4].x >= 0) || !isfinite(in[4].x) ||
        !is_way(in[5].x) || !(in[6].x >= 0 && in[6].x <= 1) || !(in[7].x >= 1 - 1e-9) ||
        !isfinite(in[7].x))
        return TRN_E_DOMAIN;
    out[0].x = in[0].x + in[7].x * (in[2].x * in[1].x + in[5].x * in[4].x);
    out[1].x = part(in[2].x, in[3].x) * part(in[5].x, in[6].x);
    return TRN_OK;
}

/* ---- table -------------------------------------------------------------------------------- */

const trn_formula trn_formulas_axle_work[] = {
    {
        .name = "axle.add_load",
        .what = "forces and moments of one mesh more on an axle",
        .equation = "F = F1 + F2, M = M1 + M2, each component",
        .validity = "finite; all about the same origin",
        .source = "AXLE-STATICS",
        .standing = "derived",
        .example = "Fx1=120N Fy1=-3.1kN Fz1=940N Mx1=210N.m My1=17N.m Mz1=-88N.m Fx2=-45N "
                   "Fy2=1.2kN Fz2=310N Mx2=-160N.m My2=9N.m Mz2=41N.m",
        ENTRY(add),
    },
    {
        .name = "axle.attached_couple",
        .what = "couples of the joints on an axle, with the application factor",
        .equation = "M_p = shock (M1 + M2 + ...)",
        .validity = "M >= 0, shock >= 1; peaks added, the safe side",
        .source = "AXLE-STATICS",
        .standing = "practice",
        .example = "M1=61N.m M2=33N.m shock=1.35",
        ENTRY(attached),
    },
    {
        .name = "axle.radial_load",
        .what = "radial loads of the bearings with the joint's couple",
        .equation = "Fr_A = FrA + F; Fr_B = FrB + F",
        .validity = "all >= 0; added in magnitude since the couple turns, the safe side",
        .source = "AXLE-STATICS",
        .standing = "practice",
        .example = "FrA=4.31kN FrB=2.72kN F=780N",
        ENTRY(radial),
    },
    {
        .name = "axle.thrust_case",
        .what = "thrust of an axle in one load case of its telescoping shafts, and its share",
        .equation = "K_case = K + shock (way1 F1 + way2 F2)\n"
                    "q = part1 part2; part = sliding/2 where the shaft pushes, else 1 - sliding",
        .validity = "way 1, -1 or 0; shares 0 to 100 %; one shaft: leave the second out",
        .source = "AXLE-STATICS",
        .standing = "derived",
        .example = "K=1.9kN F1=860N way1=-1 sliding1=15% shock=1.35",
        ENTRY(case),
    },
};
const size_t trn_formulas_axle_work_count = TRN_COUNT(trn_formulas_axle_work);

const trn_source trn_sources_axle_work[] = {{0}};
const size_t trn_sources_axle_work_count = 0;
