/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
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

const char *mix_offered_name(const struct mix_request *request, size_t id)
{
    return request->named ? request->named[id].name
                          : request->bottles.list[id].name;
}

/* ml of the batch asked for, 0 where none is; grams by the density of an oil
 * like the target */
static enum exit_code find_batch(const struct mix_request *request,
                                 double *batch, struct error *error)
{
    struct mw_oil oil;
    double density;
    enum exit_code code = mix_batch(request, batch, error);
    if (code != EXIT_DONE || request->make_each.kind != MW_AMOUNT_G) {
        return code;
    }
    enum mw_status status =
        mw_oil_make(request->family, &request->target, 1, NAN, &oil);
    if (status == MW_OK) {
        status = mw_oil_density(&oil, request->temperature, &density, NULL);
    }
    if (status == MW_OK) {
        status = mw_dose_volume(*batch, density, batch);
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
                                 &request->network, error);
    }
    request->offered = true;
    request->family = bottles_family(&request->bottles);
    return code;
}

/* -- The choice ----------------------------------------------------------- */

/* K of oils that have not been mixed yet, unless it is given */
static struct mw_excess excess_of(const struct mix_request *request)
{
    struct mw_excess excess = {request->method.excess, 0};
    if (!request->has_rule && !request->has_excess) {
        mw_network_usual_excess(request->network.network,
                                request->target.viscosity, &excess);
    }
    return excess;
}

static enum exit_code make_wish(const struct mix_request *request,
                                struct mw_wish *wish, struct error *error)
{
    *wish = (struct mw_wish){.target = request->target.viscosity,
                             .temperature = request->temperature,
                             .excess = excess_of(request)};
    return find_batch(request, &wish->batch, error);
}

static enum mw_status choose(struct mix_request *request,
                             const struct mw_candidate *candidates,
                             size_t count, const struct mw_wish *wish)
{
    size_t i = mw_choose_alone(candidates, count, wish);
    request->alone = SIZE_MAX;
    if (i < count) {
        request->alone = candidates[i].id;
        mw_oil_viscosity(candidates[i].oil, wish->temperature,
                         &request->alone_v);
    }
    return mw_choose(candidates, count, wish, request->pair, &request->pairs);
}

/* an oil that was offered */
static struct oil_ref offered(const struct mix_request *request, size_t id)
{
    return request->named ? request->named[id]
                          : oil_ref_of(&request->bottles.list[id]);
}

static void take(struct mix_request *request, size_t id)
{
    struct oil_ref ref = offered(request, id);
    mix_add_oil_ref(request, &ref);
}

/* the best pair; where there is none the oil that is the target already, all
 * of it. What was there before is what was offered. */
static void take_chosen(struct mix_request *request)
{
    request->chosen = true;
    request->count = request->all = 0;
    request->refs = NULL;
    if (request->pairs > 0) {
        take(request, request->pair[0].thin);
        take(request, request->pair[0].thick);
    } else {
        take(request, request->alone);
        request->amounts[0] = (struct amount){MW_AMOUNT_SHARE, 1};
    }
}

/* whether one of them is enough; not beside what is left over, which shifts it
 */
static bool is_enough(const struct mix_request *request)
{
    return request->alone != SIZE_MAX && !(request->residue_ml > 0);
}

enum exit_code mix_choose_named(struct mix_request *request,
                                struct error *error)
{
    struct mw_candidate candidates[MW_MIX_OILS_MAX];
    struct mw_method ignored;
    struct mw_oil oils[MW_MIX_OILS_MAX];
    struct mw_wish wish;
    enum exit_code code = make_wish(request, &wish, error);
    if (code != EXIT_DONE) {
        return code;
    }
    for (size_t i = 0; i < request->count; i++) {
        struct oil_ref *ref = &request->refs[i];
        double u;
        oils[i] = ref->oil;
        if (mw_network_oil(request->network.network,
                           oil_ref_node(&request->network, ref), &oils[i],
                           &u) != MW_OK) {
            u = NAN; /* takes no part */
        }
        candidates[i] = (struct mw_candidate){i, &oils[i], u, ref->left_ml};
    }
    if (mw_method_default(oils, request->count, &ignored) != MW_OK) {
        return NO_ANSWER("silicone and mineral oil do not mix; take oils of "
                         "one family");
    }
    if (choose(request, candidates, request->count, &wish) != MW_OK &&
        !is_enough(request)) {
        return NO_ANSWER("no two of these oils make %.6g mm2/s at %.6g C",
                         wish.target, wish.temperature);
    }
    request->named = request->refs;
    take_chosen(request);
    return EXIT_DONE;
}

enum exit_code mix_choose(struct mix_request *request, struct error *error)
{
    struct mw_wish wish;
    enum exit_code code = make_wish(request, &wish, error);
    if (code != EXIT_DONE) {
        return code;
    }
    struct mw_candidate *candidates =
        xcalloc(request->bottles.count, sizeof candidates[0]);
    size_t count =
        bottles_candidates(&request->bottles, request->family, candidates);
    enum mw_status status = choose(request, candidates, count, &wish);
    free(candidates);
    if (status != MW_OK && !is_enough(request)) {
        return refuse_choice(request, status, error);
    }
    take_chosen(request);
    return EXIT_DONE;
}

void mix_runner_up(const struct mix_request *request, struct oil_ref refs[2])
{
    refs[0] = offered(request, request->pair[1].thin);
    refs[1] = offered(request, request->pair[1].thick);
}
