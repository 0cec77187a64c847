/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Temperatures read at the gearboxes: what each says of the heat transfer, and the factor of a
 * box from all of its readings. */
#include <math.h>
#include <stdint.h>
#include <trunnion/choices.h>
#include <trunnion/schema.h>

#include "../ground/root.h"
#include "heat_box.h"
#include "study.h"

/* One reading while it is worked out. */
typedef struct reading {
    const trn_machine *m; /* as read */
    const trn_reading *row;
    const trn_heat_room *room;
    double rise_k;
    double low, high; /* of the factor */
} reading;

/* What the balance of a reading holds at an oil temperature. */
typedef struct taken {
    double loss_w, sun_w, transfer_w_k; /* means over the group */
    double factor, time_constant_s;
    trn_status status; /* of the factor */
} taken;

static trn_status take(const reading *d, double T_k, taken *t)
{
    double weights = 0;
    *t = (taken){.factor = NAN, .time_constant_s = NAN};
    for (size_t i = 0; i < d->room->n; i++) {
        const trn_balance_ready *ready = &d->room->ready[i];
        double weight = d->room->weight[i];
        trn_balance_loss loss;
        trn_heat_path path;
        trn_status status = trn_balance_loss_at(ready, T_k, &loss);
        if (status >= 0)
            status = trn_heat_wall(&ready->surface, T_k, ready->T_air_k, &path);
        if (status < 0)
            return status;
        t->loss_w += weight * loss.loss_w;
        t->sun_w += weight * trn_balance_sun(ready, &path);
        t->transfer_w_k += weight * path.k_w_m2k * ready->area_m2;
        weights += weight;
    }
    t->loss_w /= weights;
    t->sun_w /= weights;
    t->transfer_w_k /= weights;
    t->status = trn_heat_cooling_factor(t->loss_w, t->sun_w, t->transfer_w_k, 1, T_k,
                                        d->row->ambient, d->low, d->high, &t->factor);
    return t->status;
}

/* Time constant of the balance with the factor that this temperature gives: it is the root then. */
static trn_status take_with_time(const reading *d, double T_k, taken *t)
{
    trn_status status = take(d, T_k, t);
    if (status < 0)
        return status;
    for (size_t i = 0; i < d->room->n; i++)
        d->room->ready[i].cooling_factor = t->factor;
    trn_balance_mix mix = {d->room->ready, d->room->n > 1 ? d->room->weight : NULL, d->room->n};
    t->time_constant_s = trn_balance_mix_time(&mix, T_k);
    return status;
}

/* Oil at the stop as it follows from a trial of itself, less the trial. */
static double stop_less_trial(double T_k, void *context)
{
    const reading *d = context;
    taken t;
    double T = NAN;
    if (take_with_time(d, T_k, &t) < 0 || !(t.time_constant_s > 0))
        return NAN;
    (void)trn_heat_oil_at_stop(d->row->temperature, d->rise_k, d->row->ambient, d->row->stopped,
                               t.time_constant_s, &T);
    return T - T_k;
}

static trn_status oil_at_stop(const reading *d, double *T_k)
{
    double least = d->row->temperature + d->rise_k;
    if (d->row->stopped == 0) {
        *T_k = least;
        return TRN_OK;
    }
    double most = least;
    for (size_t i = 0; i < 40 && stop_less_trial(most, (void *)(uintptr_t)d) > 0; i++)
        most += 10;
    if (!(stop_less_trial(most, (void *)(uintptr_t)d) <= 0))
        return TRN_E_CONVERGE;
    if (most == least) {
        *T_k = least;
        return TRN_OK;
    }
    return trn_root_between(stop_less_trial, (void *)(uintptr_t)d, least, most, 1e-10, T_k);
}

/* Used, or why not. */
static void judge(const reading *d, const taken *t, trn_reading_row *row)
{
    double settled = trn_choice_value(TRN_CHOICE_SETTLED);
    const char *condition = d->row->condition;
    double minutes = d->row->running / 60;
    row->used = true;
    if (isnan(minutes) || isnan(t->time_constant_s)) {
        trn_remark_add(&row->remarks, TRN_M_READ_UNSETTLED, condition, 0);
    } else if (d->row->running < settled * t->time_constant_s * (1 - 1e-9)) {
        row->used = false;
        trn_remark_add2(&row->remarks, TRN_M_READ_SHORT, condition, minutes,
                        t->time_constant_s / 60);
        return;
    }
    if (d->row->stopped > t->time_constant_s)
        trn_remark_add(&row->remarks, TRN_M_READ_LONG_STOP, condition, 0);
    if (t->status > 0)
        trn_remark_status(&row->remarks, t->status);
}

