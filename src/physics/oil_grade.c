/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Grades and codes of oils: the printed tables, and the generic oils of the starter case. */
#include <math.h>
#include <trunnion/oil.h>

static const double mm2 = 1e-6;   /* m2 */
static const double slack = 1e-9; /* limits that went through unit conversion still hold */

#define COUNT(array) (sizeof(array) / sizeof(array)[0])

const char *const trn_oil_gear_grades[] = {"none", "65",  "70",  "75",  "80",  "85",
                                           "90",   "110", "140", "190", "250", NULL};

/* J306 (published): kv100 from which a grade holds, mm2/s, in the order of the names; the
 * edition of 2005 begins at 80 */
static const double gear_2019[] = {3.8, 5.0, 6.5, 8.5, 11.0, 13.5, 18.5, 24.0, 32.5, 41.0};
static const double gear_2005[] = {7.0, 11.0, 13.5, 18.5, 24.0, 32.5, 41.0};

trn_status trn_oil_gear_grade(double kv100_m2s, int edition, size_t *grade)
{
    double kv = kv100_m2s / mm2;
    if (!isfinite(kv) || !(kv > 0) || (edition != 2019 && edition != 2005))
        return TRN_E_DOMAIN;
    const double *from = edition == 2019 ? gear_2019 : gear_2005;
    size_t count = edition == 2019 ? COUNT(gear_2019) : COUNT(gear_2005);
    size_t passed = 0;
    while (passed < count && kv >= from[passed] * (1 - slack))
        passed++;
    /* both tables end with the same grade, so places are counted from the end */
    *grade = passed ? COUNT(gear_2019) - count + passed : 0;
    return TRN_OK;
}

const char *const trn_oil_vg_grades[] = {
    "none",   "VG 2",   "VG 3",   "VG 5",   "VG 7",   "VG 10",   "VG 15",
    "VG 22",  "VG 32",  "VG 46",  "VG 68",  "VG 100", "VG 150",  "VG 220",
    "VG 320", "VG 460", "VG 680", "VG 1000", "VG 1500", "VG 2200", "VG 3200", NULL};

/* ISO3448: printed limits, mm2/s at 40 degC, both inclusive (published to VG 1500, then memory) */
static const struct {
    double from, to;
} vg_bands[] = {
    {1.98, 2.42}, {2.88, 3.52}, {4.14, 5.06}, {6.12, 7.48}, {9.00, 11.0},
    {13.5, 16.5}, {19.8, 24.2}, {28.8, 35.2}, {41.4, 50.6}, {61.2, 74.8},
    {90.0, 110},  {135, 165},   {198, 242},   {288, 352},   {414, 506},
    {612, 748},   {900, 1100},  {1350, 1650}, {1980, 2420}, {2880, 3520},
};

trn_status trn_oil_vg(double kv40_m2s, size_t *grade)
{
    double kv = kv40_m2s / mm2;
    if (!isfinite(kv) || !(kv > 0))
        return TRN_E_DOMAIN;
    size_t place = 0;
    for (size_t i = 0; i < COUNT(vg_bands); i++)
        if (kv >= vg_bands[i].from * (1 - slack) && kv <= vg_bands[i].to * (1 + slack))
            place = i + 1;
    *grade = place;
    return TRN_OK;
}

/* OIL-ISO4406: upper limits, particles per mL, of code 0 upward (10 to 24 published, others
 * memory). The printed limits are rounded: powers of two would be up to 5 % elsewhere. */
static const double code_limits[] = {
    0.01,  0.02,  0.04,  0.08,  0.16,   0.32,   0.64,   1.3,    2.5,     5,
    10,    20,    40,    80,    160,    320,    640,    1300,   2500,    5000,
    10000, 20000, 40000, 80000, 160000, 320000, 640000, 1300000, 2500000,
};

trn_status trn_oil_code(double dust_kgm3, int *code)
{
    const double per_ml = 24e3; /* ISO12103: 24 particles above 14 um per mL and mg/L */
    double n = per_ml * dust_kgm3;
    if (!(n >= 0) || !(n <= code_limits[COUNT(code_limits) - 1] * (1 + slack)))
        return TRN_E_DOMAIN;
    int place = 0;
    while (n > code_limits[place] * (1 + slack))
        place++;
    *code = place;
    return TRN_OK;
}

/* Ranges from memory; index by D2270 from the pair, kv100 of the VG mineral oils from index 95.
 * Anchors of life are a choice: drain tables of gear-unit manuals span 1400 to 10000 h (mineral)
 * and 8000 to 20000 h (synthetic) at 80 degC. */
static const trn_oil_data generic[] = {
    {"80W-90 EP", TRN_OIL_MINERAL, 142, 14.5, 100, 895, 4000, 80, {130, 150}, {14, 15}, {888, 900},
     "pour point -24 to -30 degC"},
    {"85W-140 EP", TRN_OIL_MINERAL, 360, 26, 96, 903, 4000, 80, {320, 410}, {25, 28}, {898, 910},
     "pour point -12 to -18 degC"},
    {"75W-90 EP synthetic", TRN_OIL_PAO, 103, 15.0, 152, 865, 15000, 80, {90, 115}, {14.5, 15.8},
     {855, 880}, "pour point -42 to -54 degC"},
    {"VG 150 EP", TRN_OIL_MINERAL, 150, 14.55, 95, 892, 4000, 80, {135, 165}, {0, 0}, {0, 0},
     "kv100 from index 95"},
    {"VG 220 EP", TRN_OIL_MINERAL, 220, 18.75, 95, 895, 4000, 80, {198, 242}, {0, 0}, {0, 0},
     "kv100 from index 95"},
    {"VG 320 EP", TRN_OIL_MINERAL, 320, 23.96, 95, 899, 4000, 80, {288, 352}, {0, 0}, {0, 0},
     "kv100 from index 95"},
    {"VG 220 synthetic", TRN_OIL_PAO, 220, 25.9, 150, 860, 15000, 80, {0, 0}, {0, 0}, {0, 0},
     "index 140 to 165"},
    {"VG 220 polyglycol", TRN_OIL_PAG, 220, 36.5, 217, 1050, 15000, 80, {0, 0}, {0, 0},
     {1000, 1080}, "index 200 to 240; mixes with no other base"},
    {"VG 220 ester", TRN_OIL_ESTER, 220, 26, 151, 940, 4000, 80, {0, 0}, {0, 0}, {910, 980},
     "esters differ widely"},
};

const trn_oil_data *trn_oil_generic(size_t i)
{
    return i < COUNT(generic) ? &generic[i] : NULL;
}
