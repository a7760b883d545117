/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* stock add and set: what is known of a bottle */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "oils/best.h"
#include "output/text.h"
#include "parse/number.h"
#include "parse/oil_spec.h"
#include "stock/commands.h"
#include "stock/details.h"
#include "store/bottle.h"
#include "store/stock.h"
#include "util/format.h"
#include "util/xalloc.h"

/* -- add --------------------------------------------------------------- */

static const struct command_option add_options[] = {BOTTLE_OPTIONS, {0}};

static enum exit_code read_new_bottle(const struct args *args,
                                      struct bottle *bottle,
                                      struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct oil_defaults defaults;
    if (args->count != 2) {
        return refuse(error,
                      "a name and a viscosity are wanted, such as midweight "
                      "stock add Elm 350");
    }
    if ((code = check_name(args->argument[0], error)) != EXIT_DONE ||
        (code = parse_oil_defaults(args->value[DETAIL_FAMILY],
                                   args->value[DETAIL_DENSITY], &defaults,
                                   error)) != EXIT_DONE ||
        (code = parse_oil(args->argument[1], &defaults, &bottle->label,
                          error)) != EXIT_DONE) {
        return code;
    }
    bottle->name = xstrdup(args->argument[0]);
    bottle->note = xstrdup("");
    bottle->left_ml = NAN;
    bottle->drop_ml = NAN;
    bottle->tolerance = mw_usual_tolerance(bottle->label.points[0].viscosity);
    code = parse_date(NULL, bottle->added, error);
    return code == EXIT_DONE ? details_read(args, bottle, error) : code;
}

static enum exit_code run_add(const struct args *args, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct bottle bottle = {0};
    struct stock stock;
    char what[QUOTED * 4];
    if ((code = read_new_bottle(args, &bottle, error)) == EXIT_DONE) {
        if ((code = stock_begin(&stock, args->stock, error)) == EXIT_DONE &&
            (code = bottle_insert(&stock, &bottle, error)) == EXIT_DONE) {
            snprintf(what, sizeof what, "add %s", bottle.name);
            code = stock_commit(&stock, what, error);
        }
        stock_close(&stock);
        if (code == EXIT_DONE) {
            code = details_print(args, "Added", "added", &bottle, error);
        }
    }
    bottle_free(&bottle);
    return code;
}

const struct command command_stock_add = {
    .name = "stock add",
    .summary = "add a bottle",
    .examples =
        "  midweight stock add Elm 350 --left 31ml\n"
        "  midweight stock add 'Old Elm' 350 --tolerance 8% --note 'dusty'\n"
        "  midweight stock add Fir 32@40C/5.4@100C\n",
    .arguments = "NAME OIL",
    .options = add_options,
    .run = run_add,
};

/* -- set --------------------------------------------------------------- */

enum { NAME = DETAILS, VISCOSITY, SET_OPTIONS };

static const struct command_option set_options[] = {
    BOTTLE_OPTIONS,
    OPTION(NAME, "name", "NAME", "Give it this name"),
    OPTION(VISCOSITY, "viscosity", "OIL", "Correct the viscosity of the label"),
    {0}};

/* Another viscosity of an oil, whose family stays; points that look like
 * another family are left to the user. */
static enum exit_code read_new_points(const struct args *args,
                                      const struct oil_defaults *defaults,
                                      struct bottle *bottle,
                                      struct error *error)
{
    enum exit_code code = EXIT_DONE;
    enum mw_family found;
    struct mw_oil *label = &bottle->label;
    if ((code = parse_oil(args->value[VISCOSITY], defaults, label, error)) !=
        EXIT_DONE) {
        return code;
    }
    return args->value[DETAIL_FAMILY] || label->count == 1 ||
                   mw_family_from_points(label->points, label->count, &found) !=
                       MW_OK ||
                   found == label->family
               ? EXIT_DONE
               : refuse(error,
                        "%.*s looks like %s oil, and %.*s is %s; say --family "
                        "%s, or --family %s if it is",
                        QUOTED, args->value[VISCOSITY], mw_family_name(found),
                        QUOTED, bottle->name, mw_family_name(label->family),
                        mw_family_name(label->family), mw_family_name(found));
}

