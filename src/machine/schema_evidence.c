/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Columns of the tables of evidence: samples, lives, spreads, scenarios, failure, basis. */
#include "schema_rows.h"

static const char *const states[] = {"failed", "running", NULL};
static const char *const spread_kinds[] = {"lognormal", "normal", "uniform", NULL};

#define ROW trn_sample
#define CONTENT(name, place, what)                                                           \
    {name, TRN_CELL_NUMBER, offsetof(trn_sample, content) + (place) * sizeof(double), "ppm", \
     "ppm", "[0,1e6]", false, NULL, NULL, what, NULL}
static const trn_column sample_columns[] = {
    NAME(gearbox, true, "gearbox that the sample is from"),
    HOURS(machine_hours, "[0,inf)", true, NULL, "hour meter at the sample"),
    HOURS(oil_hours, "[0,inf)", false, NULL, "hours on this oil (blank: same fill as before)"),
    CONTENT("fe", TRN_FE, "iron"),
    CONTENT("cu", TRN_CU, "copper"),
    CONTENT("si", TRN_SI, "silicon"),
    CONTENT("al", TRN_AL, "aluminium"),
    CONTENT("cr", TRN_CR, "chromium"),
    CONTENT("pb", TRN_PB, "lead"),
    CONTENT("water", TRN_WATER, "water"),
    OPT(kv40, "mm2/s", "m2/s", "(0,1e5]", "kinematic viscosity at 40 degC"),
    OPT(top_up, "L", "m3", "[0,1000]", "oil added since the sample before"),
    NOTE,
};
#undef ROW

#define ROW trn_life_row
static const trn_column life_columns[] = {
    TEXT(unit, false, "serial of the item"),
    OPT(hours, "h", "h", "(0,inf)", "age at failure, or now"),
    WORD(state, false, NULL, states, "failed or running at that age"),
    OPT(after, "h", "h", "[0,inf)", "seen sound at (with `by`)"),
    OPT(by, "h", "h", "(0,inf)", "found failed by; blank: still running"),
    DEF(count, "1", "1", "[0,1e6]", "1", "how many such items"),
    NOTE,
};
#undef ROW

#define ROW trn_spread_row
static const trn_column spread_columns[] = {
    KEY(quantity, "path such as duty.*.dust"),
    WORD(kind, true, NULL, spread_kinds, "how it is spread"),
    REQ(spread, "1", "1", "[0,inf)",
        "lognormal: geometric standard deviation; normal: standard deviation; uniform: half width"),
    NOTE,
};
#undef ROW

#define ROW trn_scenario
static const trn_column scenario_columns[] = {
    NAME(scenario, true, "rows of one name belong together"),
    NAME(quantity, true, "path such as gearboxes.centre.oil_volume"),
    TEXT(value, false, "absolute value with unit, x1.2 or +10"),
    NOTE,
};
#undef ROW

#define ROW trn_failure
static const trn_column failure_columns[] = {
    NAME(component, true, "what failed"),
    HOURS(hours, "(0,inf)", true, NULL, "at how many hours"),
    HOURS(hours_spread, "[0,inf)", false, "0", "half width of what is not known of them"),
    {"sign", TRN_CELL_TEXTS, AT(sign), "", "", NULL, false, NULL, NULL,
     "damage signs seen; any number of columns whose name begins with sign", NULL},
    NOTE,
};
#undef ROW

#define ROW trn_basis_row
/* strongest first: trn_input_basis of inputs.h */
static const char *const bases[] = {"measured", "catalogue", "drawing", "manual",
                                    "stated",   "assumed",   NULL};
static const trn_column basis_columns[] = {
    KEY(quantity, "path such as gearboxes.centre.oil_volume or duty.*.dust"),
    WORD(basis, true, NULL, bases, "what the value rests on"),
    TEXT(plus_minus, false,
         "how far it may be off, either way: a number in the quantity's unit, or with its own, "
         "or in %"),
    TEXT(instrument, false, "what it was measured with; which catalogue, drawing, edition"),
    TEXT(by, false, "who measured, looked up or stated it"),
    TEXT(date, false, "when, ISO 8601: 2026-05-14, or 2026-05, or 2026"),
    TEXT(evidence, false, "where the proof lies: photo, page, file"),
    NOTE,
};
#undef ROW

const trn_table trn_evidence_tables[] = {
    TABLE(samples, sample_columns, false, "oil samples", "rates of dirt, water and wear"),
    TABLE(lives, life_columns, false, "lives of sister units", "survivors beside a failure"),
    TABLE(uncertainty, spread_columns, false, "spreads in place of the built-in ones",
          "your own spreads"),
    TABLE(scenarios, scenario_columns, false, "changes of the case, by name",
          "comparisons and explanations"),
    TABLE(failure, failure_columns, false, "what failed", "the failure review"),
    TABLE(basis, basis_columns, false, "what inputs rest on, and how well they are known",
          "each result names the weakest basis among its inputs"),
};
const size_t trn_evidence_table_count = COUNT(trn_evidence_tables);
