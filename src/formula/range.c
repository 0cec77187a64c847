/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An interval such as "[0,90)" in words, for people. */
#include <math.h>
#include <string.h>
#include <trunnion/formula.h>

/* Bounds beyond 1e6 are small enough in number to stay as they are written. */
static void add_bound(const char *text, size_t n, trn_buffer *out)
{
    double value = 0;
    const char *end = text;
    if (memchr(text, 'e', n) && trn_text_number_start(text, &value, &end) == TRN_OK &&
        fabs(value) >= 1 && fabs(value) < 1e7)
        trn_buffer_print(out, "%.0f", value);
    else
        trn_buffer_add_n(out, text, n);
}

void trn_range_words(const char *range, trn_buffer *out)
{
    if (!range || strlen(range) < 5)
        return;
    const char *low = range + 1;
    size_t low_n = strcspn(low, ",");
    const char *high = low + low_n + (low[low_n] == ',');
    size_t high_n = strcspn(high, ")]");
    bool open_low = range[0] == '(';
    bool open_high = high[high_n] == ')';
    bool no_low = strncmp(low, "-inf", 4) == 0;
    bool no_high = strncmp(high, "inf", 3) == 0;
    if (no_low && no_high) {
        trn_buffer_add(out, "any");
        return;
    }
    if (!no_low) {
        trn_buffer_add(out, open_low ? "above " : "");
        add_bound(low, low_n, out);
    }
    if (no_high) {
        trn_buffer_add(out, open_low ? "" : " or more");
        return;
    }
    if (no_low)
        trn_buffer_add(out, open_high ? "below " : "up to ");
    else if (open_low)
        trn_buffer_add(out, open_high ? ", below " : ", up to ");
    else
        trn_buffer_add(out, open_high ? " to below " : " to ");
    add_bound(high, high_n, out);
}
