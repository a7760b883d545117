/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "mix/mix.h"
#include "parse/amount.h"
#include "parse/number.h"
#include "util/format.h"

/* -- The job ------------------------------------------------------------ */

static bool has_amount(const struct mix_request *request, size_t i)
{
    return request->amounts[i].kind != MW_AMOUNT_OPEN;
}

static size_t count_amounts(const struct mix_request *request)
{
    size_t count = 0;
    for (size_t i = 0; i < request->count; i++) {
        count += has_amount(request, i);
    }
    return count;
}

/* parts and left receive those of all oils */
static struct mw_mix_job job_of(const struct mix_request *request,
                                struct mw_mix_part parts[MW_MIX_OILS_MAX],
                                double left[MW_MIX_OILS_MAX])
{
    for (size_t i = 0; i < request->all; i++) {
        const struct amount *amount = &request->amounts[i];
        /* what is in the cup already is taken from no bottle */
        left[i] = i < request->count ? request->refs[i].left_ml : NAN;
        parts[i] = (struct mw_mix_part){amount->kind, amount->value,
                                        request->refs[i].drop_ml};
    }
    return (struct mw_mix_job){
        .count = request->all,
        .oils = request->oils,
        .parts = parts,
        .temperature = request->temperature,
        .target = request->has_target ? request->target.viscosity : NAN,
        .method = request->method,
        .batch_ml = NAN,
        .batch_g = NAN,
        .bases = &request->bases->bases,
        .tools = request->tools,
        .left_ml = left};
}

static enum exit_code size_batch(const struct mix_request *request,
                                 struct mw_mix_job *job, struct error *error)
{
    double batch;
    if (!request->has_make) {
        return EXIT_DONE;
    }
    enum mw_status status = mw_dose_batch(
        request->make_count, request->make_each.value, request->waste, &batch);
    *(request->make_each.kind == MW_AMOUNT_G ? &job->batch_g : &job->batch_ml) =
        batch;
    return status == MW_OK
               ? EXIT_DONE
               : refuse(error, "--make: %s", mw_status_text(status));
}

/* -- What cannot be asked ------------------------------------------------ */

static enum exit_code check_kinds(const struct mix_request *request,
                                  struct error *error)
{
    bool parts = false, others = false;
    for (size_t i = 0; i < request->count; i++) {
        enum mw_amount_kind kind = request->amounts[i].kind;
        parts = parts || kind == MW_AMOUNT_PARTS;
        others = others || kind == MW_AMOUNT_ML || kind == MW_AMOUNT_G ||
                 kind == MW_AMOUNT_DROPS;
    }
    return parts && others
               ? refuse(error, "parts do not go with ml or g; write one kind "
                               "of amount for all")
               : EXIT_DONE;
}

static enum exit_code check_target(const struct mix_request *request,
                                   size_t amounts, struct error *error)
{
    if (amounts == request->count) {
        return refuse(error,
                      "%zu amounts and a target leave nothing to solve for; "
                      "leave one of them out",
                      amounts);
    }
    if (request->count - amounts > 2) {
        return refuse(error, "a target goes with two oils, or with amounts of "
                             "all oils but one or two");
    }
    return EXIT_DONE;
}

