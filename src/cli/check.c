/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `check`: faults of a case, or what it can and cannot give. */
#include <stdio.h>
#include <string.h>
#include <trunnion/checkup.h>
#include <trunnion/csv_write.h>

#include "cli.h"

enum { WIDTH = 100, ITEM_WIDTH_MAX = 22 };

static void write_csv(const trn_checkup *checkup, trn_buffer *out)
{
    trn_csv_writer csv = {.out = out};
    static const char *const head[] = {"part", "item", "state", "text"};
    for (size_t i = 0; i < sizeof head / sizeof head[0]; i++)
        trn_csv_word(&csv, head[i]);
    trn_csv_end(&csv);
    for (size_t i = 0; i < checkup->count; i++) {
        const trn_checkup_item *item = &checkup->items[i];
        trn_csv_word(&csv, trn_checkup_part_word(item->part));
        trn_csv_text(&csv, item->item);
        trn_csv_word(&csv, trn_checkup_state_word(item->state));
        trn_csv_text(&csv, item->text);
        trn_csv_end(&csv);
    }
}

/* A table that has rows needs no line for people. */
static bool shown(const trn_checkup_item *item)
{
    return item->part != TRN_CHECKUP_TABLES || item->state != TRN_CHECKUP_OK;
}

static size_t columns_of(const char *text)
{
    size_t n = 0;
    for (const char *p = text; *p; p++)
        n += ((unsigned char)*p & 0xc0) != 0x80;
    return n;
}

/* What stands together under one heading: the looks of all parts, else a part of a stage. */
static bool together(const trn_checkup_item *a, const trn_checkup_item *b)
{
    trn_checkup_stage stage = trn_checkup_stage_of(a);
    return stage == trn_checkup_stage_of(b) &&
           (stage == TRN_CHECKUP_STAGE_LOOK || a->part == b->part);
}

static size_t item_width(const trn_checkup *checkup, size_t from, size_t to)
{
    size_t widest = 0;
    for (size_t i = from; i < to; i++) {
        size_t n = columns_of(checkup->items[i].item);
        if (shown(&checkup->items[i]) && n > widest && n <= ITEM_WIDTH_MAX)
            widest = n;
    }
    return widest;
}

static void write_heading(const trn_checkup_item *item, trn_buffer *out)
{
    bool look = trn_checkup_stage_of(item) == TRN_CHECKUP_STAGE_LOOK;
    trn_buffer_print(out, "\n%s\n",
                     look ? "Look at these" : trn_checkup_part_heading(item->part));
    if (item->part == TRN_CHECKUP_AXLES && !look) {
        trn_buffer_add(out, "  ");
        trn_text_wrap("Nod at each line, or look again: a wrong hand or rotation moves the thrust "
                      "to the other bearing and a life up to twentyfold, and nothing else shows "
                      "it. + is the way in which the stations of an axle rise.",
                      2, 2, WIDTH, out);
    }
}

/* Items from..to of one heading. */
static void write_group(const trn_checkup *checkup, size_t from, size_t to, trn_buffer *out)
{
    size_t width = item_width(checkup, from, to);
    size_t indent = 2 + 7 + 2 + width + 2;
    const char *last = "";
    bool first = true;
    for (size_t i = from; i < to; i++) {
        const trn_checkup_item *item = &checkup->items[i];
        if (!shown(item))
            continue;
        if (first)
            write_heading(item, out);
        first = false;
        const char *name = strcmp(last, item->item) == 0 ? "" : item->item;
        size_t n = columns_of(name);
        trn_buffer_print(out, "  %-7s  %s", trn_checkup_state_word(item->state), name);
        if (n > width)
            trn_buffer_print(out, "\n%*s", (int)indent, "");
        else
            trn_buffer_print(out, "%*s", (int)(width - n + 2), "");
        trn_text_wrap(item->text, indent, indent, WIDTH, out);
        last = item->item;
    }
}

static void count_states(const trn_checkup *checkup, size_t counts[3])
{
    for (size_t i = 0; i < checkup->count; i++)
        if (shown(&checkup->items[i]))
            counts[checkup->items[i].state]++;
}

static void write_text(const trn_machine *m, const trn_checkup *checkup, trn_buffer *out)
{
    size_t counts[3] = {0, 0, 0};
    trn_buffer_print(out, "%s, %.4g rpm, %.4g kW: no faults in the tables.\n", m->head.name,
                     m->head.pto_speed * 30 / 3.14159265358979323846,
                     m->head.rated_power / 1000);
    for (size_t from = 0, to; from < checkup->count; from = to) {
        for (to = from; to < checkup->count && together(&checkup->items[from],
                                                        &checkup->items[to]);)
            to++;
        write_group(checkup, from, to, out);
    }
    count_states(checkup, counts);
    trn_buffer_print(out, "\n%zu ok, %zu missing, %zu to look at. Missing is no fault: it is left "
                          "out and said.\n",
                     counts[TRN_CHECKUP_OK], counts[TRN_CHECKUP_MISSING],
                     counts[TRN_CHECKUP_LOOK]);
}

cli_exit cli_check(const cli_options *options)
{
    cli_exit code = CLI_DONE;
    trn_machine *base = NULL;
    if (options->inputs.n != 1) {
        (void)fprintf(stderr, "trunnion check: one case folder is expected, not %zu\n",
                      options->inputs.n);
        return CLI_MISUSE;
    }
    trn_machine *machine = cli_case(options, options->inputs.v[0], &base, &code);
    if (!machine)
        return code;
    trn_checkup checkup;
    trn_buffer out = {0};
    if (trn_checkup_make(machine, &checkup) < 0)
        out.failed = true;
    else if (options->as_csv)
        write_csv(&checkup, &out);
    else
        write_text(machine, &checkup, &out);
    code = cli_print(&out);
    if (code == CLI_DONE && options->strict.n > 0 && checkup.outside)
        code = CLI_OUTSIDE;
    if (code == CLI_DONE && !options->as_csv)
        cli_caution(options, TRN_CAUTION_ALL);
    trn_checkup_free(&checkup);
    trn_machine_free(machine);
    trn_machine_free(base);
    return code;
}
