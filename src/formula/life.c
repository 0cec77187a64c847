/* SPDX-License-Identifier: GPL-3.0-or-later */
/* statistics.*: one life distribution, lives in series, tests without failure */
#include <math.h>
#include <trunnion/life.h>

#include "catalogue.h"
#include "families.h"

#define AGE(name, what) REQ(name, "h", "h", "[0,inf)", what)
#define L10_IN REQ("L10", "h", "h", "(0,inf)", "life that 90 % reach")
#define BETA_IN DEF("beta", "1", "1", "(0,inf)", "1.5", "slope")
#define SHARE_IN REQ("p", "%", "1", "(0,100)", "share failed")
#define FAILED_OUT(what) OUT("F", "%", "1", what)

static const trn_symbol probability_in[] = {AGE("t", "age"), L10_IN, BETA_IN};
static const trn_symbol probability_out[] = {FAILED_OUT("failed by t")};

static trn_status probability_call(const trn_value *in, trn_value *out)
{
    return trn_life_probability(in[0].x, in[1].x, in[2].x, &out[0].x);
}

static const trn_symbol quantile_in[] = {SHARE_IN, L10_IN, BETA_IN};
static const trn_symbol quantile_out[] = {OUT("t", "h", "h", "age by which p have failed")};

static trn_status quantile_call(const trn_value *in, trn_value *out)
{
    return trn_life_quantile(in[0].x, in[1].x, in[2].x, &out[0].x);
}

static const trn_symbol scale_in[] = {L10_IN, BETA_IN};
static const trn_symbol scale_out[] = {
    OUT("eta", "h", "h", "characteristic life, 63.2 % failed"),
    OUT("L50", "h", "h", "median life"),
    OUT("mean", "h", "h", "mean life"),
};

static trn_status scale_call(const trn_value *in, trn_value *out)
{
    return trn_life_scale(in[0].x, in[1].x, &out[0].x, &out[1].x, &out[2].x);
}

static const trn_symbol conditional_in[] = {
    AGE("t0", "age at which the unit is sound"),
    AGE("H", "further hours"),
    L10_IN,
    BETA_IN,
};
static const trn_symbol conditional_out[] = {FAILED_OUT("fails within H more hours")};

static trn_status conditional_call(const trn_value *in, trn_value *out)
{
    return trn_life_conditional(in[0].x, in[1].x, in[2].x, in[3].x, &out[0].x);
}

static const trn_symbol further_in[] = {
    AGE("t0", "age at which the units are sound"),
    SHARE_IN,
    L10_IN,
    BETA_IN,
};
static const trn_symbol further_out[] = {OUT("H", "h", "h", "further hours in which p fail")};

static trn_status further_call(const trn_value *in, trn_value *out)
{
    return trn_life_conditional_quantile(in[0].x, in[1].x, in[2].x, in[3].x, &out[0].x);
}

static const trn_symbol residual_in[] = {
    AGE("t0", "age at which the unit is sound"),
    L10_IN,
    BETA_IN,
};
static const trn_symbol residual_out[] = {OUT("m", "h", "h", "mean of the hours to come")};

static trn_status residual_call(const trn_value *in, trn_value *out)
{
    return trn_life_mean_residual(in[0].x, in[1].x, in[2].x, &out[0].x);
}

static const trn_symbol iso281_in[] = {AGE("t", "age"), L10_IN};
static const trn_symbol iso281_out[] = {
    OUT("R", "%", "1", "survive t, minimum-life form"),
    FAILED_OUT("failed by t, minimum-life form"),
    OUT("F_plain", "%", "1", "failed by t without minimum life"),
};

static trn_status iso281_call(const trn_value *in, trn_value *out)
{
    return trn_life_iso281(in[0].x, in[1].x, &out[0].x, &out[1].x, &out[2].x);
}

#define PART_LIFE(name) OPT(name, "h", "h", "(0,inf)", "ten-percent life of a part")
#define PART_SLOPE(name) DEF(name, "1", "1", "(0,inf)", "1.5", "slope of that part")

static const trn_symbol system_in[] = {
    PART_LIFE("L1"),     PART_LIFE("L2"),     PART_LIFE("L3"),     PART_LIFE("L4"),
    PART_LIFE("L5"),     PART_LIFE("L6"),     PART_LIFE("L7"),     PART_LIFE("L8"),
    PART_SLOPE("beta1"), PART_SLOPE("beta2"), PART_SLOPE("beta3"), PART_SLOPE("beta4"),
    PART_SLOPE("beta5"), PART_SLOPE("beta6"), PART_SLOPE("beta7"), PART_SLOPE("beta8"),
};
static const trn_symbol system_out[] = {OUT("L", "h", "h", "ten-percent life of the whole")};

static trn_status system_call(const trn_value *in, trn_value *out)
{
    double life[FAMILY_MAX];
    double beta[FAMILY_MAX];
    size_t n = 0;
    for (size_t i = 0; i < FAMILY_MAX; i++) /* a slope counts only with its life */
        if (in[i].given) {
            life[n] = in[i].x;
            beta[n++] = in[FAMILY_MAX + i].x;
        }
    return trn_life_system(life, beta, n, &out[0].x);
}