/* the label anew, from the options and what it was */
static enum exit_code read_label(const struct args *args, struct bottle *bottle,
                                 struct error *error)
{
    struct oil_defaults defaults;
    const struct mw_oil was = bottle->label;
    enum exit_code code =
        parse_oil_defaults(args->value[DETAIL_FAMILY],
                           args->value[DETAIL_DENSITY], &defaults, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if (!defaults.has_family) {
        defaults.has_family = true;
        defaults.family = was.family;
    }
    if (isnan(defaults.density)) {
        defaults.density = was.density;
    }
    if (args->value[VISCOSITY]) {
        return read_new_points(args, &defaults, bottle, error);
    }
    enum mw_status status = mw_oil_make(defaults.family, was.points, was.count,
                                        defaults.density, &bottle->label);
    return status == MW_OK ? EXIT_DONE
                           : refuse(error, "%s", mw_status_text(status));
}

static enum exit_code read_new_name(const struct args *args,
                                    struct stock *stock, struct bottle *bottle,
                                    struct error *error)
{
    const char *name = args->value[NAME];
    if (!name) {
        return EXIT_DONE;
    }
    enum exit_code code = check_name(name, error);
    if (code != EXIT_DONE) {
        return code;
    }
    /* the same name in other capitals is the bottle itself */
    sqlite3_int64 other = 0;
    if (strcasecmp(name, bottle->name) != 0) {
        code = bottle_id(stock, name, &other, error);
    }
    if (code != EXIT_DONE) {
        return code;
    }
    if (other != 0) {
        return refuse(error,
                      "there is a bottle \"%.*s\" already; take another name",
                      QUOTED, name);
    }
    free(bottle->name);
    bottle->name = xstrdup(name);
    return EXIT_DONE;
}

static enum exit_code change_bottle(const struct args *args,
                                    struct stock *stock, struct bottle *bottle,
                                    struct error *error)
{
    enum exit_code code;
    if ((code = bottle_load(stock, args->argument[0], bottle, error)) !=
            EXIT_DONE ||
        (code = read_label(args, bottle, error)) != EXIT_DONE ||
        (code = read_new_name(args, stock, bottle, error)) != EXIT_DONE ||
        (code = details_read(args, bottle, error)) != EXIT_DONE) {
        return code;
    }
    return bottle_update(stock, bottle, error);
}

static bool sets_anything(const struct args *args)
{
    bool any = false;
    for (size_t i = 0; i < SET_OPTIONS; i++) {
        any = any || args->value[i];
    }
    return any;
}

/* "31.0 ml", or that it is not known */
static const char *ml_text(double ml, char text[FORMAT_LENGTH])
{
    char number[FORMAT_LENGTH];
    snprintf(text, FORMAT_LENGTH, isnan(ml) ? "not known" : "%s ml",
             format_significant(ml, 3, number));
    return text;
}

static void print_ml(const char *title, double was, double is)
{
    char one[FORMAT_LENGTH], other[FORMAT_LENGTH];
    if (was != is && !(isnan(was) && isnan(is))) {
        print_text("  %-10s %s, was %s\n", title, ml_text(is, one),
                   ml_text(was, other));
    }
}

/* what was, and what is */
static void print_changes(const struct bottle *was, const struct bottle *is)
{
    print_ml("left", was->left_ml, is->left_ml);
    print_ml("drop", was->drop_ml, is->drop_ml);
    if (strcmp(was->name, is->name) != 0) {
        print_text("  %-10s %s, was %s\n", "name", is->name, was->name);
    }
    if (was->tolerance != is->tolerance) {
        print_text("  %-10s %.2g %%, was %.2g %%\n", "tolerance",
                   100 * is->tolerance, 100 * was->tolerance);
    }
    if (was->label.points[0].viscosity != is->label.points[0].viscosity) {
        char one[FORMAT_LENGTH], other[FORMAT_LENGTH];
        print_text("  %-10s %s mm2/s, was %s\n", "label",
                   format_compact(is->label.points[0].viscosity, one),
                   format_compact(was->label.points[0].viscosity, other));
    }
    if (strcmp(was->note, is->note) != 0) {
        print_text("  %-10s \"%s\", was \"%s\"\n", "note", is->note, was->note);
    }
}

static enum exit_code run_set(const struct args *args, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct bottle bottle = {0}, was = {0};
    struct stock stock;
    char what[QUOTED * 4];
    if (args->count != 1 || !sets_anything(args)) {
        return refuse(error, args->count != 1
                                 ? "which bottle? try midweight stock set "
                                   "Elm --left 25ml"
                                 : "what is to be set? try midweight "
                                   "stock set Elm --left 25ml");
    }
    if ((code = stock_begin_existing(&stock, args->stock, error)) ==
            EXIT_DONE &&
        (code = bottle_load(&stock, args->argument[0], &was, error)) ==
            EXIT_DONE &&
        (code = change_bottle(args, &stock, &bottle, error)) == EXIT_DONE &&
        (code = bottle_adjust(&stock, &bottle, error)) == EXIT_DONE) {
        snprintf(what, sizeof what, "set %s", bottle.name);
        code = stock_commit(&stock, what, error);
    }
    stock_close(&stock);
    if (code == EXIT_DONE) {
        code = details_print(args, "Changed", "changed", &bottle, error);
    }
    if (code == EXIT_DONE && !args->json) {
        print_changes(&was, &bottle);
    }
    bottle_free(&was);
    bottle_free(&bottle);
    return code;
}

const struct command command_stock_set = {
    .name = "stock set",
    .summary = "correct the entry of a bottle",
    .examples = "  midweight stock set Elm --left 25ml\n"
                "  midweight stock set Elm --name 'Elm 2' --note 'front'\n",
    .arguments = "NAME",
    .options = set_options,
    .run = run_set,
};
