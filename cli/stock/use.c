/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* stock use: oil that was taken for something else than a mix */
#include <math.h>
#include <stdio.h>

#include "oils/best.h"
#include "oils/bottle_json.h"
#include "oils/volume.h"
#include "output/text.h"
#include "parse/number.h"
#include "stock/commands.h"
#include "stock/details.h"
#include "store/bottle.h"
#include "store/journal.h"
#include "util/format.h"

enum { NOTE, DATE };

static const struct command_option options[] = {
    OPTION(NOTE, "note", "TEXT", "Keep what it was for"),
    OPTION(DATE, "date", "YYYY-MM-DD", "Record this date (default: today)"),
    {0},
};

static enum exit_code take(const struct args *args, struct stock *stock,
                           const struct bottle *bottle, double ml,
                           struct error *error)
{
    const char *note = args->value[NOTE] ? args->value[NOTE] : "";
    struct use use = {
        .bottle = bottle->id, .volume_ml = ml, .note = (char *)note};
    enum exit_code code;
    if ((code = details_check_left(bottle, ml, error)) != EXIT_DONE ||
        (code = check_text(note, error)) != EXIT_DONE ||
        (code = parse_date(args->value[DATE], use.made, error)) != EXIT_DONE ||
        (code = bottle_take(stock, bottle->id, ml, error)) != EXIT_DONE) {
        return code;
    }
    return use_insert(stock, &use, error);
}

static void print_use(const struct bottle *bottle, double ml)
{
    char used[FORMAT_LENGTH], was[FORMAT_LENGTH], is[FORMAT_LENGTH];
    format_significant(ml, 3, used);
    if (isnan(bottle->left_ml)) {
        print_wrapped("Used %s ml of %s; how much is left is not known.", used,
                      bottle->name);
    } else {
        print_wrapped("Used %s ml of %s: %s ml are left, of %s ml.", used,
                      bottle->name, format_significant(bottle->left_ml, 3, is),
                      format_significant(bottle->left_ml + ml, 3, was));
    }
}

static enum exit_code use_it(const struct args *args, struct stock *stock,
                             struct bottle *bottle, double *ml,
                             struct error *error)
{
    char what[QUOTED * 4];
    enum exit_code code = bottle_load(stock, args->argument[0], bottle, error);
    if (code != EXIT_DONE) {
        return code;
    }
    const struct oil_ref ref = oil_ref_of(bottle);
    if ((code = read_volume(args->argument[1], &ref,
                            mw_family_density_t(ref.oil.family), ml, error)) !=
            EXIT_DONE ||
        (code = take(args, stock, bottle, *ml, error)) != EXIT_DONE ||
        (code = bottle_adjust(stock, bottle, error)) != EXIT_DONE) {
        return code;
    }
    bottle->left_ml -= *ml;
    snprintf(what, sizeof what, "use %s", bottle->name);
    return stock_commit(stock, what, error);
}

static enum exit_code run(const struct args *args, struct error *error)
{
    struct stock stock;
    struct bottle bottle = {0};
    double ml;
    if (args->count != 2) {
        return refuse(error, "how much of which bottle? try midweight stock "
                             "use Elm 2ml");
    }
    enum exit_code code = stock_begin_existing(&stock, args->stock, error);
    if (code == EXIT_DONE) {
        code = use_it(args, &stock, &bottle, &ml, error);
    }
    stock_close(&stock);
    if (code == EXIT_DONE && args->json) {
        code = print_change_json("used", bottle.name, &bottle, NAN, NAN, error);
    } else if (code == EXIT_DONE) {
        print_use(&bottle, ml);
    }
    bottle_free(&bottle);
    return code;
}

const struct command command_stock_use = {
    .name = "stock use",
    .summary = "take oil from a bottle, such as for a damper",
    .examples = "  midweight stock use Elm 2ml\n"
                "  midweight stock use Elm 10ml --note 'front, carpet'\n"
                "  midweight stock use Elm 2g\n",
    .arguments = "NAME AMOUNT",
    .options = options,
    .run = run,
};