#define SPENT(name) OPT(name, "h", "h", "[0,inf)", "hours at a condition")
#define THERE(name) OPT(name, "h", "h", "(0,inf)", "ten-percent life there")

static const trn_symbol consumed_in[] = {
    SPENT("h1"), SPENT("h2"), SPENT("h3"), SPENT("h4"), SPENT("h5"), SPENT("h6"),
    SPENT("h7"), SPENT("h8"), THERE("L1"), THERE("L2"), THERE("L3"), THERE("L4"),
    THERE("L5"), THERE("L6"), THERE("L7"), THERE("L8"), BETA_IN,
};
static const trn_symbol consumed_out[] = {
    OUT("D", "1", "1", "life used up, in units of L10"),
    FAILED_OUT("failed by then"),
};

static trn_status consumed_call(const trn_value *in, trn_value *out)
{
    double hours[FAMILY_MAX];
    double life[FAMILY_MAX];
    size_t n = 0;
    trn_status status = family_pairs(in, hours, life, &n);
    if (status != TRN_OK)
        return status;
    return trn_life_consumed(hours, life, n, in[16].x, &out[0].x, &out[1].x);
}

static const trn_symbol any_in[] = {
    REQ("F", "%", "1", "[0,100]", "probability of failure of each"),
    REQ("n", "1", "1", "[1,inf)", "units, whole"),
};
static const trn_symbol any_out[] = {OUT("P", "%", "1", "at least one fails")};

static trn_status any_call(const trn_value *in, trn_value *out)
{
    /* the slack of a closed range may let 100 % through a bit above 1 */
    return trn_life_at_least_one(fmin(in[0].x, 1), in[1].x, &out[0].x);
}

#define CONFIDENCE_IN \
    DEF("confidence", "%", "1", "(0,100)", "95", "one-sided confidence of the lower limits")

static const trn_symbol zero_in[] = {
    REQ("n", "1", "1", "[1,inf)", "units, whole, none failed"),
    AGE("t", "run by each"),
    REQ("beta", "1", "1", "(0,inf)", "slope, known from elsewhere"),
    CONFIDENCE_IN,
};
static const trn_symbol zero_out[] = {
    OUT("eta_low", "h", "h", "lower limit of the characteristic life"),
    OUT("B10_low", "h", "h", "lower limit of the ten-percent life"),
};

static trn_status zero_call(const trn_value *in, trn_value *out)
{
    return trn_life_zero_failure(in[0].x, in[1].x, in[2].x, in[3].x, &out[0].x, &out[1].x);
}

static const trn_symbol success_in[] = {
    REQ("R", "%", "1", "(0,100)", "reliability to be shown at the required life"),
    REQ("confidence", "%", "1", "(0,100)", "confidence, one-sided"),
    DEF("k", "1", "1", "(0,inf)", "1", "hours run by each over the required life"),
    BETA_IN,
};
static const trn_symbol success_out[] = {
    OUT("n", "1", "1", "units needed, as calculated"),
    OUT("units", "1", "1", "units needed, whole"),
};

static trn_status success_call(const trn_value *in, trn_value *out)
{
    return trn_life_success_run(in[0].x, in[1].x, in[2].x, in[3].x, &out[0].x, &out[1].x);
}

