/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <trunnion/loss.h>

#include "catalogue.h"

/* ---- loss.mesh ---------------------------------------------------------------------------- */

static const trn_symbol mesh_in[] = {
    REQ("P", "W", "W", "[0,inf)", "power through the mesh"),
    REQ("mu", "1", "1", "[0,inf)", "mean friction"),
    REQ("H_v", "1", "1", "(0,inf)", "loss factor"),
};
static const trn_symbol mesh_out[] = {
    OUT("loss", "W", "W", "power lost in the mesh"),
};

static trn_status mesh_call(const trn_value *in, trn_value *out)
{
    return trn_loss_mesh(in[0].x, in[1].x, in[2].x, &out[0].x);
}

/* ---- bearing.friction --------------------------------------------------------------------- */

static const trn_symbol bearing_in[] = {
    REQ("f0", "1", "1", "[0,inf)", "no-load friction value (not the static factor f0)"),
    REQ("f1", "1", "1", "[0,inf)", "load friction value"),
    REQ("nu", "mm2/s", "m2/s", "(0,inf)", "viscosity at the oil temperature"),
    REQ("n", "rpm", "rad/s", "[0,inf)", "speed"),
    REQ("dm", "mm", "m", "(0,inf)", "mean diameter, (bore + outside)/2"),
    REQ("P1", "N", "N", "[0,inf)", "load that decides friction"),
};
static const trn_symbol bearing_out[] = {
    OUT("M0", "N.mm", "N.m", "moment without load"),
    OUT("M1", "N.mm", "N.m", "moment from the load"),
    OUT("loss", "W", "W", "power lost"),
};

static trn_status bearing_call(const trn_value *in, trn_value *out)
{
    return trn_bearing_friction(in[0].x, in[1].x, in[2].x, in[3].x, in[4].x, in[5].x, &out[0].x,
                                &out[1].x, &out[2].x);
}

/* ---- bearing.friction_values -------------------------------------------------------------- */

static const char *const kinds[] = {"deep_groove", "angular_15", "angular_20", "angular_25",
                                    "angular_30",  "angular_35", "angular_40", "tapered",
                                    "cylindrical", "needle",     NULL};

static const trn_symbol values_in[] = {
    WORD("kind", kinds, NULL, "kind of bearing"),
    REQ("Fr", "kN", "N", "[0,inf)", "radial load"),
    REQ("Fa", "kN", "N", "[0,inf)", "thrust, magnitude"),
    OPT("C0", "kN", "N", "(0,inf)", "static rating (deep groove, angular: needed)"),
    OPT("alpha", "deg", "rad", "(0,45]", "contact angle (tapered: needed)"),
};
static const trn_symbol values_out[] = {
    OUT("f0", "1", "1", "no-load friction value"),
    OUT("f1", "1", "1", "load friction value"),
    OUT("P1", "N", "N", "load that decides friction"),
};

static trn_status values_call(const trn_value *in, trn_value *out)
{
    trn_friction_kind kind = (trn_friction_kind)(int)in[0].x;
    if ((kind <= TRN_FRICTION_ANGULAR_40 && !in[3].given) ||
        (kind == TRN_FRICTION_TAPERED && !in[4].given))
        return TRN_E_MISSING;
    return trn_bearing_friction_values(kind, in[1].x, in[2].x, in[3].given ? in[3].x : NAN,
                                       in[4].given ? in[4].x : NAN, &out[0].x, &out[1].x,
                                       &out[2].x);
}

/* ---- loss.cases --------------------------------------------------------------------------- */

#define CASE(n) \
    OPT("loss" n, "W", "W", "[0,inf)", "loss in load case " n), \
        OPT("q" n, "1", "1", "[0,inf)", "weight of load case " n)

static const trn_symbol cases_in[] = {CASE("1"), CASE("2"), CASE("3"), CASE("4"), CASE("5"),
                                      CASE("6"), CASE("7"), CASE("8"), CASE("9")};
static const trn_symbol cases_out[] = {
    OUT("loss", "W", "W", "mean over the cases"),
};

