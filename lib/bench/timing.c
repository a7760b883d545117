/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench/timing.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_pow_int.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdbool.h>

#include "base/positive.h"
#include "base/range.h"
#include "bench/timing_internal.h"
#include "uncertainty/budget.h"

/* label tolerances, from memory */
#define LABEL_THIN  0.05
#define LABEL_THICK 0.10
#define LABEL_STEP  1000.0 /* mm2/s */

static bool are_times(const double *times, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        if (!mw_is_positive(times[i])) {
            return false;
        }
    }
    return true;
}

/* by which Student's t exceeds the normal k */
static double widening(double freedom)
{
    double below = gsl_cdf_ugaussian_P(MW_COVERAGE);
    return gsl_cdf_tdist_Pinv(below, freedom) / MW_COVERAGE;
}

enum mw_status mw_type_a_of(const double *times, size_t n,
                            struct mw_type_a *type_a)
{
    *type_a = (struct mw_type_a){NAN, NAN, NAN};
    if (n < 2 || !are_times(times, n)) {
        return MW_ERR_READINGS;
    }
    type_a->mean = gsl_stats_mean(times, 1, n);
    type_a->deviation = gsl_stats_sd_m(times, 1, n, type_a->mean);
    type_a->uncertainty =
        type_a->deviation / sqrt((double)n) * widening((double)(n - 1));
    return MW_OK;
}

enum mw_status mw_hand_time(const double *times, size_t n, double *mean,
                            double *u)
{
    *mean = *u = NAN;
    if (n < 1 || !are_times(times, n)) {
        return MW_ERR_READINGS;
    }
    *mean = gsl_stats_mean(times, 1, n);
    *u = MW_STOPWATCH;
    if (n > 1) {
        double freedom = MW_STOPWATCH_FREEDOM + (double)(n - 1);
        double squares = gsl_stats_tss_m(times, 1, n, *mean);
        double variance =
            (MW_STOPWATCH_FREEDOM * gsl_pow_2(MW_STOPWATCH) + squares) /
            freedom;
        *u = sqrt(variance / (double)n) * widening(freedom);
    }
    return MW_OK;
}

static double weight(const struct mw_estimate *estimate)
{
    return 1 / gsl_pow_2(estimate->uncertainty);
}

static enum mw_status check(const struct mw_estimate *estimates, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        if (!mw_viscosity_in_range(estimates[i].viscosity)) {
            return MW_ERR_VISCOSITY;
        }
        if (!(estimates[i].uncertainty >= MW_ESTIMATE_MIN &&
              estimates[i].uncertainty <= MW_ESTIMATE_MAX)) {
            return MW_ERR_UNCERTAINTY;
        }
    }
    return n > 0 ? MW_OK : MW_ERR_READINGS;
}

static double chi_squared(const struct mw_estimate *estimates, size_t n,
                          double ln_v)
{
    double sum = 0;
    for (size_t i = 0; i < n; i++) {
        double away = log(estimates[i].viscosity) - ln_v;
        sum += gsl_pow_2(away / estimates[i].uncertainty);
    }
    return sum;
}

enum mw_status mw_pool(const struct mw_estimate *estimates, size_t n,
                       struct mw_pooled *pooled)
{
    *pooled = (struct mw_pooled){NAN, NAN, NAN, NAN, NAN};
    enum mw_status status = check(estimates, n);
    if (status != MW_OK) {
        return status;
    }
    double weights = 0, weighted = 0;
    for (size_t i = 0; i < n; i++) {
        weights += weight(&estimates[i]);
        weighted += weight(&estimates[i]) * log(estimates[i].viscosity);
    }
    double ln_v = weighted / weights;
    double chi2 = chi_squared(estimates, n, ln_v);
    double freedom = (double)(n - 1);
    double birge = n > 1 ? sqrt(chi2 / freedom) : 1;
    pooled->viscosity = exp(ln_v);
    pooled->uncertainty = 1 / sqrt(weights);
    pooled->chi_squared = chi2;
    pooled->p_value = n > 1 ? gsl_cdf_chisq_Q(chi2, freedom) : 1;
    pooled->widened = pooled->uncertainty * fmax(1, birge);
    return MW_OK;
}

double mw_usual_tolerance(double v)
{
    return v <= LABEL_STEP ? LABEL_THIN : LABEL_THICK;
}

enum mw_status mw_label_uncertainty(double v, double *u)
{
    *u = NAN;
    if (!mw_viscosity_in_range(v)) {
        return MW_ERR_VISCOSITY;
    }
    return mw_rectangular(mw_usual_tolerance(v), u);
}
