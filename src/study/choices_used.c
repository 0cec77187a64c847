/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which chosen numbers the results rest on, and which points. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/draws.h>
#include <trunnion/interval_rows.h>

#include "calibration.h"
#include "cleanliness.h"
#include "draws_inside.h"
#include "ledger.h"
#include "service_points.h"

/* What a point takes from the model. */
typedef struct facts {
    const trn_machine *m;
    const trn_results *r;
    const trn_point_row *row;
    trn_service_point sp;
    bool grease, oil, level;    /* kind of task, with an interval */
    bool read, calibrated, skin; /* readings behind its oil temperatures */
    bool limit[TRN_LIMITS];     /* computed */
    bool absolute, sampled_water, firm, given, default_life, drawn, modelled, measured, samples,
        money;
} facts;

static facts facts_of(const trn_results *r, size_t point)
{
    facts f = {.m = r->machine, .r = r, .row = &r->points[point]};
    const trn_nominal *n = &f.row->nominal;
    size_t g = f.m->points[point].gearbox_index;
    trn_service_point_of(f.m, r, point, &f.sp);
    bool known = !isnan(f.row->recommended_h);
    f.grease = known && trn_grease_factors_of(f.sp.task) != 0;
    f.oil = known && f.sp.task == TRN_TASK_CHANGE_OIL;
    f.level = known && f.sp.task == TRN_TASK_CHECK_OIL;
    for (size_t c = 0; c < TRN_LIMITS && known; c++)
        f.limit[c] = !isnan(n->limit[c].life_h);
    f.absolute = f.limit[TRN_CAUSE_DUST] && n->limit[TRN_CAUSE_DUST].basis == TRN_BASIS_SAMPLES;
    f.sampled_water =
        f.limit[TRN_CAUSE_WATER] && n->limit[TRN_CAUSE_WATER].basis == TRN_BASIS_SAMPLES;
    f.firm = f.sp.ageing_firm;
    f.given = f.sp.ageing_given;
    f.drawn = f.row->drawn;
    (void)trn_duty_states_of(f.m, r, point, r->states);
    for (size_t i = 0; i < f.m->duty_count && (f.limit[TRN_CAUSE_AGEING] ||
                                               f.limit[TRN_CAUSE_WATER]) && f.oil; i++)
        if (r->states[i].share > 0) {
            bool own = r->states[i].oil_measured || r->states[i].oil_read;
            f.measured = f.measured || own;
            f.calibrated = f.calibrated || (!own && r->states[i].oil_calibrated);
            f.modelled = f.modelled || (!own && !r->states[i].oil_calibrated);
            f.read = f.read || r->states[i].oil_read || r->states[i].oil_calibrated;
        }
    for (size_t i = 0; f.read && i < f.m->readings_count; i++)
        f.skin = f.skin || (f.m->readings[i].gearbox_index == g && r->readings[i].used &&
                            f.m->readings[i].where == TRN_READ_SKIN);
    f.samples = f.oil && g != TRN_NONE && r->calibrations[g].status == TRN_OK &&
                r->calibrations[g].of.samples > 0;
    f.money = f.oil && g != TRN_NONE && !isnan(trn_dust_source(f.m, r, g));
    return f;
}

static bool close_to(double a, double b)
{
    return fabs(a - b) <= 1e-9 * fabs(b);
}