static trn_status cases_call(const trn_value *in, trn_value *out)
{
    double loss[TRN_COUNT(cases_in) / 2];
    double weight[TRN_COUNT(cases_in) / 2];
    size_t n = 0;
    for (size_t i = 0; i < TRN_COUNT(cases_in); i += 2) {
        if (in[i].given != in[i + 1].given)
            return TRN_E_MISSING;
        if (in[i].given) {
            loss[n] = in[i].x;
            weight[n++] = in[i + 1].x;
        }
    }
    return n ? trn_loss_cases(loss, weight, n, &out[0].x) : TRN_E_MISSING;
}

/* ---- loss.churning_iso -------------------------------------------------------------------- */

static const trn_symbol iso_in[] = {
    REQ("nu", "mm2/s", "m2/s", "(0,inf)", "viscosity at the oil temperature"),
    REQ("n", "rpm", "rad/s", "[0,inf)", "speed"),
    REQ("D", "mm", "m", "(0,inf)", "outside diameter"),
    REQ("b", "mm", "m", "(0,inf)", "face width"),
    REQ("m_t", "mm", "m", "(0,inf)", "transverse module (bevel: outer)"),
    DEF("beta", "deg", "rad", "(-60,60)", "10", "helix or spiral angle, below 10 taken as 10"),
    REQ("dip", "1", "1", "[0,1]", "depth of the tip circle over D"),
};
static const trn_symbol iso_out[] = {
    OUT("tooth", "W", "W", "loss at the teeth"),
    OUT("sides", "W", "W", "loss at both faces together"),
};

static trn_status iso_call(const trn_value *in, trn_value *out)
{
    return trn_loss_churning_iso(in[0].x, in[1].x, in[2].x, in[3].x, in[4].x, in[5].x, in[6].x,
                                 &out[0].x, &out[1].x);
}

/* ---- loss.churning ------------------------------------------------------------------------ */

static const trn_symbol churning_in[] = {
    REQ("R", "mm", "m", "(0,inf)", "pitch radius (bevel: outer)"),
    REQ("b", "mm", "m", "(0,inf)", "face width"),
    REQ("m", "mm", "m", "(0,inf)", "normal module (bevel: outer transverse)"),
    REQ("z", "1", "1", "(0,inf)", "teeth"),
    REQ("h", "mm", "m", "[0,inf)", "depth of the pitch circle in the oil, up to 2R"),
    REQ("V_oil", "L", "m3", "(0,inf)", "oil of the sump"),
    REQ("rho", "kg/m3", "kg/m3", "(0,inf)", "density at the oil temperature"),
    REQ("nu", "mm2/s", "m2/s", "(0,inf)", "viscosity at the oil temperature"),
    REQ("n", "rpm", "rad/s", "(0,inf)", "speed"),
    DEF("alpha", "deg", "rad", "(0,45)", "20", "pressure angle"),
    DEF("beta", "deg", "rad", "(-60,60)", "0", "helix or spiral angle"),
};
static const trn_symbol churning_out[] = {
    OUT("Re", "1", "1", "Reynolds number, omega R b/nu"),
    OUT("Fr", "1", "1", "Froude number"),
    OUT("gamma", "m/s2", "m/s2", "measure of the centrifugal field"),
    OUT("C_m", "1", "1", "moment coefficient"),
    OUT("torque", "N.m", "N.m", "churning torque"),
    OUT("loss", "W", "W", "churning loss"),
};

static trn_status churning_call(const trn_value *in, trn_value *out)
{
    trn_churning_gear gear = {.R_m = in[0].x,
                              .b_m = in[1].x,
                              .m_m = in[2].x,
                              .z = in[3].x,
                              .h_m = in[4].x,
                              .V_oil_m3 = in[5].x,
                              .n_rad_s = in[8].x,
                              .alpha_rad = in[9].x,
                              .beta_rad = in[10].x};
    trn_churning c;
    trn_status status = trn_loss_churning(&gear, in[6].x, in[7].x, &c);
    if (status >= 0) {
        const double results[] = {c.Re, c.Fr, c.gamma_m_s2, c.C_m, c.torque_nm, c.loss_w};
        for (size_t i = 0; i < TRN_COUNT(results); i++)
            out[i].x = results[i];
    }
    return status;
}

/* ---- loss.churning_band ------------------------------------------------------------------- */

