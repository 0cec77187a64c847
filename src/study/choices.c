/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <gsl/gsl_cdf.h>
#include <math.h>
#include <pthread.h>
#include <string.h>
#include <trunnion/choices.h>
#include <trunnion/formula.h>
#include <trunnion/interval.h>
#include <trunnion/text.h>

#define NUMBER(v) .value = (v)
#define CATALOGUE(f, s) .value = NAN, .formula = (f), .symbol = (s)
#define LIBRARY(c) .value = NAN, .at = &(c)
#define FORM .value = NAN
#define NO_SPREAD .spread = {TRN_SPREAD_NONE, 0}
#define LOGNORMAL(g) .spread = {TRN_SPREAD_LOGNORMAL, (g)}
#define NORMAL(s) .spread = {TRN_SPREAD_NORMAL, (s)}

/* chosen: brackets published operator and on-implement measurements */
static const trn_dust_class classes[] = {
    {"damp", 0.5, 2, "green mowing, wet soil, dew"},
    {"reference", 3, 2, "ordinary grass and hay mowing, firm ground"},
    {"dusty", 15, 2.5, "dry stubble, tedding, raking, baling"},
    {"severe", 50, 2.5, "mulching or shredding dry residue near bare soil, hay in drought, rotary "
                        "tilling"},
    {"extreme", 150, 3, "land planing, discing, orchard floor on powder-dry soil"},
};
enum { DUSTY = 2, CLASSES = sizeof classes / sizeof classes[0] };

