/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <trunnion/extension.h>
#include <trunnion/interval.h>
#include <trunnion/wear.h>

#include "catalogue.h"

static const trn_symbol archard_in[] = {
    REQ("k", "1", "1", "[0,inf)", "wear coefficient, no dimension"),
    REQ("F", "N", "N", "[0,inf)", "normal force"),
    REQ("s", "m", "m", "[0,inf)", "distance slid"),
    REQ("H", "GPa", "Pa", "(0,inf)", "indentation hardness of the softer body"),
};
static const trn_symbol archard_out[] = {OUT("V", "mm3", "m3", "volume worn off")};

static trn_status archard_call(const trn_value *in, trn_value *out)
{
    return trn_wear_archard(in[0].x, in[1].x, in[2].x, in[3].x, &out[0].x);
}

static const trn_symbol dust_rate_in[] = {
    REQ("C", "mg/m3", "kg/m3", "[0,inf)", "dust in the air round the machine"),
    DEF("C_ref", "mg/m3", "kg/m3", "(0,inf)", "3", "dust that the manual's interval holds for"),
    DEF("x", "1", "1", "[0,1]", "0.08", "airborne share of the dirt load at the reference"),
};
static const trn_symbol dust_rate_out[] = {OUT("r", "1", "1", "rate against the reference")};

static trn_status dust_rate_call(const trn_value *in, trn_value *out)
{
    return trn_interval_dust_rate(in[0].x, in[1].x, in[2].x, &out[0].x);
}

static const trn_symbol grease_factor_in[] = {
    REQ("dust", "mg/m3", "kg/m3", "[0,inf)", "dust in the air round the machine"),
    REQ("shock", "1", "1", "[1,inf)", "application factor"),
    REQ("T", "degC", "K", "[-273.15,inf)", "temperature of the point"),
    REQ("load", "1", "1", "[0,inf)", "P/C, without the shock factor"),
    DEF("motion", "1", "1", "[0,inf)", "1", "speed times angle over the same at the reference"),
};
static const trn_symbol grease_factor_out[] = {
    OUT("f_dust", "1", "1", "factor of dust"),
    OUT("f_shock", "1", "1", "factor of shock"),
    OUT("f_heat", "1", "1", "factor of heat"),
    OUT("f_load", "1", "1", "factor of load"),
    OUT("f_motion", "1", "1", "factor of motion"),
    OUT("f", "1", "1", "product, not below 0.1"),
};

static trn_status grease_factor_call(const trn_value *in, trn_value *out)
{
    trn_grease_factors f = {0};
    trn_status status =
        trn_interval_grease_factor(in[0].x, in[1].x, in[2].x, in[3].x, in[4].x, &f);
    out[0].x = f.dust;
    out[1].x = f.shock;
    out[2].x = f.heat;
    out[3].x = f.load;
    out[4].x = f.motion;
    out[5].x = f.f;
    return status;
}

static const trn_symbol oil_cost_in[] = {
    REQ("c_change", "1", "1", "(0,inf)", "cost of one change, downtime included"),
    REQ("c_gear", "1", "1", "(0,inf)", "cost of the gearbox, lost season included"),
    REQ("L0", "h", "s", "(0,inf)", "gear life in clean oil"),
    REQ("C_s", "ppm", "1", "(0,inf)", "dust in the oil that doubles the wear"),
    REQ("m", "kg", "kg", "(0,inf)", "oil"),
    REQ("s", "mg/h", "kg/s", "(0,inf)", "dust that comes in"),
};
static const trn_symbol oil_cost_out[] = {
    OUT("T_opt", "h", "s", "cheapest interval"),
    OUT("g_opt", "1/h", "1/s", "cost per hour there, changes and wear"),
};

static trn_status oil_cost_call(const trn_value *in, trn_value *out)
{
    return trn_interval_oil_cost(in[0].x, in[1].x, in[2].x, in[3].x, in[4].x, in[5].x, &out[0].x,
                                 &out[1].x);
}

