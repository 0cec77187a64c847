/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Conditions that alternate within minutes: one oil temperature for all of them. */
#include <stdlib.h>

#include "heat_box.h"
#include "study.h"

size_t trn_alternates_of(const trn_machine *m, size_t i)
{
    size_t n = 0;
    for (size_t k = 0; k < m->duty_count; k++)
        n += trn_alternating(m, i, k);
    return n;
}

double trn_oil_given(const trn_machine *m, size_t condition)
{
    double own = m->duty[condition].oil_temperature;
    for (size_t k = 0; isnan(own) && k < m->duty_count; k++)
        if (trn_alternating(m, condition, k))
            own = m->duty[k].oil_temperature;
    return own;
}

/* ---- room --------------------------------------------------------------------------------- */

bool trn_heat_room_grow(trn_heat_room *room, size_t n)
{
    if (n <= room->room)
        return true;
    trn_balance_ready *ready = realloc(room->ready, n * sizeof *ready);
    if (ready)
        room->ready = ready;
    double *weight = realloc(room->weight, n * sizeof *weight);
    if (weight)
        room->weight = weight;
    if (!ready || !weight)
        return false;
    room->room = n;
    return true;
}

void trn_heat_room_free(trn_heat_room *room)
{
    if (!room)
        return;
    free(room->ready);
    free(room->weight);
    *room = (trn_heat_room){0};
}

/* ---- boxes -------------------------------------------------------------------------------- */

const trn_heat_as trn_heat_as_is = {NAN, NAN, 1};

trn_status trn_heat_box_as(const trn_machine *m, const trn_results *r, size_t condition,
                           size_t gearbox, const trn_heat_as *as, trn_heat_parts *parts,
                           trn_balance_box *box, trn_trace *trace)
{
    trn_status status = trn_heat_box(m, r, condition, gearbox, parts, box, trace);
    if (status < 0)
        return status;
    if (!isnan(as->T_air_k))
        box->T_air_k = as->T_air_k;
    if (!isnan(as->cooling_factor))
        box->cooling_factor = as->cooling_factor;
    if (as->power == 1)
        return status;
    for (size_t i = 0; i < box->mesh_count; i++)
        parts->meshes[i].power_w *= as->power;
    for (size_t i = 0; i < box->bearing_count; i++)
        for (size_t k = 0; k < parts->bearings[i].case_count; k++) {
            parts->bearings[i].cases[k].Fr_n *= as->power;
            parts->bearings[i].cases[k].Fa_n *= as->power;
        }
    box->power_w *= as->power;
    return status;
}

static double shares_of(const trn_machine *m, size_t condition)
{
    double sum = 0;
    for (size_t k = 0; k < m->duty_count; k++)
        if (trn_alternating(m, condition, k))
            sum += m->duty[k].share;
    return sum;
}

/* Weight of a condition in its group; 0: it is only along. */
static double weight_of(const trn_machine *m, size_t condition, double shares)
{
    return shares > 0 ? m->duty[condition].share : 1;
}

trn_status trn_heat_together(const trn_machine *m, const trn_results *r, size_t condition,
                             size_t gearbox, const trn_heat_as *as, trn_heat_room *room)
{
    trn_heat_parts parts;
    double shares = shares_of(m, condition);
    room->n = 0;
    if (!trn_heat_room_grow(room, trn_alternates_of(m, condition)))
        return TRN_E_MEMORY;
    for (size_t k = 0; k < m->duty_count; k++) {
        double weight = weight_of(m, k, shares);
        trn_balance_box box;
        if (!trn_alternating(m, condition, k) || !(weight > 0))
            continue;
        trn_status status = trn_heat_box_as(m, r, k, gearbox, as, &parts, &box, NULL);
        if (status >= 0)
            status = trn_balance_prepare(&box, &room->ready[room->n]);
        if (status < 0)
            return status;
        room->weight[room->n++] = weight;
    }
    return TRN_OK;
}

/* ---- notes -------------------------------------------------------------------------------- */

static trn_heat_shared add_share(const trn_balance_ready *ready, double weight,
                                 trn_balance_law law, double T_k, double cooling_factor,
                                 trn_heat_shared sum, trn_trace *trace)
{
    trn_balance_loss loss;
    trn_heat_path path;
    if (trn_balance_loss_at(ready, T_k, &loss) < 0 ||
        trn_heat_wall(&ready->surface, T_k, ready->T_air_k, &path) < 0)
        return sum;
    double churning = law == TRN_BALANCE_LOW    ? loss.churning_low_w
                      : law == TRN_BALANCE_HIGH ? loss.churning_high_w
                                                : loss.churning_w;
    bool first = sum.transfer_w_k == 0;
    double factor = cooling_factor > 0 ? cooling_factor : 1;
    double in[] = {first ? NAN : sum.heat_w, first ? NAN : sum.transfer_w_k,
                   first ? NAN : sum.T_air_k, weight,
                   loss.loss_w - loss.churning_w + churning, trn_balance_sun(ready, &path),
                   factor * path.k_w_m2k, ready->area_m2, ready->T_air_k};
    double out[TRN_OUTPUTS_MAX];
    if (trn_step(trace, TRN_STEP_HEAT_ADD_SHARE, in, out) < 0)
        return sum;
    return (trn_heat_shared){out[0], out[1], out[2]};
}

trn_heat_shared trn_heat_note_together(const trn_machine *m, size_t condition, size_t gearbox,
                                       const trn_heat_room *room, trn_balance_law law, double T_k,
                                       double cooling_factor, trn_trace *trace)
{
    trn_heat_shared sum = {0};
    double shares = shares_of(m, condition);
    size_t n = 0;
    for (size_t k = 0; k < m->duty_count && n < room->n; k++) {
        if (!trn_alternating(m, condition, k) || !(weight_of(m, k, shares) > 0))
            continue;
        trn_trace_scope(trace, "heat", m->duty[k].condition, m->gearboxes[gearbox].gearbox);
        sum = add_share(&room->ready[n], room->weight[n], law, T_k, cooling_factor, sum, trace);
        n++;
    }
    return sum;
}
