/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The field sheet as a page. */
#include <trunnion/field_sheet.h>

#include <stdio.h>
#include <string.h>
#include <trunnion/cautions.h>

#include "html.h"

enum { BOXES = 3, COLUMNS = 3 + BOXES };

static const char style[] =
    "@page{margin:9mm 11mm 12mm}\n"
    "html{font-size:9pt;line-height:1.2}\n"
    "h1{font-size:15pt}\n"
    "h2{font-size:11.5pt;margin:2.5mm 0 0.8mm;padding-top:1mm}\n"
    "p{margin:0.5mm 0 1mm}\n"
    ".caution{margin:0.8mm 0}\n"
    "ul{margin:0.5mm 0;padding-left:5mm}\n"
    "table{width:100%;table-layout:fixed;font-size:8pt;line-height:1.1;margin:1mm 0 0.8mm}\n"
    "th,td{padding:0.2mm 1mm;vertical-align:middle}\n"
    "th.group{padding-top:1.2mm}\n"
    "caption{padding-bottom:0.5mm}\n"
    ".boxes caption{font-size:0;line-height:0;padding:0}\n"
    ".boxes th:nth-child(1){width:40%}\n"
    ".boxes th:nth-child(2){width:14%}\n"
    ".boxes th:nth-child(3){width:16%}\n"
    ".box{display:block;min-width:0;height:4.5mm}\n"
    ".head td{border:0.6pt solid #111;height:6.5mm;vertical-align:top}\n"
    ".blank td,.blank th{border:0.5pt solid #111;height:4.7mm}\n"
    ".blank thead th{height:auto;font-weight:normal;font-size:7.4pt}\n"
    ".hint{font-size:7.8pt}\n";

/* Everything on three pages takes smaller boxes. */
static const char small_boxes[] = ".box{height:4mm}\n.blank td,.blank th{height:4.2mm}\n";

/* What a table's blank lines are for, how many of them, and words that go into its cells. */
static const struct {
    trn_field_time time;
    const char *table, *caption, *hint;
    size_t lines;
} blanks[] = {
    {TRN_FIELD_PAPERS, "points", "points.csv: a line for each point and task of the manual's chart",
     "component: the shaft, gearbox or bearing by the name that you give it, or any words. task: "
     "grease_joint, grease_tube, grease_bearing, grease_clutch, grease_pivot, check_oil, "
     "change_oil. manual_interval in hours; `daily` in a manual is 8 or 10 h. minutes: all of the "
     "task.",
     8},
    {TRN_FIELD_COLD, "axles", "axles.csv: a line for each turning axle inside a gearbox",
     "role: input, output, through, idle. shaft: the PTO shaft attached to it. seals: diameters "
     "parted by /. overhang: joint centre from the nearer bearing.",
     3},
    {TRN_FIELD_COLD, "gears", "gears.csv: a line for each gear and mate; the mate's own line follows",
     "kind: straight_bevel, spiral_bevel, spur, helical. module: tip diameter over (teeth + 2), "
     "bevels over (teeth + 2 cos of the cone angle). station: along the axle, one zero for all "
     "of an axle. rotation: cw or ccw, seen from the large end. apex: + or -, the side where the "
     "cone points. dip: lowest tooth below the oil at rest.",
     4},
    {TRN_FIELD_COLD, "bearings", "bearings.csv: a line for each bearing",
     "C and C0 in kN from a catalogue, by the number on the ring. thrust: + or -, the way in "
     "which it holds the axle; both; none. A wrong hand, rotation or thrust moves a life "
     "twentyfold.",
     4},
    {TRN_FIELD_WARM, "points", "points.csv, temperature: hubs, outboard bearings, joints",
     "By infrared, as above. One line a point; the point's name is the one of the chart.", 3},
    {TRN_FIELD_WARM, "readings", "readings.csv: a line for each temperature read at a gearbox",
     "condition: the kind of work it ran in before. where: oil or skin. running: without a break in "
     "that work before the stop; stopped: from the stop to the reading. As read, nothing added; "
     "instead of oil_temperature above, which is taken for every gearbox.",
     3},
    {TRN_FIELD_WARM, "failure", "failure.csv: a line for each part that failed",
     "hours: at the failure; hours_spread: how far that may be off. sign: what is seen, words at "
     "the head of failure.csv. Photograph before anything is moved.",
     2},
    {TRN_FIELD_WARM, "samples", "samples.csv: a line for each sample; the laboratory adds the rest",
     "From the middle of the oil, box warm and at rest, into a clean bottle; what was filled up "
     "since the sample before is top_up.",
     2},
};

