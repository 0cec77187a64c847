/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Factors between explanations, at the chosen slope and model error and over their table. */
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <trunnion/choices.h>
#include <trunnion/life.h>

#include "review_inside.h"

enum { CHOSEN = 4 };

const double trn_review_priors[TRN_REVIEW_PRIORS] = {0.01, 0.05, 0.1, 0.2, 0.5, 0.8, 0.95};

double trn_review_slope(size_t place)
{
    static const trn_choice_id ids[] = {TRN_CHOICE_REVIEW_SLOPE_LOW, TRN_CHOICE_REVIEW_SLOPE,
                                        TRN_CHOICE_REVIEW_SLOPE_HIGH};
    return place < TRN_REVIEW_GRID ? trn_choice_value(ids[place / 3]) : NAN;
}

double trn_review_error(size_t place)
{
    static const trn_choice_id ids[] = {TRN_CHOICE_REVIEW_ERROR_LOW, TRN_CHOICE_REVIEW_ERROR,
                                        TRN_CHOICE_REVIEW_ERROR_HIGH};
    return place < TRN_REVIEW_GRID ? trn_choice_value(ids[place % 3]) : NAN;
}

double trn_review_ln_m_of(const trn_failure *failure, const trn_weibull_data *fleet, double low_h,
                          double high_h, double reference_h, trn_review_model model, size_t place)
{
    double ln_m = NAN;
    trn_status status = trn_evidence_log_marginal_range(
        failure->hours, failure->hours_spread, model == TRN_ALONE ? NULL : fleet, low_h, high_h,
        model == TRN_FLEET_APART ? reference_h : NAN, trn_review_slope(place),
        trn_review_error(place), &ln_m);
    return status < 0 ? NAN : ln_m;
}

double trn_review_ln_m(const trn_review *review, const trn_review_part *part, double low_h,
                       double high_h, double reference_h, trn_review_model model, size_t place)
{
    return trn_review_ln_m_of(part->failure, &review->fleet, low_h, high_h, reference_h, model,
                              place);
}

static bool comparable(double life_h)
{
    return life_h > 0 && isfinite(life_h);
}

static void spread_of(trn_review_row *row, trn_review_model model)
{
    double sorted[TRN_REVIEW_GRID];
    for (size_t i = 0; i < TRN_REVIEW_GRID; i++) {
        sorted[i] = row->grid[model][i];
        if (isnan(sorted[i]))
            return;
    }
    gsl_sort(sorted, 1, TRN_REVIEW_GRID);
    row->low[model] = gsl_stats_quantile_from_sorted_data(sorted, 1, TRN_REVIEW_GRID, 0.1);
    row->high[model] = gsl_stats_quantile_from_sorted_data(sorted, 1, TRN_REVIEW_GRID, 0.9);
}

/* The factor with the sisters, less those that may be the failed unit itself. */
static double less(const trn_review *review, const trn_review_part *part, double reference_h,
                   const trn_review_row *row)
{
    if (!review->has_less)
        return NAN;
    return exp(trn_review_ln_m_of(part->failure, &review->fleet_less, row->life_low_h,
                                  row->life_high_h, reference_h, TRN_FLEET, CHOSEN) -
               trn_review_ln_m_of(part->failure, &review->fleet_less, reference_h, reference_h,
                                  reference_h, TRN_FLEET, CHOSEN));
}

static void fill(const trn_review *review, const trn_review_part *part, double reference_h,
                 trn_review_row *row)
{
    bool lost = false;
    for (size_t model = 0; model < TRN_MODELS; model++) {
        trn_review_model of = (trn_review_model)model;
        if (of != TRN_ALONE && !review->has_fleet)
            continue;
        for (size_t i = 0; i < TRN_REVIEW_GRID; i++) {
            double here = trn_review_ln_m(review, part, row->life_low_h, row->life_high_h,
                                          reference_h, of, i);
            double there =
                trn_review_ln_m(review, part, reference_h, reference_h, reference_h, of, i);
            row->grid[model][i] = row->explanation == 0 ? exp(there - there) : exp(here - there);
            lost = lost || isnan(here - there);
            if (i == CHOSEN)
                row->ln_m[model] = here;
        }
        row->factor[model] = row->grid[model][CHOSEN];
        spread_of(row, of);
    }
    row->factor_less = less(review, part, reference_h, row);
    if (lost)
        trn_review_remark(row, "a likelihood too small for a number: such factors are blank");
}

/* Probability by the hours seen, whether or not there is something to compare with. */
static void failed_by(const trn_review_part *part, trn_review_row *row)
{
    double failed = NAN;
    double low = row->life_low_h;
    if (isinf(low))
        row->failed_pct = 0;
    else if (trn_evidence_failed_range(part->failure->hours, low, row->life_high_h,
                                       trn_review_slope(CHOSEN), &failed) >= 0)
        row->failed_pct = 100 * failed;
    double survive, plain;
    if (part->kind == TRN_PART_BEARING && comparable(row->life_h) &&
        trn_life_iso281(part->failure->hours, row->life_h, &survive, &failed, &plain) >= 0)
        row->failed_least_pct = 100 * failed;
}

double trn_review_range_factor(const trn_review *review, size_t part, size_t explanation,
                               double times, trn_review_model model)
{
    const trn_review_row *row = trn_review_at(review, part, explanation);
    double reference_h = trn_review_at(review, part, 0)->life_h;
    double low_h = times * row->life_low_h;
    if (!(low_h < row->life_high_h) || !comparable(low_h) || !comparable(reference_h))
        return NAN;
    const trn_review_part *of = &review->parts[part];
    return exp(trn_review_ln_m(review, of, low_h, row->life_high_h, reference_h, model, CHOSEN) -
               trn_review_ln_m(review, of, reference_h, reference_h, reference_h, model, CHOSEN));
}

void trn_review_factors(trn_review *review, size_t p)
{
    trn_review_part *part = &review->parts[p];
    trn_review_row *rows = &review->rows[p * review->explanation_count];
    double reference_h = rows[0].life_h;
    if (comparable(reference_h))
        (void)trn_evidence_ceiling(part->failure->hours, reference_h, trn_review_slope(CHOSEN),
                                   &part->ceiling, &part->ceiling_life_h);
    for (size_t i = 0; i < review->explanation_count; i++) {
        trn_review_row *row = &rows[i];
        row->ceiling = part->ceiling;
        failed_by(part, row);
        if (isinf(row->life_h))
            trn_review_remark(row, "no load: it could not fail so, no factor");
        if (comparable(reference_h) && comparable(row->life_low_h) &&
            comparable(row->life_high_h) && !row->unlike)
            fill(review, part, reference_h, row);
        else if (i > 0 && !comparable(reference_h) && comparable(row->life_low_h))
            trn_review_remark(row, "no life as specified to compare with: no factor");
    }
}
