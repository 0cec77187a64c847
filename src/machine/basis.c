/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rules of basis.csv: paths that are there, each once, a width that is one, a date that is one. */
#include <math.h>
#include <string.h>
#include <trunnion/path.h>
#include <trunnion/units.h>

#include "arena.h"
#include "rules.h"

/* Digits of a number at text, from low to high; the rest after them, NULL where they are none. */
static const char *part(const char *text, size_t digits, int low, int high, int *value)
{
    *value = 0;
    for (size_t i = 0; i < digits; i++) {
        if (text[i] < '0' || text[i] > '9')
            return NULL;
        *value = 10 * *value + (text[i] - '0');
    }
    return *value >= low && *value <= high ? text + digits : NULL;
}

static int days_of(int year, int month)
{
    static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
    return days[month - 1] + (month == 2 && leap);
}

/* `Z`, `+02:00`, or nothing. */
static bool is_zone(const char *p)
{
    int value = 0;
    if (*p == '\0' || strcmp(p, "Z") == 0)
        return true;
    if (*p != '+' && *p != '-')
        return false;
    p = part(p + 1, 2, 0, 23, &value);
    return p && *p == ':' && (p = part(p + 1, 2, 0, 59, &value)) && *p == '\0';
}

static bool is_time(const char *p)
{
    int value = 0;
    p = part(p, 2, 0, 23, &value);
    if (!p || *p != ':' || !(p = part(p + 1, 2, 0, 59, &value)))
        return false;
    if (*p == ':' && !(p = part(p + 1, 2, 0, 59, &value)))
        return false;
    return is_zone(p);
}

bool trn_is_iso_date(const char *text)
{
    int year = 0;
    int month = 0;
    int day = 0;
    const char *p = part(text, 4, 1, 9999, &year);
    if (p && *p == '\0')
        return true;
    if (!p || *p != '-' || !(p = part(p + 1, 2, 1, 12, &month)))
        return false;
    if (*p == '\0')
        return true;
    if (*p != '-' || !(p = part(p + 1, 2, 1, days_of(year, month), &day)))
        return false;
    return *p == '\0' || (*p == 'T' && is_time(p + 1));
}

/* A number from 0 on in the column's unit, in one that converts, or in %. */
static void check_width(const trn_basis_row *b, const trn_path *path, trn_faults *faults)
{
    double value = NAN;
    double scale[2];
    const char *unit = b->plus_minus;
    bool number = path->column->cell == TRN_CELL_NUMBER || path->column->cell == TRN_CELL_NUMBERS;
    if (!number) {
        trn_fault_add(faults, "basis.csv", b->row.line, "plus_minus",
                      "`%s` is no number, so it has no width; leave the cell blank", b->quantity);
        return;
    }
    if (trn_text_number_start(b->plus_minus, &value, &unit) != TRN_OK || !(value >= 0)) {
        trn_fault_add(faults, "basis.csv", b->row.line, "plus_minus",
                      "`%.60s` is no width; write a number from 0 on, in %s or with its unit or "
                      "in %%",
                      b->plus_minus, strcmp(path->column->unit, "1") == 0 ? "no unit"
                                                                          : path->column->unit);
        return;
    }
    unit += strspn(unit, " \t");
    const char *own = path->column->unit;
    const char *wide = strcmp(own, "degC") == 0 ? "K" : own; /* a difference */
    if (*unit == '\0' || strcmp(unit, "%") == 0 || strcmp(unit, own) == 0 ||
        trn_unit_convert(unit, wide, &scale[0], &scale[1]) == TRN_OK)
        return;
    trn_fault_add(faults, "basis.csv", b->row.line, "plus_minus",
                  "`%.40s` does not convert to %s; write a unit of its kind, or %%", unit, own);
}

static bool check_path(const trn_machine *m, size_t i, trn_path *path, trn_faults *faults)
{
    const trn_basis_row *b = &m->basis[i];
    trn_buffer why = {0};
    trn_status status = trn_path_parse(m, b->quantity, path, &why);
    if (status != TRN_OK)
        trn_fault_add(faults, "basis.csv", b->row.line, "quantity", "%s",
                      why.text ? why.text : trn_status_text(status));
    trn_buffer_free(&why);
    return status == TRN_OK;
}

void trn_basis_check(const trn_machine *m, trn_faults *faults)
{
    for (size_t i = 0; i < m->basis_count; i++) {
        const trn_basis_row *b = &m->basis[i];
        trn_path path;
        if (check_path(m, i, &path, faults) && b->plus_minus)
            check_width(b, &path, faults);
        if (b->date && !trn_is_iso_date(b->date))
            trn_fault_add(faults, "basis.csv", b->row.line, "date",
                          "`%.40s` is no date of ISO 8601; write 2026-05-14, 2026-05 or 2026",
                          b->date);
    }
}
