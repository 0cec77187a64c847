/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <trunnion/heat.h>

#include "catalogue.h"

#define TEXT_OF(x) #x
#define TEXT(x) TEXT_OF(x) /* of a chosen number, written once in its header */

static const char *const laws[] = {"housing", "plate", NULL};

#define WALL REQ("T_wall", "degC", "K", "(-273.15,inf)", "temperature of the surface")
#define AIR REQ("T_air", "degC", "K", "(-273.15,inf)", "temperature of the air")
#define OUT_ALPHA OUT("alpha", "W/m2/K", "W/m2/K", "heat transfer per surface and degree")

/* ---- convection and radiation ------------------------------------------------------------- */

static const trn_symbol still_in[] = {
    REQ("h", "mm", "m", "(0,inf)", "height"),
    WALL,
    AIR,
    WORD("law", laws, "housing", "law of housings or of a smooth plate"),
};
static const trn_symbol still_out[] = {OUT_ALPHA};

static trn_status still_call(const trn_value *in, trn_value *out)
{
    return trn_heat_free_convection(in[0].x, in[1].x, in[2].x, (trn_heat_law)(int)in[3].x,
                                    &out[0].x);
}

static const trn_symbol moving_in[] = {
    REQ("l", "mm", "m", "(0,inf)", "length along the flow"),
    REQ("v", "m/s", "m/s", "[0,inf)", "speed of the air"),
    WALL,
    AIR,
    WORD("law", laws, "housing", "law of housings or of a smooth plate"),
};
static const trn_symbol moving_out[] = {OUT_ALPHA};

static trn_status moving_call(const trn_value *in, trn_value *out)
{
    return trn_heat_forced_convection(in[0].x, in[1].x, in[2].x, in[3].x,
                                      (trn_heat_law)(int)in[4].x, &out[0].x);
}

static const trn_symbol radiation_in[] = {
    REQ("epsilon", "1", "1", "[0,1]", "emissivity (paint of any colour 0.85 to 0.95)"),
    WALL,
    AIR,
};
static const trn_symbol radiation_out[] = {OUT_ALPHA};

static trn_status radiation_call(const trn_value *in, trn_value *out)
{
    return trn_heat_radiation(in[0].x, in[1].x, in[2].x, &out[0].x);
}

/* ---- layers and wall ---------------------------------------------------------------------- */

static const trn_symbol layered_in[] = {
    REQ("k", "W/m2/K", "W/m2/K", "(0,inf)", "heat transfer without the layer"),
    REQ("d", "mm", "m", "[0,inf)", "thickness of the layer"),
    REQ("lambda", "W/m/K", "W/m/K", "(0,inf)", "its conductivity (dry chaff or dust 0.05 to 0.1)"),
};
static const trn_symbol layered_out[] = {
    OUT("k_eff", "W/m2/K", "W/m2/K", "heat transfer under the layer"),
};

static trn_status layered_call(const trn_value *in, trn_value *out)
{
    return trn_heat_layered(in[0].x, in[1].x, in[2].x, &out[0].x);
}

static const trn_symbol wall_in[] = {
    REQ("T", "degC", "K", "(-273.15,inf)", "oil temperature"),
    AIR,
    OPT("heat_transfer", "W/m2/K", "W/m2/K", "(0,inf)",
        "of the clean box as a whole; left out: computed from the next three"),
    DEF("air_speed", "m/s", "m/s", "[0,inf)", "1.4", "speed of the air"),
    DEF("height", "mm", "m", "(0,inf)", "300", "height of the housing"),
    DEF("emissivity", "1", "1", "[0,1]", "0.9", "of the paint"),
    DEF("d", "mm", "m", "[0,inf)", "0", "thickness of the layer of crop residue"),
    DEF("lambda", "W/m/K", "W/m/K", "(0,inf)", TEXT(TRN_HEAT_RESIDUE_W_MK), "its conductivity"),
    DEF("alpha_oil", "W/m2/K", "W/m2/K", "(0,inf)", TEXT(TRN_HEAT_OIL_FILM_W_M2K),
        "oil to wall"),
    DEF("s", "mm", "m", "[0,inf)", TEXT(TRN_HEAT_WALL_MM), "thickness of the wall"),
    DEF("lambda_wall", "W/m/K", "W/m/K", "(0,inf)", TEXT(TRN_HEAT_WALL_W_MK),
        "conductivity of the wall (cast iron)"),
};
static const trn_symbol wall_out[] = {
    OUT("T_s", "degC", "K", "temperature of the outer surface"),
    OUT("alpha_out", "W/m2/K", "W/m2/K", "surface to air"),
    OUT("k", "W/m2/K", "W/m2/K", "oil to air"),
};

