/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "mix/mix.h"
#include "parse/amount.h"
#include "parse/number.h"

#define NO_ANSWER(...) error_set(error, EXIT_NO_ANSWER, __VA_ARGS__)

static enum exit_code bring_to_temperature(const struct mix_request *request,
                                           struct mix_answer *answer,
                                           struct error *error)
{
    enum exit_code code = EXIT_DONE;
    for (size_t i = 0; i < request->count && code == EXIT_DONE; i++) {
        code = oil_at(request->refs[i].name, &request->oils[i],
                      request->temperature, &answer->states[i], error);
    }
    return code;
}

/* ml of an amount of oil i; parts stay what they are */
static enum exit_code volume_of(const struct mix_request *request,
                                const struct mix_answer *answer, size_t i,
                                double *volume, struct error *error)
{
    const struct amount *amount = &request->amounts[i];
    const struct oil_ref *ref = &request->refs[i];
    *volume = amount->value;
    if (amount->kind == AMOUNT_G) {
        mw_dose_volume(amount->value, answer->states[i].density, volume);
    }
    if (amount->kind == AMOUNT_DROPS) {
        *volume = amount->value * ref->drop_ml;
    }
    return isfinite(*volume)
               ? EXIT_DONE
               : refuse(error,
                        "how large is a drop of %.*s? weigh 50, then midweight "
                        "stock set NAME --drops 50=0.62g",
                        QUOTED, ref->name);
}

/* all amounts in ml, or all in parts */
static enum exit_code read_volumes(const struct mix_request *request,
                                   const struct mix_answer *answer,
                                   double volumes[], struct error *error)
{
    bool parts = request->amounts[0].kind == AMOUNT_PARTS;
    enum exit_code code = EXIT_DONE;
    for (size_t i = 0; i < request->count && code == EXIT_DONE; i++) {
        if ((request->amounts[i].kind == AMOUNT_PARTS) != parts) {
            return refuse(error,
                          "parts do not go with ml or g; write one kind of "
                          "amount for all");
        }
        code = volume_of(request, answer, i, &volumes[i], error);
    }
    return code;
}

/* the amounts of a batch, of which some is left over already */
static void set_volumes(const struct mix_request *request,
                        struct mix_answer *answer, double total_ml)
{
    answer->total_ml = total_ml;
    for (size_t i = 0; i < request->count; i++) {
        answer->volumes[i] =
            answer->shares[i] * (total_ml - request->residue_ml);
        mw_dose_mass(answer->volumes[i], answer->states[i].density,
                     &answer->masses[i]);
    }
}

static size_t count_amounts(const struct mix_request *request)
{
    size_t count = 0;
    for (size_t i = 0; i < request->count; i++) {
        count += request->has_amount[i];
    }
    return count;
}

/* amounts of all and no target: what was made */
static enum exit_code solve_forward(const struct mix_request *request,
                                    struct mix_answer *answer,
                                    struct error *error)
{
    double amounts[MW_MIX_OILS_MAX], total;
    bool parts = request->amounts[0].kind == AMOUNT_PARTS;
    enum exit_code code = read_volumes(request, answer, amounts, error);
    if (code != EXIT_DONE) {
        return code;
    }
    enum mw_status status =
        mw_dose_shares(amounts, request->count, answer->shares, &total);
    if (status != MW_OK) {
        return mix_refuse(request, answer, status, error);
    }
    set_volumes(request, answer, parts ? NAN : total + request->residue_ml);
    return EXIT_DONE;
}

