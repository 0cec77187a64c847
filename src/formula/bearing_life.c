/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Basic and modified life. The sources stand in bearing.c. */
#include <math.h>
#include <trunnion/bearing.h>

#include "bearing_words.h"
#include "catalogue.h"

static const char *const elements[] = {"ball", "roller", NULL};
static const char *const editions[] = {"2007", "1990", NULL};
static const char *const life_kinds[] = {"radial_ball", "radial_roller", "thrust_ball",
                                         "thrust_roller", NULL};
static const char *const regimes[] = {"filtered", "bath", "grease", NULL};
/* trn_cleanliness_class in words */
static const char *const classes[] = {"13/10",  "15/12",  "17/14",  "19/16",       "21/18",  "high",
                                      "normal", "slight", "severe", "very_severe", "beyond", NULL};

/* ---- bearing.basic_life ------------------------------------------------------------------- */

static const trn_symbol basic_life_in[] = {
    WORD("kind", elements, NULL, "rolling element; needle is roller"),
    REQ("C", "kN", "N", "(0,inf)", "dynamic rating"),
    REQ("P", "kN", "N", "(0,inf)", "equivalent load"),
    REQ("n", "rpm", "rad/s", "(0,inf)", "speed of rotation"),
};
static const trn_symbol basic_life_out[] = {
    OUT("L10", "Mrev", "rev", "life that 90 % reach"),
    OUT("L10h", "h", "h", "the same in hours"),
};

static trn_status basic_life_call(const trn_value *in, trn_value *out)
{
    return trn_bearing_basic_life((trn_rolling_element)word_at(&in[0]), in[1].x, in[2].x, in[3].x,
                                  &out[0].x, &out[1].x);
}

/* ---- bearing.reliability_factor ----------------------------------------------------------- */

static const trn_symbol reliability_in[] = {
    REQ("R", "%", "1", "(0,100)", "reliability"),
    WORD("edition", editions, "2007", "edition of the standard"),
};
static const trn_symbol reliability_out[] = {
    OUT("a1", "1", "1", "life factor for reliability, not rounded"),
};

static trn_status reliability_call(const trn_value *in, trn_value *out)
{
    return trn_bearing_reliability_factor(in[0].x, (trn_a1_edition)word_at(&in[1]), &out[0].x);
}

/* ---- bearing.reference_viscosity ---------------------------------------------------------- */

static const trn_symbol viscosity_in[] = {
    REQ("n", "rpm", "rad/s", "(0,inf)", "speed of rotation"),
    REQ("Dpw", "mm", "m", "(0,inf)", "pitch diameter; (bore + outside)/2 will do"),
};
static const trn_symbol viscosity_out[] = {
    OUT("nu1", "mm2/s", "m2/s", "reference viscosity at the operating temperature"),
};

static trn_status viscosity_call(const trn_value *in, trn_value *out)
{
    return trn_bearing_reference_viscosity(in[0].x, in[1].x, &out[0].x);
}

/* ---- bearing.life_factor ------------------------------------------------------------------ */

static const trn_symbol life_factor_in[] = {
    WORD("kind", life_kinds, NULL, "kind of bearing"),
    REQ("kappa", "1", "1", "(0,inf)", "viscosity ratio nu/nu1"),
    REQ("x", "1", "1", "[0,inf)", "e_C Cu/P"),
};
static const trn_symbol life_factor_out[] = {
    OUT("a_iso", "1", "1", "life modification factor"),
};

static trn_status life_factor_call(const trn_value *in, trn_value *out)
{
    return trn_bearing_life_factor((trn_life_kind)word_at(&in[0]), in[1].x, in[2].x, &out[0].x);
}

/* ---- bearing.cleanliness ------------------------------------------------------------------ */

static const trn_symbol cleanliness_in[] = {
    WORD("regime", regimes, NULL, "filtered: on-line filter; bath: also with off-line filter"),
    WORD("class", classes, NULL,
         "oil: last two numbers of the ISO 4406 code (beyond: dirtier than 21/18); grease: a word"),
    REQ("kappa", "1", "1", "(0,inf)", "viscosity ratio nu/nu1"),
    REQ("Dpw", "mm", "m", "(0,inf)", "pitch diameter"),
};
static const trn_symbol cleanliness_out[] = {
    OUT("e_C", "1", "1", "contamination factor"),
    OUT("c", "1", "1", "constant c of the class; none where the class is beyond"),
    OUT("b", "1", "1", "constant b of the class; none where the class is beyond"),
};

static trn_status cleanliness_call(const trn_value *in, trn_value *out)
{
    trn_bath_regime regime = (trn_bath_regime)word_at(&in[0]);
    trn_cleanliness_class clean = (trn_cleanliness_class)word_at(&in[1]);
    trn_status status = trn_bearing_cleanliness(regime, clean, in[2].x, in[3].x, &out[0].x);
    if (status >= 0 &&
        trn_bearing_cleanliness_values(regime, clean, in[3].x, &out[1].x, &out[2].x) < 0)
        out[1].x = out[2].x = NAN;
    return status;
}

