/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Result files of a failure review. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <trunnion/csv_write.h>
#include <trunnion/review.h>

#include "review_rows.h"

const char *const trn_review_files[TRN_REVIEW_FILES] = {
    "review.csv",       "review_sensitivity.csv", "review_posterior.csv",
    "review_signs.csv", "review_shares.csv",      "review_next.csv"};

#define AT(member) offsetof(trn_review_row, member)
#define MODEL(member, model) (AT(member) + (model) * sizeof(double))
#define NUMBER(name, unit, at, head) {name, unit, TRN_ROW_NUMBER, at, head}
static const trn_row_field fields[] = {
    {"scenario", NULL, TRN_ROW_TEXT, AT(scenario), "scenario"},
    {"component", NULL, TRN_ROW_TEXT, AT(component), NULL},
    NUMBER("L10h", "h", AT(life_h), "L10h h"),
    NUMBER("failed_by", "%", AT(failed_pct), "failed by %"),
    NUMBER("log_likelihood", NULL, MODEL(ln_m, TRN_ALONE), NULL),
    NUMBER("bayes_factor", NULL, MODEL(factor, TRN_ALONE), "factor"),
    NUMBER("bayes_factor_with_fleet", NULL, MODEL(factor, TRN_FLEET), "with fleet"),
    NUMBER("share_of_life_lost", "%", AT(share_pct), "share %"),
    {"remark", NULL, TRN_ROW_REMARK, AT(remark), "remark"},
    NUMBER("bayes_factor_low", NULL, MODEL(low, TRN_ALONE), NULL),
    NUMBER("bayes_factor_high", NULL, MODEL(high, TRN_ALONE), NULL),
    NUMBER("with_fleet_low", NULL, MODEL(low, TRN_FLEET), NULL),
    NUMBER("with_fleet_high", NULL, MODEL(high, TRN_FLEET), NULL),
    NUMBER("bayes_factor_sisters_as_specified", NULL, MODEL(factor, TRN_FLEET_APART), NULL),
    NUMBER("sisters_as_specified_low", NULL, MODEL(low, TRN_FLEET_APART), NULL),
    NUMBER("sisters_as_specified_high", NULL, MODEL(high, TRN_FLEET_APART), NULL),
    NUMBER("log_likelihood_with_fleet", NULL, MODEL(ln_m, TRN_FLEET), NULL),
    NUMBER("ceiling", NULL, AT(ceiling), NULL),
    NUMBER("share_of_log_life_lost", "%", AT(share_log_pct), NULL),
    NUMBER("life_low", "h", AT(life_low_h), NULL),
    NUMBER("life_high", "h", AT(life_high_h), NULL),
    {"cause", NULL, TRN_ROW_REMARK, AT(cause), NULL},
    NUMBER("signs_for", NULL, AT(signs_for), NULL),
    NUMBER("signs_against", NULL, AT(signs_against), NULL),
    NUMBER("signs_neutral", NULL, AT(signs_neutral), NULL),
    NUMBER("sign_weight", NULL, AT(sign_weight), NULL),
    NUMBER("failed_by_minimum_life", "%", AT(failed_least_pct), NULL),
    NUMBER("hours", "h", AT(hours_h), NULL),
    NUMBER("hours_spread", "h", AT(spread_h), NULL),
};

trn_row_set trn_review_set(const trn_review *v, size_t part)
{
    bool all = part == TRN_NONE;
    return (trn_row_set){.fields = fields,
                         .field_count = sizeof fields / sizeof fields[0],
                         .rows = all ? v->rows : trn_review_at(v, part, 0),
                         .row_size = sizeof *v->rows,
                         .count = v->explanation_count * (all ? v->part_count : 1)};
}

static void header(trn_csv_writer *csv, const char *const *names)
{
    for (; *names; names++)
        trn_csv_word(csv, *names);
    trn_csv_end(csv);
}

static void sensitivity(const trn_review *v, trn_csv_writer *csv)
{
    static const char *const names[] = {"scenario", "component", "slope", "model_error",
                                        "bayes_factor", "bayes_factor_with_fleet",
                                        "bayes_factor_sisters_as_specified", NULL};
    header(csv, names);
    for (size_t i = 0; i < v->part_count * v->explanation_count; i++)
        for (size_t g = 0; g < TRN_REVIEW_GRID; g++) {
            const trn_review_row *row = &v->rows[i];
            trn_csv_text(csv, row->scenario);
            trn_csv_text(csv, row->component);
            trn_csv_number(csv, trn_review_slope(g));
            trn_csv_number(csv, trn_review_error(g));
            for (size_t m = 0; m < TRN_MODELS; m++)
                trn_csv_number(csv, row->grid[m][g]);
            trn_csv_end(csv);
        }
}

