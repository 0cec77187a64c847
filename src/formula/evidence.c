/* SPDX-License-Identifier: GPL-3.0-or-later */
/* statistics.*: fits to life tables, ranks, product limit, explanations compared */
#include <math.h>
#include <stdlib.h>
#include <trunnion/evidence.h>
#include <trunnion/rank.h>
#include <trunnion/weibull.h>

#include "catalogue.h"

#define BETA_IN DEF("beta", "1", "1", "(0,inf)", "1.5", "slope")
#define CONFIDENCE_IN(what) DEF("confidence", "%", "1", "(0,100)", "95", what)
#define FAILED_IN LIST("failed", "h", "h", "(0,inf)", NULL, "hours of the failed units")
#define RUNNING_IN(range) \
    LIST("running", "h", "h", range, "", "hours of the units still running")

/* Rows of two lists on the heap (the caller frees *rows), prepared. A running unit of 0 hours
 * says nothing and is left out. */
static trn_status rows_of(const trn_value *failed, const trn_value *running,
                          trn_weibull_row **rows, trn_weibull_data *data)
{
    size_t f = failed && failed->list ? failed->n : 0;
    size_t r = running->list ? running->n : 0;
    *rows = malloc((f + r + 1) * sizeof **rows);
    if (!*rows)
        return TRN_E_MEMORY;
    size_t n = 0;
    trn_status status = TRN_OK;
    for (size_t i = 0; i < f && status == TRN_OK; i++, n++)
        status = trn_weibull_row_make(failed->list[i], failed->list[i], 1, &(*rows)[n]);
    for (size_t i = 0; i < r && status == TRN_OK; i++)
        if (running->list[i] > 0)
            status = trn_weibull_row_make(running->list[i], INFINITY, 1, &(*rows)[n++]);
    return status == TRN_OK ? trn_weibull_prepare(*rows, n, data) : status;
}

static const trn_symbol fit_in[] = {
    FAILED_IN,
    RUNNING_IN("(0,inf)"),
    CONFIDENCE_IN("two-sided confidence of the limits"),
};
static const trn_symbol fit_out[] = {
    OUT("beta", "1", "1", "slope"),
    OUT("eta", "h", "h", "characteristic life, 63.2 % failed"),
    OUT("logL", "1", "1", "log-likelihood, per hour for each failed unit"),
    OUT("B10", "h", "h", "life that 90 % reach"),
    OUT("beta_low", "1", "1", "lower limit of the slope"),
    OUT("beta_high", "1", "1", "upper limit of the slope"),
    OUT("eta_low", "h", "h", "lower limit of the characteristic life"),
    OUT("eta_high", "h", "h", "upper limit of the characteristic life"),
    OUT("B10_low", "h", "h", "lower limit of the ten-percent life"),
    OUT("B10_high", "h", "h", "upper limit of the ten-percent life"),
};

static trn_status fit_call(const trn_value *in, trn_value *out)
{
    if (!in[0].list)
        return TRN_E_MISSING;
    trn_weibull_row *rows = NULL;
    trn_weibull_data data;
    trn_weibull_line line;
    trn_weibull_limits limits;
    trn_status remark = TRN_OK;
    trn_status status = rows_of(&in[0], &in[1], &rows, &data);
    if (status == TRN_OK)
        status = remark = trn_weibull_fit(&data, &line);
    if (status >= 0)
        status = trn_weibull_likelihood_limits(&data, &line, in[2].x, &limits);
    free(rows);
    if (status < 0)
        return status;
    const double found[] = {line.beta,          line.eta_h,        line.log_likelihood,
                            line.b10_h,         limits.beta_low,   limits.beta_high,
                            limits.eta_low_h,   limits.eta_high_h, limits.b10_low_h,
                            limits.b10_high_h};
    for (size_t i = 0; i < TRN_COUNT(found); i++)
        out[i].x = found[i];
    return remark;
}

static const trn_symbol weibayes_in[] = {
    LIST("times", "h", "h", "[0,inf)", NULL, "hours of all units, failed or not"),
    REQ("r", "1", "1", "[1,inf)", "units failed, whole"),
    REQ("beta", "1", "1", "(0,inf)", "slope, known from elsewhere"),
    CONFIDENCE_IN("one-sided confidence of the lower limits"),
};
static const trn_symbol weibayes_out[] = {
    OUT("eta", "h", "h", "characteristic life"),
    OUT("B10", "h", "h", "ten-percent life"),
    OUT("eta_low", "h", "h", "lower limit of the characteristic life"),
    OUT("B10_low", "h", "h", "lower limit of the ten-percent life"),
};

static trn_status weibayes_call(const trn_value *in, trn_value *out)
{
    return trn_weibull_weibayes_times(in[0].list, in[0].list ? in[0].n : 0, in[1].x, in[2].x,
                                      in[3].x, &out[0].x, &out[1].x, &out[2].x, &out[3].x);
}

