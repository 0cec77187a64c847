/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside the study layer: parts of a failure review. */
#ifndef TRUNNION_REVIEW_INSIDE_H
#define TRUNNION_REVIEW_INSIDE_H

#include <trunnion/review.h>

/* Life of a part in an evaluated case. */
typedef struct trn_part_life {
    double life_h; /* NaN: not known; INFINITY: no load */
    bool starved;
    bool dips_left; /* starved, since dips do not follow the oil lost */
    bool basic;   /* it is an L10h */
    bool outside; /* a number behind it is outside its validity */
    trn_buffer remark; /* why it is not known, and what is outside its validity */
} trn_part_life;

/* Evaluates machine with some scenarios on top.
 * Returned: lives[part_count]; the caller frees their remarks
 * Status:   TRN_E_INPUT with faults, TRN_E_MEMORY */
trn_status trn_review_lives(const trn_review *review, const trn_machine *machine,
                            const char *const *names, size_t count, trn_faults *faults,
                            trn_part_life *lives);
void trn_review_lives_free(trn_part_life *lives, size_t count);

void trn_review_remark(trn_review_row *row, const char *text);

/* Reads lives.csv, and looks for the failed unit among the others.
 * Status: TRN_E_INPUT with faults, TRN_E_MEMORY */
trn_status trn_review_fleet(trn_review *review, trn_faults *faults);

/* Fills the factors of all rows of a part. */
void trn_review_factors(trn_review *review, size_t part);

/* ln m of a life (low = high) or range of a part under a model; NaN where it is no number. */
double trn_review_ln_m(const trn_review *review, const trn_review_part *part, double low_h,
                       double high_h, double reference_h, trn_review_model model, size_t place);
double trn_review_ln_m_of(const trn_failure *failure, const trn_weibull_data *fleet, double low_h,
                          double high_h, double reference_h, trn_review_model model,
                          size_t place);

/* Shares of the life lost, part by part. */
trn_status trn_review_shares(trn_review *review, unsigned jobs);

/* Causes of the explanations and the signs seen. */
void trn_review_explain(trn_review *review);
void trn_review_signs(trn_review *review);

/* What further evidence would do. */
trn_status trn_review_further(trn_review *review);

#endif