double trn_review_posterior(double prior, double factor)
{
    double posterior = NAN;
    return trn_evidence_posterior(prior, factor, &posterior) < 0 ? NAN : posterior;
}

static void posterior(const trn_review *v, trn_csv_writer *csv)
{
    static const char *const names[] = {"scenario", "component", "prior [%]", "posterior [%]",
                                        "posterior_with_fleet [%]",
                                        "posterior_sisters_as_specified [%]", NULL};
    header(csv, names);
    for (size_t i = 0; i < v->part_count * v->explanation_count; i++) {
        const trn_review_row *row = &v->rows[i];
        for (size_t k = 0; k < TRN_REVIEW_PRIORS && row->explanation > 0; k++) {
            trn_csv_text(csv, row->scenario);
            trn_csv_text(csv, row->component);
            trn_csv_number(csv, 100 * trn_review_priors[k]);
            for (size_t m = 0; m < TRN_MODELS; m++)
                trn_csv_number(csv,
                               100 * trn_review_posterior(trn_review_priors[k], row->factor[m]));
            trn_csv_end(csv);
        }
    }
}

static void signs(const trn_review *v, trn_csv_writer *csv)
{
    static const char *const names[] = {"component", "sign", "scenario", "cause", "weight", NULL};
    header(csv, names);
    for (size_t i = 0; i < v->part_count * v->explanation_count; i++) {
        const trn_review_row *row = &v->rows[i];
        const trn_texts *seen = &v->parts[row->part].failure->sign;
        unsigned causes = v->explanations[row->explanation].causes;
        for (size_t k = 0; k < seen->n; k++) {
            trn_csv_text(csv, row->component);
            trn_csv_text(csv, seen->v[k]);
            trn_csv_text(csv, row->scenario);
            trn_csv_word(csv, row->cause);
            trn_csv_number(csv, causes ? (double)trn_review_weight(causes, seen->v[k]) : NAN);
            trn_csv_end(csv);
        }
    }
}

/* Lives of every combination: from them the shares can be worked out again by hand. */
static void shares(const trn_review *v, trn_csv_writer *csv)
{
    static const char *const names[] = {"component", "departures", "L10h [h]", NULL};
    header(csv, names);
    for (size_t p = 0; p < v->part_count; p++) {
        const trn_review_part *part = &v->parts[p];
        if (isnan(part->lost_h))
            continue;
        for (size_t set = 0; set < (size_t)1 << part->departures; set++) {
            trn_buffer together = {0};
            for (size_t bit = 0; bit < part->departures; bit++)
                if (set >> bit & 1)
                    trn_buffer_print(
                        &together, "%s%s", together.length ? " + " : "",
                        v->explanations[v->departing[p * TRN_DEPARTURES_MAX + bit]].name);
            trn_csv_text(csv, part->name);
            trn_csv_text(csv, together.text ? together.text : "as specified");
            trn_csv_number(csv, v->subset_lives[(p << TRN_DEPARTURES_MAX) + set]);
            trn_csv_end(csv);
            csv->out->failed = csv->out->failed || together.failed;
            trn_buffer_free(&together);
        }
    }
}

static void further(const trn_review *v, trn_csv_writer *csv)
{
    static const char *const names[] = {"component", "kind", "scenario", "finding", "now", "then",
                                        "change", NULL};
    header(csv, names);
    for (size_t i = 0; i < v->next_count; i++) {
        const trn_review_next *n = &v->next[i];
        trn_csv_text(csv, n->component);
        trn_csv_word(csv, n->kind_text);
        trn_csv_text(csv, n->scenario);
        trn_csv_text(csv, n->what);
        trn_csv_number(csv, n->now);
        trn_csv_number(csv, n->then);
        trn_csv_number(csv, n->change);
        trn_csv_end(csv);
    }
}

void trn_review_csv(const trn_review *review, size_t file, trn_buffer *out)
{
    static void (*const write[])(const trn_review *, trn_csv_writer *) = {
        NULL, sensitivity, posterior, signs, shares, further};
    trn_csv_writer csv = {.out = out};
    trn_row_set set = trn_review_set(review, TRN_NONE);
    if (file == 0)
        trn_rows_csv(&set, out);
    else if (file < TRN_REVIEW_FILES)
        write[file](review, &csv);
}