static const trn_symbol band_in[] = {
    REQ("central", "W", "W", "[0,inf)", "sum of loss.churning over the gears"),
    REQ("iso", "W", "W", "[0,inf)", "sum of loss.churning_iso over the gears"),
    DEF("scatter", "1", "1", "[1,inf)", "1.5", "scatter of the central law on other rigs"),
};
static const trn_symbol band_out[] = {
    OUT("low", "W", "W", "lower end of the band"),
    OUT("high", "W", "W", "upper end of the band"),
};

static trn_status band_call(const trn_value *in, trn_value *out)
{
    return trn_loss_churning_band(in[0].x, in[1].x, in[2].x, &out[0].x, &out[1].x);
}

/* ---- loss.disc ---------------------------------------------------------------------------- */

static const trn_symbol disc_in[] = {
    REQ("R", "mm", "m", "(0,inf)", "outside radius"),
    REQ("gap", "mm", "m", "(0,inf)", "axial clearance to the housing"),
    REQ("n", "rpm", "rad/s", "(0,inf)", "speed"),
    REQ("nu", "mm2/s", "m2/s", "(0,inf)", "viscosity at the oil temperature"),
    REQ("rho", "kg/m3", "kg/m3", "(0,inf)", "density at the oil temperature"),
};
static const trn_symbol disc_out[] = {
    OUT("Re", "1", "1", "Reynolds number, omega R^2/nu"),
    OUT("C_M", "1", "1", "moment coefficient of both faces"),
    OUT("regime", "1", "1", "1 merged, 2 separate laminar; 3 merged, 4 separate turbulent layers"),
    OUT("torque", "N.m", "N.m", "drag torque"),
    OUT("loss", "W", "W", "power lost"),
};

static trn_status disc_call(const trn_value *in, trn_value *out)
{
    trn_disc disc;
    trn_status status = trn_loss_disc(in[0].x, in[1].x, in[2].x, in[3].x, in[4].x, &disc);
    if (status >= 0) {
        out[0].x = disc.Re;
        out[1].x = disc.C_M;
        out[2].x = disc.regime;
        out[3].x = disc.torque_nm;
        out[4].x = disc.loss_w;
    }
    return status;
}

/* ---- loss.seal ---------------------------------------------------------------------------- */

static const char *const materials[] = {"nitrile", "fluoroelastomer", NULL};

static const trn_symbol seal_in[] = {
    REQ("d", "mm", "m", "(0,inf)", "shaft diameter"),
    REQ("n", "rpm", "rad/s", "[0,inf)", "speed"),
    DEF("part", "1", "1", "[1,2]", "2", "part of the thermal rating report, 1 or 2"),
    WORD("material", materials, "nitrile", "lip, used by part 1"),
};
static const trn_symbol seal_out[] = {
    OUT("loss", "W", "W", "power lost at one lip"),
};

static trn_status seal_call(const trn_value *in, trn_value *out)
{
    int part = in[2].x == 1 ? 1 : in[2].x == 2 ? 2 : 0;
    return trn_loss_seal(in[0].x, in[1].x, part, (trn_seal_material)(int)in[3].x, &out[0].x);
}

/* ---- table -------------------------------------------------------------------------------- */

