/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "own_csv.h"

#include <string.h>

bool trn_own_csv(const trn_package_file *file)
{
    size_t n = strlen(file->name);
    return n > 4 && strcmp(file->name + n - 4, ".csv") == 0;
}

static void undo_apostrophe(trn_buffer *cell)
{
    if (cell->length < 2 || cell->text[0] != '\'' || !strchr("=+-@\t\r", cell->text[1]))
        return;
    memmove(cell->text, cell->text + 1, cell->length); /* with the zero */
    cell->length--;
}

bool trn_own_csv_cell(const trn_package_file *file, size_t *at, trn_buffer *cell, bool *last)
{
    const char *p = file->bytes + *at;
    const char *end = file->bytes + file->size;
    if (p >= end)
        return false;
    cell->length = 0;
    trn_buffer_add_n(cell, "", 0);
    bool quoted = *p == '"';
    p += quoted;
    while (p < end) {
        if (quoted && p[0] == '"' && p + 1 < end && p[1] == '"')
            p++;
        else if (quoted ? *p == '"' : *p == ',' || *p == '\n')
            break;
        trn_buffer_add_n(cell, p++, 1);
    }
    p += quoted && p < end;
    *last = p >= end || *p == '\n';
    *at = (size_t)(p - file->bytes) + 1;
    undo_apostrophe(cell);
    return true;
}
