/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Bearing lives by condition and over the duty, and each gearbox as a system of its bearings. */
#include <trunnion/bearing.h>

#include "cleanliness.h"
#include "study.h"
#include "working_notes.h"

static bool is_ball(int kind)
{
    return kind <= TRN_BEARING_ANGULAR_40;
}

static void clear(trn_bearing_row *row, size_t condition, size_t bearing)
{
    *row = (trn_bearing_row){.condition = condition, .bearing = bearing, .speed_rpm = NAN,
                             .fr_n = NAN, .fa_n = NAN, .p_n = NAN, .oil_temperature_c = NAN,
                             .kappa = NAN, .e_c = NAN, .a_iso = NAN, .l10h_h = NAN,
                             .lnmh_h = NAN, .p_mean_n = NAN, .lnmh_low_h = NAN,
                             .lnmh_high_h = NAN};
}

static trn_status equivalent(const trn_bearing *b, double fr, double fa, double *p,
                             trn_trace *trace)
{
    double in[] = {b->kind, fr, fa, b->C0, b->f0, b->contact_angle};
    double out[4];
    trn_status status = trn_step(trace, TRN_STEP_BEARING_LOAD, in, out);
    if (status >= 0)
        *p = out[0];
    return status;
}

/* Load factor of the ripple of the shaft that drives the gearbox. */
static double ripple_factor(const trn_joint_row *shaft, int kind, trn_trace *trace)
{
    if (!(shaft->rho > 0))
        return 1;
    double in[] = {shaft->rho, is_ball(kind) ? 3 : 10.0 / 3};
    double out[1];
    return trn_step(trace, TRN_STEP_SHAFT_RIPPLE_FACTOR, in, out) < 0 ? NAN : out[0];
}

/* kappa and e_C of a bearing in a condition; NaN where something is not known. */
static void lubrication(const trn_machine *m, const trn_bearing *b, double omega,
                        const trn_heat_row *heat, const trn_cleanliness *clean,
                        trn_bearing_row *row, trn_trace *trace)
{
    double dpw = (b->bore + b->outside) / 2;
    row->oil_temperature_c = heat->oil_temperature_c;
    (void)m;
    if (isnan(heat->viscosity_mm2s)) {
        trn_remark_add(&row->remarks, TRN_M_NO_TEMPERATURE, NULL, 0);
        return;
    }
    if (!(omega > 0))
        return;
    double nu1_in[] = {omega, dpw};
    double nu1 = NAN;
    if (trn_step(trace, TRN_STEP_BEARING_REFERENCE_VISCOSITY, nu1_in, &nu1) < 0)
        return;
    row->kappa = heat->viscosity_mm2s * 1e-6 / nu1;
    trn_working_life(TRN_STEP_BEARING_KAPPA, (double[]){heat->viscosity_mm2s * 1e-6, nu1}, trace);
    if (!clean->known) {
        trn_remark_add(&row->remarks, clean->remark, clean->text, 0);
        return;
    }
    if (clean->beyond) {
        row->e_c = 0;
        trn_remark_add(&row->remarks, TRN_M_DIRTIER, NULL, 0);
        return;
    }
    double in[] = {1, (double)clean->clean, row->kappa, dpw}; /* 1: bath */
    double out[TRN_OUTPUTS_MAX];
    trn_status status = trn_step(trace, TRN_STEP_BEARING_CLEANLINESS, in, out);
    trn_remark_status(&row->remarks, status);
    if (status >= 0)
        row->e_c = out[0];
}

static double fatigue_limit(const trn_bearing *b, trn_trace *trace)
{
    if (!isnan(b->Cu))
        return b->Cu;
    double in[] = {is_ball(b->kind) ? 0 : 1, b->C0, (b->bore + b->outside) / 2};
    double out[1];
    return trn_step(trace, TRN_STEP_BEARING_FATIGUE_LIMIT, in, out) < 0 ? NAN : out[0];
}

