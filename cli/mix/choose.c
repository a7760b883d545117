/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

#include "mix/mix.h"
#include "output/text.h"
#include "parse/amount.h"
#include "parse/number.h"
#include "util/format.h"
#include "util/xalloc.h"

#define NO_ANSWER(...) error_set(error, EXIT_NO_ANSWER, __VA_ARGS__)

static void add_oil(struct mix_request *request, const struct oil_ref *ref)
{
    size_t i = request->all++;
    request->refs = xreallocarray(request->refs, i + 1, sizeof *request->refs);
    request->oils = xreallocarray(request->oils, i + 1, sizeof *request->oils);
    request->refs[i] = *ref;
    request->oils[i] = ref->oil;
    request->uncertainty[i] = ref->uncertainty;
}

void mix_add_oil_ref(struct mix_request *request, const struct oil_ref *ref)
{
    request->count++;
    add_oil(request, ref);
}

void mix_add_residue(struct mix_request *request, const struct oil_ref *ref,
                     double ml)
{
    request->residue_ml = ml;
    request->amounts[request->all] = (struct amount){MW_AMOUNT_ML, ml};
    add_oil(request, ref);
}

const char *mix_offered_name(const struct mix_request *request, size_t id)
{
    return request->named ? request->named[id].name
                          : request->bottles.list[id].name;
}

void mix_request_free(struct mix_request *request)
{
    bottles_free(&request->bottles);
    free(request->named);
    free(request->refs);
    free(request->oils);
    free(request->bases);
    stock_network_free(&request->network);
    *request = (struct mix_request){0};
}

/* ml of the batch asked for, 0 where none is; grams by the density of an oil
 * like the target */
static enum exit_code find_batch(const struct mix_request *request,
                                 double *batch, struct error *error)
{
    struct mw_oil oil;
    double density;
    *batch = 0;
    if (!request->has_make) {
        return EXIT_DONE;
    }
    enum mw_status status = mw_dose_batch(
        request->make_count, request->make_each.value, request->waste, batch);
    if (status == MW_OK && request->make_each.kind == MW_AMOUNT_G) {
        status = mw_oil_make(request->family, &request->target, 1, NAN, &oil);
        if (status == MW_OK) {
            status = mw_oil_density(&oil, request->temperature, &density, NULL);
        }
        if (status == MW_OK) {
            status = mw_dose_volume(*batch, density, batch);
        }
    }
    return status == MW_OK
               ? EXIT_DONE
               : refuse(error, "--make: %s", mw_status_text(status));
}

/* the bottle that comes nearest on its own, or "" */
static const char *nearest_bottle(const struct mix_request *request,
                                  char text[NEAREST_LENGTH])
{
    const struct bottles *bottles = &request->bottles;
    struct mw_oil *oils = xcalloc(bottles->count, sizeof oils[0]);
    const char **names = xcalloc(bottles->count, sizeof names[0]);
    for (size_t i = 0; i < bottles->count; i++) {
        oils[i] = bottles->list[i].best.oil;
        names[i] = bottles->list[i].name;
    }
    mix_nearest_alone(oils, names, bottles->count, &request->target, text);
    free(names);
    free(oils);
    return text;
}

static enum exit_code refuse_choice(const struct mix_request *request,
                                    enum mw_status status, struct error *error)
{
    char target[FORMAT_LENGTH], nearest[NEAREST_LENGTH];
    format_compact(request->target.viscosity, target);
    if (request->bottles.count == 0) {
        return NO_ANSWER("the stock is empty; midweight stock add Elm 350 "
                         "puts a bottle in, or name two oils");
    }
    if (status == MW_ERR_INSUFFICIENT_STOCK) {
        return NO_ANSWER("no two bottles hold enough for that much of %s "
                         "mm2/s; make less, or see midweight stock list",
                         target);
    }
    if (status == MW_ERR_EXCESS) {
        return NO_ANSWER("with an excess of %g no two bottles thicken steadily "
                         "with the share; take a smaller excess",
                         request->method.excess);
    }
    return NO_ANSWER("no two bottles of the stock have %s mm2/s at %.6g C "
                     "between them%s",
                     target, request->temperature,
                     nearest_bottle(request, nearest));
}

enum exit_code mix_offer(struct mix_request *request,
                         struct stock_handle *handle, struct error *error)
{
    enum exit_code code = stock_handle_open(handle, error);
    if (code == EXIT_DONE) {
        code = bottles_load_best(&handle->stock, &request->bottles,
                                 &request->usual, error);
    }
    request->family = bottles_family(&request->bottles);
    return code;
}

static struct mw_wish wish_of(const struct mix_request *request, double batch)
{
    return (struct mw_wish){
        .target = request->target.viscosity,
        .temperature = request->temperature,
        .batch = batch,
        .excess = {request->method.excess, request->excess_uncertainty}};
}

/* the id of the oil that is the target already */
static size_t find_alone(const struct mw_candidate candidates[], size_t count,
                         const struct mw_wish *wish)
{
    size_t i = mw_choose_alone(candidates, count, wish);
    return i < count ? candidates[i].id : SIZE_MAX;
}

enum exit_code mix_choose_named(struct mix_request *request,
                                struct error *error)
{
    struct mw_candidate candidates[MW_MIX_OILS_MAX];
    struct mw_method ignored;
    double batch;
    enum exit_code code = find_batch(request, &batch, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if (mw_method_default(request->oils, request->count, &ignored) != MW_OK) {
        return NO_ANSWER("silicone and mineral oil do not mix; take oils of "
                         "one family");
    }
    for (size_t i = 0; i < request->count; i++) {
        candidates[i] =
            (struct mw_candidate){i, &request->oils[i], request->uncertainty[i],
                                  request->refs[i].left_ml};
    }
    struct mw_wish wish = wish_of(request, batch);
    request->alone = find_alone(candidates, request->count, &wish);
    if (mw_choose(candidates, request->count, &wish, request->pair,
                  &request->pairs) != MW_OK) {
        return NO_ANSWER("no two of these oils make %.6g mm2/s at %.6g C",
                         wish.target, wish.temperature);
    }
    request->chosen = true;
    request->named = request->refs;
    free(request->oils);
    request->refs = NULL;
    request->oils = NULL;
    request->count = request->all = 0;
    mix_add_oil_ref(request, &request->named[request->pair[0].thin]);
    mix_add_oil_ref(request, &request->named[request->pair[0].thick]);
    return EXIT_DONE;
}

enum exit_code mix_choose(struct mix_request *request, struct error *error)
{
    double batch;
    enum exit_code code = find_batch(request, &batch, error);
    if (code != EXIT_DONE) {
        return code;
    }
    struct mw_wish wish = wish_of(request, batch);
    struct mw_candidate *candidates =
        xcalloc(request->bottles.count, sizeof candidates[0]);
    size_t count =
        bottles_candidates(&request->bottles, request->family, candidates);
    enum mw_status status =
        mw_choose(candidates, count, &wish, request->pair, &request->pairs);
    request->alone = find_alone(candidates, count, &wish);
    free(candidates);
    if (status != MW_OK) {
        return refuse_choice(request, status, error);
    }
    request->chosen = true;
    const size_t ids[2] = {request->pair[0].thin, request->pair[0].thick};
    for (size_t i = 0; i < 2; i++) {
        struct oil_ref ref = oil_ref_of(&request->bottles.list[ids[i]]);
        mix_add_oil_ref(request, &ref);
    }
    return code;
}