const trn_formula trn_formulas_loss[] = {
    {
        .name = "loss.mesh",
        .what = "power lost in a mesh",
        .equation = "loss = P mu H_v",
        .validity = "mean friction and loss factor of the same method (gear.friction with "
                    "gear.loss_factor or gear.bevel_virtual)",
        .source = "TR14179-2",
        .standing = "memory",
        .example = "P=18kW mu=0.0552959 H_v=0.1804222",
        ENTRY(mesh),
    },
    {
        .name = "bearing.friction_values",
        .what = "friction values and deciding load of a rolling bearing by its kind",
        .equation = "deep_groove: f0 = 2, f1 = 0.0009 (P0/C0)^0.55, P1 = 3 Fa - 0.1 Fr, "
                    "P0 = max(0.6 Fr + 0.5 Fa, Fr)\n"
                    "angular_15 ... 40: f0 = 3.3, f1 = 0.001 (P0/C0)^0.33, P1 = Fa - 0.1 Fr, "
                    "P0 = max(0.5 Fr + Y0 Fa, Fr), Y0 = 0.46 0.42 0.38 0.33 0.29 0.26\n"
                    "tapered: f0 = 6, f1 = 0.0004, P1 = 2 Y Fa, Y = 0.4 cot alpha\n"
                    "cylindrical: f0 = 3, f1 = 0.0003, P1 = Fr; needle: f0 = 12, f1 = 0.002, "
                    "P1 = Fr\n"
                    "P1 never below Fr",
        .validity = "oil bath up to the lowest rolling element; f0 twice as large when flooded "
                    "(tapered 8 to 10)",
        .source = "Palmgren; TR14179-2; ISO15312",
        .standing = "memory (medium to high)",
        .example = "kind=tapered Fr=2.1kN Fa=1.3kN alpha=15deg",
        ENTRY(values),
    },
    {
        .name = "bearing.friction",
        .what = "friction moment of a rolling bearing and the power it costs",
        .equation = "M0 = 1e-7 f0 (nu n)^(2/3) dm^3 for nu n >= 2000, 160e-7 f0 dm^3 below\n"
                    "M1 = f1 P1 dm; loss = (M0 + M1) omega     (mm2/s, rev/min, mm, N, N.mm)",
        .validity = "oil bath; measured moments scatter by 30 to 50 %. The step of 0.8 % at "
                    "nu n = 2000 is in the source",
        .source = "Palmgren; TR14179-1; TR14179-2; ISO15312; loss-note",
        .standing = "memory; M0 published by one worked value",
        .example = "f0=6 f1=0.0004 nu=97.35mm2/s n=540rpm dm=67.4mm P1=3815N",
        ENTRY(bearing),
    },
    {
        .name = "loss.cases",
        .what = "loss of a bearing, mean over its load cases",
        .equation = "loss = sum(q_i loss_i)/sum(q_i)",
        .validity = "up to nine cases, each with its weight of time",
        .source = "loss-mean",
        .standing = "derived",
        .example = "loss1=20.4W q1=0.15 loss2=18.1W q2=0.15 loss3=19W q3=0.7",
        ENTRY(cases),
    },
    {
        .name = "loss.churning_iso",
        .what = "churning of one gear by the thermal rating report",
        .equation = "tooth = 7370 dip nu n^3 D^4.7 b R_f/(sqrt(tan beta) 0.2e26), "
                    "R_f = 7.93 - 4.648/m_t\n"
                    "sides = 1474 dip nu n^3 D^5.7/0.2e26     (W, mm2/s, rev/min, mm)",
        .validity = "dip 0 to 1, m_t above 0.5861 mm; helix below 10 deg counts as 10. "
                    "Exaggerates cold starts and high speed",
        .source = "AGMA96FTM9; TR14179-1",
        .standing = "memory (form high, constants medium to high)",
        .example = "nu=63.4mm2/s n=812rpm D=173.5mm b=34.5mm m_t=5.75mm dip=0.214 beta=24deg",
        ENTRY(iso),
    },
    {
        .name = "loss.churning",
        .what = "churning of one gear by the dimensionless law",
        .equation = "cos theta = 1 - h/R; h_t = 2.25 m; S_m = R^2 (2 theta - sin 2 theta) + "
                    "D b theta + 2 z theta h_t b/(pi cos alpha cos beta)\n"
                    "Re = omega R b/nu; Fr = omega^2 R/g, g = 9.81 m/s2; "
                    "gamma = omega^2 (R b m)^(1/3); torque = 1/2 rho omega^2 R^3 S_m C_m; loss = torque omega\n"
                    "E(c, d) = c Re^-0.21 to Re 6000, d from 9000, linear between\n"
                    "C_low = E(1.366, 0.239) (h/D)^0.45 (V_oil/D^3)^0.1 Fr^-0.6\n"
                    "C_high = E(20.797, 3.644) (h/D)^0.1 (V_oil/D^3)^-0.35 Fr^-0.88 "
                    "(b/D)^0.85\n"
                    "C_m: low to gamma = 750, high from 1250, linear between",
        .validity = "tested: modules 1.5 to 5 mm, b 10 to 40 mm, D 100 to 160 mm, 30 to 400 "
                    "mm2/s, to 7000 rpm; remark outside and for h above 0.8 R. Bevel wheel: as a "
                    "cylinder of its outer pitch radius, the safe side",
        .source = "Changenet2007; Changenet2011",
        .standing = "laws memory (high), gamma memory (medium to high), tested range memory "
                    "(low), blending practice",
        .example = "R=81mm b=32mm m=6mm z=27 h=40mm V_oil=2.5L rho=866.8kg/m3 nu=78.82mm2/s "
                   "n=540rpm",
        ENTRY(churning),
    },
    {
        .name = "loss.churning_band",
        .what = "band that two churning laws span",
        .equation = "low = min(iso, central/scatter); high = max(iso, scatter central)",
        .validity = "two laws of good standing differ by up to ten times above 1500 rpm: no one "
                    "figure stands alone",
        .source = "LukeOlver",
        .standing = "practice; the disagreement of methods published",
        .example = "central=17.863W iso=19.183W",
        ENTRY(band),
    },
    {
        .name = "loss.disc",
        .what = "drag of a wheel wholly under oil, as on an upright axle",
        .equation = "Re = omega R^2/nu; G = gap/R; torque = 1/2 rho omega^2 R^5 C_M\n"
                    "C_M = largest of 2 pi/(G Re), 3.70 G^0.1 Re^-0.5, 0.080 G^(-1/6) Re^-0.25, "
                    "0.102 G^0.1 Re^-0.2",
        .validity = "smooth disc, both faces: teeth are not in it, it bounds from below. Remark "
                    "outside 1e3 < Re < 1e7 or 0.0127 < G < 0.217",
        .source = "DailyNece",
        .standing = "coefficients memory (high), tested range published",
        .example = "R=88mm gap=9.5mm n=640rpm nu=74mm2/s rho=861kg/m3",
        ENTRY(disc),
    },
    {
        .name = "loss.seal",
        .what = "friction of one radial shaft seal lip",
        .equation = "part 2: loss = 7.69e-6 d^2 n     (W, mm, rev/min)\n"
                    "part 1: torque = 2.429e-3 d (nitrile) or 3.737e-3 d (fluoroelastomer) "
                    "N.m; loss = torque omega",
        .validity = "the two parts agree at 33.1 mm (nitrile) and 50.9 mm (fluoroelastomer)",
        .source = "TR14179-1; TR14179-2",
        .standing = "memory (high)",
        .example = "d=50mm n=540rpm",
        ENTRY(seal),
    },
};
const size_t trn_formulas_loss_count = TRN_COUNT(trn_formulas_loss);

