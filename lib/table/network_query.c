/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* what mixes and bottles are, and how sure that is */
#include <math.h>

#include "base/range.h"
#include "table/network_internal.h"

/* -- A mix ---------------------------------------------------------------- */

/* what is asked: bottles with shares, at a temperature */
struct question {
    const struct mw_network *network;
    const struct mw_network_mix *mix;
    double t;
    size_t moved; /* the dose that is moved; count: none */
    double by;    /* parts of the batch */
};

static void compose(const struct question *question, const double *x,
                    struct mw_composition *composition)
{
    const struct mw_network_mix *mix = question->mix;
    double whole = 1 + (question->moved < mix->count ? question->by : 0);
    *composition = (struct mw_composition){0};
    for (size_t i = 0; i < mix->count; i++) {
        double by = i == question->moved ? question->by : 0;
        mw_network_compose(question->network, x, mix->bottles[i],
                           (mix->shares[i] + by) / whole, 0, composition);
    }
}

static double ln_v(const double *x, const void *params)
{
    const struct question *question = params;
    struct mw_composition composition;
    compose(question, x, &composition);
    return mw_network_ln_v(question->network, x, &composition, question->t,
                           question->mix->method);
}

static void depend(const struct question *question,
                   const struct mw_composition *composition,
                   struct mw_unknown_list *list)
{
    const struct mw_network_mix *mix = question->mix;
    *list = (struct mw_unknown_list){0};
    for (size_t i = 0; i < mix->count; i++) {
        mw_network_depend(question->network, mix->bottles[i], list);
    }
    if (!mix->method) {
        mw_network_depend_excess(question->network, composition, list);
    }
}

/* half of how far ln v swings as the question moves by u either way; one side
 * alone where there is no v on the other */
static double half_swing(const struct question *up, const struct question *down,
                         double here)
{
    const double *x = mw_network_estimates(up->network);
    double above = ln_v(x, up) - here, below = here - ln_v(x, down);
    return fabs(isnan(above)   ? below
                : isnan(below) ? above
                               : (above + below) / 2);
}

/* the variance of pairs that have no excess of their own in the network */
static double pair_variance(const struct question *question,
                            const struct mw_composition *composition)
{
    double sum = 0;
    const double *x = mw_network_estimates(question->network);
    for (size_t i = 0; i < composition->count && !question->mix->method; i++) {
        for (size_t j = 0; j < i; j++) {
            size_t pair[2] = {composition->bottles[i], composition->bottles[j]};
            double v[2] = {NAN, NAN};
            struct mw_oil oil;
            if (mw_network_pair(question->network, pair[0], pair[1]) !=
                MW_NO_UNKNOWN) {
                continue;
            }
            for (size_t k = 0; k < 2; k++) {
                mw_network_oil_at(question->network, x, pair[k], &oil);
                mw_oil_viscosity(&oil, question->t, &v[k]);
            }
            double apart = log(v[0] / v[1]);
            double part = composition->shares[i] * composition->shares[j] *
                          apart * apart * MW_EXCESS_PAIR;
            sum += oil.family == MW_SILICONE ? part * part : 0;
        }
    }
    return sum;
}

static double dose_variance(const struct question *question, double here)
{
    const struct mw_network_mix *mix = question->mix;
    double sum = 0;
    for (size_t i = 0; mix->doses && i < mix->count; i++) {
        struct question up = *question, down = *question;
        up.moved = down.moved = i;
        up.by = mix->doses[i];
        down.by = -mix->doses[i];
        double part = mix->doses[i] == 0 ? 0 : half_swing(&up, &down, here);
        sum += part * part;
    }
    return sum;
}

/* whether the temperature is one at which a bottle is rated: then it is not
 * read off a thermometer */
static bool is_rating(const struct question *question)
{
    const struct mw_network_mix *mix = question->mix;
    bool rated = false;
    for (size_t i = 0; i < mix->count; i++) {
        const struct mw_oil *label =
            &question->network->bottles[mix->bottles[i]].label;
        rated = rated ||
                mw_same_temperature(label->points[0].temperature, question->t);
    }
    return rated;
}

