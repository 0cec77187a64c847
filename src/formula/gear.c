/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <trunnion/gear_force.h>

#include "bearing_words.h"
#include "catalogue.h"

static const char *const hands[] = {"right", "left", NULL};
static const char *const rotations[] = {"cw", "ccw", NULL};
static const char *const roles[] = {"driver", "driven", NULL};

static trn_status give_force(trn_status status, const trn_tooth_force *force, trn_value *out)
{
    if (status >= 0) {
        out[0].x = force->Ft;
        out[1].x = force->Fr;
        out[2].x = force->Fa;
    }
    return status;
}

/* ---- gear.spur_force ---------------------------------------------------------------------- */

static const trn_symbol spur_in[] = {
    REQ("T", "N.m", "N.m", "[0,inf)", "torque of this gear"),
    REQ("d", "mm", "m", "(0,inf)", "its reference diameter"),
    REQ("alpha", "deg", "rad", "(0,45)", "pressure angle"),
};
static const trn_symbol spur_out[] = {
    OUT("Ft", "N", "N", "tangential force"),
    OUT("Fr", "N", "N", "radial force, toward the own axis"),
    OUT("Fa", "N", "N", "axial force, 0"),
};

static trn_status spur_call(const trn_value *in, trn_value *out)
{
    trn_tooth_force force;
    return give_force(trn_gear_spur_force(in[0].x, in[1].x, in[2].x, &force), &force, out);
}

/* ---- gear.helical_force ------------------------------------------------------------------- */

static const trn_symbol helical_in[] = {
    REQ("T", "N.m", "N.m", "[0,inf)", "torque of this gear"),
    REQ("d", "mm", "m", "(0,inf)", "its transverse reference diameter"),
    REQ("alpha_n", "deg", "rad", "(0,45)", "normal pressure angle"),
    REQ("beta", "deg", "rad", "[0,60)", "helix angle"),
};
static const trn_symbol helical_out[] = {
    OUT("Ft", "N", "N", "tangential force"),
    OUT("Fr", "N", "N", "radial force, toward the own axis"),
    OUT("Fa", "N", "N", "axial force, magnitude"),
};

static trn_status helical_call(const trn_value *in, trn_value *out)
{
    trn_tooth_force force;
    return give_force(trn_gear_helical_force(in[0].x, in[1].x, in[2].x, in[3].x, &force), &force,
                      out);
}

/* ---- gear.bevel_force --------------------------------------------------------------------- */

static const trn_symbol bevel_in[] = {
    REQ("T", "N.m", "N.m", "[0,inf)", "torque of this gear"),
    REQ("d_e", "mm", "m", "(0,inf)", "reference diameter at the large end"),
    REQ("b", "mm", "m", "[0,inf)", "face width; 0: forces at the large end"),
    REQ("alpha_n", "deg", "rad", "(0,45)", "normal pressure angle"),
    REQ("delta", "deg", "rad", "(0,90)", "half cone angle"),
    DEF("psi", "deg", "rad", "[0,60)", "0", "mean spiral angle"),
    WORD("hand", hands, "right", "hand of this gear: tooth seen from outside, large end up"),
    WORD("rotation", rotations, "cw", "of this gear, seen from the large end toward the apex"),
    WORD("role", roles, "driver", "driver: the gear nearer the tractor"),
};
static const trn_symbol bevel_out[] = {
    OUT("d_m", "mm", "m", "mean diameter"),
    OUT("Ft", "N", "N", "tangential force at the mean diameter"),
    OUT("Fr", "N", "N", "radial force, + = toward the own axis"),
    OUT("Fa", "N", "N", "axial force, + = away from the own apex"),
};

static trn_status bevel_call(const trn_value *in, trn_value *out)
{
    trn_tooth_force force;
    trn_bevel_mesh mesh = {.T = in[0].x,
                           .d_e = in[1].x,
                           .b = in[2].x,
                           .alpha_n_rad = in[3].x,
                           .delta_rad = in[4].x,
                           .psi_rad = in[5].x,
                           .hand = (trn_hand)word_at(&in[6]),
                           .rotation = (trn_rotation)word_at(&in[7]),
                           .role = (trn_mesh_role)word_at(&in[8])};
    return give_force(trn_gear_bevel_force(mesh, &out[0].x, &force), &force, out + 1);
}

/* ---- table -------------------------------------------------------------------------------- */

const trn_formula trn_formulas_gear[] = {
    {
        .name = "gear.spur_force",
        .what = "tooth forces of a spur gear",
        .equation = "Ft = 2000 T/d\nFr = Ft tan alpha\nFa = 0",
        .validity = "T >= 0, d > 0, 0 < alpha < 45 deg; without friction",
        .source = "GEAR-BUDYNAS (ch. 13)",
        .standing = "published",
        .example = "T=126.6N.m d=91.44mm alpha=20deg",
        ENTRY(spur),
    },
    {
        .name = "gear.helical_force",
        .what = "tooth forces of a helical gear on parallel axles",
        .equation = "Ft = 2000 T/d\nFr = Ft tan alpha_n/cos beta\nFa = Ft tan beta",
        .validity = "T >= 0, d > 0, 0 < alpha_n < 45 deg, 0 <= beta < 60 deg; without friction",
        .source = "GEAR-JINDAL (ex. 26-2); GEAR-BUDYNAS (ch. 13)",
        .standing = "published",
        .example = "T=39.78874N.m d=106.41778mm alpha_n=20deg beta=20deg",
        ENTRY(helical),
    },
    {
        .name = "gear.bevel_force",
        .what = "tooth forces of a straight or spiral bevel gear",
        .equation = "d_m = d_e - b sin delta\nFt = 2000 T/d_m\n"
                    "Fa = Ft/cos psi (tan alpha_n sin delta + s sin psi cos delta)\n"
                    "Fr = Ft/cos psi (tan alpha_n cos delta - s sin psi sin delta)\n"
                    "s = -1 for a driver right cw or left ccw, else +1; the reverse when driven",
        .validity = "0 < delta < 90 deg, 0 <= b < R_e = d_e/(2 sin delta); remark where b > R_e/3; "
                    "on overrun swap the roles",
        .source = "GEAR-BUDYNAS (ch. 13); GEAR-NORMAL",
        .standing = "straight published, signs of the spiral derived, limit of b practice",
        .example = "T=87N.m d_e=85.7mm b=26mm alpha_n=20deg delta=24.2deg psi=35deg hand=left "
                   "rotation=cw role=driver",
        ENTRY(bevel),
    },
};
const size_t trn_formulas_gear_count = TRN_COUNT(trn_formulas_gear);

const trn_source trn_sources_gear[] = {
    {"GEAR-BUDYNAS",
     "Budynas and Nisbett, Mechanical Engineering Design, solutions to ch. 13, 8th ed.",
     "published"},
    {"GEAR-JINDAL",
     "Jindal, Machine Design, ch. 26 and 27, as worked in its open companion notebook",
     "published"},
    {"GEAR-NORMAL", "components of the tooth normal in space", "derived"},
};
const size_t trn_sources_gear_count = TRN_COUNT(trn_sources_gear);
