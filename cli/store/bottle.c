/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/bottle.h"

#include <math.h>
#include <stdlib.h>

#include "parse/amount.h"
#include "util/xalloc.h"

/* whether the label has a value wherever the bottle was measured */
static bool fits_label(const struct bottle *bottle)
{
    bool fits = true;
    for (size_t i = 0; i < bottle->reading_count && fits; i++) {
        const struct mw_reading *reading = &bottle->readings[i].value;
        double v;
        fits =
            reading->viscosity >= MW_VISCOSITY_MIN &&
            reading->viscosity <= MW_VISCOSITY_MAX &&
            mw_oil_viscosity(&bottle->label, reading->temperature, &v) == MW_OK;
    }
    return fits;
}

enum exit_code bottle_estimate(struct bottle *bottle, struct error *error)
{
    struct mw_reading readings[MW_READINGS_MAX];
    if (bottle->left_ml > AMOUNT_MAX || bottle->drop_ml > AMOUNT_MAX) {
        return refuse(error, "\"%.*s\": more than %d ml is no bottle", QUOTED,
                      bottle->name, (int)AMOUNT_MAX);
    }
    if (bottle->reading_count > MW_READINGS_MAX) {
        return refuse(error,
                      "\"%.*s\" has %d readings already; add a new bottle",
                      QUOTED, bottle->name, (int)MW_READINGS_MAX);
    }
    for (size_t i = 0; i < bottle->reading_count; i++) {
        readings[i] = bottle->readings[i].value;
    }
    enum mw_status status = mw_bottle_make(
        &bottle->label, bottle->tolerance, readings,
        fits_label(bottle) ? 0 : bottle->reading_count, &bottle->best);
    if (status == MW_ERR_MEMORY) {
        out_of_memory();
    }
    if (status == MW_ERR_ONE_POINT) {
        return refuse(error,
                      "\"%.*s\" is labelled at %.6g C only; measure it there, "
                      "or %g degrees or more away",
                      QUOTED, bottle->name, bottle->label.points[0].temperature,
                      MW_SLOPE_SPAN);
    }
    return status == MW_OK ? EXIT_DONE
                           : refuse(error, "\"%.*s\": %s", QUOTED, bottle->name,
                                    mw_status_text(status));
}

enum exit_code bottle_id(struct stock *stock, const char *name,
                         sqlite3_int64 *id, struct error *error)
{
    sqlite3_stmt *select =
        stock_prepare(stock, "SELECT id FROM bottle WHERE name = ?");
    bind_text(select, 1, name);
    return stock_number(stock, select, id, error);
}

/* where a bottle stands */
struct place {
    double v; /* mm2/s; NaN: not known */
    size_t index;
};

static int by_viscosity(const void *left, const void *right)
{
    const struct place *a = left, *b = right;
    if (isnan(a->v) || isnan(b->v)) {
        return isnan(a->v) - isnan(b->v);
    }
    return (a->v > b->v) - (a->v < b->v);
}

void bottles_sort(struct bottles *bottles, double t)
{
    struct place *places = xcalloc(bottles->count, sizeof places[0]);
    struct bottle *sorted = xcalloc(bottles->count, sizeof sorted[0]);
    for (size_t i = 0; i < bottles->count; i++) {
        places[i].index = i;
        mw_oil_viscosity(&bottles->list[i].best.oil, t, &places[i].v);
    }
    qsort(places, bottles->count, sizeof places[0], by_viscosity);
    for (size_t i = 0; i < bottles->count; i++) {
        sorted[i] = bottles->list[places[i].index];
    }
    free(places);
    free(bottles->list);
    bottles->list = sorted;
}

enum mw_family bottles_family(const struct bottles *bottles)
{
    bool mineral = bottles->count > 0;
    for (size_t i = 0; i < bottles->count; i++) {
        mineral = mineral && bottles->list[i].best.oil.family == MW_MINERAL;
    }
    return mineral ? MW_MINERAL : MW_SILICONE;
}

size_t bottles_candidates(const struct bottles *bottles, enum mw_family family,
                          struct mw_candidate candidates[])
{
    size_t count = 0;
    for (size_t i = 0; i < bottles->count; i++) {
        const struct bottle *bottle = &bottles->list[i];
        if (bottle->best.oil.family == family) {
            candidates[count++] =
                (struct mw_candidate){.id = i,
                                      .oil = &bottle->best.oil,
                                      .uncertainty = bottle->best.uncertainty,
                                      .left = bottle->left_ml};
        }
    }
    return count;
}

void stock_reading_free(struct stock_reading *reading)
{
    free(reading->method);
    free(reading->source.instrument);
    free(reading->source.reference_name);
    *reading = (struct stock_reading){0};
}

void bottle_free(struct bottle *bottle)
{
    for (size_t i = 0; i < bottle->reading_count; i++) {
        stock_reading_free(&bottle->readings[i]);
    }
    free(bottle->readings);
    free(bottle->name);
    free(bottle->note);
    *bottle = (struct bottle){0};
}

void bottles_free(struct bottles *bottles)
{
    for (size_t i = 0; i < bottles->count; i++) {
        bottle_free(&bottles->list[i]);
    }
    free(bottles->list);
    *bottles = (struct bottles){0};
}

void bottle_forget_reading(struct bottle *bottle, size_t which)
{
    stock_reading_free(&bottle->readings[which]);
    bottle->reading_count--;
    for (size_t i = which; i < bottle->reading_count; i++) {
        bottle->readings[i] = bottle->readings[i + 1];
    }
}
