/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Loads and ratings of bearings. Lives: bearing_life.c, sums and systems: bearing_system.c. */
#include <math.h>
#include <trunnion/bearing.h>

#include "bearing_words.h"
#include "catalogue.h"

/* ---- bearing.load ------------------------------------------------------------------------- */

static const trn_symbol load_in[] = {
    WORD("kind", bearing_kinds, NULL, "kind of bearing"),
    REQ("Fr", "kN", "N", "[0,inf)", "radial load"),
    REQ("Fa", "kN", "N", "[0,inf)", "axial load, magnitude; 0 for cylindrical and needle"),
    OPT("C0", "kN", "N", "(0,inf)", "static rating; needed by deep_groove and angular_15"),
    DEF("f0", "1", "1", "(0,inf)", "14", "static factor, used by the same two"),
    OPT("alpha", "deg", "rad", "(0,45]", "contact angle; needed by tapered"),
};
static const trn_symbol load_out[] = {
    OUT("P", "kN", "N", "equivalent dynamic load"),
    OUT("X", "1", "1", "radial factor as used"),
    OUT("Y", "1", "1", "thrust factor as used"),
    OUT("e", "1", "1", "limit of Fa/Fr below which the thrust does not count"),
};

static bool needs_C0(int kind)
{
    return kind == TRN_BEARING_DEEP_GROOVE || kind == TRN_BEARING_ANGULAR_15;
}

static trn_status load_call(const trn_value *in, trn_value *out)
{
    int kind = word_at(&in[0]);
    if ((needs_C0(kind) && !in[3].given) || (kind == TRN_BEARING_TAPERED && !in[5].given))
        return TRN_E_MISSING;
    trn_equivalent_load load;
    trn_status status = trn_bearing_load((trn_bearing_kind)kind, in[1].x, in[2].x, in[3].x,
                                         in[4].x, in[5].x, &load);
    if (status >= 0) {
        out[0].x = load.P;
        out[1].x = load.X;
        out[2].x = load.Y;
        out[3].x = load.e;
    }
    return status;
}

/* ---- bearing.static_load ------------------------------------------------------------------ */

static const trn_symbol static_load_in[] = {
    WORD("kind", bearing_kinds, NULL, "kind of bearing"),
    REQ("Fr", "kN", "N", "[0,inf)", "radial load"),
    REQ("Fa", "kN", "N", "[0,inf)", "axial load, magnitude; 0 for cylindrical and needle"),
    OPT("alpha", "deg", "rad", "(0,45]", "contact angle; needed by tapered"),
};
static const trn_symbol static_load_out[] = {
    OUT("P0", "kN", "N", "equivalent static load"),
};

static trn_status static_load_call(const trn_value *in, trn_value *out)
{
    int kind = word_at(&in[0]);
    if (kind == TRN_BEARING_TAPERED && !in[3].given)
        return TRN_E_MISSING;
    return trn_bearing_static_load((trn_bearing_kind)kind, in[1].x, in[2].x, in[3].x, &out[0].x);
}

/* ---- bearing.induced_thrust --------------------------------------------------------------- */

static const trn_symbol induced_in[] = {
    WORD("kind", bearing_kinds, NULL, "kind of bearing"),
    REQ("Fr", "kN", "N", "[0,inf)", "radial load"),
    OPT("C0", "kN", "N", "(0,inf)", "static rating; needed by angular_15"),
    DEF("f0", "1", "1", "(0,inf)", "14", "static factor; used by angular_15"),
    OPT("alpha", "deg", "rad", "(0,45]", "contact angle; needed by tapered"),
};
static const trn_symbol induced_out[] = {
    OUT("S", "kN", "N", "thrust that the radial load induces"),
};

static trn_status induced_call(const trn_value *in, trn_value *out)
{
    int kind = word_at(&in[0]);
    if ((kind == TRN_BEARING_ANGULAR_15 && !in[2].given) ||
        (kind == TRN_BEARING_TAPERED && !in[4].given))
        return TRN_E_MISSING;
    return trn_bearing_induced_thrust((trn_bearing_kind)kind, in[1].x, in[2].x, in[3].x, in[4].x,
                                      &out[0].x);
}

/* ---- bearing.pair ------------------------------------------------------------------------- */

