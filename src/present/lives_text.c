/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table of `lives` as CSV and for reading. */
#include <math.h>
#include <stdio.h>
#include <trunnion/life.h>
#include <trunnion/lives_table.h>

#include "rows.h"

#define AT(member) offsetof(trn_lives_line, member)
static const trn_row_field fields[] = {
    {"method", NULL, TRN_ROW_WORD, AT(method), "method"},
    {"beta", NULL, TRN_ROW_NUMBER, AT(line.beta), "slope"},
    {"eta", "h", TRN_ROW_NUMBER, AT(line.eta_h), "eta h"},
    {"log_likelihood", NULL, TRN_ROW_NUMBER, AT(line.log_likelihood), NULL},
    {"B10", "h", TRN_ROW_NUMBER, AT(line.b10_h), "B10 h"},
    {"beta_low", NULL, TRN_ROW_NUMBER, AT(limits.beta_low), "slope low"},
    {"beta_high", NULL, TRN_ROW_NUMBER, AT(limits.beta_high), "high"},
    {"eta_low", "h", TRN_ROW_NUMBER, AT(limits.eta_low_h), "eta low"},
    {"eta_high", "h", TRN_ROW_NUMBER, AT(limits.eta_high_h), "high"},
    {"B10_low", "h", TRN_ROW_NUMBER, AT(limits.b10_low_h), "B10 low"},
    {"B10_high", "h", TRN_ROW_NUMBER, AT(limits.b10_high_h), "high"},
    {"remark", NULL, TRN_ROW_REMARK, AT(remark), "notes"},
};
#undef AT

static trn_row_set set_of(const trn_lives_table *table)
{
    return (trn_row_set){fields, sizeof fields / sizeof fields[0], table->lines,
                         sizeof table->lines[0], table->count};
}

void trn_lives_csv(const trn_lives_table *table, trn_buffer *out)
{
    trn_row_set set = set_of(table);
    trn_rows_csv(&set, out);
}

/* ---- other slopes ------------------------------------------------------------------------- */

static const double usual_slopes[] = {1.5, 2, 3};

static void other_slopes(const trn_lives_table *table, size_t width, trn_buffer *out)
{
    static const trn_row_field shown[] = {
        {"beta", NULL, TRN_ROW_NUMBER, offsetof(trn_lives_line, line.beta), "slope"},
        {"eta", NULL, TRN_ROW_NUMBER, offsetof(trn_lives_line, line.eta_h), "eta h"},
        {"B10", NULL, TRN_ROW_NUMBER, offsetof(trn_lives_line, line.b10_h), "B10 h"},
        {"low", NULL, TRN_ROW_NUMBER, offsetof(trn_lives_line, limits.b10_low_h), "B10 low"},
        {"high", NULL, TRN_ROW_NUMBER, offsetof(trn_lives_line, limits.b10_high_h), "high"},
    };
    trn_lives_line rows[sizeof usual_slopes / sizeof usual_slopes[0]] = {0};
    size_t n = 0;
    for (size_t i = 0; i < sizeof usual_slopes / sizeof usual_slopes[0]; i++)
        n += trn_weibull_weibayes(&table->data, usual_slopes[i], table->confidence,
                                  &rows[n].line, &rows[n].limits) >= 0;
    trn_row_set set = {shown, sizeof shown / sizeof shown[0], rows, sizeof rows[0], n};
    trn_buffer_add(out, "\nThe same units at slopes that are assumed\n\n");
    trn_rows_text(&set, width, out);
    trn_buffer_add(out, "\n");
    trn_text_wrap("With so few failures the slope that is assumed decides, not the data.", 0, 0,
                  width, out);
}

/* ---- no failure --------------------------------------------------------------------------- */

static void without_failure(const trn_lives_table *table, size_t width, trn_buffer *out)
{
    static const double runs[] = {1, 1.5, 2, 3};
    const trn_weibull_data *data = &table->data;
    double slope = table->slope;
    double sum = 0; /* each unit run to the time that gives the same sum of t^slope */
    for (size_t i = 0; i < data->n; i++)
        sum += (double)data->rows[i].count * exp(slope * data->rows[i].x);
    double each_h = data->scale_h * pow(sum / data->units, 1 / slope);
    double eta, b10;
    if (trn_life_zero_failure(data->units, each_h, slope, table->confidence, &eta, &b10) < 0)
        return;
    char eta_text[48], b10_text[48];
    trn_number_for_people(eta, 4, eta_text, sizeof eta_text);
    trn_number_for_people(b10, 4, b10_text, sizeof b10_text);
    trn_buffer_print(out,
                     "\nNothing failed: with %.6g %% confidence (one-sided) and slope %.6g, eta is "
                     "at least\n%s h and B10 at least %s h.\n",
                     100 * table->confidence, slope, eta_text, b10_text);
    trn_buffer line = {0};
    trn_buffer_print(&line,
                     "To show a B10 with that confidence and slope, none may fail, each run for so "
                     "many times the B10:");
    for (size_t i = 0; i < sizeof runs / sizeof runs[0]; i++) {
        double exact, units;
        if (trn_life_success_run(0.9, table->confidence, runs[i], slope, &exact, &units) >= 0)
            trn_buffer_print(&line, "%s %g times: %.0f unit%s", i ? "," : "", runs[i], units,
                             units > 1 ? "s" : "");
    }
    trn_buffer_add(&line, ".");
    trn_text_wrap(line.text ? line.text : "", 0, 0, width, out);
    out->failed = out->failed || line.failed;
    trn_buffer_free(&line);
}

void trn_lives_text(const trn_lives_table *table, size_t width, trn_buffer *out)
{
    const double few = 20;
    const trn_weibull_data *data = &table->data;
    trn_row_set set = set_of(table);
    trn_buffer_print(out, "Weibull lines: %.0f of %.0f units failed, limits of %.6g %%\n\n",
                     data->failed, data->units, 100 * table->confidence);
    trn_rows_text(&set, width, out);
    trn_buffer_add(out, "\n");
    trn_text_wrap("eta: 63.2 % have failed; B10: 10 % have failed. Limits made so hold the true "
                  "value as often as the confidence says. A line describes, it proves nothing; below "
                  "the first failure and beyond the hours observed it is an extrapolation.",
                  0, 0, width, out);
    if (data->grouped)
        return;
    if (data->failed > 0 && data->failed < few)
        other_slopes(table, width, out);
    if (!(data->failed > 0))
        without_failure(table, width, out);
}
