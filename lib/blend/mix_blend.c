/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "blend/mix_blend.h"

#include <math.h>

#include "base/range.h"
#include "blend/mixture_internal.h"

/* shares of what the oils of a mix are made of */
struct whole {
    const struct mw_oil *oils;
    size_t count;
    double shares[MW_MIX_OILS_MAX];
};

static void resolve(const struct mw_mix_job *job, const double *shares,
                    struct whole *whole)
{
    const struct mw_mix_bases *bases = job->bases;
    whole->oils = bases ? bases->oils : job->oils;
    whole->count = bases ? bases->count : job->count;
    for (size_t j = 0; j < whole->count; j++) {
        whole->shares[j] = bases ? 0 : shares[j];
        for (size_t i = 0; bases && i < job->count; i++) {
            whole->shares[j] += shares[i] * bases->made[i * bases->count + j];
        }
    }
}

static bool has_pairs(const struct mw_mix_job *job)
{
    return job->bases && job->bases->excess && job->method.excess != 0;
}

/* sum over pairs of f_i f_j K_ij (ln v_i/v_j)^2 */
static double lift_of(const struct mw_mix_job *job, const struct whole *whole)
{
    double lift = 0, ln_v[MW_MIX_OILS_MAX];
    for (size_t i = 0; i < whole->count; i++) {
        double v;
        mw_oil_viscosity(&whole->oils[i], job->temperature, &v);
        ln_v[i] = log(v);
        for (size_t j = 0; j < i; j++) {
            double apart = ln_v[i] - ln_v[j];
            lift += whole->shares[i] * whole->shares[j] * apart * apart *
                    job->bases->excess[i * whole->count + j];
        }
    }
    return lift;
}

/* the method without the excess that pairs bring themselves */
static struct mw_method method_of(const struct mw_mix_job *job)
{
    return (struct mw_method){job->method.rule,
                              has_pairs(job) ? 0 : job->method.excess};
}

enum mw_status mw_mix_blend(const struct mw_mix_job *job, const double *shares,
                            double *v, unsigned *warnings)
{
    struct whole whole;
    const struct mw_method method = method_of(job);
    resolve(job, shares, &whole);
    enum mw_status status = mw_mixture(whole.oils, whole.shares, whole.count,
                                       job->temperature, &method, v, warnings);
    if (status == MW_OK && has_pairs(job)) {
        *v *= exp(lift_of(job, &whole));
        if (!mw_viscosity_in_range(*v)) {
            *v = NAN;
            return MW_ERR_VISCOSITY;
        }
    }
    return status;
}

void mw_mix_by_rule(const struct mw_mix_job *job, const double *shares,
                    double by_rule[MW_RULES])
{
    struct whole whole;
    resolve(job, shares, &whole);
    for (size_t i = 0; i < MW_RULES; i++) {
        const struct mw_method plain = {(enum mw_rule)i, 0};
        mw_mixture(whole.oils, whole.shares, whole.count, job->temperature,
                   &plain, &by_rule[i], NULL);
    }
}

/* on a straight way the lift is of second degree: three places tell it */
static void set_lift(double first, double middle, double second,
                     struct mw_path *path)
{
    path->lift[0] = first;
    path->lift[1] = 4 * middle - 3 * first - second;
    path->lift[2] = 2 * (first + second) - 4 * middle;
}

enum mw_status mw_mix_path(const struct mw_mix_job *job,
                           double ends[2][MW_MIX_OILS_MAX],
                           struct mw_path *path)
{
    const struct mw_method method = method_of(job);
    struct mw_sums sums[2];
    struct whole whole[2], middle;
    for (size_t i = 0; i < 2; i++) {
        resolve(job, ends[i], &whole[i]);
        enum mw_status status =
            mw_mixture_sums(whole[i].oils, whole[i].shares, whole[i].count,
                            job->temperature, &method, &sums[i]);
        if (status != MW_OK) {
            return status;
        }
    }
    *path = mw_path_of(mw_rule_entry(method.rule), method.excess, sums);
    middle = whole[0];
    for (size_t i = 0; i < middle.count; i++) {
        middle.shares[i] = (whole[0].shares[i] + whole[1].shares[i]) / 2;
    }
    if (has_pairs(job)) {
        set_lift(lift_of(job, &whole[0]), lift_of(job, &middle),
                 lift_of(job, &whole[1]), path);
    }
    return MW_OK;
}