static const trn_choice choices[TRN_CHOICE_COUNT] = {
    [TRN_CHOICE_DUST_STAYS] = {"dust_stays", "part of the log variance of shifts that stays over "
                               "an interval", "1", NUMBER(0.5), NO_SPREAD,
                               .reason = "days average out, machines and seasons do not"},
    [TRN_CHOICE_X] = {"x", "airborne share of the dirt load at the reference", "1",
                      CATALOGUE("interval.dust_rate", "x"), LOGNORMAL(1.33),
                      .reason = "halves the interval at 10 to 20 times the reference dust; 0.053 "
                                "to 0.111 as 10 to 90 %"},
    [TRN_CHOICE_X_MOST] = {"x_most", "the most that share is drawn as", "1", NUMBER(0.5),
                           NO_SPREAD, .reason = "half of the dirt is made inside or poured in"},
    [TRN_CHOICE_REF_DUST] = {"ref_dust", "dust that a manual's interval holds for", "mg/m3",
                             CATALOGUE("interval.dust_rate", "C_ref"), NO_SPREAD,
                             .reason = "ordinary mowing on firm ground; drawn as a dust"},
    [TRN_CHOICE_REF_DUST_DAILY] = {"ref_dust_daily", "the same where the interval is short",
                                   "mg/m3", NUMBER(15), NO_SPREAD,
                                   .reason = "who asks for it every day had dust in mind"},
    [TRN_CHOICE_DAILY] = {"daily", "interval up to which it counts as short", "h", NUMBER(10),
                          NO_SPREAD, .reason = "daily in a manual is 8 or 10 h"},
    [TRN_CHOICE_DUST_MARGIN] = {"dust_margin", "spare of the manual's interval against dust", "1",
                                NUMBER(1), NO_SPREAD, .reason = "no spare assumed: safe side"},
    [TRN_CHOICE_ADDITIVE_MARGIN] = {"additive_margin", "spare of the manual's interval against "
                                    "loss of additives", "1", NUMBER(1), NO_SPREAD,
                                    .reason = "no spare assumed: safe side, the weakest choice"},
    [TRN_CHOICE_F_SI] = {"f_Si", "silicon in dust", "1", CATALOGUE("interval.intake", "f_Si"),
                         NO_SPREAD, .reason = "typical soil; its spread is in dust_intake"},
    [TRN_CHOICE_DUST_BUDGET] = {"dust_budget", "dust in oil that doubles the wear, the content at "
                                "which it is drained", "ppm", NUMBER(100), LOGNORMAL(1.6),
                                .reason = "50 to 200 in use"},
    [TRN_CHOICE_INTAKE] = {"dust_intake", "outside air that passes the seals", "L/h", FORM,
                           LOGNORMAL(1.5), .reason = "from silicon: sampling; a stated one is in "
                                                     "no interval"},
    [TRN_CHOICE_AGEING_MINERAL] = {"ageing_life", "drain life of mineral and ester oil", "h",
                                   NUMBER(4000), LOGNORMAL(1.8),
                                   .reason = "drain tables give 1400 to 10 000 h"},
    [TRN_CHOICE_AGEING_SYNTHETIC] = {"ageing_life_synthetic", "drain life of pao and pag oil", "h",
                                     NUMBER(15000), LOGNORMAL(1.4),
                                     .reason = "drain tables give 8000 to 20 000 h"},
    [TRN_CHOICE_AGEING_GIVEN] = {"ageing_life_given", "spread of a drain life that is given", "h",
                                 FORM, LOGNORMAL(1.4), .reason = "as of the synthetic oils"},
    [TRN_CHOICE_AGEING_TEMPERATURE] = {"ageing_temperature", "oil temperature of the drain life",
                                       "degC", NUMBER(80), NO_SPREAD,
                                       .reason = "middle of the drain tables; the slope is steeper "
                                                 "than theirs"},
    [TRN_CHOICE_AGEING_FRACTION] = {"ageing_fraction", "usable part of the drain life", "1",
                                    NUMBER(1), NO_SPREAD,
                                    .reason = "a drain table is no life to failure"},
    [TRN_CHOICE_WATER_DAMP] = {"water_damp", "water from which oil ages faster", "ppm",
                               NUMBER(200), NO_SPREAD, .reason = "half of the water budget"},
    [TRN_CHOICE_WATER_BUDGET] = {"water_budget", "water at which oil is drained", "ppm",
                                 NUMBER(400), NO_SPREAD,
                                 .reason = "edge of the tested water data"},
    [TRN_CHOICE_CATALYST_DAMP] = {"catalyst_damp", "ageing of damp oil", "1",
                                  CATALOGUE("interval.ageing", "F_damp"), NO_SPREAD,
                                  .reason = "far below the bench factor of 9 with iron"},
    [TRN_CHOICE_CATALYST_WET] = {"catalyst_wet", "ageing of wet oil", "1",
                                 CATALOGUE("interval.ageing", "F_wet"), NO_SPREAD,
                                 .reason = "far below the bench factor of 35 with copper"},
    [TRN_CHOICE_WATER_FRESH] = {"water_fresh", "water of new oil, and where warm oil settles",
                                "ppm", NUMBER(100), NO_SPREAD, .reason = "50 to 300 quoted"},
    [TRN_CHOICE_DRYING] = {"drying", "drying of hot oil", "1/h",
                           CATALOGUE("interval.drying", "k_full"), LOGNORMAL(2.5),
                           .reason = "between none and 0.1 per hour"},
    [TRN_CHOICE_DRYING_FROM] = {"drying_from", "oil temperature from which it dries", "degC",
                                CATALOGUE("interval.drying", "T_dry"), NO_SPREAD,
                                .reason = "colder oil gives off little"},
    [TRN_CHOICE_DRYING_FULL] = {"drying_full", "oil temperature from which it dries fully", "degC",
                                CATALOGUE("interval.drying", "T_full"), NO_SPREAD,
                                .reason = "usual working temperature"},
    [TRN_CHOICE_WATER_INTAKE] = {"water_intake", "water that a wash lets in; the spread is that of "
                                 "all water", "mL", NUMBER(0.2), LOGNORMAL(2),
                                 .reason = "seals; no data"},
    [TRN_CHOICE_WATER_SAMPLED] = {"water_sampled", "spread of a water source from samples", "mg/h",
                                  FORM, LOGNORMAL(1.5), .reason = "sampling and laboratory"},
    [TRN_CHOICE_ADDITIVE_STEP] = {"additive_step", "rise that doubles the loss of additives", "K",
                                  CATALOGUE("interval.additive_rate", "step"), NORMAL(1.5),
                                  .reason = "10 K rule, sources 8 to 15; loss goes with power"},
    [TRN_CHOICE_ADDITIVE_STEP_LEAST] = {"additive_step_least", "the least it is drawn as", "K",
                                        NUMBER(5), NO_SPREAD, .reason = "a draw must not vanish"},
    [TRN_CHOICE_OIL_MODELLED] = {"oil_temperature", "spread of an oil temperature from the heat "
                                 "balance", "K", FORM, NORMAL(7),
                                 .reason = "7 K is a factor of 2 in ageing"},
    [TRN_CHOICE_OIL_MEASURED] = {"oil_temperature_measured", "spread of a measured one", "K", FORM,
                                 NORMAL(3), .reason = "place and moment of the reading"},
    [TRN_CHOICE_OIL_CALIBRATED] = {"oil_temperature_calibrated", "spread in other conditions of a "
                                   "gearbox that was read", "K", FORM, NORMAL(4),
                                   .reason = "losses at another power are modelled still"},
    [TRN_CHOICE_SKIN_RISE] = {"skin_rise", "oil over the skin of its housing", "K", NUMBER(5),
                              NO_SPREAD, .reason = "common practice, no source; in the spread of a "
                                                   "reading"},
    [TRN_CHOICE_SETTLED] = {"settled", "time constants that a reading needs before the stop", "1",
                            NUMBER(2), NO_SPREAD,
                            .reason = "a box then has 86 % of its rise"},
    [TRN_CHOICE_COOLING_LOW] = {"cooling_low", "cooling factor below which the inputs do not agree",
                                "1", CATALOGUE("heat.cooling_factor", "low"), NO_SPREAD,
                                .reason = "half or twice the cooling is more than air and paint can do"},
    [TRN_CHOICE_COOLING_HIGH] = {"cooling_high", "the same above", "1",
                                 CATALOGUE("heat.cooling_factor", "high"), NO_SPREAD,
                                 .reason = "the same"},
    [TRN_CHOICE_GREASE_POINTS] = {"grease_points", "mg/m3 and application factors put on the "
                                  "edges of the worksheet's bands (interval.grease_factor)", "",
                                  FORM, NO_SPREAD, .reason = "the worksheet has words, no numbers"},
    [TRN_CHOICE_GREASE_EXPONENT] = {"grease_exponent", "exponent on the ratio of grease factors",
                                    "1", NUMBER(1), LOGNORMAL(1.25),
                                    .reason = "width of the worksheet's bands"},
    [TRN_CHOICE_SHOCK] = {"shock", "spread of an application factor, drawn as 1 or more", "1",
                          FORM, NORMAL(0.1), .reason = "one class in four"},
    [TRN_CHOICE_MOTION] = {"motion", "factor of motion min(1, 1/motion)", "", FORM, NO_SPREAD,
                           .reason = "sliding path and heat go with speed times angle"},
    [TRN_CHOICE_FLOOR] = {"product_floor", "least product of grease factors", "1",
                          LIBRARY(trn_interval_product_floor), NO_SPREAD,
                          .reason = "worksheet: below it automatic feed"},
    [TRN_CHOICE_POINT_RISE] = {"point_rise", "grease point above the ambient", "K", NUMBER(25),
                               NO_SPREAD, .reason = "no heat balance of joints; its spread is in "
                                                    "the exponent"},
    [TRN_CHOICE_DEBRIS] = {"debris_rate", "wear-debris rate from samples, against itself", "1",
                           NUMBER(1), LOGNORMAL(1.3), .reason = "sampling and laboratory"},
    [TRN_CHOICE_LEVEL] = {"level_check", "part of the level margin that may be lost", "1",
                          NUMBER(0.5), NO_SPREAD, .reason = "leaves time to act"},
    [TRN_CHOICE_RISK] = {"risk", "draws that may fall below a recommended interval", "%",
                         NUMBER(10), NO_SPREAD, .reason = "as the L10 life"},
    [TRN_CHOICE_SLACK] = {"clock_slack", "slack of the service clock", "%", NUMBER(10), NO_SPREAD,
                          .reason = "a C/T + b T trade missed by 10 % costs under 1 %"},
    [TRN_CHOICE_FIRST_CHANGE] = {"first_change", "first oil change, at most", "h", NUMBER(50),
                                 NO_SPREAD, .reason = "24 to 100 h quoted"},
    [TRN_CHOICE_FIRST_SHARE] = {"first_share", "and at most this part of the manual's interval",
                                "%", NUMBER(10), NO_SPREAD, .reason = "short intervals"},
    [TRN_CHOICE_EXTENSION_SAMPLES] = {"extension_samples", "samples that a longer interval needs",
                                      "1", NUMBER(4), NO_SPREAD,
                                      .reason = "one bad sample must not decide"},
    [TRN_CHOICE_EXTENSION_STEP] = {"extension_step", "longest step at a time", "1", NUMBER(1.25),
                                   NO_SPREAD, .reason = "the next samples judge it"},
    [TRN_CHOICE_EXTENSION_ALL] = {"extension_all", "longest interval over the manual's", "1",
                                  NUMBER(2), NO_SPREAD, .reason = "beyond it no experience"},
    [TRN_CHOICE_EXTENSION_CONFIDENCE] = {"extension_confidence", "one-sided confidence", "%",
                                         CATALOGUE("statistics.extension_limit", "confidence"),
                                         NO_SPREAD, .reason = "one bad sample must not decide"},
    [TRN_CHOICE_SOIL_EXPONENT] = {"soil_exponent", "dust falls with soil water to this power", "1",
                                  NUMBER(1), NO_SPREAD, .reason = "form published, 0.5 to 1.5"},
    [TRN_CHOICE_SHAFT_SLOPE] = {"shaft_slope", "slope of the S-N line of shafts and yokes "
                                "(`spectrum`)", "1", NUMBER(5), NO_SPREAD,
                                .reason = "welded tube yokes in shear; 3 welded and bent, 8 plain "
                                          "and twisted"},
    [TRN_CHOICE_RECORD_GAP] = {"record_gap", "longest step of a record that is no gap", "s",
                               NUMBER(10), NO_SPREAD,
                               .reason = "a fixed bound: parts of a record give the same"},
    [TRN_CHOICE_SEVERE_DUST] = {"severe_dust", "mean dust of the duty from which the manual's own "
                                "severe interval counts", "mg/m3", LIBRARY(classes[DUSTY].median_mg_m3),
                                NO_SPREAD, .reason = "dusty or worse: median of that class"},
    [TRN_CHOICE_REVIEW_SLOPE] = {"review_slope", "slope of lives in a failure review", "1",
                                 CATALOGUE("statistics.bayes_factor", "beta"), NO_SPREAD,
                                 .reason = "behind the reliability factor of bearings; the two "
                                           "below stand beside it"},
    [TRN_CHOICE_REVIEW_SLOPE_LOW] = {"review_slope_low", "flattest slope of its sensitivity table",
                                     "1", NUMBER(1.1), NO_SPREAD,
                                     .reason = "lower end of what is quoted for bearings"},
    [TRN_CHOICE_REVIEW_SLOPE_HIGH] = {"review_slope_high", "steepest slope of it", "1", NUMBER(2),
                                      NO_SPREAD, .reason = "flanks, seals, corrosion"},
    [TRN_CHOICE_REVIEW_ERROR] = {"review_error", "model error of the log of a life in a review",
                                 "1", CATALOGUE("statistics.bayes_factor", "s"), NO_SPREAD,
                                 .reason = "a factor of 1.65 either way: film, dirt and heat are "
                                           "not known better"},
    [TRN_CHOICE_REVIEW_ERROR_LOW] = {"review_error_low", "least model error of the sensitivity "
                                     "table", "1", NUMBER(0), NO_SPREAD,
                                     .reason = "lives taken as computed"},
    [TRN_CHOICE_REVIEW_ERROR_HIGH] = {"review_error_high", "largest model error of it", "1",
                                      NUMBER(1), NO_SPREAD,
                                      .reason = "a factor of 2.7 either way"},
    [TRN_CHOICE_REVIEW_OIL_LEFT] = {"review_oil_left", "oil lost beyond which every dip has to "
                                    "follow it, as a part of oil_volume", "1", NUMBER(0.1),
                                    NO_SPREAD, .reason = "what lies between the marks of a dipstick"},
    [TRN_CHOICE_REVIEW_DIP_FOLLOWS] = {"review_dip_follows", "least fall of the dips, over the "
                                       "part of the oil lost times the deepest dip", "1",
                                       NUMBER(0.5), NO_SPREAD,
                                       .reason = "1 or more where walls stand upright; half of it "
                                                 "for sumps that widen upward"},
    [TRN_CHOICE_REVIEW_TIE] = {"review_tie", "factors within this of the highest count as equally "
                               "good in a title", "1", NUMBER(1.1), NO_SPREAD,
                               .reason = "far below what slope and model error move a factor by"},
    [TRN_CHOICE_POWER] = {"power", "spread of a stated power, in the bands of lives", "kW", FORM,
                          LOGNORMAL(1.15), .reason = "mostly judged from fuel or from the tractor"},
    [TRN_CHOICE_POWER_LOG] = {"power_log", "the same where power_basis is log", "kW", FORM,
                              LOGNORMAL(1.05), .reason = "error of the torque reading, and other "
                                                         "seasons"},
    [TRN_CHOICE_CLEANLINESS] = {"cleanliness", "ISO 4406 codes by which oil may be cleaner or "
                                "dirtier than its class, a third of the draws each", "1",
                                NUMBER(1), NO_SPREAD, .reason = "a code is a factor of two in "
                                                                "particles, as two bottles differ"},
    [TRN_CHOICE_LIFE_MODEL] = {"life_model", "spread of ln L of a bearing about its model", "1",
                               FORM, NORMAL(0.5), .reason = "catalogue lives against fleets: a "
                                                            "factor of 0.6 to 1.65"},
};

