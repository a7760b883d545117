/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "mix/mix.h"
#include "oils/volume.h"
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

enum exit_code mix_set_job(struct mix_request *request, struct error *error)
{
    double batch;
    enum exit_code code = mix_batch(request, &batch, error);
    bool sized = code == EXIT_DONE && request->has_make;
    bool weighed = request->make_each.kind == MW_AMOUNT_G;
    for (size_t i = 0; i < request->all; i++) {
        const struct amount *amount = &request->amounts[i];
        request->parts[i] = (struct mw_mix_part){amount->kind, amount->value,
                                                 request->refs[i].drop_ml};
        /* what is in the cup already is taken from no bottle */
        request->left_ml[i] =
            i < request->count ? request->refs[i].left_ml : (double)NAN;
    }
    request->job = (struct mw_mix_job){
        .count = request->all,
        .in_cup = request->all - request->count,
        .parts = request->parts,
        .temperature = request->temperature,
        .thermometer = request->thermometer,
        .read = request->read,
        .target = request->has_target && !mix_is_alone(request)
                      ? request->target.viscosity
                      : (double)NAN,
        .batch_ml = sized && !weighed ? batch : (double)NAN,
        .batch_g = sized && weighed ? batch : (double)NAN,
        .tools = request->tools,
        .left_ml = request->left_ml};
    return code;
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
    if (code != EXIT_DONE || mix_is_alone(request)) {
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
    mw_oil_viscosity(&request->known->oils[open], request->temperature, &v);
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

/* the bottles or the tool cannot give this batch */
static enum exit_code refuse_tool(const struct mix_request *request,
                                  const struct mw_mix_answer *result,
                                  struct error *error)
{
    char works[FORMAT_LENGTH], left[FORMAT_LENGTH];
    const char *unit = request->make_each.kind == MW_AMOUNT_G ? "g" : "ml";
    if (isfinite(result->recipe.works)) {
        return error_set(error, EXIT_NO_ANSWER,
                         "the bottles hold too little for this batch; %s %s is "
                         "possible",
                         format_compact(result->recipe.works, works), unit);
    }
    if (result->mix.shortest < request->count) {
        const struct oil_ref *ref = &request->refs[result->mix.shortest];
        return error_set(error, EXIT_NO_ANSWER,
                         "%.*s holds only %s ml, too little for this tool",
                         QUOTED, ref->name,
                         format_significant(ref->left_ml, 3, left));
    }
    return error_set(error, EXIT_NO_ANSWER,
                     "the batch has more than %d steps of the tool; use a "
                     "coarser one",
                     (int)MW_STEPS_MAX);
}

static enum exit_code explain(const struct mix_request *request,
                              const struct mix_answer *answer,
                              enum mw_status status, struct error *error)
{
    size_t fault = answer->result.mix.fault;
    switch (status) {
    case MW_ERR_DROP:
        return refuse_drop(request->refs[fault].name, error);
    case MW_ERR_UNKNOWNS:
        return refuse_unknowns(request, error);
    case MW_ERR_AMOUNT:
        return refuse_room(request, error);
    case MW_ERR_TOOL:
        return refuse_tool(request, &answer->result, error);
    case MW_ERR_TARGET:
        return request->count - count_amounts(request) == 1
                   ? refuse_amount(request, error)
                   : mix_refuse(request, answer, status, error);
    default:
        return fault < request->all
                   ? explain_oil_status(request->refs[fault].name,
                                        &request->known->oils[fault],
                                        request->temperature, status, error)
                   : mix_refuse(request, answer, status, error);
    }
}

/* -- What comes of it ---------------------------------------------------- */

double mix_poured(const struct mix_answer *answer, size_t i)
{
    return answer->result.has_recipe ? answer->result.recipe.doses[i].volume_ml
                                     : answer->result.mix.volumes[i];
}

/* a tool that was asked for has something to round */
static enum exit_code check_tool(const struct mix_request *request,
                                 const struct mix_answer *answer,
                                 struct error *error)
{
    const struct mw_mix_answer *result = &answer->result;
    if (!any_tool(&request->tools) || request->usual_tools ||
        result->has_recipe) {
        return EXIT_DONE;
    }
    return isfinite(result->mix.total_ml)
               ? refuse(error, "all amounts are given, so a tool has nothing "
                               "to round; leave it out")
               : refuse(error, "a tool needs to know the batch; give --make");
}

enum exit_code mix_solve(const struct mix_request *request,
                         struct mix_answer *answer, struct error *error)
{
    struct mw_mix_answer *result = &answer->result;
    enum exit_code code = check_question(request, error);
    if (code != EXIT_DONE) {
        return code;
    }
    enum mw_status status =
        mw_mix_answer(request->known, &request->job, result);
    if (status != MW_OK) {
        return explain(request, answer, status, error);
    }
    answer->uncertainty =
        (struct oils_uncertainty){.standard = result->uncertainty,
                                  .low = result->low,
                                  .high = result->high,
                                  .sources = result->sources,
                                  .next = {.after = NAN}};
    return check_tool(request, answer, error);
}

void mix_advise(const struct mix_request *request, struct mix_answer *answer)
{
    double doses[MW_MIX_OILS_MAX];
    const struct mw_network_mix question = mw_mix_question(
        request->known, &request->job, &answer->result.mix, doses);
    oils_find_advice(&request->network, &question, &answer->uncertainty);
}
