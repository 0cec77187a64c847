/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a review says of findings that no life model covers. */
#include <stdlib.h>
#include <string.h>
#include <trunnion/review_outside.h>

#include "review_rows.h"

/* Signs that a shaft standing on itself leaves, of the list of failure.csv: judgement. */
static const char *const fitting[] = {"plastic_flow", "trunnion_end_wear"};
enum { FITTING = sizeof fitting / sizeof fitting[0] };

static void add_word(trn_buffer *list, const char *word)
{
    trn_buffer_print(list, "%s%s", list->length ? ", " : "", word);
}

/* Damage signs of a part that fit, and those that would. */
static void signs(const review_page *page, size_t part)
{
    const trn_failure *f = page->v->parts[part].failure;
    trn_buffer seen = {0};
    trn_buffer open = {0};
    for (size_t k = 0; k < FITTING; k++) {
        bool has = false;
        for (size_t i = 0; i < f->sign.n; i++)
            has = has || strcmp(f->sign.v[i], fitting[k]) == 0;
        add_word(has ? &seen : &open, fitting[k]);
    }
    if (seen.text)
        review_item(page, "    ", "signs recorded on %s that such a push leaves: %s",
                    page->v->parts[part].name, seen.text);
    if (open.text)
        review_item(page, "    ", "not recorded on %s, to be looked for: %s",
                    page->v->parts[part].name, open.text);
    page->out->failed = page->out->failed || seen.failed || open.failed;
    trn_buffer_free(&seen);
    trn_buffer_free(&open);
}

static void touches(const review_page *page, size_t shaft)
{
    const char *name = page->v->machine->shafts[shaft].shaft;
    for (size_t p = 0; p < page->v->part_count; p++) {
        const char *part = page->v->parts[p].name;
        trn_outside_touch touch = trn_review_touch(page->v, shaft, p);
        if (touch == TRN_TOUCH_ITSELF)
            review_item(page, "    ", "%s is the failed part", name);
        else if (touch == TRN_TOUCH_AXLE)
            review_item(page, "    ", "%s is attached to the axle that the failed %s carries", name,
                        part);
        else if (touch == TRN_TOUCH_GEARBOX)
            review_item(page, "    ", "%s is on the gearbox of the failed %s", name, part);
        if (touch != TRN_TOUCH_NONE)
            signs(page, p);
    }
}

/* Explanations under which it is not so, where the case has it; all under which it is, else. */
static void under(const review_page *page, const trn_outside *list, size_t n, const trn_outside *o)
{
    trn_buffer with = {0};
    trn_buffer without = {0};
    for (size_t e = 0; e < page->v->explanation_count; e++) {
        bool found = false;
        if (e > 0 && !page->v->explanations[e].departs)
            continue;
        for (size_t i = 0; i < n; i++)
            found = found || (list[i].explanation == e && list[i].kind == o->kind &&
                              list[i].shaft == o->shaft);
        add_word(found ? &with : &without, page->v->explanations[e].name);
    }
    if (!without.text)
        review_item(page, "    ", "so under every explanation listed");
    else if (o->explanation == 0)
        review_item(page, "    ", "not so under: %s", without.text);
    else
        review_item(page, "    ", "not in the case as specified; so under: %s",
                    with.text ? with.text : "");
    page->out->failed = page->out->failed || with.failed || without.failed;
    trn_buffer_free(&with);
    trn_buffer_free(&without);
}

static void finding(const review_page *page, const trn_outside *list, size_t n,
                    const trn_outside *o)
{
    const char *shaft = page->v->machine->shafts[o->shaft].shaft;
    if (o->kind == TRN_OUTSIDE_BOTTOMS)
        review_item(page, "  - ",
                    "THE SHAFT BOTTOMS: %s has %.3g mm of push-in travel left in `%s` (PTO %s), where "
                    "%.3g mm are asked for (shaft.fit). Its halves stand on each other and press on "
                    "crosses, axles and bearings at both ends with whatever lift, hitch or bump can "
                    "bring to bear: a fault that no life covers, and that standing still is enough for.",
                    shaft, o->travel_mm, o->place, o->turns ? "on" : "off", o->needed_mm);
    else
        review_item(page, "  - ",
                    "THE TUBES PART: %s has %.3g mm of overlap left in `%s`, where %.3g mm are asked for "
                    "(shaft.fit). What the halves do to crosses and bearings then is in no life.",
                    shaft, o->travel_mm, o->place, o->needed_mm);
    touches(page, o->shaft);
    under(page, list, n, o);
}

/* The findings, and each of them told once: the first of its shaft and kind. */
static size_t find(const review_page *page, trn_outside **list)
{
    size_t n = 0;
    trn_faults faults = {0};
    *list = NULL;
    trn_status status = trn_review_outside(page->v, &faults, list, &n);
    trn_faults_free(&faults);
    page->out->failed = page->out->failed || status == TRN_E_MEMORY;
    return status == TRN_OK ? n : 0;
}

static bool told(const trn_outside *list, size_t i)
{
    for (size_t k = 0; k < i; k++)
        if (list[k].kind == list[i].kind && list[k].shaft == list[i].shaft)
            return true;
    return false;
}

void review_outside(const review_page *page)
{
    trn_outside *list = NULL;
    size_t n = find(page, &list);
    if (n > 0) {
        review_head(page, "Outside the life models");
        for (size_t i = 0; i < n; i++)
            if (!told(list, i))
                finding(page, list, n, &list[i]);
        review_say(page, "No life and no factor on this page holds this: explanations may differ by it "
                         "and yet show the same numbers. Measure it before anything else: closed "
                         "length, marks at the ends of both tubes, the shortest distance of the "
                         "joints.");
    }
    free(list);
}

void review_outside_alternatives(const review_page *page)
{
    trn_outside *list = NULL;
    size_t n = find(page, &list);
    for (size_t i = 0; i < n; i++)
        if (!told(list, i))
            review_item(page, "  ", "outside the life models, %s: %s; the hours say nothing about it",
                        page->v->machine->shafts[list[i].shaft].shaft,
                        list[i].kind == TRN_OUTSIDE_BOTTOMS ? "the shaft bottoms" : "the tubes part");
    free(list);
}
