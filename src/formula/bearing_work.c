/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What stands between the formulas of a bearing life when a person works it. The sources stand in
 * bearing.c. */
#include <math.h>
#include <trunnion/bearing.h>

#include "catalogue.h"

static bool positive(double x)
{
    return x > 0 && isfinite(x);
}

static bool not_negative(double x)
{
    return x >= 0 && isfinite(x);
}

/* ---- bearing.kappa ------------------------------------------------------------------------ */

static const trn_symbol kappa_in[] = {
    REQ("nu", "mm2/s", "m2/s", "(0,inf)", "viscosity at the oil temperature"),
    REQ("nu1", "mm2/s", "m2/s", "(0,inf)", "viscosity that the bearing asks for"),
};
static const trn_symbol kappa_out[] = {
    OUT("kappa", "1", "1", "viscosity ratio"),
};

static trn_status kappa_call(const trn_value *in, trn_value *out)
{
    if (!positive(in[0].x) || !positive(in[1].x))
        return TRN_E_DOMAIN;
    out[0].x = in[0].x / in[1].x;
    return TRN_OK;
}

/* ---- bearing.ripple_load ------------------------------------------------------------------ */

static const trn_symbol ripple_in[] = {
    REQ("P", "kN", "N", "[0,inf)", "equivalent load without ripple"),
    REQ("K", "1", "1", "[1,inf)", "load factor of the ripple"),
};
static const trn_symbol ripple_out[] = {
    OUT("P_ripple", "kN", "N", "equivalent load with ripple"),
};

static trn_status ripple_call(const trn_value *in, trn_value *out)
{
    if (!not_negative(in[0].x) || !(in[1].x >= 1 - 1e-9) || !isfinite(in[1].x))
        return TRN_E_DOMAIN;
    out[0].x = in[0].x * in[1].x;
    return TRN_OK;
}

/* ---- bearing.stress_ratio ----------------------------------------------------------------- */

static const trn_symbol stress_in[] = {
    REQ("e_C", "1", "1", "[0,1]", "contamination factor"),
    REQ("Cu", "kN", "N", "(0,inf)", "fatigue load limit"),
    REQ("P", "kN", "N", "(0,inf)", "equivalent load"),
};
static const trn_symbol stress_out[] = {
    OUT("x", "1", "1", "e_C Cu/P"),
};

static trn_status stress_call(const trn_value *in, trn_value *out)
{
    if (!(in[0].x >= 0 && in[0].x <= 1 + 1e-9) || !positive(in[1].x) || !positive(in[2].x))
        return TRN_E_DOMAIN;
    out[0].x = in[0].x * in[1].x / in[2].x;
    return TRN_OK;
}

/* ---- bearing.adjusted_life ---------------------------------------------------------------- */

static const trn_symbol adjusted_in[] = {
    REQ("L10h", "h", "h", "(0,inf)", "basic rating life"),
    DEF("a1", "1", "1", "(0,1]", "1", "life factor of the reliability"),
    REQ("a_iso", "1", "1", "(0,inf)", "life modification factor"),
};
static const trn_symbol adjusted_out[] = {
    OUT("Lnmh", "h", "h", "modified rating life"),
};

static trn_status adjusted_call(const trn_value *in, trn_value *out)
{
    if (!positive(in[0].x) || !(in[1].x > 0 && in[1].x <= 1 + 1e-9) || !positive(in[2].x))
        return TRN_E_DOMAIN;
    out[0].x = in[1].x * in[2].x * in[0].x;
    return TRN_OK;
}

/* ---- bearing.mean_factor ------------------------------------------------------------------ */

static const trn_symbol mean_in[] = {
    REQ("Lnmh", "h", "h", "(0,inf)", "modified rating life, sum over the cases"),
    DEF("a1", "1", "1", "(0,1]", "1", "life factor of the reliability"),
    REQ("L10h", "h", "h", "(0,inf)", "basic rating life, sum over the cases"),
};
static const trn_symbol mean_out[] = {
    OUT("a_iso", "1", "1", "life modification factor of the whole"),
};

static trn_status mean_call(const trn_value *in, trn_value *out)
{
    if (!positive(in[0].x) || !(in[1].x > 0 && in[1].x <= 1 + 1e-9) || !positive(in[2].x))
        return TRN_E_DOMAIN;
    out[0].x = in[0].x / (in[1].x * in[2].x);
    return TRN_OK;
}

