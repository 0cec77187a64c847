/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/present only: what the scripts have in common. The layout is ours, in pixels of the
 * canvas from its upper left corner, because gnuplot does not measure texts. */
#ifndef TRUNNION_PLOT_SCRIPT_H
#define TRUNNION_PLOT_SCRIPT_H

#include <stdio.h>
#include <trunnion/plot.h>

/* Okabe and Ito's colours, told apart by every kind of sight. */
#define PLOT_BLACK "#000000"
#define PLOT_ORANGE "#E69F00"
#define PLOT_SKY "#56B4E9"
#define PLOT_GREEN "#009E73"
#define PLOT_BLUE "#0072B2"
#define PLOT_RED "#D55E00"
#define PLOT_PURPLE "#CC79A7"
#define PLOT_YELLOW "#F0E442"
#define PLOT_GREY "#808080"

enum { PLOT_NAME_COLUMNS = 40, PLOT_NAME_SIZE = 4 * PLOT_NAME_COLUMNS + 8, PLOT_NUMBER = 32 };

/* A user's text without control characters and broken characters, cut after 40 columns. */
typedef struct plot_name {
    char text[PLOT_NAME_SIZE];
    size_t columns;
} plot_name;
plot_name plot_name_of(const char *text);

typedef struct plot_number {
    char text[PLOT_NUMBER];
} plot_number;
/* For people, `digits` significant ones, with a point whatever the locale. */
plot_number plot_number_of(double value, int digits);
/* Hours: three digits; above 100 000 `> 100 000`. */
plot_number plot_life_of(double hours);

typedef struct plot_canvas {
    trn_buffer *out;
    int width, height;
    int left, right, top, bottom; /* edges of the plotting area */
} plot_canvas;

/* Room that a text of so many columns takes. */
int plot_text_width(size_t columns);

/* Lines that a title takes on a canvas of this width. */
int plot_title_lines(const char *title, int width);
/* Height of the head: title and one line of a key. */
int plot_head_height(const char *title, int width);

/* Terminal, output, style; then the title. */
void plot_begin(const plot_canvas *canvas, const char *title);

/* An entry of the key: what the style words apply to, and its meaning. */
typedef enum plot_swatch { PLOT_BOX, PLOT_LINE, PLOT_POINT, PLOT_TICK, PLOT_SPAN } plot_swatch;
typedef struct plot_key {
    plot_swatch swatch;
    const char *style; /* NULL: words alone */
    const char *text;
} plot_key;
/* Key as one line under the title; gnuplot's own is not sure to stay on one. */
void plot_key_line(const plot_canvas *canvas, const char *title, const plot_key *keys, size_t n);
/* Margins at the edges of the canvas. */
void plot_edges(const plot_canvas *canvas);

void plot_quote(trn_buffer *out, const char *text);
/* align: `left`, `right` or `center`. */
void plot_label(const plot_canvas *canvas, int x, int y, const char *align, const char *text);
void plot_label_small(const plot_canvas *canvas, int x, int y, const char *align,
                      const char *text);
/* A number of a data block, then a blank: `NaN` for one that is not finite. */
void plot_value(trn_buffer *out, double value);

/* Rows of a chart with a name at the left and a text at the right of each. */
typedef struct plot_rows {
    size_t n;
    int pitch;
    size_t name_columns, text_columns; /* longest */
} plot_rows;
/* Sizes the canvas for the rows; y of the data then runs from 0 at the top to n. */
plot_canvas plot_rows_canvas(const plot_rows *rows, const char *title, trn_buffer *out);
void plot_rows_begin(const plot_canvas *canvas, const plot_rows *rows, const char *title,
                     const plot_key *keys, size_t key_count);
/* Name of the horizontal axis. */
void plot_below(const plot_canvas *canvas, const char *text);
void plot_row(const plot_canvas *canvas, const plot_rows *rows, size_t i, const char *name,
              const char *text);

/* 1, 2 or 5 times a power of ten, not below value > 0. */
double plot_step_above(double value);

/* Logarithmic axis of hours. */
typedef struct plot_hours {
    double low, high;
} plot_hours;
/* Smallest range of 1, 2, 5 steps round the two values, at least a decade. */
plot_hours plot_hours_of(double least, double most);
/* `end`: NULL, or the label at `end_at` behind the axis proper. */
void plot_hours_axis(const plot_canvas *canvas, plot_hours range, double last, const char *end,
                     double end_at);

/* ` (condition)` of a finding. */
void plot_add_condition(const trn_results *results, size_t condition, trn_buffer *finding);

/* Moves what was built to the caller's buffers, or drops it. */
trn_status plot_hand_over(trn_status status, trn_buffer *built, trn_buffer *title,
                          trn_buffer *script, trn_buffer *finding);

#endif
