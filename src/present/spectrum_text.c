/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The tables of `spectrum` as CSV and for reading. */
#include <math.h>
#include <trunnion/spectrum.h>

#include "rows.h"

#define COUNT(array) (sizeof(array) / sizeof(array)[0])

enum { CYCLES_SHOWN = 30, LEVELS_SHOWN = 60 };

#define AT(member) offsetof(trn_spectrum_cycle, member)
static const trn_row_field cycle_fields[] = {
    {"range", "N.m", TRN_ROW_NUMBER, AT(range_nm), "range N.m"},
    {"mean", "N.m", TRN_ROW_NUMBER, AT(mean_nm), "mean N.m"},
    {"count", NULL, TRN_ROW_NUMBER, AT(count), "count"},
    {"damage", "%", TRN_ROW_NUMBER, AT(damage_pct), "damage %"},
};
#undef AT

#define AT(member) offsetof(trn_spectrum_bin, member)
static const trn_row_field bin_fields[] = {
    {"range_from", "N.m", TRN_ROW_NUMBER, AT(from_nm), "range from"},
    {"range_to", "N.m", TRN_ROW_NUMBER, AT(to_nm), "to below"},
    {"count", NULL, TRN_ROW_NUMBER, AT(count), "count"},
    {"mean", "N.m", TRN_ROW_NUMBER, AT(mean_nm), "mean N.m"},
    {"mean_low", "N.m", TRN_ROW_NUMBER, AT(mean_low_nm), "least"},
    {"mean_high", "N.m", TRN_ROW_NUMBER, AT(mean_high_nm), "greatest"},
    {"damage", "%", TRN_ROW_NUMBER, AT(damage_pct), "damage %"},
};
#undef AT

#define AT(member) offsetof(trn_spectrum_level, member)
static const trn_row_field level_fields[] = {
    {"torque_from", "N.m", TRN_ROW_NUMBER, AT(from_nm), "torque from"},
    {"torque_to", "N.m", TRN_ROW_NUMBER, AT(to_nm), "to below"},
    {"time", "s", TRN_ROW_NUMBER, AT(time_s), NULL},
    {"time_share", "%", TRN_ROW_NUMBER, AT(time_pct), "time %"},
    {"revolutions", NULL, TRN_ROW_NUMBER, AT(revolutions), NULL},
    {"revolutions_share", "%", TRN_ROW_NUMBER, AT(revolutions_pct), "turns %"},
    {"damage_ball", "%", TRN_ROW_NUMBER, AT(ball_pct), "ball %"},
    {"damage_roller", "%", TRN_ROW_NUMBER, AT(roller_pct), "roller %"},
    {"damage_pitting", "%", TRN_ROW_NUMBER, AT(pitting_pct), "pitting %"},
    {"damage_bending", "%", TRN_ROW_NUMBER, AT(bending_pct), "bending %"},
};
#undef AT

#define AT(member) offsetof(trn_spectrum_part, member)
static const trn_row_field part_fields[] = {
    {"part", NULL, TRN_ROW_WORD, AT(part), "part"},
    {"counted", NULL, TRN_ROW_WORD, AT(counted), "counted"},
    {"exponent", NULL, TRN_ROW_NUMBER, AT(exponent), "p or m"},
    {"count", NULL, TRN_ROW_NUMBER, AT(count), NULL},
    {"equivalent", "N.m", TRN_ROW_NUMBER, AT(equivalent_nm), "equal N.m"},
    {"peak", "N.m", TRN_ROW_NUMBER, AT(peak_nm), NULL},
    {"damage_as_peaks", NULL, TRN_ROW_NUMBER, AT(damage), "as at peak"},
    {"peak_share", "%", TRN_ROW_NUMBER, AT(peak_share_pct), "by peak %"},
};
#undef AT

static trn_row_set cycles_of(const trn_spectrum *s)
{
    if (s->bin_count > 0)
        return (trn_row_set){bin_fields, COUNT(bin_fields), s->bins, sizeof *s->bins,
                             s->bin_count};
    return (trn_row_set){cycle_fields, COUNT(cycle_fields), s->cycles, sizeof *s->cycles,
                         s->cycle_count};
}

void trn_spectrum_cycles_csv(const trn_spectrum *spectrum, trn_buffer *out)
{
    trn_row_set set = cycles_of(spectrum);
    trn_rows_csv(&set, out);
}

void trn_spectrum_levels_csv(const trn_spectrum *spectrum, trn_buffer *out)
{
    trn_row_set set = {level_fields, COUNT(level_fields), spectrum->levels,
                       sizeof *spectrum->levels, spectrum->level_count};
    trn_rows_csv(&set, out);
}

