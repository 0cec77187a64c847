/* SPDX-License-Identifier: GPL-3.0-or-later */
/* statistics.*: oil samples, trends, load spectra */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <trunnion/rainflow.h>
#include <trunnion/samples_rate.h>
#include <trunnion/trend.h>

#include "catalogue.h"
#include "families.h"

#define READING(name, what) REQ(name, "ppm", "ppm", "[0,inf)", what)
#define READING0(name, what) DEF(name, "ppm", "ppm", "[0,inf)", "0", what)
#define RATE(name, what) OUT(name, "ppm/h", "ppm/h", what)

/* doubles on the heap; NULL where there is no room */
static double *room(size_t n)
{
    return n < SIZE_MAX / sizeof(double) ? malloc(n * sizeof(double)) : NULL;
}

static const trn_symbol rate_in[] = {
    READING("C1", "earlier reading"),
    READING("C2", "later reading"),
    REQ("t1", "h", "h", "[0,inf)", "hours of the earlier one"),
    REQ("t2", "h", "h", "[0,inf)", "hours of the later one"),
    READING0("s_m", "standard deviation of one reading (reproducibility/2.77)"),
};
static const trn_symbol rate_out[] = {
    RATE("rate", "rise per hour"),
    RATE("sd", "its standard deviation from the readings"),
};

static trn_status rate_call(const trn_value *in, trn_value *out)
{
    return trn_samples_rate(in[0].x, in[1].x, in[2].x, in[3].x, in[4].x, &out[0].x, &out[1].x);
}

static const trn_symbol residual_in[] = {
    READING("C", "reading now"),
    REQ("t", "h", "h", "(0,inf)", "hours since the change"),
    READING("C_last", "last reading before the change"),
    DEF("rho", "%", "1", "[0,100)", "10", "share of the old oil that stays behind"),
    READING0("C_new", "reading of the new oil"),
};
static const trn_symbol residual_out[] = {
    OUT("C_start", "ppm", "ppm", "reading right after the change"),
    RATE("rate", "rise per hour since then"),
    RATE("naive", "reading over hours, the old oil forgotten"),
};

static trn_status residual_call(const trn_value *in, trn_value *out)
{
    return trn_samples_residual(in[0].x, in[1].x, in[2].x, in[3].x, in[4].x, &out[0].x,
                                &out[1].x, &out[2].x);
}

static const trn_symbol top_up_in[] = {
    READING("C", "reading now"),
    REQ("t", "h", "h", "(0,inf)", "hours since the start"),
    REQ("V", "L", "L", "(0,inf)", "oil volume"),
    REQ("Q", "L/h", "L/h", "[0,inf)", "leaked and replaced"),
    READING0("C_0", "reading at the start"),
};
static const trn_symbol top_up_out[] = {
    RATE("rate", "metal set free per hour"),
    RATE("naive", "rise per hour, the leak forgotten"),
    OUT("C_limit", "ppm", "ppm", "reading that is never passed"),
    OUT("tau", "h", "h", "hours in which it is approached"),
};

static trn_status top_up_call(const trn_value *in, trn_value *out)
{
    return trn_samples_top_up(in[0].x, in[1].x, in[2].x, in[3].x, in[4].x, &out[0].x,
                              &out[1].x, &out[2].x, &out[3].x);
}

static const trn_symbol theil_in[] = {
    LIST("times", "h", "h", NULL, NULL, "hours"),
    LIST("values", "1", "1", NULL, NULL, "readings, as many"),
    DEF("confidence", "%", "1", "(0,100)", "95", "two-sided confidence of the limits"),
};
static const trn_symbol theil_out[] = {
    OUT("slope", "1/h", "1/h", "median of the slopes of all pairs"),
    OUT("intercept", "1", "1", "value at 0 h"),
    OUT("low", "1/h", "1/h", "lower limit of the slope"),
    OUT("high", "1/h", "1/h", "upper limit of the slope"),
    OUT("coverage", "%", "1", "how often such limits hold the true slope"),
};