static trn_status wall_call(const trn_value *in, trn_value *out)
{
    trn_heat_surface surface = {.heat_transfer_w_m2k = in[2].given ? in[2].x : NAN,
                                .air_speed_m_s = in[3].x,
                                .height_m = in[4].x,
                                .emissivity = in[5].x,
                                .residue_m = in[6].x,
                                .residue_w_mk = in[7].x,
                                .film_w_m2k = in[8].x,
                                .wall_m = in[9].x,
                                .wall_w_mk = in[10].x};
    trn_heat_path path;
    trn_status status = trn_heat_wall(&surface, in[0].x, in[1].x, &path);
    if (status >= 0) {
        out[0].x = path.T_surface_k;
        out[1].x = path.alpha_out_w_m2k;
        out[2].x = path.k_w_m2k;
    }
    return status;
}

/* ---- sun, sum, balance -------------------------------------------------------------------- */

static const trn_symbol sun_in[] = {
    REQ("absorption", "1", "1", "[0,1]", "share of the sun that the paint takes up"),
    DEF("sun", "W/m2", "W/m2", "[0,inf)", "900", "sun on the surface"),
    REQ("area", "m2", "m2", "[0,inf)", "surface in the sun, seen from it"),
    REQ("k", "W/m2/K", "W/m2/K", "(0,inf)", "oil to air"),
    REQ("alpha_out", "W/m2/K", "W/m2/K", "(0,inf)", "surface to air"),
};
static const trn_symbol sun_out[] = {
    OUT("absorbed", "W", "W", "taken up by the surface"),
    OUT("sun_to_oil", "W", "W", "share of it in the balance of the oil"),
};

static trn_status sun_call(const trn_value *in, trn_value *out)
{
    return trn_heat_sun(in[0].x, in[1].x, in[2].x, in[3].x, in[4].x, &out[0].x, &out[1].x);
}

static const trn_symbol losses_in[] = {
    REQ("mesh", "W", "W", "[0,inf)", "all meshes"),
    REQ("churning", "W", "W", "[0,inf)", "all gears in oil"),
    REQ("bearings", "W", "W", "[0,inf)", "all bearings"),
    REQ("seals", "W", "W", "[0,inf)", "all lips"),
    DEF("P", "W", "W", "[0,inf)", "0", "power that enters the gearbox"),
};
static const trn_symbol losses_out[] = {
    OUT("loss", "W", "W", "power lost in the gearbox"),
    OUT("efficiency", "%", "1", "share of the power that leaves it; none without power"),
};

static trn_status losses_call(const trn_value *in, trn_value *out)
{
    return trn_heat_losses(in[0].x, in[1].x, in[2].x, in[3].x, in[4].x, &out[0].x, &out[1].x);
}

static const trn_symbol balance_in[] = {
    REQ("loss", "W", "W", "[0,inf)", "power lost at T"),
    REQ("sun", "W", "W", "[0,inf)", "sun that reaches the oil"),
    REQ("k", "W/m2/K", "W/m2/K", "[0,inf)", "oil to air"),
    REQ("A", "m2", "m2", "(0,inf)", "outside surface that gives off heat"),
    REQ("T", "degC", "K", "(-273.15,inf)", "oil temperature"),
    AIR,
};
static const trn_symbol balance_out[] = {
    OUT("given_off", "W", "W", "heat to the air"),
    OUT("residual", "W", "W", "left over: 0 at the temperature of the balance"),
};

static trn_status balance_call(const trn_value *in, trn_value *out)
{
    return trn_heat_balance(in[0].x, in[1].x, in[2].x, in[3].x, in[4].x, in[5].x, &out[0].x,
                            &out[1].x);
}

/* ---- heat.cycle --------------------------------------------------------------------------- */

