/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Figures that look mistyped, and rows that are no measurements yet. The bounds are common
 * practice, no source: they ask a question and enter no result. */
#include <string.h>
#include <strings.h>
#include <trunnion/schema.h>
#include <trunnion/shaft.h>
#include <trunnion/starter.h>

#include "checkup_parts.h"
#include "study.h"

static void look(trn_checkup *checkup, const char *item, trn_buffer *text)
{
    trn_checkup_add(checkup, TRN_CHECKUP_FIGURES, TRN_CHECKUP_LOOK, item, text);
}

/* Ratings lie between some 3 and 60 N for each mm2 of outside2 - bore2, whatever the kind. */
static void check_rating(const trn_bearing *b, const char *name, double rating,
                         trn_checkup *checkup)
{
    static const double most = 300e6;
    static const double least = 0.3e6;
    double density = rating / (b->outside * b->outside - b->bore * b->bore);
    trn_buffer text = {0};
    if (!(density > most || density < least))
        return;
    trn_buffer_print(&text, "%s of %.10g kN is much too %s for %.4g x %.4g mm", name, rating / 1000,
                     density > most ? "high" : "low", 1000 * b->bore, 1000 * b->outside);
    trn_buffer_add(&text, density > most ? ": is it N, not kN?" : ": is the unit right?");
    look(checkup, b->bearing, &text);
}

static void check_bearings(const trn_machine *m, const trn_results *rated, trn_checkup *checkup)
{
    for (size_t i = 0; i < m->bearings_count; i++) {
        const trn_bearing *b = &m->bearings[i];
        double p = rated->bearings[i].p_n;
        check_rating(b, "C", b->C, checkup);
        check_rating(b, "C0", b->C0, checkup);
        if (p > b->C / 2) {
            trn_buffer text = {0};
            trn_buffer_print(&text,
                             "at rated power it carries P = %.3g kN, more than half of its C = "
                             "%.4g kN: are C, the stations and the hand of the gears right?",
                             p / 1000, b->C / 1000);
            look(checkup, b->bearing, &text);
        }
    }
    static const double most_of_cross = 1000e6; /* N/m2 of arm2; usual are some 20 N/mm2 */
    for (size_t i = 0; i < m->shafts_count; i++) {
        const trn_shaft *s = &m->shafts[i];
        if (s->cross_rating > most_of_cross * s->cross_arm * s->cross_arm) {
            trn_buffer text = {0};
            trn_buffer_print(&text, "cross_rating of %.10g kN is much too high for an arm of %.4g "
                                    "mm: is it N, not kN?",
                             s->cross_rating / 1000, 1000 * s->cross_arm);
            look(checkup, s->shaft, &text);
        }
    }
}

/* Power that enters a gearbox leaves its input axle through meshes and shafts attached to it. */
static void check_input_power(const trn_machine *m, size_t gearbox, trn_checkup *checkup)
{
    const trn_gearbox *g = &m->gearboxes[gearbox];
    double in = m->shafts[g->shaft_index].power_share;
    double sum = 0;
    size_t meshes = 0;
    for (size_t i = 0; i < m->gears_count; i++)
        if (m->gears[i].axle_index == g->input_axle && m->gears[i].driver) {
            sum += m->gears[i].power_share;
            meshes++;
        }
    if (meshes == 0 || !(in > 0))
        return;
    for (size_t i = 0; i < m->shafts_count; i++)
        if (m->shafts[i].from_axle == g->input_axle && m->shafts[i].from_gearbox == gearbox)
            sum += m->shafts[i].power_share / in;
    if (fabs(sum - 1) <= 0.001)
        return;
    trn_buffer text = {0};
    trn_buffer_print(&text,
                     "%.4g %% of what enters leaves its input axle again (meshes and shafts "
                     "attached to it); 100 %% is expected: see power_share in gears.csv and "
                     "shafts.csv",
                     100 * sum);
    look(checkup, g->gearbox, &text);
}

