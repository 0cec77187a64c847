/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Results of a digest as CSV. duty.csv enters a case as it is. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/csv_write.h>
#include <trunnion/digest.h>

#include "digest_name.h"

/* Range of the case's column shock. */
static const double shock_most = 10;

void digest_condition(const trn_digest_cell *c, char *out, size_t size)
{
    char speed[32];
    char torque[32];
    char degrees[48] = "";
    trn_text_of_number(c->speed_from_rpm, speed, sizeof speed);
    trn_text_of_number(c->torque_from_nm, torque, sizeof torque);
    if (!isnan(c->temperature_from_c)) {
        char from[32];
        trn_text_of_number(c->temperature_from_c, from, sizeof from);
        (void)snprintf(degrees, sizeof degrees, " %s degC", from);
    }
    (void)snprintf(out, size, "%s%s%s rpm %s Nm%s", c->place, *c->place ? " " : "", speed, torque,
                   degrees);
    for (char *p = out; *p; p++) /* names of a case hold no point */
        if (*p == '.')
            *p = ',';
}

/* What a reader of the row must know. */
static void note_of(const trn_digest_cell *c, trn_buffer *out)
{
    char number[32];
    if (c->power_kw < 0) {
        trn_text_of_number(c->power_kw, number, sizeof number);
        trn_buffer_print(out, "the machine drives the PTO: mean power %s kW, taken as 0; it loads "
                              "the other flank", number);
    }
    if (c->shock > shock_most) {
        trn_text_of_number(c->shock, number, sizeof number);
        trn_buffer_print(out, "%sshock %s, taken as 10", out->length ? "; " : "", number);
    }
}

/* Columns that only some logs fill. */
typedef struct optional {
    const char *header;
    trn_log_channel channel;
    size_t offset;
} optional;

#define AT(member) offsetof(trn_digest_cell, member)
static const optional optionals[] = {
    {"ambient [degC]", TRN_LOG_AMBIENT, AT(ambient_c)},
    {"dust [mg/m3]", TRN_LOG_DUST, AT(dust_mg_m3)},
    {"oil_temperature [degC]", TRN_LOG_OIL, AT(oil_c)},
    {"note_lift [mm]", TRN_LOG_LIFT, AT(lift_mm)},
    {"note_wing [deg]", TRN_LOG_WING, AT(wing_deg)},
};
#undef AT
enum { OPTIONALS = sizeof optionals / sizeof optionals[0] };

static double value_of(const trn_digest_cell *c, const optional *o)
{
    double value = 0;
    memcpy(&value, (const char *)c + o->offset, sizeof value);
    return value;
}

static void duty_header(trn_csv_writer *csv, const trn_digest *d, bool places)
{
    static const char *const fixed[] = {"condition", "hours [h]", "pto_speed [rpm]", "power [kW]",
                                        "shock"};
    for (size_t i = 0; i < sizeof fixed / sizeof fixed[0]; i++)
        trn_csv_word(csv, fixed[i]);
    if (places)
        trn_csv_word(csv, "position");
    for (size_t i = 0; i < OPTIONALS; i++)
        if (trn_digest_logged(d, optionals[i].channel))
            trn_csv_word(csv, optionals[i].header);
    trn_csv_word(csv, "starts_per_100h");
    trn_csv_word(csv, "note");
    trn_csv_end(csv);
}