static const trn_symbol benard_in[] = {
    REQ("i", "1", "1", "[1,inf)", "rank of the failed unit, need not be whole"),
    REQ("n", "1", "1", "[1,inf)", "units, whole"),
};
static const trn_symbol benard_out[] = {
    OUT("F", "%", "1", "median rank, Benard's approximation"),
    OUT("F_exact", "%", "1", "median of the beta distribution"),
};

static trn_status benard_call(const trn_value *in, trn_value *out)
{
    return trn_rank_median(in[0].x, in[1].x, &out[0].x, &out[1].x);
}

static const trn_symbol adjusted_in[] = {
    REQ("i_before", "1", "1", "[0,inf)", "rank of the failure before, 0 for the first"),
    REQ("n", "1", "1", "[1,inf)", "units, whole"),
    REQ("left", "1", "1", "[1,inf)", "units left, this one too, whole"),
};
static const trn_symbol adjusted_out[] = {OUT("i", "1", "1", "rank of the failed unit")};

static trn_status adjusted_call(const trn_value *in, trn_value *out)
{
    return trn_rank_adjusted(in[0].x, in[1].x, in[2].x, &out[0].x);
}

static const trn_symbol product_in[] = {
    FAILED_IN,
    RUNNING_IN("(0,inf)"),
    REQ("t", "h", "h", "[0,inf)", "age"),
    CONFIDENCE_IN("two-sided confidence of the limits"),
};
static const trn_symbol product_out[] = {
    OUT("S", "%", "1", "share that survives t"),
    OUT("se", "%", "1", "its standard error (Greenwood)"),
    OUT("low", "%", "1", "its lower limit, on the log-log scale"),
    OUT("high", "%", "1", "its upper limit"),
};

static trn_status product_call(const trn_value *in, trn_value *out)
{
    if (!in[0].list)
        return TRN_E_MISSING;
    trn_weibull_row *rows = NULL;
    trn_weibull_data data;
    trn_status status = rows_of(&in[0], &in[1], &rows, &data);
    if (status == TRN_OK)
        status = trn_weibull_product_limit(&data, in[2].x, in[3].x, &out[0].x, &out[1].x,
                                           &out[2].x, &out[3].x);
    free(rows);
    return status;
}

static const trn_symbol bayes_in[] = {
    REQ("t", "h", "h", "(0,inf)", "hours of the failed unit"),
    REQ("L10", "h", "h", "(0,inf)", "ten-percent life by the explanation"),
    REQ("L10_ref", "h", "h", "(0,inf)", "ten-percent life by the one it is compared with"),
    BETA_IN,
    DEF("s", "1", "1", "[0,inf)", "0.5", "model error of ln L10, standard deviation"),
    DEF("w", "h", "h", "[0,inf)", "0", "half width of t, not above t"),
    RUNNING_IN("[0,inf)"),
};
static const trn_symbol bayes_out[] = {
    OUT("ln_m", "1", "1", "log marginal likelihood, per hour"),
    OUT("ln_m_ref", "1", "1", "the same of the other explanation"),
    OUT("BF", "1", "1", "factor by which the hours favour the explanation"),
};

static trn_status bayes_call(const trn_value *in, trn_value *out)
{
    trn_weibull_row *rows = NULL;
    trn_weibull_data data;
    trn_status status = rows_of(NULL, &in[6], &rows, &data);
    bool alone = status == TRN_E_MISSING;
    if (status == TRN_OK || alone)
        status = trn_evidence_bayes_factor(in[0].x, in[5].x, alone ? NULL : &data, in[1].x,
                                           in[2].x, in[3].x, in[4].x, &out[0].x, &out[1].x,
                                           &out[2].x);
    free(rows);
    return status;
}

static const trn_symbol ceiling_in[] = {
    REQ("t", "h", "h", "(0,inf)", "hours of the failed unit"),
    REQ("L10", "h", "h", "(0,inf)", "ten-percent life compared with"),
    BETA_IN,
};
static const trn_symbol ceiling_out[] = {
    OUT("ceiling", "1", "1", "largest factor that any other life can reach"),
    OUT("L10_best", "h", "h", "ten-percent life that reaches it"),
};

static trn_status ceiling_call(const trn_value *in, trn_value *out)
{
    return trn_evidence_ceiling(in[0].x, in[1].x, in[2].x, &out[0].x, &out[1].x);
}

static const trn_symbol posterior_in[] = {
    REQ("prior", "%", "1", "(0,100)", "probability before, the reader's own"),
    REQ("BF", "1", "1", "[0,inf)", "factor of the evidence"),
};
static const trn_symbol posterior_out[] = {OUT("posterior", "%", "1", "probability after")};

