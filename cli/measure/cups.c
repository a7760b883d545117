/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/cups.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "measure/measurement.h"
#include "output/json.h"
#include "output/text.h"
#include "parse/number.h"
#include "store/cup.h"
#include "util/format.h"
#include "util/xalloc.h"

enum { NAME_COLUMNS = 20, STANDARD_COLUMNS = 18 };

/* -- All cups ---------------------------------------------------------- */

/* the standard cups, then one's own with names that belong to the list */
struct cups {
    size_t count;
    struct mw_cup *list;
};

static void add_cup(const struct mw_cup *cup, struct cups *cups)
{
    cups->list =
        need_resized(cups->list, cups->count + 1, sizeof cups->list[0]);
    cups->list[cups->count++] = *cup;
}

static void add_own_cup(struct own_cup *own, void *context)
{
    struct mw_cup cup;
    if (mw_cup_own(own->a, own->b, &cup) == MW_OK) {
        cup.name = need_copy(own->name);
        add_cup(&cup, context);
    }
}

static enum outcome gather_cups(const struct words *words, struct cups *cups,
                                struct problem *problem)
{
    struct stock stock;
    for (size_t i = 0; i < mw_cup_count(); i++) {
        add_cup(mw_cup_by_index(i), cups);
    }
    if (stock_open(&stock, words->stock, problem) == OUTCOME_DONE) {
        own_cups_each(&stock, add_own_cup, cups);
    }
    stock_close(&stock);
    return problem->outcome;
}

static void free_cups(struct cups *cups)
{
    for (size_t i = mw_cup_count(); i < cups->count; i++) {
        free((char *)cups->list[i].name);
    }
    free(cups->list);
}

/* mm2/s at an end of the window; NaN for an own cup, which has none */
static double reads_at(const struct mw_cup *cup, double time)
{
    double v;
    mw_cup_viscosity(cup, time, &v);
    return v;
}

static json_t *json_cup(const struct mw_cup *cup)
{
    return json_pack("{s:s, s:s, s:o, s:o, s:o, s:o}", "name", cup->name,
                     "standard", cup->standard, "time_min",
                     json_number(cup->time_min), "time_max",
                     json_number(cup->time_max), "viscosity_min",
                     json_number(reads_at(cup, cup->time_min)), "viscosity_max",
                     json_number(reads_at(cup, cup->time_max)));
}

static void print_name(const struct mw_cup *cup)
{
    char text[SHORT_LENGTH];
    print_text("  ");
    print_padded(shortened(cup->name, NAME_COLUMNS, text), NAME_COLUMNS);
    print_text(" ");
    print_padded(cup->standard, STANDARD_COLUMNS);
}

/* -- The list ---------------------------------------------------------- */

static void print_cup(const struct mw_cup *cup)
{
    char one[FIGURES_LENGTH], other[FIGURES_LENGTH];
    print_name(cup);
    if (isfinite(cup->time_max)) {
        print_text(" %3.6g to %-3.6g %8s to %s\n", cup->time_min, cup->time_max,
                   figures(reads_at(cup, cup->time_min), 3, one),
                   figures(reads_at(cup, cup->time_max), 3, other));
    } else {
        print_text(" v = %s t - %s/t\n", figures(cup->a, 4, one),
                   figures(cup->b, 4, other));
    }
}

static void print_cups(const struct cups *cups)
{
    print_text("  %-*s %-*s %-10s %8s\n", (int)NAME_COLUMNS, "cup",
               (int)STANDARD_COLUMNS, "standard", "  s", "mm2/s");
    for (size_t i = 0; i < cups->count; i++) {
        print_cup(&cups->list[i]);
    }
}

static json_t *json_cups(const struct cups *cups)
{
    json_t *list = json_array();
    for (size_t i = 0; i < cups->count; i++) {
        json_append(list, json_cup(&cups->list[i]));
    }
    return json_pack("{s:o}", "cups", list);
}

