/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheets/model/pair.h"

#include <math.h>
#include <stdio.h>

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
            oil_at(pair->names[i], &pair->oils[i], pair->temperature,
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
            "over an oil in between, near %s mm2/s",
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
            : mw_mixture_share(
                  pair->oils, mw_mixture_midway(pair->thin, pair->thick),
                  pair->temperature, &pair->method, &share, &pair->warnings);
    return explain(pair, status, error);
}

enum exit_code pair_make(const struct bottles *oil_list,
                         const struct known *known, const char *at,
                         struct blend_pair *pair, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    *pair = (struct blend_pair){0};
    if (oil_list->count != 2) {
        return refuse(error,
                      "two oils are mixed, not %zu; name two, such as 350 500",
                      oil_list->count);
    }
    for (size_t i = 0; i < 2; i++) {
        pair->names[i] = oil_list->list[i].name;
        pair->oils[i] = oil_list->list[i].best.oil;
        pair->uncertainty[i] = oil_list->list[i].best.uncertainty;
        pair->shared[i] = known->shared[i];
    }
    pair->temperature = mw_common_rating_t(pair->oils, 2);
    if (at && (code = parse_temperature(at, &pair->temperature, error)) !=
                  EXIT_DONE) {
        return code;
    }
    enum mw_status status = mw_method_default(pair->oils, 2, &pair->method);
    if (status == MW_OK && pair->oils[0].family == MW_SILICONE) {
        pair->method.excess = known->excess.value;
        pair->excess_uncertainty = known->excess.uncertainty;
        pair->trial_mixes = known->trial_mixes;
    }
    if ((code = explain(pair, status, error)) != EXIT_DONE ||
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

double pair_share(double v, const void *context)
{
    const struct blend_pair *pair = context;
    double share;
    mw_mixture_share(pair->oils, v, pair->temperature, &pair->method, &share,
                     NULL);
    return share;
}

double pair_viscosity(const struct blend_pair *pair, double share,
                      const struct mw_method *method)
{
    const double shares[2] = {1 - share, share};
    double v;
    mw_mixture(pair->oils, shares, 2, pair->temperature, method, &v, NULL);
    return v;
}

void pair_band(const struct blend_pair *pair, double share, double *low,
               double *high)
{
    const double shares[2] = {1 - share, share};
    const struct mw_mix_inputs inputs = {pair->uncertainty,
                                         pair->excess_uncertainty,
                                         MW_THERMOMETER, NULL, pair->shared};
    struct mw_budget budget;
    *low = *high = NAN;
    if (mw_mixture_uncertainty(pair->oils, shares, 2, pair->temperature,
                               &pair->method, &inputs, &budget) == MW_OK) {
        mw_budget_band(&budget, pair_viscosity(pair, share, &pair->method), low,
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