static trn_status posterior_call(const trn_value *in, trn_value *out)
{
    return trn_evidence_posterior(in[0].x, in[1].x, &out[0].x);
}

static const char *const scales[] = {"hours", "log", NULL};

static const trn_symbol shares_in[] = {
    LIST("lives", "h", "h", "(0,inf)", NULL,
         "2^k lives, k = 1 to 8: place j from 0 has departure i when bit i-1 of j is set"),
    WORD("scale", scales, "hours", "loss as hours, or as the logarithm of the life"),
};
static const trn_symbol shares_out[] = {
    OUT("lost", "h", "h", "life lost to all departures together"),
    OUT("share1", "%", "1", "share of departure 1"),
    OUT("share2", "%", "1", "share of departure 2"),
    OUT("share3", "%", "1", "share of departure 3"),
    OUT("share4", "%", "1", "share of departure 4"),
    OUT("share5", "%", "1", "share of departure 5"),
    OUT("share6", "%", "1", "share of departure 6"),
    OUT("share7", "%", "1", "share of departure 7"),
    OUT("share8", "%", "1", "share of departure 8"),
};

static trn_status shares_call(const trn_value *in, trn_value *out)
{
    if (!in[0].list)
        return TRN_E_MISSING;
    double share[TRN_DEPARTURES_MAX];
    size_t k = 0;
    bool logarithmic = in[1].x > 0;
    trn_status status =
        trn_evidence_shares(in[0].list, in[0].n, logarithmic, &out[0].x, share, &k);
    for (size_t i = 0; status >= 0 && i < TRN_DEPARTURES_MAX; i++)
        out[1 + i].x = i < k ? share[i] : NAN;
    return status;
}

static const trn_symbol sign_in[] = {
    WORD("sign", trn_evidence_signs, NULL, "what is seen"),
    WORD("cause", trn_evidence_causes, NULL, "what may have done it"),
};
static const trn_symbol sign_out[] = {
    OUT("weight", "1", "1",
        "2 strongly expected, 1 expected, 0 neutral, -1 argues against"),
};

static trn_status sign_call(const trn_value *in, trn_value *out)
{
    int weight = 0;
    trn_status status = trn_evidence_sign_weight((size_t)in[0].x, (size_t)in[1].x, &weight);
    if (status >= 0)
        out[0].x = weight;
    return status;
}

