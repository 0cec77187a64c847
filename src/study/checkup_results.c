/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Joints, oil, bearings and intervals: which figures there are, and why others are not. */
#include <string.h>
#include <trunnion/choices.h>
#include <trunnion/interval_rows.h>

#include "checkup_parts.h"
#include "study.h"

/* A figure of a result row that a reader asks for by name. */
typedef struct figure {
    const char *name;
    size_t offset;
} figure;

enum { FIGURES_MAX = 8 };

static bool known(const figure *f, const void *row)
{
    double value = NAN;
    memcpy(&value, (const char *)row + f->offset, sizeof value);
    return !isnan(value);
}

static void add_name(trn_buffer *out, const char *name)
{
    trn_buffer_print(out, "%s%s", out->length ? ", " : "", name);
}

/* Counts of what is known, over the rows of one item. */
typedef struct tally {
    const figure *figures;
    size_t figure_count, rows, known[FIGURES_MAX];
} tally;

/* What is absent goes to g; what deserves a look to looks, about `subject` there. */
static void look_at(tally *t, trn_gathering *g, size_t subject, size_t condition, const void *row,
                    const trn_remarks *remarks, trn_gathering *looks, size_t looks_subject)
{
    trn_buffer absent = {0};
    t->rows++;
    for (size_t i = 0; i < t->figure_count; i++) {
        if (known(&t->figures[i], row))
            t->known[i]++;
        else
            add_name(&absent, t->figures[i].name);
    }
    if (absent.length > 0) {
        trn_buffer_add(&absent, ": ");
        size_t before = absent.length;
        trn_remarks_reasons(remarks, &absent);
        if (absent.length == before)
            trn_buffer_add(&absent, "an input is not known");
        trn_gather_text(g, TRN_CHECKUP_MISSING, subject, condition, &absent);
    } else {
        g->failed = g->failed || absent.failed;
    }
    trn_gather_looks(looks, looks_subject, condition, remarks);
}

/* What is known of a subject; subjects of which the same is known share a line. */
static void add_known(const tally *t, trn_gathering *g, size_t subject)
{
    trn_buffer text = {0};
    for (size_t i = 0; i < t->figure_count; i++) {
        if (t->known[i] == 0)
            continue;
        add_name(&text, t->figures[i].name);
        if (t->known[i] < t->rows)
            trn_buffer_add(&text, " (not everywhere)");
    }
    if (text.length > 0)
        trn_gather_text(g, TRN_CHECKUP_OK, subject, 0, &text);
    else
        g->failed = g->failed || text.failed;
}

/* ---- joints -------------------------------------------------------------------------------- */

/* Conditions of the duty, then the positions that none of them uses. */
static const char *joint_condition(const void *context, size_t i)
{
    const trn_results *r = context;
    const trn_machine *m = r->machine;
    if (i < m->duty_count)
        return m->duty[i].condition;
    return r->settings[i - m->duty_count].position;
}

/* Place of a setting among the conditions: that of the first of its position. */
static size_t setting_condition(const trn_results *r, size_t setting)
{
    size_t i = 0;
    while (strcmp(r->settings[i].position, r->settings[setting].position) != 0)
        i++;
    return r->machine->duty_count + i;
}

static const char *shaft_name(const void *context, size_t i)
{
    return ((const trn_results *)context)->machine->shafts[i].shaft;
}

