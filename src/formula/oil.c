/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <trunnion/oil.h>

#include "catalogue.h"

#define KV40 REQ("kv40", "mm2/s", "m2/s", "(0,inf)", "viscosity at 40 degC")
#define KV100 REQ("kv100", "mm2/s", "m2/s", "(0,inf)", "viscosity at 100 degC")
#define KV100_INDEX REQ("kv100", "mm2/s", "m2/s", "[2,inf)", "viscosity at 100 degC")
#define RHO15 REQ("rho15", "kg/m3", "kg/m3", "(0,inf)", "density at 15 degC")
#define TEMPERATURE(name, what) REQ(name, "degC", "K", "(-273.15,inf)", what)

/* ---- viscosity ---------------------------------------------------------------------------- */

static const trn_symbol viscosity_in[] = {
    KV40,
    REQ("kv100", "mm2/s", "m2/s", "[0.21,inf)", "viscosity at 100 degC"),
    TEMPERATURE("T", "temperature of the oil"),
};
static const trn_symbol viscosity_out[] = {
    OUT("nu", "mm2/s", "m2/s", "kinematic viscosity at T"),
};

static trn_status viscosity_call(const trn_value *in, trn_value *out)
{
    return trn_oil_viscosity(in[0].x, in[1].x, in[2].x, &out[0].x);
}

static const trn_symbol viscosity_index_in[] = {KV40, KV100_INDEX};
static const trn_symbol viscosity_index_out[] = {
    OUT("VI", "1", "1", "viscosity index, unrounded"),
    OUT("printed", "1", "1", "viscosity index as a whole number, halves to even"),
};

static trn_status viscosity_index_call(const trn_value *in, trn_value *out)
{
    return trn_oil_index(in[0].x, in[1].x, &out[0].x, &out[1].x);
}

static const trn_symbol kv40_from_index_in[] = {
    KV100_INDEX,
    REQ("VI", "1", "1", NULL, "viscosity index"),
};
static const trn_symbol kv40_from_index_out[] = {
    OUT("kv40", "mm2/s", "m2/s", "viscosity at 40 degC"),
};

static trn_status kv40_from_index_call(const trn_value *in, trn_value *out)
{
    return trn_oil_kv40_from_index(in[0].x, in[1].x, &out[0].x);
}

/* ---- grades ------------------------------------------------------------------------------- */

static const char *const editions[] = {"2005", "2019", NULL};
static const int edition_years[] = {2005, 2019};

static const trn_symbol gear_grade_in[] = {
    KV100,
    WORD("edition", editions, "2019", "year of the table of limits"),
};
static const trn_symbol gear_grade_out[] = {
    OUTWORD("grade", trn_oil_gear_grades, "gear grade, high-temperature side"),
};

static trn_status gear_grade_call(const trn_value *in, trn_value *out)
{
    size_t grade = 0;
    if (!(in[1].x >= 0 && in[1].x < (double)TRN_COUNT(edition_years)))
        return TRN_E_DOMAIN;
    trn_status status = trn_oil_gear_grade(in[0].x, edition_years[(size_t)in[1].x], &grade);
    out[0].x = (double)grade;
    return status;
}

static const trn_symbol vg_in[] = {KV40};
static const trn_symbol vg_out[] = {
    OUTWORD("grade", trn_oil_vg_grades, "industrial viscosity grade"),
};

static trn_status vg_call(const trn_value *in, trn_value *out)
{
    size_t grade = 0;
    trn_status status = trn_oil_vg(in[0].x, &grade);
    out[0].x = (double)grade;
    return status;
}

static const trn_symbol code_in[] = {
    REQ("dust", "mg/L", "kg/m3", "[0,inf)", "dust in the oil"),
};
static const trn_symbol code_out[] = {
    OUT("R14", "1", "1", "cleanliness code for particles above 14 um"),
};

static trn_status code_call(const trn_value *in, trn_value *out)
{
    int code = 0;
    trn_status status = trn_oil_code(in[0].x, &code);
    out[0].x = code;
    return status;
}

