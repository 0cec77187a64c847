/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <trunnion/table.h>

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
    fault->file = trn_text_copy(file ? file : "");
    fault->line = line;
    fault->column = column ? trn_text_copy(column) : NULL;
    fault->text = trn_text_copy(text);
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