static const char *const headings[TRN_FIELD_TIMES] = {
    [TRN_FIELD_PAPERS] = "From the papers",
    [TRN_FIELD_COLD] = "Before starting: cold, engine off, key out",
    [TRN_FIELD_WORK] = "Warm, at work: from the seat",
    [TRN_FIELD_WARM] = "After stopping: engine off, key out, all at rest",
};

/* Said at the head of the part that it belongs to. */
static const char *const warnings[TRN_FIELD_TIMES] = {
    [TRN_FIELD_COLD] = "Machine lowered or propped, wings locked. A shaft that comes off is "
                       "measured on the ground; its guard goes back on whole.",
    [TRN_FIELD_WORK] = "Nobody is near the shafts. Numbers are read from the seat, an hour or more "
                       "into the work.",
    [TRN_FIELD_WARM] = "Wait until the rotors stand, then read at once, within two minutes and "
                       "from outside the guard. Plug and breather stay shut until it has cooled.",
};

/* For the whole sheet, under the cautions that every page has. */
static const char infrared[] =
    "An infrared thermometer is used from outside the guard and sees paint only: aim at dull paint "
    "or at a piece of tape. Bare metal reads far too low.";

static const char *const while_cold[] = {
    "Read the hour meter, and note which one it is.",
    "Oil level of each gearbox on level ground, before it is moved; leaks, breather, plugs.",
    ("Stick a piece of dull tape on each gearbox at the height of its oil, on hubs and on outboard "
     "bearings: the spots to aim at later."),
    "Guards of all shafts whole, chains on; play in joints and bearings, by hand.",
};

static bool in_sheet(trn_starter starter, const trn_field_entry *e)
{
    return trn_starter_column(starter, e->table, e->column);
}

static void cell_name(const trn_field_entry *e, trn_buffer *out)
{
    const trn_table *table = strcmp(e->table, "machine") == 0 ? trn_table_head()
                                                              : trn_table_find(e->table);
    const trn_column *column = table ? trn_column_find(table, e->column) : NULL;
    if (column)
        trn_column_header(column, out);
}

/* machine.csv has one figure of each kind; other tables a column of boxes for each row. */
static void write_entry(trn_html *page, const trn_field_entry *e)
{
    trn_buffer name = {0};
    cell_name(e, &name);
    trn_html_row_begin(page);
    trn_html_cell(page, e->what);
    trn_html_cell(page, e->with);
    trn_html_cell(page, name.text);
    if (strcmp(e->table, "machine") == 0)
        trn_html_cell_box_wide(page);
    for (size_t i = 0; i < BOXES; i++)
        trn_html_cell_box(page, ""); /* none where the row is full */
    trn_html_row_end(page);
    page->out->failed = page->out->failed || name.failed;
    trn_buffer_free(&name);
}

/* What the rows of a table are, for the line above its boxes. */
static const char *rows_of(const char *table)
{
    static const char *const words[][2] = {
        {"machine", "machine.csv: the machine"},
        {"shafts", "shafts.csv: a box for each shaft, the one from the tractor first"},
        {"positions", "positions.csv: a box for each position of the shaft (work, headland, "
                      "transport)"},
        {"geometry", "geometry.csv: or, without slopes, dimensions of the same positions"},
        {"gearboxes", "gearboxes.csv: a box for each gearbox"},
        {"oils", "oils.csv: a box for each oil"},
        {"greases", "greases.csv: a box for each grease"},
        {"duty", "duty.csv: a box for each kind of work"},
    };
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
        if (strcmp(words[i][0], table) == 0)
            return words[i][1];
    return table;
}

static void write_boxes(trn_html *page, trn_starter starter, trn_field_time time)
{
    static const trn_html_column columns[COLUMNS] = {
        {"what, and where", false}, {"with", false}, {"column it goes to", false},
        {"1", false},               {"2", false},    {"3", false},
    };
    const char *last = "";
    for (size_t i = 0; i < trn_field_entry_count(); i++) {
        const trn_field_entry *e = trn_field_entry_at(i);
        if (e->time != time || !e->what || !in_sheet(starter, e))
            continue;
        if (!*last) {
            trn_buffer_add(page->out, "<div class=\"boxes\">\n");
            trn_html_table_begin(page, "Figures to take", columns, COLUMNS);
        }
        if (strcmp(last, e->table) != 0)
            trn_html_group(page, rows_of(e->table));
        last = e->table;
        write_entry(page, e);
    }
    if (*last) {
        trn_html_table_end(page);
        trn_buffer_add(page->out, "</div>\n");
    }
}

/* ---- tables of blank lines ---------------------------------------------------------------- */

enum { BLANK_COLUMNS_MAX = 16 };

