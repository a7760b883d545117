/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/reading.h"

#include <stdio.h>

#include "output/text.h"
#include "parse/number.h"
#include "util/format.h"
#include "util/xalloc.h"

enum outcome bottle_take_reading(struct bottle *bottle,
                                 const struct mw_reading *value,
                                 const char *method, const char *date,
                                 struct problem *problem)
{
    size_t i = bottle->reading_count++;
    bottle->readings =
        need_resized(bottle->readings, i + 1, sizeof bottle->readings[0]);
    struct stock_reading *reading = &bottle->readings[i];
    *reading =
        (struct stock_reading){.value = *value, .method = need_copy(method)};
    if (check_text(method, problem) != OUTCOME_DONE ||
        parse_date(date, reading->taken, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    return bottle_estimate(bottle, problem);
}

enum outcome bottle_save_reading(struct stock *stock,
                                 const struct bottle *bottle)
{
    char what[QUOTED * 4];
    bottle_add_reading(stock, bottle->id,
                       &bottle->readings[bottle->reading_count - 1]);
    snprintf(what, sizeof what, "reading %s", bottle->name);
    return stock_commit(stock, what);
}

void print_best(const struct bottle *bottle)
{
    const struct mw_oil *oil = &bottle->best.oil;
    const struct mw_point *rating = &oil->points[0];
    char text[FIGURES_LENGTH];
    paragraph("%s is now %s mm2/s at %.6g C, +-%.1f %%, from its label "
              "and %zu reading%s.",
              bottle->name, figures(rating->viscosity, 3, text),
              rating->temperature, 100 * MW_COVERAGE * bottle->best.uncertainty,
              bottle->reading_count, bottle->reading_count == 1 ? "" : "s");
    if (bottle->best.own_slope) {
        paragraph("The readings give it a slope of its own.");
    }
    print_odd(bottle);
}

void print_odd(const struct bottle *bottle)
{
    char text[FIGURES_LENGTH], name[SHORT_LENGTH];
    int odd = bottle->best.odd;
    shortened(bottle->name, QUOTED - 1, name);
    if (odd == MW_LABEL_ODD) {
        paragraph("Warning: the label of %s, %s mm2/s at %.6g C, disagrees "
                  "with the readings.",
                  name, as_given(bottle->label.points[0].viscosity, text),
                  bottle->label.points[0].temperature);
    } else if (odd != MW_NOTHING_ODD) {
        const struct stock_reading *reading = &bottle->readings[odd];
        paragraph("Warning: a reading of %s, %s mm2/s at %.6g C on %s, "
                  "disagrees with the rest.",
                  name, as_given(reading->value.viscosity, text),
                  reading->value.temperature, reading->taken);
    }
}
