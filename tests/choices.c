/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Table of choices: whole, readable from where each number stands, and the same in the manual. */
#include <trunnion/choices.h>

#include <criterion/criterion.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support.h"

static void number(double x, const char *unit, char *out, size_t size)
{
    bool bare = strcmp(unit, "1") == 0 || unit[0] == '\0';
    if (isnan(x))
        (void)snprintf(out, size, "-");
    else
        (void)snprintf(out, size, "%g%s%s", x, bare ? "" : " ", bare ? "" : unit);
}

static void spread(const trn_choice *c, char *out, size_t size)
{
    static const char *const kinds[] = {"-", "lognormal", "normal", "uniform"};
    char text[40];
    number(c->spread.size, c->spread.kind == TRN_SPREAD_LOGNORMAL ? "1" : c->unit, text,
           sizeof text);
    if (c->spread.kind == TRN_SPREAD_NONE)
        (void)snprintf(out, size, "-");
    else
        (void)snprintf(out, size, "%s %s", kinds[c->spread.kind], text);
}

static void row(size_t i, char *out, size_t size)
{
    const trn_choice *c = trn_choice_at(i);
    char value[40];
    char width[60];
    number(trn_choice_value((trn_choice_id)i), c->unit, value, sizeof value);
    spread(c, width, sizeof width);
    (void)snprintf(out, size, "| `%s` | %s | %s | %s | %s |\n", c->name, c->what, value, width,
                   c->reason);
}

static char *page(void)
{
    char path[512];
    (void)snprintf(path, sizeof path, "%s/../docs/interval.md", test_root());
    FILE *file = fopen(path, "rb");
    cr_assert_not_null(file, "%s", path);
    static char text[200000];
    size_t n = fread(text, 1, sizeof text - 1, file);
    (void)fclose(file);
    text[n] = '\0';
    return text;
}

Test(choices, the_manual_prints_the_table_as_it_is)
{
    const char *text = page();
    size_t rows = 0;
    for (size_t i = 0; i < TRN_CHOICE_COUNT; i++) {
        char want[512];
        row(i, want, sizeof want);
        cr_expect_not_null(strstr(text, want), "docs/interval.md lacks the row\n%s", want);
    }
    const char *start = strstr(text, "### Choices");
    cr_assert_not_null(start);
    const char *end = strstr(start, "\n\n| class");
    for (const char *p = start; p && (!end || p < end); p = strstr(p + 1, "\n| `"))
        rows++;
    cr_expect_eq(rows - 1, TRN_CHOICE_COUNT, "%zu rows", rows - 1);
}

Test(choices, the_manual_prints_the_dust_classes)
{
    const char *text = page();
    for (size_t i = 0; trn_dust_class_at(i); i++) {
        const trn_dust_class *c = trn_dust_class_at(i);
        char want[256];
        (void)snprintf(want, sizeof want, "| %s | %g | %g | %s |\n", c->name, c->median_mg_m3,
                       c->gsd, c->typical);
        cr_expect_not_null(strstr(text, want), "docs/interval.md lacks the row\n%s", want);
    }
}

Test(choices, every_row_is_whole_and_its_number_is_found)
{
    for (size_t i = 0; i < TRN_CHOICE_COUNT; i++) {
        const trn_choice *c = trn_choice_at(i);
        cr_assert_not_null(c->name, "row %zu", i);
        cr_expect(c->what && c->reason && c->unit, "%s", c->name);
        cr_expect(!c->formula || isfinite(trn_choice_value((trn_choice_id)i)),
                  "%s: %s has no default of %s", c->name, c->formula, c->symbol);
        for (size_t k = 0; k < i; k++)
            cr_expect_str_neq(c->name, trn_choice_at(k)->name);
    }
    cr_expect_null(trn_choice_at(TRN_CHOICE_COUNT));
    cr_expect(isnan(trn_choice_value(TRN_CHOICE_COUNT)));
    cr_expect_eq(trn_choice_value(TRN_CHOICE_X), 0.08);
    cr_expect_eq(trn_choice_value(TRN_CHOICE_DRYING), 0.02);
    cr_expect_eq(trn_choice_value(TRN_CHOICE_FLOOR), 0.1);
}

Test(choices, gsd_runs_through_the_classes)
{
    for (size_t i = 0; trn_dust_class_at(i); i++)
        cr_expect_eq(trn_dust_gsd(trn_dust_class_at(i)->median_mg_m3), trn_dust_class_at(i)->gsd);
    /* derived: geometric middle of two classes is the mean of their GSD */
    cr_expect(test_near(trn_dust_gsd(sqrt(3 * 15.0)), 2.25, 1e-14));
    cr_expect_eq(trn_dust_gsd(0), 2);
    cr_expect_eq(trn_dust_gsd(2385), 3);
    cr_expect(isnan(trn_dust_gsd(NAN)));
    cr_expect_not_null(trn_dust_class_find("severe"));
    cr_expect_null(trn_dust_class_find("Severe"));
}

Test(choices, spreads_give_the_median_at_zero_and_rise)
{
    static const trn_spread all[] = {{TRN_SPREAD_LOGNORMAL, 1.33},
                                     {TRN_SPREAD_NORMAL, 0.7},
                                     {TRN_SPREAD_UNIFORM, 0.7}};
    for (size_t i = 0; i < 3; i++) {
        cr_expect_eq(trn_spread_draw(2.385, all[i], 0), 2.385);
        cr_expect_gt(trn_spread_draw(2.385, all[i], 0.3), trn_spread_draw(2.385, all[i], 0.2));
    }
    cr_expect(test_near(trn_spread_draw(2.385, all[0], -1), 2.385 / 1.33, 1e-14));
    cr_expect(test_near(trn_spread_draw(2.385, all[2], 9), 3.085, 1e-9));
    cr_expect_eq(trn_spread_draw(2.385, (trn_spread){TRN_SPREAD_NONE, 5}, 1.7), 2.385);
}

Test(choices, dust_of_moist_soil)
{
    double c = 2.385;
    cr_expect_eq(trn_dust_of_soil(15, 6, &c), TRN_OK);
    cr_expect(test_near(c, 15, 1e-14));
    cr_expect_eq(trn_dust_of_soil(15, 12, &c), TRN_OK);
    cr_expect(test_near(c, 7.5, 1e-14));
    cr_expect_eq(trn_dust_of_soil(15, 1, &c), TRN_R_OUTSIDE);
    cr_expect(test_near(c, 45, 1e-14));
    cr_expect_eq(trn_dust_of_soil(15, 0, &c), TRN_E_DOMAIN);
    cr_expect(test_near(c, 45, 1e-14));
}