static void write_blank(trn_html *page, trn_starter starter, size_t blank)
{
    trn_html_column columns[BLANK_COLUMNS_MAX];
    trn_buffer names[BLANK_COLUMNS_MAX] = {{0}};
    size_t n = 0;
    if (blanks[blank].time == TRN_FIELD_WARM && strcmp(blanks[blank].table, "points") == 0)
        columns[n++] = (trn_html_column){"point", false};
    for (size_t i = 0; i < trn_field_entry_count() && n < BLANK_COLUMNS_MAX; i++) {
        const trn_field_entry *e = trn_field_entry_at(i);
        if (e->what || e->time != blanks[blank].time ||
            strcmp(e->table, blanks[blank].table) != 0 || !in_sheet(starter, e))
            continue;
        trn_column_header(trn_column_find(trn_table_find(e->table), e->column), &names[n]);
        columns[n] = (trn_html_column){names[n].text ? names[n].text : "", false};
        n++;
    }
    if (n > 0) {
        trn_buffer_add(page->out, "<div class=\"blank\">\n");
        trn_html_table_begin(page, blanks[blank].caption, columns, n);
        for (size_t i = 0; i < blanks[blank].lines; i++) {
            trn_html_row_begin(page);
            trn_html_row_end(page);
        }
        trn_html_table_end(page);
        trn_buffer_add(page->out, "</div>\n");
        trn_html_paragraph_of(page, "hint", blanks[blank].hint);
    }
    for (size_t i = 0; i < BLANK_COLUMNS_MAX; i++)
        trn_buffer_free(&names[i]);
}

static void write_part(trn_html *page, trn_starter starter, trn_field_time time, size_t *number)
{
    static const char *const ids[TRN_FIELD_TIMES] = {"papers", "cold", "work", "warm"};
    char heading[80];
    (void)snprintf(heading, sizeof heading, "%zu  %s", ++*number, headings[time]);
    trn_html_section_begin(page, ids[time], heading);
    if (warnings[time])
        trn_html_caution(page, "%s", warnings[time]);
    if (time == TRN_FIELD_COLD)
        trn_html_list(page, false, while_cold, sizeof while_cold / sizeof while_cold[0]);
    write_boxes(page, starter, time);
    for (size_t i = 0; i < sizeof blanks / sizeof blanks[0]; i++)
        if (blanks[i].time == time && trn_starter_has(starter, blanks[i].table))
            write_blank(page, starter, i);
    trn_html_section_end(page);
}

static void write_head(trn_html *page)
{
    static const char *const cells[2][4] = {
        {"machine", "serial number", "hour meter, and which one", "date, name"},
        {"tractor", "last service at", "oil levels as found", "leaks, play, noise, guards"},
    };
    trn_buffer_add(page->out, "<table class=\"head\"><tbody>\n");
    for (size_t i = 0; i < 2; i++) {
        trn_buffer_add(page->out, "<tr>");
        for (size_t k = 0; k < 4; k++)
            trn_buffer_print(page->out, "<td>%s</td>", cells[i][k]);
        trn_buffer_add(page->out, "</tr>\n");
    }
    trn_buffer_add(page->out, "</tbody></table>\n");
}

trn_status trn_field_sheet(trn_starter starter, trn_buffer *out)
{
    trn_html page;
    trn_buffer title = {0};
    trn_buffer rules = {0};
    trn_buffer_print(&title, "Field sheet: %s", trn_starter_what(starter));
    trn_buffer_print(&rules, "%s%s", style, starter == TRN_STARTER_ALL ? small_boxes : "");
    if (title.failed || rules.failed) {
        out->failed = true;
        trn_buffer_free(&title);
        trn_buffer_free(&rules);
        return TRN_E_MEMORY;
    }
    trn_html_begin(&page,
                   &(trn_html_page){
                       .title = title.text,
                       .lead = "What to measure, where and with what, in the order in which it is "
                               "come by. Each line names the table and column that its boxes go to. "
                               "What cannot be had stays blank: it is left out, not invented.",
                       .margin = title.text,
                       .style = rules.text},
                   out);
    trn_buffer_free(&title);
    trn_buffer_free(&rules);
    trn_html_caution(&page, "%s", trn_caution_text(TRN_CAUTION_SHAFTS));
    trn_html_caution(&page, "%s", trn_caution_text(TRN_CAUTION_OIL));
    trn_html_caution(&page, "%s", infrared);
    trn_html_caution(&page, "%s", trn_caution_text(TRN_CAUTION_ALL));
    write_head(&page);
    size_t number = 0;
    for (size_t i = 0; i < TRN_FIELD_TIMES; i++)
        write_part(&page, starter, (trn_field_time)i, &number);
    trn_html_end(&page);
    return out->failed ? TRN_E_MEMORY : TRN_OK;
}
