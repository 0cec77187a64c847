/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sums over a duty, systems, survival. The sources stand in bearing.c. */
#include <math.h>
#include <trunnion/bearing.h>

#include "catalogue.h"

enum { LEVELS = 8 };

#define LOAD(k) OPT("P" #k, "kN", "N", "[0,inf)", "load of level " #k)
#define SPEED(k) OPT("n" #k, "rpm", "rad/s", "[0,inf)", "speed of level " #k)
#define SHARE(k) OPT("q" #k, "%", "1", "[0,inf)", "share of time of level " #k)
#define LIFE(k) OPT("L" #k, "h", "h", "(0,inf)", "life " #k)
#define EIGHT(X) X(1), X(2), X(3), X(4), X(5), X(6), X(7), X(8)

/* ---- bearing.equivalent_load -------------------------------------------------------------- */

static const trn_symbol equivalent_in[] = {
    EIGHT(LOAD),
    EIGHT(SPEED),
    EIGHT(SHARE),
    REQ("p", "1", "1", "(0,inf)", "exponent: 3 ball, 10/3 roller"),
};
static const trn_symbol equivalent_out[] = {
    OUT("Pm", "kN", "N", "constant load of the same damage"),
    OUT("nm", "rpm", "rad/s", "mean speed"),
};
_Static_assert(TRN_COUNT(equivalent_in) <= TRN_INPUTS_MAX, "inputs of an entry");

static trn_status equivalent_call(const trn_value *in, trn_value *out)
{
    double P[LEVELS];
    double omega[LEVELS];
    double q[LEVELS];
    size_t n = 0;
    for (size_t i = 0; i < LEVELS; i++) {
        int given = in[i].given + in[LEVELS + i].given + in[2 * LEVELS + i].given;
        if (given == 0)
            continue;
        if (given != 3) /* a level needs all three */
            return TRN_E_MISSING;
        P[n] = in[i].x;
        omega[n] = in[LEVELS + i].x;
        q[n++] = in[2 * LEVELS + i].x;
    }
    return trn_bearing_equivalent_load(n, P, omega, q, in[3 * LEVELS].x, &out[0].x, &out[1].x);
}

/* ---- bearing.duty_life -------------------------------------------------------------------- */

#define SIXTEEN(X) EIGHT(X), X(9), X(10), X(11), X(12), X(13), X(14), X(15), X(16)
enum { DUTY_LEVELS = 16 };

static const trn_symbol duty_in[] = {
    SIXTEEN(SHARE),
    SIXTEEN(LIFE),
};
_Static_assert(TRN_COUNT(duty_in) <= TRN_INPUTS_MAX, "inputs of an entry");
static const trn_symbol duty_out[] = {
    OUT("L", "h", "h", "life over the duty"),
};

static trn_status duty_call(const trn_value *in, trn_value *out)
{
    double q[DUTY_LEVELS];
    double life[DUTY_LEVELS];
    size_t n = 0;
    for (size_t i = 0; i < DUTY_LEVELS; i++) {
        if (in[i].given != in[DUTY_LEVELS + i].given)
            return TRN_E_MISSING;
        if (!in[i].given)
            continue;
        q[n] = in[i].x;
        life[n++] = in[DUTY_LEVELS + i].x;
    }
    return trn_bearing_duty_life(n, q, life, &out[0].x);
}

/* ---- bearing.system_life ------------------------------------------------------------------ */

static const trn_symbol system_in[] = {
    EIGHT(LIFE),
    DEF("e", "1", "1", "(0,inf)", "1.5", "Weibull slope common to the parts"),
};
static const trn_symbol system_out[] = {
    OUT("L", "h", "h", "life that 90 % of the systems reach"),
};

static trn_status system_call(const trn_value *in, trn_value *out)
{
    double life[LEVELS];
    size_t n = 0;
    for (size_t i = 0; i < LEVELS; i++)
        if (in[i].given)
            life[n++] = in[i].x;
    return trn_bearing_system_life(n, life, in[LEVELS].x, &out[0].x);
}

/* ---- bearing.survival --------------------------------------------------------------------- */

static const trn_symbol survival_in[] = {
    REQ("t", "h", "h", "[0,inf)", "hours run"),
    REQ("L10", "h", "h", "(0,inf)", "life at 90 %, without a1"),
    DEF("beta", "1", "1", "(0,inf)", "1.5", "Weibull slope"),
    DEF("gamma", "1", "1", "[0,1)", "0", "minimum life over L10; 0.05 is the inverse of a1 (2007)"),
};
static const trn_symbol survival_out[] = {
    OUT("R", "%", "1", "probability of survival"),
};

static trn_status survival_call(const trn_value *in, trn_value *out)
{
    return trn_bearing_survival(in[0].x, in[1].x, in[2].x, in[3].x, &out[0].x);
}

/* ---- table -------------------------------------------------------------------------------- */

const trn_formula trn_formulas_bearing_system[] = {
    {
        .name = "bearing.equivalent_load",
        .what = "constant load and speed with the damage of a duty",
        .equation = "Pm = [sum q n P^p/sum q n]^(1/p)\nnm = sum q n/sum q",
        .validity = "P, n, q >= 0, sum q n > 0; a level needs all three; remark where the shares "
                    "do not add up to 100 %; for the basic life alone",
        .source = "BEARING-MINER",
        .standing = "derived",
        .example = "P1=12kN n1=540rpm q1=20% P2=6kN n2=540rpm q2=50% P3=2kN n3=540rpm q3=30% "
                   "p=3.333",
        ENTRY(equivalent),
    },
    {
        .name = "bearing.duty_life",
        .what = "life over a duty from the lives at its levels",
        .equation = "1/L = sum q_i/L_i",
        .validity = "q >= 0, L > 0; shares of time, lives in hours; a level needs both; remark "
                    "where the shares do not add up to 100 %",
        .source = "BEARING-MINER",
        .standing = "derived",
        .example = "q1=20% L1=5560h q2=50% L2=108479h q3=30% L3=27551102h",
        ENTRY(duty),
    },
    {
        .name = "bearing.system_life",
        .what = "life of parts in series",
        .equation = "L = (sum L_i^-e)^(-1/e)",
        .validity = "all L > 0, any gaps; one slope for all (1.5 belongs to a1; older: 10/9 ball, "
                    "9/8 roller)",
        .source = "BEARING-WEIBULL",
        .standing = "derived; older slopes published",
        .example = "L1=9000h L2=12000h L3=20000h L4=15000h",
        ENTRY(system),
    },
    {
        .name = "bearing.survival",
        .what = "probability that a bearing survives",
        .equation = "R = 100 exp{-ln(1/0.9) [max(0, (t/L10 - gamma)/(1 - gamma))]^beta}",
        .validity = "t >= 0, L10 > 0, beta > 0, 0 <= gamma < 1",
        .source = "BEARING-WEIBULL",
        .standing = "derived",
        .example = "t=640h L10=1000h gamma=0.05",
        ENTRY(survival),
    },
};
const size_t trn_formulas_bearing_system_count = TRN_COUNT(trn_formulas_bearing_system);

const trn_source trn_sources_bearing_system[] = {{0}};
const size_t trn_sources_bearing_system_count = 0;
