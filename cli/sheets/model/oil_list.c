/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheets/model/oil_list.h"

#include <math.h>
#include <stdlib.h>

#include "parse/number.h"
#include "store/excess.h"
#include "util/xalloc.h"

static enum outcome make_bottle(const char *word,
                                const struct oil_habits *habits,
                                struct bottle *bottle, struct problem *problem)
{
    *bottle = (struct bottle){.name = need_copy(word), .left_ml = NAN};
    if (parse_oil(word, habits, &bottle->label, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    bottle->tolerance = mw_usual_tolerance(bottle->label.points[0].viscosity);
    return bottle_estimate(bottle, problem);
}

static enum outcome fill_by_words(const struct words *words,
                                  const struct oil_habits *habits,
                                  struct stock *stock, struct bottles *rack)
{
    struct problem *problem = stock->problem;
    rack->list = need_zeroed(words->count, sizeof rack->list[0]);
    for (size_t i = 0; i < words->count; i++) {
        const char *word = words->argument[i];
        struct bottle *bottle = &rack->list[rack->count++];
        if (is_literal(word) || *word == '\0') {
            make_bottle(word, habits, bottle, problem);
        } else {
            if (!stock->db) {
                stock_open(stock, words->stock, problem);
            }
            bottle_load(stock, word, bottle);
        }
        if (problem->outcome != OUTCOME_DONE) {
            break;
        }
    }
    return problem->outcome;
}

/* at 25 C; what is not known there comes last */
static int by_viscosity(const void *left, const void *right)
{
    const struct bottle *a = left, *b = right;
    double v, w;
    mw_oil_viscosity(&a->best.oil, MW_SILICONE_RATED, &v);
    mw_oil_viscosity(&b->best.oil, MW_SILICONE_RATED, &w);
    if (isnan(v) || isnan(w)) {
        return isnan(v) - isnan(w);
    }
    return (v > w) - (v < w);
}

static enum outcome fill_by_stock(const struct words *words,
                                  struct stock *stock, struct bottles *rack)
{
    struct problem *problem = stock->problem;
    if (stock_open(stock, words->stock, problem) != OUTCOME_DONE ||
        bottles_load(stock, rack) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (rack->count == 0) {
        return REFUSE("no bottle in the stock yet; name the oils, such as 350 "
                      "500");
    }
    qsort(rack->list, rack->count, sizeof rack->list[0], by_viscosity);
    return OUTCOME_DONE;
}

enum outcome rack_fill(const struct words *words,
                       const struct oil_habits *habits, struct bottles *rack,
                       struct problem *problem)
{
    struct stock stock = {.problem = problem};
    *rack = (struct bottles){0};
    if (words->count > 0) {
        fill_by_words(words, habits, &stock, rack);
    } else {
        fill_by_stock(words, &stock, rack);
    }
    stock_close(&stock);
    return problem->outcome;
}

enum outcome rack_excess(const struct words *words, struct mw_excess *excess,
                         size_t *lessons, struct problem *problem)
{
    struct stock stock = {.problem = problem};
    bool named = words->count == 0;
    *lessons = 0;
    for (size_t i = 0; i < words->count; i++) {
        named = named || !is_literal(words->argument[i]);
    }
    *excess = (struct mw_excess){MW_SILICONE_EXCESS, mw_doubt_usual_excess()};
    if (named && stock_open(&stock, words->stock, problem) == OUTCOME_DONE) {
        learned_excess(&stock, excess, lessons);
    }
    stock_close(&stock);
    return problem->outcome;
}

enum outcome rack_run(const struct command *command,
                      const struct argp_option *options, int argc, char **argv,
                      make_card *make, struct problem *problem)
{
    struct words words;
    struct bottles rack = {0};
    if (options_read(command, options, argc, argv, &words, problem) ==
            OUTCOME_DONE &&
        !words.helped) {
        make(&words, &rack, problem);
        bottles_free(&rack);
    }
    return problem->outcome;
}
