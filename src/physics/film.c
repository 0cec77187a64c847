/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <trunnion/film.h>

#include "constant_tables.h"

/* ellipticity of four digits, Hamrock and Brewe 1983, from memory */
static double ellipticity_factor = 1.0339;
static double ellipticity_exponent = 0.636;

static const double slack = 1e-9; /* limits that went through unit conversion still hold */

static int positive(double x)
{
    return isfinite(x) && x > 0;
}

trn_status trn_film_thickness(trn_film_contact contact, double *h_m)
{
    if (!positive(contact.eta_pas) || !positive(contact.u_mps) ||
        !positive(contact.alpha_per_pa) || !positive(contact.e_red_pa) ||
        !positive(contact.rx_m) || !positive(contact.ry_m) || !positive(contact.load_n))
        return TRN_E_DOMAIN;
    double e = contact.e_red_pa;
    double rx = contact.rx_m;
    double speed = contact.eta_pas * contact.u_mps / (e * rx);
    double material = contact.alpha_per_pa * e;
    double load = contact.load_n / (e * rx * rx);
    double k = ellipticity_factor * pow(contact.ry_m / rx, ellipticity_exponent);      /* HB1983 */
    double h = 3.63 * rx * pow(speed, 0.68) * pow(material, 0.49) * pow(load, -0.073) *
               -expm1(-0.68 * k); /* HD1977 */
    if (!positive(h))
        return TRN_E_DOMAIN;
    *h_m = h;
    if (!(contact.ry_m >= rx * (1 - slack)))
        return TRN_R_WEAR_FLAT;
    return k <= 8 * (1 + slack) ? TRN_OK : TRN_R_WEAR_LINE;
}

trn_status trn_film_lambda(double h_m, double rq1_m, double rq2_m, double *lambda)
{
    double rough = hypot(rq1_m, rq2_m);
    if (!isfinite(h_m) || !(h_m >= 0) || !(rq1_m >= 0) || !(rq2_m >= 0) || !positive(rough))
        return TRN_E_DOMAIN;
    *lambda = h_m / rough; /* WEAR-LAMBDA */
    return TRN_OK;
}

trn_status trn_film_reduced_modulus(double e1_pa, double v1, double e2_pa, double v2,
                                    double *e_red_pa)
{
    if (!positive(e1_pa) || !positive(e2_pa) || !(v1 > -1) || !(v1 <= 0.5) || !(v2 > -1) ||
        !(v2 <= 0.5))
        return TRN_E_DOMAIN;
    *e_red_pa = 2 / ((1 - v1 * v1) / e1_pa + (1 - v2 * v2) / e2_pa); /* HD1977 */
    return TRN_OK;
}

trn_status trn_film_bearing_speed(double n_rads, double pitch_m, double element_m, double *u_mps)
{
    if (!positive(n_rads) || !positive(element_m) || !isfinite(pitch_m) ||
        !(pitch_m > element_m))
        return TRN_E_DOMAIN;
    *u_mps = n_rads * (pitch_m - element_m) * (pitch_m + element_m) / (4 * pitch_m);
    return TRN_OK;
}

trn_status trn_film_inlet_heating(double n_rads, double mean_m, double nu_m2s, double *factor)
{
    if (!positive(n_rads) || !positive(mean_m) || !positive(nu_m2s))
        return TRN_E_DOMAIN;
    double ndm = n_rads / 0.10471975511965977462 * (mean_m / 1e-3); /* rev/min and mm */
    double heating = 1.84e-9 * pow(ndm, 1.28) * pow(nu_m2s / 1e-6, 0.64); /* WEAR-INLET */
    if (!isfinite(heating))
        return TRN_E_DOMAIN;
    *factor = 1 / (1 + heating);
    return TRN_OK;
}

/* ---- recalled, not yet compared with the printed source -------------------------------------- */

const trn_constant trn_constants_film[] = {
    {"film.ellipticity.factor", "Hamrock and Brewe 1983", "ellipticity", "factor of k", "1",
     "wear.film", &ellipticity_factor},
    {"film.ellipticity.exponent", "Hamrock and Brewe 1983", "ellipticity", "exponent of Ry/Rx", "1",
     "wear.film", &ellipticity_exponent},
};
const size_t trn_constants_film_count =
    sizeof trn_constants_film / sizeof trn_constants_film[0];
