/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sisters of a failure review. lives.csv holds the other units: the failed one must not be
 * among them, or it would count twice. */
#include <ctype.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <trunnion/lives_table.h>

#include "review_inside.h"

TRN_PRINTF(2, 3)
static void remark(trn_review *v, const char *format, ...)
{
    size_t n = strlen(v->fleet_remark);
    va_list args;
    if (n > 0 && n + 3 < sizeof v->fleet_remark) {
        (void)snprintf(v->fleet_remark + n, sizeof v->fleet_remark - n, "; ");
        n += 2;
    }
    va_start(args, format);
    (void)vsnprintf(v->fleet_remark + n, sizeof v->fleet_remark - n, format, args);
    va_end(args);
}

/* Last word of a name that has a digit, without its leading zeros; "" where it has none. */
static const char *number_of(const char *name)
{
    const char *word = name + strlen(name);
    bool digit = false;
    while (word > name && isalnum((unsigned char)word[-1])) {
        word--;
        digit = digit || isdigit((unsigned char)*word);
    }
    while (*word == '0')
        word++;
    return digit ? word : "";
}

/* Nothing but zeros before the number? */
static bool alone(const char *name, const char *number)
{
    return name + strspn(name, "0") >= number;
}

/* `017` and `invented 017`, `MX-17` and `mx 017`: not the same, but it may well be. */
static bool may_be_serial(const char *unit, const char *serial)
{
    const char *a = number_of(unit);
    const char *b = number_of(serial);
    if (strcasecmp(unit, serial) == 0)
        return true;
    return *a && strcasecmp(a, b) == 0 &&
           (alone(unit, a) || alone(serial, b) ||
            tolower((unsigned char)*unit) == tolower((unsigned char)*serial));
}

/* May this row be the failed unit by its hours? What is remarked on; NULL: no. */
static const char *may_be_failure(const trn_weibull_row *u, const trn_failure *f)
{
    double w = f->hours_spread;
    if (u->kind == TRN_WEIBULL_RIGHT)
        return fabs(u->after_h - f->hours) <= w ? "ran on at the hours of" : NULL;
    if (u->kind == TRN_WEIBULL_EXACT && u->by_h == f->hours) /* both as they were read */
        return "failed at the very hours of";
    bool overlaps = u->after_h <= f->hours + w && u->by_h >= f->hours - w;
    return overlaps && u->by_h - u->after_h <= 4 * w ? "failed within the hours of" : NULL;
}

static bool suspect(trn_review *v, const trn_life_row *row, const trn_weibull_row *unit)
{
    const char *serial = v->machine->head.serial;
    const char *last = v->suspects > 0 ? "" : ": it may be the failed unit itself, which must not "
                                              "stand there";
    if (row->unit && serial && may_be_serial(row->unit, serial)) {
        remark(v, "lives.csv line %zu: `%.60s` reads like the serial `%.60s` of the machine that "
                  "failed%s", row->row.line, row->unit, serial, last);
        return true;
    }
    for (size_t p = 0; p < v->part_count; p++) {
        const char *why = may_be_failure(unit, v->parts[p].failure);
        if (why) {
            remark(v, "lives.csv line %zu %s %.80s%s", row->row.line, why, v->parts[p].name, last);
            return true;
        }
    }
    return false;
}

/* Refuses the serial itself; keeps apart what is only likely to be the failed unit. */
static trn_status check_others(trn_review *v, trn_faults *faults)
{
    const trn_machine *m = v->machine;
    size_t kept = 0;
    v->units_less = calloc(m->lives_count + 1, sizeof *v->units_less);
    if (!v->units_less)
        return TRN_E_MEMORY;
    for (size_t i = 0; i < m->lives_count; i++) {
        const trn_life_row *row = &m->lives[i];
        if (row->unit && m->head.serial && strcmp(row->unit, m->head.serial) == 0)
            trn_fault_add(faults, "lives.csv", row->row.line, "unit",
                          "`%s` is the serial of the machine that failed; only the other units "
                          "stand here, or its failure would count twice",
                          row->unit);
        else if (row->count > 0 && suspect(v, row, &v->units[i]))
            v->suspects++;
        else
            v->units_less[kept++] = v->units[i];
    }
    v->has_less = v->suspects > 0 && kept > 0 &&
                  trn_weibull_prepare(v->units_less, kept, &v->fleet_less) == TRN_OK;
    return TRN_OK;
}

trn_status trn_review_fleet(trn_review *v, trn_faults *faults)
{
    const trn_machine *m = v->machine;
    size_t before = faults->count;
    if (m->lives_count == 0)
        return TRN_OK;
    v->units = calloc(m->lives_count + 1, sizeof *v->units);
    if (!v->units)
        return TRN_E_MEMORY;
    trn_status status = trn_lives_rows(m->lives, m->lives_count, "lives.csv", faults, v->units);
    if (status == TRN_OK)
        status = check_others(v, faults); /* while units are in the order of the table */
    if (status == TRN_OK)
        status = trn_weibull_prepare(v->units, m->lives_count, &v->fleet);
    v->has_fleet = status == TRN_OK;
    return faults->count > before ? TRN_E_INPUT : status;
}