static const trn_symbol cycle_in[] = {
    REQ("P", "W", "W", "[0,inf)", "heat while on"),
    REQ("kA", "W/K", "W/K", "(0,inf)", "heat transfer of the whole surface"),
    REQ("C", "J/K", "J/K", "(0,inf)", "heat capacity of box and oil"),
    REQ("on", "s", "s", "[0,inf)", "time on"),
    REQ("off", "s", "s", "[0,inf)", "time off"),
};
static const trn_symbol cycle_out[] = {
    OUT("peak", "K", "K", "highest rise over the air"),
    OUT("trough", "K", "K", "lowest rise"),
    OUT("mean", "K", "K", "mean rise"),
};

static trn_status cycle_call(const trn_value *in, trn_value *out)
{
    return trn_heat_cycle(in[0].x, in[1].x, in[2].x, in[3].x, in[4].x, &out[0].x, &out[1].x,
                          &out[2].x);
}

/* ---- table -------------------------------------------------------------------------------- */

/* Of air in the laws that hold it; the law of housings in still air holds none. */
#define AIR_LAW                                                                         \
    "air at T_f = (T_wall + T_air)/2 in K, 101325 Pa: mu = 1.458e-6 T_f^1.5/(T_f + "    \
    "110.4) Pa.s, rho = 101325/(287.05287 T_f) kg/m3, nu = mu/rho, k = 2.64638e-3 "     \
    "T_f^1.5/(T_f + 245.4 10^(-12/T_f)) W/m/K, Pr = 1006 mu/k; g = 9.81 m/s2"