static bool uses_oil(trn_choice_id id, const facts *f)
{
    bool ageing = f->oil && f->limit[TRN_CAUSE_AGEING];
    bool water = f->oil && f->limit[TRN_CAUSE_WATER];
    bool dust = f->oil && f->limit[TRN_CAUSE_DUST] && !f->absolute;
    switch (id) {
    case TRN_CHOICE_AGEING_MINERAL:
        return ageing && !f->given && !f->firm;
    case TRN_CHOICE_AGEING_SYNTHETIC:
        return ageing && !f->given && f->firm;
    case TRN_CHOICE_AGEING_TEMPERATURE:
        return ageing && !f->given;
    case TRN_CHOICE_AGEING_GIVEN:
        return ageing && f->given && f->drawn;
    case TRN_CHOICE_AGEING_FRACTION:
        return ageing;
    case TRN_CHOICE_WATER_DAMP:
    case TRN_CHOICE_CATALYST_DAMP:
    case TRN_CHOICE_CATALYST_WET:
        return ageing && water;
    case TRN_CHOICE_WATER_BUDGET:
    case TRN_CHOICE_WATER_FRESH:
    case TRN_CHOICE_DRYING:
    case TRN_CHOICE_DRYING_FROM:
    case TRN_CHOICE_DRYING_FULL:
        return water;
    case TRN_CHOICE_WATER_INTAKE:
        return water && !f->sampled_water;
    case TRN_CHOICE_WATER_SAMPLED:
        return water && f->sampled_water && f->drawn;
    case TRN_CHOICE_OIL_MODELLED:
        return f->modelled && f->drawn;
    case TRN_CHOICE_OIL_MEASURED:
        return f->measured && f->drawn;
    case TRN_CHOICE_OIL_CALIBRATED:
        return f->calibrated && f->drawn;
    case TRN_CHOICE_SKIN_RISE:
        return f->skin;
    case TRN_CHOICE_SETTLED:
    case TRN_CHOICE_COOLING_LOW:
    case TRN_CHOICE_COOLING_HIGH:
        return f->read;
    case TRN_CHOICE_X:
        return dust;
    case TRN_CHOICE_X_MOST:
        return dust && f->drawn;
    case TRN_CHOICE_DUST_MARGIN:
        return dust && close_to(f->sp.dust_margin, trn_choice_value(id));
    case TRN_CHOICE_F_SI:
        return f->absolute;
    case TRN_CHOICE_INTAKE:
        return (f->absolute || f->money) && f->drawn;
    case TRN_CHOICE_DUST_BUDGET:
        return f->absolute || f->money;
    case TRN_CHOICE_ADDITIVE_MARGIN:
    case TRN_CHOICE_ADDITIVE_STEP:
        return f->oil && f->limit[TRN_CAUSE_ADDITIVE];
    case TRN_CHOICE_ADDITIVE_STEP_LEAST:
        return f->oil && f->limit[TRN_CAUSE_ADDITIVE] && f->drawn;
    case TRN_CHOICE_DEBRIS:
        return f->oil && f->limit[TRN_CAUSE_WEAR] && f->drawn;
    case TRN_CHOICE_FIRST_CHANGE:
    case TRN_CHOICE_FIRST_SHARE:
        return f->oil;
    case TRN_CHOICE_EXTENSION_SAMPLES:
    case TRN_CHOICE_EXTENSION_STEP:
    case TRN_CHOICE_EXTENSION_ALL:
    case TRN_CHOICE_EXTENSION_CONFIDENCE:
        return f->samples;
    default:
        return false;
    }
}

static bool uses_grease(trn_choice_id id, const facts *f)
{
    unsigned acts = trn_grease_factors_of(f->sp.task);
    if (!f->grease)
        return false;
    switch (id) {
    case TRN_CHOICE_GREASE_POINTS:
    case TRN_CHOICE_FLOOR:
        return true;
    case TRN_CHOICE_GREASE_EXPONENT:
        return f->drawn;
    case TRN_CHOICE_SHOCK:
        return f->drawn && (acts & TRN_BIT(TRN_CAUSE_SHOCK));
    case TRN_CHOICE_MOTION:
        return (acts & TRN_BIT(TRN_CAUSE_MOTION)) != 0;
    case TRN_CHOICE_POINT_RISE:
        return (acts & TRN_BIT(TRN_CAUSE_HEAT)) && !f->sp.at_oil_temperature &&
               isnan(f->sp.point_c);
    default:
        return false;
    }
}

static bool uses(trn_choice_id id, const facts *f)
{
    bool airborne = f->grease || (f->oil && f->limit[TRN_CAUSE_DUST] && !f->absolute);
    bool short_manual = f->sp.manual_h <= trn_choice_value(TRN_CHOICE_DAILY) * (1 + 1e-9);
    switch (id) {
    case TRN_CHOICE_DUST_STAYS:
        return airborne && f->drawn;
    case TRN_CHOICE_REF_DUST:
        return airborne && !short_manual && close_to(f->sp.ref_dust_mg_m3, trn_choice_value(id));
    case TRN_CHOICE_REF_DUST_DAILY:
    case TRN_CHOICE_DAILY:
        return airborne && short_manual &&
               close_to(f->sp.ref_dust_mg_m3, trn_choice_value(TRN_CHOICE_REF_DUST_DAILY));
    case TRN_CHOICE_SEVERE_DUST:
        return f->row->severe;
    case TRN_CHOICE_LEVEL:
        return f->level && f->limit[TRN_CAUSE_LOSS];
    case TRN_CHOICE_RISK:
        return (f->grease || f->oil) && f->drawn &&
               close_to(100 * f->m->head.risk, trn_choice_value(id));
    case TRN_CHOICE_SLACK:
        return f->grease || f->oil || (f->level && f->limit[TRN_CAUSE_LOSS]);
    default:
        return uses_oil(id, f) || uses_grease(id, f);
    }
}

