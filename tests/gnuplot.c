/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures: gnuplot run without a shell, and what comes back. */
#include <criterion/criterion.h>
#include <ctype.h>
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <trunnion/plot.h>
#include <unistd.h>

#include "plot_made.h"

static char folder[64];

/* The test's own working folder and folder of temporaries, to see what is left in them. */
static void set_up(void)
{
    (void)snprintf(folder, sizeof folder, "/tmp/trunnion-gnuplot-XXXXXX");
    cr_assert_not_null(mkdtemp(folder));
    cr_assert_eq(chdir(folder), 0);
    cr_assert_eq(setenv("TMPDIR", folder, 1), 0);
}

static size_t entries(void)
{
    DIR *dir = opendir(".");
    size_t n = 0;
    for (struct dirent *d; dir && (d = readdir(dir)) != NULL;)
        n += d->d_name[0] != '.';
    if (dir)
        (void)closedir(dir);
    return n;
}

static void tear_down(void)
{
    cr_expect_eq(entries(), 0, "something is left in %s", folder);
    (void)chdir("/");
    (void)rmdir(folder);
}

TestSuite(gnuplot, .init = set_up, .fini = tear_down, .timeout = 120);

static trn_buffer picture(const char *script, const char *format)
{
    trn_buffer bytes = {0};
    trn_faults faults = {0};
    trn_status status = trn_plot_run(script, format, &bytes, &faults);
    cr_assert_eq(status, TRN_OK, "status %d: %s", (int)status,
                 faults.kept ? faults.list[0].text : "");
    cr_expect_eq(faults.count, 0);
    return bytes;
}

static void expect_fault(const char *script, const char *format, unsigned seconds,
                         trn_status wanted, const char *words)
{
    trn_buffer bytes = {0};
    trn_faults faults = {0};
    trn_status status = trn_plot_run_within(script, format, seconds, &bytes, &faults);
    cr_expect_eq(status, wanted, "wanted %d, got %d", (int)wanted, (int)status);
    cr_assert_eq(faults.kept, 1);
    cr_expect_not_null(strstr(faults.list[0].text, words), "wanted `%s` in `%s`", words,
                       faults.list[0].text);
    cr_expect_null(bytes.text, "bytes were touched");
    trn_faults_free(&faults);
}

static void expect_svg(const trn_buffer *svg, const char *what)
{
    cr_expect(strncmp(svg->text, "<?xml", 5) == 0, "%s is no SVG", what);
    cr_expect_not_null(strstr(svg->text, "</svg>"), "%s is cut off", what);
}

Test(gnuplot, every_plot_of_a_report_repeats_byte_for_byte)
{
    trn_plots plots;
    cr_assert_eq(trn_plots_for_report(plot_made(NULL), &plots), TRN_OK);
    for (size_t i = 0; i < plots.n; i++) {
        trn_buffer first = picture(plots.list[i].script.text, "svg");
        trn_buffer second = picture(plots.list[i].script.text, "svg");
        expect_svg(&first, plots.list[i].name);
        cr_expect(first.length == second.length &&
                      memcmp(first.text, second.text, first.length) == 0,
                  "%s differs from run to run", plots.list[i].name);
        trn_buffer_free(&first);
        trn_buffer_free(&second);
    }
    trn_plots_free(&plots);
}

Test(gnuplot, png_on_request)
{
    trn_plots plots;
    cr_assert_eq(trn_plots_for_report(plot_made(NULL), &plots), TRN_OK);
    trn_buffer png = picture(plots.list[0].script.text, "png");
    cr_expect(png.length > 1000 && memcmp(png.text, "\x89PNG\r\n\x1a\n", 8) == 0);
    trn_buffer_free(&png);
    trn_plots_free(&plots);
}

Test(gnuplot, no_name_is_ever_run)
{
    static const char *const hostile[] = {"`touch marker`",
                                          "$(touch marker)",
                                          "'; system('touch marker'); '",
                                          "a\nEND\n!touch marker\n",
                                          "'\nset output '|touch marker'\n'",
                                          "\"`touch marker`\" @marker %s <b>&",
                                          "''two'''three'' '",
                                          "x'';system('touch marker');''y",
                                          "x''''.system('touch marker').'''",
                                          "ends in \\"};
    for (size_t i = 0; i < sizeof hostile / sizeof hostile[0]; i++) {
        trn_plots plots;
        cr_assert_eq(trn_plots_for_report(plot_made(hostile[i]), &plots), TRN_OK);
        for (size_t k = 0; k < plots.n; k++) {
            trn_buffer svg = picture(plots.list[k].script.text, "svg");
            expect_svg(&svg, plots.list[k].name);
            cr_expect_null(strstr(svg.text, "<b>"), "markup of a name reached the picture");
            trn_buffer_free(&svg);
        }
        cr_assert_eq(entries(), 0, "`%s` was run", hostile[i]);
        trn_plots_free(&plots);
    }
}