/* Damage of one load case: shares of 1/L10h and of 1/(a_iso L10h). */
static trn_status case_damage(const trn_bearing *b, double fr, double fa, double factor,
                              double omega, double cu, double a1, trn_bearing_row *row, bool first,
                              double damage[2], trn_trace *trace)
{
    double p = NAN;
    trn_status status = equivalent(b, fr, fa, &p, trace);
    if (status < 0)
        return status;
    trn_remark_status(&row->remarks, status);
    if (factor != 1)
        trn_working_life(TRN_STEP_BEARING_RIPPLE_LOAD, (double[]){p, factor}, trace);
    p *= factor;
    if (first) {
        row->fa_n = fa;
        row->p_n = p;
    }
    damage[0] = damage[1] = 0;
    if (!(p > 0) || !(omega > 0))
        return TRN_OK; /* no load, no damage */
    double in[] = {is_ball(b->kind) ? 0 : 1, b->C, p, omega};
    double out[2];
    status = trn_step(trace, TRN_STEP_BEARING_BASIC_LIFE, in, out);
    if (status < 0)
        return status;
    trn_remark_status(&row->remarks, status);
    double l10h = out[1];
    damage[0] = 1 / l10h;
    damage[1] = NAN;
    if (isnan(row->kappa) || isnan(row->e_c) || isnan(cu))
        return TRN_OK;
    double a_in[] = {is_ball(b->kind) ? TRN_LIFE_RADIAL_BALL : TRN_LIFE_RADIAL_ROLLER,
                     row->kappa, row->e_c * cu / p};
    trn_working_life(TRN_STEP_BEARING_STRESS_RATIO, (double[]){row->e_c, cu, p}, trace);
    status = trn_step(trace, TRN_STEP_BEARING_LIFE_FACTOR, a_in, out);
    if (status < 0)
        return status;
    trn_remark_status(&row->remarks, status);
    trn_working_life(TRN_STEP_BEARING_ADJUSTED_LIFE, (double[]){l10h, a1, out[0]}, trace);
    damage[1] = 1 / (out[0] * l10h);
    return TRN_OK;
}

/* The sums over the load cases, for a trace. */
static void note_cases(const trn_bearing_row *row, const trn_load_row *load,
                       double life[2][TRN_CASES_MAX], double a1, trn_trace *trace)
{
    if (isfinite(row->l10h_h))
        trn_working_sum(load->share, life[0], load->cases, trace);
    if (isfinite(row->l10h_h) && isfinite(row->lnmh_h)) {
        trn_working_sum(load->share, life[1], load->cases, trace);
        trn_working_life(TRN_STEP_BEARING_MEAN_FACTOR,
                         (double[]){row->lnmh_h, a1, row->l10h_h}, trace);
    }
}

static void evaluate_row(const trn_machine *m, const trn_results *r, size_t condition,
                         size_t bearing, double a1, const trn_cleanliness *clean,
                         trn_bearing_row *row, trn_trace *trace)
{
    const trn_bearing *b = &m->bearings[bearing];
    const trn_axle *axle = &m->axles[b->axle_index];
    size_t gearbox = axle->gearbox_index;
    const trn_joint_row *shaft =
        trn_results_joint(r, condition, m->gearboxes[gearbox].shaft_index);
    const trn_heat_row *heat = &r->heat[condition * m->gearboxes_count + gearbox];
    const trn_load_row *load = &r->loads[condition * m->bearings_count + bearing];
    const trn_load_row *mean = &r->loads_mean[condition * m->bearings_count + bearing];
    clear(row, condition, bearing);
    trn_trace_scope(trace, "life", m->duty[condition].condition, b->bearing);
    double omega = shaft->speed_rpm * trn_rpm * axle->ratio;
    row->speed_rpm = omega / trn_rpm;
    trn_remarks_join(&row->remarks, &load->remarks);
    lubrication(m, b, omega, heat, clean, row, trace);
    if (heat->low_oil)
        trn_remark_add(&row->remarks, TRN_M_LOW_OIL, NULL, 0);
    if (!load->known)
        return;
    row->fr_n = load->fr_n;
    if (mean->known)
        (void)equivalent(b, mean->fr_n, mean->fa_n[0], &row->p_mean_n, NULL);
    double factor = ripple_factor(shaft, b->kind, trace);
    if (shaft->rho > 1)
        trn_remark_add(&row->remarks, TRN_M_REVERSES, NULL, 0);
    if (shaft->near_resonance)
        trn_remark_add(&row->remarks, TRN_M_HANGS_ON_RESONANCE, NULL, 0);
    double cu = fatigue_limit(b, trace);
    double sum[2] = {0, 0};
    double life[2][TRN_CASES_MAX];
    for (size_t i = 0; i < load->cases; i++) {
        life[0][i] = life[1][i] = INFINITY;
        double damage[2];
        if (load->share[i] == 0 && i > 0)
            continue;
        trn_status status = case_damage(b, load->fr_n, load->fa_n[i], factor, omega, cu, a1, row,
                                        i == 0, damage, trace);
        if (status < 0) {
            trn_remark_status(&row->remarks, status);
            return;
        }
        life[0][i] = 1 / damage[0];
        life[1][i] = a1 / damage[1];
        if (load->share[i] > 0) {
            sum[0] += load->share[i] * damage[0];
            sum[1] += load->share[i] * damage[1];
        }
    }
    row->l10h_h = sum[0] > 0 ? 1 / sum[0] : INFINITY;
    row->lnmh_h = isnan(sum[1]) ? NAN : sum[1] > 0 ? a1 / sum[1] : INFINITY;
    if (isfinite(row->l10h_h) && isfinite(row->lnmh_h))
        row->a_iso = row->lnmh_h / (a1 * row->l10h_h);
    if (load->cases > 1)
        note_cases(row, load, life, a1, trace);
}