static void add_fit(const trn_results *r, size_t shaft, trn_checkup *checkup)
{
    const trn_machine *m = r->machine;
    const trn_remarks *all = &r->joints[m->duty_count * m->shafts_count + shaft].remarks;
    trn_remarks fit = {.n = 0};
    trn_checkup_state state = TRN_CHECKUP_OK;
    for (size_t i = 0; i < all->n; i++) {
        trn_remark_role role = trn_remark_role_of(&all->v[i]);
        if (all->v[i].id == TRN_M_DUTY_UNKNOWN || all->v[i].id == TRN_M_UPPER_BOUND)
            continue;
        fit.v[fit.n++] = all->v[i];
        if (role == TRN_REMARK_REASON && state == TRN_CHECKUP_OK)
            state = TRN_CHECKUP_MISSING;
        if (role == TRN_REMARK_LOOK)
            state = TRN_CHECKUP_LOOK;
    }
    if (fit.n == 0)
        return;
    trn_buffer text = {0};
    trn_remarks_text(&fit, &text);
    trn_checkup_add(checkup, TRN_CHECKUP_JOINTS, state, m->shafts[shaft].shaft, &text);
}

static void add_joints(const trn_results *r, trn_checkup *checkup)
{
    static const figure figures[] = {
        {"speed and torque", offsetof(trn_joint_row, torque_nm)},
        {"joint angles", offsetof(trn_joint_row, angle_in_deg)},
        {"uneven running", offsetof(trn_joint_row, fluctuation_pct)},
        {"torque ripple", offsetof(trn_joint_row, ripple_nm)},
        {"couples on the bearings", offsetof(trn_joint_row, couple_in_nm)},
        {"lives of the crosses", offsetof(trn_joint_row, life_in_h)},
    };
    const trn_machine *m = r->machine;
    trn_gathering ok = {.subjects = m->shafts_count, .conditions = 1, .subject = shaft_name,
                        .context = r};
    trn_gathering looks = {.subjects = m->shafts_count,
                           .conditions = m->duty_count + r->settings_count,
                           .subject = shaft_name, .condition = joint_condition, .context = r};
    for (size_t s = 0; s < m->shafts_count; s++) {
        tally t = {.figures = figures, .figure_count = sizeof figures / sizeof figures[0]};
        trn_gathering g = {.subjects = 1, .conditions = m->duty_count + r->settings_count,
                           .subject = shaft_name, .condition = joint_condition, .context = r};
        for (size_t i = 0; i < m->duty_count; i++) {
            const trn_joint_row *row = trn_results_joint(r, i, s);
            look_at(&t, &g, 0, i, row, &row->remarks, &looks, s);
        }
        for (size_t i = trn_unused_rows(m); i < r->joints_count; i++)
            if (r->joints[i].shaft == s)
                trn_gather_looks(&looks, s, setting_condition(r, r->joints[i].setting),
                                 &r->joints[i].remarks);
        add_known(&t, &ok, s);
        trn_gathering_write(&g, TRN_CHECKUP_JOINTS, m->shafts[s].shaft, checkup);
        add_fit(r, s, checkup);
    }
    trn_gathering_write(&ok, TRN_CHECKUP_JOINTS, NULL, checkup);
    trn_gathering_write(&looks, TRN_CHECKUP_JOINTS, NULL, checkup);
}

/* ---- oil ----------------------------------------------------------------------------------- */

static const char *duty_condition(const void *context, size_t i)
{
    return ((const trn_results *)context)->machine->duty[i].condition;
}

static const char *gearbox_name(const void *context, size_t i)
{
    return ((const trn_results *)context)->machine->gearboxes[i].gearbox;
}