const trn_choice *trn_choice_at(size_t i)
{
    return i < TRN_CHOICE_COUNT ? &choices[i] : NULL;
}

static double default_of(const trn_choice *c)
{
    const trn_formula *formula = trn_formula_find(c->formula);
    for (size_t i = 0; formula && i < formula->input_count; i++) {
        double x = NAN;
        const char *end = NULL;
        if (strcmp(formula->inputs[i].name, c->symbol) == 0 && formula->inputs[i].fallback &&
            trn_text_number_start(formula->inputs[i].fallback, &x, &end) == TRN_OK)
            return x;
    }
    return NAN;
}

/* Defaults of the catalogue, looked up once: each evaluation asks for all of them. */
static double defaults[TRN_CHOICE_COUNT];
static pthread_once_t once = PTHREAD_ONCE_INIT;

static void find_defaults(void)
{
    for (size_t i = 0; i < TRN_CHOICE_COUNT; i++)
        defaults[i] = choices[i].formula ? default_of(&choices[i]) : NAN;
}

double trn_choice_value(trn_choice_id id)
{
    const trn_choice *c = trn_choice_at((size_t)id);
    if (!c)
        return NAN;
    if (c->at)
        return *c->at;
    if (!c->formula)
        return c->value;
    (void)pthread_once(&once, find_defaults);
    return defaults[id];
}