static void work_out(const trn_machine *m, const trn_results *loads, const trn_reading *in,
                     trn_heat_room *room, trn_reading_row *row)
{
    reading d = {.m = m,
                 .row = in,
                 .room = room,
                 .rise_k = in->where == TRN_READ_SKIN ? trn_choice_value(TRN_CHOICE_SKIN_RISE) : 0,
                 .low = trn_choice_value(TRN_CHOICE_COOLING_LOW),
                 .high = trn_choice_value(TRN_CHOICE_COOLING_HIGH)};
    trn_heat_as as = {.T_air_k = in->ambient, .cooling_factor = 0, .power = 1};
    trn_status status =
        trn_heat_together(m, loads, in->duty_index, in->gearbox_index, &as, room);
    bool no_area = status >= 0 && isnan(room->ready[0].area_m2);
    if (status < 0 || no_area) {
        trn_remark_add(&row->remarks, TRN_M_READ_FAILED, in->condition, 0);
        return;
    }
    if (in->stopped > 0 && isnan(room->ready[0].capacity_j_k)) {
        trn_remark_add(&row->remarks, TRN_M_READ_STOP, in->condition, 0);
        return;
    }
    double T_k = NAN;
    taken t;
    if (oil_at_stop(&d, &T_k) < 0 || take_with_time(&d, T_k, &t) < 0) {
        trn_remark_add(&row->remarks, TRN_M_READ_FAILED, in->condition, 0);
        return;
    }
    row->oil_c = T_k - 273.15;
    row->loss_w = t.loss_w;
    row->sun_w = t.sun_w;
    row->transfer_w_k = t.transfer_w_k;
    row->time_constant_min = t.time_constant_s / 60;
    row->cooling_factor = t.factor;
    judge(&d, &t, row);
}

/* ---- notes -------------------------------------------------------------------------------- */

enum { NOTED = 16 }; /* as many as heat.cooling_mean takes */
static const char *const variants[NOTED] = {
    "read1", "read2",  "read3",  "read4",  "read5",  "read6",  "read7",  "read8",
    "read9", "read10", "read11", "read12", "read13", "read14", "read15", "read16"};

static void note_losses(const trn_machine *m, const trn_results *loads, const trn_reading *in,
                        double T_k, const char *variant, trn_trace *trace)
{
    trn_heat_parts parts;
    trn_balance_box box;
    trn_balance_ready ready;
    trn_heat_as as = {.T_air_k = in->ambient, .cooling_factor = 0, .power = 1};
    for (size_t k = 0; k < m->duty_count; k++) {
        if (!trn_alternating(m, in->duty_index, k))
            continue;
        trn_trace_scope(trace, "heat", m->duty[k].condition, in->gearbox);
        if (trn_heat_box_as(m, loads, k, in->gearbox_index, &as, &parts, &box, NULL) >= 0 &&
            trn_balance_prepare(&box, &ready) >= 0)
            trn_balance_note_reading(&box, &ready, T_k, variant, trace);
    }
}

/* Time constant by which the oil is led back to the stop: that of the balance at the stop, with
 * the factor of the reading. */
static void note_time(const trn_machine *m, const trn_results *loads, const trn_reading *in,
                      size_t condition, double time_constant_s, trn_trace *trace)
{
    trn_heat_parts parts;
    trn_balance_box box;
    trn_balance_ready ready;
    if (in->stopped > 0 && time_constant_s > 0 &&
        trn_heat_box_as(m, loads, condition, in->gearbox_index, &trn_heat_as_is, &parts, &box,
                        NULL) >= 0 &&
        trn_balance_prepare(&box, &ready) >= 0)
        trn_balance_note_time(&box, ready.capacity_j_k / time_constant_s, trace);
}

/* The chain of a reading: time constant, oil at the stop, losses at it, factor. */
static void note_reading(const trn_machine *m, const trn_results *loads, const trn_reading *in,
                         const trn_reading_row *row, const char *variant, trn_heat_room *room,
                         trn_trace *trace)
{
    double T_k = row->oil_c + 273.15;
    double rise = in->where == TRN_READ_SKIN ? trn_choice_value(TRN_CHOICE_SKIN_RISE) : 0;
    double low = trn_choice_value(TRN_CHOICE_COOLING_LOW);
    double high = trn_choice_value(TRN_CHOICE_COOLING_HIGH);
    double out[TRN_OUTPUTS_MAX];
    trn_heat_as as = {.T_air_k = in->ambient, .cooling_factor = 0, .power = 1};
    if (trn_heat_together(m, loads, in->duty_index, in->gearbox_index, &as, room) < 0)
        return;
    trn_trace_variant(trace, variant);
    for (size_t k = 0; k < m->duty_count; k++)
        if (trn_alternating(m, in->duty_index, k)) {
            trn_trace_scope(trace, "heat", m->duty[k].condition, in->gearbox);
            note_time(m, loads, in, k, row->time_constant_min * 60, trace);
            (void)trn_step(trace, TRN_STEP_HEAT_OIL_AT_STOP,
                           (double[]){in->temperature, rise, in->ambient, in->stopped,
                                      in->stopped > 0 ? row->time_constant_min * 60 : NAN},
                           out);
        }
    note_losses(m, loads, in, T_k, variant, trace);
    trn_trace_variant(trace, variant);
    if (room->n > 1) {
        trn_heat_shared sum = trn_heat_note_together(m, in->duty_index, in->gearbox_index, room,
                                                     TRN_BALANCE_CENTRAL, T_k, 0, trace);
        (void)trn_step(trace, TRN_STEP_HEAT_SHARED_FACTOR,
                       (double[]){sum.heat_w, sum.transfer_w_k, T_k, in->ambient, low, high}, out);
    } else {
        trn_trace_scope(trace, "heat", in->condition, in->gearbox);
        double k = row->transfer_w_k / room->ready[0].area_m2;
        (void)trn_step(trace, TRN_STEP_HEAT_COOLING_FACTOR,
                       (double[]){row->loss_w, row->sun_w, k, room->ready[0].area_m2, T_k,
                                  in->ambient, low, high},
                       out);
    }
    trn_trace_variant(trace, NULL);
}

