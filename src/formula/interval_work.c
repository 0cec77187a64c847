/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From the limits of a service point to its row of the table. The sources stand in interval.c. */
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

/* ---- interval.cross_load ------------------------------------------------------------------ */

static const trn_symbol cross_in[] = {
    REQ("K_beta", "1", "1", "[1,inf)", "growth of the load with the bend (joint.cross_life)"),
    REQ("T", "N.m", "N.m", "[0,inf)", "torque of the shaft"),
    REQ("R", "mm", "m", "(0,inf)", "arm: joint centre to the middle of the needles"),
    REQ("C", "kN", "N", "(0,inf)", "dynamic rating of one needle bearing"),
};
static const trn_symbol cross_out[] = {
    OUT("load", "1", "1", "P/C, without the shock factor"),
};

static trn_status cross_call(const trn_value *in, trn_value *out)
{
    if (!(in[0].x >= 1 - 1e-9) || !not_negative(in[1].x) || !positive(in[2].x) ||
        !positive(in[3].x) || !isfinite(in[0].x))
        return TRN_E_DOMAIN;
    out[0].x = in[0].x * in[1].x / (2 * in[2].x * in[3].x);
    return TRN_OK;
}

/* ---- interval.bearing_load ---------------------------------------------------------------- */

static const trn_symbol carried_in[] = {
    REQ("P", "kN", "N", "[0,inf)", "equivalent load, without the shock factor"),
    REQ("C", "kN", "N", "(0,inf)", "dynamic rating"),
};
static const trn_symbol carried_out[] = {
    OUT("load", "1", "1", "P/C"),
};

static trn_status carried_call(const trn_value *in, trn_value *out)
{
    if (!not_negative(in[0].x) || !positive(in[1].x))
        return TRN_E_DOMAIN;
    out[0].x = in[0].x / in[1].x;
    return TRN_OK;
}

/* ---- interval.motion ---------------------------------------------------------------------- */

static const trn_symbol motion_in[] = {
    REQ("n", "rpm", "rad/s", "[0,inf)", "speed of the shaft"),
    REQ("beta", "deg", "rad", "[0,90)", "larger angle of its crosses"),
    REQ("n_ref", "rpm", "rad/s", "(0,inf)", "speed of the reference"),
    REQ("beta_ref", "deg", "rad", "(0,90)", "angle of the reference"),
};
static const trn_symbol motion_out[] = {
    OUT("motion", "1", "1", "rocking of the needles against the reference"),
};

static trn_status motion_call(const trn_value *in, trn_value *out)
{
    if (!not_negative(in[0].x) || !not_negative(in[1].x) || !positive(in[2].x) ||
        !positive(in[3].x))
        return TRN_E_DOMAIN;
    out[0].x = in[0].x * in[1].x / (in[2].x * in[3].x);
    return TRN_OK;
}

/* ---- interval.point_temperature ----------------------------------------------------------- */

static const trn_symbol point_in[] = {
    REQ("T_air", "degC", "K", "(-273.15,inf)", "temperature of the air"),
    DEF("rise", "K", "K", "[0,inf)", "25", "grease point above the air"),
};
static const trn_symbol point_out[] = {
    OUT("T", "degC", "K", "temperature of the grease point"),
};

static trn_status point_call(const trn_value *in, trn_value *out)
{
    if (!positive(in[0].x) || !not_negative(in[1].x))
        return TRN_E_DOMAIN;
    out[0].x = in[0].x + in[1].x;
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
    {
        .name = "interval.cross_load",
        .what = "load of a joint for its greasing interval",
        .equation = "load = K_beta T/(2 R C): P/C of joint.cross_life with shock 1, at the end of "
                    "the shaft whose P is the larger (beta1 of the position: joint at the driving "
                    "end, beta2: at the driven end; a wide-angle joint is at the driving end, both "
                    "of its crosses bend by beta1/2)",
        .validity = "K_beta >= 1, T >= 0, R, C > 0; the shock factor counts by itself",
        .source = "JointDerived; IntervalChoice",
        .standing = "derived, larger end chosen",
        .example = "K_beta=1.0091 T=612N.m R=38.2mm C=21.7kN",
        ENTRY(cross),
    },
    {
        .name = "interval.bearing_load",
        .what = "load of a greased bearing for its interval",
        .equation = "load = P/C",
        .validity = "P >= 0, C > 0; loads of the mean torque, telescoping shafts at rest",
        .source = "IntervalChoice",
        .standing = "derived",
        .example = "P=3.85kN C=41.4kN",
        ENTRY(carried),
    },
    {
        .name = "interval.motion",
        .what = "motion of the needles of a joint against the reference",
        .equation = "motion = n beta/(n_ref beta_ref)",
        .validity = "n, beta >= 0, n_ref, beta_ref > 0",
        .source = "IntervalChoice",
        .standing = "chosen",
        .example = "n=540rpm beta=7.3deg n_ref=540rpm beta_ref=10deg",
        ENTRY(motion),
    },
    {
        .name = "interval.point_temperature",
        .what = "temperature of a grease point that nobody measured",
        .equation = "T = T_air + rise",
        .validity = "no heat balance of joints: one rise for all of them",
        .source = "IntervalChoice",
        .standing = "chosen",
        .example = "T_air=31degC",
        ENTRY(point),
    },
};
const size_t trn_formulas_interval_work_count = TRN_COUNT(trn_formulas_interval_work);

const trn_source trn_sources_interval_work[] = {{0}};
const size_t trn_sources_interval_work_count = 0;