/* ---- properties --------------------------------------------------------------------------- */

static const trn_symbol density_in[] = {RHO15, TEMPERATURE("T", "temperature of the oil")};
static const trn_symbol density_out[] = {OUT("rho", "kg/m3", "kg/m3", "density at T")};

static trn_status density_call(const trn_value *in, trn_value *out)
{
    return trn_oil_density(in[0].x, in[1].x, &out[0].x);
}

static const trn_symbol heat_capacity_in[] = {RHO15, TEMPERATURE("T", "temperature of the oil")};
static const trn_symbol heat_capacity_out[] = {
    OUT("cp", "J/kg/K", "J/kg/K", "specific heat capacity at T"),
};

static trn_status heat_capacity_call(const trn_value *in, trn_value *out)
{
    return trn_oil_heat_capacity(in[0].x, in[1].x, &out[0].x);
}

static const trn_symbol pressure_viscosity_in[] = {
    REQ("nu", "mm2/s", "m2/s", "(0,inf)", "kinematic viscosity at the temperature meant"),
    WORD("base", trn_oil_bases, NULL, "base oil"),
};
static const trn_symbol pressure_viscosity_out[] = {
    OUT("alpha", "1/GPa", "1/Pa", "pressure coefficient of viscosity"),
};

static trn_status pressure_viscosity_call(const trn_value *in, trn_value *out)
{
    if (!(in[1].x >= 0 && in[1].x < TRN_OIL_BASES))
        return TRN_E_DOMAIN;
    return trn_oil_pressure_viscosity(in[0].x, (trn_oil_base)(int)in[1].x, &out[0].x);
}

/* ---- life --------------------------------------------------------------------------------- */

static const trn_symbol ageing_life_in[] = {
    REQ("L_ref", "h", "s", "(0,inf)", "life at T_ref"),
    TEMPERATURE("T_ref", "temperature of the known life"),
    TEMPERATURE("T", "temperature of the sump"),
};
static const trn_symbol ageing_life_out[] = {OUT("L", "h", "s", "life at T")};

static trn_status ageing_life_call(const trn_value *in, trn_value *out)
{
    return trn_oil_ageing_life(in[0].x, in[1].x, in[2].x, &out[0].x);
}

static const char *const no_yes[] = {"no", "yes", NULL};

static const trn_symbol water_life_in[] = {
    REQ("x", "ppm", "1", "(0,inf)", "dissolved water, mg in a kg of oil"),
};
static const trn_symbol water_life_out[] = {
    OUT("L_rel", "1", "1", "bearing life relative to oil with 100 ppm"),
    OUTWORD("extrapolated", no_yes, "outside the contents that were tested"),
};

static trn_status water_life_call(const trn_value *in, trn_value *out)
{
    int extrapolated = 0;
    trn_status status = trn_oil_water_life(in[0].x, &out[0].x, &extrapolated);
    out[1].x = extrapolated;
    return status;
}

/* ---- balance of a sump -------------------------------------------------------------------- */

static const trn_symbol contamination_in[] = {
    REQ("m", "kg", "kg", "(0,inf)", "oil in the sump"),
    REQ("s", "mg/h", "kg/s", "[0,inf)", "contaminant that comes in or is worn off"),
    REQ("t", "h", "s", "[0,inf)", "time"),
    DEF("q", "kg/h", "kg/s", "[0,inf)", "0", "oil lost and replaced"),
    DEF("C_new", "ppm", "1", "[0,inf)", "0", "content of the replacing oil"),
    DEF("k", "1/h", "1/s", "[0,inf)", "0", "removal by settling, magnet, filter"),
    DEF("C_0", "ppm", "1", "[0,inf)", "0", "content at the beginning"),
};
static const trn_symbol contamination_out[] = {
    OUT("C", "ppm", "1", "content after t"),
    OUT("C_inf", "ppm", "1", "content that it tends to"),
};

