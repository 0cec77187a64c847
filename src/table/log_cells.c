/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Columns of a log and what its cells say. */
#include <ctype.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/units.h>

#include "log_inside.h"

static const struct channel {
    const char *name, *unit;
    double low, high;
} channels[] = {
#define TRN_X(name, column, unit, low, high) {column, unit, low, high},
    TRN_LOG_CHANNELS(TRN_X)
#undef TRN_X
};

const char *trn_log_channel_name(trn_log_channel channel)
{
    return channels[channel].name;
}

const char *trn_log_channel_unit(trn_log_channel channel)
{
    return channels[channel].unit;
}

void trn_log_channel_range(trn_log_channel channel, double *low, double *high)
{
    *low = channels[channel].low;
    *high = channels[channel].high;
}

/* ---- cells --------------------------------------------------------------------------------- */

const char *log_position_fault(const char *name, size_t n)
{
    if (n >= TRN_LOG_POSITION_MAX)
        return "is longer than 95 bytes";
    for (size_t i = 0; i < n; i++)
        if (strchr("./*=\n", name[i]) && name[i] != '\0')
            return "holds one of . / * = which paths need";
    if ((n == 3 && memcmp(name, "all", 3) == 0) || (n == 7 && memcmp(name, "tractor", 7) == 0))
        return "is taken; choose another name";
    return NULL;
}

static void bad(const trn_log *log, size_t column, size_t line, trn_faults *faults,
                trn_log_row *sample, const char *cell, const char *rule)
{
    sample->bad++;
    trn_fault_add(faults, log->name, line, log->header[column], "`%.40s` %s", cell, rule);
}

static bool take_time(const trn_log *log, size_t column, const char *cell, size_t line,
                      trn_faults *faults, trn_log_row *sample)
{
    char plain[128];
    trn_log_clock clock = TRN_CLOCK_SECONDS;
    if (cell[0] == '\0') {
        sample->bad++;
        trn_fault_add(faults, log->name, line, log->header[column], "the stamp is missing");
        return false;
    }
    if (log->clock == TRN_CLOCK_SECONDS) {
        size_t n = trn_number_plain(cell, log->decimal, plain, sizeof plain);
        if (n > 0 && cell[n] == '\0' &&
            log_seconds(plain, log->scale[TRN_LOG_TIME], &sample->ns) == TRN_OK)
            return true;
        bad(log, column, line, faults, sample, cell,
            "is no time: a number is expected, as the first stamp of the file is");
        return false;
    }
    if (trn_log_stamp(cell, strlen(cell), &sample->ns, &clock) != TRN_OK) {
        bad(log, column, line, faults, sample, cell,
            "is no time; write it as 2026-05-01T06:30:00, with or without offset");
        return false;
    }
    if (clock != log->clock) {
        bad(log, column, line, faults, sample, cell,
            clock == TRN_CLOCK_UTC ? "has an offset, but the first stamp of the file has none"
                                   : "has no offset, but the first stamp of the file has one");
        return false;
    }
    return true;
}

bool log_take(const trn_log *log, size_t column, const char *cell, size_t line,
              trn_faults *faults, trn_log_row *sample)
{
    unsigned role = log->role[column];
    if (role == LOG_SKIP)
        return true;
    if (role == TRN_LOG_TIME)
        return take_time(log, column, cell, line, faults, sample);
    if (cell[0] == '\0')
        return true;
    if (role == TRN_LOG_POSITION) {
        const char *fault = log_position_fault(cell, strlen(cell));
        if (fault) {
            bad(log, column, line, faults, sample, cell, fault);
            return true;
        }
        sample->position = cell;
        sample->position_length = strlen(cell);
        return true;
    }
    char plain[128];
    const char *end = NULL;
    double value = 0;
    size_t n = trn_number_plain(cell, log->decimal, plain, sizeof plain);
    if (!log->settled && strchr(cell, log->decimal == '.' ? ',' : '.'))
        bad(log, column, line, faults, sample, cell,
            "can be read in two ways, and no number in the first rows of the file shows which");
    else if (n == 0 || cell[n] != '\0' || trn_text_number_start(plain, &value, &end) != TRN_OK)
        bad(log, column, line, faults, sample, cell,
            log->decimal == '.' ? "is no number (decimals of this file have a point)"
                                : "is no number (decimals of this file have a comma)");
    else
        sample->value[role] = value * log->scale[role] + log->offset[role];
    return true;
}

/* ---- columns ------------------------------------------------------------------------------- */

static const char *heading_of(const trn_log_names *names, size_t role)
{
    if (names && names->heading[role])
        return names->heading[role];
    return role == TRN_LOG_TIME       ? "time"
           : role == TRN_LOG_POSITION ? "position"
                                      : channels[role].name;
}

