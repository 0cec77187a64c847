/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <trunnion/axle.h>

#include "bearing_words.h"
#include "catalogue.h"

/* in the order of their enums */
static const char *const mesh_kinds[] = {"straight_bevel", "spiral_bevel", "spur", "helical", NULL};
static const char *const apexes[] = {"+", "-", NULL};
static const char *const rotations[] = {"cw", "ccw", NULL};
static const char *const hands[] = {"right", "left", NULL};
static const char *const roles[] = {"driver", "driven", NULL};
static const char *const thrusts[] = {"none", "+", "-", "both", NULL};
static const char *const holds[] = {"held", "over_located", "not_held", "not_opposed", NULL};

static bool lacks_apex(int kind, const trn_value *apex)
{
    return (kind == TRN_MESH_STRAIGHT_BEVEL || kind == TRN_MESH_SPIRAL_BEVEL) && !apex->given;
}

/* +1 or -1; 0, which the library refuses, for anything else */
static int sense(double x)
{
    return x == 1 ? 1 : x == -1 ? -1 : 0;
}

/* ---- axle.turn ---------------------------------------------------------------------------- */

static const trn_symbol turn_in[] = {
    WORD("kind", mesh_kinds, NULL, "kind of gear"),
    WORD("apex", apexes, "", "side of the pitch-cone apex along the axle; needed by bevels"),
    WORD("rotation", rotations, NULL,
         "bevel: seen from the large end toward the apex; others: from the + end"),
};
static const trn_symbol turn_out[] = {
    OUT("sigma", "1", "1", "sign of the speed along +x"),
    OUTWORD("mate", rotations, "rotation of the mate"),
};

static trn_status turn_call(const trn_value *in, trn_value *out)
{
    int kind = word_at(&in[0]);
    if (lacks_apex(kind, &in[1]))
        return TRN_E_MISSING;
    trn_rotation rotation = (trn_rotation)word_at(&in[2]);
    trn_rotation mate = TRN_TURN_CW;
    int sigma = 0;
    trn_status status =
        trn_axle_turn((trn_mesh_kind)kind, (trn_apex)word_at(&in[1]), rotation, &sigma);
    if (status >= 0)
        status = trn_axle_mate_rotation(rotation, &mate);
    if (status >= 0) {
        out[0].x = sigma;
        out[1].x = mate;
    }
    return status;
}

/* ---- axle.rotation ------------------------------------------------------------------------ */

static const trn_symbol rotation_in[] = {
    WORD("kind", mesh_kinds, NULL, "kind of gear"),
    WORD("apex", apexes, "", "side of the pitch-cone apex along the axle; needed by bevels"),
    REQ("sigma", "1", "1", "[-1,1]", "sign of the axle's speed along +x: 1 or -1"),
};
static const trn_symbol rotation_out[] = {
    OUTWORD("rotation", rotations, "rotation of the gear"),
};

static trn_status rotation_call(const trn_value *in, trn_value *out)
{
    int kind = word_at(&in[0]);
    if (lacks_apex(kind, &in[1]))
        return TRN_E_MISSING;
    trn_rotation rotation = TRN_TURN_CW;
    trn_status status = trn_axle_rotation((trn_mesh_kind)kind, (trn_apex)word_at(&in[1]),
                                          sense(in[2].x), &rotation);
    if (status >= 0)
        out[0].x = rotation;
    return status;
}

/* ---- axle.mesh_load ----------------------------------------------------------------------- */

static const trn_symbol mesh_load_in[] = {
    WORD("kind", mesh_kinds, NULL, "kind of gear"),
    WORD("role", roles, NULL, "driver: the gear nearer the tractor"),
    REQ("sigma", "1", "1", "[-1,1]", "sign of the axle's speed along +x: 1 or -1"),
    REQ("Ft", "N", "N", "[0,inf)", "tangential force on this gear"),
    REQ("Fr", "N", "N", NULL, "radial force, + = toward the own axis"),
    REQ("Fa", "N", "N", NULL, "axial force; bevel: + = away from the apex, helical: magnitude"),
    WORD("apex", apexes, "", "side of the pitch-cone apex along the axle; needed by bevels"),
    WORD("hand", hands, "right", "hand of the helix; used by helical"),
    DEF("azimuth", "deg", "rad", NULL, "0", "direction of the mesh round the axle, y toward z"),
    REQ("station", "mm", "m", NULL, "middle of the face along the axle"),
    REQ("r_m", "mm", "m", "(0,inf)", "radius of the forces: d_m/2, cylindrical d/2"),
};
static const trn_symbol mesh_load_out[] = {
    OUT("Fx", "N", "N", "force on the axle along it"),
    OUT("Fy", "N", "N", "force along y"),
    OUT("Fz", "N", "N", "force along z"),
    OUT("Mx", "N.m", "N.m", "moment about the axle"),
    OUT("My", "N.m", "N.m", "moment about y through the origin of the stations"),
    OUT("Mz", "N.m", "N.m", "moment about z through the origin of the stations"),
};