static void add_oil(const trn_results *r, trn_checkup *checkup)
{
    static const figure figures[] = {
        {"power losses", offsetof(trn_heat_row, loss_w)},
        {"oil temperature", offsetof(trn_heat_row, oil_temperature_c)},
        {"viscosity", offsetof(trn_heat_row, viscosity_mm2s)},
    };
    const trn_machine *m = r->machine;
    trn_gathering ok = {.subjects = m->gearboxes_count, .conditions = 1, .subject = gearbox_name,
                        .context = r};
    trn_gathering looks = {.subjects = m->gearboxes_count, .conditions = m->duty_count,
                           .subject = gearbox_name, .condition = duty_condition, .context = r};
    for (size_t k = 0; k < m->gearboxes_count; k++) {
        tally t = {.figures = figures, .figure_count = sizeof figures / sizeof figures[0]};
        trn_gathering g = {.subjects = 1, .conditions = m->duty_count, .subject = gearbox_name,
                           .condition = duty_condition, .context = r};
        for (size_t i = 0; i < m->duty_count; i++) {
            const trn_heat_row *row = &r->heat[i * m->gearboxes_count + k];
            look_at(&t, &g, 0, i, row, &row->remarks, &looks, k);
        }
        add_known(&t, &ok, k);
        if (r->cooling[k].used > 0) {
            trn_buffer text = {0};
            trn_buffer_print(&text, "cooling factor %.3g from %zu reading%s", r->cooling[k].factor,
                             r->cooling[k].used, r->cooling[k].used == 1 ? "" : "s");
            bool disagree = r->cooling[k].factor < trn_choice_value(TRN_CHOICE_COOLING_LOW) ||
                            r->cooling[k].factor > trn_choice_value(TRN_CHOICE_COOLING_HIGH);
            if (disagree)
                trn_buffer_print(&text, ": power, area, level or reading do not agree (a skin "
                                        "reading on bare metal is far too low)");
            trn_checkup_add(checkup, TRN_CHECKUP_OIL,
                            disagree ? TRN_CHECKUP_LOOK : TRN_CHECKUP_OK, m->gearboxes[k].gearbox,
                            &text);
        }
        trn_gathering_write(&g, TRN_CHECKUP_OIL, m->gearboxes[k].gearbox, checkup);
    }
    trn_gathering_write(&ok, TRN_CHECKUP_OIL, NULL, checkup);
    trn_gathering_write(&looks, TRN_CHECKUP_OIL, NULL, checkup);
}

/* ---- bearings ------------------------------------------------------------------------------ */

static const char *bearing_name(const void *context, size_t i)
{
    return ((const trn_results *)context)->machine->bearings[i].bearing;
}

static bool in_gearbox(const trn_machine *m, size_t bearing, size_t gearbox)
{
    return m->axles[m->bearings[bearing].axle_index].gearbox_index == gearbox;
}

/* ok: by gearbox; looks: by bearing, of all boxes */
static void add_bearings_of(const trn_results *r, size_t gearbox, trn_gathering *ok,
                            trn_gathering *looks, trn_checkup *checkup)
{
    static const figure figures[] = {
        {"loads", offsetof(trn_bearing_row, p_n)},
        {"life from load alone (L10h)", offsetof(trn_bearing_row, l10h_h)},
        {"life with oil and dirt (Lnmh)", offsetof(trn_bearing_row, lnmh_h)},
    };
    const trn_machine *m = r->machine;
    const char *name = m->gearboxes[gearbox].gearbox;
    tally t = {.figures = figures, .figure_count = sizeof figures / sizeof figures[0]};
    trn_gathering g = {.subjects = m->bearings_count, .conditions = m->duty_count,
                       .subject = bearing_name, .condition = duty_condition, .context = r};
    for (size_t b = 0; b < m->bearings_count; b++)
        for (size_t i = 0; in_gearbox(m, b, gearbox) && i < m->duty_count; i++) {
            const trn_bearing_row *row = &r->bearings[i * m->bearings_count + b];
            look_at(&t, &g, b, i, row, &row->remarks, looks, b);
        }
    add_known(&t, ok, gearbox);
    trn_gathering_write(&g, TRN_CHECKUP_BEARINGS, name, checkup);
    if (t.rows == 0) {
        trn_buffer text = {0};
        trn_buffer_add(&text, "lives: ");
        trn_remarks_reasons(&r->gearboxes[gearbox].remarks, &text);
        trn_checkup_add(checkup, TRN_CHECKUP_BEARINGS, TRN_CHECKUP_MISSING, name, &text);
    }
}