static const trn_symbol pair_in[] = {
    REQ("FrA", "kN", "N", "[0,inf)", "radial load of A"),
    REQ("FrB", "kN", "N", "[0,inf)", "radial load of B"),
    REQ("YA", "1", "1", "(0,inf)", "thrust factor of A (angular contact: 0.5/e)"),
    REQ("YB", "1", "1", "(0,inf)", "thrust factor of B"),
    REQ("Ka", "kN", "N", NULL, "outer thrust, + pushes the shaft into A"),
};
static const trn_symbol pair_out[] = {
    OUT("FaA", "kN", "N", "axial load of A"),
    OUT("FaB", "kN", "N", "axial load of B"),
};

static trn_status pair_call(const trn_value *in, trn_value *out)
{
    return trn_bearing_pair(in[0].x, in[1].x, in[2].x, in[3].x, in[4].x, &out[0].x, &out[1].x);
}

/* ---- bearing.rating ----------------------------------------------------------------------- */

static const char *const rated_kinds[] = {"deep_groove", "cylindrical", "tapered", NULL};
static const trn_bearing_kind rated_kind[] = {TRN_BEARING_DEEP_GROOVE, TRN_BEARING_CYLINDRICAL,
                                              TRN_BEARING_TAPERED};

static const trn_symbol rating_in[] = {
    WORD("kind", rated_kinds, NULL, "kind of bearing; needles count as cylindrical"),
    REQ("Z", "1", "1", "[1,inf)", "rolling elements in a row, a whole number"),
    REQ("Dw", "mm", "m", "(0,inf)", "diameter of the element (tapered: at mid-length)"),
    REQ("Dpw", "mm", "m", "(0,inf)", "pitch diameter of the row"),
    OPT("Lwe", "mm", "m", "(0,inf)", "effective length of the roller; needed by rollers"),
    OPT("alpha", "deg", "rad", "[0,45]", "contact angle, 0 if left out; needed by tapered"),
    DEF("i", "1", "1", "[1,inf)", "1", "rows, a whole number"),
};
static const trn_symbol rating_out[] = {
    OUT("f_c", "1", "1", "geometry factor for N and mm"),
    OUT("C", "kN", "N", "dynamic rating"),
    OUT("C0", "kN", "N", "static rating"),
};

/* 0, which the library refuses, for what is no whole number */
static unsigned whole(double x)
{
    return x >= 1 && x <= 1e6 && x == floor(x) ? (unsigned)x : 0;
}

static trn_status rating_call(const trn_value *in, trn_value *out)
{
    int place = word_at(&in[0]);
    if (place < 0 || (size_t)place >= TRN_COUNT(rated_kind))
        return TRN_E_DOMAIN;
    trn_bearing_kind kind = rated_kind[place];
    if ((kind != TRN_BEARING_DEEP_GROOVE && !in[4].given) ||
        (kind == TRN_BEARING_TAPERED && !in[5].given))
        return TRN_E_MISSING;
    trn_bearing_rating rating;
    trn_status status = trn_bearing_rate((trn_bearing_build){.kind = kind,
                                                             .Z = whole(in[1].x),
                                                             .rows = whole(in[6].x),
                                                             .Dw = in[2].x,
                                                             .Dpw = in[3].x,
                                                             .Lwe = in[4].x,
                                                             .alpha_rad = in[5].x},
                                         &rating);
    if (status >= 0) {
        out[0].x = rating.f_c;
        out[1].x = rating.C;
        out[2].x = rating.C0;
    }
    return status;
}

/* ---- table -------------------------------------------------------------------------------- */

