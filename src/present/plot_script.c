/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the scripts have in common: names, numbers, canvas, labels, rows. */
#include "plot_script.h"

#include <math.h>
#include <string.h>
#include <trunnion/present.h>

enum {
    MARGIN = 14,
    TITLE_LINE = 20,
    KEY_LINE = 24,
    TITLE_COLUMN_PX = 9, /* of the widest usual face at 15 px, for every text of ours */
    TEXT_COLUMN_TENTHS = 80
};

/* ---- names and numbers -------------------------------------------------------------------- */

/* Bytes of the character at p and its code point; 0 where it is broken. */
static size_t character(const unsigned char *p, unsigned long *code)
{
    size_t n = *p < 0x80 ? 1 : *p < 0xC2 ? 0 : *p < 0xE0 ? 2 : *p < 0xF0 ? 3 : *p < 0xF5 ? 4 : 0;
    *code = n == 1 ? *p : n == 2 ? *p & 0x1Fu : n == 3 ? *p & 0x0Fu : *p & 0x07u;
    for (size_t i = 1; i < n; i++) {
        if ((p[i] & 0xC0) != 0x80)
            return 0;
        *code = *code << 6 | (p[i] & 0x3Fu);
    }
    return n;
}

/* C0, C1, delete, line and paragraph marks, signs that turn the direction of what follows, and
 * what XML does not allow. */
static bool left_out(unsigned long code)
{
    return code < 0x20 || (code >= 0x7F && code < 0xA0) || (code >= 0x200B && code <= 0x200F) ||
           (code >= 0x2028 && code <= 0x202E) || (code >= 0x2066 && code <= 0x2069) ||
           (code >= 0xD800 && code < 0xE000) || code == 0xFEFF || (code & 0xFFFE) == 0xFFFE ||
           code > 0x10FFFF;
}

plot_name plot_name_of(const char *text)
{
    plot_name name = {.columns = 0};
    size_t length = 0;
    size_t cut_at = 0; /* where an ellipsis still fits */
    size_t cut_columns = 0;
    const unsigned char *p = (const unsigned char *)(text ? text : "");
    while (*p) {
        unsigned long code = 0;
        size_t n = character(p, &code);
        if (n == 0 || left_out(code)) {
            p += n > 0 ? n : 1;
            continue;
        }
        size_t columns = code >= 0x1100 ? 2 : 1;
        if (name.columns + columns > PLOT_NAME_COLUMNS) {
            memcpy(name.text + cut_at, "\xE2\x80\xA6", 4);
            name.columns = cut_columns + 1;
            return name;
        }
        memcpy(name.text + length, p, n);
        length += n;
        name.columns += columns;
        if (name.columns < PLOT_NAME_COLUMNS) {
            cut_at = length;
            cut_columns = name.columns;
        }
        p += n;
    }
    name.text[length] = '\0';
    return name;
}

plot_number plot_number_of(double value, int digits)
{
    plot_number number;
    trn_number_for_people(value, digits, number.text, sizeof number.text);
    char *comma = strchr(number.text, ',');
    if (comma)
        *comma = '.';
    if (strchr(number.text, '.') && !strchr(number.text, 'e')) {
        size_t n = strlen(number.text);
        while (number.text[n - 1] == '0')
            n--;
        number.text[number.text[n - 1] == '.' ? n - 1 : n] = '\0';
    }
    return number;
}

plot_number plot_life_of(double hours)
{
    if (hours > 100000)
        return (plot_number){"> 100 000"};
    return plot_number_of(hours, 3);
}

void plot_value(trn_buffer *out, double value)
{
    char text[PLOT_NUMBER];
    trn_text_of_number(value, text, sizeof text);
    trn_buffer_add(out, isfinite(value) ? text : "NaN");
    trn_buffer_add(out, " ");
}

/* ---- texts -------------------------------------------------------------------------------- */

/* gnuplot takes a doubled quote for one only where it neither begins the text nor follows
 * another, so each is a piece of its own: the variable of plot_begin. */