static trn_status unit_of(trn_log *log, size_t column, size_t role, const char *unit,
                          trn_faults *faults)
{
    const char *want = role == TRN_LOG_TIME ? "s" : channels[role].unit;
    log->scale[role] = 1;
    log->offset[role] = 0;
    if (role == TRN_LOG_TIME && !unit)
        return TRN_OK;
    if (!unit) {
        trn_fault_add(faults, log->name, log->header_line, log->header[column],
                      "the unit is missing: write it in brackets, as `%s [%s]`",
                      channels[role].name, want);
        return TRN_E_INPUT;
    }
    if (strcmp(unit, want) == 0)
        return TRN_OK;
    if (trn_unit_convert(unit, want, &log->scale[role], &log->offset[role]) == TRN_OK &&
        (role != TRN_LOG_TIME || log->offset[role] == 0))
        return TRN_OK;
    trn_fault_add(faults, log->name, log->header_line, log->header[column],
                  "`%.40s` does not convert to %s", unit, want);
    return TRN_E_INPUT;
}

static trn_status assign(trn_log *log, size_t column, const trn_log_names *names,
                         trn_faults *faults)
{
    char *name = NULL;
    char *unit = NULL;
    if (trn_header_split(log->header[column], &name, &unit) != TRN_OK) {
        trn_fault_add(faults, log->name, log->header_line, log->header[column],
                      "the bracket of the unit is not closed");
        return TRN_E_INPUT;
    }
    size_t role = 0;
    trn_status status = TRN_OK;
    log->role[column] = LOG_SKIP;
    while (role <= TRN_LOG_POSITION && strcmp(heading_of(names, role), name) != 0)
        role++;
    if (role > TRN_LOG_POSITION) {
        if (name[0] != '\0')
            trn_buffer_print(&log->unused, "%s%s", log->unused.length ? ", " : "", name);
    } else if (log->column_of[role] != SIZE_MAX) {
        trn_fault_add(faults, log->name, log->header_line, log->header[column],
                      "the name is there twice, as column %zu and column %zu",
                      log->column_of[role] + 1, column + 1);
        status = TRN_E_INPUT;
    } else {
        log->role[column] = (unsigned char)role;
        log->column_of[role] = column;
        if (role != TRN_LOG_POSITION)
            status = unit_of(log, column, role, unit, faults);
        if (role == TRN_LOG_TIME && unit)
            log->clock = TRN_CLOCK_SECONDS;
    }
    free(name);
    free(unit);
    return status;
}

/* By the first stamp that is one. */
static void settle_clock(trn_log *log, const trn_sheet *head)
{
    int64_t ns = 0;
    char plain[128];
    for (size_t r = 0; r < head->rows && log->clock == TRN_CLOCK_NONE; r++) {
        const char *cell = trn_sheet_cell(head, r, log->column_of[TRN_LOG_TIME]);
        size_t n = trn_number_plain(cell, log->decimal, plain, sizeof plain);
        if (trn_log_stamp(cell, strlen(cell), &ns, &log->clock) != TRN_OK && n > 0 &&
            cell[n] == '\0')
            log->clock = TRN_CLOCK_SECONDS;
    }
}

trn_status log_layout(trn_log *log, const trn_log_names *names, const trn_sheet *head,
                      trn_faults *faults)
{
    trn_status status = TRN_OK;
    for (size_t role = 0; role <= TRN_LOG_POSITION; role++)
        log->column_of[role] = SIZE_MAX;
    for (size_t c = 0; c < log->columns; c++)
        if (assign(log, c, names, faults) != TRN_OK)
            status = TRN_E_INPUT;
    static const size_t needed[] = {TRN_LOG_TIME, TRN_LOG_SPEED};
    for (size_t i = 0; i < sizeof needed / sizeof needed[0]; i++)
        if (log->column_of[needed[i]] == SIZE_MAX) {
            trn_fault_add(faults, log->name, log->header_line, NULL,
                          "there is no column `%s`", heading_of(names, needed[i]));
            status = TRN_E_INPUT;
        }
    if (log->column_of[TRN_LOG_TORQUE] == SIZE_MAX && log->column_of[TRN_LOG_POWER] == SIZE_MAX) {
        trn_fault_add(faults, log->name, log->header_line, NULL,
                      "there is neither a column `%s` nor a column `%s`",
                      heading_of(names, TRN_LOG_TORQUE), heading_of(names, TRN_LOG_POWER));
        status = TRN_E_INPUT;
    }
    if (log->unused.failed)
        return TRN_E_MEMORY;
    if (status == TRN_OK)
        settle_clock(log, head);
    return status;
}