const trn_source trn_sources_loss[] = {
    {"TR14179-1", "ISO/TR 14179-1:2001, gears, thermal rating, part 1: oil sump at 95 degC; "
                  "churning, bearing and seal losses",
     "title and scope published, formulas memory"},
    {"TR14179-2", "ISO/TR 14179-2:2001, gears, thermal rating, part 2: load-carrying capacity; "
                  "mesh losses, seal losses, heat transfer of housings",
     "memory"},
    {"Palmgren", "A. Palmgren, Ball and Roller Bearing Engineering: friction moment of rolling "
                 "bearings",
     "memory"},
    {"ISO15312", "ISO 15312, thermal speed rating of rolling bearings, annex A: reference values "
                 "of f0 and f1",
     "memory"},
    {"loss-note", "public technical note on ball bearing drag: f0 1.7, 30 mm2/s, 10500 rpm, "
                  "dm 45 mm give 0.072 N.m",
     "published"},
    {"AGMA96FTM9", "AGMA 96FTM9 (Phillips): churning losses by parts of a gear", "memory"},
    {"Changenet2007", "C. Changenet and P. Velex, J. Mech. Des. 129 (2007) 128: churning of one "
                      "gear by dimensional analysis",
     "memory"},
    {"Changenet2011", "C. Changenet, G. Leprince, F. Ville and P. Velex, J. Mech. Des. 133 (2011) "
                      "121009: laws of two regimes",
     "memory"},
    {"LukeOlver", "P. Luke and A. V. Olver, Proc. Instn Mech. Engrs G 213 (1999) 337: methods for "
                  "one gear gave under 5 and 75 N.m",
     "published"},
    {"loss-mean", "mean over time", "derived"},
    {"DailyNece", "J. W. Daily and R. E. Nece, J. Basic Eng. 82 (1960) 217: enclosed rotating "
                  "discs",
     "coefficients memory, range published"},
};
const size_t trn_sources_loss_count = TRN_COUNT(trn_sources_loss);
