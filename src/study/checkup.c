/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What can and cannot be computed from a case, and why. */
#include <trunnion/checkup.h>

#include <stdlib.h>
#include <string.h>
#include <trunnion/schema.h>

#include "checkup_parts.h"
#include "study.h"

const char *trn_checkup_part_word(trn_checkup_part part)
{
    static const char *const words[] = {
#define TRN_X(id, word, heading) word,
        TRN_CHECKUP_PARTS(TRN_X)
#undef TRN_X
    };
    return (unsigned)part < TRN_CHECKUP_PART_COUNT ? words[part] : "";
}

const char *trn_checkup_part_heading(trn_checkup_part part)
{
    static const char *const headings[] = {
#define TRN_X(id, word, heading) heading,
        TRN_CHECKUP_PARTS(TRN_X)
#undef TRN_X
    };
    return (unsigned)part < TRN_CHECKUP_PART_COUNT ? headings[part] : "";
}

const char *trn_checkup_state_word(trn_checkup_state state)
{
    switch (state) {
    case TRN_CHECKUP_OK: return "ok";
    case TRN_CHECKUP_MISSING: return "missing";
    case TRN_CHECKUP_LOOK: return "look";
    }
    return "";
}

void trn_checkup_add(trn_checkup *checkup, trn_checkup_part part, trn_checkup_state state,
                     const char *item, trn_buffer *text)
{
    if (checkup->count == checkup->capacity) {
        size_t capacity = checkup->capacity ? 2 * checkup->capacity : 64;
        trn_checkup_item *items = realloc(checkup->items, capacity * sizeof *items);
        if (items) {
            checkup->items = items;
            checkup->capacity = capacity;
        }
    }
    char *name = trn_text_copy(item);
    bool room = checkup->count < checkup->capacity && name && text->text && !text->failed;
    if (room) {
        checkup->items[checkup->count++] =
            (trn_checkup_item){.part = part, .state = state, .item = name, .text = text->text};
    } else {
        checkup->failed = true;
        free(name);
        trn_buffer_free(text);
    }
    *text = (trn_buffer){0};
}

trn_checkup_stage trn_checkup_stage_of(const trn_checkup_item *item)
{
    if (item->state == TRN_CHECKUP_LOOK)
        return TRN_CHECKUP_STAGE_LOOK;
    switch (item->part) {
    case TRN_CHECKUP_AXLES: return TRN_CHECKUP_STAGE_TURN;
    case TRN_CHECKUP_BLANKS: return TRN_CHECKUP_STAGE_BLANKS;
    case TRN_CHECKUP_TABLES: return TRN_CHECKUP_STAGE_TABLES;
    default: return TRN_CHECKUP_STAGE_COMPUTED;
    }
}

/* Place in the order of reading: stage, part, and among what is computed what is before what is
 * not. Axles and tables stay as they came. */
static size_t rank_of(const trn_checkup_item *item)
{
    trn_checkup_stage stage = trn_checkup_stage_of(item);
    size_t state = stage == TRN_CHECKUP_STAGE_COMPUTED ? item->state : 0;
    return ((size_t)stage * TRN_CHECKUP_PART_COUNT + item->part) * 3 + state;
}

static void put_in_order(trn_checkup *checkup)
{
    for (size_t i = 1; i < checkup->count; i++) {
        trn_checkup_item item = checkup->items[i];
        size_t k = i;
        for (; k > 0 && rank_of(&checkup->items[k - 1]) > rank_of(&item); k--)
            checkup->items[k] = checkup->items[k - 1];
        checkup->items[k] = item;
    }
}

void trn_checkup_free(trn_checkup *checkup)
{
    for (size_t i = 0; i < checkup->count; i++) {
        free(checkup->items[i].item);
        free(checkup->items[i].text);
    }
    free(checkup->items);
    *checkup = (trn_checkup){0};
}

/* ---- remarks ------------------------------------------------------------------------------ */

static trn_remark_role role_of_status(trn_status status)
{
    if (status < 0)
        return TRN_REMARK_REASON;
    switch (status) {
    case TRN_R_INTERVAL_NO_OIL_TEMPERATURE:
    case TRN_R_INTERVAL_NO_AGEING_LIFE:
    case TRN_R_INTERVAL_NO_OIL_MASS:
    case TRN_R_INTERVAL_NO_WATER:
    case TRN_R_INTERVAL_NO_HEADSPACE:
    case TRN_R_INTERVAL_NO_RATED_POWER:
    case TRN_R_INTERVAL_NO_SAMPLES: return TRN_REMARK_REASON;
    case TRN_R_JOINT_BELOW_CRITICAL:
    case TRN_R_BEARING_X:
    case TRN_R_INTERVAL_NEVER: return TRN_REMARK_NOTE;
    default: return TRN_REMARK_LOOK;
    }
}

