/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <ctype.h>
#include <errno.h>
#include <locale.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <trunnion/text.h>

static bool reserve(trn_buffer *buffer, size_t more)
{
    if (buffer->failed)
        return false;
    size_t need = buffer->length + more + 1;
    if (need <= buffer->capacity)
        return true;
    size_t capacity = buffer->capacity ? buffer->capacity : 256;
    while (capacity < need)
        capacity *= 2;
    char *text = realloc(buffer->text, capacity);
    if (!text) {
        buffer->failed = true;
        return false;
    }
    buffer->text = text;
    buffer->capacity = capacity;
    return true;
}

void trn_buffer_add_n(trn_buffer *buffer, const char *text, size_t n)
{
    if (!reserve(buffer, n))
        return;
    memcpy(buffer->text + buffer->length, text, n);
    buffer->length += n;
    buffer->text[buffer->length] = '\0';
}

void trn_buffer_add(trn_buffer *buffer, const char *text)
{
    trn_buffer_add_n(buffer, text, strlen(text));
}

void trn_buffer_print(trn_buffer *buffer, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    va_list again;
    va_copy(again, args);
    int n = vsnprintf(NULL, 0, format, args);
    va_end(args);
    if (n < 0)
        buffer->failed = true;
    else if (reserve(buffer, (size_t)n)) {
        (void)vsnprintf(buffer->text + buffer->length, (size_t)n + 1, format, again);
        buffer->length += (size_t)n;
    }
    va_end(again);
}

void trn_buffer_free(trn_buffer *buffer)
{
    free(buffer->text);
    *buffer = (trn_buffer){0};
}

char *trn_text_copy_n(const char *text, size_t n)
{
    char *copy = malloc(n + 1);
    if (copy) {
        memcpy(copy, text, n);
        copy[n] = '\0';
    }
    return copy;
}

char *trn_text_copy(const char *text)
{
    return trn_text_copy_n(text, strlen(text));
}

/* Length of the decimal number at the start of text, 0 if there is none. */
static size_t number_length(const char *text)
{
    size_t i = 0;
    size_t digits = 0;
    if (text[i] == '+' || text[i] == '-')
        i++;
    for (; isdigit((unsigned char)text[i]); i++)
        digits++;
    if (text[i] == '.')
        for (i++; isdigit((unsigned char)text[i]); i++)
            digits++;
    if (digits == 0)
        return 0;
    if (text[i] == 'e' || text[i] == 'E') {
        size_t k = i + 1;
        if (text[k] == '+' || text[k] == '-')
            k++;
        if (isdigit((unsigned char)text[k])) {
            while (isdigit((unsigned char)text[k]))
                k++;
            i = k;
        }
    }
    return i;
}

trn_status trn_text_number_start(const char *text, double *out, const char **end)
{
    const char *p = text;
    while (isspace((unsigned char)*p))
        p++;
    size_t n = number_length(p);
    char plain[128];
    if (n == 0 || n >= sizeof plain)
        return TRN_E_NUMBER;
    memcpy(plain, p, n);
    plain[n] = '\0';
    /* strtod reads the point of the locale that the host program has set, if any */
    const struct lconv *locale = localeconv();
    char *point = strchr(plain, '.');
    if (point && locale && locale->decimal_point && locale->decimal_point[0] != '.' &&
        locale->decimal_point[0] != '\0')
        *point = locale->decimal_point[0];
    errno = 0;
    char *stop = NULL;
    double value = strtod(plain, &stop);
    if (stop != plain + n || !isfinite(value) || (errno == ERANGE && fabs(value) > 1))
        return TRN_E_NUMBER;
    *out = value;
    *end = p + n;
    return TRN_OK;
}

trn_status trn_text_number(const char *text, double *out)
{
    double value = 0;
    const char *end = NULL;
    trn_status status = trn_text_number_start(text, &value, &end);
    if (status != TRN_OK)
        return status;
    while (isspace((unsigned char)*end))
        end++;
    if (*end != '\0')
        return TRN_E_NUMBER;
    *out = value;
    return TRN_OK;
}

void trn_text_of_number(double value, char *out, size_t size)
{
    if (size == 0)
        return;
    if (isnan(value)) {
        out[0] = '\0';
        return;
    }
    if (isinf(value)) {
        (void)snprintf(out, size, "%s", value > 0 ? "inf" : "-inf");
        return;
    }
    if (value == 0)
        value = 0; /* no minus before zero */
    (void)snprintf(out, size, "%.12g", value);
    char *comma = strchr(out, ',');
    if (comma)
        *comma = '.';
}

bool trn_text_same(const char *a, const char *b)
{
    for (; *a && *b; a++, b++)
        if (tolower((unsigned char)*a) != tolower((unsigned char)*b))
            return false;
    return *a == *b;
}
