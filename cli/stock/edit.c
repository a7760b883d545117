/* SPDX-License-Identifier: GPL-3.0-or-later */
/* stock add and set: what is known of a bottle */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <strings.h>

#include "output/text.h"
#include "parse/amount.h"
#include "parse/number.h"
#include "parse/oil_spec.h"
#include "stock/bottle_json.h"
#include "stock/commands.h"
#include "store/bottle.h"
#include "store/stock.h"
#include "util/format.h"
#include "util/xalloc.h"

/* options that add and set share, in this order */
enum { FAMILY, TOLERANCE, DENSITY, LEFT, DROPS, NOTE, NAME, VISCOSITY };

#define BOTTLE_OPTIONS                                                         \
    OPTION(FAMILY, "family", "FAMILY", "Take the oil as silicone or mineral"), \
        OPTION(TOLERANCE, "tolerance", "PERCENT",                              \
               "Allow the label this tolerance (default 5 %, over 1000 mm2/s " \
               "10 %)"),                                                       \
        OPTION(                                                                \
            DENSITY, "density", "D",                                           \
            "Take this density in g/ml (silicone at 25 C, mineral at 15 C)"),  \
        OPTION(LEFT, "left", "AMOUNT", "Keep how much is left: 31ml or 30g"),  \
        OPTION(DROPS, "drops", "COUNT=MASS",                                   \
               "Find the size of a drop from drops weighed: 50=0.62g"),        \
        OPTION(NOTE, "note", "TEXT", "Keep a note on the bottle")

/* -- What the options say of a bottle ---------------------------------- */

static enum exit_code read_left(const char *text, struct bottle *bottle,
                                struct error *error)
{
    struct amount amount;
    double density;
    enum exit_code code = parse_left(text, &amount, error);
    if (code != EXIT_DONE) {
        return code;
    }
    bottle->left_ml = amount.value;
    if (amount.kind == MW_AMOUNT_G) {
        enum mw_status status = mw_oil_density(
            &bottle->label, mw_family_density_t(bottle->label.family), &density,
            NULL);
        if (status == MW_OK) {
            status = mw_dose_volume(amount.value, density, &bottle->left_ml);
        }
        if (status != MW_OK) {
            return refuse(error, "%s; write --left in ml",
                          mw_status_text(status));
        }
    }
    return EXIT_DONE;
}

/* the drop of a bottle from drops that were weighed, such as 50=0.62g */
static enum exit_code read_drops(const char *text, struct bottle *bottle,
                                 struct error *error)
{
    double count, density;
    struct amount mass;
    enum exit_code code = parse_drops(text, &count, &mass, error);
    if (code != EXIT_DONE) {
        return code;
    }
    enum mw_status status = mw_oil_density(
        &bottle->label, mw_family_density_t(bottle->label.family), &density,
        NULL);
    if (status == MW_OK) {
        status = mw_drop_volume(count, mass.value, density, &bottle->drop_ml);
    }
    return status == MW_OK
               ? EXIT_DONE
               : refuse(error, "--drops: %s", mw_status_text(status));
}

static enum exit_code read_details(const struct args *args,
                                   struct bottle *bottle, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    const char *const *value = args->value;
    if (value[TOLERANCE] &&
        (code = parse_percent(value[TOLERANCE], &bottle->tolerance, error)) !=
            EXIT_DONE) {
        return code;
    }
    if (!(bottle->tolerance > 0)) {
        return refuse(error,
                      "a label is never exact; give a tolerance above zero");
    }
    if (value[LEFT] &&
        (code = read_left(value[LEFT], bottle, error)) != EXIT_DONE) {
        return code;
    }
    if (value[DROPS] &&
        (code = read_drops(value[DROPS], bottle, error)) != EXIT_DONE) {
        return code;
    }
    if (value[NOTE]) {
        code = check_text(value[NOTE], error);
        if (code != EXIT_DONE) {
            return code;
        }
        free(bottle->note);
        bottle->note = xstrdup(value[NOTE]);
    }
    return bottle_estimate(bottle, error);
}

static enum exit_code print_bottle(const struct args *args, const char *what,
                                   const char *done,
                                   const struct bottle *bottle,
                                   struct error *error)
{
    char viscosity[FORMAT_LENGTH];
    if (args->json) {
        return print_change_json(done, bottle->name, bottle, NAN, NAN, error);
    }
    const struct mw_oil *oil = &bottle->best.oil;
    print_wrapped("%s %s: %s mm2/s at %.6g C, +-%.1f %%.", what, bottle->name,
                  format_significant(oil->points[0].viscosity, 3, viscosity),
                  oil->points[0].temperature,
                  100 * MW_COVERAGE * bottle->best.uncertainty);
    return EXIT_DONE;
}

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
        (code = parse_oil_defaults(args->value[FAMILY], args->value[DENSITY],
                                   &defaults, error)) != EXIT_DONE ||
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
    return code == EXIT_DONE ? read_details(args, bottle, error) : code;
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
            code = print_bottle(args, "Added", "added", &bottle, error);
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
    return args->value[FAMILY] || label->count == 1 ||
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
    enum exit_code code = parse_oil_defaults(
        args->value[FAMILY], args->value[DENSITY], &defaults, error);
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
        (code = read_details(args, bottle, error)) != EXIT_DONE) {
        return code;
    }
    return bottle_update(stock, bottle, error);
}

static enum exit_code run_set(const struct args *args, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct bottle bottle = {0};
    struct stock stock;
    char what[QUOTED * 4];
    if (args->count != 1) {
        return refuse(error,
                      "which bottle? try midweight stock set Elm --left 25ml");
    }
    if ((code = stock_begin_existing(&stock, args->stock, error)) ==
            EXIT_DONE &&
        (code = change_bottle(args, &stock, &bottle, error)) == EXIT_DONE) {
        snprintf(what, sizeof what, "set %s", bottle.name);
        code = stock_commit(&stock, what, error);
    }
    stock_close(&stock);
    if (code == EXIT_DONE) {
        code = print_bottle(args, "Changed", "changed", &bottle, error);
    }
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