const trn_formula trn_formulas_life[] = {
    {
        .name = "statistics.weibull_probability",
        .what = "share of units failed by an age",
        .equation = "F = 1 - 0.9^((t/L10)^beta)",
        .validity = "t >= 0; two-parameter Weibull lives; no minimum life",
        .source = "Nelson1982",
        .standing = "memory, confirmed by arithmetic",
        .example = "t=420h L10=5000h",
        ENTRY(probability),
    },
    {
        .name = "statistics.weibull_life",
        .what = "age by which a share of the units has failed",
        .equation = "t = L10 [ln(1-p)/ln 0.9]^(1/beta)",
        .validity = "0 < p < 100 %; two-parameter Weibull lives",
        .source = "Nelson1982",
        .standing = "memory, confirmed by arithmetic",
        .example = "p=1% L10=5000h",
        ENTRY(quantile),
    },
    {
        .name = "statistics.weibull_scale",
        .what = "characteristic life, median and mean from the ten-percent life",
        .equation = "eta = L10 q^(-1/beta), q = -ln 0.9\nL50 = eta (ln 2)^(1/beta)\n"
                    "mean = eta Gamma(1 + 1/beta)",
        .validity = "two-parameter Weibull lives; refused where a slope near 0 overflows",
        .source = "Nelson1982",
        .standing = "memory, confirmed by arithmetic",
        .example = "L10=5000h beta=1.5",
        ENTRY(scale),
    },
    {
        .name = "statistics.conditional_failure",
        .what = "probability that a unit sound at an age fails within further hours",
        .equation = "F = 1 - exp(-q [((t0+H)/L10)^beta - (t0/L10)^beta]), q = -ln 0.9",
        .validity = "t0, H >= 0; two-parameter Weibull lives",
        .source = "Nelson1982",
        .standing = "memory, confirmed by arithmetic",
        .example = "t0=1000h H=500h L10=5000h",
        ENTRY(conditional),
    },
    {
        .name = "statistics.conditional_life",
        .what = "further hours in which a share of the units sound at an age fails",
        .equation = "H = L10 [(t0/L10)^beta + ln(1-p)/ln 0.9]^(1/beta) - t0",
        .validity = "t0 >= 0; p = 10 %: B10 from age t0; two-parameter Weibull lives",
        .source = "Nelson1982",
        .standing = "memory, confirmed by arithmetic",
        .example = "t0=1000h p=10% L10=5000h",
        ENTRY(further),
    },
    {
        .name = "statistics.mean_residual",
        .what = "mean of the hours still to come for a unit sound at an age",
        .equation = "m = eta e^z Gamma(1+1/beta) Q(1/beta, z), z = (t0/eta)^beta",
        .validity = "t0 >= 0; two-parameter Weibull lives",
        .source = "Nelson1982",
        .standing = "memory, confirmed by arithmetic",
        .example = "t0=3000h L10=5000h",
        ENTRY(residual),
    },
    {
        .name = "statistics.iso281_survival",
        .what = "survival of a rolling bearing with the minimum life behind ISO 281",
        .equation = "R = 1 for t <= 0.05 L10, else 0.9^(((t/L10 - 0.05)/0.95)^1.5)\nF = 1 - R\n"
                    "F_plain = 1 - 0.9^((t/L10)^1.5)",
        .validity = "rolling bearings; far below L10 both forms belong side by side",
        .source = "statISO281 (reliability factor)",
        .standing = "table memory, form derived",
        .example = "t=420h L10=5000h",
        ENTRY(iso281),
    },
    {
        .name = "statistics.system_life",
        .what = "ten-percent life of parts in series",
        .equation = "root L of sum (L/L_i)^beta_i = 1; one slope: L = [sum L_i^-beta]^(-1/beta)",
        .validity = "parts that fail independently; any of L1 to L8",
        .source = "Nelson1982 (series systems)",
        .standing = "derived",
        .example = "L1=5000h L2=8000h L3=12000h",
        ENTRY(system),
    },
    {
        .name = "statistics.consumed_life",
        .what = "life used up by hours at several conditions, and probability of failure",
        .equation = "D = sum h_j/L_j\nF = 1 - 0.9^(D^beta)",
        .validity = "one slope whatever the condition; exposure adds up, not probability",
        .source = "Nelson1982 (cumulative exposure)",
        .standing = "memory",
        .example = "h1=380h L1=5000h h2=95h L2=900h h3=12h L3=140h",
        ENTRY(consumed),
    },
    {
        .name = "statistics.at_least_one",
        .what = "probability that at least one of several units fails",
        .equation = "P = 1 - (1 - F)^n",
        .validity = "independent units; n whole, 1 or more",
        .source = "Nelson1982 (binomial distribution)",
        .standing = "derived",
        .example = "F=0.25617688% n=1000",
        ENTRY(any),
    },
    {
        .name = "statistics.weibayes_zero_failure",
        .what = "lower limits of life from a test in which nothing failed",
        .equation = "eta_low = t [n/(-ln(1-C))]^(1/beta)\nB10_low = eta_low q^(1/beta), "
                    "q = -ln 0.9",
        .validity = "the slope is an input: say where it comes from; C one-sided",
        .source = "AFWAL83",
        .standing = "memory, confirmed by the binomial distribution",
        .example = "n=10 t=1500h beta=1.5",
        ENTRY(zero),
    },
    {
        .name = "statistics.success_run",
        .what = "units to be run without failure to show a reliability",
        .equation = "n = ln(1-C)/(k^beta ln R)\nunits = n rounded up",
        .validity = "no failure; the slope matters where k is not 1; C one-sided",
        .source = "AFWAL83",
        .standing = "memory, confirmed by the binomial distribution",
        .example = "R=90% confidence=90% k=2",
        ENTRY(success),
    },
};
const size_t trn_formulas_life_count = TRN_COUNT(trn_formulas_life);

const trn_source trn_sources_life[] = {
    {"Nelson1982", "Nelson, W., Applied Life Data Analysis, Wiley (1982)", "memory"},
    {"AFWAL83",
     "Abernethy, R.B. et al., Weibull Analysis Handbook, AFWAL-TR-83-2079 (1983), approved for "
     "public release",
     "memory"},
    {"statISO281",
     "ISO 281:2007, Rolling bearings - Dynamic load ratings and rating life, life modification "
     "factor for reliability",
     "memory"},
};
const size_t trn_sources_life_count = TRN_COUNT(trn_sources_life);