static trn_status contamination_call(const trn_value *in, trn_value *out)
{
    trn_oil_sump sump = {
        .oil_kg = in[0].x,
        .source_kgs = in[1].x,
        .leak_kgs = in[3].x,
        .fresh = in[4].x,
        .removal_per_s = in[5].x,
        .start = in[6].x,
    };
    return trn_oil_contamination(sump, in[2].x, &out[0].x, &out[1].x);
}

static const trn_symbol breathing_in[] = {
    REQ("V_oil", "L", "m3", "(0,inf)", "oil in the box"),
    REQ("V_air", "L", "m3", "(0,inf)", "headspace when cold"),
    REQ("T_cold", "degC", "K", "(-240.97,inf)", "temperature cold, and of the outside air"),
    TEMPERATURE("T_hot", "temperature hot, not below T_cold"),
    REQ("dust", "mg/m3", "kg/m3", "[0,inf)", "dust in the outside air"),
    REQ("RH", "%", "1", "[0,100]", "relative humidity of the outside air"),
};
static const trn_symbol breathing_out[] = {
    OUT("V_inhaled", "L", "m3", "outside air drawn in by one cool-down"),
    OUT("dust", "mg", "kg", "dust drawn in, at most"),
    OUT("water", "mg", "kg", "water drawn in, at most"),
};

static trn_status breathing_call(const trn_value *in, trn_value *out)
{
    trn_oil_box box = {
        .oil_m3 = in[0].x,
        .air_m3 = in[1].x,
        .cold_k = in[2].x,
        .hot_k = in[3].x,
        .dust_kgm3 = in[4].x,
        .humidity = in[5].x,
    };
    trn_oil_breath breath = {0};
    trn_status status = trn_oil_breathing(box, &breath);
    out[0].x = breath.inhaled_m3;
    out[1].x = breath.dust_kg;
    out[2].x = breath.water_kg;
    return status;
}

/* ---- entries ------------------------------------------------------------------------------ */