static void quote_n(trn_buffer *out, const char *text, size_t n)
{
    trn_buffer_add(out, "'");
    for (size_t i = 0; i < n; i++) {
        unsigned char c = (unsigned char)text[i];
        if (c == '\'')
            trn_buffer_add(out, "'.quote.'");
        else if (c >= 0x20 && c != 0x7F)
            trn_buffer_add_n(out, &text[i], 1);
    }
    trn_buffer_add(out, "'");
}

void plot_quote(trn_buffer *out, const char *text)
{
    quote_n(out, text, strlen(text));
}

static void label(const plot_canvas *c, int x, int y, const char *align, const char *text,
                  size_t n, int size)
{
    trn_buffer_add(c->out, "set label ");
    quote_n(c->out, text, n);
    trn_buffer_print(c->out, " at screen %d./%d, screen %d./%d %s noenhanced front font ',%d'\n",
                     x, c->width, c->height - y, c->height, align, size);
}

void plot_label(const plot_canvas *canvas, int x, int y, const char *align, const char *text)
{
    label(canvas, x, y, align, text, strlen(text), 13);
}

void plot_label_small(const plot_canvas *canvas, int x, int y, const char *align,
                      const char *text)
{
    label(canvas, x, y, align, text, strlen(text), 12);
}

int plot_text_width(size_t columns)
{
    return (int)columns * TEXT_COLUMN_TENTHS / 10;
}

static bool digit(char c)
{
    return c >= '0' && c <= '9';
}

/* Length of the first line when a text is broken at blanks, if possible not between a number and
 * its unit; where no blank fits, within a word. */
static size_t line_length(const char *text, size_t columns)
{
    size_t used = 0;
    size_t blank = 0;
    size_t good_blank = 0;
    for (size_t i = 0; text[i];) {
        unsigned long code = 0;
        size_t n = character((const unsigned char *)text + i, &code);
        n = n > 0 ? n : 1;
        if (text[i] == ' ')
            blank = i;
        if (text[i] == ' ' && i > 0 && !digit(text[i - 1]))
            good_blank = i;
        used += code >= 0x1100 ? 2 : 1;
        if (used > columns)
            return good_blank > 0 ? good_blank : blank > 0 ? blank : i > 0 ? i : n;
        i += n;
    }
    return strlen(text);
}

static size_t title_columns(int width)
{
    return (size_t)((width - 2 * MARGIN) / TITLE_COLUMN_PX);
}

int plot_title_lines(const char *title, int width)
{
    int lines = 0;
    for (const char *p = title; *p; lines++) {
        p += line_length(p, title_columns(width));
        p += strspn(p, " ");
    }
    return lines;
}

int plot_head_height(const char *title, int width)
{
    return MARGIN + TITLE_LINE * plot_title_lines(title, width) + KEY_LINE + 10;
}

/* ---- canvas ------------------------------------------------------------------------------- */

void plot_begin(const plot_canvas *c, const char *title)
{
    trn_buffer_print(
        c->out,
        "if (!exists('format')) format = 'svg'\n"
        "quote = sprintf('%%c', 39)\n"
        "set encoding utf8\n"
        "if (format eq 'png') set terminal pngcairo noenhanced size %d,%d font 'sans-serif,13' "
        "fontscale 1.5 linewidth 2 pointscale 3 background '#ffffff'\n"
        "if (format eq 'svg') set terminal svg noenhanced size %d,%d font 'sans-serif,13' "
        "background '#ffffff'\n"
        "set output 'plot'\n"
        "set border 3 lc rgb '#404040'\n"
        "set tics nomirror out scale 0.6 textcolor rgb 'black'\n"
        "set grid x y lc rgb '#D8D8D8' lw 0.7 dt 1\n"
        "set xtics offset 0,0.5\n"
        "unset key\n",
        2 * c->width, 2 * c->height, c->width, c->height);
    int y = MARGIN + TITLE_LINE / 2;
    for (const char *p = title; *p; y += TITLE_LINE) {
        size_t n = line_length(p, title_columns(c->width));
        label(c, MARGIN, y, "left", p, n, 15);
        p += n;
        p += strspn(p, " ");
    }
}