/* PTO stubs turn at 540 or 1000 r/min, some at half or twice the first. */
static void check_speed(const trn_machine *m, trn_checkup *checkup)
{
    static const double least_rpm = 200;
    static const double most_rpm = 1500;
    double rpm = m->head.pto_speed * 30 / 3.14159265358979323846;
    trn_buffer text = {0};
    if (rpm >= least_rpm && rpm <= most_rpm)
        return;
    trn_buffer_print(&text, "pto_speed of %.4g rpm: a PTO turns at 540 or 1000 rpm; is the point or "
                            "the unit right?",
                     rpm);
    look(checkup, "machine", &text);
}

/* Idling takes some per cent; less than this is W typed as kW, or the other way round. */
static bool too_little(double ratio)
{
    return ratio > 0 && ratio < 0.005;
}

/* A mean above one and a half times the rated power is the tractor's, or in another unit. */
static void check_powers(const trn_machine *m, trn_checkup *checkup)
{
    static const double most = 1.5;
    for (size_t i = 0; i < m->duty_count; i++) {
        double ratio = m->duty[i].power / m->head.rated_power;
        trn_buffer text = {0};
        if (too_little(ratio)) {
            trn_buffer_print(&text, "power of %.4g kW is %.2g %% of the rated %.4g kW: is the unit "
                                    "right?",
                             m->duty[i].power / 1000, 100 * ratio, m->head.rated_power / 1000);
            look(checkup, m->duty[i].condition, &text);
        }
        if (!(ratio > most))
            continue;
        trn_buffer_print(&text,
                         "power of %.4g kW is %.3g times the rated %.4g kW: is it the machine's "
                         "mean power, not the tractor's rating?",
                         m->duty[i].power / 1000, ratio, m->head.rated_power / 1000);
        look(checkup, m->duty[i].condition, &text);
    }
}

/* Torsion of the weaker tube at the largest torque of the duty with shock. Plain steel tube
 * yields at some 140 N/mm2 in shear: no shaft is built to work there. */
static void check_tubes(const trn_machine *m, const trn_results *r, trn_checkup *checkup)
{
    static const double most_pa = 120e6;
    static const double shear_modulus_pa = 80e9; /* any: the stress does not take it */
    for (size_t s = 0; s < m->shafts_count; s++) {
        const trn_shaft *shaft = &m->shafts[s];
        double most = 0;
        double tau = NAN;
        double twist = 0;
        double stiffness = 0;
        for (size_t i = 0; i < m->duty_count; i++)
            most = fmax(most, trn_results_joint(r, i, s)->torque_nm * m->duty[i].shock);
        if (trn_shaft_torsion(most, shaft->tube_outside, shaft->tube_bore, 1, shear_modulus_pa,
                              &tau, &twist, &stiffness) < 0 ||
            !(tau > most_pa))
            continue;
        trn_buffer text = {0};
        trn_buffer_print(&text,
                         "the tube of %.4g x %.4g mm is twisted with %.3g N/mm2 by %.4g N.m "
                         "(shock in it), more than plain steel bears: are tube_outside and "
                         "tube_bore of one tube, and the power right?",
                         1000 * shaft->tube_outside, 1000 * shaft->tube_bore, tau / 1e6, most);
        look(checkup, shaft->shaft, &text);
    }
}

/* Oil against the cube of the largest gear's outside diameter: boxes of the trade hold some 0.1
 * to 2 times that. */
static void check_oil(const trn_machine *m, size_t gearbox, trn_checkup *checkup)
{
    static const double least = 0.03;
    static const double most = 6;
    double largest = 0;
    for (size_t i = 0; i < m->gears_count; i++)
        if (m->axles[m->gears[i].axle_index].gearbox_index == gearbox)
            largest = fmax(largest, (m->gears[i].teeth + 2) * m->gears[i].module);
    double ratio = m->gearboxes[gearbox].oil_volume / (largest * largest * largest);
    trn_buffer text = {0};
    if (!(largest > 0) || (ratio >= least && ratio <= most))
        return;
    trn_buffer_print(&text,
                     "oil_volume of %.4g L is very %s for a largest gear of %.4g mm: is it L, of "
                     "this box alone, and are teeth and module right?",
                     1000 * m->gearboxes[gearbox].oil_volume, ratio > most ? "much" : "little",
                     1000 * largest);
    look(checkup, m->gearboxes[gearbox].gearbox, &text);
}

