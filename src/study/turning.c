/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What would have to be otherwise for the manual's interval to stand, one quantity at a time. */
#include <math.h>
#include <trunnion/clock.h>

const char *trn_turn_name(trn_turn_id id)
{
    static const char *const names[] = {
#define TRN_X(id, name, unit) name,
        TRN_TURN_LIST(TRN_X)
#undef TRN_X
    };
    return (unsigned)id < TRN_TURNS ? names[id] : "";
}

const char *trn_turn_unit(trn_turn_id id)
{
    static const char *const units[] = {
#define TRN_X(id, name, unit) unit,
        TRN_TURN_LIST(TRN_X)
#undef TRN_X
    };
    return (unsigned)id < TRN_TURNS ? units[id] : "";
}

double trn_turn_used(trn_turn_id id, const trn_service_point *point)
{
    switch (id) {
    case TRN_TURN_DUST:
    case TRN_TURN_POWER:
    case TRN_TURN_WASHES:
    case TRN_TURN_SHOCK: return 1;
    case TRN_TURN_OIL_TEMPERATURE: return 0;
    case TRN_TURN_REF_DUST: return point->ref_dust_mg_m3;
    case TRN_TURN_REF_SHOCK: return point->ref_shock;
    case TRN_TURN_REF_TEMPERATURE: return point->ref_temperature_c;
    case TRN_TURN_REF_LOAD: return point->ref_load;
    case TRN_TURN_REF_ANGLE: return point->ref_angle_deg;
    case TRN_TURN_REF_SPEED: return point->ref_speed_rpm;
    case TRN_TURNS: break;
    }
    return NAN;
}

static bool any_load(const trn_duty_state *states, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (states[i].share > 0 && states[i].load_pc >= 0)
            return true;
    return false;
}

bool trn_turn_acts(trn_turn_id id, const trn_service_point *point, const trn_duty_state *states,
                   size_t n)
{
    unsigned acts = trn_grease_factors_of(point->task);
    bool oil = point->task == TRN_TASK_CHANGE_OIL;
    bool shock = (acts & TRN_BIT(TRN_CAUSE_SHOCK)) != 0;
    bool heat = (acts & TRN_BIT(TRN_CAUSE_HEAT)) != 0;
    bool load = (acts & TRN_BIT(TRN_CAUSE_LOAD)) != 0;
    bool motion = (acts & TRN_BIT(TRN_CAUSE_MOTION)) != 0;
    if (trn_task_stands(point->task))
        return false;
    switch (id) {
    case TRN_TURN_DUST:
    case TRN_TURN_REF_DUST: return oil || (acts & TRN_BIT(TRN_CAUSE_DUST)) != 0;
    case TRN_TURN_POWER:
        return oil || (load && any_load(states, n)) || (heat && point->at_oil_temperature);
    case TRN_TURN_WASHES: return oil;
    case TRN_TURN_SHOCK:
    case TRN_TURN_REF_SHOCK: return shock;
    case TRN_TURN_OIL_TEMPERATURE: return oil || (heat && point->at_oil_temperature);
    case TRN_TURN_REF_TEMPERATURE: return oil || heat;
    case TRN_TURN_REF_LOAD: return load && any_load(states, n);
    case TRN_TURN_REF_ANGLE:
    case TRN_TURN_REF_SPEED: return motion;
    case TRN_TURNS: break;
    }
    return false;
}

static void apply_to_state(trn_turn_id id, double v, trn_duty_state *s)
{
    switch (id) {
    case TRN_TURN_DUST: s->dust_mg_m3 *= v; break;
    case TRN_TURN_POWER:
        s->load_ratio *= v;
        s->load_pc *= v;
        break;
    case TRN_TURN_WASHES: s->washes_per_100h *= v; break;
    case TRN_TURN_SHOCK: s->shock = s->shock * v < 1 ? 1 : s->shock * v; break;
    case TRN_TURN_OIL_TEMPERATURE:
        s->oil_c += v;
        if (s->oil_c < s->ambient_c)
            s->oil_c = s->ambient_c;
        break;
    default: break;
    }
}

