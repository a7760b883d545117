/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "blend/mixture.h"

#include <math.h>
#include <stdbool.h>

#include "base/positive.h"
#include "base/range.h"
#include "blend/mixture_internal.h"
#include "blend/pair.h"
#include "blend/sums.h"

static enum mw_status check_family(const struct mw_oil *oils, size_t n)
{
    for (size_t i = 1; i < n; i++) {
        if (oils[i].family != oils[0].family) {
            return MW_ERR_FAMILY;
        }
    }
    return MW_OK;
}

struct mw_method mw_method_of(enum mw_family family, bool lines, double excess)
{
    bool silicone = family == MW_SILICONE;
    return (struct mw_method){!silicone && lines ? MW_RULE_WRIGHT
                                                 : MW_RULE_ASTM,
                              silicone ? excess : 0};
}

enum mw_status mw_method_default(const struct mw_oil *oils, size_t n,
                                 struct mw_method *method)
{
    *method = (struct mw_method){MW_RULE_ASTM, NAN};
    enum mw_status status = check_family(oils, n);
    if (status != MW_OK) {
        return status;
    }
    bool lines = true;
    for (size_t i = 0; i < n; i++) {
        lines = lines && oils[i].has_line;
    }
    *method = mw_method_of(oils[0].family, lines, MW_SILICONE_EXCESS);
    return MW_OK;
}

/* sums over the oils of a mix, and the extremes among them */
struct mixture {
    const struct mw_rule_entry *rule;
    struct mw_sums sums;
    double thinnest, thickest; /* mm2/s */
    double x;                  /* log10 T */
};

static enum mw_status add_oil(struct mixture *mixture, const struct mw_oil *oil,
                              double share, double t)
{
    double v, p, q;
    enum mw_status status = mw_oil_viscosity(oil, t, &v);
    if (status != MW_OK) {
        return status;
    }
    if (mixture->rule->needs_lines && !oil->has_line) {
        return MW_ERR_NO_LINE;
    }
    mixture->thinnest = fmin(mixture->thinnest, v);
    mixture->thickest = fmax(mixture->thickest, v);
    mixture->rule->weigh(mixture->rule->scale(v), &oil->line, mixture->x, &p,
                         &q);
    mw_sums_to_rule(&mixture->sums, p, q, share);
    mw_sums_to_excess(&mixture->sums, v, share);
    return MW_OK;
}

/* the slack keeps 1000 to 1 itself allowed after a change of temperature */
bool mw_ratio_allowed(double thinner, double thicker)
{
    return thicker <= MW_RATIO_MAX * (1 + 1e-12) * thinner;
}

static enum mw_status sum_up(const struct mw_oil *oils, const double *shares,
                             size_t n, double t, const struct mw_method *method,
                             struct mixture *mixture)
{
    *mixture = (struct mixture){.rule = mw_rule_entry(method->rule),
                                .thinnest = INFINITY};
    enum mw_status status =
        mixture->rule ? mw_sums_check(shares, n) : MW_ERR_NAME;
    if (status == MW_OK) {
        status = check_family(oils, n);
    }
    if (status == MW_OK && !isfinite(method->excess)) {
        status = MW_ERR_EXCESS;
    }
    if (status == MW_OK) {
        status = mw_chart_x(t, &mixture->x);
    }
    for (size_t i = 0; i < n && status == MW_OK; i++) {
        status = add_oil(mixture, &oils[i], shares[i], t);
    }
    if (status == MW_OK &&
        !mw_ratio_allowed(mixture->thinnest, mixture->thickest)) {
        status = MW_ERR_RATIO;
    }
    return status;
}

enum mw_status mw_mixture_sums(const struct mw_oil *oils, const double *shares,
                               size_t n, double t,
                               const struct mw_method *method,
                               struct mw_sums *sums)
{
    struct mixture mixture;
    enum mw_status status = sum_up(oils, shares, n, t, method, &mixture);
    *sums = mixture.sums;
    return status;
}

/* densities play no part in a mix by volume */
static unsigned warnings_of(const struct mixture *mixture,
                            const struct mw_oil *oils, size_t n, double t,
                            enum mw_rule rule)
{
    unsigned warnings = 0;
    for (size_t i = 0; i < n; i++) {
        warnings |= mw_oil_warnings(&oils[i], t);
    }
    if (mixture->thickest > MW_RATIO_WIDE * mixture->thinnest) {
        warnings |= MW_WARN_WIDE;
    }
    if (rule == MW_RULE_WRIGHT && oils[0].family == MW_SILICONE) {
        warnings |= MW_WARN_WRIGHT_SILICONE;
    }
    return warnings;
}

