/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Growing text buffers, and numbers as text. */
#ifndef TRUNNION_TEXT_H
#define TRUNNION_TEXT_H

#include <stdbool.h>
#include <stddef.h>
#include <trunnion/status.h>

#ifdef __cplusplus
extern "C" {
#endif

#if defined(__GNUC__)
#define TRN_PRINTF(f, a) __attribute__((format(printf, f, a)))
#else
#define TRN_PRINTF(f, a)
#endif

/* A text that grows; `failed` stays set after memory ran out (checked once, at the end).
 * Start with {0}. `text` is NULL until something was added. */
typedef struct trn_buffer {
    char *text;
    size_t length, capacity;
    bool failed;
} trn_buffer;

/* Adds a text. */
void trn_buffer_add(trn_buffer *buffer, const char *text);
/* Adds n bytes, zeros too (then `length` counts, not strlen). */
void trn_buffer_add_n(trn_buffer *buffer, const char *text, size_t n);
/* Adds what printf would print. */
void trn_buffer_print(trn_buffer *buffer, const char *format, ...) TRN_PRINTF(2, 3);
/* Frees the text; the buffer is then as new. */
void trn_buffer_free(trn_buffer *buffer);

/* A copy on the heap; NULL without memory. */
char *trn_text_copy(const char *text);
/* The same of the first n bytes, ended by a zero. */
char *trn_text_copy_n(const char *text, size_t n);

/* Whole text as a decimal number: outer blanks allowed; no hexadecimal, no nan, no inf,
 * no range error. Independent of the locale. TRN_E_NUMBER otherwise, out untouched. */
trn_status trn_text_number(const char *text, double *out);

/* The longest number at the start of text; *end is where it stops. Same rules.
 * Status: TRN_E_NUMBER, out and end untouched */
trn_status trn_text_number_start(const char *text, double *out, const char **end);

/* Shortest decimal text of 10 or more digits that gives the number back to 1e-12 (%.12g);
 * writes at most size bytes. inf is written `inf`; NaN is written as an empty text. */
void trn_text_of_number(double value, char *out, size_t size);

/* Same letters, upper and lower case alike (ASCII). */
bool trn_text_same(const char *a, const char *b);

#ifdef __cplusplus
}
#endif
#endif
