/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <ctype.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/table.h>

static char *trimmed(const char *start, size_t n)
{
    while (n > 0 && isspace((unsigned char)*start)) {
        start++;
        n--;
    }
    while (n > 0 && isspace((unsigned char)start[n - 1]))
        n--;
    return trn_text_copy_n(start, n);
}

trn_status trn_header_split(const char *header, char **name, char **unit)
{
    const char *open = strchr(header, '[');
    const char *close = open ? strrchr(open, ']') : NULL;
    if (open && (!close || close[1 + strspn(close + 1, " \t")] != '\0'))
        return TRN_E_INPUT;
    char *left = trimmed(header, open ? (size_t)(open - header) : strlen(header));
    char *right = open ? trimmed(open + 1, (size_t)(close - open - 1)) : NULL;
    if (!left || (open && !right)) {
        free(left);
        free(right);
        return TRN_E_MEMORY;
    }
    *name = left;
    *unit = right;
    return TRN_OK;
}
