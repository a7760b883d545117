/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheets/model/pair.h"

#include <math.h>
#include <stdio.h>

#include "oils/oil_ref.h"
#include "parse/number.h"
#include "parse/oil_spec.h"
#include "parse/viscosity.h"
#include "util/format.h"

#define NO_ANSWER(...) error_set(error, EXIT_NO_ANSWER, __VA_ARGS__)

static enum exit_code bring_to_temperature(struct blend_pair *pair,
                                           struct error *error)
{
    for (size_t i = 0; i < 2; i++) {
        enum exit_code code =
            oil_at(pair->names[i], &pair->known.oils[i], pair->temperature,
                   &pair->states[i], error);
        if (code != EXIT_DONE) {
            return code;
        }
    }
    double v[2] = {pair->states[0].viscosity, pair->states[1].viscosity};
    pair->thin = fmin(v[0], v[1]);
    pair->thick = fmax(v[0], v[1]);
    return EXIT_DONE;
}

static enum exit_code explain(const struct blend_pair *pair,
                              enum mw_status status, struct error *error)
{
    char between[FORMAT_LENGTH];
    switch (status) {
    case MW_OK:
        return EXIT_DONE;
    case MW_ERR_FAMILY:
        return NO_ANSWER("silicone and mineral oil do not mix; take oils of "
                         "one family");
    case MW_ERR_RATIO:
        return NO_ANSWER(
            "these oils are more than %g to 1 apart, too far to calculate; mix "
            "in two steps, with a third oil one of %s mm2/s first",
            MW_RATIO_MAX,
            format_significant(mw_mixture_midway(pair->thin, pair->thick), 2,
                               between));
    case MW_ERR_EQUAL_VISCOSITY:
        return NO_ANSWER("these oils are alike at %.6g C, and so is every mix "
                         "of them; use either",
                         pair->temperature);
    case MW_ERR_EXCESS:
        return NO_ANSWER("these oils do not thicken steadily with the share; "
                         "take oils that are closer");
    default:
        return NO_ANSWER("%s", mw_status_text(status));
    }
}

/* whether there is one share for each viscosity between the oils: asked of the
 * library once, for the one in the middle */
static enum exit_code check_mix(struct blend_pair *pair, struct error *error)
{
    double share;
    enum mw_status status =
        pair->thin == pair->thick
            ? MW_ERR_EQUAL_VISCOSITY
            : mw_mixture_share(pair->known.oils,
                               mw_mixture_midway(pair->thin, pair->thick),
                               pair->temperature, &pair->known.method, &share,
                               &pair->warnings);
    return explain(pair, status, error);
}

/* what is known of the two */
static enum exit_code gather(struct oil_list *oil_list, struct blend_pair *pair,
                             struct error *error)
{
    struct stock_network *network = &oil_list->network;
    size_t nodes[2];
    for (size_t i = 0; i < 2; i++) {
        const struct bottle *bottle = &oil_list->bottles.list[i];
        pair->names[i] = bottle->name;
        nodes[i] =
            oil_list->nodes ? oil_list->nodes[i] : bottle_node(network, bottle);
    }
    enum exit_code code = stock_network_solve(network, error);
    if (code != EXIT_DONE) {
        return code;
    }
    enum mw_status status =
        mw_mix_gather(network->network, nodes, 2, NULL, &pair->known);
    if (status == MW_ERR_BUDGET) {
        return refuse(error, "a mix of more than %d bottles",
                      (int)MW_MIX_OILS_MAX);
    }
    pair->trial_mixes =
        pair->known.excess_uncertainty > 0 ? network->trial_mixes : 0;
    return explain(pair, status, error);
}

enum exit_code pair_make(struct oil_list *oil_list, const char *at,
                         struct blend_pair *pair, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    *pair = (struct blend_pair){0};
    if (oil_list->bottles.count != 2) {
        return refuse(error,
                      "two oils are mixed, not %zu; name two, such as 350 500",
                      oil_list->bottles.count);
    }
    if ((code = gather(oil_list, pair, error)) != EXIT_DONE) {
        return code;
    }
    pair->temperature = mw_common_rating_t(pair->known.oils, 2);
    if ((at && (code = parse_temperature(at, &pair->temperature, error)) !=
                   EXIT_DONE) ||
        (code = bring_to_temperature(pair, error)) != EXIT_DONE) {
        return code;
    }
    return check_mix(pair, error);
}

const char *pair_excess_source(const struct blend_pair *pair,
                               char buffer[SOURCE_LENGTH])
{
    if (pair->trial_mixes > 0) {
        snprintf(buffer, SOURCE_LENGTH, "from %zu of your mixes",
                 pair->trial_mixes);
    } else {
        snprintf(buffer, SOURCE_LENGTH, "Br. J. Ophthalmol. 95 (2011) 273");
    }
    return buffer;
}

struct mw_mix_job pair_job(const struct blend_pair *pair,
                           const struct mw_mix_part parts[2])
{
    return (struct mw_mix_job){.count = 2,
                               .oils = pair->known.oils,
                               .parts = parts,
                               .temperature = pair->temperature,
                               .thermometer = MW_THERMOMETER,
                               .target = NAN,
                               .method = pair->known.method,
                               .batch_ml = NAN,
                               .batch_g = NAN,
                               .bases = &pair->known.bases.bases};
}

double pair_share(double v, const void *context)
{
    static const struct mw_mix_part open[2] = {{MW_AMOUNT_OPEN, NAN, NAN},
                                               {MW_AMOUNT_OPEN, NAN, NAN}};
    struct mw_mix_job job = pair_job(context, open);
    struct mw_mix mix;
    job.target = v;
    mw_mix_solve(&job, &mix);
    return mix.shares[1];
}

double pair_viscosity(const struct blend_pair *pair, double share,
                      const struct mw_method *method)
{
    const struct mw_mix_part parts[2] = {{MW_AMOUNT_SHARE, 1 - share, NAN},
                                         {MW_AMOUNT_SHARE, share, NAN}};
    struct mw_mix_job job = pair_job(pair, parts);
    struct mw_mix mix;
    job.method = *method;
    mw_mix_solve(&job, &mix);
    return mix.viscosity;
}

void pair_band(const struct blend_pair *pair, double share, double *low,
               double *high)
{
    const double shares[2] = {1 - share, share};
    const struct mw_network_mix mix = {2,
                                       pair->known.nodes,
                                       shares,
                                       pair->temperature,
                                       MW_THERMOMETER,
                                       NULL,
                                       NULL,
                                       false};
    struct mw_budget budget;
    double v;
    *low = *high = NAN;
    if (mw_network_mix(pair->known.network, &mix, &v, &budget, NULL) == MW_OK) {
        mw_budget_band(&budget,
                       pair_viscosity(pair, share, &pair->known.method), low,
                       high);
    }
}

enum exit_code pair_check_target(const struct blend_pair *pair, double v,
                                 struct error *error)
{
    char target[FORMAT_LENGTH], thin[FORMAT_LENGTH], thick[FORMAT_LENGTH];
    if (v >= pair->thin && v <= pair->thick) {
        return EXIT_DONE;
    }
    return NO_ANSWER("%s mm2/s at %.6g C is not between these oils, %s to %s "
                     "there",
                     format_compact(v, target), pair->temperature,
                     format_significant(pair->thin, 3, thin),
                     format_significant(pair->thick, 3, thick));
}
