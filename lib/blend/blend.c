/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "blend/blend.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

#include "blend/sums.h"

static const char *const rule_names[] = {
    [MW_RULE_ASTM] = "astm",
    [MW_RULE_WRIGHT] = "wright",
};

enum { RULES = sizeof rule_names / sizeof rule_names[0] };

const char *mw_rule_name(enum mw_rule rule)
{
    return (unsigned)rule < RULES ? rule_names[rule] : "?";
}

enum mw_status mw_rule_from_name(const char *name, enum mw_rule *rule)
{
    for (size_t i = 0; i < RULES; i++) {
        if (strcmp(name, rule_names[i]) == 0) {
            *rule = (enum mw_rule)i;
            return MW_OK;
        }
    }
    return MW_ERR_NAME;
}

static bool falls(const struct mw_line *line)
{
    return isfinite(line->a) && isfinite(line->b) && line->b > 0;
}

enum mw_status mw_blend_astm(const double *v, const double *shares, size_t n,
                             double *blend)
{
    struct mw_sums sums = {0};
    *blend = NAN;
    enum mw_status status = mw_sums_check(shares, n);
    for (size_t i = 0; i < n && status == MW_OK; i++) {
        status = mw_sums_to_astm(&sums, v[i], shares[i]);
    }
    return status == MW_OK ? mw_walther_v(sums.w, blend) : status;
}

/* where between two values a third lies, as the share of the second */
static enum mw_status share_between(double first, double second, double target,
                                    double *share)
{
    *share = NAN;
    if (first == second) {
        return target == first ? MW_ERR_EQUAL_VISCOSITY : MW_ERR_TARGET;
    }
    double part = (target - first) / (second - first);
    if (!(part >= 0 && part <= 1)) {
        return MW_ERR_TARGET;
    }
    *share = part;
    return MW_OK;
}

enum mw_status mw_blend_astm_share(double v1, double v2, double target,
                                   double *share)
{
    double w1, w2, w;
    *share = NAN;
    if (mw_walther_w(v1, &w1) != MW_OK || mw_walther_w(v2, &w2) != MW_OK ||
        mw_walther_w(target, &w) != MW_OK) {
        return MW_ERR_VISCOSITY;
    }
    return share_between(w1, w2, w, share);
}

enum mw_status mw_blend_wright(const struct mw_line *lines,
                               const double *shares, size_t n, double t,
                               double *blend)
{
    struct mw_sums sums = {0};
    double x;
    *blend = NAN;
    enum mw_status status = mw_chart_x(t, &x);
    if (status == MW_OK) {
        status = mw_sums_check(shares, n);
    }
    for (size_t i = 0; i < n && status == MW_OK; i++) {
        status = falls(&lines[i]) ? MW_OK : MW_ERR_NO_LINE;
        mw_sums_to_wright(&sums, &lines[i], shares[i]);
    }
    return status == MW_OK ? mw_walther_v(mw_sums_wright_w(&sums, x), blend)
                           : status;
}

enum mw_status mw_blend_wright_share(const struct mw_line *line1,
                                     const struct mw_line *line2, double target,
                                     double t, double *share)
{
    double x, w;
    *share = NAN;
    enum mw_status status = mw_chart_x(t, &x);
    if (status == MW_OK) {
        status = mw_walther_w(target, &w);
    }
    if (status == MW_OK && !(falls(line1) && falls(line2))) {
        status = MW_ERR_NO_LINE;
    }
    if (status != MW_OK) {
        return status;
    }
    return share_between((line1->a - w) / line1->b, (line2->a - w) / line2->b,
                         x, share);
}

enum mw_status mw_blend_excess(const double *v, const double *shares, size_t n,
                               double k, double *factor)
{
    struct mw_sums sums = {0};
    *factor = NAN;
    enum mw_status status = mw_sums_check(shares, n);
    for (size_t i = 0; i < n && status == MW_OK; i++) {
        status = mw_viscosity_in_range(v[i]) ? MW_OK : MW_ERR_VISCOSITY;
        mw_sums_to_excess(&sums, v[i], shares[i]);
    }
    if (status == MW_OK && !isfinite(k)) {
        status = MW_ERR_EXCESS;
    }
    if (status == MW_OK) {
        *factor = exp(k * sums.variance);
    }
    return status;
}