/* ---- over the duty -------------------------------------------------------------------------- */

static double over_duty(const trn_machine *m, const trn_results *r, size_t bearing, bool modified,
                        const char **unknown)
{
    double damage = 0;
    for (size_t i = 0; i < m->duty_count; i++) {
        const trn_bearing_row *row = &r->bearings[i * m->bearings_count + bearing];
        double life = modified ? row->lnmh_h : row->l10h_h;
        if (m->duty[i].share == 0)
            continue;
        if (isnan(life)) {
            if (!*unknown)
                *unknown = m->duty[i].condition;
            return NAN;
        }
        damage += m->duty[i].share / life;
    }
    return damage > 0 ? 1 / damage : INFINITY;
}

static void evaluate_all(const trn_machine *m, const trn_results *r, size_t bearing, double a1,
                         trn_bearing_row *row)
{
    clear(row, m->duty_count, bearing);
    const char *unknown = NULL;
    row->l10h_h = over_duty(m, r, bearing, false, &unknown);
    row->lnmh_h = over_duty(m, r, bearing, true, &unknown);
    if (isfinite(row->l10h_h) && isfinite(row->lnmh_h))
        row->a_iso = row->lnmh_h / (a1 * row->l10h_h);
    if (unknown)
        trn_remark_add(&row->remarks, TRN_M_DUTY_UNKNOWN, unknown, 0);
    for (size_t i = 0; i < m->duty_count; i++) {
        const trn_remarks *of = &r->bearings[i * m->bearings_count + bearing].remarks;
        static const trn_remark_id carried[] = {TRN_M_LOW_OIL, TRN_M_HANGS_ON_RESONANCE,
                                                TRN_M_REVERSES, TRN_M_OVER_LOCATED};
        for (size_t k = 0; k < sizeof carried / sizeof carried[0]; k++)
            if (trn_remark_has(of, carried[k]))
                trn_remark_add(&row->remarks, carried[k], NULL, 0);
    }
}

/* ---- a gearbox as a system ------------------------------------------------------------------ */

/* Systems of any number of parts: the rule is associative for one slope, eight at a time. */
static double system_life(const double *life, size_t n, trn_trace *trace)
{
    double whole = NAN;
    for (size_t i = 0; i < n;) {
        double in[9];
        size_t k = 0;
        if (!isnan(whole))
            in[k++] = whole;
        while (k < 8 && i < n)
            in[k++] = life[i++];
        while (k < 8)
            in[k++] = NAN;
        in[8] = 1.5;
        if (trn_step(trace, TRN_STEP_BEARING_SYSTEM_LIFE, in, &whole) < 0)
            return NAN;
    }
    return whole;
}

typedef struct parts {
    double basic[TRN_SYSTEM_PARTS_MAX], modified[TRN_SYSTEM_PARTS_MAX];
    size_t basic_n, modified_n, total, endless;
} parts;

static void collect(const trn_machine *m, const trn_results *r, size_t gearbox, parts *p,
                    trn_gearbox_row *row)
{
    double least = NAN;
    double least_basic = NAN;
    size_t weakest_basic = TRN_NONE;
    for (size_t i = 0; i < m->bearings_count; i++) {
        if (m->axles[m->bearings[i].axle_index].gearbox_index != gearbox)
            continue;
        const trn_bearing_row *all = &r->bearings[m->duty_count * m->bearings_count + i];
        p->total++;
        if (trn_remark_has(&all->remarks, TRN_M_LOW_OIL) &&
            !trn_remark_has(&row->remarks, TRN_M_LOW_OIL))
            trn_remark_add(&row->remarks, TRN_M_LOW_OIL, NULL, 0);
        if (!isnan(all->l10h_h) && isfinite(all->l10h_h) && p->basic_n < TRN_SYSTEM_PARTS_MAX)
            p->basic[p->basic_n++] = all->l10h_h;
        if (!isnan(all->lnmh_h)) {
            if (isfinite(all->lnmh_h) && p->modified_n < TRN_SYSTEM_PARTS_MAX)
                p->modified[p->modified_n++] = all->lnmh_h;
            else
                p->endless++;
            if (isnan(least) || all->lnmh_h < least) {
                least = all->lnmh_h;
                row->weakest = i;
            }
        } else {
            trn_remark_add(&row->remarks, TRN_M_WITHOUT, m->bearings[i].bearing, 0);
        }
        if (!isnan(all->l10h_h) && (isnan(least_basic) || all->l10h_h < least_basic)) {
            least_basic = all->l10h_h;
            weakest_basic = i;
        }
    }
    if (row->weakest == TRN_NONE)
        row->weakest = weakest_basic;
    row->l10h_h = isnan(least_basic) ? NAN : INFINITY;
    row->lnmh_h = isnan(least) ? NAN : INFINITY;
}