static trn_status theil_call(const trn_value *in, trn_value *out)
{
    if (!in[0].list || !in[1].list)
        return TRN_E_MISSING;
    if (in[0].n != in[1].n)
        return TRN_E_DOMAIN;
    double *work = room(trn_trend_work(in[0].n));
    if (!work)
        return TRN_E_MEMORY;
    trn_trend t;
    trn_status status =
        trn_trend_theil_sen(in[0].list, in[1].list, in[0].n, in[2].x, work, &t);
    free(work);
    if (status < 0)
        return status;
    out[0].x = t.slope;
    out[1].x = t.intercept;
    out[2].x = t.low;
    out[3].x = t.high;
    out[4].x = t.coverage;
    return status;
}

static const trn_symbol robust_in[] = {
    LIST("values", "1", "1", NULL, NULL, "readings of like machines, two or more"),
};
static const trn_symbol robust_out[] = {
    OUT("median", "1", "1", "middle of the readings"),
    OUT("scale", "1", "1", "spread, as a standard deviation"),
    OUT("warn", "1", "1", "median + 2 scale"),
    OUT("alarm", "1", "1", "median + 3 scale"),
};

static trn_status robust_call(const trn_value *in, trn_value *out)
{
    if (!in[0].list)
        return TRN_E_MISSING;
    double *work = room(in[0].n);
    if (!work)
        return TRN_E_MEMORY;
    trn_status status = trn_trend_robust_limit(in[0].list, in[0].n, work, &out[0].x, &out[1].x,
                                               &out[2].x, &out[3].x);
    free(work);
    return status;
}

static const char *const no_yes[] = {"no", "yes", NULL};

static const trn_symbol dust_in[] = {
    READING("si", "silicon, reading or rate"),
    REQ("al", "ppm", "ppm", "(0,inf)", "aluminium, likewise"),
    DEF("low", "1", "1", "(0,inf)", "2", "lower end of the band of mineral dust"),
    DEF("high", "1", "1", "(0,inf)", "7", "upper end"),
};
static const trn_symbol dust_out[] = {
    OUT("ratio", "1", "1", "silicon over aluminium"),
    OUTWORD("dust", no_yes, "consistent with mineral dust"),
};

static trn_status dust_call(const trn_value *in, trn_value *out)
{
    bool dust = false;
    trn_status status =
        trn_samples_dust(in[0].x, in[1].x, in[2].x, in[3].x, &out[0].x, &dust);
    if (status >= 0)
        out[1].x = dust;
    return status;
}

static const char *const histories[] = {"open", "repeating", NULL};

static const trn_symbol rainflow_in[] = {
    LIST("load", "N.m", "N.m", NULL, NULL, "loads in their order"),
    OPT("range", "N.m", "N.m", "[0,inf)", "range whose cycles are counted"),
    DEF("m", "1", "1", "(0,inf)", "3", "exponent of the equivalent range"),
    WORD("history", histories, "open", "as recorded once, or repeated for ever"),
};
static const trn_symbol rainflow_out[] = {
    OUT("cycles", "1", "1", "sum of all counts"),
    OUT("count", "1", "1", "cycles of exactly that range"),
    OUT("equivalent", "N.m", "N.m", "constant range of the same damage"),
};

static trn_status rainflow_call(const trn_value *in, trn_value *out)
{
    if (!in[0].list)
        return TRN_E_MISSING;
    double *work = room(in[0].n + 1);
    if (!work)
        return TRN_E_MEMORY;
    trn_status status = trn_rainflow_summary(in[0].list, in[0].n, in[3].x > 0,
                                             in[1].given ? in[1].x : NAN, in[2].x, work,
                                             &out[0].x, &out[1].x, &out[2].x);
    free(work);
    return status;
}

#define TORQUE(name) OPT(name, "N.m", "N.m", "[0,inf)", "torque level")
#define TURNS(name) OPT(name, "%", "1", "[0,inf)", "share of the revolutions at it")