static const trn_symbol age_replacement_in[] = {
    REQ("beta", "1", "1", "(1,inf)", "Weibull slope"),
    REQ("eta", "h", "s", "(0,inf)", "Weibull scale"),
    REQ("c_planned", "1", "1", "(0,inf)", "cost of a planned replacement"),
    REQ("c_failure", "1", "1", "(0,inf)", "cost of a replacement after failure"),
};
static const trn_symbol age_replacement_out[] = {
    OUT("T_opt", "h", "s", "best age"),
    OUT("g", "1/h", "1/s", "cost per hour there"),
    OUT("g_run_to_failure", "1/h", "1/s", "cost per hour without planned replacement"),
};

static trn_status age_replacement_call(const trn_value *in, trn_value *out)
{
    return trn_interval_age_replacement(in[0].x, in[1].x, in[2].x, in[3].x, &out[0].x, &out[1].x,
                                        &out[2].x);
}

static const trn_symbol step_in[] = {REQ("T", "h", "s", NULL, "any interval of 4 h or more")};
static const trn_symbol step_out[] = {OUT("T_step", "h", "s", "step of the service clock")};

static trn_status step_call(const trn_value *in, trn_value *out)
{
    return trn_interval_step(in[0].x, &out[0].x);
}

static const trn_symbol intake_in[] = {
    REQ("dSi", "ppm", "1", "[0,inf)", "silicon gained, above the new oil's own"),
    REQ("t", "h", "s", "(0,inf)", "hours in which it was gained"),
    REQ("m", "kg", "kg", "(0,inf)", "oil"),
    REQ("dust", "mg/m3", "kg/m3", "(0,inf)", "mean dust in the air in those hours"),
    DEF("f_Si", "1", "1", "(0,0.467]", "0.30", "silicon in the dust"),
};
static const trn_symbol intake_out[] = {
    OUT("s", "mg/h", "kg/s", "dust that comes in"),
    OUT("Q", "L/h", "m3/s", "outside air that holds as much"),
};

static trn_status intake_call(const trn_value *in, trn_value *out)
{
    return trn_interval_intake(in[0].x, in[1].x, in[2].x, in[3].x, in[4].x, &out[0].x, &out[1].x);
}

static const trn_symbol budget_in[] = {
    REQ("B", "ppm", "1", "(0,inf)", "content at which the oil is drained"),
    REQ("m", "kg", "kg", "(0,inf)", "oil"),
    REQ("s", "mg/h", "kg/s", "[0,inf)", "what comes in"),
    DEF("k", "1/h", "1/s", "[0,inf)", "0", "removal"),
    DEF("C_new", "ppm", "1", "[0,inf)", "0", "content of fresh oil"),
    DEF("C_eq", "ppm", "1", "[0,inf)", "0", "content that removal alone would lead to"),
    DEF("residual", "%", "1", "[0,100)", "10", "old oil left at a change"),
};
static const trn_symbol budget_out[] = {
    OUT("C_0", "ppm", "1", "content after a change"),
    OUT("T", "h", "s", "hours until B is reached, inf if never"),
};

static trn_status budget_call(const trn_value *in, trn_value *out)
{
    return trn_interval_budget(in[0].x, in[1].x, in[2].x, in[3].x, in[4].x, in[5].x, in[6].x,
                               &out[0].x, &out[1].x);
}

static const trn_symbol visits_in[] = {
    REQ("T", "h", "s", "(0,inf)", "interval"),
    REQ("hours", "h", "s", "(0,inf)", "use in the year"),
    REQ("washes", "1", "1", "[0,inf)", "washes in the year"),
};
static const trn_symbol visits_out[] = {OUT("N", "1", "1", "services in the year")};

static trn_status visits_call(const trn_value *in, trn_value *out)
{
    return trn_interval_visits(in[0].x, in[1].x, in[2].x, &out[0].x);
}

static const trn_symbol extension_limit_in[] = {
    LIST("times", "h", "h", NULL, NULL, "hours on the oil of each sample"),
    LIST("values", "1", "1", NULL, NULL, "values of one measurand"),
    REQ("T", "h", "h", NULL, "interval proposed"),
    DEF("confidence", "%", "1", "[50,100)", "95", "one-sided"),
};
static const trn_symbol extension_limit_out[] = {
    OUT("upper", "1", "1", "upper prediction bound at T"),
    OUT("slope", "1/h", "1/h", "rise per hour"),
};

