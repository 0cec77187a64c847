/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Bytes of a log, plain or gzip, to decoded text, and the text to pieces that end between rows.
 * What needs no decoding (ASCII without CR) is taken as it is. */
#include <errno.h>
#include <stdlib.h>
#include <string.h>
#ifdef __SSE2__
#include <emmintrin.h>
#endif

#include "log_inside.h"

bool log_reserve(log_text *text, size_t size)
{
    size += LOG_SLACK;
    if (size <= text->capacity)
        return true;
    size_t capacity = text->capacity ? text->capacity : 4096;
    while (capacity < size)
        capacity += capacity / 2;
    char *p = realloc(text->p, capacity);
    if (!p)
        return false;
    text->p = p;
    text->capacity = capacity;
    return true;
}

/* ---- whole blocks at a glance -------------------------------------------------------------- */

typedef struct glance {
    bool high, cr, nul;
} glance;

static glance look(const char *p, size_t n)
{
    size_t i = 0;
    glance g = {false, false, false};
#ifdef __SSE2__
    __m128i any = _mm_setzero_si128();
    __m128i cr = _mm_setzero_si128();
    for (; i + 16 <= n; i += 16) {
        __m128i x = _mm_loadu_si128((const __m128i *)(const void *)(p + i));
        any = _mm_or_si128(any, x);
        /* control characters below CR are rare: NUL is looked for where there is one */
        cr = _mm_or_si128(cr, _mm_or_si128(_mm_cmpeq_epi8(x, _mm_set1_epi8('\r')),
                                           _mm_cmpeq_epi8(x, _mm_setzero_si128())));
    }
    g.high = _mm_movemask_epi8(any) != 0;
    if (_mm_movemask_epi8(cr) != 0) {
        g.cr = memchr(p, '\r', i) != NULL;
        g.nul = memchr(p, '\0', i) != NULL;
    }
#endif
    for (; i < n; i++) {
        g.high = g.high || (p[i] & 0x80) != 0;
        g.cr = g.cr || p[i] == '\r';
        g.nul = g.nul || p[i] == '\0';
    }
    return g;
}

bool log_odd(const char *p, size_t n)
{
    return look(p, n).high;
}

size_t log_newlines(const char *p, size_t n)
{
    size_t i = 0;
    size_t count = 0;
#ifdef __SSE2__
    while (i + 16 <= n) {
        __m128i sum = _mm_setzero_si128();
        for (unsigned k = 0; k < 255 && i + 16 <= n; k++, i += 16) {
            __m128i x = _mm_loadu_si128((const __m128i *)(const void *)(p + i));
            sum = _mm_sub_epi8(sum, _mm_cmpeq_epi8(x, _mm_set1_epi8('\n')));
        }
        __m128i wide = _mm_sad_epu8(sum, _mm_setzero_si128());
        count += (size_t)_mm_cvtsi128_si32(wide);
        count += (size_t)_mm_cvtsi128_si32(_mm_srli_si128(wide, 8));
    }
#endif
    for (; i < n; i++)
        count += p[i] == '\n';
    return count;
}

/* ---- rows ---------------------------------------------------------------------------------- */

/* As the table reader sees lines: a comment is one only where no quote is open. */
static size_t cut_quoted(const char *p, size_t n, size_t target)
{
    bool quoted = false;
    size_t best = 0;
    for (size_t at = 0; at < n;) {
        const char *stop = memchr(p + at, '\n', n - at);
        if (!stop)
            break;
        size_t end = (size_t)(stop - p) + 1;
        size_t q = at;
        while (!quoted && q < end && p[q] == ' ')
            q++;
        if (quoted || p[q] != '#')
            for (; q < end; q++)
                quoted = quoted != (p[q] == '"');
        at = end;
        if (quoted)
            continue;
        if (end > target && best > 0)
            break;
        best = end;
        if (end >= target)
            break;
    }
    return best;
}

