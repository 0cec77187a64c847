/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An SVG of gnuplot as a part of a page. */
#include <string.h>
#include <trunnion/plot.h>

#include "html.h"

static bool starts(const char *p, const char *word)
{
    return strncmp(p, word, strlen(word)) == 0;
}

/* Length of an attribute's beginning behind which a name of the picture stands. */
static size_t name_follows(const char *p)
{
    static const char *const before[] = {" id='", " id=\"", "href='#", "href=\"#", "url(#"};
    for (size_t i = 0; i < sizeof before / sizeof before[0]; i++)
        if (starts(p, before[i]))
            return strlen(before[i]);
    return 0;
}

/* One tag from `<` to `>`, its names prefixed; the place behind it. */
static const char *copy_tag(const char *p, const char *prefix, trn_buffer *out)
{
    while (*p && *p != '>') {
        size_t n = name_follows(p);
        trn_buffer_add_n(out, p, n > 0 ? n : 1);
        if (n > 0)
            trn_buffer_print(out, "%s-", prefix);
        p += n > 0 ? n : 1;
    }
    if (*p)
        trn_buffer_add_n(out, p++, 1);
    return p;
}

/* Place behind an element that is left out. */
static const char *skip(const char *p, const char *end)
{
    const char *stop = strstr(p, end);
    return stop ? stop + strlen(end) : p + strlen(p);
}

trn_status trn_plot_inline(const char *svg, const char *prefix, const char *title,
                           const char *description, trn_buffer *out)
{
    const char *p = svg ? strstr(svg, "<svg") : NULL;
    if (!p)
        return TRN_E_INPUT;
    trn_buffer_print(out, "<svg role=\"img\" aria-labelledby=\"%s-title %s-desc\"", prefix, prefix);
    p = copy_tag(p + strlen("<svg"), prefix, out);
    trn_buffer_print(out, "\n<title id=\"%s-title\">", prefix);
    trn_html_escape(title, out);
    trn_buffer_print(out, "</title>\n<desc id=\"%s-desc\">", prefix);
    trn_html_escape(description, out);
    trn_buffer_add(out, "</desc>\n");
    while (*p)
        if (starts(p, "<title>")) /* names of curves, nothing to read */
            p = skip(p, "</title>");
        else if (starts(p, "<desc>"))
            p = skip(p, "</desc>");
        else if (*p == '<')
            p = copy_tag(p, prefix, out);
        else
            trn_buffer_add_n(out, p++, 1);
    return out->failed ? TRN_E_MEMORY : TRN_OK;
}
