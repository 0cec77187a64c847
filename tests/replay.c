/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "replay.h"

#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "support.h"

trn_sheet *replay_file(const char *name)
{
    char path[512];
    (void)snprintf(path, sizeof path, "%s/%s", test_root(), name);
    trn_faults faults = {0};
    trn_sheet *sheet = NULL;
    cr_assert_eq(trn_sheet_read(path, &faults, &sheet), TRN_OK, "%s", path);
    return sheet;
}

trn_sheet *replay_table(const trn_buffer *csv)
{
    trn_faults faults = {0};
    trn_sheet *sheet = NULL;
    cr_assert(!csv->failed && csv->text);
    cr_assert_eq(trn_sheet_parse("table", csv->text, csv->length, &faults, &sheet), TRN_OK, "%s",
                 csv->text);
    return sheet;
}

size_t replay_column(const trn_sheet *sheet, const char *name)
{
    size_t n = strlen(name);
    for (size_t c = 0; c < sheet->columns; c++)
        if (strncmp(sheet->header[c], name, n) == 0 &&
            (sheet->header[c][n] == '\0' || sheet->header[c][n] == ' '))
            return c;
    cr_assert_fail("there is no column %s", name);
    return 0;
}

const char *replay_cell(const trn_sheet *sheet, size_t row, const char *column)
{
    return trn_sheet_cell(sheet, row, replay_column(sheet, column));
}

bool replay_matches(const char *cell, const char *expected, const char *tolerance)
{
    double wanted = 0;
    double got = 0;
    double allowed = 0;
    const char *end = NULL;
    if (trn_text_number_start(tolerance, &allowed, &end) != TRN_OK)
        return strcmp(cell, expected) == 0;
    if (trn_text_number(expected, &wanted) != TRN_OK || trn_text_number(cell, &got) != TRN_OK)
        return strcmp(cell, expected) == 0;
    if (*end == '%')
        allowed *= fabs(wanted) / 100;
    return fabs(got - wanted) <= allowed;
}

void replay_write(const char *text, char *path)
{
    (void)snprintf(path, 64, "/tmp/trunnion-test-XXXXXX");
    int file = mkstemp(path);
    cr_assert_geq(file, 0);
    cr_assert_eq(write(file, text, strlen(text)), (ssize_t)strlen(text));
    cr_assert_eq(close(file), 0);
}