const trn_formula trn_formulas_oil[] = {
    {
        .name = "oil.viscosity",
        .what = "viscosity of an oil at a temperature from its values at 40 and 100 degC",
        .equation = "Z(nu) = nu + 0.7 + exp(-1.47 - 1.84 nu - 0.51 nu^2), nu in mm2/s\n"
                    "log10 log10 Z = A - B log10 T, T in K; A, B from kv40 and kv100",
        .validity = "cloud point (below it wax makes the oil thicker) to boiling; refused: kv40 "
                    "not above kv100, kv100 below 0.21, a result outside 0.21 to 2e7 mm2/s",
        .source = "D341 (eq. 1 to 3)",
        .standing = "published",
        .example = "kv40=142mm2/s kv100=14.5mm2/s T=80degC",
        ENTRY(viscosity),
    },
    {
        .name = "oil.viscosity_index",
        .what = "viscosity index from the values at 40 and 100 degC",
        .equation = "kv40 >= H: VI = 100 (L - kv40)/(L - H)\n"
                    "kv40 < H: VI = 100 + (10^N - 1)/0.00715, N = log10(H/kv40)/log10 kv100\n"
                    "L, H: table to kv100 = 70, linear between rows; above, "
                    "L = 0.8353 kv100^2 + 14.67 kv100 - 216, "
                    "H = 0.1684 kv100^2 + 11.85 kv100 - 97",
        .validity = "kv100 from 2 mm2/s; refused: kv40 not above kv100",
        .source = "D2270 (clauses 5, 6, table 1)",
        .standing = "published",
        .example = "kv40=73.30mm2/s kv100=8.86mm2/s",
        ENTRY(viscosity_index),
    },
    {
        .name = "oil.kv40_from_index",
        .what = "viscosity at 40 degC that gives a viscosity index",
        .equation = "VI <= 100: kv40 = L - VI (L - H)/100\n"
                    "VI > 100: kv40 = H/kv100^N, N = log10(0.00715 (VI - 100) + 1)",
        .validity = "kv100 from 2 mm2/s; refused: a result not above kv100",
        .source = "D2270 (clauses 5, 6, table 1)",
        .standing = "derived",
        .example = "kv100=18.75mm2/s VI=95",
        ENTRY(kv40_from_index),
    },
    {
        .name = "oil.gear_grade",
        .what = "automotive gear grade by viscosity at 100 degC",
        .equation = "2019, grade from kv100: 65 3.8, 70 5.0, 75 6.5, 80 8.5, 85 11.0, 90 13.5, "
                    "110 18.5, 140 24.0, 190 32.5, 250 41.0\n"
                    "2005: 80 from 7.0, then the same",
        .validity = "high-temperature side only: a winter grade (W) needs the coldest temperature "
                    "for 150 Pa.s as well; limits hold after shearing too",
        .source = "J306 (table)",
        .standing = "published",
        .example = "kv100=14.5mm2/s",
        ENTRY(gear_grade),
    },
    {
        .name = "oil.vg",
        .what = "industrial viscosity grade by viscosity at 40 degC",
        .equation = "VG n where the printed band, about n - 10 % to n + 10 %, holds kv40, "
                    "both limits included",
        .validity = "VG 2 to VG 3200; none between the bands",
        .source = "ISO3448 (table)",
        .standing = "published to VG 1500, memory above",
        .example = "kv40=215mm2/s",
        ENTRY(vg),
    },
    {
        .name = "oil.density",
        .what = "density of an oil at a temperature",
        .equation = "x = (0.6278/rho15)(T - 15), rho = rho15 exp[-x (1 + 0.8 x)], T in degC",
        .validity = "remark outside 800 to 1164 kg/m3 or -20 to 150 degC",
        .source = "D1250 (lubricating oils)",
        .standing = "memory",
        .example = "rho15=895kg/m3 T=80degC",
        ENTRY(density),
    },
    {
        .name = "oil.heat_capacity",
        .what = "specific heat capacity of an oil at a temperature",
        .equation = "cp = (1685 + 3.39 T)/sqrt(rho15/1000), T in degC",
        .validity = "petroleum oils, about 4 %; remark outside 0 to 150 degC",
        .source = "CRAGOE",
        .standing = "memory",
        .example = "rho15=895kg/m3 T=80degC",
        ENTRY(heat_capacity),
    },
    {
        .name = "oil.pressure_viscosity",
        .what = "pressure coefficient of viscosity by base oil",
        .equation = "alpha = s nu^t, 1/GPa, nu in mm2/s\n"
                    "s, t: mineral 9.904, 0.1390; pao 7.382, 0.1335; ester 6.605, 0.1360; "
                    "pag 5.489, 0.1485",
        .validity = "secant value at about 0.2 GPa; about 23 % below low-pressure measurements "
                    "(12 % of a film); remark outside 3 to 1000 mm2/s",
        .source = "GOLD",
        .standing = "memory",
        .example = "nu=26mm2/s base=mineral",
        ENTRY(pressure_viscosity),
    },
    {
        .name = "oil.ageing_life",
        .what = "life of an oil against oxidation at a temperature from that at another",
        .equation = "L = L_ref 10^[4750 (1/T - 1/T_ref)], T in K",
        .validity = "oxidation alone; remark where a temperature is outside 40 to 150 degC; an "
                    "L_ref from a drain table already holds a margin",
        .source = "KB2003",
        .standing = "published",
        .example = "L_ref=4000h T_ref=80degC T=90degC",
        ENTRY(ageing_life),
    },
    {
        .name = "oil.water_life",
        .what = "life of a rolling bearing with dissolved water relative to 100 ppm",
        .equation = "L_rel = (100/x)^0.6, x in ppm",
        .validity = "tested at 25, 100 and 400 ppm, one bearing type and one oil; not for free "
                    "water; only for comparing two water contents",
        .source = "CANTLEY",
        .standing = "published",
        .example = "x=250ppm",
        ENTRY(water_life),
    },
    {
        .name = "oil.code",
        .what = "cleanliness code above 14 um of a dust content",
        .equation = "n = 24 dust, particles above 14 um per mL, dust in mg/L\n"
                    "R14 = code whose band holds n, lower limit excluded, upper included",
        .validity = "dust of the size spread of graded test dusts, to one code either way; "
                    "refused: n above 2500000",
        .source = "OIL-ISO4406 (table of codes); ISO12103 (grade limits)",
        .standing = "codes 10 to 24 published, others memory, 24 per mL and mg/L derived",
        .example = "dust=20mg/L",
        ENTRY(code),
    },
    {
        .name = "oil.contamination",
        .what = "content of a mixed sump with source, replaced leak and removal",
        .equation = "lam = q/m + k, C_inf = (s/m + q C_new/m)/lam\n"
                    "C = C_0 exp(-lam t) + C_inf (1 - exp(-lam t)); lam = 0: C = C_0 + s t/m",
        .validity = "constant rates, well mixed; C_inf = inf with a source and lam = 0",
        .source = "OIL-BALANCE",
        .standing = "derived",
        .example = "m=2.2kg s=0.6mg/h t=250h q=0.002kg/h",
        ENTRY(contamination),
    },
    {
        .name = "oil.breathing",
        .what = "air, dust and water drawn in by one cool-down of a vented box",
        .equation = "dV = 7e-4 V_oil (T_hot - T_cold)\n"
                    "V_inhaled = V_air - (V_air - dV) T_cold/T_hot, T in K\n"
                    "e_s = 611.21 exp[17.502 T_cold/(240.97 + T_cold)] Pa, T_cold in degC\n"
                    "dust = V_inhaled dust, water = V_inhaled RH e_s/(461.5 T_cold), T in K",
        .validity = "no breather filter, everything kept: upper bounds; remark for T_cold outside "
                    "-20 to 50 degC; refused: T_hot below T_cold, dV above V_air",
        .source = "BUCK; OIL-BALANCE",
        .standing = "derived, vapour pressure memory",
        .example = "V_oil=2.5L V_air=1.5L T_cold=25degC T_hot=80degC dust=25mg/m3 RH=80%",
        ENTRY(breathing),
    },
};
const size_t trn_formulas_oil_count = TRN_COUNT(trn_formulas_oil);

