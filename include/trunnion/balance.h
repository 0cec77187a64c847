/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Losses and oil temperature of one gearbox in one condition. Re-entrant, no I/O; nothing is
 * allocated but by the warm-up and by a trace. */
#ifndef TRUNNION_BALANCE_H
#define TRUNNION_BALANCE_H

#include <stdbool.h>
#include <stddef.h>
#include <trunnion/gear_loss.h>
#include <trunnion/heat.h>
#include <trunnion/loss.h>
#include <trunnion/oil.h>
#include <trunnion/step.h>

#ifdef __cplusplus
extern "C" {
#endif

/* ---- inputs ------------------------------------------------------------------------------- */

enum {
    TRN_BALANCE_MESHES_MAX = 64,
    TRN_BALANCE_BEARINGS_MAX = 128,
    TRN_BALANCE_CASES_MAX = 9,
    TRN_BALANCE_WARMUP_POINTS = 481 /* every minute to 8 h */
};

typedef struct trn_balance_member {
    double z;
    double b_m;   /* face width */
    double dip_m; /* lowest point of the tooth tips below the oil at rest; NaN: not known */
    double Ra_m;  /* roughness */
} trn_balance_member;

typedef struct trn_balance_mesh {
    const char *name;       /* object of its notes in a trace; NULL: that of the caller */
    bool bevel;
    trn_balance_member member[2];
    double module_m;        /* bevel: outer transverse; cylindrical: normal */
    double alpha_rad;       /* normal pressure angle */
    double helix_rad;       /* bevel: mean spiral angle; cylindrical: helix angle; >= 0 or < 0 */
    double shaft_angle_rad; /* bevel */
    double power_w;         /* mean power through the mesh, >= 0 */
    double omega1_rad_s;    /* speed of member 0, >= 0; the other turns at z0/z1 of it */
} trn_balance_mesh;

typedef struct trn_balance_case {
    double Fr_n, Fa_n; /* magnitudes at the mean torque, no application factor */
    double share;      /* weight of the case; the weights need not add to 1 */
} trn_balance_case;

typedef struct trn_balance_bearing {
    const char *name;
    trn_friction_kind kind;
    double omega_rad_s;
    double bore_m, outside_m;
    double C0_n;      /* deep groove, angular; NaN elsewhere */
    double angle_rad; /* tapered; NaN elsewhere */
    size_t case_count; /* 0: loads not known, no-load part only */
    trn_balance_case cases[TRN_BALANCE_CASES_MAX];
} trn_balance_bearing;

typedef struct trn_balance_seal {
    double d_m, omega_rad_s;
} trn_balance_seal;

typedef struct trn_balance_box {
    const trn_balance_mesh *meshes;
    size_t mesh_count;
    const trn_balance_bearing *bearings;
    size_t bearing_count;
    const trn_balance_seal *seals;
    size_t seal_count;
    trn_oil_base base;
    double kv40_m2_s, kv100_m2_s, rho15_kg_m3, V_oil_m3;
    double area_m2;               /* NaN: not known, no balance */
    double cooling_factor;        /* on k, from readings; 0: there are none */
    trn_heat_surface surface;     /* start with trn_balance_surface() */
    double sun_area_m2, sun_absorption, sun_w_m2;
    double T_air_k;
    double mass_kg;               /* NaN: not known, no time constant and no warm-up */
    double power_w;               /* that enters the gearbox */
    double disc_gap_m;            /* wheel under oil to housing: TRN_BALANCE_DISC_GAP_M */
    double churning_scatter;      /* TRN_BALANCE_CHURNING_SCATTER */
    double steel_j_kg_k;          /* TRN_BALANCE_STEEL_J_KG_K */
} trn_balance_box;

/* Chosen numbers (practice): clearance of a wheel under oil; scatter of the better churning law
 * on other rigs; heat capacity of iron and steel (460 to 540). */
#define TRN_BALANCE_DISC_GAP_M 0.010
#define TRN_BALANCE_CHURNING_SCATTER 1.5
#define TRN_BALANCE_STEEL_J_KG_K 500.0

/* A clean housing with the chosen film, wall and residue, to be computed (heat_transfer NaN):
 * air 1.4 m/s, 300 mm, emissivity 0.9 as in the case tables. */
trn_heat_surface trn_balance_surface(void);

/* ---- results ------------------------------------------------------------------------------ */

/* X(name, text): what a reader must be told. One bit each, in this order. */
#define TRN_BALANCE_WARNING_LIST(X)                                                         \
    X(LOW_OIL, "LOW OIL: no gear of a mesh dips its tooth height, the mesh is not fed; the "    \
               "balance shows cooler oil because churning fell: not to be trusted, and no "     \
               "improvement")                                                                   \
    X(NO_BALANCE, "no balance within 300 K over the air: the gearbox cannot run like this "     \
                  "without a break")                                                            \
    X(NO_BALANCE_HIGH, "with the upper churning law there is no balance within 300 K over "     \
                       "the air")                                                               \
    X(HOT_MINERAL, "the oil is above 95 degC, the sump limit of the thermal rating standard")   \
    X(HOT_SYNTHETIC, "the oil is above 110 degC, the usual limit of synthetic oil")             \
    X(HOT_SEALS, "above 100 degC nitrile seal lips harden")                                     \
    X(SHALLOW, "the deeper gear of a mesh dips less than twice its tooth depth")                \
    X(TOE_DRY, "the toe of the deeper bevel gear is dry: its whole face should dip")            \
    X(OVERFULL, "overfull: the axle of a gear is under oil")                                    \
    X(FAST, "pitch line speed beyond splash lubrication")                                       \
    X(SLOW, "pitch line speed below 3 m/s: splash may not reach the upper bearings")            \
    X(COLD, "the oil is above 2000 mm2/s: cold start, the laws are extrapolated")               \
    X(RESIDUE, "the residue halves the heat transfer or worse: clean the box (stopped, drive "  \
               "off, cooled)")                                                                  \
    X(BEARING_LOAD, "a bearing whose load is not known counts with its no-load part only")      \
    X(DIP_UNKNOWN, "no dip is known: churning is not counted")                                  \
    X(GROUND, "gears outside the ground on which the churning law was tested")                  \
    X(DEEP, "a gear dips more than 0.8 of its radius: the churning law is extrapolated")        \
    X(LIGHT, "light load: the friction law takes 150 N/mm, the share that is lost is too high") \
    X(FAST_FRICTION, "pitch line speed above 50 m/s, outside the friction law")                 \
    X(PATH, "a path of contact is unusual, or its teeth interfere")                             \
    X(FACE, "a bevel face is wider than 0.35 of its cone distance")

typedef enum trn_balance_warning_place {
#define TRN_X(name, text) TRN_BALANCE_PLACE_##name,
    TRN_BALANCE_WARNING_LIST(TRN_X)
#undef TRN_X
    TRN_BALANCE_WARNINGS
} trn_balance_warning_place;

/* Bit of a warning: TRN_BALANCE_BIT(LOW_OIL). */
#define TRN_BALANCE_BIT(name) (1u << TRN_BALANCE_PLACE_##name)

/* Text of the warning at a place, 0 to TRN_BALANCE_WARNINGS - 1.
 * "" past that. */
const char *trn_balance_warning_text(size_t place);

/* Losses at one oil temperature. */
typedef struct trn_balance_loss {
    double nu_m2_s, rho_kg_m3;
    double mesh_w;
    double churning_w, churning_iso_w; /* the central law and that of the rating report */
    double churning_low_w, churning_high_w;
    double bearings_no_load_w, bearings_load_w, bearings_w;
    double seals_w;
    double loss_w;                     /* mesh, central churning, bearings, seals */
} trn_balance_loss;

typedef struct trn_balance_result {
    double T_k;              /* given, else of the balance; NaN where there is none */
    trn_balance_loss at;     /* losses at T_k; all NaN where there is none */
    double sun_w;            /* the share of the sun that reaches the oil */
    double efficiency;       /* 0 to 1; NaN without power */
    trn_heat_path path;      /* heat transfer at T_k */
    double modelled_k;       /* of the balance; NaN: none, or not asked for */
    double low_k, high_k;    /* of the balance with the low and the high churning */
    double time_constant_s;  /* of the balance */
    double capacity_j_k;     /* NaN without mass */
    unsigned warnings;       /* bits */
    bool together;           /* the temperature is that of several conditions */
} trn_balance_result;

/* ---- calls -------------------------------------------------------------------------------- */

/* What does not depend on the oil temperature, so that one evaluation costs about a microsecond. */
typedef struct trn_balance_ready {
    trn_oil_line line;
    double rho15_kg_m3;
    double mesh;    /* loss times (eta in mPa.s)^0.05, W */
    double iso;     /* loss at 1 mm2/s, W */
    double scatter;
    size_t churning_count;
    trn_churning_ready churning[2 * TRN_BALANCE_MESHES_MAX];
    size_t disc_count;
    struct {
        double R_m, omega_rad_s;
    } disc[2 * TRN_BALANCE_MESHES_MAX];
    double disc_gap_m;
    size_t bearing_count;
    struct {
        double nu_step, flat_w, rising; /* flat below nu_step, rising * nu^(2/3) above */
    } bearing[TRN_BALANCE_BEARINGS_MAX];
    double bearings_load_w, seals_w;
    double area_m2, cooling_factor, T_air_k, sun_absorbed_w, capacity_j_k;
    trn_heat_surface surface;
    unsigned warnings; /* those that do not depend on the temperature */
} trn_balance_ready;

/* Checks a box and prepares it.
 * Status: TRN_E_UNKNOWN without a mesh; TRN_E_INPUT for more parts than the limits above;
 *         TRN_E_DOMAIN; TRN_OK. Ready may be half written where it fails.
 * Checked by tests/balance.c, tests/balance_limits.c */
trn_status trn_balance_prepare(const trn_balance_box *box, trn_balance_ready *ready);

/* Losses at an oil temperature (nu and rho by oil.viscosity, oil.density).
 * Status: TRN_E_DOMAIN, also where the viscosity leaves 0.21 to 2e7 mm2/s; TRN_OK
 * Given: T_k, K. Returned: loss, W. Source, standing: those of the laws in loss.h.
 * Checked by tests/balance.c */
trn_status trn_balance_loss_at(const trn_balance_ready *ready, double T_k,
                               trn_balance_loss *loss);

enum {
    TRN_BALANCE_WANT_BAND = 1, /* low_k, high_k */
    TRN_BALANCE_WANT_TIME = 2, /* time_constant_s */
    TRN_BALANCE_WANT_ALL = 3
};

/* Oil temperature and losses of one gearbox in one condition.
 *
 *   loss(T) + phi Q = c k(T) A (T - T_air)       c: cooling factor, 1 without readings
 *
 * Given:    box
 *           T_given_k   oil temperature as measured: losses, sun, viscosity and efficiency are
 *                       those at it, and the balance stands beside it; NaN: the balance is it
 *           wanted      TRN_BALANCE_WANT_... bits
 *           trace       NULL, or where the steps at T_k are noted, in working order, under the
 *                       scope it has
 * Returned: result
 * Status:   TRN_E_UNKNOWN without a mesh, or with neither area nor T_given_k; TRN_E_INPUT,
 *           TRN_E_DOMAIN, TRN_E_CONVERGE; TRN_R_HEAT_NO_BALANCE where more is lost than can be
 *           given off up to 300 K over the air; TRN_OK, also without area where T_given_k is known
 * Source:   ISO/TR 14179-1 and -2:2001 and the laws of each part
 * Standing: memory; derived
 * Checked by tests/balance.c */
trn_status trn_balance_solve(const trn_balance_box *box, double T_given_k, unsigned wanted,
                             trn_trace *trace, trn_balance_result *result);

/* What conditions that alternate have in common. */
typedef struct trn_balance_shared {
    double modelled_k, low_k, high_k; /* NaN: none, or not asked for */
    double time_constant_s, capacity_j_k;
    unsigned warnings; /* NO_BALANCE bits */
    bool together;     /* more than one condition */
} trn_balance_shared;

/* One oil temperature for n prepared boxes (one gearbox in conditions that follow each other much
 * faster than its time constant).
 *
 *   sum of weight [loss(T) + phi Q - c k(T) A (T - T_air)] = 0
 *
 * Given:    ready, weight   n each, weights > 0; NULL for one box
 * Status:   TRN_E_UNKNOWN without area; as trn_balance_solve
 * Standing: derived. Checked by tests/readings.c */
trn_status trn_balance_share(const trn_balance_ready *ready, const double *weight, size_t n,
                             unsigned wanted, trn_balance_shared *shared);

/* One of them at the shared temperature, or at T_given_k where that is known; the rest as
 * trn_balance_solve. Notes leave the temperature to the caller.
 * Status: as trn_balance_solve. Checked by tests/readings.c */
trn_status trn_balance_member_of(const trn_balance_box *box, const trn_balance_ready *ready,
                                 const trn_balance_shared *shared, double T_given_k,
                                 trn_trace *trace, trn_balance_result *result);

/* Warm-up from the temperature of the air.
 *
 *   C dT/dt = loss(T) + phi Q - k(T) A (T - T_air),  T(0) = T_air
 *
 * Given:    box; step_s > 0; count
 * Returned: T_k[i] at i step_s, to 1e-6 K; NaN from where the oil leaves 300 K over the air
 * Status:   TRN_E_UNKNOWN without mass or area; TRN_E_MEMORY; as trn_balance_prepare;
 *           TRN_R_HEAT_NO_BALANCE where the curve was cut off; TRN_R_HEAT_COLD_START above
 *           2000 mm2/s at the start; TRN_OK
 * Source:   heat balance of one lumped body
 * Standing: derived
 * Checked by tests/balance.c */
trn_status trn_balance_warmup(const trn_balance_box *box, double step_s, double *T_k,
                              size_t count);

/* The same of conditions that alternate, from the mean of their air; ready and weight as in
 * trn_balance_share.
 * Status: as trn_balance_warmup. Checked by tests/readings.c */
trn_status trn_balance_warmup_of(const trn_balance_ready *ready, const double *weight, size_t n,
                                 double step_s, double *T_k, size_t count);

#ifdef __cplusplus
}
#endif
#endif