/* two oils and a target: the shares; one amount: how much of the other */
static enum exit_code solve_backward(const struct mix_request *request,
                                     struct mix_answer *answer,
                                     struct error *error)
{
    double share, there, volume;
    enum mw_status status =
        mw_mixture_share(request->oils, request->target.viscosity,
                         request->temperature, &request->method, &share, NULL);
    if (status != MW_OK) {
        return mix_refuse(request, answer, status, error);
    }
    answer->shares[0] = 1 - share;
    answer->shares[1] = share;
    if (count_amounts(request) == 0) {
        set_volumes(request, answer, NAN);
        return EXIT_DONE;
    }
    size_t present = request->has_amount[0] ? 0 : 1;
    answer->tops_up = true;
    answer->added = 1 - present;
    if (request->amounts[present].kind == AMOUNT_PARTS) {
        return refuse(error, "how much is there? write %.*s=12ml or =12g",
                      QUOTED, request->refs[present].name);
    }
    enum exit_code code = volume_of(request, answer, present, &there, error);
    if (code != EXIT_DONE) {
        return code;
    }
    status = mw_dose_top_up(there, answer->shares[answer->added], &volume);
    if (status != MW_OK) {
        return NO_ANSWER("no amount of %.*s is enough; use it alone", QUOTED,
                         request->refs[answer->added].name);
    }
    set_volumes(request, answer, there + volume);
    answer->volumes[present] = there; /* as it was given, without rounding */
    return EXIT_DONE;
}

static enum exit_code size_batch(const struct mix_request *request,
                                 struct mix_answer *answer, struct error *error)
{
    double densities[MW_MIX_OILS_MAX], batch, density;
    if (!request->has_make) {
        return EXIT_DONE;
    }
    if (answer->tops_up) {
        return refuse(error,
                      "--make and an amount both size the batch; leave one "
                      "out");
    }
    enum mw_status status = mw_dose_batch(
        request->make_count, request->make_each.value, request->waste, &batch);
    if (status == MW_OK && request->make_each.kind == AMOUNT_G) {
        for (size_t i = 0; i < request->count; i++) {
            densities[i] = answer->states[i].density;
        }
        mw_dose_density(densities, answer->shares, request->count, &density);
        status = mw_dose_volume(batch, density, &batch);
    }
    if (status != MW_OK) {
        return mix_refuse(request, answer, status, error);
    }
    set_volumes(request, answer, batch);
    return EXIT_DONE;
}

/* the whole-number ratio that a syringe counts out */
static void find_ratio(const struct mix_request *request,
                       struct mix_answer *answer)
{
    double parts[2], shares[2];
    if (request->count != 2 ||
        mw_dose_ratio(answer->shares[1], MW_CHOICE_PARTS, &answer->ratio[0],
                      &answer->ratio[1]) != MW_OK) {
        return;
    }
    parts[0] = answer->ratio[0];
    parts[1] = answer->ratio[1];
    answer->has_ratio =
        parts[0] > 0 && parts[1] > 0 &&
        mw_dose_shares(parts, 2, shares, NULL) == MW_OK &&
        mw_mixture(request->oils, shares, 2, request->temperature,
                   &request->method, &answer->ratio_viscosity, NULL) == MW_OK;
}

/* what the standard alone says, and how far apart the rules are */
static void compare_rules(const struct mix_request *request,
                          struct mix_answer *answer)
{
    const struct mw_method plain = {request->method.rule, 0};
    mw_mixture(request->oils, answer->shares, request->count,
               request->temperature, &plain, &answer->plain_viscosity, NULL);
    mw_mixture_spread(request->oils, answer->shares, request->count,
                      request->temperature, &request->method, &answer->spread);
    for (size_t i = 0; i < request->count; i++) {
        answer->plain_shares[i] = answer->shares[i];
    }
    if (request->has_target) {
        mw_mixture_share(request->oils, request->target.viscosity,
                         request->temperature, &plain, &answer->plain_shares[1],
                         NULL);
        answer->plain_shares[0] = 1 - answer->plain_shares[1];
    }
}

/* the oils that are poured and, last, what is left over, with their shares of
 * the whole; how many they are */
static size_t with_residue(const struct mix_request *request,
                           const struct mix_answer *answer,
                           struct mw_oil oils[], double shares[])
{
    double part =
        request->has_residue ? request->residue_ml / answer->total_ml : 0;
    for (size_t i = 0; i < request->count; i++) {
        oils[i] = request->oils[i];
        shares[i] = answer->shares[i] * (1 - part);
    }
    if (request->has_residue) {
        oils[request->count] = request->residue.oil;
        shares[request->count] = part;
    }
    return request->count + request->has_residue;
}

