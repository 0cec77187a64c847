/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "reason.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

static void add(trn_point_row *row, const char *format, ...) TRN_PRINTF(2, 3);

static void add(trn_point_row *row, const char *format, ...)
{
    size_t used = strlen(row->reason);
    va_list args;
    va_start(args, format);
    (void)vsnprintf(row->reason + used, sizeof row->reason - used, format, args);
    va_end(args);
}

static const char *basis_text(trn_basis basis)
{
    switch (basis) {
    case TRN_BASIS_CHOSEN:
        return "a chosen form anchored on the manual's interval";
    case TRN_BASIS_DRAIN_TABLE:
        return "drain tables of the base oil";
    case TRN_BASIS_GIVEN:
        return "the oil's own ageing life";
    case TRN_BASIS_MODEL:
        return "a model with chosen numbers";
    case TRN_BASIS_SAMPLES:
        return "oil samples";
    }
    return "";
}

/* What was not known and counts as at the reference. */
static void add_assumed(const trn_nominal *nominal, trn_point_row *row)
{
    bool first = true;
    for (unsigned c = 0; c < TRN_LIMITS; c++)
        if (nominal->assumed & TRN_BIT(c)) {
            add(row, "%s%s", first ? "; not known and taken as at the reference: " : ", ",
                trn_cause_word((trn_cause)c));
            first = false;
        }
}

/* The second number that decides, and the mechanism behind it where it is another one. */
static void add_caution(trn_point_row *row, trn_cause nominal)
{
    add(row, "; with a margin for what is not known %.3g h", row->at_risk_h);
    if (row->sets != nominal && row->sets != TRN_CAUSE_NONE)
        add(row, ", which %s sets", trn_cause_word(row->sets));
}

void trn_reason_none(trn_point_row *row, const char *why)
{
    (void)snprintf(row->reason, sizeof row->reason, "no interval: %s", why);
}

void trn_reason_write(const trn_machine *m, const trn_service_point *sp,
                      const trn_duty_state *states, trn_point_row *row)
{
    const trn_nominal *n = &row->nominal;
    row->reason[0] = '\0';
    trn_cause cause = n->order_count > 0 ? n->order[0] : TRN_CAUSE_NONE;
    if (sp->task == TRN_TASK_OTHER) {
        add(row, "planned as the manual says, every %.4g h; no model shortens it", row->manual_h);
    } else if (cause == TRN_CAUSE_NONE) {
        add(row, "nothing computed shortens the manual's %.4g h", row->manual_h);
    } else {
        const trn_limit *limit = &n->limit[cause];
        bool grease = trn_grease_factors_of(sp->task) != 0;
        double allows = grease ? row->nominal_h : limit->life_h;
        size_t worst = grease ? n->worst : limit->worst;
        if (row->governed_by == TRN_CAUSE_CALENDAR)
            add(row, "once a year, since the year has %.4g h; %s would allow %.3g h, the manual "
                     "%.4g h",
                m->head.hours_per_year, trn_cause_word(cause), allows, row->manual_h);
        else if (row->governed_by == TRN_CAUSE_MANUAL)
            add(row, "the manual's %.4g h stand: %s allows %.3g h", row->manual_h,
                trn_cause_word(cause), allows);
        else
            add(row, "%s allows %.3g h of the manual's %.4g h", trn_cause_word(cause), allows,
                row->manual_h);
        if (grease && n->order_count > 1)
            add(row, " with %s", trn_cause_word(n->order[1]));
        if (isfinite(limit->rate))
            add(row, ", %.2f times the reference over the duty", limit->rate);
        if (worst < m->duty_count && states[worst].condition)
            add(row, ", most of it in `%s`", states[worst].condition);
        add(row, "; behind it %s", basis_text(limit->basis));
    }
    if (row->severe)
        add(row, "; the manual's own %.4g h for severe service go before, in %.3g mg/m3 of dust",
            row->severe_h, row->dust_mg_m3);
    add_assumed(n, row);
    if (!row->drawn)
        add(row, "; medians only, no margin");
    else if (cause != TRN_CAUSE_NONE && !trn_task_stands(sp->task))
        add_caution(row, cause);
}