void trn_turn_apply(trn_turn_id id, double v, const trn_service_point *point,
                    const trn_duty_state *states, size_t n, trn_service_point *point_out,
                    trn_duty_state *states_out)
{
    *point_out = *point;
    for (size_t i = 0; i < n; i++) {
        states_out[i] = states[i];
        apply_to_state(id, v, &states_out[i]);
    }
    switch (id) {
    case TRN_TURN_REF_DUST: point_out->ref_dust_mg_m3 = v; break;
    case TRN_TURN_REF_SHOCK: point_out->ref_shock = v; break;
    case TRN_TURN_REF_TEMPERATURE: point_out->ref_temperature_c = v; break;
    case TRN_TURN_REF_LOAD: point_out->ref_load = v; break;
    case TRN_TURN_REF_ANGLE: point_out->ref_angle_deg = v; break;
    case TRN_TURN_REF_SPEED: point_out->ref_speed_rpm = v; break;
    default: break;
    }
}

/* ---- search ------------------------------------------------------------------------------- */

/* The quantity on a scale on which a search walks evenly: its logarithm, or itself in K. */
typedef struct search {
    trn_turn_call call;
    void *context;
    bool shift;            /* in K */
    double used;           /* on the scale */
    double low, high;      /* ends, on the scale */
    double fine, stride;   /* precision and pace */
    double target_h, gain; /* holds where gain T(v) >= target */
    bool dear;             /* a call costs thousands of draws */
} search;

static double value_at(const search *s, double at)
{
    return s->shift ? at : exp(at);
}

static bool holds(const search *s, double at)
{
    double t = s->call(value_at(s, at), s->context);
    return s->gain * t * (1 + 1e-9) >= s->target_h; /* as trn_recommend; NaN does not hold */
}

/* How far above the target, in logarithms; NaN where that is no number. */
static double excess(const search *s, double at)
{
    double t = s->call(value_at(s, at), s->context);
    double x = log(s->gain * t * (1 + 1e-9) / s->target_h);
    return isfinite(x) ? x : NAN;
}

/* The same as halving with fewer calls: the chord's zero, moved by a little over half of the
 * precision so that the next call closes the bracket; every third step halves. */
static double chord(const search *s, double from, double to, bool from_holds)
{
    double a = excess(s, from);
    double b = excess(s, to);
    for (int step = 1; fabs(to - from) > s->fine; step++) {
        double part = a / (a - b);
        double least = 0.45 * s->fine / fabs(to - from);
        if (isnan(part) || step % 3 == 0)
            part = 0.5;
        part = fmin(1 - least, fmax(least, part));
        double at = from + part * (to - from);
        double x = excess(s, at);
        bool here = isnan(x) ? holds(s, at) : x >= 0;
        if (here == from_holds) {
            from = at;
            a = x;
        } else {
            to = at;
            b = x;
        }
    }
    return from_holds ? from : to;
}

/* Between a place and one where the answer is the other: the end at which it holds. */
static double halve(const search *s, double from, double to, bool from_holds)
{
    if (s->dear)
        return chord(s, from, to, from_holds);
    while (fabs(to - from) > s->fine) {
        double middle = 0.5 * (from + to);
        if (holds(s, middle) == from_holds)
            from = middle;
        else
            to = middle;
    }
    return from_holds ? from : to;
}

/* T(v) goes one way: the far end tells whether there is anything to find. */
static double straight(const search *s, bool now, bool upward)
{
    double end = upward ? s->high : s->low;
    if ((upward ? end <= s->used : end >= s->used) || holds(s, end) == now)
        return NAN;
    return halve(s, s->used, end, now);
}

