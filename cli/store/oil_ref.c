/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/oil_ref.h"

#include <math.h>

#include "parse/number.h"

static enum outcome find_literal(const char *word,
                                 const struct oil_habits *habits,
                                 struct source *source, struct problem *problem)
{
    *source = (struct source){.name = word, .left_ml = NAN, .drop_ml = NAN};
    if (parse_oil(word, habits, &source->oil, problem) == OUTCOME_DONE) {
        mw_label_uncertainty(source->oil.points[0].viscosity,
                             &source->uncertainty);
    }
    return problem->outcome;
}

struct source source_of(const struct bottle *bottle)
{
    return (struct source){.name = bottle->name,
                           .oil = bottle->best.oil,
                           .uncertainty = bottle->best.uncertainty,
                           .measured = bottle->reading_count > 0,
                           .id = bottle->id,
                           .left_ml = bottle->left_ml,
                           .drop_ml = bottle->drop_ml};
}

enum outcome shelf_open(struct shelf *shelf, struct problem *problem)
{
    if (!shelf->opened) {
        shelf->opened = true;
        return stock_open(&shelf->stock, shelf->file, problem);
    }
    return problem->outcome;
}

enum outcome shelf_open_to_change(struct shelf *shelf, struct problem *problem)
{
    shelf->opened = true;
    return stock_begin_existing(&shelf->stock, shelf->file, problem);
}

/* a bottle, or why its name is none */
static enum outcome bottle_load_oil(struct stock *stock, const char *word,
                                    struct bottle *bottle)
{
    if (names_weight(word) && (!stock->db || bottle_id(stock, word) == 0)) {
        *bottle = (struct bottle){0};
        return problem_set(stock->problem, OUTCOME_USAGE,
                           "\"%.*s\": weight numbers follow no common scale; "
                           "give mm2/s from the data sheet, or measure",
                           QUOTED, word);
    }
    return bottle_load(stock, word, bottle);
}

enum outcome source_find(struct shelf *shelf, const char *word,
                         const struct oil_habits *habits, struct source *source,
                         struct problem *problem)
{
    struct bottle bottle;
    if (is_literal(word) || *word == '\0') {
        return find_literal(word, habits, source, problem);
    }
    if (shelf_open(shelf, problem) == OUTCOME_DONE) {
        bottle_load_oil(&shelf->stock, word, &bottle);
        *source = source_of(&bottle);
        /* the name as it was written outlives the record */
        source->name = word;
        bottle_free(&bottle);
    }
    return problem->outcome;
}

void shelf_close(struct shelf *shelf)
{
    if (shelf->opened) {
        stock_close(&shelf->stock);
        shelf->opened = false;
    }
}
