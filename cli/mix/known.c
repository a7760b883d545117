/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* the oils of a mix, and what all that the stock knows says of them */
#include <stdlib.h>

#include "mix/mix.h"
#include "oils/outlier.h"
#include "oils/pair_mix.h"
#include "parse/number.h"
#include "util/xalloc.h"

/* -- Oils ----------------------------------------------------------------- */

static void add_oil(struct mix_request *request, const struct oil_ref *ref)
{
    size_t i = request->all++;
    request->refs = xreallocarray(request->refs, i + 1, sizeof *request->refs);
    request->refs[i] = *ref;
}

void mix_add_oil_ref(struct mix_request *request, const struct oil_ref *ref)
{
    request->count++;
    add_oil(request, ref);
}

void mix_request_free(struct mix_request *request)
{
    stock_network_free(&request->network);
    bottles_free(&request->bottles);
    free(request->named);
    free(request->refs);
    free(request->known);
    *request = (struct mix_request){0};
}

/* -- What is known -------------------------------------------------------- */

enum exit_code mix_join(struct stock_handle *handle,
                        struct mix_request *request, struct error *error)
{
    struct stock_network *network = &request->network;
    enum exit_code code =
        request->offered ? EXIT_DONE /* with its bottles */
                         : stock_network_load(&handle->stock, network, error);
    if (code != EXIT_DONE) {
        return code;
    }
    for (size_t i = 0; i < request->all; i++) {
        oil_ref_node(network, &request->refs[i]);
    }
    if (request->residue_ml > 0) {
        oil_ref_node(network, &request->residue);
    }
    return stock_network_solve(network, error);
}

/* how sure the runner-up is, by all that is known too */
static void judge_runner_up(struct mix_request *request, struct oil_ref refs[2])
{
    struct pair_mix mix;
    size_t nodes[2];
    for (size_t i = 0; i < 2; i++) {
        nodes[i] = oil_ref_node(&request->network, &refs[i]);
    }
    if (pair_mix_find(&request->network, nodes, &request->target,
                      request->thermometer, mix_method(request),
                      &mix) == MW_OK) {
        request->pair[1].uncertainty = mix.uncertainty;
    }
}

size_t mix_trial_mixes(const struct mix_request *request)
{
    return request->known->excess_uncertainty > 0 ? request->network.trial_mixes
                                                  : 0;
}

static enum exit_code gather(struct mix_request *request, const size_t *nodes,
                             struct error *error)
{
    request->known = xcalloc(1, sizeof *request->known);
    enum mw_status status =
        mw_mix_gather(request->network.network, nodes, request->all,
                      mix_method(request), request->known);
    if (status == MW_ERR_BUDGET) {
        return refuse(error, "these mixes come from more than %d bottles",
                      (int)MW_MIX_OILS_MAX);
    }
    return status == MW_OK ? EXIT_DONE
                           : mix_refuse(request, NULL, status, error);
}

bool mix_is_alone(const struct mix_request *request)
{
    return request->chosen && request->pairs == 0;
}

enum exit_code mix_gather(struct mix_request *request, struct error *error)
{
    struct stock_network *network = &request->network;
    struct oil_ref others[2];
    size_t nodes[MW_MIX_OILS_MAX];
    bool runner_up = request->chosen && request->pairs > 1;
    if (request->residue_ml > 0) {
        request->amounts[request->all] =
            (struct amount){MW_AMOUNT_ML, request->residue_ml};
        add_oil(request, &request->residue);
    }
    for (size_t i = 0; i < request->all; i++) {
        nodes[i] = oil_ref_node(network, &request->refs[i]);
    }
    if (runner_up) {
        mix_runner_up(request, others);
        oil_ref_node(network, &others[0]);
        oil_ref_node(network, &others[1]);
    }
    enum exit_code code = stock_network_solve(network, error);
    if (code != EXIT_DONE ||
        (code = gather(request, nodes, error)) != EXIT_DONE ||
        (code = mix_set_job(request, error)) != EXIT_DONE) {
        return code;
    }
    for (size_t i = 0; i < request->all; i++) {
        outlier_remark(network, nodes[i], error);
    }
    if (runner_up) {
        judge_runner_up(request, others);
    }
    return EXIT_DONE;
}
