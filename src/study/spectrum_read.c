/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A torque record from a table. */
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/spectrum.h>
#include <trunnion/units.h>

typedef enum quantity { TIME, TORQUE, SPEED, QUANTITIES } quantity;

static const struct known {
    const char *name, *unit, *inner, *as; /* as: how the header is written */
} known[QUANTITIES] = {
    [TIME] = {"time", "s", "s", "time [s]"},
    [TORQUE] = {"torque", "N.m", "N.m", "torque [N.m]"},
    [SPEED] = {"speed", "rpm", "rad/s", "speed [rpm]"},
};
static const size_t missing = (size_t)-1;

typedef struct columns {
    size_t at[QUANTITIES];
    double scale[QUANTITIES], offset[QUANTITIES];
} columns;

static quantity quantity_of(const char *name)
{
    for (size_t q = 0; q < QUANTITIES; q++)
        if (strcmp(name, known[q].name) == 0)
            return (quantity)q;
    return strcmp(name, "load") == 0 ? TORQUE : QUANTITIES;
}

static void place_column(const trn_sheet *sheet, size_t c, columns *at, trn_faults *faults)
{
    char *name = NULL;
    char *unit = NULL;
    const char *header = sheet->header[c];
    if (trn_header_split(header, &name, &unit) != TRN_OK) {
        trn_fault_add(faults, sheet->name, sheet->header_line, header,
                      "the bracket is not closed; write `torque [N.m]`");
        return;
    }
    quantity q = quantity_of(name);
    if (q == QUANTITIES) {
        if (strncmp(name, "note", 4) != 0)
            trn_fault_add(faults, sheet->name, sheet->header_line, header,
                          "the columns are `time [s]`, `torque [N.m]` and `speed [rpm]` (one of "
                          "your own begins with `note`)");
    } else if (at->at[q] != missing) {
        trn_fault_add(faults, sheet->name, sheet->header_line, header,
                      "column %zu holds the %s already", at->at[q] + 1, known[q].name);
    } else {
        at->at[q] = c;
        if (!unit || trn_unit_convert(unit, known[q].inner, &at->scale[q], &at->offset[q]) != TRN_OK)
            trn_fault_add(faults, sheet->name, sheet->header_line, header,
                          "%s or a unit that converts to it is expected in brackets; write `%s`",
                          known[q].unit, known[q].as);
    }
    free(name);
    free(unit);
}

/* A cell as a number of SI; blank: NaN. */
static double read_cell(const trn_sheet *sheet, size_t r, quantity q, const columns *at,
                        trn_faults *faults)
{
    const char *text = trn_sheet_cell(sheet, r, at->at[q]);
    double value = NAN;
    if (!*text)
        return NAN;
    if (trn_sheet_number(sheet, text, &value) != TRN_OK) {
        trn_fault_add(faults, sheet->name, sheet->line[r], sheet->header[at->at[q]],
                      "`%.40s` is not a number", text);
        return NAN;
    }
    return value * at->scale[q] + at->offset[q];
}

static void check_time(const trn_sheet *sheet, size_t r, const columns *at,
                       const trn_record *record, trn_faults *faults)
{
    double now = record->time_s[r];
    const char *header = sheet->header[at->at[TIME]];
    if (isnan(now) && !*trn_sheet_cell(sheet, r, at->at[TIME]))
        trn_fault_add(faults, sheet->name, sheet->line[r], header,
                      "the cell is blank; every row needs its time (a blank torque is a gap)");
    else if (r > 0 && now <= record->time_s[r - 1])
        trn_fault_add(faults, sheet->name, sheet->line[r], header,
                      "%s is not later than the %s of line %zu; rows stand in order of time",
                      trn_sheet_cell(sheet, r, at->at[TIME]),
                      trn_sheet_cell(sheet, r - 1, at->at[TIME]), sheet->line[r - 1]);
}

static void read_rows(const trn_sheet *sheet, const columns *at, trn_record *record,
                      trn_faults *faults)
{
    for (size_t r = 0; r < sheet->rows && faults->count < TRN_FAULTS_KEPT; r++) {
        record->line[r] = sheet->line[r];
        record->torque_nm[r] = read_cell(sheet, r, TORQUE, at, faults);
        if (record->time_s) {
            record->time_s[r] = read_cell(sheet, r, TIME, at, faults);
            check_time(sheet, r, at, record, faults);
        }
        if (!record->speed_rad_s)
            continue;
        record->speed_rad_s[r] = read_cell(sheet, r, SPEED, at, faults);
        if (record->speed_rad_s[r] < 0)
            trn_fault_add(faults, sheet->name, sheet->line[r], sheet->header[at->at[SPEED]],
                          "%s is below 0; give the speed without a sign",
                          trn_sheet_cell(sheet, r, at->at[SPEED]));
    }
}

static bool make_room(const trn_sheet *sheet, const columns *at, trn_record *record)
{
    size_t n = sheet->rows + 1;
    record->n = sheet->rows;
    record->file = trn_text_copy(sheet->name);
    record->torque_nm = calloc(n, sizeof(double));
    record->line = calloc(n, sizeof *record->line);
    record->time_s = at->at[TIME] != missing ? calloc(n, sizeof(double)) : NULL;
    record->speed_rad_s = at->at[SPEED] != missing ? calloc(n, sizeof(double)) : NULL;
    return record->file && record->torque_nm && record->line &&
           (record->time_s || at->at[TIME] == missing) &&
           (record->speed_rad_s || at->at[SPEED] == missing);
}

static trn_status take(const trn_sheet *sheet, trn_record *record, trn_faults *faults)
{
    size_t before = faults->count;
    columns at = {.at = {missing, missing, missing}};
    for (size_t c = 0; c < sheet->columns; c++)
        place_column(sheet, c, &at, faults);
    if (at.at[TORQUE] == missing && faults->count == before)
        trn_fault_add(faults, sheet->name, sheet->header_line, NULL,
                      "the column `torque [N.m]` is needed");
    if (sheet->rows == 0 && faults->count == before)
        trn_fault_add(faults, sheet->name, 0, NULL, "the table has no rows");
    if (faults->count > before)
        return TRN_E_INPUT;
    if (!make_room(sheet, &at, record))
        return TRN_E_MEMORY;
    read_rows(sheet, &at, record, faults);
    return faults->count > before ? TRN_E_INPUT : TRN_OK;
}

trn_status trn_record_read(const char *path, trn_faults *faults, trn_record *record)
{
    trn_sheet *sheet = NULL;
    trn_record made = {.n = 0};
    trn_status status = trn_sheet_read(path, faults, &sheet);
    if (status != TRN_OK)
        return status;
    status = take(sheet, &made, faults);
    trn_sheet_free(sheet);
    if (status == TRN_OK)
        *record = made;
    else
        trn_record_free(&made);
    return status;
}

void trn_record_free(trn_record *record)
{
    free(record->torque_nm);
    free(record->time_s);
    free(record->speed_rad_s);
    free(record->line);
    free(record->file);
    *record = (trn_record){.n = 0};
}