static const trn_symbol equivalent_in[] = {
    TORQUE("T1"), TORQUE("T2"), TORQUE("T3"), TORQUE("T4"), TORQUE("T5"), TORQUE("T6"),
    TORQUE("T7"), TORQUE("T8"), TURNS("q1"),  TURNS("q2"),  TURNS("q3"),  TURNS("q4"),
    TURNS("q5"),  TURNS("q6"),  TURNS("q7"),  TURNS("q8"),
    REQ("p", "1", "1", "(0,inf)", "exponent: ball bearings 3, roller bearings 10/3"),
};
static const trn_symbol equivalent_out[] = {
    OUT("T_eq", "N.m", "N.m", "constant torque of the same damage"),
    OUT("peak_share", "%", "1", "of the damage, by the highest torque"),
};

static trn_status equivalent_call(const trn_value *in, trn_value *out)
{
    double torque[FAMILY_MAX];
    double share[FAMILY_MAX];
    size_t n = 0;
    trn_status status = family_pairs(in, torque, share, &n);
    if (status != TRN_OK)
        return status;
    return trn_rainflow_equivalent(torque, share, n, in[16].x, &out[0].x, &out[1].x);
}

#define RUN(name) OPT(name, "1", "1", "[0,inf)", "cycles run at a level")
#define ENDURED(name) OPT(name, "1", "1", "(0,inf)", "cycles endured there")

static const trn_symbol miner_in[] = {
    RUN("n1"),     RUN("n2"),     RUN("n3"),     RUN("n4"),     RUN("n5"),     RUN("n6"),
    RUN("n7"),     RUN("n8"),     ENDURED("N1"), ENDURED("N2"), ENDURED("N3"), ENDURED("N4"),
    ENDURED("N5"), ENDURED("N6"), ENDURED("N7"), ENDURED("N8"),
};
static const trn_symbol miner_out[] = {OUT("D", "1", "1", "damage sum, 1 at failure")};

static trn_status miner_call(const trn_value *in, trn_value *out)
{
    double run[FAMILY_MAX];
    double endured[FAMILY_MAX];
    size_t n = 0;
    trn_status status = family_pairs(in, run, endured, &n);
    return status == TRN_OK ? trn_rainflow_miner(run, endured, n, &out[0].x) : status;
}