/* Outward on both sides, the nearest counts. */
static double outward(const search *s, bool now)
{
    for (size_t k = 1;; k++) {
        double reach = s->stride * (double)k;
        double best = NAN;
        bool inside = false;
        for (int side = -1; side <= 1; side += 2) {
            double here = s->used + side * (reach - s->stride);
            double there = fmin(s->high, fmax(s->low, s->used + side * reach));
            if ((side < 0 && here <= s->low) || (side > 0 && here >= s->high))
                continue;
            inside = true;
            if (holds(s, there) == now)
                continue;
            double at = halve(s, here, there, now);
            if (isnan(best) || fabs(at - s->used) < fabs(best - s->used))
                best = at;
        }
        if (!isnan(best) || !inside)
            return best;
    }
}

/* References lengthen as they rise, duty quantities shorten. */
static bool rises_with(trn_turn_id id)
{
    return id >= TRN_TURN_REF_DUST;
}

static bool set_scale(trn_turn_id id, double used, search *s)
{
    static const double span = 100;   /* times, or K */
    static const double fine = 1e-4;  /* of v */
    static const double fine_k = 0.01;
    s->shift = id == TRN_TURN_OIL_TEMPERATURE || id == TRN_TURN_REF_TEMPERATURE;
    if (s->shift) {
        s->used = used;
        s->low = used - span;
        s->high = used + span;
        s->fine = fine_k;
        s->stride = 1;
        return isfinite(used);
    }
    if (!(used > 0) || !isfinite(used))
        return false;
    double least = id == TRN_TURN_REF_SHOCK ? fmax(1, used / span) : used / span;
    s->used = log(used);
    s->low = log(least);
    s->high = log(used * span);
    s->fine = fine;
    s->stride = 0.1;
    return true;
}

static double find(trn_turn_id id, const search *s, bool now, bool turns)
{
    double at = turns ? outward(s, now) : straight(s, now, rises_with(id) != now);
    return isnan(at) ? NAN : value_at(s, at);
}

static trn_status find_both(trn_turn_id id, const trn_service_point *point, bool turns,
                            trn_clock clock, const trn_interval_settings *settings, search s,
                            trn_turning *turning)
{
    trn_turning found = {.used = trn_turn_used(id, point), .manual_stands_at = NAN,
                         .next_step_at = NAN};
    if (!(point->manual_h > 0) || !isfinite(point->manual_h))
        return TRN_E_DOMAIN;
    if (!set_scale(id, found.used, &s)) {
        *turning = found; /* not known: blank */
        return TRN_OK;
    }
    double now = s.call(found.used, s.context);
    trn_recommendation r = {0};
    if (!(now >= 0) || trn_recommend(point, now, clock, settings, NULL, &r) < 0)
        return TRN_E_DOMAIN;
    turns = turns || id == TRN_TURN_OIL_TEMPERATURE;
    s.target_h = point->manual_h;
    found.manual_stands_at = find(id, &s, r.manual, turns);
    if (!r.manual) {
        s.target_h = fmin(trn_clock_next(clock, r.interval_h), point->manual_h);
        found.next_step_at = find(id, &s, false, turns);
    }
    *turning = found;
    return TRN_OK;
}

trn_status trn_turning_find(trn_turn_id id, const trn_service_point *point, bool turns,
                            trn_clock clock, const trn_interval_settings *settings,
                            trn_turn_call call, void *context, trn_turning *turning)
{
    search s = {.call = call, .context = context, .gain = 1 + settings->slack};
    return find_both(id, point, turns, clock, settings, s, turning);
}

trn_status trn_turning_find_dear(trn_turn_id id, const trn_service_point *point, bool turns,
                                 trn_clock clock, const trn_interval_settings *settings,
                                 trn_turn_call call, void *context, trn_turning *turning)
{
    search s = {.call = call, .context = context, .gain = 1 + settings->slack, .dear = true};
    return find_both(id, point, turns, clock, settings, s, turning);
}