static trn_status extension_limit_call(const trn_value *in, trn_value *out)
{
    if (in[0].n != in[1].n)
        return TRN_E_DOMAIN;
    return trn_extension_limit(in[0].list, in[1].list, in[0].n, in[2].x, in[3].x, &out[0].x,
                               &out[1].x);
}

const trn_formula trn_formulas_interval[] = {
    {
        .name = "wear.archard",
        .what = "volume worn off the softer of two bodies that slide on each other",
        .equation = "V = k F s/H",
        .validity = "steady mild wear; k scatters tenfold between set-ups: plausibility only",
        .source = "Archard1953; TribologyTutorial (exercise 2)",
        .standing = "published",
        .example = "k=3.71e-6 F=2385N s=41873m H=6.43GPa",
        ENTRY(archard),
    },
    {
        .name = "interval.dust_rate",
        .what = "rate at which dust spends an oil's dirt budget, against the reference",
        .equation = "r = (1 - x) + x C/C_ref",
        .validity = "comparison of a duty with the condition that the manual's interval holds for",
        .source = "IntervalChoice; JointManual (250 h in place of 500 h)",
        .standing = "form and x chosen, halving in severe service published",
        .example = "C=45mg/m3",
        ENTRY(dust_rate),
    },
    {
        .name = "interval.grease_factor",
        .what = "factors of a greasing interval for dust, shock, heat, load and motion",
        .equation = "f_dust: straight in ln C through (3, 1) (15, 0.7) (50, 0.4) (150, 0.1)\n"
                    "f_shock: straight through (1, 1) (1.25, 0.9) (1.5, 0.7) (1.75, 0.4) "
                    "(2.25, 0.1)\n"
                    "f_heat = 2^(-(T - 70)/15) above 70 degC, else 1\n"
                    "f_load: straight through (0.1, 1) (0.15, 0.7) (0.25, 0.4) (0.35, 0.1)\n"
                    "f_motion = min(1, 1/motion)\n"
                    "f = max(0.1, f_dust f_shock f_heat f_load f_motion)",
        .validity = "points greased by hand; constant outside the points; a product under 0.1 "
                    "means automatic feed, a better seal or another joint",
        .source = "GfT3; RelubricationTables; IntervalChoice",
        .standing = "bands memory, places on them and motion chosen, heat published",
        .example = "dust=30mg/m3 shock=1.5 T=53degC load=0.12 motion=1.2",
        ENTRY(grease_factor),
    },
    {
        .name = "interval.oil_cost",
        .what = "cheapest oil-change interval where dust in the oil wears the gears",
        .equation = "g(T) = c_change/T + (c_gear/L0)(1 + s T/(2 m C_s))\n"
                    "T_opt = sqrt(2 c_change m C_s L0/(c_gear s))\n"
                    "g_opt = c_gear/L0 + 2 c_change/T_opt",
        .validity = "linear wear, no sudden failure, no ageing: beside a recommendation, never "
                    "instead of it",
        .source = "IntervalBalance",
        .standing = "derived",
        .example = "c_change=85 c_gear=1650 L0=3000h C_s=100ppm m=2.225kg s=0.2538mg/h",
        ENTRY(oil_cost),
    },
    {
        .name = "interval.age_replacement",
        .what = "cheapest age at which to replace a part before it fails",
        .equation = "g(T) = [c_planned R + c_failure (1 - R)]/integral_0^T R dt, "
                    "R = exp(-(T/eta)^beta)\n"
                    "h(T) integral_0^T R dt - F(T) = c_planned/(c_failure - c_planned)\n"
                    "g_run_to_failure = c_failure/(eta Gamma(1 + 1/beta))",
        .validity = "beta above 1 (else no finite best age), c_failure above c_planned",
        .source = "Barlow1965; Glasser1967; Blischke (ch. 16)",
        .standing = "published",
        .example = "beta=2.385 eta=3170h c_planned=137 c_failure=1293",
        ENTRY(age_replacement),
    },
    {
        .name = "interval.step",
        .what = "largest step of the service clock not above an interval",
        .equation = "T_step = largest of 4, 8, 10, 20, 25, 40, 50, 100, 125, 200, 250, 400, 500, "
                    "1000 h not above T (1 + 1e-9)",
        .validity = "T of 4 h or more; above 1000 h: 1000 h",
        .source = "ServiceSchedules",
        .standing = "practice",
        .example = "T=266.77h",
        ENTRY(step),
    },
    {
        .name = "interval.intake",
        .what = "dust rate and outside-air equivalent that a silicon rise shows",
        .equation = "s = (dSi/f_Si) m/t\nQ = s/C",
        .validity = "silicon that is dirt (aluminium rises too), after 50 h or more on the oil; a "
                    "lower bound",
        .source = "IntervalBalance; IntervalChoice",
        .standing = "derived, f_Si chosen",
        .example = "dSi=17.3ppm t=183h m=3.415kg dust=23.85mg/m3",
        ENTRY(intake),
    },
    {
        .name = "interval.budget",
        .what = "hours until a stirred sump with residual oil reaches a content",
        .equation = "C_0 = (1 - rho) C_new + rho B\n"
                    "dC/dt = s/m - k (C - C_eq)\n"
                    "T = ln(1 + k (B - C_0)/(s/m - k (B - C_eq)))/k;  k = 0: T = (B - C_0) m/s",
        .validity = "steady cycle, the oil drained at B; 0 where C_0 is at B, inf where B is "
                    "never reached",
        .source = "IntervalBalance",
        .standing = "derived",
        .example = "B=400ppm m=3.415kg s=7.319mg/h k=0.0041 C_new=92ppm C_eq=71ppm residual=12.7",
        ENTRY(budget),
    },
    {
        .name = "interval.visits",
        .what = "services in a year where each wash calls for one and restarts the clock",
        .equation = "N = W/(1 - exp(-W T/H));  W = 0: N = H/T",
        .validity = "washes at random over the hours",
        .source = "IntervalBalance",
        .standing = "derived",
        .example = "T=23.85h hours=317h washes=7.3",
        ENTRY(visits),
    },
    {
        .name = "statistics.extension_limit",
        .what = "upper prediction bound of a straight line through samples",
        .equation = "b = Sxy/Sxx, a = mean y - b mean t, s^2 = sum (y - a - b t)^2/(n - 2)\n"
                    "upper = a + b T + t_(confidence, n-2) s sqrt(1 + 1/n + (T - mean t)^2/Sxx)",
        .validity = "3 or more samples, times not all equal; straight trend, even normal scatter",
        .source = "DraperSmith",
        .standing = "published",
        .example = "times=50/100/150/200/250 values=8/15/24/30/39 T=300h",
        ENTRY(extension_limit),
    },
};
const size_t trn_formulas_interval_count = TRN_COUNT(trn_formulas_interval);