static double temperature_part(const struct question *question, double here)
{
    struct question up = *question, down = *question;
    double u;
    if (mw_rectangular(question->mix->thermometer, &u) != MW_OK) {
        return NAN;
    }
    up.t += u;
    down.t -= u;
    bool exact = u == 0 || (!question->mix->read && is_rating(question));
    return exact ? 0 : half_swing(&up, &down, here);
}

/* how ln v of a question moves with the unknowns */
struct sensitivity {
    struct mw_unknown_list list;
    double slopes[MW_LIST_MAX];
    struct mw_gradient gradient; /* of the two */
};

static enum mw_status find_sensitivity(const struct question *question,
                                       const struct mw_composition *composition,
                                       struct sensitivity *sensitivity)
{
    struct mw_unknown_list *list = &sensitivity->list;
    depend(question, composition, list);
    if (list->full) {
        return MW_ERR_BUDGET;
    }
    mw_adjustment_gradient(question->network->adjustment, ln_v, question,
                           list->count, list->items, sensitivity->slopes);
    sensitivity->gradient =
        (struct mw_gradient){list->count, list->items, sensitivity->slopes};
    return MW_OK;
}

/* what ln v of a question is uncertain by */
static enum mw_status find_parts(const struct question *question,
                                 const struct mw_composition *composition,
                                 double here, struct mw_tally *tally)
{
    const struct mw_network *network = question->network;
    struct sensitivity sensitivity;
    double temperature = temperature_part(question, here);
    enum mw_status status =
        find_sensitivity(question, composition, &sensitivity);
    if (status != MW_OK) {
        return status;
    }
    mw_adjustment_variance(network->adjustment, &sensitivity.gradient,
                           network->scratch);
    mw_tally_parts(network, network->scratch, tally);
    mw_tally_add(tally, MW_SOURCE_EXCESS, 0,
                 pair_variance(question, composition));
    mw_tally_add(tally, MW_SOURCE_DOSING, 0, dose_variance(question, here));
    mw_tally_add(tally, MW_SOURCE_TEMPERATURE, 0, temperature * temperature);
    return MW_OK;
}

/* what is asked comes down to oils that give it a viscosity */
static enum mw_status check(const struct question *question,
                            struct mw_composition *composition, double *here)
{
    const struct mw_network_mix *mix = question->mix;
    if (mix->count == 0 || mix->count > MW_MIX_OILS_MAX) {
        return MW_ERR_BUDGET;
    }
    compose(question, mw_network_estimates(question->network), composition);
    if (composition->broken) {
        return MW_ERR_BUDGET;
    }
    *here = ln_v(mw_network_estimates(question->network), question);
    return isfinite(*here) ? MW_OK : MW_ERR_VISCOSITY;
}

enum mw_status mw_network_mix(const struct mw_network *network,
                              const struct mw_network_mix *mix, double *v,
                              struct mw_budget *budget,
                              struct mw_sources *sources)
{
    struct question question = {network, mix, mix->temperature, mix->count, 0};
    struct mw_composition composition;
    struct mw_tally tally = {0};
    double here;
    *v = NAN;
    *budget = (struct mw_budget){0};
    enum mw_status status = check(&question, &composition, &here);
    if (status == MW_OK) {
        status = find_parts(&question, &composition, here, &tally);
    }
    if (status == MW_OK) {
        status = mw_tally_end(&tally, budget);
    }
    if (sources) {
        *sources = tally.sources;
    }
    if (status != MW_OK) {
        *budget = (struct mw_budget){0};
        return status;
    }
    *v = exp(here);
    return MW_OK;
}

/* -- One more reading ----------------------------------------------------- */

/* the variance of z = V c after a reading of a bottle; that of today where it
 * has no value */