/* pour so that the whole, with what is left over, has the target */
static enum exit_code make_up(const struct mix_request *request,
                              struct mix_answer *answer, struct error *error)
{
    double share;
    if (!request->has_residue) {
        return EXIT_DONE;
    }
    if (!(answer->total_ml > request->residue_ml)) {
        return refuse(error,
                      "what is left over needs a batch that is larger; give "
                      "--make");
    }
    if (!request->has_target || answer->tops_up) {
        return EXIT_DONE;
    }
    const struct mw_oil oils[3] = {request->oils[0], request->oils[1],
                                   request->residue.oil};
    enum mw_status status = mw_residue_share(
        oils, request->residue_ml / answer->total_ml, request->target.viscosity,
        request->temperature, &request->method, &share, NULL);
    if (status == MW_ERR_TARGET) {
        answer->residue_shifts = true;
        return EXIT_DONE;
    }
    if (status != MW_OK) {
        return mix_refuse(request, answer, status, error);
    }
    answer->shares[0] = 1 - share;
    answer->shares[1] = share;
    set_volumes(request, answer, answer->total_ml);
    return EXIT_DONE;
}

static enum exit_code find_viscosity(const struct mix_request *request,
                                     struct mix_answer *answer,
                                     struct error *error)
{
    struct mw_oil oils[MW_MIX_OILS_MAX + 1];
    double shares[MW_MIX_OILS_MAX + 1];
    size_t count = with_residue(request, answer, oils, shares);
    enum mw_status status =
        mw_mixture(oils, shares, count, request->temperature, &request->method,
                   &answer->viscosity, &answer->warnings);
    if (status == MW_OK) {
        status = mw_mixture(request->oils, answer->shares, request->count,
                            request->temperature, &request->method,
                            &answer->without_residue, NULL);
    }
    return status == MW_OK ? EXIT_DONE
                           : mix_refuse(request, answer, status, error);
}

static void find_settling(struct mix_answer *answer)
{
    double depth;
    struct mw_settle settle;
    answer->settle_s = NAN;
    if (mw_batch_depth(answer->total_ml, &depth) == MW_OK &&
        mw_settle(answer->viscosity, MW_USUAL_BUBBLE, depth,
                  MW_STANDARD_ATMOSPHERE_KPA, &settle) == MW_OK) {
        answer->settle_s = settle.still_seconds;
    }
}

static enum exit_code check_question(const struct mix_request *request,
                                     struct error *error)
{
    size_t amounts = count_amounts(request);
    if (request->has_target && request->count != 2) {
        return refuse(error,
                      "a target goes with two oils; mix two of them first, or "
                      "give all amounts and no target");
    }
    if (request->has_target && amounts == 2) {
        return refuse(error,
                      "two amounts and a target leave nothing to solve for; "
                      "leave one of them out");
    }
    if (!request->has_target && amounts < request->count) {
        return refuse(error,
                      "what is wanted? give --target V, or an amount for each "
                      "oil");
    }
    return EXIT_DONE;
}

enum exit_code mix_solve(const struct mix_request *request,
                         struct mix_answer *answer, struct error *error)
{
    struct mw_method ignored;
    enum exit_code code = check_question(request, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if (mw_method_default(request->oils, request->count, &ignored) != MW_OK) {
        return mix_refuse(request, answer, MW_ERR_FAMILY, error);
    }
    if ((code = bring_to_temperature(request, answer, error)) != EXIT_DONE ||
        (code = (request->has_target ? solve_backward : solve_forward)(
             request, answer, error)) != EXIT_DONE ||
        (code = size_batch(request, answer, error)) != EXIT_DONE ||
        (code = make_up(request, answer, error)) != EXIT_DONE ||
        (code = find_viscosity(request, answer, error)) != EXIT_DONE ||
        (code = mix_dose(request, answer, error)) != EXIT_DONE ||
        (code = mix_find_uncertainty(request, answer, error)) != EXIT_DONE) {
        return code;
    }
    mix_check_left(request, answer);
    find_ratio(request, answer);
    compare_rules(request, answer);
    find_settling(answer);
    return EXIT_DONE;
}