enum outcome list_cups(const struct words *words, struct problem *problem)
{
    struct cups cups = {0};
    if (words->count > 0) {
        return REFUSE("--list shows all cups; \"%.*s\" is one word too many",
                      QUOTED, words->argument[0]);
    }
    if (gather_cups(words, &cups, problem) == OUTCOME_DONE) {
        if (words->json) {
            print_json(json_cups(&cups), problem);
        } else {
            print_cups(&cups);
        }
    }
    free_cups(&cups);
    return problem->outcome;
}

/* -- Which cup for an oil ---------------------------------------------- */

static enum outcome refuse_oil(double viscosity, struct problem *problem)
{
    char v[FIGURES_LENGTH], least[FIGURES_LENGTH], most[FIGURES_LENGTH];
    double low = INFINITY, high = 0;
    const struct mw_cup *cup;
    for (size_t i = 0; (cup = mw_cup_by_index(i)); i++) {
        low = fmin(low, reads_at(cup, cup->time_min));
        high = fmax(high, reads_at(cup, cup->time_max));
    }
    return problem_set(problem, OUTCOME_NO_ANSWER,
                       "no cup suits %s mm2/s: the standard ones reach from "
                       "%s to %s; a falling ball reaches further (midweight "
                       "measure ball --for)",
                       figures(viscosity, 3, v), figures(low, 2, least),
                       figures(high, 3, most));
}

static void print_suitable(const struct cups *cups, const double *times,
                           const struct mw_point *oil)
{
    char text[FIGURES_LENGTH];
    print_text("%s mm2/s at %.6g C\n\n  %-20s %-18s %8s  window\n",
               figures(oil->viscosity, 3, text), oil->temperature, "cup",
               "standard", "s");
    for (size_t i = 0; i < cups->count; i++) {
        const struct mw_cup *cup = &cups->list[i];
        if (isnan(times[i])) {
            continue;
        }
        print_name(cup);
        print_text(" %8s", figures(times[i], 3, text));
        if (isfinite(cup->time_max)) {
            print_text("  %.6g to %.6g", cup->time_min, cup->time_max);
        }
        print_text("\n");
    }
    print_text("\n");
    paragraph("The longer it runs, the less the thumb matters.");
}

static json_t *json_suitable(const struct cups *cups, const double *times,
                             const struct mw_point *oil)
{
    json_t *list = json_array(), *json = json_point(oil);
    for (size_t i = 0; i < cups->count; i++) {
        if (!isnan(times[i])) {
            json_t *cup = json_cup(&cups->list[i]);
            json_set(cup, "time", json_number(times[i]));
            json_append(list, cup);
        }
    }
    json_set(json, "cups", list);
    return json;
}

static enum outcome offer(const struct words *words, const struct cups *cups,
                          const struct mw_point *oil, struct problem *problem)
{
    double *times = need_zeroed(cups->count, sizeof times[0]);
    size_t suitable = 0;
    for (size_t i = 0; i < cups->count; i++) {
        /* NaN for a cup that does not suit */
        suitable +=
            mw_cup_time(&cups->list[i], oil->viscosity, &times[i]) == MW_OK;
    }
    if (suitable == 0) {
        refuse_oil(oil->viscosity, problem);
    } else if (words->json) {
        print_json(json_suitable(cups, times, oil), problem);
    } else {
        print_suitable(cups, times, oil);
    }
    free(times);
    return problem->outcome;
}

enum outcome cups_for(const struct words *words, const char *oil,
                      struct problem *problem)
{
    struct cups cups = {0};
    struct source source;
    struct mw_point point;
    if (words->count > 0) {
        return REFUSE("--for asks which cup; \"%.*s\" is one word too many",
                      QUOTED, words->argument[0]);
    }
    if (measure_wanted(words, oil, &source, &point, problem) == OUTCOME_DONE &&
        gather_cups(words, &cups, problem) == OUTCOME_DONE) {
        offer(words, &cups, &point, problem);
    }
    free_cups(&cups);
    return problem->outcome;
}