const trn_formula trn_formulas_evidence[] = {
    {
        .name = "statistics.weibull_fit",
        .what = "Weibull line of greatest likelihood with likelihood-ratio limits",
        .equation = "logL = sum over failed of (z - e^z + ln beta - ln t) - sum over running of "
                    "e^z\nz = beta (ln t - ln eta)\n"
                    "limits: 2 (logL - profile) = chi-square(confidence, 1)",
        .validity = "one failure mode; refused where no finite slope exists (no failure, or "
                    "every failure at the largest time); a remark with fewer than 20 failures; "
                    "0 or inf where the data set no limit",
        .source = "Lawless1982; MeekerEscobar1998 (ch. 8); LieblZelen1956",
        .standing = "equations memory, figures derived by two routes",
        .example = "failed=17.88/28.92/33.00/41.52/42.12/45.60/48.48/51.84/51.96/54.12/55.56/"
                   "67.80/68.64/68.64/68.88/84.12/93.12/98.64/105.12/105.84/127.92/128.04/173.40",
        ENTRY(fit),
    },
    {
        .name = "statistics.weibayes",
        .what = "characteristic and ten-percent life with a slope that is known",
        .equation = "T = sum over all units of t^beta; eta = (T/r)^(1/beta); B10 = eta q^(1/beta)\n"
                    "eta_low = [2T/chi2(C, 2r+2)]^(1/beta); B10_low = eta_low q^(1/beta)",
        .validity = "time-stopped data, at least one failure; C one-sided; the slope is an "
                    "input: say where it comes from",
        .source = "AFWAL83",
        .standing = "memory, confirmed by the Poisson distribution",
        .example = "times=310/455/520/700/700/700h r=3 beta=1.8",
        ENTRY(weibayes),
    },
    {
        .name = "statistics.benard_rank",
        .what = "median rank of a failed unit",
        .equation = "F = (i - 0.3)/(n + 0.4)\nF_exact = median of Beta(i, n + 1 - i)",
        .validity = "1 <= i <= n; i need not be whole",
        .source = "AFWAL83",
        .standing = "memory",
        .example = "i=3 n=20",
        ENTRY(benard),
    },
    {
        .name = "statistics.adjusted_rank",
        .what = "rank of a failed unit when others were taken out before",
        .equation = "i = i_before + (n + 1 - i_before)/(1 + left)",
        .validity = "1 <= left <= n, 0 <= i_before <= n - left",
        .source = "AFWAL83",
        .standing = "memory",
        .example = "i_before=2.61 n=9 left=4",
        ENTRY(adjusted),
    },
    {
        .name = "statistics.product_limit",
        .what = "share that survives an age, without a distribution",
        .equation = "S = product over failure times <= t of (1 - d/at risk)\n"
                    "se = S sqrt(sum d/[n(n-d)])\n"
                    "limits exp(-exp(ln(-ln S) +- k se/(S ln S)))",
        .validity = "failures count before removals at equal hours; a remark beyond the last "
                    "time",
        .source = "NISThandbook (8.2.1.5)",
        .standing = "example published, limits memory",
        .example = "failed=10/32/56/98/122/181 "
                   "running=50/100/125/150/200/200/200/200/200/200/200/200/200/200 t=181",
        ENTRY(product),
    },
    {
        .name = "statistics.bayes_factor",
        .what = "factor by which failure hours favour one explanation against another",
        .equation = "ln_m = ln of the mean over x ~ N(0,1) of exp(l(x)), life L10 e^(s x)\n"
                    "l = ln f(t), or ln([S(t-w) - S(t+w)]/(2w)), plus sum over running of ln S\n"
                    "BF = exp(ln_m - ln_m_ref)",
        .validity = "w <= t; the failed unit is not among those running; one model error for "
                    "all of them",
        .source = "KassRaftery1995",
        .standing = "derived",
        .example = "t=420h L10=600h L10_ref=5000h "
                   "running=380/510/640/700/820/900/950/1100/1200h",
        ENTRY(bayes),
    },
    {
        .name = "statistics.bayes_factor_ceiling",
        .what = "the most that one failure time can favour any life over L10",
        .equation = "ceiling = e^(-1)/(z e^(-z)), z = q (t/L10)^beta, q = -ln 0.9\n"
                    "L10_best = t q^(1/beta)",
        .validity = "one unit, exact hours, no model error",
        .source = "KassRaftery1995",
        .standing = "derived",
        .example = "t=420h L10=5000h",
        ENTRY(ceiling),
    },
    {
        .name = "statistics.posterior",
        .what = "probability of one of two explanations after the evidence",
        .equation = "odds = prior/(1 - prior) BF\nposterior = odds/(1 + odds)",
        .validity = "two explanations; the prior belongs to the reader",
        .source = "KassRaftery1995",
        .standing = "derived",
        .example = "prior=20% BF=3.4391",
        ENTRY(posterior),
    },
    {
        .name = "statistics.shares",
        .what = "life lost shared out among departures, whatever their order",
        .equation = "v(S) = L_none - L_S, or ln(L_none/L_S)\nshare_i = mean over all orders of "
                    "[v(S+i) - v(S)], over v(all)",
        .validity = "2^k lives; some life must be lost; a departure that helps has a negative "
                    "share",
        .source = "Shapley1953",
        .standing = "derived from the axioms",
        .example = "lives=5000/1800/2600/900h",
        ENTRY(shares),
    },
    {
        .name = "statistics.damage_sign",
        .what = "weight of a damage sign for or against a cause",
        .equation = "table of signs and causes",
        .validity = "the first damage only; signs are not independent and their weights no "
                    "likelihoods",
        .source = "statSigns",
        .standing = "practice",
        .example = "sign=scuffing cause=low_oil",
        ENTRY(sign),
    },
};
const size_t trn_formulas_evidence_count = TRN_COUNT(trn_formulas_evidence);

const trn_source trn_sources_evidence[] = {
    {"Lawless1982",
     "Lawless, J.F., Statistical Models and Methods for Lifetime Data, Wiley (1982)", "memory"},
    {"MeekerEscobar1998",
     "Meeker, W.Q. and Escobar, L.A., Statistical Methods for Reliability Data, Wiley (1998)",
     "memory"},
    {"LieblZelen1956",
     "Lieblein, J. and Zelen, M., Statistical investigation of the fatigue life of deep-groove "
     "ball bearings, J. Res. Natl Bur. Stand. 57 (1956) 273",
     "published"},
    {"NISThandbook",
     "NIST/SEMATECH e-Handbook of Statistical Methods, sections 8.2 and 8.4", "published"},
    {"KassRaftery1995",
     "Kass, R.E. and Raftery, A.E., Bayes factors, J. Amer. Statist. Assoc. 90 (1995) 773",
     "published"},
    {"Shapley1953",
     "Shapley, L.S., A value for n-person games, Contributions to the Theory of Games II (1953)",
     "memory"},
    {"statSigns", "engineering judgement, to be calibrated by the user", "practice"},
};
const size_t trn_sources_evidence_count = TRN_COUNT(trn_sources_evidence);