/* ` from screen x, y to screen x, y `, pixels */
static void between(const plot_canvas *c, int x0, int y0, int x1, int y1)
{
    trn_buffer_print(c->out,
                     " from screen %d./%d, screen %d./%d to screen %d./%d, screen %d./%d ", x0,
                     c->width, c->height - y0, c->height, x1, c->width, c->height - y1,
                     c->height);
}

static void line(const plot_canvas *c, int x0, int y0, int x1, int y1, const char *style)
{
    trn_buffer_add(c->out, "set arrow");
    between(c, x0, y0, x1, y1);
    trn_buffer_print(c->out, "nohead %s\n", style);
}

static void point(const plot_canvas *c, int x, int y, const char *style)
{
    trn_buffer_print(c->out, "set label '' at screen %d./%d, screen %d./%d point %s\n", x,
                     c->width, c->height - y, c->height, style);
}

static void swatch(const plot_canvas *c, int x, int y, const plot_key *key)
{
    switch (key->swatch) {
    case PLOT_BOX:
        trn_buffer_add(c->out, "set object rectangle");
        between(c, x, y + 6, x + 26, y - 6);
        trn_buffer_print(c->out, "front %s\n", key->style);
        break;
    case PLOT_LINE: line(c, x, y, x + 28, y, key->style); break;
    case PLOT_POINT: point(c, x + 16, y, key->style); break;
    case PLOT_TICK: line(c, x + 18, y + 7, x + 18, y - 7, key->style); break;
    case PLOT_SPAN:
        line(c, x + 2, y, x + 26, y, key->style);
        line(c, x + 2, y + 5, x + 2, y - 5, key->style);
        line(c, x + 26, y + 5, x + 26, y - 5, key->style);
        break;
    }
}

void plot_key_line(const plot_canvas *c, const char *title, const plot_key *keys, size_t n)
{
    int x = MARGIN;
    int y = MARGIN + TITLE_LINE * plot_title_lines(title, c->width) + KEY_LINE / 2;
    for (size_t i = 0; i < n; i++) {
        if (keys[i].style) {
            swatch(c, x, y, &keys[i]);
            x += 34;
        }
        plot_label(c, x, y, "left", keys[i].text);
        x += plot_text_width(strlen(keys[i].text)) + 14;
    }
}

void plot_edges(const plot_canvas *c)
{
    trn_buffer_print(c->out,
                     "set lmargin at screen %d./%d\nset rmargin at screen %d./%d\n"
                     "set tmargin at screen %d./%d\nset bmargin at screen %d./%d\n",
                     c->left, c->width, c->right, c->width, c->height - c->top, c->height,
                     c->height - c->bottom, c->height);
}

void plot_below(const plot_canvas *c, const char *text)
{
    plot_label(c, (c->left + c->right) / 2, c->bottom + 40, "center", text);
}

/* ---- rows --------------------------------------------------------------------------------- */

plot_canvas plot_rows_canvas(const plot_rows *rows, const char *title, trn_buffer *out)
{
    int names = plot_text_width(rows->name_columns) + 2 * MARGIN;
    int texts = plot_text_width(rows->text_columns) + 3 * MARGIN;
    plot_canvas c = {.out = out, .width = names + texts > 400 ? 960 : 800};
    c.left = names;
    c.right = c.width - texts;
    c.top = plot_head_height(title, c.width);
    c.bottom = c.top + rows->pitch * (int)rows->n + 8;
    c.height = c.bottom + 54;
    return c;
}