/* Part of the model that a choice belongs to, and the causes whose word it may set. */
static const char *part_of(trn_choice_id id, unsigned *causes)
{
    static const struct part {
        trn_choice_id first, last;
        const char *word;
        unsigned causes;
    } parts[] = {
        {TRN_CHOICE_DUST_STAYS, TRN_CHOICE_DUST_MARGIN, "dust", TRN_BIT(TRN_CAUSE_DUST)},
        {TRN_CHOICE_ADDITIVE_MARGIN, TRN_CHOICE_ADDITIVE_MARGIN, "additive",
         TRN_BIT(TRN_CAUSE_ADDITIVE)},
        {TRN_CHOICE_F_SI, TRN_CHOICE_INTAKE, "dust", TRN_BIT(TRN_CAUSE_DUST)},
        {TRN_CHOICE_AGEING_MINERAL, TRN_CHOICE_AGEING_FRACTION, "ageing",
         TRN_BIT(TRN_CAUSE_AGEING)},
        {TRN_CHOICE_WATER_DAMP, TRN_CHOICE_WATER_SAMPLED, "water", TRN_BIT(TRN_CAUSE_WATER)},
        {TRN_CHOICE_ADDITIVE_STEP, TRN_CHOICE_ADDITIVE_STEP_LEAST, "additive",
         TRN_BIT(TRN_CAUSE_ADDITIVE)},
        {TRN_CHOICE_OIL_MODELLED, TRN_CHOICE_COOLING_HIGH, "temperature",
         TRN_BIT(TRN_CAUSE_AGEING) | TRN_BIT(TRN_CAUSE_WATER)},
        {TRN_CHOICE_GREASE_POINTS, TRN_CHOICE_POINT_RISE, "grease",
         TRN_BIT(TRN_CAUSE_DUST) | TRN_BIT(TRN_CAUSE_SHOCK) | TRN_BIT(TRN_CAUSE_HEAT) |
             TRN_BIT(TRN_CAUSE_LOAD) | TRN_BIT(TRN_CAUSE_MOTION)},
        {TRN_CHOICE_DEBRIS, TRN_CHOICE_DEBRIS, "wear", TRN_BIT(TRN_CAUSE_WEAR)},
        {TRN_CHOICE_LEVEL, TRN_CHOICE_LEVEL, "loss", TRN_BIT(TRN_CAUSE_LOSS)},
        {TRN_CHOICE_RISK, TRN_CHOICE_FIRST_SHARE, "clock", 0},
        {TRN_CHOICE_EXTENSION_SAMPLES, TRN_CHOICE_EXTENSION_CONFIDENCE, "extension", 0},
        {TRN_CHOICE_SEVERE_DUST, TRN_CHOICE_SEVERE_DUST, "severe", 0},
        {TRN_CHOICE_POWER, TRN_CHOICE_LIFE_MODEL, "life", 0},
    };
    *causes = 0;
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++)
        if (id >= parts[i].first && id <= parts[i].last) {
            *causes = parts[i].causes;
            return parts[i].word;
        }
    return "";
}

/* Quantity of the draws whose spread stands at the choice; TRN_DRAWS: none, or a variant. */
static trn_draw_id drawn_by(trn_choice_id id)
{
    static const struct pair {
        trn_choice_id choice;
        trn_draw_id draw;
    } pairs[] = {
        {TRN_CHOICE_X, TRN_DRAW_X},
        {TRN_CHOICE_DUST_BUDGET, TRN_DRAW_DUST_BUDGET},
        {TRN_CHOICE_INTAKE, TRN_DRAW_INTAKE},
        {TRN_CHOICE_AGEING_MINERAL, TRN_DRAW_AGEING_LIFE},
        {TRN_CHOICE_DRYING, TRN_DRAW_DRYING},
        {TRN_CHOICE_WATER_INTAKE, TRN_DRAW_WATER},
        {TRN_CHOICE_ADDITIVE_STEP, TRN_DRAW_ADDITIVE_STEP},
        {TRN_CHOICE_OIL_MODELLED, TRN_DRAW_OIL_TEMPERATURE},
        {TRN_CHOICE_GREASE_EXPONENT, TRN_DRAW_GREASE_EXPONENT},
        {TRN_CHOICE_SHOCK, TRN_DRAW_SHOCK},
        {TRN_CHOICE_DEBRIS, TRN_DRAW_DEBRIS},
    };
    for (size_t i = 0; i < sizeof pairs / sizeof pairs[0]; i++)
        if (pairs[i].choice == id)
            return pairs[i].draw;
    return TRN_DRAWS;
}

static trn_spread spread_in_use(trn_choice_id id, const trn_interval_settings *settings)
{
    trn_draw_id draw = drawn_by(id);
    if (draw != TRN_DRAWS)
        return settings->spread[draw];
    switch (id) {
    case TRN_CHOICE_OIL_MEASURED:
        return settings->oil_measured;
    case TRN_CHOICE_OIL_CALIBRATED:
        return settings->oil_calibrated;
    case TRN_CHOICE_AGEING_SYNTHETIC:
    case TRN_CHOICE_AGEING_GIVEN:
        return settings->ageing_firm;
    case TRN_CHOICE_WATER_SAMPLED:
        return settings->water_sampled;
    case TRN_CHOICE_LIFE_MODEL:
        return settings->life_model;
    default:
        return trn_choice_spread(id);
    }
}

