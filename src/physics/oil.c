/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <trunnion/oil.h>

#include "constant_tables.h"

/* from memory: D1250, Cragoe */
static double expansion = 0.6278, expansion_second = 0.8;
static double heat_capacity_0 = 1685, heat_capacity_slope = 3.39;

static const double mm2 = 1e-6; /* m2 */
static const double ppm = 1e-6;
static const double ice_k = 273.15;
static const double slack = 1e-9; /* limits that went through unit conversion still hold */
static const double ten = 2.30258509299404568402; /* ln 10 */

/* Guards and ranges are written so that NaN fails them. */
static int positive(double x)
{
    return isfinite(x) && x > 0;
}

static int not_negative(double x)
{
    return isfinite(x) && x >= 0;
}

/* positive limits only */
static int within(double x, double low, double high)
{
    return x >= low * (1 - slack) && x <= high * (1 + slack);
}

static int within_degc(double t_k, double low, double high)
{
    return within(t_k, low + ice_k, high + ice_k);
}

/* ---- viscosity ---------------------------------------------------------------------------- */

static const double least = 0.21, most = 2e7; /* D341: span of the chart, mm2/s */

/* D341, equation 1: the exponential is natural and kept at every viscosity, so that there is no
 * step where it fades and the two points come back */
static double fade(double nu)
{
    return exp(-1.47 - 1.84 * nu - 0.51 * nu * nu);
}

static double chart(double nu)
{
    return log10(log10(nu + 0.7 + fade(nu)));
}

trn_status trn_oil_line_fit(double kv40_m2s, double kv100_m2s, trn_oil_line *line)
{
    double kv40 = kv40_m2s / mm2;
    double kv100 = kv100_m2s / mm2;
    if (!isfinite(kv40) || !(kv40 > kv100) || !(kv100 >= least * (1 - slack)))
        return TRN_E_DOMAIN;
    double w40 = chart(kv40);
    double b = (w40 - chart(kv100)) / log10(373.15 / 313.15); /* D341, equation 2 */
    *line = (trn_oil_line){.a = w40 + b * log10(313.15), .b = b};
    return TRN_OK;
}

trn_status trn_oil_line_viscosity(trn_oil_line line, double t_k, double *nu_m2s)
{
    if (!positive(t_k) || !isfinite(line.a) || !isfinite(line.b))
        return TRN_E_DOMAIN;
    double z = exp(ten * exp(ten * (line.a - line.b * log10(t_k))));
    if (!(z < 2 * most))
        return TRN_E_DOMAIN;
    double x = z - 0.7;
    double nu = x - exp(-0.7487 + x * (-3.295 + x * (0.6119 - 0.3193 * x))); /* D341, eq. 3 */
    for (int i = 0; i < 8; i++) { /* two or three steps are enough */
        double e = fade(nu);
        double step = (nu + 0.7 + e - z) / (1 - (1.84 + 1.02 * nu) * e);
        nu -= step;
        if (!(fabs(step) > 4e-16 * nu))
            break;
    }
    if (!within(nu, least, most))
        return TRN_E_DOMAIN;
    *nu_m2s = nu * mm2;
    return TRN_OK;
}

trn_status trn_oil_viscosity(double kv40_m2s, double kv100_m2s, double t_k, double *nu_m2s)
{
    trn_oil_line line;
    trn_status status = trn_oil_line_fit(kv40_m2s, kv100_m2s, &line);
    return status < 0 ? status : trn_oil_line_viscosity(line, t_k, nu_m2s);
}

/* ---- properties --------------------------------------------------------------------------- */

trn_status trn_oil_density(double rho15_kgm3, double t_k, double *rho_kgm3)
{
    if (!positive(rho15_kgm3) || !positive(t_k))
        return TRN_E_DOMAIN;
    double x = expansion / rho15_kgm3 * (t_k - 288.15);
    double rho = rho15_kgm3 * exp(-x * (1 + expansion_second * x)); /* D1250 */
    if (!isfinite(rho))
        return TRN_E_DOMAIN;
    *rho_kgm3 = rho;
    return within(rho15_kgm3, 800, 1164) && within_degc(t_k, -20, 150) ? TRN_OK
                                                                       : TRN_R_OIL_DENSITY;
}

trn_status trn_oil_heat_capacity(double rho15_kgm3, double t_k, double *cp_jkgk)
{
    if (!positive(rho15_kgm3) || !positive(t_k))
        return TRN_E_DOMAIN;
    double cp = (heat_capacity_0 + heat_capacity_slope * (t_k - ice_k)) / sqrt(rho15_kgm3 / 1000); /* CRAGOE */
    if (!positive(cp))
        return TRN_E_DOMAIN;
    *cp_jkgk = cp;
    return within_degc(t_k, 0, 150) ? TRN_OK : TRN_R_OIL_HEAT_CAPACITY;
}