/* ---- bearing.class_of_code ---------------------------------------------------------------- */

static const trn_symbol class_in[] = {
    OPT("R6", "1", "1", "[0,inf)", "code number at 6 um (the second of three)"),
    REQ("R14", "1", "1", "[0,inf)", "code number at 14 um (the third)"),
};
static const trn_symbol class_out[] = {
    OUTWORD("class", classes, "bath class"),
};

static trn_status class_call(const trn_value *in, trn_value *out)
{
    trn_cleanliness_class found = TRN_CLASS_BEYOND;
    trn_status status = in[0].given ? trn_bearing_class_of_code(in[0].x, in[1].x, &found)
                                    : trn_bearing_class_of_r14(in[1].x, &found);
    if (status >= 0)
        out[0].x = found;
    return status;
}

/* ---- bearing.fatigue_limit ---------------------------------------------------------------- */

static const trn_symbol fatigue_in[] = {
    WORD("kind", elements, NULL, "rolling element"),
    REQ("C0", "kN", "N", "(0,inf)", "static rating"),
    REQ("Dpw", "mm", "m", "(0,inf)", "pitch diameter"),
};
static const trn_symbol fatigue_out[] = {
    OUT("Cu", "kN", "N", "fatigue load limit"),
};

static trn_status fatigue_call(const trn_value *in, trn_value *out)
{
    return trn_bearing_fatigue_limit((trn_rolling_element)word_at(&in[0]), in[1].x, in[2].x,
                                     &out[0].x);
}

/* ---- bearing.modified_life ---------------------------------------------------------------- */

static const trn_symbol modified_in[] = {
    WORD("kind", life_kinds, NULL, "kind of bearing"),
    REQ("C", "kN", "N", "(0,inf)", "dynamic rating"),
    REQ("Cu", "kN", "N", "(0,inf)", "fatigue load limit"),
    REQ("P", "kN", "N", "(0,inf)", "equivalent load, not Fr alone"),
    REQ("n", "rpm", "rad/s", "(0,inf)", "speed of rotation"),
    REQ("nu", "mm2/s", "m2/s", "(0,inf)", "oil viscosity at the operating temperature"),
    REQ("Dpw", "mm", "m", "(0,inf)", "pitch diameter"),
    WORD("regime", regimes, NULL, "lubrication and filter"),
    WORD("class", classes, NULL, "cleanliness"),
    DEF("R", "%", "1", "(0,100)", "90", "reliability"),
};
static const trn_symbol modified_out[] = {
    OUT("kappa", "1", "1", "viscosity ratio, not limited"),
    OUT("e_C", "1", "1", "contamination factor"),
    OUT("a_iso", "1", "1", "life modification factor"),
    OUT("L10h", "h", "h", "basic rating life"),
    OUT("Lnmh", "h", "h", "modified rating life at R"),
};

static trn_status modified_call(const trn_value *in, trn_value *out)
{
    trn_modified_life life;
    trn_status status = trn_bearing_modified_life(
        (trn_modified_life_case){.kind = (trn_life_kind)word_at(&in[0]),
                                 .C = in[1].x,
                                 .Cu = in[2].x,
                                 .P = in[3].x,
                                 .omega = in[4].x,
                                 .nu = in[5].x,
                                 .Dpw = in[6].x,
                                 .regime = (trn_bath_regime)word_at(&in[7]),
                                 .clean = (trn_cleanliness_class)word_at(&in[8]),
                                 .R = in[9].x},
        &life);
    if (status >= 0) {
        out[0].x = life.kappa;
        out[1].x = life.e_C;
        out[2].x = life.a_iso;
        out[3].x = life.L10_h;
        out[4].x = life.Lnm_h;
    }
    return status;
}

/* ---- table -------------------------------------------------------------------------------- */