static void evaluate_gearbox(const trn_machine *m, const trn_results *r, size_t gearbox, double a1,
                             trn_gearbox_row *row, trn_trace *trace)
{
    *row = (trn_gearbox_row){
        .l10h_h = NAN, .lnmh_h = NAN, .reliability_pct = NAN, .lnmh_low_h = NAN,
        .lnmh_high_h = NAN, .reliability_low_pct = NAN, .reliability_high_pct = NAN,
        .weakest = TRN_NONE};
    trn_trace_scope(trace, "gearbox", "all", m->gearboxes[gearbox].gearbox);
    parts p = {.basic_n = 0};
    collect(m, r, gearbox, &p, row);
    if (p.total == 0) {
        trn_remark_add(&row->remarks, TRN_M_NO_BEARINGS, NULL, 0);
        return;
    }
    if (p.basic_n > 0)
        row->l10h_h = system_life(p.basic, p.basic_n, trace);
    if (p.modified_n > 0)
        row->lnmh_h = system_life(p.modified, p.modified_n, trace);
    if (p.modified_n + p.endless == 0)
        return;
    double survival = 1;
    for (size_t i = 0; i < p.modified_n; i++) {
        double in[] = {m->head.design_life, p.modified[i] / a1, NAN, NAN};
        double out[1];
        if (trn_step(NULL, TRN_STEP_BEARING_SURVIVAL, in, out) < 0)
            return;
        survival *= out[0];
    }
    row->reliability_pct = 100 * survival;
    trn_working_survival(m->head.design_life, a1, p.modified, p.modified_n, trace);
}

static double factor_of_reliability(const trn_machine *m, trn_trace *trace)
{
    double a1 = 1;
    double in[] = {m->head.reliability, NAN};
    return trn_step(trace, TRN_STEP_BEARING_RELIABILITY_FACTOR, in, &a1) < 0 ? NAN : a1;
}

trn_clean_damage trn_damage_when(const trn_machine *m, const trn_results *r, size_t bearing,
                                 const trn_cleanliness *clean)
{
    trn_clean_damage sum = {0, 0};
    double a1 = factor_of_reliability(m, NULL);
    for (size_t i = 0; i < m->duty_count; i++) {
        trn_bearing_row row;
        if (!(m->duty[i].share > 0))
            continue;
        evaluate_row(m, r, i, bearing, a1, clean, &row, NULL);
        sum.per_h += m->duty[i].share / row.lnmh_h;
        sum.l10_per_h += m->duty[i].share * a1 / row.lnmh_h;
    }
    return sum;
}

void trn_study_lives(const trn_machine *m, trn_results *r, trn_trace *trace)
{
    trn_trace_scope(trace, "reliability", "", "");
    double a1 = factor_of_reliability(m, trace);
    for (size_t g = 0; g < m->gearboxes_count; g++) {
        trn_cleanliness clean = trn_cleanliness_of(m, r, g, trace);
        for (size_t i = 0; i < m->duty_count; i++)
            for (size_t b = 0; b < m->bearings_count; b++)
                if (m->axles[m->bearings[b].axle_index].gearbox_index == g)
                    evaluate_row(m, r, i, b, a1, &clean, &r->bearings[i * m->bearings_count + b],
                                 trace);
    }
    for (size_t b = 0; b < m->bearings_count; b++) {
        evaluate_all(m, r, b, a1, &r->bearings[m->duty_count * m->bearings_count + b]);
        trn_working_duty(m, r, b, a1, trace);
    }
    for (size_t g = 0; g < m->gearboxes_count; g++)
        evaluate_gearbox(m, r, g, a1, &r->gearboxes[g], trace);
}
