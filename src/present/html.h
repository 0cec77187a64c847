/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside src/present (and its tests): writes pages as one self-contained HTML file that prints on
 * A4. Every text is escaped on its way in, so that no name of the user's can be mark-up; a page
 * has no script, loads nothing, and says so to the browser.
 *
 *     trn_html page;
 *     trn_html_begin(&page, &(trn_html_page){.title = "Oil"}, &out);
 *     trn_html_section_begin(&page, "oil", "Losses");
 *     trn_html_paragraph(&page, "The gearbox %s runs at %.0f degC.", name, t);
 *     trn_html_section_end(&page);
 *     trn_html_end(&page);
 *
 * Memory is checked once, at the end: out.failed. */
#ifndef TRUNNION_PRESENT_HTML_H
#define TRUNNION_PRESENT_HTML_H

#include <trunnion/present.h>

typedef struct trn_html_page {
    const char *title;  /* of the window, and the one h1 */
    const char *lead;   /* a line under it, NULL: none */
    const char *margin; /* in the foot of each printed page beside its number, NULL: none */
    const char *style;  /* further style rules, of the program's only; NULL: none */
} trn_html_page;

typedef struct trn_html_column {
    const char *head;
    bool number; /* aligned to the right */
} trn_html_column;

/* The page being written. Members are the writer's own. */
typedef struct trn_html {
    trn_buffer *out;
    const trn_html_column *columns; /* of the table being written */
    size_t column_count, column;    /* column: the next cell's */
    bool in_body;
    size_t figures;                 /* so far: gives each picture its own names */
} trn_html;

/* Text for the inside of an element or of a quoted attribute: & < > " ' are escaped; tab and
 * newline are blanks; other control characters, marks of the direction of writing, invisible
 * characters and bytes that are no UTF-8 are shown as text, `[U+202E]`, `[0x9F]`. */
void trn_html_escape(const char *text, trn_buffer *out);

void trn_html_begin(trn_html *html, const trn_html_page *page, trn_buffer *out);
void trn_html_end(trn_html *html);

/* A section with its h2; id is a word of the program's, to link to. */
void trn_html_section_begin(trn_html *html, const char *id, const char *heading);
void trn_html_section_end(trn_html *html);
void trn_html_subheading(trn_html *html, const char *heading); /* h3 */

/* The formatted text as a whole is escaped. */
void trn_html_paragraph(trn_html *html, const char *format, ...) TRN_PRINTF(2, 3);
void trn_html_caution(trn_html *html, const char *format, ...) TRN_PRINTF(2, 3);
/* class_name: a word of the program's, for `style` */
void trn_html_paragraph_of(trn_html *html, const char *class_name, const char *text);
/* A list; ordered: numbered. */
void trn_html_list(trn_html *html, bool ordered, const char *const *texts, size_t count);
/* A link to a section of the page (`#oil`) or to a file beside it (`heat.csv`). */
void trn_html_link(trn_html *html, const char *target, const char *text);

/* A table: caption, one head line (repeated on each printed page), rows. The first cell of a row
 * is its head. A row that is short is filled up; cells beyond the columns are dropped. */
void trn_html_table_begin(trn_html *html, const char *caption, const trn_html_column *columns,
                          size_t count);
void trn_html_group(trn_html *html, const char *heading); /* a line across the table */
void trn_html_row_begin(trn_html *html);
void trn_html_cell(trn_html *html, const char *text);
void trn_html_cell_number(trn_html *html, double value, int digits); /* NaN: blank */
/* An empty box to be filled in by hand, its unit behind it. */
void trn_html_cell_box(trn_html *html, const char *unit);
/* One such box from here to the end of the row. */
void trn_html_cell_box_wide(trn_html *html);
void trn_html_row_end(trn_html *html);
void trn_html_table_end(trn_html *html);

/* Pairs of name and value as a table of two columns without a head line; a value that is NULL or
 * empty leaves its pair out. */
typedef struct trn_html_pair {
    const char *name, *value;
} trn_html_pair;
void trn_html_pairs(trn_html *html, const char *caption, const trn_html_pair *pairs,
                    size_t count);

/* A view of results, the columns that people see; remarks as numbered notes under it. keep: rows
 * to show, NULL: all of them. A view without such a row is one sentence. */
typedef bool (*trn_html_keep)(const void *context, const trn_results *results, const void *row);
void trn_html_view(trn_html *html, const trn_view *view, const trn_results *results,
                   trn_html_keep keep, const void *context);

/* The same for a page of paper: a choice of columns, and further ones of the caller's. */
typedef struct trn_html_pick {
    const char *field; /* name of the view's field; NULL: a column of `text` */
    const char *head;  /* NULL: the view's own */
    void (*text)(const void *context, const trn_results *results, const void *row,
                 trn_buffer *out); /* in place of the view's text */
    bool number;       /* of `text`: aligned to the right */
} trn_html_pick;

typedef struct trn_html_plan {
    const char *title, *caption; /* NULL: the view's own */
    const trn_html_pick *picks;
    size_t count;
    trn_html_keep keep;
    const void *context; /* of keep and text */
    bool no_groups;
} trn_html_plan;

void trn_html_view_planned(trn_html *html, const trn_view *view, const trn_results *results,
                           const trn_html_plan *plan);

/* A picture of trn_plot_run with its finding under it; description: what it shows and where the
 * same numbers stand as a table, for those who do not see it.
 * Status: TRN_E_INPUT: no SVG (nothing is written) */
trn_status trn_html_figure(trn_html *html, const char *svg, const char *finding,
                           const char *description);
/* The same with another line under it. */
trn_status trn_html_figure_under(trn_html *html, const char *svg, const char *finding,
                                 const char *description, const char *line);

#endif