static double after_reading(const struct question *question, size_t bottle,
                            double variance, double s)
{
    const double whole = 1;
    const struct mw_network_mix alone = {
        1, &bottle, &whole, question->t, 0, NULL, question->mix->method, false};
    const struct question reading = {question->network, &alone, question->t, 1,
                                     0};
    struct mw_composition composition;
    struct sensitivity sensitivity;
    double here;
    if (check(&reading, &composition, &here) != MW_OK ||
        find_sensitivity(&reading, &composition, &sensitivity) != MW_OK) {
        return variance;
    }
    return mw_adjustment_after(question->network->adjustment, variance,
                               question->network->scratch,
                               &sensitivity.gradient, s);
}

enum mw_status mw_network_after(const struct mw_network *network,
                                const struct mw_network_mix *mix,
                                const size_t *bottles, size_t count, double s,
                                double *after, double *itself)
{
    struct question question = {network, mix, mix->temperature, mix->count, 0};
    struct mw_composition composition;
    struct sensitivity sensitivity;
    double here;
    enum mw_status status = check(&question, &composition, &here);
    if (status == MW_OK && !(s > 0 && isfinite(s))) {
        status = MW_ERR_UNCERTAINTY;
    }
    if (status == MW_OK) {
        status = find_sensitivity(&question, &composition, &sensitivity);
    }
    for (size_t i = 0; i < count; i++) {
        after[i] = NAN;
    }
    *itself = NAN;
    if (status != MW_OK) {
        return status;
    }
    double variance = mw_adjustment_variance(
        network->adjustment, &sensitivity.gradient, network->scratch);
    double u = temperature_part(&question, here);
    double made =
        pair_variance(&question, &composition) + dose_variance(&question, here);
    for (size_t i = 0; i < count; i++) {
        after[i] = sqrt(after_reading(&question, bottles[i], variance, s) +
                        made + u * u);
    }
    variance += made;
    *itself = sqrt(variance * s * s / (variance + s * s) + u * u);
    return MW_OK;
}

/* -- One bottle ----------------------------------------------------------- */

/* a mix of silicone oils as one oil: its viscosity where it is rated */
static enum mw_status oil_of_mix(const struct question *question, size_t bottle,
                                 double here, struct mw_oil *oil)
{
    const struct mw_oil *label = &question->network->bottles[bottle].label;
    struct question other = *question;
    struct mw_point points[2] = {{exp(here), question->t}, {NAN, NAN}};
    size_t count = label->count > 1 ? 2 : 1;
    if (count == 2) {
        other.t = points[1].temperature = label->points[1].temperature;
        points[1].viscosity =
            exp(ln_v(mw_network_estimates(question->network), &other));
    }
    return mw_oil_make(label->family, points, count, label->density, oil);
}

enum mw_status mw_network_oil(const struct mw_network *network, size_t bottle,
                              struct mw_oil *oil, double *u)
{
    const struct mw_network_bottle *it = &network->bottles[bottle];
    const double whole = 1;
    double rated = it->label.points[0].temperature, here;
    const struct mw_network_mix mix = {1, &bottle, &whole, rated,
                                       0, NULL,    NULL,   false};
    const struct question question = {network, &mix, rated, 1, 0};
    struct mw_composition composition;
    struct sensitivity sensitivity;
    *u = NAN;
    enum mw_status status = check(&question, &composition, &here);
    if (status == MW_OK) {
        status = find_sensitivity(&question, &composition, &sensitivity);
    }
    if (status != MW_OK) {
        return status;
    }
    *u = sqrt(mw_adjustment_form(network->adjustment, &sensitivity.gradient) +
              pair_variance(&question, &composition));
    return it->part_count > 0
               ? oil_of_mix(&question, bottle, here, oil)
               : mw_network_oil_at(network, mw_network_estimates(network),
                                   bottle, oil);
}

bool mw_network_is_far(const struct mw_network *network, size_t bottle,
                       double v, double t, double *expected)
{
    const double whole = 1;
    const struct mw_network_mix alone = {1, &bottle, &whole, t,
                                         0, NULL,    NULL,   false};
    const struct question question = {network, &alone, t, 1, 0};
    struct mw_composition composition;
    double here;
    *expected = NAN;
    if (check(&question, &composition, &here) != MW_OK) {
        return false;
    }
    *expected = exp(here);
    return fabs(log(v) - here) > log(MW_FAR_READING);
}