static void note_box(const trn_machine *m, const trn_results *loads, const trn_results *r,
                     size_t gearbox, trn_heat_room *room, trn_trace *trace)
{
    double in[TRN_INPUTS_MAX];
    double out[TRN_OUTPUTS_MAX];
    const trn_reading *last = NULL;
    size_t n = 0;
    for (size_t i = 0; i < NOTED; i++)
        in[i] = NAN;
    for (size_t i = 0; i < r->machine->readings_count && n < NOTED; i++) {
        const trn_reading *d = &r->machine->readings[i];
        if (d->gearbox_index != gearbox || !r->readings[i].used)
            continue;
        note_reading(m, loads, d, &r->readings[i], variants[n], room, trace);
        in[n++] = r->readings[i].cooling_factor;
        last = d;
    }
    if (n < 2)
        return;
    trn_trace_variant(trace, "read");
    trn_trace_scope(trace, "heat", last->condition, last->gearbox);
    (void)trn_step(trace, TRN_STEP_HEAT_COOLING_MEAN, in, out);
    trn_trace_variant(trace, NULL);
}

/* ---- all of them -------------------------------------------------------------------------- */

/* Readings belong to the machine as it was read: how a changed copy would run is no matter of what
 * the thermometer showed. Its loads are worked out once. */
static const trn_results *loads_as_read(const trn_machine *m, trn_results *r)
{
    if (!m->origin)
        return r;
    if (!r->as_read) {
        r->as_read = trn_results_new(m->origin);
        if (!r->as_read)
            return NULL;
        r->as_read->machine = m->origin;
        trn_study_joints(m->origin, r->as_read, NULL);
        trn_study_loads(m->origin, r->as_read, NULL);
    }
    return r->as_read;
}

static void mean_of_box(const trn_machine *m, trn_results *r, size_t gearbox)
{
    trn_cooling *c = &r->cooling[gearbox];
    double sum = 0;
    *c = (trn_cooling){0};
    for (size_t i = 0; i < m->readings_count; i++) {
        const trn_reading_row *row = &r->readings[i];
        if (m->readings[i].gearbox_index != gearbox || !row->used)
            continue;
        sum += log(row->cooling_factor);
        c->used++;
        for (size_t k = 0; k < row->remarks.n; k++)
            c->disagree = c->disagree || row->remarks.v[k].status == TRN_R_HEAT_DISAGREE;
    }
    if (c->used > 0)
        c->factor = exp(sum / (double)c->used);
}

/* Cells that an override has set: the chain of a reading would not be that of this machine. */
static bool as_read(const trn_machine *m)
{
    for (size_t i = 0; i < trn_table_count(); i++)
        for (size_t k = 0; k < trn_table_rows(m, trn_table_at(i)); k++)
            if (((const trn_row *)trn_table_row(m, trn_table_at(i), k))->changed)
                return false;
    return !m->head.row.changed;
}

void trn_study_cooling(const trn_machine *m, trn_results *r, trn_trace *trace)
{
    for (size_t g = 0; g < m->gearboxes_count; g++)
        r->cooling[g] = (trn_cooling){0};
    if (m->readings_count == 0)
        return;
    const trn_results *loads = loads_as_read(m, r);
    for (size_t i = 0; i < m->readings_count; i++) {
        r->readings[i] = (trn_reading_row){.reading = i, .oil_c = NAN, .loss_w = NAN,
                                           .sun_w = NAN, .transfer_w_k = NAN,
                                           .time_constant_min = NAN, .cooling_factor = NAN};
        if (loads)
            work_out(loads->machine, loads, &m->readings[i], r->room, &r->readings[i]);
        else
            trn_remark_status(&r->readings[i].remarks, TRN_E_MEMORY);
    }
    for (size_t g = 0; g < m->gearboxes_count; g++) {
        mean_of_box(m, r, g);
        if (trace && loads && r->cooling[g].used > 0 && as_read(m))
            note_box(loads->machine, loads, r, g, r->room, trace);
    }
}