const char *const trn_oil_bases[] = {"mineral", "pao", "ester", "pag", NULL};

/* GOLD (memory): alpha = s nu^t, 1/GPa and mm2/s */
static struct {
    double s, t;
} gold[TRN_OIL_BASES] = {
    [TRN_OIL_MINERAL] = {9.904, 0.1390},
    [TRN_OIL_PAO] = {7.382, 0.1335},
    [TRN_OIL_ESTER] = {6.605, 0.1360},
    [TRN_OIL_PAG] = {5.489, 0.1485},
};

trn_status trn_oil_pressure_viscosity(double nu_m2s, trn_oil_base base, double *alpha_per_pa)
{
    double nu = nu_m2s / mm2;
    if (!positive(nu) || (size_t)base >= TRN_OIL_BASES)
        return TRN_E_DOMAIN;
    *alpha_per_pa = gold[base].s * pow(nu, gold[base].t) * 1e-9;
    return within(nu, 3, 1000) ? TRN_OK : TRN_R_OIL_ALPHA;
}

/* ---- life --------------------------------------------------------------------------------- */

trn_status trn_oil_ageing_life(double ref_s, double ref_k, double t_k, double *life_s)
{
    if (!positive(ref_s) || !positive(ref_k) || !positive(t_k))
        return TRN_E_DOMAIN;
    double life = ref_s * pow(10, 4750 * (1 / t_k - 1 / ref_k)); /* KB2003 */
    if (!positive(life))
        return TRN_E_DOMAIN;
    *life_s = life;
    return within_degc(t_k, 40, 150) && within_degc(ref_k, 40, 150) ? TRN_OK : TRN_R_OIL_AGEING;
}

trn_status trn_oil_water_life(double x, double *relative, int *extrapolated)
{
    if (!positive(x))
        return TRN_E_DOMAIN;
    *relative = pow(100 * ppm / x, 0.6); /* CANTLEY */
    *extrapolated = !within(x, 25 * ppm, 400 * ppm);
    return *extrapolated ? TRN_R_OIL_WATER : TRN_OK;
}

/* ---- balance of a sump -------------------------------------------------------------------- */

/* (1 - exp(-y))/y: keeps every digit where the loss is tiny */
static double build_up(double y)
{
    return y > 0 ? -expm1(-y) / y : 1;
}

static int sump_rates(trn_oil_sump sump)
{
    return positive(sump.oil_kg) && not_negative(sump.leak_kgs) && not_negative(sump.fresh) &&
           not_negative(sump.removal_per_s);
}

trn_status trn_oil_contamination(trn_oil_sump sump, double t_s, double *content, double *limit)
{
    if (!sump_rates(sump) || !not_negative(sump.source_kgs) || !not_negative(sump.start) ||
        !not_negative(t_s))
        return TRN_E_DOMAIN;
    double lam = sump.leak_kgs / sump.oil_kg + sump.removal_per_s;
    double in = sump.source_kgs + sump.leak_kgs * sump.fresh;
    double y = lam * t_s;
    double c = sump.start * exp(-y) + in * (t_s / sump.oil_kg) * build_up(y);
    if (!isfinite(c))
        return TRN_E_DOMAIN;
    *content = c;
    *limit = lam > 0 ? in / (sump.oil_kg * lam) : in > 0 ? INFINITY : sump.start;
    return TRN_OK;
}

trn_status trn_oil_source(trn_oil_sump sump, double first, double second, double t_s,
                          double *source_kgs)
{
    if (!sump_rates(sump) || !not_negative(first) || !not_negative(second) || !positive(t_s))
        return TRN_E_DOMAIN;
    double y = (sump.leak_kgs / sump.oil_kg + sump.removal_per_s) * t_s;
    double in = sump.oil_kg / t_s * (second - first * exp(-y)) / build_up(y);
    if (!isfinite(in))
        return TRN_E_DOMAIN;
    *source_kgs = in - sump.leak_kgs * sump.fresh;
    return TRN_OK;
}

trn_status trn_oil_leaking(trn_oil_sump sump, double t_s, double *content)
{
    if (!positive(sump.oil_kg) || !not_negative(sump.source_kgs) ||
        !not_negative(sump.leak_kgs) || !not_negative(sump.start) || !not_negative(t_s))
        return TRN_E_DOMAIN;
    double gone = sump.leak_kgs * t_s / sump.oil_kg;
    if (!(gone < 1))
        return TRN_E_DOMAIN;
    double growth = gone > 0 ? -log1p(-gone) / gone : 1; /* 1 for a leak too small to count */
    double c = sump.start + sump.source_kgs * t_s / sump.oil_kg * growth;
    if (!isfinite(c))
        return TRN_E_DOMAIN;
    *content = c;
    return TRN_OK;
}

