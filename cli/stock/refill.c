/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* stock refill: another oil in the same bottle; what it was is kept */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "output/text.h"
#include "parse/number.h"
#include "parse/oil_spec.h"
#include "stock/commands.h"
#include "stock/details.h"
#include "store/journal.h"
#include "util/format.h"
#include "util/xalloc.h"

enum { DATE = DETAILS };

static const struct command_option options[] = {
    BOTTLE_OPTIONS,
    OPTION(DATE, "date", "YYYY-MM-DD", "Record this date (default: today)"),
    {0},
};

/* the label of the new oil: what is written, or that of the bottle as it is */
static enum exit_code read_label(const struct args *args,
                                 const struct bottle *old,
                                 struct bottle *bottle, struct error *error)
{
    struct oil_defaults defaults;
    enum exit_code code =
        parse_oil_defaults(args->value[DETAIL_FAMILY],
                           args->value[DETAIL_DENSITY], &defaults, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if (args->count == 1) {
        bottle->label = old->label;
        bottle->tolerance = old->tolerance;
        bottle->drop_ml = old->drop_ml;
        return old->mixed ? refuse(error,
                                   "%.*s is a mix; write what it is filled "
                                   "with, such as midweight stock refill %.*s "
                                   "350",
                                   QUOTED, old->name, QUOTED, old->name)
                          : EXIT_DONE;
    }
    code = parse_oil(args->argument[1], &defaults, &bottle->label, error);
    bottle->tolerance = mw_usual_tolerance(bottle->label.points[0].viscosity);
    return code;
}

static enum exit_code read_fill(const struct args *args,
                                const struct bottle *old, struct bottle *bottle,
                                struct error *error)
{
    *bottle = (struct bottle){.name = xstrdup(old->name),
                              .note = xstrdup(old->note),
                              .left_ml = NAN,
                              .drop_ml = NAN};
    enum exit_code code;
    if ((code = read_label(args, old, bottle, error)) != EXIT_DONE ||
        (code = parse_date(args->value[DATE], bottle->added, error)) !=
            EXIT_DONE) {
        return code;
    }
    return details_read(args, bottle, error);
}

static enum exit_code refill(const struct args *args, struct stock *stock,
                             struct bottle *old, struct bottle *bottle,
                             struct error *error)
{
    char what[QUOTED * 4];
    struct fill fill = {0};
    enum exit_code code;
    if ((code = bottle_load(stock, args->argument[0], old, error)) !=
            EXIT_DONE ||
        (code = read_fill(args, old, bottle, error)) != EXIT_DONE ||
        (code = bottle_retire(stock, old, "earlier", error)) != EXIT_DONE ||
        (code = bottle_insert(stock, bottle, error)) != EXIT_DONE) {
        return code;
    }
    fill.bottle = bottle->id;
    fill.previous = old->id;
    snprintf(fill.made, DATE_LENGTH, "%s", bottle->added);
    code = fill_insert(stock, &fill, error);
    snprintf(what, sizeof what, "refill %s", bottle->name);
    return code == EXIT_DONE ? stock_commit(stock, what, error) : code;
}

static void print_before(const struct bottle *old)
{
    char v[FORMAT_LENGTH], ml[FORMAT_LENGTH], left[FORMAT_LENGTH + 20] = "";
    if (!isnan(old->left_ml)) {
        snprintf(left, sizeof left, ", %s ml left",
                 format_significant(old->left_ml, 3, ml));
    }
    print_text("  %-10s %s mm2/s at %.6g C by its label%s\n", "was",
               format_significant(old->label.points[0].viscosity, 3, v),
               old->label.points[0].temperature, left);
}

static enum exit_code run(const struct args *args, struct error *error)
{
    struct stock stock;
    struct bottle old = {0}, bottle = {0};
    if (args->count < 1 || args->count > 2) {
        return refuse(error, "which bottle, and with what? try midweight stock "
                             "refill Elm 350 --left 100ml");
    }
    enum exit_code code = stock_begin_existing(&stock, args->stock, error);
    if (code == EXIT_DONE) {
        code = refill(args, &stock, &old, &bottle, error);
    }
    stock_close(&stock);
    if (code == EXIT_DONE) {
        code = details_print(args, "Refilled", "refilled", &bottle, error);
    }
    if (code == EXIT_DONE && !args->json) {
        print_before(&old);
    }
    bottle_free(&old);
    bottle_free(&bottle);
    return code;
}

const struct command command_stock_refill = {
    .name = "stock refill",
    .summary = "fill a bottle again: readings of the old oil stay with it",
    .examples =
        "  midweight stock refill Elm --left 100ml       the same label\n"
        "  midweight stock refill Elm 400 --left 50ml    another oil\n",
    .arguments = "NAME [OIL]",
    .notes = "What was in the bottle is kept under another name for the "
             "mixes that it went into; midweight stock log NAME shows it.",
    .options = options,
    .run = run,
};
