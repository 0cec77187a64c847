/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <trunnion/table.h>

static size_t character_length(const unsigned char *p)
{
    size_t n = *p < 0x80 ? 1 : *p < 0xE0 ? 2 : *p < 0xF0 ? 3 : 4;
    for (size_t i = 1; i < n; i++)
        if ((p[i] & 0xC0) != 0x80)
            return 0;
    return n;
}

/* A copy on one line: what cells hold is printed to terminals, so control characters become a
 * blank, and a character that a cut left incomplete goes. */
static char *printable(const char *text)
{
    char *copy = trn_text_copy(text);
    unsigned char *to = (unsigned char *)copy;
    const unsigned char *p = (const unsigned char *)text;
    while (copy && *p) {
        size_t n = *p >= 0x80 && *p < 0xC0 ? 0 : character_length(p);
        for (size_t i = 0; i < n; i++)
            *to++ = p[i] < 0x20 || p[i] == 0x7F ? ' ' : p[i];
        p += n > 0 ? n : 1;
    }
    if (copy)
        *to = '\0';
    return copy;
}

void trn_fault_add(trn_faults *faults, const char *file, size_t line, const char *column,
                   const char *format, ...)
{
    faults->count++;
    if (faults->kept == TRN_FAULTS_KEPT)
        return;
    char text[1024];
    va_list args;
    va_start(args, format);
    int n = vsnprintf(text, sizeof text, format, args);
    va_end(args);
    if (n < 0)
        text[0] = '\0';
    trn_fault *fault = &faults->list[faults->kept];
    fault->file = printable(file ? file : "");
    fault->line = line;
    fault->column = column ? printable(column) : NULL;
    fault->text = printable(text);
    if (!fault->file || !fault->text || (column && !fault->column)) {
        free(fault->file);
        free(fault->column);
        free(fault->text);
        return; /* still counted */
    }
    faults->kept++;
}

void trn_fault_text(const trn_fault *fault, trn_buffer *out)
{
    trn_buffer_add(out, fault->file);
    if (fault->line)
        trn_buffer_print(out, ":%zu", fault->line);
    trn_buffer_add(out, ": ");
    if (fault->column)
        trn_buffer_print(out, "column %s: ", fault->column);
    trn_buffer_add(out, fault->text);
}

void trn_faults_free(trn_faults *faults)
{
    for (size_t i = 0; i < faults->kept; i++) {
        free(faults->list[i].file);
        free(faults->list[i].column);
        free(faults->list[i].text);
    }
    *faults = (trn_faults){.kept = 0};
}