static trn_status mesh_load_call(const trn_value *in, trn_value *out)
{
    int kind = word_at(&in[0]);
    if (lacks_apex(kind, &in[6]))
        return TRN_E_MISSING;
    trn_axle_load load;
    trn_axle_mesh mesh = {.kind = (trn_mesh_kind)kind,
                          .role = (trn_mesh_role)word_at(&in[1]),
                          .sigma = sense(in[2].x),
                          .force = {.Ft = in[3].x, .Fr = in[4].x, .Fa = in[5].x},
                          .apex = (trn_apex)word_at(&in[6]),
                          .hand = (trn_hand)word_at(&in[7]),
                          .azimuth_rad = in[8].x,
                          .station = in[9].x,
                          .r_m = in[10].x};
    trn_status status = trn_axle_mesh_load(mesh, &load);
    if (status >= 0) {
        const double given[] = {load.Fx, load.Fy, load.Fz, load.Mx, load.My, load.Mz};
        for (size_t i = 0; i < TRN_COUNT(given); i++)
            out[i].x = given[i];
    }
    return status;
}

/* ---- axle.reactions ----------------------------------------------------------------------- */

static const trn_symbol reactions_in[] = {
    REQ("Fx", "N", "N", NULL, "sum of the forces along the axle"),
    REQ("Fy", "N", "N", NULL, "sum along y"),
    REQ("Fz", "N", "N", NULL, "sum along z"),
    REQ("Mx", "N.m", "N.m", NULL, "sum of the moments about the axle"),
    REQ("My", "N.m", "N.m", NULL, "sum about y through the origin of the stations"),
    REQ("Mz", "N.m", "N.m", NULL, "sum about z through the origin of the stations"),
    REQ("x_A", "mm", "m", NULL, "station of bearing A, pressure centre"),
    REQ("x_B", "mm", "m", NULL, "station of bearing B, pressure centre"),
};
static const trn_symbol reactions_out[] = {
    OUT("R_Ay", "N", "N", "reaction of A along y"),
    OUT("R_Az", "N", "N", "reaction of A along z"),
    OUT("R_By", "N", "N", "reaction of B along y"),
    OUT("R_Bz", "N", "N", "reaction of B along z"),
    OUT("FrA", "N", "N", "radial load of A"),
    OUT("FrB", "N", "N", "radial load of B"),
    OUT("K", "N", "N", "thrust along +x left for the bearings"),
    OUT("T", "N.m", "N.m", "torque left for the joint"),
};

static trn_status reactions_call(const trn_value *in, trn_value *out)
{
    trn_axle_reaction r;
    trn_status status = trn_axle_reactions((trn_axle_load){.Fx = in[0].x,
                                                           .Fy = in[1].x,
                                                           .Fz = in[2].x,
                                                           .Mx = in[3].x,
                                                           .My = in[4].x,
                                                           .Mz = in[5].x},
                                           in[6].x, in[7].x, &r);
    if (status >= 0) {
        const double given[] = {r.R_Ay, r.R_Az, r.R_By, r.R_Bz, r.FrA, r.FrB, r.K, r.T};
        for (size_t i = 0; i < TRN_COUNT(given); i++)
            out[i].x = given[i];
    }
    return status;
}

/* ---- axle.couple -------------------------------------------------------------------------- */

static const trn_symbol couple_in[] = {
    REQ("M_p", "N.m", "N.m", "[0,inf)", "peak of the secondary couple; of two shafts the sum"),
    REQ("L", "mm", "m", NULL, "distance of the bearings, any sign, not 0"),
};
static const trn_symbol couple_out[] = {
    OUT("F", "N", "N", "radial load that is added at each bearing"),
};

static trn_status couple_call(const trn_value *in, trn_value *out)
{
    return trn_axle_couple(in[0].x, in[1].x, &out[0].x);
}

/* ---- axle.couple_vector ------------------------------------------------------------------- */

static const trn_symbol couple_vector_in[] = {
    REQ("M_p", "N.m", "N.m", "[0,inf)", "peak of the secondary couple"),
    REQ("theta", "deg", "rad", NULL, "turn of the axle, 0 where the couple is largest"),
    DEF("plane", "deg", "rad", NULL, "0", "azimuth of the plane of axle and shaft"),
};
static const trn_symbol couple_vector_out[] = {
    OUT("My", "N.m", "N.m", "couple about y"),
    OUT("Mz", "N.m", "N.m", "couple about z"),
};