const trn_source trn_sources_interval[] = {
    {"Archard1953", "Archard 1953, J. Appl. Phys. 24:981, law of sliding wear", "published"},
    {"TribologyTutorial", "University of Twente, tribology tutorial 3 (wear)", "published"},
    {"IntervalChoice", "number or form chosen here: table of choices, docs/interval.md", "chosen"},
    {"IntervalBalance", "balance of mass, cost or events: follows by arithmetic", "derived"},
    {"JointManual",
     "driveshaft lubrication manual: 500 h normal, 250 h in continuous or severe service",
     "published"},
    {"GfT3", "GfT Arbeitsblatt 3, reduction factors of relubrication, edition to be confirmed",
     "memory"},
    {"RelubricationTables",
     "rolling-bearing relubrication adjustment tables: halve for each 15 K above 70 degC",
     "published"},
    {"Barlow1965", "Barlow & Proschan 1965, Mathematical Theory of Reliability", "published"},
    {"Glasser1967", "Glasser 1967, The age replacement problem, Technometrics 9", "published"},
    {"Blischke", "Blischke & Murthy eds., Case Studies in Reliability and Maintenance",
     "published"},
    {"ServiceSchedules", "service schedules of tractors and implements", "practice"},
    {"DraperSmith", "Draper & Smith, Applied Regression Analysis, prediction of a single value",
     "published"},
};
const size_t trn_sources_interval_count = TRN_COUNT(trn_sources_interval);
