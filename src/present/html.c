/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pages: escapes, head and style, sections, tables, pictures. */
#include "html.h"

#include <math.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <trunnion/plot.h>

/* ---- escapes ------------------------------------------------------------------------------ */

/* Length of the UTF-8 character at p and its code; 0 where the bytes are none. */
static size_t character(const unsigned char *p, uint32_t *code)
{
    static const uint32_t least[] = {0, 0, 0x80, 0x800, 0x10000};
    size_t n = p[0] < 0x80 ? 1 : p[0] >= 0xf0 ? 4 : p[0] >= 0xe0 ? 3 : p[0] >= 0xc2 ? 2 : 0;
    if (n == 0 || p[0] > 0xf4)
        return 0;
    *code = n == 1 ? p[0] : p[0] & (0x7fU >> n);
    for (size_t i = 1; i < n; i++) {
        if ((p[i] & 0xc0) != 0x80)
            return 0;
        *code = *code << 6 | (p[i] & 0x3fU);
    }
    bool surrogate = *code >= 0xd800 && *code <= 0xdfff;
    return surrogate || *code < least[n] || *code > 0x10ffff ? 0 : n;
}

/* Would change how its neighbours read, or is not seen at all. */
static bool unseen(uint32_t c)
{
    static const uint32_t ranges[][2] = {
        {0x00, 0x1f},       {0x7f, 0x9f},       {0xad, 0xad},     {0x61c, 0x61c},
        {0x180e, 0x180e},   {0x200b, 0x200b},   {0x200e, 0x200f}, {0x2028, 0x202e},
        {0x2060, 0x206f},   {0xfdd0, 0xfdef},   {0xfeff, 0xfeff}, {0xfff0, 0xfffb},
        {0xe0000, 0xe0fff},
    };
    for (size_t i = 0; i < sizeof ranges / sizeof ranges[0]; i++)
        if (c >= ranges[i][0] && c <= ranges[i][1])
            return true;
    return (c & 0xfffe) == 0xfffe;
}

static const char *entity(uint32_t c)
{
    switch (c) {
    case '&': return "&amp;";
    case '<': return "&lt;";
    case '>': return "&gt;";
    case '"': return "&quot;";
    case '\'': return "&#39;";
    case '\t':
    case '\n':
    case '\r': return " ";
    default: return NULL;
    }
}

void trn_html_escape(const char *text, trn_buffer *out)
{
    const unsigned char *p = (const unsigned char *)text;
    while (*p) {
        uint32_t c = 0;
        size_t n = character(p, &c);
        const char *word = n > 0 ? entity(c) : NULL;
        if (n == 0)
            trn_buffer_print(out, "[0x%02X]", *p);
        else if (word)
            trn_buffer_add(out, word);
        else if (unseen(c))
            trn_buffer_print(out, "[U+%04X]", (unsigned)c);
        else
            trn_buffer_add_n(out, (const char *)p, n);
        p += n > 0 ? n : 1;
    }
}

/* A string of a style sheet: whatever is not a plain letter as its number, so that neither the
 * string nor the element can end in it. */