Test(gnuplot, a_name_is_seen_as_it_is)
{
    trn_plots plots;
    cr_assert_eq(trn_plots_for_report(plot_made("'it''s `a` $(b) \"c\" _d^e {f} 5 %g"), &plots),
                 TRN_OK);
    trn_buffer svg = picture(plots.list[0].script.text, "svg");
    cr_expect(strstr(svg.text, "'it''s `a` $(b) \"c\" _d^e {f} 5 %g p1<") ||
              strstr(svg.text, "'it''s `a` $(b) &quot;c&quot; _d^e {f} 5 %g p1<"));
    trn_buffer_free(&svg);
    trn_plots_free(&plots);
}

/* ---- layout --------------------------------------------------------------------------------- */

/* Position and text of the next label of a picture; NULL at the end. */
static const char *next_label(const char *p, double *x, double *y, char *anchor, char *text,
                              size_t size)
{
    static const char group[] = "<g transform=\"translate(";
    p = strstr(p, group);
    if (!p)
        return NULL;
    char *end = NULL;
    *x = strtod(p + sizeof group - 1, &end);
    *y = strtod(end + 1, NULL);
    const char *a = strstr(p, "text-anchor=\"");
    *anchor = a[strlen("text-anchor=\"")];
    const char *t = strstr(p, "<text>");
    cr_assert_not_null(t);
    t += strlen("<text>");
    size_t n = strcspn(t, "<");
    (void)snprintf(text, size, "%.*s", (int)(n < size ? n : size - 1), t);
    return t;
}

/* Labels of 40 columns of 7.5 px, the mean width of a wide face at 13 px, stay on the canvas. */
Test(gnuplot, labels_stay_on_the_canvas)
{
    trn_plots plots;
    cr_assert_eq(trn_plots_for_report(plot_made("a name of thirty-five letters abcdefg"), &plots),
                 TRN_OK);
    for (size_t i = 0; i < plots.n; i++) {
        trn_buffer svg = picture(plots.list[i].script.text, "svg");
        double width = strtod(strstr(svg.text, "width=\"") + 7, NULL);
        double height = strtod(strstr(svg.text, "height=\"") + 8, NULL);
        double x = 0;
        double y = 0;
        char anchor = 0;
        char text[256];
        const char *p = svg.text;
        size_t labels = 0;
        while ((p = next_label(p, &x, &y, &anchor, text, sizeof text)) != NULL) {
            double w = 7.5 * (double)strlen(text);
            double left = anchor == 's' ? x : anchor == 'e' ? x - w : x - w / 2;
            labels++;
            if (strcmp(text, "speed [rpm]") == 0 || strcmp(text, "oil temperature [degC]") == 0)
                continue; /* stands upright */
            cr_expect(left >= 0 && left + w <= width && y > 0 && y < height,
                      "%s: `%s` at %g, %g leaves %g x %g", plots.list[i].name, text, x, y, width,
                      height);
        }
        cr_expect_gt(labels, 8);
        trn_buffer_free(&svg);
    }
    trn_plots_free(&plots);
}

/* ---- what goes wrong ------------------------------------------------------------------------ */

Test(gnuplot, missing_is_said_clearly)
{
    cr_assert_eq(setenv("PATH", "/nonexistent", 1), 0);
    expect_fault("", "svg", 5, TRN_E_MISSING, "install the package gnuplot");
}

static void write_program(const char *path, const char *text)
{
    FILE *file = fopen(path, "wb");
    cr_assert_not_null(file);
    (void)fputs(text, file);
    (void)fclose(file);
    cr_assert_eq(chmod(path, 0700), 0);
}

Test(gnuplot, a_program_in_the_working_folder_is_not_run)
{
    write_program("gnuplot", "#!/bin/sh\necho run > plot\n");
    static const char *const paths[] = {".", "", ":/nonexistent:", "./", "relative:."};
    for (size_t i = 0; i < sizeof paths / sizeof paths[0]; i++) {
        cr_assert_eq(setenv("PATH", paths[i], 1), 0);
        expect_fault("", "svg", 5, TRN_E_MISSING, "not found in PATH");
    }
    (void)unlink("gnuplot");
}