/* A remark that is not named here is shown: better once too often. */
trn_remark_role trn_remark_role_of(const trn_remark *remark)
{
    switch (remark->id) {
    case TRN_M_STATUS: return role_of_status(remark->status);
    case TRN_M_NO_POSITION:
    case TRN_M_NO_DUTY_POSITION:
    case TRN_M_LEFT_OUT:
    case TRN_M_NO_CROSS:
    case TRN_M_FIT_UNKNOWN:
    case TRN_M_TWO_BEARINGS:
    case TRN_M_NO_SENSE:
    case TRN_M_NO_SPEED:
    case TRN_M_NOT_HELD:
    case TRN_M_SAME_STATION:
    case TRN_M_NO_AREA:
    case TRN_M_NO_GEARS:
    case TRN_M_NO_ROOT:
    case TRN_M_NO_TEMPERATURE:
    case TRN_M_NO_CLEANLINESS:
    case TRN_M_BAD_CODE:
    case TRN_M_NO_BEARINGS: return TRN_REMARK_REASON;
    case TRN_M_QUASI_STATIC:
    case TRN_M_OSCILLATION:
    case TRN_M_DUTY_UNKNOWN:
    case TRN_M_UPPER_BOUND:
    case TRN_M_NO_LOAD:
    case TRN_M_MEASURED:
    case TRN_M_MEASURED_IN_GROUP:
    case TRN_M_SHARED:
    case TRN_M_READ:
    case TRN_M_CLEARANCE:
    case TRN_M_OVERLAP:
    case TRN_M_FITS:
    case TRN_M_WITHOUT: return TRN_REMARK_NOTE;
    default: return TRN_REMARK_LOOK;
    }
}

void trn_remarks_reasons(const trn_remarks *remarks, trn_buffer *out)
{
    trn_remarks reasons = {.n = 0};
    for (size_t i = 0; i < remarks->n; i++)
        if (trn_remark_role_of(&remarks->v[i]) == TRN_REMARK_REASON)
            reasons.v[reasons.n++] = remarks->v[i];
    trn_remarks_text(reasons.n > 0 ? &reasons : remarks, out);
}

/* ---- tables ------------------------------------------------------------------------------- */

void trn_checkup_tables(const trn_machine *m, trn_checkup *checkup)
{
    for (size_t i = 0; i < trn_table_count(); i++) {
        const trn_table *table = trn_table_at(i);
        size_t rows = trn_table_rows(m, table);
        trn_buffer file = {0};
        trn_buffer text = {0};
        trn_buffer_print(&file, "%s.csv", table->name);
        if (rows > 0)
            trn_buffer_print(&text, "%zu row%s", rows, rows == 1 ? "" : "s");
        else
            trn_buffer_print(&text, "%s; would add: %s", table->what, table->buys);
        trn_checkup_add(checkup, TRN_CHECKUP_TABLES,
                        rows > 0 ? TRN_CHECKUP_OK : TRN_CHECKUP_MISSING,
                        file.text ? file.text : "", &text);
        checkup->failed = checkup->failed || file.failed;
        trn_buffer_free(&file);
    }
}

/* ---- all ---------------------------------------------------------------------------------- */

static bool outside(const trn_results *r)
{
    const trn_machine *m = r->machine;
    bool any = false;
    for (size_t i = 0; i < r->joints_count; i++)
        any = any || trn_remarks_outside(&r->joints[i].remarks);
    for (size_t i = 0; i < m->duty_count * m->gearboxes_count; i++)
        any = any || trn_remarks_outside(&r->heat[i].remarks);
    for (size_t i = 0; i < m->duty_count * m->bearings_count; i++)
        any = any || trn_remarks_outside(&r->bearings[i].remarks);
    return any;
}

/* The condition that spends most energy, at rated speed and power and without shock: loads that
 * a person can compare with the plate of the machine. */
static trn_machine *at_rated_power(const trn_machine *m)
{
    trn_machine *rated = trn_machine_copy(m);
    if (!rated || rated->duty_count == 0)
        return rated;
    size_t most = 0;
    for (size_t i = 1; i < rated->duty_count; i++)
        if (rated->duty[i].share * rated->duty[i].power >
            rated->duty[most].share * rated->duty[most].power)
            most = i;
    trn_duty row = rated->duty[most];
    row.share = 1;
    row.hours = NAN;
    row.pto_speed = m->head.pto_speed;
    row.power = m->head.rated_power;
    row.shock = 1;
    rated->duty[0] = row;
    rated->duty_count = 1;
    return rated;
}

trn_status trn_checkup_make(const trn_machine *machine, trn_checkup *checkup)
{
    *checkup = (trn_checkup){0};
    trn_machine *rated = at_rated_power(machine);
    trn_results *results = trn_results_new(machine);
    trn_results *rated_results = rated ? trn_results_new(rated) : NULL;
    if (results && rated_results) {
        (void)trn_study_evaluate(machine, TRN_WANT_ALL, results, NULL);
        (void)trn_study_evaluate(rated, TRN_WANT_HEAT | TRN_WANT_LIVES, rated_results, NULL);
        checkup->outside = outside(results);
        trn_checkup_results(results, checkup);
        trn_checkup_intervals(results, checkup);
        trn_checkup_axles(rated_results, checkup);
        trn_checkup_figures(results, rated_results, checkup);
        trn_checkup_blanks(results, checkup);
        trn_checkup_tables(machine, checkup);
        put_in_order(checkup);
    } else {
        checkup->failed = true;
    }
    trn_results_free(rated_results);
    trn_results_free(results);
    trn_machine_free(rated);
    return checkup->failed ? TRN_E_MEMORY : TRN_OK;
}