static void style_string(const char *text, trn_buffer *out)
{
    const unsigned char *p = (const unsigned char *)text;
    trn_buffer_add(out, "\"");
    while (*p) {
        uint32_t c = 0;
        size_t n = character(p, &c);
        bool plain = n > 0 && ((c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') ||
                               (c >= 'a' && c <= 'z') || c == ' ' || c == '.' || c == ',');
        if (n == 0 || (unseen(c) && !entity(c)))
            trn_buffer_add(out, "?");
        else if (plain)
            trn_buffer_add_n(out, (const char *)p, n);
        else
            trn_buffer_print(out, "\\%06x ", (unsigned)c); /* the blank ends it */
        p += n > 0 ? n : 1;
    }
    trn_buffer_add(out, "\"");
}

/* ---- the page ----------------------------------------------------------------------------- */

static const char style[] =
    "html{font:10.5pt/1.35 sans-serif;color:#111;background:#fff}\n"
    "body{max-width:186mm;margin:8mm auto;padding:0 4mm}\n"
    "h1{font-size:17pt;line-height:1.2;margin:0 0 1mm}\n"
    "h2{font-size:13pt;margin:6mm 0 1.5mm;border-top:0.6pt solid #111;padding-top:1.5mm}\n"
    "h3{font-size:11pt;margin:4mm 0 1mm}\n"
    "h2,h3{break-after:avoid}\n"
    "p{margin:1mm 0 2mm}\n"
    ".lead{color:#333}\n"
    ".caution{border-left:1.6mm solid #111;padding:0.6mm 0 0.6mm 2.4mm;margin:1.5mm 0;"
    "break-inside:avoid}\n"
    "table{border-collapse:collapse;margin:2mm 0 3mm;font-size:9pt;line-height:1.25;"
    "max-width:100%}\n"
    "caption{text-align:left;font-weight:bold;padding-bottom:1mm;break-after:avoid}\n"
    "th,td{text-align:left;vertical-align:top;padding:0.7mm 1.6mm;border-bottom:0.4pt solid "
    "#aaa;font-weight:normal;overflow-wrap:anywhere;unicode-bidi:isolate}\n"
    "thead{display:table-header-group}\n"
    "thead th{border-bottom:0.8pt solid #111;font-weight:bold;vertical-align:bottom}\n"
    "th.group{font-weight:bold;padding-top:2.4mm}\n"
    ".n{text-align:right;white-space:nowrap;font-variant-numeric:tabular-nums}\n"
    "tr{break-inside:avoid}\n"
    ".box{display:inline-block;min-width:17mm;height:5.5mm;border:0.6pt solid #111;"
    "vertical-align:middle}\n"
    ".notes{font-size:9pt}\n"
    "figure{margin:3mm 0;break-inside:avoid}\n"
    "figure svg{max-width:100%;height:auto}\n"
    "figcaption{font-size:9pt}\n"
    "a{color:inherit}\n"
    "@media print{body{max-width:none;margin:0;padding:0}}\n"
    "@page{size:A4;margin:14mm 13mm 15mm;";

void trn_html_begin(trn_html *html, const trn_html_page *page, trn_buffer *out)
{
    *html = (trn_html){.out = out};
    trn_buffer_add(out, "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
                        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src "
                        "'none'; style-src 'unsafe-inline'; img-src data:\">\n"
                        "<meta name=\"viewport\" content=\"width=device-width\">\n<title>");
    trn_html_escape(page->title, out);
    trn_buffer_add(out, "</title>\n<style>\n");
    trn_buffer_add(out, style);
    trn_buffer_add(out, "@bottom-left{font:8pt sans-serif;content:");
    style_string(page->margin ? page->margin : "", out);
    trn_buffer_add(out, "}@bottom-right{font:8pt sans-serif;content:counter(page) \" / \" "
                        "counter(pages)}}\n");
    if (page->style)
        trn_buffer_add(out, page->style);
    trn_buffer_add(out, "</style>\n</head>\n<body>\n<main>\n<h1>");
    trn_html_escape(page->title, out);
    trn_buffer_add(out, "</h1>\n");
    if (page->lead)
        trn_html_paragraph_of(html, "lead", page->lead);
}

void trn_html_end(trn_html *html)
{
    trn_buffer_add(html->out, "</main>\n</body>\n</html>\n");
}

static void element(trn_html *html, const char *open, const char *text, const char *close)
{
    trn_buffer_add(html->out, open);
    trn_html_escape(text, html->out);
    trn_buffer_add(html->out, close);
}

void trn_html_section_begin(trn_html *html, const char *id, const char *heading)
{
    element(html, "<section id=\"", id, "\">\n");
    element(html, "<h2>", heading, "</h2>\n");
}

void trn_html_section_end(trn_html *html)
{
    trn_buffer_add(html->out, "</section>\n");
}

void trn_html_subheading(trn_html *html, const char *heading)
{
    element(html, "<h3>", heading, "</h3>\n");
}

static void formatted(trn_html *html, const char *open, const char *format, va_list args)
{
    char text[4096];
    va_list again;
    va_copy(again, args);
    int n = vsnprintf(text, sizeof text, format, args);
    if (n >= 0 && (size_t)n < sizeof text) {
        element(html, open, text, "</p>\n");
    } else if (n >= 0) { /* rare, so only then */
        trn_buffer all = {0};
        for (int i = 0; i <= n; i++)
            trn_buffer_add_n(&all, " ", 1);
        if (!all.failed) {
            (void)vsnprintf(all.text, (size_t)n + 1, format, again);
            element(html, open, all.text, "</p>\n");
        }
        html->out->failed = html->out->failed || all.failed;
        trn_buffer_free(&all);
    } else {
        html->out->failed = true;
    }
    va_end(again);
}

void trn_html_paragraph(trn_html *html, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    formatted(html, "<p>", format, args);
    va_end(args);
}

void trn_html_caution(trn_html *html, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    formatted(html, "<p class=\"caution\" role=\"note\">", format, args);
    va_end(args);
}

void trn_html_paragraph_of(trn_html *html, const char *class_name, const char *text)
{
    element(html, "<p class=\"", class_name, "\">");
    element(html, "", text, "</p>\n");
}

void trn_html_list(trn_html *html, bool ordered, const char *const *texts, size_t count)
{
    trn_buffer_add(html->out, ordered ? "<ol>\n" : "<ul>\n");
    for (size_t i = 0; i < count; i++)
        element(html, "<li>", texts[i], "</li>\n");
    trn_buffer_add(html->out, ordered ? "</ol>\n" : "</ul>\n");
}

void trn_html_link(trn_html *html, const char *target, const char *text)
{
    /* a colon would begin a scheme; no target of ours has one */
    element(html, "<a href=\"", strchr(target, ':') ? "#" : target, "\">");
    element(html, "", text, "</a>");
}

/* ---- tables ------------------------------------------------------------------------------- */

void trn_html_table_begin(trn_html *html, const char *caption, const trn_html_column *columns,
                          size_t count)
{
    html->columns = columns;
    html->column_count = count;
    html->in_body = false;
    element(html, "<table>\n<caption>", caption, "</caption>\n<thead>\n<tr>");
    for (size_t i = 0; i < count; i++) {
        trn_buffer_add(html->out, "<th scope=\"col\"");
        element(html, columns[i].number ? " class=\"n\">" : ">", columns[i].head, "</th>");
    }
    trn_buffer_add(html->out, "</tr>\n</thead>\n");
}

static void body(trn_html *html, bool anew)
{
    if (html->in_body && anew)
        trn_buffer_add(html->out, "</tbody>\n");
    if (!html->in_body || anew)
        trn_buffer_add(html->out, "<tbody>\n");
    html->in_body = true;
}

void trn_html_group(trn_html *html, const char *heading)
{
    body(html, true);
    trn_buffer_print(html->out, "<tr><th class=\"group\" scope=\"rowgroup\" colspan=\"%zu\">",
                     html->column_count);
    element(html, "", heading, "</th></tr>\n");
}

void trn_html_row_begin(trn_html *html)
{
    body(html, false);
    html->column = 0;
    trn_buffer_add(html->out, "<tr>");
}

/* Opens the next cell of the row; false where there is none. */
static bool cell_begin(trn_html *html)
{
    if (html->column >= html->column_count)
        return false;
    trn_buffer_add(html->out, html->column == 0 ? "<th scope=\"row\"" : "<td");
    trn_buffer_add(html->out, html->columns[html->column].number ? " class=\"n\">" : ">");
    return true;
}

static void cell_end(trn_html *html)
{
    trn_buffer_add(html->out, html->column++ == 0 ? "</th>" : "</td>");
}

void trn_html_cell(trn_html *html, const char *text)
{
    if (!cell_begin(html))
        return;
    trn_html_escape(text ? text : "", html->out);
    cell_end(html);
}

void trn_html_cell_number(trn_html *html, double value, int digits)
{
    char text[48] = "";
    if (!isnan(value))
        trn_number_for_people(value, digits, text, sizeof text);
    trn_html_cell(html, text);
}

void trn_html_cell_box(trn_html *html, const char *unit)
{
    if (!cell_begin(html))
        return;
    trn_buffer_add(html->out, "<span class=\"box\"></span> ");
    trn_html_escape(unit ? unit : "", html->out);
    cell_end(html);
}

void trn_html_cell_box_wide(trn_html *html)
{
    if (html->column == 0 || html->column >= html->column_count)
        return;
    trn_buffer_print(html->out, "<td colspan=\"%zu\"><span class=\"box\"></span></td>",
                     html->column_count - html->column);
    html->column = html->column_count;
}

void trn_html_row_end(trn_html *html)
{
    while (html->column < html->column_count)
        trn_html_cell(html, "");
    trn_buffer_add(html->out, "</tr>\n");
}

void trn_html_table_end(trn_html *html)
{
    trn_buffer_add(html->out, html->in_body ? "</tbody>\n</table>\n" : "</table>\n");
    html->in_body = false;
}

void trn_html_pairs(trn_html *html, const char *caption, const trn_html_pair *pairs, size_t count)
{
    element(html, "<table class=\"pairs\">\n<caption>", caption, "</caption>\n<tbody>\n");
    for (size_t i = 0; i < count; i++) {
        if (!pairs[i].value || !*pairs[i].value)
            continue;
        element(html, "<tr><th scope=\"row\">", pairs[i].name, "</th>");
        element(html, "<td>", pairs[i].value, "</td></tr>\n");
    }
    trn_buffer_add(html->out, "</tbody>\n</table>\n");
}

/* ---- pictures ----------------------------------------------------------------------------- */

trn_status trn_html_figure(trn_html *html, const char *svg, const char *finding,
                           const char *description)
{
    return trn_html_figure_under(html, svg, finding, description, finding);
}

trn_status trn_html_figure_under(trn_html *html, const char *svg, const char *finding,
                                 const char *description, const char *line)
{
    trn_buffer picture = {0};
    char prefix[32];
    (void)snprintf(prefix, sizeof prefix, "f%zu", html->figures + 1);
    trn_status status = trn_plot_inline(svg, prefix, finding, description, &picture);
    if (status == TRN_OK) {
        html->figures++;
        trn_buffer_add(html->out, "<figure>\n");
        trn_buffer_add(html->out, picture.text);
        element(html, "\n<figcaption>", line, "</figcaption>\n</figure>\n");
    }
    trn_buffer_free(&picture);
    return status;
}