const trn_formula trn_formulas_spectrum[] = {
    {
        .name = "statistics.sample_rate",
        .what = "wear rate between two oil samples of one fill",
        .equation = "rate = (C2 - C1)/(t2 - t1)\nsd = sqrt(2) s_m/(t2 - t1)",
        .validity = "t2 > t1; one fill of oil, nothing topped up",
        .source = "statResidual",
        .standing = "derived",
        .example = "C1=17.3ppm C2=58.9ppm t1=61.5h t2=188.2h s_m=1.4ppm",
        ENTRY(rate),
    },
    {
        .name = "statistics.residual_oil_rate",
        .what = "wear rate after a change that left old oil behind",
        .equation = "C_start = rho C_last + (1 - rho) C_new\nrate = (C - C_start)/t\n"
                    "naive = C/t",
        .validity = "0 <= rho < 100 %; old oil mixed in fully; a negative rate is an answer",
        .source = "statResidual",
        .standing = "published",
        .example = "C=12ppm t=10h C_last=80ppm rho=15%",
        ENTRY(residual),
    },
    {
        .name = "statistics.top_up_rate",
        .what = "wear rate where leaked oil is replaced",
        .equation = "rate = (Q/V)(C - C_0 e^(-Qt/V))/(1 - e^(-Qt/V))\nnaive = (C - C_0)/t\n"
                    "C_limit = rate V/Q, tau = V/Q",
        .validity = "steady leak, metal leaves with the oil; oil that evaporates takes none; "
                    "Q = 0: C_limit and tau are inf",
        .source = "statBalance",
        .standing = "derived",
        .example = "C=62.955094ppm t=250h V=5L Q=0.01L/h",
        ENTRY(top_up),
    },
    {
        .name = "statistics.theil_sen",
        .what = "robust trend of readings over hours, with limits",
        .equation = "slope = median of (y_j - y_i)/(t_j - t_i)\n"
                    "intercept = median of y - slope t\n"
                    "limits: slopes in places d and N + 1 - d",
        .validity = "two readings or more, not all at one time; d exact without ties, by the "
                    "normal approximation with them; a remark where the cover falls short",
        .source = "Sen1968",
        .standing = "published",
        .example = "times=1/2/3/4/10/12/18h values=9/15/19/20/45/55/78",
        ENTRY(theil),
    },
    {
        .name = "statistics.robust_limit",
        .what = "warning and alarm limits of a population from its own readings",
        .equation = "scale = 1.482602 median |y - median|\nwarn = median + 2 scale\n"
                    "alarm = median + 3 scale",
        .validity = "two readings or more; below 12 a remark: it is a guess",
        .source = "statMad",
        .standing = "practice",
        .example = "values=21/24/19/33/27/25/22/61/26/23/28/20",
        ENTRY(robust),
    },
    {
        .name = "statistics.dust_ratio",
        .what = "silicon over aluminium, and whether mineral dust reads so",
        .equation = "ratio = si/al\ndust if low <= ratio <= high",
        .validity = "al > 0; consistent with dust, never a proof of it",
        .source = "statDust",
        .standing = "practice",
        .example = "si=30ppm al=10ppm",
        ENTRY(dust),
    },
    {
        .name = "statistics.rainflow",
        .what = "cycles of a load history, and their equivalent range",
        .equation = "three-point rule\nequivalent = (sum n r^m/sum n)^(1/m)",
        .validity = "two turning points or more; shafts, yokes, housings, start-ups; not the "
                    "pulses of teeth and rolling elements",
        .source = "ASTME1049 (rainflow counting)",
        .standing = "example published, rule memory",
        .example = "load=-2/1/-3/5/-1/3/-4/4/-2 range=4",
        ENTRY(rainflow),
    },
    {
        .name = "statistics.miner_equivalent",
        .what = "constant torque that does the damage of a spectrum",
        .equation = "T_eq = [sum q_i T_i^p/sum q_i]^(1/p)\n"
                    "peak_share = part of sum q T^p by the highest T",
        .validity = "linear damage rule, one exponent over the whole range",
        .source = "statISO6336-6",
        .standing = "form derived, exponents of gears memory",
        .example = "T1=400N.m q1=60% T2=600N.m q2=30% T3=900N.m q3=9% T4=1500N.m q4=1% p=3",
        ENTRY(equivalent),
    },
    {
        .name = "statistics.miner_sum",
        .what = "damage sum of cycles at several levels",
        .equation = "D = sum n_i/N_i",
        .validity = "linear damage rule; D at failure scatters from 0.3 to 3",
        .source = "statISO6336-6",
        .standing = "memory",
        .example = "n1=3.1e5 N1=2e6 n2=4400 N2=8.7e4 n3=71 N3=950",
        ENTRY(miner),
    },
};
const size_t trn_formulas_spectrum_count = TRN_COUNT(trn_formulas_spectrum);

const trn_source trn_sources_spectrum[] = {
    {"statResidual",
     "trade-journal article on residual oil in sampling: 80 ppm, 15 % left, 12 ppm at once",
     "published"},
    {"statBalance", "balance of metal in oil that leaks and is replaced", "derived"},
    {"Sen1968",
     "Sen, P.K., Estimates of the regression coefficient based on Kendall's tau, J. Amer. "
     "Statist. Assoc. 63 (1968) 1379",
     "published"},
    {"statMad", "median and median deviation as population limits, common practice", "practice"},
    {"statDust",
     "trade texts on oil analysis (silicon to aluminium 2 to 4), widened by recalled "
     "compositions of soils and test dusts",
     "practice"},
    {"ASTME1049",
     "ASTM E1049, Cycle counting in fatigue analysis: worked rainflow example seen, rule recalled",
     "published"},
    {"statISO6336-6",
     "ISO 6336-6, Calculation of service life under variable load; linear damage rule", "memory"},
};
const size_t trn_sources_spectrum_count = TRN_COUNT(trn_sources_spectrum);
