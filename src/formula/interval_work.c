/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From the limits of a service point to its row of the table. The sources stand in interval.c. */
#include <math.h>

#include "catalogue.h"

static bool positive(double x)
{
    return x > 0 && isfinite(x);
}

/* ---- interval.least ----------------------------------------------------------------------- */

static const trn_symbol least_in[] = {
    OPT("ageing", "h", "s", "(0,inf)", "interval that ageing allows"),
    OPT("dust", "h", "s", "(0,inf)", "interval that dust allows"),
    OPT("water", "h", "s", "(0,inf)", "interval that water allows"),
    OPT("additive", "h", "s", "(0,inf)", "interval that the additives allow"),
    OPT("wear", "h", "s", "(0,inf)", "interval that wear metals allow"),
};
static const trn_symbol least_out[] = {
    OUT("T", "h", "s", "the least of them"),
};

static trn_status least_call(const trn_value *in, trn_value *out)
{
    double least = INFINITY;
    for (size_t i = 0; i < TRN_COUNT(least_in); i++)
        if (in[i].given) {
            if (!positive(in[i].x))
                return TRN_E_DOMAIN;
            least = fmin(least, in[i].x);
        }
    if (!isfinite(least))
        return TRN_E_MISSING;
    out[0].x = least;
    return TRN_OK;
}

/* ---- interval.allowed --------------------------------------------------------------------- */

static const trn_symbol allowed_in[] = {
    REQ("T", "h", "s", "(0,inf)", "interval at the accepted risk"),
    DEF("slack", "%", "1", "[0,100]", "10", "what a step of the clock may be longer"),
    REQ("T_m", "h", "s", "(0,inf)", "the manual's interval"),
};
static const trn_symbol allowed_out[] = {
    OUT("T_allowed", "h", "s", "interval before the service clock; never above the manual's"),
};

static trn_status allowed_call(const trn_value *in, trn_value *out)
{
    if (!positive(in[0].x) || !(in[1].x >= 0) || !isfinite(in[1].x) || !positive(in[2].x))
        return TRN_E_DOMAIN;
    double most = (1 + in[1].x) * in[0].x;
    out[0].x = most * (1 + 1e-9) >= in[2].x ? in[2].x : most;
    return TRN_OK;
}

/* ---- interval.own_step -------------------------------------------------------------------- */

#define STEP(k) OPT("S" #k, "h", "s", "(0,inf)", "step of the machine's own clock")

static const trn_symbol own_in[] = {
    REQ("T", "h", "s", "(0,inf)", "any interval"),
    STEP(1), STEP(2), STEP(3), STEP(4), STEP(5), STEP(6), STEP(7), STEP(8), STEP(9), STEP(10),
    STEP(11), STEP(12), STEP(13), STEP(14), STEP(15), STEP(16),
};
static const trn_symbol own_out[] = {
    OUT("T_step", "h", "s", "largest step not above it"),
};

static trn_status own_call(const trn_value *in, trn_value *out)
{
    double found = NAN;
    if (!positive(in[0].x))
        return TRN_E_DOMAIN;
    for (size_t i = 1; i < TRN_COUNT(own_in); i++)
        if (in[i].given) {
            if (!positive(in[i].x))
                return TRN_E_DOMAIN;
            if (in[i].x <= in[0].x * (1 + 1e-9))
                found = fmax(found, in[i].x); /* fmax passes over NaN */
        }
    if (isnan(found))
        return TRN_E_DOMAIN;
    out[0].x = found;
    return TRN_OK;
}

/* ---- interval.yearly ---------------------------------------------------------------------- */

static const trn_symbol yearly_in[] = {
    REQ("N", "1", "1", "[0,inf)", "services in a year by hours and washes"),
};
static const trn_symbol yearly_out[] = {
    OUT("times", "1", "1", "services in a year, at least one"),
};

static trn_status yearly_call(const trn_value *in, trn_value *out)
{
    if (!(in[0].x >= 0) || !isfinite(in[0].x))
        return TRN_E_DOMAIN;
    out[0].x = fmax(1, in[0].x);
    return TRN_OK;
}

/* ---- interval.shortening ------------------------------------------------------------------ */

static const trn_symbol shortening_in[] = {
    REQ("T_m", "h", "s", "(0,inf)", "the manual's interval"),
    REQ("low", "h", "s", "(0,inf)", "interval that 90 % of the draws exceed"),
};
static const trn_symbol shortening_out[] = {
    OUT("times", "1", "1", "how many times shorter"),
};

static trn_status shortening_call(const trn_value *in, trn_value *out)
{
    if (!positive(in[0].x) || !positive(in[1].x))
        return TRN_E_DOMAIN;
    out[0].x = in[0].x / in[1].x;
    return TRN_OK;
}

/* ---- interval.first_wanted ---------------------------------------------------------------- */

static const trn_symbol wanted_in[] = {
    REQ("T_m", "h", "s", "(0,inf)", "the manual's interval"),
    DEF("first", "h", "s", "(0,inf)", "50", "first change, at most"),
    DEF("part", "%", "1", "(0,100]", "10", "and at most this part of the manual's interval"),
};
static const trn_symbol wanted_out[] = {
    OUT("T_wanted", "h", "s", "first change before the service clock"),
};