trn_status trn_digest_duty_csv(const trn_digest *d, trn_buffer *out)
{
    trn_digest_cell *cells = NULL;
    size_t n = 0;
    trn_status status = trn_digest_duty(d, &cells, &n);
    bool places = false;
    for (size_t i = 0; i < n; i++)
        places = places || cells[i].place[0] != '\0';
    trn_csv_writer csv = {.out = out};
    if (status == TRN_OK)
        duty_header(&csv, d, places);
    for (size_t i = 0; i < n; i++) {
        const trn_digest_cell *c = &cells[i];
        char condition[512];
        trn_buffer note = {0};
        digest_condition(c, condition, sizeof condition);
        note_of(c, &note);
        trn_csv_text(&csv, condition);
        trn_csv_number(&csv, c->seconds / 3600);
        trn_csv_number(&csv, c->speed_rpm);
        trn_csv_number(&csv, fmax(0, c->power_kw));
        trn_csv_number(&csv, fmin(shock_most, c->shock));
        if (places)
            trn_csv_text(&csv, c->place);
        for (size_t k = 0; k < OPTIONALS; k++)
            if (trn_digest_logged(d, optionals[k].channel))
                trn_csv_number(&csv, value_of(c, &optionals[k]));
        trn_csv_number(&csv, trn_digest_starts(d));
        trn_csv_word(&csv, note.text);
        trn_csv_end(&csv);
        out->failed = out->failed || note.failed;
        trn_buffer_free(&note);
    }
    free(cells);
    return status;
}

trn_status trn_digest_histogram_csv(const trn_digest *d, trn_buffer *out)
{
    static const char *const headers[] = {
        "speed_from [rpm]", "speed_to [rpm]", "torque_from [N.m]", "torque_to [N.m]", "seconds",
        "revolutions", "equivalent_torque_p3 [N.m]", "equivalent_torque_p10_3 [N.m]"};
    trn_digest_cell *cells = NULL;
    size_t n = 0;
    trn_status status = trn_digest_histogram(d, &cells, &n);
    trn_csv_writer csv = {.out = out};
    for (size_t i = 0; status == TRN_OK && i < sizeof headers / sizeof headers[0]; i++)
        trn_csv_word(&csv, headers[i]);
    if (status == TRN_OK)
        trn_csv_end(&csv);
    for (size_t i = 0; i < n; i++) {
        const trn_digest_cell *c = &cells[i];
        const double values[] = {c->speed_from_rpm, c->speed_to_rpm, c->torque_from_nm,
                                 c->torque_to_nm, c->seconds, c->revolutions,
                                 c->equivalent_p3_nm, c->equivalent_p10_3_nm};
        for (size_t k = 0; k < sizeof values / sizeof values[0]; k++)
            trn_csv_number(&csv, values[k]);
        trn_csv_end(&csv);
    }
    free(cells);
    return status;
}

trn_status trn_digest_rainflow_csv(const trn_digest *d, trn_buffer *out)
{
    trn_digest_cycles *rows = NULL;
    size_t n = 0;
    trn_status status = trn_digest_rainflow(d, &rows, &n);
    trn_csv_writer csv = {.out = out};
    if (status == TRN_OK)
        trn_buffer_add(out, "range_from [N.m],range_to [N.m],mean_from [N.m],mean_to [N.m],"
                            "cycles\n");
    for (size_t i = 0; i < n; i++) {
        trn_csv_number(&csv, rows[i].range_from_nm);
        trn_csv_number(&csv, rows[i].range_to_nm);
        trn_csv_number(&csv, rows[i].mean_from_nm);
        trn_csv_number(&csv, rows[i].mean_to_nm);
        trn_csv_number(&csv, rows[i].count);
        trn_csv_end(&csv);
    }
    free(rows);
    return status;
}

void trn_digest_quality_csv(const trn_digest *d, trn_buffer *out)
{
    trn_csv_writer csv = {.out = out};
    trn_buffer_add(out, "what,count,seconds,meaning\n");
    for (size_t e = 0; e < TRN_EVENT_COUNT; e++) {
        trn_digest_event event = (trn_digest_event)e;
        trn_csv_word(&csv, trn_digest_event_word(event));
        trn_csv_number(&csv, (double)trn_digest_count(d, event));
        if (event >= TRN_EVENT_WORK && event <= TRN_EVENT_SPIKE && event != TRN_EVENT_BACK &&
            event != TRN_EVENT_REPEATED)
            trn_csv_number(&csv, trn_digest_seconds(d, event));
        else
            trn_csv_blank(&csv);
        trn_csv_word(&csv, trn_digest_event_text(event));
        trn_csv_end(&csv);
    }
}
