/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <trunnion/grease.h>

#include "constant_tables.h"

/* Booser's grease life, from memory */
static double life_level = -2.60, life_temperature = 2450, life_factor = 0.301;
static double life_speed = 0.86, life_load = 0.61;

static const double rpm = 0.10471975511965977462; /* rad/s */
static const double mm = 1e-3;
static const double hour = 3600;
static const double pound = 4.4482216152605; /* pound-force, N, exact */
static const double ice_k = 273.15;
static const double slack = 1e-9; /* limits that went through unit conversion still hold */
static const double warm_k = 343.15; /* 70 degC: relubrication tables are made for it */

static int positive(double x)
{
    return isfinite(x) && x > 0;
}

const char *const trn_grease_bearings[] = {"ball",      "cylindrical", "needle",
                                           "spherical", "tapered",     NULL};

/* GREASE-NEALE, section A20 (published) */
static const double kind_factor[TRN_GREASE_BEARINGS] = {
    [TRN_GREASE_BALL] = 10,     [TRN_GREASE_CYLINDRICAL] = 5, [TRN_GREASE_NEEDLE] = 5,
    [TRN_GREASE_SPHERICAL] = 1, [TRN_GREASE_TAPERED] = 1,
};

trn_status trn_grease_interval(trn_grease_bearing kind, double n_rads, double bore_m,
                               double *interval_s)
{
    double n = n_rads / rpm;
    double d = bore_m / mm;
    if ((size_t)kind >= TRN_GREASE_BEARINGS || !positive(n) || !positive(d))
        return TRN_E_DOMAIN;
    double t_f = kind_factor[kind] * (14e6 / (n * sqrt(d)) - 4 * d); /* GREASE-NEALE, A20 */
    if (!positive(t_f))
        return TRN_E_DOMAIN;
    *interval_s = t_f * hour;
    return t_f <= 30000 * (1 + slack) ? TRN_OK : TRN_R_GREASE_AGES;
}

trn_status trn_grease_quantity(double outside_m, double width_m, double *grease_kg)
{
    double g = 5 * outside_m * width_m; /* GREASE-NEALE, A20: 0.005 g/mm2 */
    if (!positive(outside_m) || !positive(width_m) || !isfinite(g))
        return TRN_E_DOMAIN;
    *grease_kg = g;
    return TRN_OK;
}

trn_status trn_grease_life(trn_grease_duty duty, double *life_s)
{
    double nd = duty.n_rads / rpm * (duty.bore_m / mm);
    double allowed = duty.nd_limit_mps / mm * 60;
    double t = duty.t_k - ice_k;
    if (!positive(duty.n_rads) || !positive(duty.bore_m) || !positive(allowed) ||
        !positive(duty.rating_n) || !isfinite(duty.radial_n) || !(duty.radial_n >= 0) ||
        !isfinite(t) || !(t > -273) || !isfinite(duty.kind_loss))
        return TRN_E_DOMAIN;
    /* GREASE-BOOSER: 273, not 273.15, goes with the constants; 0.61 with pounds-force */
    double speed = life_speed * nd / allowed;
    double load = life_load * pound * nd * duty.radial_n / duty.rating_n / duty.rating_n;
    double hours = pow(10, life_level + life_temperature / (273 + t) -
                               life_factor * (duty.kind_loss + speed + load));
    if (!positive(hours))
        return TRN_E_DOMAIN;
    *life_s = hours * hour;
    if (!(nd <= allowed * (1 + slack)))
        return TRN_R_GREASE_SPEED;
    return duty.t_k >= warm_k * (1 - slack) ? TRN_OK : TRN_R_GREASE_COOL;
}

trn_status trn_grease_heat_factor(double t_k, double *factor)
{
    if (!positive(t_k))
        return TRN_E_DOMAIN;
    *factor = t_k > warm_k ? exp2((warm_k - t_k) / 15) : 1; /* GREASE-TABLES */
    return TRN_OK;
}

/* Limits practice unless the note says more; kv100 from index 95. */
static const trn_grease_data generic[] = {
    {"lithium EP 2", "lithium", "2", 180, 16.4, 120,
     "code letter K; an older handbook says 90 degC; lower end -15 to -30 degC"},
    {"lithium complex EP 2", "lithium complex", "2", 220, 18.75, 140, "code letter N (practice)"},
    {"calcium EP 2", "calcium", "2", 150, 14.55, 60, "limit published; repels water"},
    {"calcium sulphonate 2", "calcium sulphonate complex", "2", 400, 27.7, 140,
     "practice; best under wash-down"},
    {"polyurea 2", "polyurea", "2", 110, 11.8, 150, "practice; electric motors"},
    {"clay 2", "clay", "2", 220, 18.75, 135, "limit published, 135 or 200 degC by type"},
    {"fluid gear 00", "lithium", "00", 150, 14.55, 100, "practice; gear housings only"},
};

const trn_grease_data *trn_grease_generic(size_t i)
{
    return i < sizeof generic / sizeof generic[0] ? &generic[i] : NULL;
}

/* Bureau of Reclamation FIST 2-4, 1990 (published) for the pairs; oils practice */
const char trn_grease_mixing_caution[] =
    "Before a grease with another thickener goes in, drive the old one out until only the new one "
    "appears; do the same when in doubt, because equal thickeners do not prove that two greases "
    "agree.\n"
    "Usually agree: lithium with lithium complex; lithium complex with calcium or aluminium "
    "complex. Doubtful: lithium with calcium or aluminium complex. Do not mix: lithium or lithium "
    "complex with clay, sodium, polyurea, barium or calcium complex; clay, sodium or polyurea with "
    "any thickener but their own.\n"
    "Published charts contradict each other. Only a test of the two greases (ASTM D6185) settles "
    "it. A grease that softens, bleeds oil or runs out of the bearing tells of a bad mixture.\n"
    "Oils: polyglycol goes with no other base. Gear oils of one base may be mixed, and the "
    "mixture counts as the poorer of the two.";

/* ---- recalled, not yet compared with the printed source -------------------------------------- */

const trn_constant trn_constants_grease[] = {
    {"booser.level", "Booser 1974; Khonsari and Booser", "grease life",
     "constant", "1",
     "grease.life", &life_level},
    {"booser.temperature", "Booser 1974; Khonsari and Booser", "grease life",
     "temperature term", "K",
     "grease.life", &life_temperature},
    {"booser.factor", "Booser 1974; Khonsari and Booser", "grease life",
     "factor of the losses", "1",
     "grease.life", &life_factor},
    {"booser.speed", "Booser 1974; Khonsari and Booser", "grease life",
     "factor of the speed", "1",
     "grease.life", &life_speed},
    {"booser.load", "Booser 1974; Khonsari and Booser", "grease life",
     "factor of the load (pounds-force)", "1",
     "grease.life", &life_load},
};
const size_t trn_constants_grease_count =
    sizeof trn_constants_grease / sizeof trn_constants_grease[0];