/* ---- conditions that should share one temperature ------------------------------------------ */

static bool named_so(const char *condition)
{
    static const char *const words[] = {"headland", "turn", "transport", "idl", "road"};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
        for (const char *p = condition; *p; p++)
            if (strncasecmp(p, words[i], strlen(words[i])) == 0)
                return true;
    return false;
}

/* A headland or transport row beside work: the box does not cool within one turn, so that the
 * balance of the short row alone is that of a box that nobody has. */
static void check_alternates(const trn_machine *m, trn_checkup *checkup)
{
    size_t work = TRN_NONE;
    if (m->gearboxes_count == 0)
        return;
    for (size_t i = 0; i < m->duty_count; i++)
        if (work == TRN_NONE ||
            m->duty[i].share * m->duty[i].power > m->duty[work].share * m->duty[work].power)
            work = i;
    for (size_t i = 0; i < m->duty_count; i++) {
        const trn_duty *d = &m->duty[i];
        trn_buffer text = {0};
        if (i == work || d->share == 0 || !named_so(d->condition) || d->alternates_with ||
            !isnan(d->oil_temperature) || d->power > m->duty[work].power / 2)
            continue;
        trn_buffer_print(&text,
                         "it comes and goes within the work, faster than a gearbox cools: alone it "
                         "gets a temperature that the box never has. Give it and the rows that it "
                         "alternates with, as `%s`, one word in the column alternates_with",
                         m->duty[work].condition);
        look(checkup, d->condition, &text);
    }
}

/* ---- rows of the example ------------------------------------------------------------------ */

/* Cell `note` of a row, "" where there is none. */
static const char *note_of(const trn_machine *m, const trn_table *table, size_t i)
{
    const trn_column *column = trn_column_find(table, "note");
    const char *note = NULL;
    if (column)
        memcpy(&note, (const char *)trn_table_row(m, table, i) + column->offset, sizeof note);
    return note ? note : "";
}

static void check_examples(const trn_machine *m, trn_checkup *checkup)
{
    trn_buffer text = {0};
    for (size_t t = 0; t < trn_table_count(); t++) {
        const trn_table *table = trn_table_at(t);
        size_t n = 0;
        for (size_t i = 0; i < trn_table_rows(m, table); i++)
            n += strncmp(note_of(m, table, i), trn_starter_mark, strlen(trn_starter_mark)) == 0;
        if (n > 0)
            trn_buffer_print(&text, "%s%s.csv (%zu)", text.length ? ", " : "", table->name, n);
    }
    if (text.length == 0)
        return;
    trn_buffer_print(&text, ": rows whose note begins with %s are those of the invented machine; "
                            "put your own in their place and take the mark away",
                     trn_starter_mark);
    look(checkup, "example rows", &text);
}

void trn_checkup_figures(const trn_results *r, const trn_results *rated, trn_checkup *checkup)
{
    const trn_machine *m = r->machine;
    check_examples(m, checkup);
    check_bearings(m, rated, checkup);
    check_speed(m, checkup);
    check_powers(m, checkup);
    check_tubes(m, r, checkup);
    for (size_t i = 0; i < m->gearboxes_count; i++) {
        if (m->gearboxes[i].input_axle != TRN_NONE)
            check_input_power(m, i, checkup);
        check_oil(m, i, checkup);
    }
    check_alternates(m, checkup);
    for (size_t i = 0; i < m->duty_count; i++)
        if (m->duty[i].share == 0) {
            trn_buffer text = {0};
            trn_buffer_add(&text, "its share is 0: it counts in no life and no interval");
            look(checkup, m->duty[i].condition, &text);
        }
}