static trn_status couple_vector_call(const trn_value *in, trn_value *out)
{
    return trn_axle_couple_vector(in[0].x, in[1].x, in[2].x, &out[0].x, &out[1].x);
}

/* ---- axle.side_force ---------------------------------------------------------------------- */

static const trn_symbol side_force_in[] = {
    REQ("T", "N.m", "N.m", "[0,inf)", "torque of the shaft"),
    REQ("beta", "deg", "rad", "[0,90)", "larger of its two joint angles"),
    REQ("L_t", "mm", "m", "(0,inf)", "joint centre to joint centre"),
    REQ("overhang", "mm", "m", "[0,inf)", "joint centre from the nearer bearing"),
    REQ("L", "mm", "m", NULL, "distance of the bearings, any sign, not 0"),
};
static const trn_symbol side_force_out[] = {
    OUT("F", "N", "N", "largest side force of a shaft in the W arrangement"),
    OUT("F_near", "N", "N", "what it puts on the nearer bearing"),
};

static trn_status side_force_call(const trn_value *in, trn_value *out)
{
    return trn_axle_side_force(in[0].x, in[1].x, in[2].x, in[3].x, in[4].x, &out[0].x, &out[1].x);
}

/* ---- axle.thrust, axle.held --------------------------------------------------------------- */

static const trn_symbol thrust_in[] = {
    WORD("kind_A", bearing_kinds, NULL, "kind of bearing A"),
    WORD("thrust_A", thrusts, NULL, "thrust that A takes; + of a shaft pushed along +x"),
    DEF("S_A", "kN", "N", "[0,inf)", "0", "induced thrust of A"),
    WORD("kind_B", bearing_kinds, NULL, "kind of bearing B"),
    WORD("thrust_B", thrusts, NULL, "thrust that B takes"),
    DEF("S_B", "kN", "N", "[0,inf)", "0", "induced thrust of B"),
    REQ("K", "kN", "N", NULL, "thrust of the axle along +x"),
    DEF("F_max", "kN", "N", "[0,inf)", "0", "largest tooth force; K within 1e-9 of it is 0"),
};
static const trn_symbol thrust_out[] = {
    OUT("FaA", "kN", "N", "axial load of A"),
    OUT("FaB", "kN", "N", "axial load of B"),
};
static const trn_symbol held_out[] = {
    OUTWORD("hold", holds, "what holds the axle along x"),
};
#define held_in thrust_in

static trn_axle_support support_at(const trn_value *in)
{
    return (trn_axle_support){.kind = (trn_bearing_kind)word_at(&in[0]),
                              .thrust = (trn_thrust_word)word_at(&in[1]),
                              .S = in[2].x};
}

static trn_status thrust_call(const trn_value *in, trn_value *out)
{
    return trn_axle_thrust(support_at(in), support_at(in + 3), in[6].x, in[7].x, &out[0].x,
                           &out[1].x);
}

static trn_status held_call(const trn_value *in, trn_value *out)
{
    trn_axle_hold hold = TRN_HOLD_HELD;
    trn_status status =
        trn_axle_held(support_at(in), support_at(in + 3), in[6].x, in[7].x, &hold);
    if (status >= 0)
        out[0].x = hold;
    return status;
}

/* ---- table -------------------------------------------------------------------------------- */