trn_spread trn_choice_spread(trn_choice_id id)
{
    const trn_choice *c = trn_choice_at((size_t)id);
    return c ? c->spread : (trn_spread){TRN_SPREAD_NONE, 0};
}

double trn_spread_draw(double median, trn_spread spread, double z)
{
    switch (spread.kind) {
    case TRN_SPREAD_LOGNORMAL: return median * pow(spread.size, z);
    case TRN_SPREAD_NORMAL: return median + spread.size * z;
    case TRN_SPREAD_UNIFORM: return median + spread.size * (2 * gsl_cdf_ugaussian_P(z) - 1);
    case TRN_SPREAD_NONE: break;
    }
    return median;
}

/* ---- digest -------------------------------------------------------------------------------- */

static const trn_choice digest_choices[] = {
    {"gap", "longest step between two stamps that is no gap", "s", NUMBER(10), NO_SPREAD,
     .reason = "ten rows of a log of 1 Hz; a fixed bound, so that parts give the same as the whole"},
    {"speed-step", "width of a speed class", "rpm", NUMBER(50), NO_SPREAD,
     .reason = "a tenth of the rated speed; the mean of the class goes on, not its middle"},
    {"torque-step", "width of a torque class", "N.m", NUMBER(100), NO_SPREAD,
     .reason = "five to ten classes of a usual duty; sums of T^p are of the readings themselves"},
    {"speed-limit", "highest speed that a PTO has", "rpm", NUMBER(2000), NO_SPREAD,
     .reason = "twice the fastest rated speed; counters that lose pulses read multiples"},
    {"torque-limit", "highest torque that a driveline bears", "N.m", NUMBER(20000), NO_SPREAD,
     .reason = "above the yield of the largest tractor shafts"},
    {"still", "speed below which the PTO is at rest", "rpm", NUMBER(1), NO_SPREAD,
     .reason = "noise of a sensor at rest"},
    {"rest", "rest after which a start is a warm-up", "s", NUMBER(7200), NO_SPREAD,
     .reason = "twice the usual time constant of a gearbox: six sevenths of its heat are gone"},
    {"trip-torque", "torque from which a clutch trips", "N.m", NUMBER(1000), NO_SPREAD,
     .reason = "twice the rated torque of a machine of 30 kW at 540 rpm; set the clutch's own"},
    {"shock-torque", "rise of torque in one step that is a shock", "N.m", NUMBER(500), NO_SPREAD,
     .reason = "the rated torque of such a machine; set the machine's own"},
};