void trn_spectrum_parts_csv(const trn_spectrum *spectrum, trn_buffer *out)
{
    trn_row_set set = {part_fields, COUNT(part_fields), spectrum->parts, sizeof spectrum->parts[0],
                       spectrum->part_count};
    trn_rows_csv(&set, out);
}

/* ---- for reading -------------------------------------------------------------------------- */

static void head(const trn_spectrum *s, size_t width, trn_buffer *out)
{
    char low[48], high[48], number[48];
    trn_buffer text = {0};
    trn_number_for_people(s->least_nm, 4, low, sizeof low);
    trn_number_for_people(s->most_nm, 4, high, sizeof high);
    trn_buffer_print(&text, "Torque record of %zu rows", s->rows);
    if (s->timed) {
        trn_number_for_people(s->known_s, 4, number, sizeof number);
        trn_buffer_print(&text, ", %s s", number);
    }
    if (!isnan(s->revolutions)) {
        trn_number_for_people(s->revolutions, 4, number, sizeof number);
        trn_buffer_print(&text, ", %s revolutions", number);
    }
    trn_number_for_people(s->cycles_sum, 4, number, sizeof number);
    trn_buffer_print(&text, ": torque from %s to %s N.m, %s cycles%s", low, high, number,
                     s->settings.repeating ? " of the closed loop" : "");
    trn_text_wrap(text.text ? text.text : "", 0, 0, width, out);
    out->failed = out->failed || text.failed;
    trn_buffer_free(&text);
}

/* Without a speed nothing is known of the revolutions. */
static void levels(const trn_spectrum *s, size_t width, trn_buffer *out)
{
    trn_row_field shown[COUNT(level_fields)];
    for (size_t i = 0; i < COUNT(level_fields); i++)
        shown[i] = level_fields[i];
    for (size_t i = 0; i < COUNT(level_fields) && !s->turning; i++)
        if (shown[i].offset == offsetof(trn_spectrum_level, revolutions_pct))
            shown[i].head = NULL;
    size_t n = s->level_count > LEVELS_SHOWN ? LEVELS_SHOWN : s->level_count;
    trn_row_set set = {shown, COUNT(shown), s->levels + (s->level_count - n), sizeof *s->levels, n};
    trn_buffer_add(out, "\nAt torque level: what bearings and teeth feel (case-hardened teeth)\n\n");
    trn_rows_text(&set, width, out);
    if (n < s->level_count)
        trn_buffer_print(out, "\nThe highest %zu of %zu levels; all with --csv --show levels.\n", n,
                         s->level_count);
}

static void cycles(const trn_spectrum *s, size_t width, trn_buffer *out)
{
    trn_row_set set = cycles_of(s);
    size_t all = set.count;
    size_t n = all > CYCLES_SHOWN ? CYCLES_SHOWN : all;
    if (all == 0)
        return;
    set.rows = (const char *)set.rows + (all - n) * set.row_size;
    set.count = n;
    trn_buffer_print(out, "\nRainflow cycles: what shafts and yokes feel (damage at slope %.6g)\n\n",
                     s->settings.slope);
    trn_rows_text(&set, width, out);
    if (n < all)
        trn_buffer_print(out, "\nThe largest %zu of %zu; all with --csv, fewer with --bins.\n", n, all);
}

void trn_spectrum_text(const trn_spectrum *spectrum, size_t width, trn_buffer *out)
{
    static const char said[] =
        "A tooth and a rolling element see one pulse from 0 to the torque each time they come "
        "round: revolutions at torque level belong to them. Shafts, yokes and housings feel the "
        "swings: rainflow cycles. Equal: the constant torque (or range) that does the same over as many. As at peak: so many revolutions or cycles at the peak would do "
        "the same. The damage at failure scatters from 0.3 to 3 of what was reckoned, and a record "
        "too short for its rare peaks says nothing about bending.";
    trn_row_set set = {part_fields, COUNT(part_fields), spectrum->parts, sizeof spectrum->parts[0],
                       spectrum->part_count};
    head(spectrum, width, out);
    trn_buffer_add(out, "\n");
    trn_rows_text(&set, width, out);
    trn_buffer_add(out, "\n");
    trn_text_wrap(said, 0, 0, width, out);
    levels(spectrum, width, out);
    cycles(spectrum, width, out);
    for (size_t i = 0; i < spectrum->note_count; i++) {
        trn_buffer_add(out, i ? "" : "\n");
        trn_text_wrap(spectrum->notes[i], 0, 2, width, out);
    }
}