static enum exit_code check_question(const struct mix_request *request,
                                     struct error *error)
{
    size_t amounts = count_amounts(request);
    enum exit_code code = check_kinds(request, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if (request->has_target) {
        return check_target(request, amounts, error);
    }
    return amounts == request->count
               ? EXIT_DONE
               : refuse(error, "what is wanted? give --target V, or an amount "
                               "for each oil");
}

static enum exit_code refuse_unknowns(const struct mix_request *request,
                                      struct error *error)
{
    if (request->count - count_amounts(request) == 2) {
        return refuse(error, request->residue_ml > 0
                                 ? "what is left over needs a batch that is "
                                   "larger; give --make"
                                 : "amounts beside two oils to solve for need "
                                   "a batch; give --make");
    }
    return refuse(error, request->has_make
                             ? "--make and an amount both size the batch; "
                               "leave one out"
                             : "the shares of all others leave nothing to "
                               "solve for; leave one of them out");
}

/* fixed shares, or what is left over, take all of the batch or too little */
static enum exit_code refuse_room(const struct mix_request *request,
                                  struct error *error)
{
    double shares = 0;
    for (size_t i = 0; i < request->count; i++) {
        const struct amount *amount = &request->amounts[i];
        shares += amount->kind == MW_AMOUNT_SHARE ? amount->value : 0;
    }
    if (request->residue_ml > 0) {
        return refuse(error, "what is left over needs a batch that is larger; "
                             "give --make");
    }
    if (!request->has_target && shares < 1) {
        return refuse(error, "the shares come to %.4g %%, not to 100 %%",
                      100 * shares);
    }
    return refuse(error, "the fixed shares leave no room for the other oils; "
                         "they are below 100 %% together");
}

/* no amount of the open oil makes it the target */
static enum exit_code refuse_amount(const struct mix_request *request,
                                    struct error *error)
{
    char target[FORMAT_LENGTH], here[FORMAT_LENGTH];
    size_t open = 0;
    double v;
    while (has_amount(request, open)) {
        open++;
    }
    const struct oil_ref *ref = &request->refs[open];
    mw_oil_viscosity(&ref->oil, request->temperature, &v);
    if (v == request->target.viscosity) {
        return error_set(error, EXIT_NO_ANSWER,
                         "no amount of %.*s is enough; use it alone", QUOTED,
                         ref->name);
    }
    return error_set(
        error, EXIT_NO_ANSWER,
        "no amount of %.*s makes it %s mm2/s at %.6g C; alone it has %s",
        QUOTED, ref->name, format_compact(request->target.viscosity, target),
        request->temperature, format_significant(v, 3, here));
}

static enum exit_code explain(const struct mix_request *request,
                              const struct mix_answer *answer,
                              enum mw_status status, struct error *error)
{
    size_t fault = answer->mix.fault;
    switch (status) {
    case MW_ERR_DROP:
        return refuse(error,
                      "how large is a drop of %.*s? weigh 50, then midweight "
                      "stock set NAME --drops 50=0.62g",
                      QUOTED, request->refs[fault].name);
    case MW_ERR_UNKNOWNS:
        return refuse_unknowns(request, error);
    case MW_ERR_AMOUNT:
        return refuse_room(request, error);
    case MW_ERR_TARGET:
        return request->count - count_amounts(request) == 1
                   ? refuse_amount(request, error)
                   : mix_refuse(request, answer, status, error);
    default:
        return fault < request->all
                   ? explain_oil_status(request->refs[fault].name,
                                        &request->oils[fault],
                                        request->temperature, status, error)
                   : mix_refuse(request, answer, status, error);
    }
}

/* -- What comes of it ---------------------------------------------------- */

/* Nothing makes up for what is left over: the recipe as without it, and what
 * becomes of that. */
static enum mw_status pour_all_the_same(const struct mix_request *request,
                                        const struct mw_mix_job *job,
                                        struct mw_mix *mix)
{
    struct mw_mix_part parts[MW_MIX_OILS_MAX];
    struct mw_mix_job poured = *job, whole = *job;
    size_t last = request->count;
    poured.count = last;
    poured.batch_ml -= request->residue_ml;
    poured.batch_g -= request->residue_ml * mix->states[last].density;
    enum mw_status status = mw_mix_solve(&poured, mix);
    for (size_t i = 0; i < last; i++) {
        parts[i] = (struct mw_mix_part){MW_AMOUNT_ML, mix->volumes[i], NAN};
    }
    parts[last] = job->parts[last];
    whole.parts = parts;
    whole.target = NAN;
    whole.batch_ml = whole.batch_g = NAN;
    return status == MW_OK ? mw_mix_solve(&whole, mix) : status;
}

/* the shares of what is poured, without what is left over */
static void set_poured(const struct mix_request *request,
                       const struct mw_mix *mix, double shares[])
{
    double left =
        request->all > request->count ? mix->shares[request->count] : 0;
    for (size_t i = 0; i < request->count; i++) {
        shares[i] = mix->shares[i] / (1 - left);
    }
}

/* what the standard alone would pour for the target */
static void find_plain(const struct mix_request *request,
                       const struct mw_mix_job *job, struct mix_answer *answer)
{
    struct mw_mix_job plain = *job;
    struct mw_mix mix;
    plain.method.excess = 0;
    mw_mix_solve(&plain, &mix);
    set_poured(request, &mix, answer->plain_shares);
}

/* mm2/s of what is poured */
static double viscosity_of_poured(const struct mix_request *request,
                                  const struct mw_mix_job *job,
                                  const double shares[])
{
    struct mw_mix_part parts[MW_MIX_OILS_MAX];
    struct mw_mix_job poured = *job;
    struct mw_mix mix;
    for (size_t i = 0; i < request->count; i++) {
        parts[i] = (struct mw_mix_part){MW_AMOUNT_SHARE, shares[i], NAN};
    }
    poured.count = request->count;
    poured.parts = parts;
    poured.target = poured.batch_ml = poured.batch_g = NAN;
    mw_mix_solve(&poured, &mix);
    return mix.viscosity;
}

static void find_settling(struct mix_answer *answer)
{
    struct mw_settle settle;
    answer->settle_s = NAN;
    if (mw_batch_depth(answer->mix.total_ml, &answer->settle_depth) == MW_OK &&
        mw_settle(answer->mix.viscosity, MW_USUAL_BUBBLE, answer->settle_depth,
                  MW_STANDARD_ATMOSPHERE_KPA, &settle) == MW_OK) {
        answer->settle_s = settle.still_seconds;
    }
}

static enum exit_code solve_job(const struct mix_request *request,
                                const struct mw_mix_job *job,
                                struct mix_answer *answer, struct error *error)
{
    struct mw_mix *mix = &answer->mix;
    enum mw_status status = mw_mix_solve(job, mix);
    size_t open = request->count - count_amounts(request);
    if (status == MW_ERR_TARGET && request->residue_ml > 0 && open == 2) {
        answer->residue_shifts = true;
        status = pour_all_the_same(request, job, mix);
    }
    if (status != MW_OK) {
        return explain(request, answer, status, error);
    }
    answer->tops_up = request->has_target && open == 1 &&
                      isfinite(mix->total_ml) && !request->has_make;
    answer->added = mix->open[0];
    set_poured(request, mix, answer->shares);
    find_plain(request, job, answer);
    answer->without_residue = viscosity_of_poured(request, job, answer->shares);
    return EXIT_DONE;
}

enum exit_code mix_solve(const struct mix_request *request,
                         struct mix_answer *answer, struct error *error)
{
    struct mw_mix_part parts[MW_MIX_OILS_MAX];
    double left[MW_MIX_OILS_MAX];
    struct mw_mix_job job = job_of(request, parts, left);
    enum exit_code code;
    if ((code = check_question(request, error)) != EXIT_DONE ||
        (code = size_batch(request, &job, error)) != EXIT_DONE ||
        (code = solve_job(request, &job, answer, error)) != EXIT_DONE ||
        (code = mix_find_uncertainty(request, &job, answer, error)) !=
            EXIT_DONE ||
        (code = mix_dose(request, &job, answer, error)) != EXIT_DONE) {
        return code;
    }
    find_settling(answer);
    return EXIT_DONE;
}
