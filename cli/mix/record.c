/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <strings.h>

#include "mix/mix.h"
#include "parse/number.h"
#include "store/journal.h"
#include "store/recipe.h"
#include "util/format.h"
#include "util/xalloc.h"

/* ml: what rounding for the screen makes of all that a bottle holds; our own
 * limit */
#define LEFT_SLACK 0.05

static enum exit_code check_left(const struct mix_request *request,
                                 const struct mix_answer *answer,
                                 struct error *error)
{
    char left[FORMAT_LENGTH], batch[FORMAT_LENGTH];
    if (answer->result.has_recipe ||
        answer->result.mix.shortest >= request->count) {
        return EXIT_DONE;
    }
    const struct oil_ref *ref = &request->refs[answer->result.mix.shortest];
    return error_set(
        error, EXIT_NO_ANSWER,
        "%.*s holds only %s ml; the largest batch is %s ml", QUOTED, ref->name,
        format_significant(ref->left_ml, 3, left),
        format_significant(answer->result.mix.largest_ml, 3, batch));
}

/* the bottle that is topped up: the mix is recorded under its name; count of
 * the oils where that is a new one */
static size_t topped_up(const struct mix_request *request)
{
    size_t i = 0;
    while (i < request->count &&
           (request->refs[i].id == 0 ||
            strcasecmp(request->refs[i].name, request->record) != 0)) {
        i++;
    }
    return i;
}

/* what goes into the mix, at most what is left: rounding makes no oil; all that
 * is left where the bottle is topped up */
static double poured_from(const struct mix_request *request,
                          const struct mix_answer *answer, size_t i)
{
    double left = request->refs[i].left_ml;
    double poured = mix_poured(answer, i);
    return isnan(left)               ? poured
           : i == topped_up(request) ? left
                                     : fmin(poured, left);
}

static double total_poured(const struct mix_request *request,
                           const struct mix_answer *answer)
{
    double total = 0;
    for (size_t i = 0; i < request->count; i++) {
        total += poured_from(request, answer, i);
    }
    return total;
}

/* nothing stays in a bottle beside what it is topped up to */
static enum exit_code check_top_up(const struct mix_request *request,
                                   const struct mix_answer *answer,
                                   struct error *error)
{
    char left[FORMAT_LENGTH];
    size_t i = topped_up(request);
    if (i == request->count ||
        !(request->refs[i].left_ml > mix_poured(answer, i) + LEFT_SLACK)) {
        return EXIT_DONE;
    }
    const struct oil_ref *ref = &request->refs[i];
    format_significant(ref->left_ml, 3, left);
    return refuse(error,
                  "%.*s holds %s ml, and a top-up takes all of it; write "
                  "%.*s=%sml, or record it under another name",
                  QUOTED, ref->name, left, QUOTED, ref->name, left);
}