const trn_choice *trn_choice_of_digest(size_t i)
{
    return i < sizeof digest_choices / sizeof digest_choices[0] ? &digest_choices[i] : NULL;
}

/* ---- dust --------------------------------------------------------------------------------- */

const trn_dust_class *trn_dust_class_at(size_t i)
{
    return i < CLASSES ? &classes[i] : NULL;
}

const trn_dust_class *trn_dust_class_find(const char *name)
{
    for (size_t i = 0; i < CLASSES; i++)
        if (strcmp(classes[i].name, name) == 0)
            return &classes[i];
    return NULL;
}

double trn_dust_gsd(double mg_m3)
{
    if (isnan(mg_m3))
        return NAN;
    if (!(mg_m3 > classes[0].median_mg_m3))
        return classes[0].gsd;
    for (size_t i = 1; i < CLASSES; i++) {
        const trn_dust_class *a = &classes[i - 1];
        const trn_dust_class *b = &classes[i];
        if (mg_m3 < b->median_mg_m3)
            return a->gsd + (b->gsd - a->gsd) * log(mg_m3 / a->median_mg_m3) /
                                log(b->median_mg_m3 / a->median_mg_m3);
    }
    return classes[CLASSES - 1].gsd;
}

trn_status trn_dust_of_soil(double mg_m3, double soil_water_pct, double *dust_mg_m3)
{
    static const double driest = 2;
    static const double moistest = 14;
    static const double usual = 6;
    if (!(mg_m3 >= 0) || !isfinite(mg_m3) || !(soil_water_pct > 0) || !isfinite(soil_water_pct))
        return TRN_E_DOMAIN;
    double u = fmin(moistest, fmax(driest, soil_water_pct));
    *dust_mg_m3 = mg_m3 * pow(u / usual, -trn_choice_value(TRN_CHOICE_SOIL_EXPONENT));
    return u == soil_water_pct ? TRN_OK : TRN_R_OUTSIDE;
}
