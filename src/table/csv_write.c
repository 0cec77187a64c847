/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>
#include <trunnion/csv_write.h>

static void put(trn_csv_writer *csv, const char *before, const char *text)
{
    trn_buffer *out = csv->out;
    size_t n = strlen(text);
    bool quotes = strpbrk(text, ",\"\r\n") != NULL ||
                  (n > 0 && (strchr(" \t", text[0]) || strchr(" \t", text[n - 1]))) ||
                  (csv->cells == 0 && text[0] == '#');
    if (csv->cells > 0)
        trn_buffer_add(out, ",");
    csv->filled = csv->filled || csv->cells > 0 || n > 0;
    csv->cells++;
    if (!quotes) {
        trn_buffer_add(out, before);
        trn_buffer_add(out, text);
        return;
    }
    trn_buffer_add(out, "\"");
    trn_buffer_add(out, before);
    for (const char *quote; (quote = strchr(text, '"')); text = quote + 1) {
        trn_buffer_add_n(out, text, (size_t)(quote - text));
        trn_buffer_add(out, "\"\"");
    }
    trn_buffer_add(out, text);
    trn_buffer_add(out, "\"");
}

void trn_csv_text(trn_csv_writer *csv, const char *text)
{
    if (!text)
        text = "";
    put(csv, text[0] != '\0' && strchr("=+-@\t\r", text[0]) ? "'" : "", text);
}

void trn_csv_word(trn_csv_writer *csv, const char *word)
{
    put(csv, "", word ? word : "");
}

void trn_csv_number(trn_csv_writer *csv, double value)
{
    char text[64];
    trn_text_of_number(value, text, sizeof text);
    put(csv, "", text);
}

void trn_csv_blank(trn_csv_writer *csv)
{
    put(csv, "", "");
}

void trn_csv_end(trn_csv_writer *csv)
{
    if (!csv->filled) /* a blank line would be no row */
        trn_buffer_add(csv->out, "\"\"");
    trn_buffer_add(csv->out, "\n");
    csv->cells = 0;
    csv->filled = false;
}