const trn_formula trn_formulas_heat[] = {
    {
        .name = "heat.free_convection",
        .what = "heat transfer to still air",
        .equation = "housing: alpha = 18 h^-0.1 (dT/T_air)^0.3     (h in m, T_air in K)\n"
                    "plate: Nu = (0.825 + 0.387 Ra^(1/6)/(1 + (0.492/Pr)^(9/16))^(8/27))^2, "
                    "Ra = g dT h^3 Pr/(T_f nu^2), alpha = Nu k/h\n"
                    AIR_LAW,
        .validity = "air near 101 kPa; the housing's law holds its ribs and bosses and is twice "
                    "that of a smooth plate",
        .source = "TR14179-2; ChurchillChu; USSA1976; Cengel (check of the plate)",
        .standing = "housing memory (medium to high), plate memory (high), check of the plate "
                    "published",
        .example = "h=245mm T_wall=71.5degC T_air=31.2degC",
        ENTRY(still),
    },
    {
        .name = "heat.forced_convection",
        .what = "heat transfer to moving air",
        .equation = "housing: alpha = 0.0086 (Re^2 + Gr/2.5)^0.32/l, Re = v l/nu, "
                    "Gr = g l^3 dT/(T_air nu^2)\n"
                    "plate: Nu = 0.664 Re^0.5 Pr^(1/3) to Re 5e5, (0.037 Re^0.8 - 871) Pr^(1/3) "
                    "above; alpha = Nu k/l\n"
                    AIR_LAW,
        .validity = "air near 101 kPa; the housing's law holds the buoyancy too",
        .source = "TR14179-2; USSA1976; Cengel (check of the plate)",
        .standing = "housing memory (medium to high), plate memory (high), check of the plate "
                    "published",
        .example = "l=330mm v=2.65m/s T_wall=74.3degC T_air=27.9degC",
        ENTRY(moving),
    },
    {
        .name = "heat.radiation",
        .what = "heat transfer by radiation to surroundings as warm as the air",
        .equation = "alpha = epsilon sigma (T_wall + T_air)(T_wall^2 + T_air^2)     (K), "
                    "sigma = 5.670374419e-8 W/m2/K4",
        .validity = "emissivity 0 to 1",
        .source = "Cengel; heat-SB",
        .standing = "published",
        .example = "epsilon=0.92 T_wall=77.7degC T_air=24.4degC",
        ENTRY(radiation),
    },
    {
        .name = "heat.layered",
        .what = "heat transfer under one more layer",
        .equation = "1/k_eff = 1/k + d/lambda",
        .validity = "layer over the whole surface",
        .source = "heat-series",
        .standing = "derived",
        .example = "k=21.7W/m2/K d=3.4mm lambda=0.063W/m/K",
        ENTRY(layered),
    },
    {
        .name = "heat.wall",
        .what = "heat transfer of a housing from oil to air",
        .equation = "heat_transfer given: 1/k = 1/heat_transfer + d/lambda, alpha_out = "
                    "heat_transfer\n"
                    "else R_in = 1/alpha_oil + s/lambda_wall + d/lambda; (T - T_s)/R_in = "
                    "alpha_out (T_s - T_air); k = 1/(R_in + 1/alpha_out)\n"
                    "alpha_out(T_s) = max(free, forced convection) + radiation: "
                    "heat.free_convection with h = height and heat.forced_convection with l = "
                    "height, both by the law of housings, heat.radiation; T_wall = T_s in each, "
                    "by trial",
        .validity = "one temperature over the surface; shafts and hitch conduct nothing",
        .source = "TR14179-2; heat-series; heat-choice",
        .standing = "laws memory; film, wall and layer chosen",
        .example = "T=80degC T_air=30degC",
        ENTRY(wall),
    },
    {
        .name = "heat.sun",
        .what = "sun on a housing, and its share in the balance of the oil",
        .equation = "absorbed = absorption sun area; sun_to_oil = absorbed k/alpha_out",
        .validity = "taken up on the outer surface",
        .source = "heat-solair",
        .standing = "derived; 900 W/m2 chosen",
        .example = "absorption=0.8 area=0.12m2 k=7.2W/m2/K alpha_out=18W/m2/K",
        ENTRY(sun),
    },
    {
        .name = "heat.losses",
        .what = "losses of a gearbox and its efficiency",
        .equation = "loss = mesh + churning + bearings + seals; efficiency = 1 - loss/P",
        .validity = "no windage, pumps or brakes; below 0 where more is lost than enters",
        .source = "heat-series",
        .standing = "derived",
        .example = "mesh=187.209W churning=14.794W bearings=57.548W seals=19.458W P=18kW",
        ENTRY(losses),
    },
    {
        .name = "heat.balance",
        .what = "heat that a gearbox gives off, and what is left over",
        .equation = "given_off = k A (T - T_air); residual = loss + sun - given_off",
        .validity = "the oil temperature is the one at which the residual is 0",
        .source = "heat-series",
        .standing = "derived",
        .example = "loss=279.009W sun=86.4W k=18W/m2/K A=0.4m2 T=80.751degC T_air=30degC",
        ENTRY(balance),
    },
    {
        .name = "heat.cycle",
        .what = "temperature rises of a box that runs and rests in turn",
        .equation = "tau = C/kA; peak = (P/kA)(1 - e^(-on/tau))/(1 - e^(-(on + off)/tau))\n"
                    "trough = peak e^(-off/tau); mean = (P/kA) on/(on + off)",
        .validity = "one lumped body, heat transfer the same on and off, many turns past",
        .source = "heat-series",
        .standing = "derived",
        .example = "P=347W kA=7.45W/K C=23400J/K on=1500s off=2350s",
        ENTRY(cycle),
    },
};
const size_t trn_formulas_heat_count = TRN_COUNT(trn_formulas_heat);

const trn_source trn_sources_heat[] = {
    {"ChurchillChu", "S. W. Churchill and H. H. S. Chu, Int. J. Heat Mass Transfer 18 (1975) 1323: "
                     "free convection at a vertical plate",
     "memory"},
    {"USSA1976", "US Standard Atmosphere 1976: viscosity and conductivity of air", "memory"},
    {"Cengel", "Y. A. Cengel, Heat and Mass Transfer, solutions to chapters 7 and 9: plate in an "
               "air stream, sides of a tank",
     "published"},
    {"heat-SB", "Stefan-Boltzmann law, constant after CODATA 2018", "published"},
    {"heat-series", "heat balance of a lumped body; resistances in series", "derived"},
    {"heat-choice", "film 200 W/m2/K, 8 mm of cast iron at 50 W/m/K, residue 0.06 W/m/K: chosen; "
                    "the first two hardly matter, the layer does",
     "practice"},
    {"heat-solair", "sol-air temperature: sun taken up outside acts through the outer resistance "
                    "only",
     "derived"},
};
const size_t trn_sources_heat_count = TRN_COUNT(trn_sources_heat);
