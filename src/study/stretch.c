/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Places between neighbouring rows of geometry.csv. */
#include "stretch.h"

#include <string.h>

#include "settings.h"
#include "study.h"

static double without_nan(double value)
{
    return isnan(value) ? 0 : value;
}

bool trn_place_of(const trn_geometry *g, trn_led by, trn_place *out)
{
    double length;
    double beta1;
    double beta2;
    if (trn_geometry_layout(g, &length, &beta1, &beta2, NULL) < 0)
        return false;
    out->length = length + by.length;
    out->angle = fmax(fabs(beta1) + by.in, fabs(beta2) + by.out);
    out->link_angle = g->link_angle;
    out->stop = g->layout == TRN_WING      ? g->tau
                : g->layout == TRN_DRAWBAR ? g->psi
                                           : length * sin(beta1);
    return true;
}

bool trn_stretch_place(const trn_stretch *s, double share, trn_place *out)
{
    trn_geometry g;
    trn_geometry_between(s->from, s->to, share, &g);
    trn_led by = {(1 - share) * s->at_from.length + share * s->at_to.length,
                  (1 - share) * s->at_from.in + share * s->at_to.in,
                  (1 - share) * s->at_from.out + share * s->at_to.out};
    return trn_place_of(&g, by, out);
}

static const trn_setting *setting_of(const trn_results *r, const trn_geometry *g)
{
    for (size_t i = 0; i < r->settings_count; i++)
        if (r->settings[i].shaft == g->shaft_index &&
            strcmp(r->settings[i].position, g->position) == 0)
            return &r->settings[i];
    return NULL;
}

trn_led trn_led_of(const trn_results *r, const trn_geometry *g)
{
    double length;
    double beta1;
    double beta2;
    const trn_setting *s = setting_of(r, g);
    if (!s || trn_geometry_layout(g, &length, &beta1, &beta2, NULL) < 0)
        return (trn_led){0, 0, 0};
    return (trn_led){without_nan(s->length_m - length), without_nan(s->angle_in_rad - fabs(beta1)),
                     without_nan(s->angle_out_rad - fabs(beta2))};
}

bool trn_position_powered(const trn_machine *m, const char *position)
{
    for (size_t i = 0; i < m->duty_count; i++)
        if (m->duty[i].position && strcmp(m->duty[i].position, position) == 0 &&
            m->duty[i].power > 0)
            return true;
    return false;
}

bool trn_row_turns(const trn_results *r, const trn_geometry *g)
{
    const trn_setting *s = setting_of(r, g);
    return s && s->pto_on;
}

/* The stretch that begins at a row: with the next row of the shaft, where it is of one layout. */
bool trn_stretch_from(const trn_results *r, size_t row, trn_stretch *out)
{
    const trn_machine *m = r->machine;
    const trn_geometry *from = &m->geometry[row];
    size_t next = row + 1;
    while (next < m->geometry_count && m->geometry[next].shaft_index != from->shaft_index)
        next++;
    if (next >= m->geometry_count || m->geometry[next].layout != from->layout ||
        trn_geometry_missing(from) || trn_geometry_missing(&m->geometry[next]))
        return false;
    const trn_geometry *to = &m->geometry[next];
    *out = (trn_stretch){
        .from = from, .to = to, .at_from = trn_led_of(r, from), .at_to = trn_led_of(r, to)};
    out->turns = trn_row_turns(r, from) && trn_row_turns(r, to);
    out->power = out->turns && trn_position_powered(m, from->position) &&
                 trn_position_powered(m, to->position);
    return true;
}