/* ---- bearing.system_survival -------------------------------------------------------------- */

#define LIFE(k) OPT("L" #k, "h", "h", "(0,inf)", "modified rating life of bearing " #k)

static const trn_symbol survival_in[] = {
    REQ("t", "h", "h", "[0,inf)", "hours run"),
    DEF("a1", "1", "1", "(0,1]", "1", "life factor that is in the lives"),
    LIFE(1), LIFE(2), LIFE(3), LIFE(4), LIFE(5), LIFE(6), LIFE(7), LIFE(8),
    DEF("R0", "%", "1", "[0,100]", "100", "survival of parts that are not among these"),
};
static const trn_symbol survival_out[] = {
    OUT("R", "%", "1", "probability that all of them survive"),
};

static trn_status survival_call(const trn_value *in, trn_value *out)
{
    double whole = in[10].x;
    if (!(whole >= 0 && whole <= 1 + 1e-9) || !(in[1].x > 0 && in[1].x <= 1 + 1e-9))
        return TRN_E_DOMAIN;
    for (size_t i = 2; i < 10; i++) {
        double one = 1;
        if (!in[i].given)
            continue;
        trn_status status = trn_bearing_survival(in[0].x, in[i].x / in[1].x, 1.5, 0, &one);
        if (status < 0)
            return status;
        whole *= one;
    }
    out[0].x = whole;
    return TRN_OK;
}

/* ---- table -------------------------------------------------------------------------------- */

const trn_formula trn_formulas_bearing_work[] = {
    {
        .name = "bearing.kappa",
        .what = "viscosity ratio of a bearing",
        .equation = "kappa = nu/nu1",
        .validity = "nu, nu1 > 0",
        .source = "ISO281",
        .standing = "published",
        .example = "nu=38mm2/s nu1=31mm2/s",
        ENTRY(kappa),
    },
    {
        .name = "bearing.ripple_load",
        .what = "equivalent load with the ripple of the driving shaft",
        .equation = "P_ripple = K P",
        .validity = "P >= 0, K >= 1 (shaft.ripple_factor)",
        .source = "BEARING-MINER",
        .standing = "derived",
        .example = "P=5.2kN K=1.031",
        ENTRY(ripple),
    },
    {
        .name = "bearing.stress_ratio",
        .what = "fatigue load limit in dirt against the load",
        .equation = "x = e_C Cu/P",
        .validity = "0 <= e_C <= 1, Cu and P > 0",
        .source = "ISO281",
        .standing = "memory",
        .example = "e_C=0.31 Cu=9.4kN P=5.2kN",
        ENTRY(stress),
    },
    {
        .name = "bearing.adjusted_life",
        .what = "modified rating life from its factors",
        .equation = "Lnmh = a1 a_iso L10h",
        .validity = "L10h, a_iso > 0, 0 < a1 <= 1",
        .source = "ISO281",
        .standing = "memory",
        .example = "L10h=5100h a1=0.64 a_iso=1.34",
        ENTRY(adjusted),
    },
    {
        .name = "bearing.mean_factor",
        .what = "life modification factor of lives that are sums",
        .equation = "a_iso = Lnmh/(a1 L10h)",
        .validity = "lives > 0, 0 < a1 <= 1",
        .source = "ISO281",
        .standing = "derived",
        .example = "Lnmh=4370h a1=0.64 L10h=5100h",
        ENTRY(mean),
    },
    {
        .name = "bearing.system_survival",
        .what = "probability that all bearings of a gearbox survive",
        .equation = "R = R0 product of exp{-ln(1/0.9) [t a1/L_i]^1.5}",
        .validity = "t >= 0, L > 0, 0 < a1 <= 1; failures independent",
        .source = "BEARING-WEIBULL",
        .standing = "derived",
        .example = "t=2500h a1=0.64 L1=8200h L2=14300h",
        ENTRY(survival),
    },
};
const size_t trn_formulas_bearing_work_count = TRN_COUNT(trn_formulas_bearing_work);

const trn_source trn_sources_bearing_work[] = {{0}};
const size_t trn_sources_bearing_work_count = 0;
