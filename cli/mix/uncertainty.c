/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdlib.h>

#include "mix/mix.h"
#include "parse/number.h"
#include "util/xalloc.h"

/* the oils at their best values, and what they are made of */
static enum exit_code find_oils(struct mix_request *request,
                                struct error *error)
{
    const struct mw_network *network = request->network.network;
    for (size_t i = 0; i < request->all; i++) {
        struct oil_ref *ref = &request->refs[i];
        oil_ref_adjust(&request->network, request->nodes[i], ref, error);
        request->oils[i] = ref->oil;
        request->uncertainty[i] = ref->uncertainty;
    }
    enum mw_status status =
        mw_network_bases(network, request->nodes, request->all, request->bases);
    if (request->exact) {
        request->bases->bases.excess = NULL;
    }
    return status == MW_OK
               ? EXIT_DONE
               : refuse(error, "these mixes come from more than %d bottles",
                        (int)MW_MIX_OILS_MAX);
}

/* K of the first two oils, which the answer names */
static void find_excess(struct mix_request *request)
{
    struct mw_excess excess;
    if (request->exact || request->all < 2 ||
        request->oils[0].family != MW_SILICONE) {
        return;
    }
    mw_network_excess(request->network.network, request->nodes[0],
                      request->nodes[1], &excess);
    request->method.excess = excess.value;
    request->excess_uncertainty = excess.uncertainty;
    request->trial_mixes = request->network.trial_mixes;
}

/* the nodes of the runner-up of a choice */
static void add_runner_up(struct mix_request *request, size_t nodes[2])
{
    const size_t ids[2] = {request->pair[1].thin, request->pair[1].thick};
    for (size_t i = 0; i < 2; i++) {
        struct oil_ref ref = request->named
                                 ? request->named[ids[i]]
                                 : oil_ref_of(&request->bottles.list[ids[i]]);
        nodes[i] = oil_ref_node(&request->network, &ref);
    }
}

/* how sure the runner-up is, by all that is known too */
static void find_runner_up(struct mix_request *request, const size_t nodes[2])
{
    struct mw_choice *next = &request->pair[1];
    const double shares[2] = {1 - next->share, next->share};
    const struct mw_mix pour = {.shares = {shares[0], shares[1]}};
    double doses[2];
    mw_mix_doses(&pour, 2, doses);
    const struct mw_network_mix mix = {2,
                                       nodes,
                                       shares,
                                       request->temperature,
                                       request->thermometer,
                                       doses,
                                       request->exact ? &request->method
                                                      : NULL};
    struct mw_budget budget;
    double v;
    if (mw_network_mix(request->network.network, &mix, &v, &budget, NULL) ==
        MW_OK) {
        next->uncertainty = mw_budget_combined(&budget);
    }
}

enum exit_code mix_join(struct stock_handle *handle,
                        struct mix_request *request, struct error *error)
{
    struct stock_network *network = &request->network;
    enum exit_code code = stock_network_load(&handle->stock, network, error);
    if (code != EXIT_DONE) {
        return code;
    }
    for (size_t i = 0; i < request->all; i++) {
        request->nodes[i] = oil_ref_node(network, &request->refs[i]);
    }
    bool runner_up = request->chosen && request->pairs > 1;
    size_t others[2];
    if (runner_up) {
        add_runner_up(request, others);
    }
    request->bases = xcalloc(1, sizeof *request->bases);
    if ((code = stock_network_solve(network, error)) == EXIT_DONE &&
        (code = find_oils(request, error)) == EXIT_DONE) {
        find_excess(request);
    }
    if (code == EXIT_DONE && runner_up) {
        find_runner_up(request, others);
    }
    return code;
}

enum exit_code mix_find_uncertainty(const struct mix_request *request,
                                    const struct mw_mix_job *job,
                                    struct mix_answer *answer,
                                    struct error *error)
{
    double doses[MW_MIX_OILS_MAX];
    mw_mix_doses(&answer->mix, job->count, doses);
    const struct mw_network_mix mix = {job->count,
                                       request->nodes,
                                       answer->mix.shares,
                                       job->temperature,
                                       request->thermometer,
                                       doses,
                                       request->exact ? &request->method
                                                      : NULL};
    enum mw_status status = oils_find_uncertainty(
        &request->network, &mix, answer->mix.viscosity, &answer->uncertainty);
    if (status == MW_OK && request->targets == 0) {
        oils_find_advice(&request->network, &mix, &answer->uncertainty);
    }
    return status == MW_OK ? EXIT_DONE
                           : mix_refuse(request, answer, status, error);
}