static void add_bearings(const trn_results *r, trn_checkup *checkup)
{
    const trn_machine *m = r->machine;
    trn_gathering ok = {.subjects = m->gearboxes_count, .conditions = 1, .subject = gearbox_name,
                        .context = r};
    trn_gathering looks = {.subjects = m->bearings_count, .conditions = m->duty_count,
                           .subject = bearing_name, .condition = duty_condition, .context = r};
    for (size_t g = 0; g < m->gearboxes_count; g++)
        add_bearings_of(r, g, &ok, &looks, checkup);
    trn_gathering_write(&ok, TRN_CHECKUP_BEARINGS, NULL, checkup);
    trn_gathering_write(&looks, TRN_CHECKUP_BEARINGS, NULL, checkup);
}

void trn_checkup_results(const trn_results *r, trn_checkup *checkup)
{
    add_joints(r, checkup);
    add_oil(r, checkup);
    add_bearings(r, checkup);
}

/* ---- intervals ------------------------------------------------------------------------------ */

static const char *point_name(const void *context, size_t i)
{
    return ((const trn_results *)context)->machine->points[i].point;
}

static void add_causes(unsigned bits, trn_buffer *out)
{
    bool first = true;
    for (unsigned c = 0; c < TRN_LIMITS; c++)
        if (bits & TRN_BIT(c)) {
            trn_buffer_print(out, "%s%s", first ? "" : ", ", trn_cause_word((trn_cause)c));
            first = false;
        }
}

static void gather_left_out(trn_gathering *g, size_t point, const trn_nominal *n)
{
    trn_buffer text = {0};
    if (n->assumed) {
        trn_buffer_add(&text, "not known and taken as at the manual's reference: ");
        add_causes(n->assumed, &text);
        trn_gather_text(g, TRN_CHECKUP_MISSING, point, 0, &text);
    }
    for (unsigned c = 0; c < TRN_LIMITS; c++)
        if (isnan(n->limit[c].life_h) && n->limit[c].why > 0) {
            trn_buffer_print(&text, "%s left out: %s", trn_cause_word((trn_cause)c),
                             trn_status_text(n->limit[c].why));
            trn_gather_text(g, TRN_CHECKUP_MISSING, point, 0, &text);
        }
    for (size_t i = 0; i < n->remark_count; i++) {
        trn_remark remark = {.id = TRN_M_STATUS, .status = n->remarks[i]};
        if (trn_remark_role_of(&remark) != TRN_REMARK_REASON)
            continue;
        trn_buffer_add(&text, trn_status_text(n->remarks[i]));
        trn_gather_text(g, TRN_CHECKUP_MISSING, point, 0, &text);
    }
}

void trn_checkup_intervals(const trn_results *r, trn_checkup *checkup)
{
    const trn_machine *m = r->machine;
    trn_gathering g = {
        .subjects = m->points_count, .conditions = 1, .subject = point_name, .context = r};
    for (size_t i = 0; i < m->points_count; i++) {
        const trn_point_row *row = &r->points[i];
        trn_buffer text = {0};
        if (isnan(row->recommended_h)) {
            trn_buffer_add(&text, row->reason);
            trn_gather_text(&g, TRN_CHECKUP_MISSING, i, 0, &text);
            continue;
        }
        unsigned from = row->nominal.use & ~row->nominal.assumed;
        if (from) {
            trn_buffer_add(&text, "worked out from ");
            add_causes(from, &text);
        } else {
            trn_buffer_add(&text, "the manual's interval; nothing is known that shortens it");
        }
        trn_gather_text(&g, TRN_CHECKUP_OK, i, 0, &text);
    }
    for (size_t i = 0; i < m->points_count; i++)
        if (!isnan(r->points[i].recommended_h)) {
            gather_left_out(&g, i, &r->points[i].nominal);
            trn_gather_looks(&g, i, 0, &r->points[i].remarks);
        }
    trn_gathering_write(&g, TRN_CHECKUP_INTERVALS, NULL, checkup);
}