/* the viscosity of the plain rule lifted by an excess of ln v */
static enum mw_status lifted(double plain, double lift, double *v)
{
    *v = plain * exp(lift);
    if (!mw_viscosity_in_range(*v)) {
        *v = NAN;
        return MW_ERR_VISCOSITY;
    }
    return MW_OK;
}

enum mw_status mw_mixture(const struct mw_oil *oils, const double *shares,
                          size_t n, double t, const struct mw_method *method,
                          double *v, unsigned *warnings)
{
    struct mixture mixture;
    *v = NAN;
    if (warnings) {
        *warnings = 0;
    }
    enum mw_status status = sum_up(oils, shares, n, t, method, &mixture);
    if (status != MW_OK) {
        return status;
    }
    if (warnings) {
        *warnings = warnings_of(&mixture, oils, n, t, method->rule);
    }
    const struct mw_sums *sums = &mixture.sums;
    return lifted(mixture.rule->unscale(sums->p / sums->q),
                  method->excess * sums->variance, v);
}

/* the target must lie between the oils themselves, to the last digit */
static enum mw_status check_target(const double v[2], double target)
{
    if (!(target >= fmin(v[0], v[1]) && target <= fmax(v[0], v[1]))) {
        return MW_ERR_TARGET;
    }
    return v[0] == v[1] ? MW_ERR_EQUAL_VISCOSITY : MW_OK;
}

static enum mw_status solve_share(const struct mw_oil pair[2],
                                  const double v[2], double target, double x,
                                  const struct mw_method *method, double *share)
{
    const struct mw_line lines[2] = {pair[0].line, pair[1].line};
    struct mw_pair known =
        mw_pair_of(lines, v, x, method->rule, method->excess);
    return method->excess != 0 ? mw_pair_share(&known, target, share)
                               : mw_pair_plain_share(&known, target, share);
}

/* of a target that lies between the oils: where only the last digits part it
 * from an oil, its W may come out beyond, and it is that oil */
static enum mw_status share_of(const struct mw_oil pair[2], const double v[2],
                               double target, double x,
                               const struct mw_method *method, double *share)
{
    enum mw_status status = MW_ERR_TARGET;
    if (target != v[0] && target != v[1]) {
        status = solve_share(pair, v, target, x, method, share);
    }
    if (status == MW_ERR_TARGET) {
        *share = fabs(target - v[1]) < fabs(target - v[0]);
        status = MW_OK;
    }
    return status;
}

enum mw_status mw_mixture_share(const struct mw_oil pair[2], double target,
                                double t, const struct mw_method *method,
                                double *share, unsigned *warnings)
{
    const double halves[2] = {0.5, 0.5};
    struct mixture mixture;
    double v[2];
    *share = NAN;
    if (warnings) {
        *warnings = 0;
    }
    enum mw_status status = sum_up(pair, halves, 2, t, method, &mixture);
    if (status == MW_OK) {
        mw_oil_viscosity(&pair[0], t, &v[0]);
        mw_oil_viscosity(&pair[1], t, &v[1]);
        status = check_target(v, target);
    }
    if (status != MW_OK) {
        return status;
    }
    if (warnings) {
        *warnings = warnings_of(&mixture, pair, 2, t, method->rule);
    }
    return share_of(pair, v, target, mixture.x, method, share);
}

enum mw_status mw_mixture_nearest(const struct mw_oil *oils, size_t n,
                                  double target, double t, size_t *nearest,
                                  double *v)
{
    enum mw_status status = MW_OK;
    double best = INFINITY;
    *nearest = n;
    *v = NAN;
    if (!mw_is_positive(target)) {
        return MW_ERR_VISCOSITY;
    }
    for (size_t i = 0; i < n; i++) {
        double here;
        enum mw_status known = mw_oil_viscosity(&oils[i], t, &here);
        double away = fabs(log(here / target));
        if (away < best) {
            best = away;
            *nearest = i;
            *v = here;
        }
        status = known == MW_OK ? status : known;
    }
    return *nearest < n ? MW_OK : status;
}

enum mw_status mw_mixture_density(const struct mw_oil *oils,
                                  const double *shares, size_t n,
                                  double *density)
{
    double sum = 0;
    bool stated = false;
    *density = NAN;
    enum mw_status status = mw_sums_check(shares, n);
    if (status == MW_OK) {
        status = check_family(oils, n);
    }
    for (size_t i = 0; i < n && status == MW_OK; i++) {
        double here;
        status = mw_oil_density(&oils[i], mw_family_density_t(oils[i].family),
                                &here, NULL);
        sum += shares[i] * here;
        stated = stated || isfinite(oils[i].density);
    }
    if (status == MW_OK && stated) {
        *density = sum;
    }
    return status;
}

double mw_mixture_midway(double v1, double v2)
{
    return sqrt(v1 * v2);
}