size_t log_cut(const char *p, size_t n, size_t target, bool *quotes)
{
    size_t end = n < target ? n : target;
    *quotes = memchr(p, '"', end) != NULL;
    if (!*quotes) {
        for (size_t k = end; k > 0; k--)
            if (p[k - 1] == '\n')
                return k;
        const char *stop = end < n ? memchr(p + end, '\n', n - end) : NULL;
        *quotes = memchr(p + end, '"', stop ? (size_t)(stop - p) - end : n - end) != NULL;
        if (!*quotes)
            return stop ? (size_t)(stop - p) + 1 : 0;
    }
    return cut_quoted(p, n, target);
}

/* ---- bytes --------------------------------------------------------------------------------- */

static trn_status fault_of_file(trn_log *log, trn_faults *faults)
{
    int code = 0;
    const char *text = gzerror(log->file, &code);
    if (code == Z_ERRNO)
        text = strerror(errno);
    if (code == Z_BUF_ERROR)
        text = "the compressed file ends too early; is it cut off?";
    else if (code == Z_DATA_ERROR)
        text = "the compressed file is damaged";
    trn_fault_add(faults, log->name, 0, NULL, "%s", text);
    return code == Z_MEM_ERROR ? TRN_E_MEMORY : code == Z_ERRNO ? TRN_E_IO : TRN_E_INPUT;
}

/* ASCII with CR as the end of lines, in place. */
static size_t strip(trn_decoder *d, char *p, size_t n)
{
    size_t to = 0;
    for (size_t i = 0; i < n;) {
        if (d->after_cr && p[i] == '\n') {
            d->after_cr = false;
            i++;
            continue;
        }
        d->after_cr = false;
        const char *cr = memchr(p + i, '\r', n - i);
        size_t stop = cr ? (size_t)(cr - p) : n;
        memmove(p + to, p + i, stop - i);
        to += stop - i;
        i = stop;
        if (cr) {
            p[to++] = '\n';
            d->after_cr = true;
            i++;
        }
    }
    return to;
}

/* n raw bytes stand behind the carry. */
static trn_status decode(trn_log *log, size_t n, trn_faults *faults)
{
    trn_decoder *d = &log->decoder;
    log_text *carry = &log->carry;
    char *raw = carry->p + carry->size;
    bool plain = d->encoding && strcmp(d->encoding, "UTF-8") == 0 && d->held_count == 0;
    glance g = look(raw, n);
    if (plain && !g.high && !g.nul) {
        carry->size += g.cr || d->after_cr ? strip(d, raw, n) : n;
        return TRN_OK;
    }
    d->faults = faults;
    d->line = log->line + log_newlines(carry->p, carry->size);
    trn_decoder_push(d, raw, n);
    if (n == 0)
        trn_decoder_finish(d);
    if (d->status < 0)
        return d->status;
    if (!log_reserve(carry, carry->size + d->text.length))
        return TRN_E_MEMORY;
    if (d->text.length > 0) {
        memcpy(carry->p + carry->size, d->text.text, d->text.length);
        log->carry_odd = log->carry_odd || look(d->text.text, d->text.length).high;
    }
    carry->size += d->text.length;
    d->text.length = 0;
    return TRN_OK;
}

trn_status log_fill(trn_log *log, trn_faults *faults)
{
    if (log->ended)
        return TRN_OK;
    if (!log_reserve(&log->carry, log->carry.size + LOG_CHUNK))
        return TRN_E_MEMORY;
    errno = 0;
    int n = gzread(log->file, log->carry.p + log->carry.size, LOG_CHUNK);
    int code = Z_OK;
    if (n < LOG_CHUNK) /* at the end, or a file that is cut off */
        (void)gzerror(log->file, &code);
    if (n < 0 || (code != Z_OK && code != Z_STREAM_END))
        return fault_of_file(log, faults);
    log->ended = n == 0;
    return decode(log, (size_t)n, faults);
}