static trn_status wanted_call(const trn_value *in, trn_value *out)
{
    if (!positive(in[0].x) || !positive(in[1].x) || !(in[2].x > 0 && in[2].x <= 1 + 1e-9))
        return TRN_E_DOMAIN;
    out[0].x = fmin(in[1].x, in[2].x * in[0].x);
    return TRN_OK;
}

/* ---- interval.first_change ---------------------------------------------------------------- */

static const trn_symbol first_in[] = {
    OPT("T_step", "h", "s", "(0,inf)", "step of the clock not above it; none: half a day"),
    REQ("T", "h", "s", "(0,inf)", "recommended interval"),
};
static const trn_symbol first_out[] = {
    OUT("T_first", "h", "s", "first change of oil"),
};

static trn_status first_call(const trn_value *in, trn_value *out)
{
    const double half_a_day = 4 * 3600;
    double step = half_a_day;
    if (!positive(in[1].x) || (in[0].given && !positive(in[0].x)))
        return TRN_E_DOMAIN;
    if (in[0].given)
        step = fmax(step, in[0].x);
    out[0].x = fmin(in[1].x, step);
    return TRN_OK;
}

/* ---- interval.below_clock ----------------------------------------------------------------- */

static const trn_symbol below_in[] = {
    REQ("T", "h", "s", "(0,inf)", "interval that is allowed"),
    REQ("T_m", "h", "s", "(0,inf)", "the manual's interval"),
    DEF("S", "h", "s", "(0,inf)", "4", "shortest step of the service clock"),
};
static const trn_symbol below_out[] = {
    OUT("T_step", "h", "s", "interval all the same"),
};

static trn_status below_call(const trn_value *in, trn_value *out)
{
    const double half_a_day = 4 * 3600;
    if (!positive(in[0].x) || !positive(in[1].x) || !positive(in[2].x) ||
        in[0].x * (1 + 1e-9) >= in[2].x)
        return TRN_E_DOMAIN;
    out[0].x = fmin(in[1].x, fmin(half_a_day, in[2].x));
    return TRN_OK;
}

/* ---- table -------------------------------------------------------------------------------- */

const trn_formula trn_formulas_interval_work[] = {
    {
        .name = "interval.least",
        .what = "shortest of the limits of an oil",
        .equation = "T = min(ageing, dust, water, additive, wear)",
        .validity = "each > 0; what is left out, or never is reached, does not count",
        .source = "IntervalChoice",
        .standing = "chosen",
        .example = "ageing=812h dust=344h additive=505h",
        ENTRY(least),
    },
    {
        .name = "interval.allowed",
        .what = "interval before it is put on the service clock",
        .equation = "T_allowed = min(T_m, (1 + slack/100) T)",
        .validity = "T, T_m > 0; the manual's interval is the ceiling",
        .source = "IntervalChoice",
        .standing = "chosen",
        .example = "T=196h slack=10% T_m=500h",
        ENTRY(allowed),
    },
    {
        .name = "interval.own_step",
        .what = "largest step of a machine's own service clock not above an interval",
        .equation = "T_step = largest S not above T (1 + 1e-9)",
        .validity = "T, S > 0; refused where every step is above T",
        .source = "IntervalChoice",
        .standing = "practice",
        .example = "T=206h S1=60h S2=120h S3=240h",
        ENTRY(own),
    },
    {
        .name = "interval.yearly",
        .what = "services in a year, at least one",
        .equation = "times = max(1, N)",
        .validity = "N >= 0",
        .source = "IntervalChoice",
        .standing = "practice",
        .example = "N=0.36",
        ENTRY(yearly),
    },
    {
        .name = "interval.shortening",
        .what = "how many times shorter than the manual's interval",
        .equation = "times = T_m/low",
        .validity = "T_m, low > 0",
        .source = "IntervalBalance",
        .standing = "derived",
        .example = "T_m=500h low=171h",
        ENTRY(shortening),
    },
    {
        .name = "interval.first_wanted",
        .what = "first change of oil before it is put on the service clock",
        .equation = "T_wanted = min(first, part T_m/100)",
        .validity = "T_m, first > 0, 0 < part <= 100 %",
        .source = "IntervalChoice",
        .standing = "chosen",
        .example = "T_m=400h",
        ENTRY(wanted),
    },
    {
        .name = "interval.first_change",
        .what = "first change of oil",
        .equation = "T_first = min(T, max(4 h, T_step))",
        .validity = "T > 0; never later than the recommended interval",
        .source = "IntervalChoice",
        .standing = "chosen",
        .example = "T_step=40h T=200h",
        ENTRY(first),
    },
    {
        .name = "interval.below_clock",
        .what = "interval where not even the shortest step of the service clock is allowed",
        .equation = "T_step = min(T_m, 4 h, S)",
        .validity = "T below S; greasing or changing alone does not help then",
        .source = "IntervalChoice",
        .standing = "practice",
        .example = "T=2.9h T_m=8h",
        ENTRY(below),
    },
};
const size_t trn_formulas_interval_work_count = TRN_COUNT(trn_formulas_interval_work);

const trn_source trn_sources_interval_work[] = {{0}};
const size_t trn_sources_interval_work_count = 0;