void plot_rows_begin(const plot_canvas *c, const plot_rows *rows, const char *title,
                     const plot_key *keys, size_t key_count)
{
    plot_begin(c, title);
    plot_key_line(c, title, keys, key_count);
    plot_edges(c);
    /* eight pixels above the axis stay free of rows */
    trn_buffer_print(c->out, "set yrange [%zu + 8./%d:0]\nunset ytics\nset border 1\n", rows->n,
                     rows->pitch);
}

void plot_row(const plot_canvas *c, const plot_rows *rows, size_t i, const char *name,
              const char *text)
{
    int y = c->top + rows->pitch * (int)i + rows->pitch / 2;
    plot_label(c, c->left - 8, y, "right", name);
    /* leads the eye from the name to its marks */
    line(c, c->left, y, c->right, y, "lw 0.7 dt (1,4) lc rgb '" PLOT_GREY "' back");
    if (text[0])
        plot_label(c, c->right + 2 * MARGIN, y, "left", text);
}

/* ---- hours -------------------------------------------------------------------------------- */

static double step_below(double value)
{
    double decade = pow(10, floor(log10(value) + 1e-9));
    double part = value / decade * (1 + 1e-9);
    return decade * (part >= 5 ? 5 : part >= 2 ? 2 : 1);
}

double plot_step_above(double value)
{
    double decade = pow(10, floor(log10(value) + 1e-9));
    double part = value / decade * (1 - 1e-9);
    return decade * (part <= 1 ? 1 : part <= 2 ? 2 : part <= 5 ? 5 : 10);
}

plot_hours plot_hours_of(double least, double most)
{
    plot_hours range = {step_below(least), plot_step_above(most)};
    while (range.high < 10 * range.low * (1 - 1e-9)) {
        range.high = plot_step_above(range.high * 1.5);
        if (range.high < 10 * range.low * (1 - 1e-9))
            range.low = step_below(range.low / 1.5);
    }
    return range;
}

static void hours_tic(trn_buffer *out, const char *before, const char *text, double value)
{
    trn_buffer_add(out, before);
    plot_quote(out, text);
    trn_buffer_add(out, " ");
    plot_value(out, value);
}

void plot_hours_axis(const plot_canvas *c, plot_hours range, double last, const char *end,
                     double end_at)
{
    static const double steps[] = {1, 2, 5};
    double decades = log10(range.high / range.low);
    trn_buffer_add(c->out, "set logscale x\nset xrange [");
    plot_value(c->out, range.low);
    trn_buffer_add(c->out, ":");
    plot_value(c->out, range.high);
    trn_buffer_add(c->out, "]\nset xtics (");
    double first = pow(10, floor(log10(range.low) + 1e-9));
    const char *before = "";
    for (int k = 0; k < 40; k++) {
        double value = first * pow(10, k / 3) * steps[k % 3];
        if (value < range.low * (1 - 1e-9))
            continue;
        if (value > last * (1 + 1e-9))
            break;
        bool named = k % 3 == 0 || decades < 3.5;
        hours_tic(c->out, before, named ? plot_number_of(value, 1).text : "", value);
        before = ", ";
    }
    if (end)
        hours_tic(c->out, before, end, end_at);
    trn_buffer_add(c->out, ")\n");
}

/* ---- findings ----------------------------------------------------------------------------- */

void plot_add_condition(const trn_results *results, size_t condition, trn_buffer *finding)
{
    trn_buffer_print(finding, " (%s)",
                     plot_name_of(results->machine->duty[condition].condition).text);
}

trn_status plot_hand_over(trn_status status, trn_buffer *built, trn_buffer *title,
                          trn_buffer *script, trn_buffer *finding)
{
    if (status == TRN_OK && !built->failed && !title->failed) {
        trn_buffer_add_n(script, built->text ? built->text : "", built->length);
        trn_buffer_add_n(finding, title->text ? title->text : "", title->length);
    }
    if (status == TRN_OK &&
        (built->failed || title->failed || script->failed || finding->failed))
        status = TRN_E_MEMORY;
    trn_buffer_free(built);
    trn_buffer_free(title);
    return status;
}