const trn_source trn_sources_oil[] = {
    {"D341", "ASTM D341-09, viscosity-temperature charts for liquid petroleum products, eq. 1 to 3",
     "published"},
    {"D2270", "ASTM D2270-10 (ISO 2909), calculating viscosity index, clauses 5 and 6, table 1",
     "published"},
    {"J306", "SAE J306, automotive gear lubricant viscosity classification, tables of 2005 and "
             "2019",
     "published"},
    {"ISO3448", "ISO 3448, industrial liquid lubricants, viscosity classification, table of grades",
     "published"},
    {"D1250", "API MPMS 11.1 / ASTM D1250, volume correction, lubricating oils", "memory"},
    {"CRAGOE", "Cragoe, Thermal properties of petroleum products, NBS Misc. Publ. 97, 1929",
     "memory"},
    {"GOLD", "Gold, Schmidt, Dicke, Loos and Assmann, J. Synthetic Lubrication 18 (2001) 51, s "
             "and t",
     "memory"},
    {"KB2003", "Khonsari and Booser 2003, oil life against temperature: factor 2 each 10 K from "
               "100 to 150 degC, slope 4750/T", "published"},
    {"CANTLEY", "Cantley, ASLE Trans. 20 (1977) 244, tapered roller bearings, SAE 20 oil, 25, 100 "
                "and 400 ppm of water", "published"},
    {"OIL-ISO4406", "ISO 4406, coding the level of contamination by particles, table of codes",
     "published"},
    {"ISO12103", "ISO 12103-1, test dusts, grade limits of A2, A3, A4", "published"},
    {"OIL-BALANCE", "mass balance of a mixed sump; gas law of a vented box", "derived"},
    {"BUCK", "Buck, J. Appl. Meteorol. 20 (1981) 1527, vapour pressure over water", "memory"},
};
const size_t trn_sources_oil_count = TRN_COUNT(trn_sources_oil);