const trn_formula trn_formulas_axle[] = {
    {
        .name = "axle.turn",
        .what = "which way an axle turns, from the rotation of one of its gears",
        .equation = "bevel: cw with apex + or ccw with apex - gives 1, else -1\n"
                    "spur, helical: ccw gives 1, cw -1\nthe mate turns the other way",
        .validity = "bevel seen from the large end toward the apex; spur and helical from the + "
                    "end, both axles with + on the same side",
        .source = "AXLE-FRAME",
        .standing = "derived",
        .example = "kind=spiral_bevel apex=+ rotation=cw",
        ENTRY(turn),
    },
    {
        .name = "axle.rotation",
        .what = "rotation of a gear from the way its axle turns",
        .equation = "the reverse of axle.turn",
        .validity = "sigma 1 or -1",
        .source = "AXLE-FRAME",
        .standing = "derived",
        .example = "kind=spiral_bevel apex=- sigma=1",
        ENTRY(rotation),
    },
    {
        .name = "axle.mesh_load",
        .what = "force and moment of one mesh on its axle",
        .equation = "F = k sigma Ft e_t - Fr e_r + F_x e_x, k = -1 driver, +1 driven\n"
                    "bevel: F_x = -Fa (apex +), Fa (apex -)\n"
                    "helical: F_x = h (-k) sigma Fa, h = +1 right, -1 left; spur: F_x = 0\n"
                    "M = r x F, r = (station, r_m e_r)",
        .validity = "sigma 1 or -1; Ft >= 0; helical Fa >= 0",
        .source = "AXLE-STATICS",
        .standing = "derived",
        .example = "kind=spiral_bevel role=driver sigma=1 Ft=9328.1N Fr=1103N Fa=7656.6N apex=+ "
                   "azimuth=90deg station=110mm r_m=37.521mm",
        ENTRY(mesh_load),
    },
    {
        .name = "axle.reactions",
        .what = "radial reactions of the two bearings of an axle",
        .equation = "L = x_B - x_A; moments about A: M_y + x_A F_z, M_z - x_A F_y\n"
                    "R_By = -M_z/L, R_Bz = M_y/L, R_A = -F - R_B\nK = F_x, T = M_x",
        .validity = "two bearings that take no moment, stiff axle; x_A and x_B differ",
        .source = "AXLE-BUDYNAS; AXLE-STATICS",
        .standing = "published",
        .example = "Fx=-7656.6N Fy=9328.1N Fz=-1103N Mx=-350N.m My=-165.95N.m Mz=1026.09N.m "
                   "x_A=0mm x_B=70mm",
        ENTRY(reactions),
    },
    {
        .name = "axle.couple",
        .what = "radial load that the couple of a joint adds at each bearing",
        .equation = "F = M_p/|L|",
        .validity = "M_p >= 0, L not 0; added in magnitude, the safe side: the couple turns "
                    "against the tooth force",
        .source = "AXLE-STATICS; AXLE-CHOICE",
        .standing = "derived, addition in magnitude practice",
        .example = "M_p=74.3948N.m L=70mm",
        ENTRY(couple),
    },
    {
        .name = "axle.couple_vector",
        .what = "couple of a joint on its axle at a turn",
        .equation = "M = (M_p/2) [(1 + cos 2 theta) u + sin 2 theta w], w = e_x cross u",
        .validity = "small joint angles: at 25 deg a component is up to 5 % of M_p off",
        .source = "AXLE-STATICS",
        .standing = "derived",
        .example = "M_p=74.3948N.m theta=30deg plane=15deg",
        ENTRY(couple_vector),
    },
    {
        .name = "axle.side_force",
        .what = "largest side force of a shaft whose joints bend the same way (W arrangement)",
        .equation = "F = 2 T sin beta/L_t\nF_near = F (1 + overhang/|L|)",
        .validity = "upper bound; zero in the Z arrangement; not added to the full couple, which "
                    "covers it over a turn",
        .source = "AXLE-STATICS",
        .standing = "derived",
        .example = "T=350N.m beta=15deg L_t=900mm overhang=100mm L=70mm",
        ENTRY(side_force),
    },
    {
        .name = "axle.held",
        .what = "whether the bearings hold an axle along its axis",
        .equation = "held: one `both`; `+` with `-`; one sign that takes K; K = 0\n"
                    "over_located: both take it; not_held: none takes it\n"
                    "not_opposed: a tapered or angular bearing without an opposed partner",
        .validity = "two bearings; K within 1e-9 F_max is 0",
        .source = "AXLE-STATICS; AXLE-CHOICE",
        .standing = "derived; two bearings with the same sign practice",
        .example = "kind_A=deep_groove thrust_A=+ kind_B=cylindrical thrust_B=none K=-1.4kN",
        ENTRY(held),
    },
    {
        .name = "axle.thrust",
        .what = "axial loads of the two bearings of an axle",
        .equation = "`+` and `-` (A the `+`): FaA = max(SA, SB + K), FaB = max(SB, SA - K)\n"
                    "one `both`: |K| there; `both`, `both`: |K| on each\n"
                    "one sign, other none: |K| of that sign there; none, none: K = 0",
        .validity = "no preload, no clearance; refused where the axle is not held (axle.held says "
                    "why); remark where it is over-located",
        .source = "AXLE-STATICS; AXLE-CHOICE",
        .standing = "derived",
        .example = "kind_A=tapered thrust_A=+ S_A=2.348563kN kind_B=tapered thrust_B=- "
                   "S_B=4.573608kN K=-7.656631kN",
        ENTRY(thrust),
    },
};
const size_t trn_formulas_axle_count = TRN_COUNT(trn_formulas_axle);

const trn_source trn_sources_axle[] = {
    {"AXLE-FRAME", "definition: x along the axle, y and z square to it, right-handed", "derived"},
    {"AXLE-STATICS", "vector statics of a stiff axle on two bearings", "derived"},
    {"AXLE-BUDYNAS",
     "Budynas and Nisbett, Mechanical Engineering Design, solutions to ch. 13: helical gear midway "
     "between bearings",
     "published"},
    {"AXLE-CHOICE", "choice of this project on the safe side", "practice"},
};
const size_t trn_sources_axle_count = TRN_COUNT(trn_sources_axle);