const trn_formula trn_formulas_bearing[] = {
    {
        .name = "bearing.load",
        .what = "equivalent dynamic load of a single-row bearing",
        .equation = "P = Fr where Fa <= e Fr or X Fr + Y Fa < Fr, else P = X Fr + Y Fa\n"
                    "deep_groove, angular_15: e, Y linear in f0 Fa/C0 from the table\n"
                    "tapered: e = 1.5 tan alpha, X = 0.4, Y = 0.4 cot alpha",
        .validity = "Fr, Fa >= 0; cylindrical and needle take no thrust; remark where f0 Fa/C0 is "
                    "outside the table",
        .source = "ISO281 (Table 3)",
        .standing = "deep groove, 15, 30, 40 deg published; 20, 25, 35 deg and the constants of "
                    "tapered memory; default of f0 practice",
        .example = "kind=deep_groove Fr=3.17kN Fa=1.05kN C0=20.4kN f0=14.1",
        ENTRY(load),
    },
    {
        .name = "bearing.static_load",
        .what = "equivalent static load of a single-row bearing",
        .equation = "P0 = max(X0 Fr + Y0 Fa, Fr)\n"
                    "deep_groove 0.6, 0.5; angular 0.5 and 0.46 ... 0.26; tapered 0.5, 0.22 cot "
                    "alpha; cylindrical, needle 1, 0",
        .validity = "Fr, Fa >= 0; cylindrical and needle take no thrust",
        .source = "ISO76",
        .standing = "deep groove, 15, 30, 40 deg published; the rest memory",
        .example = "kind=angular_40 Fr=2.385kN Fa=8.11kN",
        ENTRY(static_load),
    },
    {
        .name = "bearing.induced_thrust",
        .what = "thrust that a radial load induces in a bearing with inclined contact",
        .equation = "tapered: S = 0.5 Fr/Y, Y = 0.4 cot alpha\n"
                    "angular: S = e Fr (angular_15: e at f0 S/C0, by iteration)\n"
                    "deep_groove, cylindrical, needle: S = 0",
        .validity = "Fr >= 0; half of the circumference carries",
        .source = "BEARING-INDUCED",
        .standing = "tapered published, angular practice",
        .example = "kind=tapered Fr=7.425kN alpha=14.2deg",
        ENTRY(induced),
    },
    {
        .name = "bearing.pair",
        .what = "axial loads of two opposed bearings",
        .equation = "S = 0.5 Fr/Y\nFaA = max(SA, SB + Ka)\nFaB = max(SB, SA - Ka)",
        .validity = "Fr >= 0, Y > 0, Ka of any sign; no preload, no clearance",
        .source = "BEARING-INDUCED; BEARING-STATICS",
        .standing = "derived; S published",
        .example = "FrA=6kN FrB=3kN YA=1.604 YB=1.604 Ka=1.5kN",
        ENTRY(pair),
    },
    {
        .name = "bearing.rating",
        .what = "dynamic and static rating from the inside dimensions",
        .equation =
            "gamma = Dw cos alpha/Dpw\n"
            "ball: C = 1.3 f_c (i cos alpha)^0.7 Z^(2/3) Dw^1.8, above 25.4 mm 3.647 Dw^1.4 for "
            "Dw^1.8; C0 = f0 i Z Dw^2 cos alpha\n"
            "roller: C = 1.1 f_c (i Lwe cos alpha)^(7/9) Z^(3/4) Dw^(29/27); C0 = 44 (1 - gamma) i "
            "Z Lwe Dw cos alpha\n"
            "f_c in closed form, f0 linear in gamma from the table (N, mm)",
        .validity = "Z, i whole; gamma <= 0.4; the elements fit in the circle; cylindrical alpha = "
                    "0; remark for rollers above gamma = 0.3; makers quote up to 10 to 20 % more",
        .source = "ISO281 (5.1, 7.1); ISO76; BEARING-HARRIS",
        .standing = "memory",
        .example = "kind=deep_groove Z=9 Dw=12.7mm Dpw=65mm",
        ENTRY(rating),
    },
};
const size_t trn_formulas_bearing_count = TRN_COUNT(trn_formulas_bearing);

const trn_source trn_sources_bearing[] = {
    {"ISO281",
     "ISO 281:2007, Rolling bearings: dynamic load ratings and rating life. Life equation, "
     "reference viscosity, a_ISO of radial bearings, Table 3 for deep groove, 15, 30 and 40 deg "
     "seen in public reprints; the rest recalled",
     "published (public reprints), Annex A and B, Tables 2, 7 and 12 memory"},
    {"ISO281-1990", "ISO 281:1990, a1 as printed in an open course note", "published"},
    {"ISO76", "ISO 76:2006, Rolling bearings: static load ratings, edition to be confirmed",
     "memory"},
    {"BEARING-INDUCED", "catalogues of tapered bearings, S = 0.5 Fr/Y; angular contact S = e Fr",
     "tapered published, angular practice"},
    {"BEARING-STATICS", "equilibrium of an axle along x on two opposed bearings", "derived"},
    {"BEARING-MINER", "linear sum of damage after Palmgren and Miner", "derived"},
    {"BEARING-WEIBULL", "Weibull law through 90 % at L10; product of survivals for parts in series",
     "derived"},
    {"BEARING-HARRIS",
     "Harris, Rolling Bearing Analysis, worked deep groove bearing 45 x 85 x 19, edition to be "
     "confirmed",
     "memory"},
};
const size_t trn_sources_bearing_count = TRN_COUNT(trn_sources_bearing);