Test(gnuplot, arguments_and_environment_are_bare)
{
    write_program("gnuplot", "#!/bin/sh\n/usr/bin/env > plot\necho \"$# $*\" >> plot\n"
                             "/bin/cat script >> plot\n");
    cr_assert_eq(setenv("PATH", folder, 1), 0);
    cr_assert_eq(setenv("GNUTERM", "secret", 1), 0);
    trn_buffer bytes = picture("a script", "svg");
    cr_expect_null(strstr(bytes.text, "secret"), "the environment got through");
    cr_expect_null(strstr(bytes.text, "TMPDIR"));
    cr_expect_not_null(strstr(bytes.text, "\n2 -d script\nformat = 'svg'\na script"));
    trn_buffer_free(&bytes);
    (void)unlink("gnuplot");
}

Test(gnuplot, its_own_words_reach_the_fault)
{
    expect_fault("set nonsense 5\n", "svg", 20, TRN_E_IO, "unrecognized option");
    expect_fault("x = 5\n", "svg", 20, TRN_E_IO, "it wrote no picture");
    expect_fault("", "pdf", 20, TRN_E_USAGE, "neither svg nor png");
}

Test(gnuplot, a_flood_of_words_is_cut)
{
    expect_fault("do for [i=1:20000] { printerr 'words words words words' }\nset nonsense\n",
                 "svg", 20, TRN_E_IO, "words words");
}

Test(gnuplot, time_is_limited)
{
    struct timespec begin, end;
    (void)clock_gettime(CLOCK_MONOTONIC, &begin);
    expect_fault("pause 60\n", "svg", 1, TRN_E_IO, "stopped after 1 s");
    (void)clock_gettime(CLOCK_MONOTONIC, &end);
    cr_expect_lt(end.tv_sec - begin.tv_sec, 10);
}

/* ---- for a page ----------------------------------------------------------------------------- */

static size_t count(const char *text, const char *word)
{
    size_t n = 0;
    for (const char *p = text; (p = strstr(p, word)) != NULL; p++)
        n++;
    return n;
}

Test(gnuplot, inside_a_page)
{
    trn_plots plots;
    cr_assert_eq(trn_plots_for_report(plot_made(NULL), &plots), TRN_OK);
    trn_buffer svg = picture(plots.list[4].script.text, "svg");
    trn_buffer page = {0};
    cr_assert_eq(trn_plot_inline(svg.text, "p4", "Losses", "a < b & \"c\" > d\n", &page), TRN_OK);
    static const char begins[] = "<svg role=\"img\" aria-labelledby=\"p4-title p4-desc\"";
    cr_expect(strncmp(page.text, begins, sizeof begins - 1) == 0);
    cr_expect_null(strstr(page.text, "<?xml"));
    cr_expect_not_null(strstr(page.text, "<title id=\"p4-title\">Losses</title>"));
    cr_expect_not_null(
        strstr(page.text, "<desc id=\"p4-desc\">a &lt; b &amp; &quot;c&quot; &gt; d </desc>"));
    cr_expect_eq(count(page.text, "<title"), 1);
    cr_expect_not_null(strstr(page.text, "viewBox="));
    size_t ids = count(page.text, " id='") + count(page.text, " id=\"");
    cr_expect_gt(ids, 10);
    cr_expect_eq(ids, count(page.text, " id='p4-") + count(page.text, " id=\"p4-"));
    cr_expect_eq(count(page.text, "href='#"), count(page.text, "href='#p4-"));
    cr_expect_eq(count(page.text, "url(#"), count(page.text, "url(#p4-"));
    cr_expect_gt(count(page.text, "url(#"), 0);
    cr_expect_eq(trn_plot_inline("no picture", "p4", "", "", &page), TRN_E_INPUT);
    trn_buffer_free(&svg);
    trn_buffer_free(&page);
    trn_plots_free(&plots);
}

/* Words of a name that look like attributes stay as they are. */
Test(gnuplot, inside_a_page_texts_are_left_alone)
{
    trn_buffer page = {0};
    cr_assert_eq(trn_plot_inline("<svg viewBox='0'><text>x id='a' url(#b)</text></svg>", "q", "t",
                                 "d", &page),
                 TRN_OK);
    cr_expect_not_null(strstr(page.text, "<text>x id='a' url(#b)</text></svg>"));
    trn_buffer_free(&page);
}
