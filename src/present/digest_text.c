/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A digest for reading: the duty as a table, what was counted as lines. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/digest.h>
#include <trunnion/present.h>

#include "digest_name.h"

static void add_number(trn_grid *grid, double value, int digits)
{
    char text[48] = "";
    if (!isnan(value))
        trn_number_for_people(value, digits, text, sizeof text);
    trn_grid_add(grid, text);
}

trn_status trn_digest_text(const trn_digest *d, size_t width, trn_buffer *out)
{
    enum { COLUMNS = 7 };
    static const char *const heads[COLUMNS] = {"condition", "h", "%", "rpm", "kW", "T eq N.m",
                                               "shock"};
    static const bool right[COLUMNS] = {false, true, true, true, true, true, true};
    trn_digest_cell *cells = NULL;
    size_t n = 0;
    trn_status status = trn_digest_duty(d, &cells, &n);
    if (status < 0)
        return status;
    trn_grid grid = {.columns = COLUMNS};
    double sum = 0;
    for (size_t i = 0; i < n; i++)
        sum += cells[i].seconds;
    for (size_t c = 0; c < COLUMNS; c++)
        trn_grid_add(&grid, heads[c]);
    for (size_t i = 0; i < n; i++) {
        char condition[512];
        digest_condition(&cells[i], condition, sizeof condition);
        trn_grid_add(&grid, condition);
        add_number(&grid, cells[i].seconds / 3600, 4);
        add_number(&grid, 100 * cells[i].seconds / sum, 3);
        add_number(&grid, cells[i].speed_rpm, 4);
        add_number(&grid, cells[i].power_kw, 3);
        add_number(&grid, cells[i].equivalent_p10_3_nm, 4);
        add_number(&grid, cells[i].shock, 3);
    }
    trn_buffer_add(out, "Duty from the log: mean speed and power of each class\n\n");
    if (n > 0)
        trn_grid_print(&grid, right, out);
    else
        trn_buffer_add(out, "  no time with the PTO turning\n");
    trn_buffer_add(out, "\n");
    trn_text_wrap("T eq: constant torque that loads roller bearings as the class did (p = 10/3, by "
                  "revolutions); shock: T eq over mean torque. Peaks between two rows of the log "
                  "are in none of these.",
                  0, 0, width, out);
    if (grid.failed)
        out->failed = true;
    trn_grid_free(&grid);
    free(cells);
    return TRN_OK;
}

/* ---- notes --------------------------------------------------------------------------------- */

/* Of the day, Gregorian, from the days since 1970. */
static void stamp(int64_t ns, trn_log_clock clock, trn_buffer *out)
{
    if (clock == TRN_CLOCK_SECONDS) {
        char text[32];
        trn_text_of_number((double)ns / 1e9, text, sizeof text);
        trn_buffer_print(out, "%s s", text);
        return;
    }
    int64_t s = ns / 1000000000 - (ns % 1000000000 < 0);
    int64_t days = s / 86400 - (s % 86400 < 0);
    int64_t of_day = s - days * 86400;
    int64_t z = days + 719468;
    int64_t era = (z >= 0 ? z : z - 146096) / 146097;
    int64_t doe = z - era * 146097;
    int64_t yoe = (doe - doe / 1460 + doe / 36524 - doe / 146096) / 365;
    int64_t doy = doe - (365 * yoe + yoe / 4 - yoe / 100);
    int64_t mp = (5 * doy + 2) / 153;
    int64_t month = mp < 10 ? mp + 3 : mp - 9;
    trn_buffer_print(out, "%04d-%02d-%02dT%02d:%02d:%02d%s",
                     (int)(yoe + era * 400 + (month <= 2)), (int)month,
                     (int)(doy - (153 * mp + 2) / 5 + 1), (int)(of_day / 3600),
                     (int)(of_day / 60 % 60), (int)(of_day % 60),
                     clock == TRN_CLOCK_UTC ? "Z" : "");
}

static void duration(double seconds, trn_buffer *out)
{
    char text[48];
    trn_number_for_people(seconds < 3600 ? seconds : seconds / 3600, 4, text, sizeof text);
    trn_buffer_print(out, "%s %s", text, seconds < 3600 ? "s" : "h");
}

void trn_digest_notes(const trn_digest *d, trn_buffer *out)
{
    int64_t first = 0;
    int64_t last = 0;
    trn_log_clock clock = TRN_CLOCK_NONE;
    if (!trn_digest_span(d, &first, &last, &clock)) {
        trn_buffer_add(out, "no rows\n");
    } else {
        trn_buffer_add(out, "from ");
        stamp(first, clock, out);
        trn_buffer_add(out, " to ");
        stamp(last, clock, out);
        trn_buffer_add(out, "\n");
    }
    for (size_t e = 0; e < TRN_EVENT_COUNT; e++) {
        trn_digest_event event = (trn_digest_event)e;
        size_t n = trn_digest_count(d, event);
        double seconds = trn_digest_seconds(d, event);
        if (n == 0 && !(seconds > 0))
            continue;
        trn_buffer_print(out, "%-16s %9zu", trn_digest_event_word(event), n);
        if (seconds > 0) {
            trn_buffer_add(out, "  ");
            duration(seconds, out);
        }
        trn_buffer_print(out, "  %s\n", trn_digest_event_text(event));
    }
    if (trn_digest_unused(d)[0])
        trn_buffer_print(out, "columns not used: %s\n", trn_digest_unused(d));
    const trn_faults *skipped = trn_digest_skipped(d);
    for (size_t i = 0; i < skipped->kept; i++) {
        trn_buffer_add(out, "let pass: ");
        trn_fault_text(&skipped->list[i], out);
        trn_buffer_add(out, "\n");
    }
}