const trn_formula trn_formulas_bearing_life[] = {
    {
        .name = "bearing.basic_life",
        .what = "basic rating life",
        .equation = "L10 = (C/P)^p, p = 3 ball, 10/3 roller\nL10h = 1e6 L10/(60 n)",
        .validity = "C, P, n > 0; remark where P is above 0.5 C, or below 0.01 C (ball), 0.02 C "
                    "(roller); a rating for 90 Mrev counts 3.857 times",
        .source = "ISO281",
        .standing = "published; limits memory, minimum load practice",
        .example = "kind=ball C=41kN P=20kN n=720rpm",
        ENTRY(basic_life),
    },
    {
        .name = "bearing.reliability_factor",
        .what = "life factor for a reliability other than 90 %",
        .equation = "a1 = g + (1 - g) [ln(100/R)/ln(100/90)]^(2/3)\ng = 0.05 (2007), 0 (1990)",
        .validity = "0 < R < 100 %; remark outside 90 to 99.95 % (2007), 90 to 99 % (1990)",
        .source = "ISO281 (Table 12); ISO281-1990",
        .standing = "2007 memory, 1990 published",
        .example = "R=95%",
        ENTRY(reliability),
    },
    {
        .name = "bearing.reference_viscosity",
        .what = "viscosity that the bearing asks for at its speed",
        .equation = "nu1 = 45000 n^-0.83 Dpw^-0.5 below 1000 r/min\n"
                    "nu1 = 4500 n^-0.5 Dpw^-0.5 from 1000 r/min on",
        .validity = "n, Dpw > 0; the step of 2.3 % at 1000 r/min is in the standard; 1000 r/min is "
                    "met within 1e-9 of itself: 999.9999999999999 r/min is 1000 r/min",
        .source = "ISO281",
        .standing = "published",
        .example = "n=540rpm Dpw=70mm",
        ENTRY(viscosity),
    },
    {
        .name = "bearing.life_factor",
        .what = "life modification factor a_ISO",
        .equation = "ball: a_iso = 0.1 [1 - s^0.83 x^(1/3)]^-9.3\n"
                    "roller: a_iso = 0.1 [1 - s x^0.4]^-9.185\n"
                    "s = A - B kappa^-c, not below 0; A = 2.5671 (ball), 1.5859 (roller)\n"
                    "kappa below 0.4: B = 2.2649 (ball), 1.3993 (roller), c = 0.054381\n"
                    "from 0.4 to below 1: B = 1.9987 (ball), 1.2348 (roller), c = 0.19087\n"
                    "from 1 to 4: B = 1.9987 (ball), 1.2348 (roller), c = 0.071739\n"
                    "thrust: s as above, with x/3 (ball), x/2.5 (roller) for x",
        .validity = "kappa > 0, x >= 0; at most 50; kappa above 4 counts as 4, x above 5 as 5 "
                    "(remark); kappa below 0.1: 0.1 with a remark; 0.1, 0.4 and 1 are met within 1e-9 of "
                    "themselves",
        .source = "ISO281 (9.3)",
        .standing = "radial published, thrust and limits memory",
        .example = "kind=radial_roller kappa=1.37 x=0.2",
        ENTRY(life_factor),
    },
    {
        .name = "bearing.cleanliness",
        .what = "contamination factor e_C",
        .equation = "e_C = min(1, c kappa^0.68 Dpw^0.55) (1 - b Dpw^(-1/3)), limited to 0 ... 1 (Dpw in "
                    "mm)\nc, b by regime and class: outputs; all of them: `trunnion formula "
                    "bearing.cleanliness`",
        .validity = "kappa, Dpw > 0; kappa above 4 counts as 4; a class that the regime does not "
                    "have is refused; remark where e_C = 0",
        .source = "ISO281 (Annex A)",
        .standing = "memory; bath 13/10 in dispute",
        .example = "regime=bath class=19/16 kappa=2 Dpw=61.2mm",
        ENTRY(cleanliness),
    },
    {
        .name = "bearing.class_of_code",
        .what = "bath class of an ISO 4406 code",
        .equation = "the cleanest of 13/10, 15/12, 17/14, 19/16, 21/18 that neither number "
                    "exceeds: R6 <= first number, R14 <= second; else beyond (e_C = 0)",
        .validity = "R6 >= R14 >= 0; without R6 by R14 alone",
        .source = "ISO281 (Annex A)",
        .standing = "classes memory, dirtier class in between practice",
        .example = "R6=18 R14=15",
        ENTRY(class),
    },
    {
        .name = "bearing.fatigue_limit",
        .what = "fatigue load limit from the static rating",
        .equation = "ball: Cu = C0/22 min(1, (100/Dpw)^0.5)\n"
                    "roller: Cu = C0/8.2 min(1, (100/Dpw)^0.3)",
        .validity = "C0, Dpw > 0; short form at 1500 MPa contact stress",
        .source = "ISO281 (Annex B)",
        .standing = "memory",
        .example = "kind=roller C0=118.43kN Dpw=172mm",
        ENTRY(fatigue),
    },
    {
        .name = "bearing.modified_life",
        .what = "modified rating life with its parts",
        .equation = "kappa = nu/nu1\ne_C of the cleanliness\na_iso(kappa, e_C Cu/P)\n"
                    "Lnmh = a1 a_iso L10h, a1 of 2007",
        .validity = "all numbers > 0; remarks as of the parts",
        .source = "ISO281 (9.3, Annex A)",
        .standing = "memory",
        .example = "kind=radial_roller C=80kN Cu=9.5kN P=12kN n=540rpm nu=60mm2/s Dpw=70mm "
                   "regime=bath class=19/16",
        ENTRY(modified),
    },
};
const size_t trn_formulas_bearing_life_count = TRN_COUNT(trn_formulas_bearing_life);

const trn_source trn_sources_bearing_life[] = {{0}};
const size_t trn_sources_bearing_life_count = 0;
