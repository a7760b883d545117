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
#include "stock/commands.h"
#include "store/bottle.h"
#include "store/stock.h"
#include "util/format.h"
#include "util/xalloc.h"

/* options that add and set share, in this order */
enum { FAMILY, TOLERANCE, DENSITY, LEFT, DROPS, NOTE, NAME, VISCOSITY };

#define BOTTLE_OPTIONS                                                         \
    OPTION(FAMILY, "family", "FAMILY", "What it is: silicone or mineral"),     \
        OPTION(TOLERANCE, "tolerance", "PERCENT",                              \
               "How far off the label may be (5 %, over 1000 mm2/s 10 %)"),    \
        OPTION(DENSITY, "density", "D",                                        \
               "Density in g/ml (silicone at 25 C, mineral at 15 C)"),         \
        OPTION(LEFT, "left", "AMOUNT", "What is left: 31ml or 30g"),           \
        OPTION(DROPS, "drops", "COUNT=MASS",                                   \
               "Drops that were weighed: 50=0.62g"),                           \
        OPTION(NOTE, "note", "TEXT", "Anything worth remembering")

/* -- What the options say of a bottle ---------------------------------- */

static enum outcome read_left(const char *text, struct bottle *bottle,
                              struct problem *problem)
{
    struct amount amount;
    double density;
    if (parse_left(text, &amount, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    bottle->left_ml = amount.value;
    if (amount.kind == AMOUNT_G) {
        enum mw_status status = mw_oil_density(
            &bottle->label, mw_family_density_t(bottle->label.family), &density,
            NULL);
        if (status == MW_OK) {
            status = mw_dose_volume(amount.value, density, &bottle->left_ml);
        }
        if (status != MW_OK) {
            return REFUSE("%s; write --left in ml", mw_status_text(status));
        }
    }
    return OUTCOME_DONE;
}

/* the drop of a bottle from drops that were weighed, such as 50=0.62g */
static enum outcome read_drops(const char *text, struct bottle *bottle,
                               struct problem *problem)
{
    double count, density;
    struct amount mass;
    if (parse_drops(text, &count, &mass, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    enum mw_status status = mw_oil_density(
        &bottle->label, mw_family_density_t(bottle->label.family), &density,
        NULL);
    if (status == MW_OK) {
        status = mw_drop_volume(count, mass.value, density, &bottle->drop_ml);
    }
    return status == MW_OK ? OUTCOME_DONE
                           : REFUSE("--drops: %s", mw_status_text(status));
}

static enum outcome read_details(const struct words *words,
                                 struct bottle *bottle, struct problem *problem)
{
    const char *const *value = words->value;
    if (value[TOLERANCE] && parse_percent(value[TOLERANCE], &bottle->tolerance,
                                          problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (!(bottle->tolerance > 0)) {
        return REFUSE("a label is never exact; give a tolerance above zero");
    }
    if (value[LEFT] &&
        read_left(value[LEFT], bottle, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (value[DROPS] &&
        read_drops(value[DROPS], bottle, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (value[NOTE]) {
        if (check_text(value[NOTE], problem) != OUTCOME_DONE) {
            return problem->outcome;
        }
        free(bottle->note);
        bottle->note = need_copy(value[NOTE]);
    }
    return bottle_estimate(bottle, problem);
}

static void print_bottle(const char *what, const struct bottle *bottle)
{
    char viscosity[FIGURES_LENGTH];
    const struct mw_oil *oil = &bottle->best.oil;
    paragraph("%s %s: %s mm2/s at %.6g C, +-%.1f %%.", what, bottle->name,
              figures(oil->points[0].viscosity, 3, viscosity),
              oil->points[0].temperature,
              100 * MW_COVERAGE * bottle->best.uncertainty);
}

/* -- add --------------------------------------------------------------- */

static const struct argp_option add_options[] = {BOTTLE_OPTIONS, {0}};

static enum outcome read_new_bottle(const struct words *words,
                                    struct bottle *bottle,
                                    struct problem *problem)
{
    struct oil_habits habits;
    if (words->count != 2) {
        return REFUSE("a name and a viscosity are wanted, such as midweight "
                      "stock add Elm 350");
    }
    if (check_name(words->argument[0], problem) != OUTCOME_DONE ||
        parse_habits(words->value[FAMILY], words->value[DENSITY], &habits,
                     problem) != OUTCOME_DONE ||
        parse_oil(words->argument[1], &habits, &bottle->label, problem) !=
            OUTCOME_DONE) {
        return problem->outcome;
    }
    bottle->name = need_copy(words->argument[0]);
    bottle->note = need_copy("");
    bottle->left_ml = NAN;
    bottle->drop_ml = NAN;
    bottle->tolerance = mw_usual_tolerance(bottle->label.points[0].viscosity);
    parse_date(NULL, bottle->added, problem);
    return read_details(words, bottle, problem);
}

static enum outcome run_add(const struct command *command, int argc,
                            char **argv, struct problem *problem)
{
    struct words words;
    struct bottle bottle = {0};
    struct stock stock;
    char what[QUOTED * 4];
    if (options_read(command, add_options, argc, argv, &words, problem) !=
            OUTCOME_DONE ||
        words.helped) {
        return problem->outcome;
    }
    if (read_new_bottle(&words, &bottle, problem) == OUTCOME_DONE) {
        if (stock_begin(&stock, words.stock, problem) == OUTCOME_DONE &&
            bottle_insert(&stock, &bottle) == OUTCOME_DONE) {
            snprintf(what, sizeof what, "add %s", bottle.name);
            stock_commit(&stock, what);
        }
        stock_close(&stock);
        if (problem->outcome == OUTCOME_DONE) {
            print_bottle("Added", &bottle);
        }
    }
    bottle_free(&bottle);
    return problem->outcome;
}

const struct command command_stock_add = {
    .name = "stock add",
    .summary = "a new bottle by its label",
    .examples =
        "  midweight stock add Elm 350 --left 31ml\n"
        "  midweight stock add 'Old Elm' 350 --tolerance 8% --note 'dusty'\n"
        "  midweight stock add Fir 32@40C/5.4@100C --family mineral\n",
    .arguments = "NAME OIL",
    .run = run_add,
};

/* -- set --------------------------------------------------------------- */

static const struct argp_option set_options[] = {
    BOTTLE_OPTIONS,
    OPTION(NAME, "name", "NAME", "Another name"),
    OPTION(VISCOSITY, "viscosity", "OIL", "What the label says after all"),
    {0}};

/* the label anew, from the options and what it was */
static enum outcome read_label(const struct words *words, struct bottle *bottle,
                               struct problem *problem)
{
    struct oil_habits habits;
    const struct mw_oil was = bottle->label;
    if (parse_habits(words->value[FAMILY], words->value[DENSITY], &habits,
                     problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (!habits.has_family) {
        habits.has_family = true;
        habits.family = was.family;
    }
    if (isnan(habits.density)) {
        habits.density = was.density;
    }
    if (words->value[VISCOSITY]) {
        return parse_oil(words->value[VISCOSITY], &habits, &bottle->label,
                         problem);
    }
    enum mw_status status = mw_oil_make(habits.family, was.points, was.count,
                                        habits.density, &bottle->label);
    return status == MW_OK ? OUTCOME_DONE
                           : REFUSE("%s", mw_status_text(status));
}

static enum outcome read_new_name(const struct words *words,
                                  struct stock *stock, struct bottle *bottle)
{
    struct problem *problem = stock->problem;
    const char *name = words->value[NAME];
    if (!name) {
        return OUTCOME_DONE;
    }
    if (check_name(name, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    /* the same name in other capitals is the bottle itself */
    if (strcasecmp(name, bottle->name) != 0 && bottle_id(stock, name) != 0) {
        return REFUSE("there is a bottle \"%.*s\" already; take another name",
                      QUOTED, name);
    }
    free(bottle->name);
    bottle->name = need_copy(name);
    return OUTCOME_DONE;
}

static enum outcome change_bottle(const struct words *words,
                                  struct stock *stock, struct bottle *bottle)
{
    if (bottle_load(stock, words->argument[0], bottle) != OUTCOME_DONE ||
        read_label(words, bottle, stock->problem) != OUTCOME_DONE ||
        read_new_name(words, stock, bottle) != OUTCOME_DONE ||
        read_details(words, bottle, stock->problem) != OUTCOME_DONE) {
        return stock->problem->outcome;
    }
    return bottle_update(stock, bottle);
}

static enum outcome run_set(const struct command *command, int argc,
                            char **argv, struct problem *problem)
{
    struct words words;
    struct bottle bottle = {0};
    struct stock stock;
    char what[QUOTED * 4];
    if (options_read(command, set_options, argc, argv, &words, problem) !=
            OUTCOME_DONE ||
        words.helped) {
        return problem->outcome;
    }
    if (words.count != 1) {
        return REFUSE("which bottle? try midweight stock set Elm --left 25ml");
    }
    if (stock_begin_existing(&stock, words.stock, problem) == OUTCOME_DONE &&
        change_bottle(&words, &stock, &bottle) == OUTCOME_DONE) {
        snprintf(what, sizeof what, "set %s", bottle.name);
        stock_commit(&stock, what);
    }
    stock_close(&stock);
    if (problem->outcome == OUTCOME_DONE) {
        print_bottle("Changed", &bottle);
    }
    bottle_free(&bottle);
    return problem->outcome;
}

const struct command command_stock_set = {
    .name = "stock set",
    .summary = "correct what is known of a bottle",
    .examples = "  midweight stock set Elm --left 25ml\n"
                "  midweight stock set Elm --name 'Elm 2' --note 'front'\n",
    .arguments = "NAME",
    .run = run_set,
};