static void spread_text(trn_spread spread, char *out, size_t size)
{
    static const char *const kinds[] = {"-", "lognormal", "normal", "uniform"};
    if (spread.kind == TRN_SPREAD_NONE)
        (void)snprintf(out, size, "-");
    else
        (void)snprintf(out, size, "%s %g", kinds[spread.kind], spread.size);
}

static bool sets(const facts *f, unsigned causes)
{
    trn_cause cause = f->row->governed_by == TRN_CAUSE_MANUAL ||
                              f->row->governed_by == TRN_CAUSE_CALENDAR
                          ? TRN_CAUSE_NONE
                          : f->row->governed_by;
    if (f->row->severe)
        return false;
    return cause < TRN_LIMITS && (causes & TRN_BIT(cause));
}

/* Bands of lives rest on it, by gearbox; of power only where it is drawn so. */
static bool bands_use(const trn_results *r, trn_choice_id id)
{
    bool of[2] = {false, false};
    if (id < TRN_CHOICE_POWER || !r->draws || r->draws->bands_count == 0)
        return false;
    trn_draws_power_bases(r->machine, of);
    return id == TRN_CHOICE_POWER       ? of[TRN_POWER_STATED]
           : id == TRN_CHOICE_POWER_LOG ? of[TRN_POWER_LOG]
                                        : true;
}

static void list_bands(const trn_results *r, trn_choice_id id, trn_buffer *names)
{
    for (size_t g = 0; bands_use(r, id) && g < r->machine->gearboxes_count; g++)
        if (!isnan(r->gearboxes[g].lnmh_low_h))
            trn_buffer_print(names, "%s%s", names->length ? "; " : "",
                             r->machine->gearboxes[g].gearbox);
}

static bool add_choice(const trn_results *r, const facts *f, size_t points, trn_choice_id id,
                       const trn_interval_settings *settings, trn_ledger *out)
{
    const trn_choice *c = trn_choice_at(id);
    unsigned causes = 0;
    trn_buffer names = {0};
    trn_choice_row row = {.name = c->name, .what = c->what, .unit = c->unit,
                          .value = trn_choice_value(id), .reason = c->reason};
    row.part = part_of(id, &causes);
    spread_text(spread_in_use(id, settings), row.spread, sizeof row.spread);
    for (size_t i = 0; i < points; i++)
        if (uses(id, &f[i])) {
            trn_buffer_print(&names, "%s%s", names.length ? "; " : "", f[i].sp.name);
            row.governs += sets(&f[i], causes);
        }
    list_bands(r, id, &names);
    row.points = names.text;
    (void)snprintf(row.governs_text, sizeof row.governs_text, "%u", (unsigned)row.governs);
    if (names.text)
        out->choices[out->choices_count++] = row;
    return !names.failed;
}

/* Medians of dust classes, where a condition gives its class alone. */
static void add_classes(const trn_machine *m, trn_ledger *out)
{
    for (size_t k = 0; trn_dust_class_at(k); k++) {
        const trn_dust_class *known = trn_dust_class_at(k);
        trn_buffer names = {0};
        for (size_t i = 0; i < m->duty_count; i++)
            if (isnan(m->duty[i].dust) && m->duty[i].dust_class == (int)k)
                trn_buffer_print(&names, "%s%s", names.length ? "; " : "", m->duty[i].condition);
        if (!names.text)
            continue;
        trn_choice_row row = {.name = known->name, .what = "dust of this class", .unit = "mg/m3",
                              .value = known->median_mg_m3, .reason = known->typical,
                              .part = "dust_class", .points = names.text};
        spread_text((trn_spread){TRN_SPREAD_LOGNORMAL, known->gsd}, row.spread, sizeof row.spread);
        out->choices[out->choices_count++] = row;
    }
}

bool trn_ledger_choices(trn_results *r, trn_ledger *out)
{
    enum { CLASSES_MAX = 8 };
    const trn_machine *m = r->machine;
    trn_interval_settings settings;
    trn_draw_settings(m, &settings);
    facts *f = calloc(m->points_count + 1, sizeof *f);
    out->choices = calloc(TRN_CHOICE_COUNT + CLASSES_MAX, sizeof *out->choices);
    bool whole = f && out->choices;
    for (size_t i = 0; whole && i < m->points_count; i++)
        f[i] = facts_of(r, i);
    for (size_t id = 0; whole && id < TRN_CHOICE_COUNT; id++)
        whole = add_choice(r, f, m->points_count, (trn_choice_id)id, &settings, out);
    if (whole)
        add_classes(m, out);
    free(f);
    return whole;
}
