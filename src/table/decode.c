/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Bytes of a file to UTF-8 text: byte-order mark, UTF-16, line ends. iconv does the converting
 * and refuses what is no UTF-8. */
#include <errno.h>
#include <stdio.h>
#include <string.h>

#include "reader.h"

void trn_decoder_start(trn_decoder *decoder, const char *name, trn_faults *faults)
{
    *decoder = (trn_decoder){.name = name, .faults = faults, .line = 1};
}

static void refuse(trn_decoder *d, trn_status status, size_t line, const char *why)
{
    d->status = status;
    trn_fault_add(d->faults, d->name, line, NULL, "%s", why);
}

/* Converted text: line ends to '\n', lines counted, NUL refused. */
static void take(trn_decoder *d, const char *p, size_t n)
{
    size_t start = 0;
    for (size_t i = 0; i < n; i++) {
        char c = p[i];
        if (c != '\r' && c != '\n' && c != '\0') {
            d->after_cr = false;
            continue;
        }
        trn_buffer_add_n(&d->text, p + start, i - start);
        start = i + 1;
        if (c == '\0') {
            refuse(d, TRN_E_INPUT, d->line,
                   "a NUL byte: text is expected, as UTF-8 or as UTF-16 with a byte-order mark");
            return;
        }
        if (c == '\r' || !d->after_cr) {
            trn_buffer_add_n(&d->text, "\n", 1);
            d->line++;
        }
        d->after_cr = c == '\r';
    }
    trn_buffer_add_n(&d->text, p + start, n - start);
}

/* The byte-order mark says the encoding; returns its length. */
static size_t detect(trn_decoder *d, const unsigned char *p, size_t n)
{
    size_t mark = 0;
    d->encoding = "UTF-8";
    if (n >= 3 && p[0] == 0xEF && p[1] == 0xBB && p[2] == 0xBF) {
        mark = 3;
    } else if (n >= 2 && p[0] == 0xFF && p[1] == 0xFE) {
        d->encoding = "UTF-16LE";
        mark = 2;
    } else if (n >= 2 && p[0] == 0xFE && p[1] == 0xFF) {
        d->encoding = "UTF-16BE";
        mark = 2;
    }
    d->converter = iconv_open("UTF-8", d->encoding);
    if (d->converter == (iconv_t)-1) {
        d->encoding = NULL;
        refuse(d, TRN_E_IO, 0, "the system's iconv does not know UTF-8 and UTF-16");
    }
    return mark;
}

static void refuse_bytes(trn_decoder *d, unsigned char byte)
{
    char why[128];
    (void)snprintf(why, sizeof why, "not valid %s (byte 0x%02X); save the file as UTF-8",
                   d->encoding, byte);
    refuse(d, TRN_E_INPUT, d->line, why);
}

/* Converts what is complete of the n bytes at p, holds the rest. */
static void convert(trn_decoder *d, unsigned char *p, size_t n)
{
    char *in = (char *)p;
    while (n > 0 && d->status == TRN_OK) {
        char out[8192];
        char *to = out;
        size_t room = sizeof out;
        size_t answer = iconv(d->converter, &in, &n, &to, &room);
        int error = errno;
        take(d, out, sizeof out - room);
        if (answer != (size_t)-1 || error == E2BIG || d->status != TRN_OK)
            continue;
        if (error == EINVAL && n < sizeof d->held) {
            memcpy(d->held, in, n);
            d->held_count = n;
            return;
        }
        refuse_bytes(d, (unsigned char)*in);
    }
}

void trn_decoder_push(trn_decoder *d, const void *bytes, size_t size)
{
    const unsigned char *p = bytes;
    if (d->status == TRN_OK && !d->endless && size > TRN_FILE_MAX - d->size)
        refuse(d, TRN_E_INPUT, 0, "the file is larger than 64 MiB, which no table here needs");
    if (d->status == TRN_OK)
        d->size += size;
    while (size > 0 && d->status == TRN_OK) {
        unsigned char joined[sizeof d->held + 4096];
        size_t n = size < 4096 ? size : 4096;
        memcpy(joined, d->held, d->held_count);
        memcpy(joined + d->held_count, p, n);
        p += n;
        size -= n;
        n += d->held_count;
        d->held_count = 0;
        size_t mark = 0;
        if (!d->encoding) {
            if (n < 3) { /* a byte-order mark takes up to three bytes */
                memcpy(d->held, joined, n);
                d->held_count = n;
                return;
            }
            mark = detect(d, joined, n);
        }
        if (d->status == TRN_OK)
            convert(d, joined + mark, n - mark);
    }
    if (d->text.failed && d->status == TRN_OK)
        d->status = TRN_E_MEMORY;
}

void trn_decoder_finish(trn_decoder *d)
{
    if (d->status == TRN_OK && !d->encoding && d->held_count > 0) {
        unsigned char first[sizeof d->held];
        size_t n = d->held_count;
        memcpy(first, d->held, n);
        d->held_count = 0;
        size_t mark = detect(d, first, n);
        if (d->status == TRN_OK)
            convert(d, first + mark, n - mark);
    }
    if (d->status == TRN_OK && d->held_count > 0)
        refuse(d, TRN_E_INPUT, d->line, "the file ends within a character; is it cut off?");
    if (d->text.failed && d->status == TRN_OK)
        d->status = TRN_E_MEMORY;
}

void trn_decoder_free(trn_decoder *d)
{
    if (d->encoding)
        (void)iconv_close(d->converter);
    d->encoding = NULL;
    trn_buffer_free(&d->text);
}
