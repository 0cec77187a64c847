/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Limits that results are held against. */
#include <math.h>
#include <string.h>
#include <trunnion/address.h>
#include <trunnion/interval_rows.h>
#include <trunnion/lift.h>

/* above the sump limit of ISO/TR 14179-1; published, title and scope */
static const double mineral_sump_limit_c = 95;

typedef struct taker {
    trn_bound *out;
    size_t n;
} taker;

static void take(taker *t, const char *name, double value)
{
    if (t->n < TRN_BOUNDS_MAX && !isnan(value))
        t->out[t->n++] = (trn_bound){name, value};
}

static bool among(const char *name, const char *const *names)
{
    for (; *names; names++)
        if (strcmp(name, *names) == 0)
            return true;
    return false;
}

static void of_shaft(const trn_results *r, size_t shaft, const char *column, taker *t)
{
    static const char *const angles[] = {"angle_in", "angle_out", "largest_angle_turning", NULL};
    static const char *const overlaps[] = {"overlap", "overlap_after_cut", NULL};
    const trn_shaft *s = &r->machine->shafts[shaft];
    double third = isnan(s->tube_length) ? s->overlap_closed / 3 : s->tube_length / 3;
    if (among(column, angles)) {
        take(t, "angle_limit", s->angle_limit * 180 / 3.14159265358979323846);
    } else if (strcmp(column, "clearance") == 0) {
        take(t, "it bottoms", 0);
        take(t, "the clearance needed", 1000 * TRN_CLEARANCE_NEEDED_M);
    } else if (among(column, overlaps)) {
        take(t, "the tubes part", 0);
        take(t, "the overlap needed",
             isnan(third) ? NAN : 1000 * fmax(third, TRN_OVERLAP_LEAST_M));
    }
}

static void of_life(const trn_results *r, const char *column, taker *t)
{
    static const char *const lives[] = {"life_in", "life_out",  "L10h",     "Lnmh",
                                        "Lnmh_low", "Lnmh_high", NULL};
    if (!among(column, lives))
        return;
    take(t, "design_life", r->machine->head.design_life);
    take(t, "warranty_hours", r->machine->head.warranty_hours);
}

static void of_oil(const trn_results *r, size_t gearbox, const char *column, taker *t)
{
    static const char *const temperatures[] = {"oil_temperature", "oil_temperature_low",
                                               "oil_temperature_high", "modelled_temperature",
                                               NULL};
    size_t oil = r->machine->gearboxes[gearbox].oil_index;
    if (oil != TRN_NONE && r->machine->oils[oil].base == 0 && among(column, temperatures))
        take(t, "the sump limit of mineral oil", mineral_sump_limit_c);
}

static void of_point(const trn_point_row *row, const char *column, taker *t)
{
    static const char *const intervals[] = {"nominal", "median",  "low",
                                            "high",    "at_risk", "recommended", NULL};
    if (among(column, intervals))
        take(t, "the manual's interval", row->manual_h);
}

size_t trn_address_bounds(const trn_address *a, const trn_results *r,
                          trn_bound out[TRN_BOUNDS_MAX])
{
    static const char *const reliabilities[] = {"reliability_at_design_life", "reliability_low",
                                                "reliability_high", NULL};
    const void *row = a->field ? trn_address_row(a, r) : NULL;
    taker t = {out, 0};
    if (!row)
        return 0;
    const char *view = a->view->name;
    const char *column = a->field->name;
    if (strcmp(view, "joints") == 0)
        of_shaft(r, ((const trn_joint_row *)row)->shaft, column, &t);
    else if (strcmp(view, "fit") == 0)
        of_shaft(r, ((const trn_fit_row *)row)->shaft, column, &t);
    else if (strcmp(view, "heat") == 0)
        of_oil(r, ((const trn_heat_row *)row)->gearbox, column, &t);
    else if (strcmp(view, "intervals") == 0)
        of_point(row, column, &t);
    else if (strcmp(view, "gearbox_life") == 0 && among(column, reliabilities))
        take(&t, "the reliability asked for", 100 * r->machine->head.reliability);
    of_life(r, column, &t);
    return t.n;
}