static enum exit_code check_record(const struct mix_request *request,
                                   const struct mix_answer *answer,
                                   struct error *error)
{
    enum exit_code code = check_name(request->record, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if (!isfinite(answer->result.mix.total_ml)) {
        return refuse(error, "--record needs to know how much; give --make, or "
                             "amounts in ml or g");
    }
    for (size_t i = 0; i < request->count; i++) {
        if (request->refs[i].id == 0) {
            return refuse(error,
                          "%.*s is not in the stock, so it cannot be recorded; "
                          "midweight stock add puts it there",
                          QUOTED, request->refs[i].name);
        }
        if (!(mix_poured(answer, i) > 0)) {
            return refuse(error,
                          "nothing of %.*s is in this mix; record a mix of two",
                          QUOTED, request->refs[i].name);
        }
    }
    code = check_top_up(request, answer, error);
    return code == EXIT_DONE ? check_left(request, answer, error) : code;
}

/* What the bottle was until now is kept for the recipe, under another name; its
 * drop and its note stay with the name. */
static enum exit_code retire_topped_up(const struct mix_request *request,
                                       struct stock *stock,
                                       struct bottle *bottle,
                                       struct error *error)
{
    struct bottle old = {0};
    size_t i = topped_up(request);
    if (i == request->count) {
        return EXIT_DONE;
    }
    enum exit_code code =
        bottle_load_id(stock, request->refs[i].id, &old, error);
    if (code == EXIT_DONE) {
        free(bottle->name);
        free(bottle->note);
        bottle->name = xstrdup(old.name);
        bottle->note = xstrdup(old.note);
        bottle->drop_ml = old.drop_ml;
        code = bottle_retire(stock, &old, "earlier", error);
    }
    bottle_free(&old);
    return code;
}

/* a bottle that is topped up is filled anew */
static enum exit_code insert_fill(const struct mix_request *request,
                                  const struct bottle *bottle,
                                  struct stock *stock, struct error *error)
{
    struct fill fill = {.bottle = bottle->id};
    size_t i = topped_up(request);
    if (i == request->count) {
        return EXIT_DONE;
    }
    fill.previous = request->refs[i].id;
    snprintf(fill.made, DATE_LENGTH, "%s", bottle->added);
    return fill_insert(stock, &fill, error);
}

/* the new bottle; its label is the calculated viscosity and its uncertainty */
static enum exit_code insert_bottle(const struct mix_request *request,
                                    const struct mix_answer *answer,
                                    struct stock *stock, sqlite3_int64 *id,
                                    struct error *error)
{
    struct bottle bottle = {.name = xstrdup(request->record),
                            .note = xstrdup(""),
                            .left_ml = total_poured(request, answer),
                            .drop_ml = NAN};
    bottle.tolerance = mw_tolerance_of(answer->uncertainty.standard);
    struct mw_oil label;
    enum mw_status status =
        mw_mix_label(request->known, &request->job, &answer->result, &label);
    bottle.label = label;
    if (status == MW_OK && isfinite(request->density)) {
        status = mw_oil_make(label.family, label.points, label.count,
                             request->density, &bottle.label);
    }
    enum exit_code code = status == MW_OK
                              ? EXIT_DONE
                              : refuse(error, "%s", mw_status_text(status));
    if (code == EXIT_DONE &&
        (code = parse_date(request->date, bottle.added, error)) == EXIT_DONE &&
        (code = retire_topped_up(request, stock, &bottle, error)) ==
            EXIT_DONE &&
        (code = bottle_estimate(&bottle, error)) == EXIT_DONE) {
        code = bottle_insert(stock, &bottle, error);
    }
    if (code == EXIT_DONE) {
        code = insert_fill(request, &bottle, stock, error);
    }
    *id = bottle.id;
    bottle_free(&bottle);
    return code;
}

/* ml, standard, of the dose that is measured worst; NaN without a tool */
static double dose_uncertainty(const struct mix_answer *answer, size_t count)
{
    double doses[MW_MIX_OILS_MAX], worst = 0;
    mw_mix_doses(&answer->result.mix, count, doses);
    for (size_t i = 0; i < count; i++) {
        worst = fmax(worst, doses[i] * answer->result.mix.total_ml);
    }
    return answer->result.mix.tools[0].tool == MW_TOOL_NONE ? (double)NAN
                                                            : worst;
}

static enum exit_code insert_recipe(const struct mix_request *request,
                                    const struct mix_answer *answer,
                                    struct stock *stock, sqlite3_int64 id,
                                    struct error *error)
{
    struct recipe recipe = {.bottle = id,
                            .temperature = request->temperature,
                            .dose_ml = dose_uncertainty(answer, request->count),
                            .count = request->count};
    enum exit_code code = parse_date(request->date, recipe.made, error);
    for (size_t i = 0; i < request->count && code == EXIT_DONE; i++) {
        recipe.parts[i].parent = request->refs[i].id;
        recipe.parts[i].volume_ml = poured_from(request, answer, i);
        code = bottle_take(stock, request->refs[i].id,
                           poured_from(request, answer, i), error);
    }
    return code == EXIT_DONE ? recipe_insert(stock, &recipe, error) : code;
}

enum exit_code mix_record(const struct mix_request *request,
                          const struct mix_answer *answer, struct stock *stock,
                          struct error *error)
{
    sqlite3_int64 id;
    enum exit_code code;
    if (request->residue_ml > 0) {
        return refuse(error,
                      "--record keeps a mix of bottles; what is left over in a "
                      "damper is not one: leave --residue out");
    }
    if ((code = check_record(request, answer, error)) != EXIT_DONE ||
        (code = insert_bottle(request, answer, stock, &id, error)) !=
            EXIT_DONE) {
        return code;
    }
    return insert_recipe(request, answer, stock, id, error);
}
