/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "table/shared.h"

#include <gsl/gsl_math.h>
#include <math.h>

#include "table/shared_internal.h"
#include "uncertainty/budget.h"

/* the part of a bottle in an oil, zero where it is not in it */
static double part_of(const struct mw_shared *shared, long long bottle)
{
    for (size_t i = 0; i < shared->count; i++) {
        if (shared->list[i].bottle == bottle) {
            return shared->list[i].part;
        }
    }
    return 0;
}

void mw_shared_add(struct mw_shared *shared, long long bottle, double part)
{
    size_t i = 0;
    while (i < shared->count && shared->list[i].bottle != bottle) {
        i++;
    }
    if (i == MW_SHARED_MAX) {
        return;
    }
    if (i == shared->count) {
        shared->list[i].bottle = bottle;
        shared->list[i].part = 0;
        shared->count++;
    }
    shared->list[i].part += part;
}

void mw_shared_add_mix(struct mw_shared *shared, const struct mw_shared *oils,
                       const double *swings, size_t n, double weight)
{
    for (size_t i = 0; i < n; i++) {
        for (size_t j = 0; j < oils[i].count; j++) {
            mw_shared_add(shared, oils[i].list[j].bottle,
                          weight * swings[i] * oils[i].list[j].part);
        }
    }
}

double mw_label_weight(double tolerance, double u)
{
    double label;
    mw_rectangular(tolerance > 0 ? tolerance : NAN, &label);
    return isnan(label) ? NAN : fmin(1, gsl_pow_2(u / label));
}

void mw_shared_complete(struct mw_shared *shared, long long bottle, double u)
{
    double sum = 0;
    for (size_t i = 0; i < shared->count; i++) {
        sum += gsl_pow_2(shared->list[i].part);
    }
    double known = sqrt(sum);
    for (size_t i = 0; i < shared->count && known > u; i++) {
        shared->list[i].part *= u / known;
    }
    mw_shared_add(shared, bottle,
                  known < u ? sqrt((u - known) * (u + known)) : 0);
}

/* whether a bottle has been met in an oil before the last one */
static int is_met(const struct mw_shared *shared, size_t n, long long bottle)
{
    for (size_t i = 0; i < n; i++) {
        if (part_of(&shared[i], bottle) != 0) {
            return 1;
        }
    }
    return 0;
}

double mw_shared_combined(const struct mw_shared *shared, const double *swings,
                          size_t n)
{
    double sum = 0;
    for (size_t i = 0; i < n; i++) {
        for (size_t j = 0; j < shared[i].count; j++) {
            long long bottle = shared[i].list[j].bottle;
            double through = 0;
            /* each bottle once, at the first oil that it is in */
            for (size_t k = i; k < n && !is_met(shared, i, bottle); k++) {
                through += swings[k] * part_of(&shared[k], bottle);
            }
            sum += gsl_pow_2(through);
        }
    }
    return sqrt(sum);
}
