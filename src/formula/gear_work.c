/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Diameters and levels of gears. */
#include <math.h>

#include "catalogue.h"

static bool positive(double x)
{
    return x > 0 && isfinite(x);
}

/* ---- gear.diameter ------------------------------------------------------------------------ */

static const trn_symbol diameter_in[] = {
    REQ("z", "1", "1", "(0,inf)", "teeth"),
    REQ("m", "mm", "m", "(0,inf)", "module: normal, bevel outer transverse"),
    DEF("beta", "deg", "rad", "(-60,60)", "0", "helix angle; bevel: 0"),
};
static const trn_symbol diameter_out[] = {
    OUT("d", "mm", "m", "pitch diameter, bevel at the outer end"),
    OUT("m_t", "mm", "m", "transverse module"),
};

static trn_status diameter_call(const trn_value *in, trn_value *out)
{
    const double limit = 3.14159265358979323846 / 3;
    if (!positive(in[0].x) || !positive(in[1].x) || !(fabs(in[2].x) < limit))
        return TRN_E_DOMAIN;
    out[1].x = in[1].x / cos(in[2].x);
    out[0].x = in[0].x * out[1].x;
    return TRN_OK;
}

/* ---- gear.level --------------------------------------------------------------------------- */

static const trn_symbol level_in[] = {
    REQ("d", "mm", "m", "(0,inf)", "pitch diameter, bevel at the outer end"),
    REQ("m", "mm", "m", "(0,inf)", "module"),
    DEF("delta", "deg", "rad", "[0,180)", "0", "cone angle; cylindrical: 0"),
    REQ("dip", "mm", "m", "[0,inf)", "depth of the lowest tooth tip below the oil"),
};
static const trn_symbol level_out[] = {
    OUT("D", "mm", "m", "tip diameter"),
    OUT("h", "mm", "m", "depth of the pitch circle"),
    OUT("share", "1", "1", "dip over tip diameter, at most 1"),
};

static trn_status level_call(const trn_value *in, trn_value *out)
{
    if (!positive(in[0].x) || !positive(in[1].x) || !(in[2].x >= 0) || !(in[3].x >= 0) ||
        !isfinite(in[2].x) || !isfinite(in[3].x))
        return TRN_E_DOMAIN;
    double tip = in[1].x * cos(in[2].x);
    out[0].x = 2 * (in[0].x / 2 + tip);
    out[1].x = fmin(fmax(0, in[3].x - tip), in[0].x);
    out[2].x = fmin(1, in[3].x / out[0].x);
    return TRN_OK;
}

/* ---- table -------------------------------------------------------------------------------- */

const trn_formula trn_formulas_gear_work[] = {
    {
        .name = "gear.diameter",
        .what = "pitch diameter of a gear",
        .equation = "m_t = m/cos beta; d = z m_t",
        .validity = "z, m > 0, |beta| < 60 deg; no profile shift",
        .source = "GEAR-BUDYNAS (ch. 13)",
        .standing = "published",
        .example = "z=27 m=4mm beta=14deg",
        ENTRY(diameter),
    },
    {
        .name = "gear.level",
        .what = "how deep a gear stands in the oil",
        .equation = "D = d + 2 m cos delta; h = dip - m cos delta, 0 to d; share = dip/D, to 1",
        .validity = "d, m > 0, dip >= 0; addendum one module, the oil at rest",
        .source = "GEAR-NORMAL",
        .standing = "derived",
        .example = "d=137.5mm m=5.5mm delta=52.8deg dip=36mm",
        ENTRY(level),
    },
};
const size_t trn_formulas_gear_work_count = TRN_COUNT(trn_formulas_gear_work);

const trn_source trn_sources_gear_work[] = {{0}};
const size_t trn_sources_gear_work_count = 0;