trn_status trn_oil_residual_cycle(double oil_kg, double source_kgs, double interval_s,
                                  double share, double *start, double *end)
{
    if (!positive(oil_kg) || !not_negative(source_kgs) || !not_negative(interval_s) ||
        !(share >= 0) || !(share < 1))
        return TRN_E_DOMAIN;
    double last = source_kgs * interval_s / oil_kg / (1 - share);
    if (!isfinite(last))
        return TRN_E_DOMAIN;
    *start = share * last;
    *end = last;
    return TRN_OK;
}

/* ---- breathing ---------------------------------------------------------------------------- */

static const double swelling = 7e-4;    /* of oil, 1/K */
static const double gas_vapour = 461.5; /* J/kg/K */
static const double buck_pole = 240.97; /* BUCK: no vapour pressure at or below -240.97 degC */

trn_status trn_oil_breathing(trn_oil_box box, trn_oil_breath *breath)
{
    if (!positive(box.oil_m3) || !positive(box.air_m3) || !isfinite(box.hot_k) ||
        !(box.cold_k > ice_k - buck_pole) || !(box.hot_k >= box.cold_k * (1 - slack)) ||
        !not_negative(box.dust_kgm3) || !(box.humidity >= 0) || !(box.humidity <= 1 + slack))
        return TRN_E_DOMAIN;
    double rise = fmax(box.hot_k - box.cold_k, 0);
    double swell = swelling * box.oil_m3 * rise;
    if (!(swell <= box.air_m3 * (1 + slack)))
        return TRN_E_DOMAIN; /* the oil would leave by the vent */
    double cold = box.cold_k - ice_k;
    double e_s = 611.21 * exp(17.502 * cold / (buck_pole + cold)); /* BUCK */
    /* V_air - (V_air - dV) T_cold/T_hot without the difference of two near volumes */
    double inhaled = (box.air_m3 * rise + swell * box.cold_k) / (box.cold_k + rise);
    if (!isfinite(inhaled))
        return TRN_E_DOMAIN;
    *breath = (trn_oil_breath){
        .inhaled_m3 = inhaled,
        .dust_kg = inhaled * box.dust_kgm3,
        .water_kg = inhaled * box.humidity * e_s / (gas_vapour * box.cold_k),
    };
    return within_degc(box.cold_k, -20, 50) ? TRN_OK : TRN_R_OIL_VAPOUR;
}

/* ---- recalled, not yet compared with the printed source -------------------------------------- */

const trn_constant trn_constants_oil[] = {
    {"d1250.lubricant", "API MPMS 11.1; ASTM D1250", "lubricating-oil table",
     "K1 of the expansion", "kg/m3/K",
     "oil.density", &expansion},
    {"d1250.second", "API MPMS 11.1; ASTM D1250", "lubricating-oil table",
     "second-order factor", "1",
     "oil.density", &expansion_second},
    {"cragoe.cp0", "Cragoe 1929, NBS Misc. Publ. 97", "heat capacity",
     "value at 0 degC", "J/kg/K",
     "oil.heat_capacity", &heat_capacity_0},
    {"cragoe.slope", "Cragoe 1929, NBS Misc. Publ. 97", "heat capacity",
     "slope", "J/kg/K2",
     "oil.heat_capacity", &heat_capacity_slope},
    {"gold.mineral.s", "Gold et al. 2001", "pressure coefficient",
     "s of alpha = s nu^t, mineral", "1",
     "oil.pressure_viscosity", &gold[0].s},
    {"gold.mineral.t", "Gold et al. 2001", "pressure coefficient",
     "t of alpha = s nu^t, mineral", "1",
     "oil.pressure_viscosity", &gold[0].t},
    {"gold.pao.s", "Gold et al. 2001", "pressure coefficient",
     "s of alpha = s nu^t, pao", "1",
     "oil.pressure_viscosity", &gold[1].s},
    {"gold.pao.t", "Gold et al. 2001", "pressure coefficient",
     "t of alpha = s nu^t, pao", "1",
     "oil.pressure_viscosity", &gold[1].t},
    {"gold.ester.s", "Gold et al. 2001", "pressure coefficient",
     "s of alpha = s nu^t, ester", "1",
     "oil.pressure_viscosity", &gold[2].s},
    {"gold.ester.t", "Gold et al. 2001", "pressure coefficient",
     "t of alpha = s nu^t, ester", "1",
     "oil.pressure_viscosity", &gold[2].t},
    {"gold.pag.s", "Gold et al. 2001", "pressure coefficient",
     "s of alpha = s nu^t, pag", "1",
     "oil.pressure_viscosity", &gold[3].s},
    {"gold.pag.t", "Gold et al. 2001", "pressure coefficient",
     "t of alpha = s nu^t, pag", "1",
     "oil.pressure_viscosity", &gold[3].t},
};
const size_t trn_constants_oil_count =
    sizeof trn_constants_oil / sizeof trn_constants_oil[0];
