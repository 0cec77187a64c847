/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Texts from outside, made fit for formats that refuse what a CSV file may hold. */
#include <stdbool.h>
#include <string.h>
#include <trunnion/handover.h>

static const char replacement[] = "\xef\xbf\xbd"; /* U+FFFD */

/* Bytes of the character at p, 0 where it is none. */
static size_t character(const unsigned char *p)
{
    static const unsigned long least[] = {0, 0, 0x80, 0x800, 0x10000};
    size_t n = p[0] < 0x80 ? 1 : (p[0] & 0xe0) == 0xc0 ? 2 : (p[0] & 0xf0) == 0xe0 ? 3
                                : (p[0] & 0xf8) == 0xf0 ? 4 : 0;
    if (n <= 1)
        return n;
    unsigned long code = p[0] & (0x7fu >> n);
    for (size_t i = 1; i < n; i++) {
        if ((p[i] & 0xc0) != 0x80)
            return 0;
        code = code << 6 | (p[i] & 0x3fu);
    }
    bool good = code >= least[n] && code <= 0x10ffff && (code < 0xd800 || code > 0xdfff) &&
                code != 0xfffe && code != 0xffff; /* which XML refuses */
    return good ? n : 0;
}

void trn_text_clean(const char *text, size_t most, trn_buffer *out)
{
    size_t used = 0;
    for (const char *p = text; *p;) {
        size_t n = character((const unsigned char *)p);
        bool shown = n > 1 || (n == 1 && ((unsigned char)*p >= 0x20 || *p == '\t' || *p == '\n') &&
                               *p != 0x7f);
        size_t written = shown ? n : strlen(replacement);
        if (p[0] == '\r' && p[1] == '\n') {
            p++;
            continue;
        }
        if (written > most - used)
            break;
        trn_buffer_add_n(out, shown ? p : replacement, written);
        used += written;
        p += n ? n : 1;
    }
}
