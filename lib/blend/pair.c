/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "blend/pair.h"

#include <math.h>
#include <stdbool.h>

#include "base/root.h"

/* rounding must not carry the ends past the oils themselves */
static double pair_w(const struct mw_pair *pair, double f)
{
    if (f == 0 || f == 1) {
        return f == 0 ? pair->w1 : pair->w2;
    }
    return pair->rule == MW_RULE_WRIGHT
               ? (pair->a + pair->b * f) / (pair->c + pair->d * f)
               : pair->w1 + f * (pair->w2 - pair->w1);
}

static double pair_dw_df(const struct mw_pair *pair, double f)
{
    if (pair->rule == MW_RULE_ASTM) {
        return pair->w2 - pair->w1;
    }
    double under = pair->c + pair->d * f;
    return (pair->b * pair->c - pair->a * pair->d) / (under * under);
}

/* the share at which the plain rule gives W: the inverse of pair_w() */
static double pair_share_of_w(const struct mw_pair *pair, double w)
{
    return pair->rule == MW_RULE_WRIGHT
               ? (pair->a - pair->c * w) / (pair->d * w - pair->b)
               : (w - pair->w1) / (pair->w2 - pair->w1);
}

/* d ln v/dW at a share */
static double pair_slope(const struct mw_pair *pair, double f)
{
    double v, slope;
    mw_walther_v(pair_w(pair, f), &v);
    mw_walther_slope(v, &slope);
    return slope;
}

/* the lesser of two, NaN if either is: fmin() would lose a NaN */
static double lesser(double a, double b)
{
    return isnan(a) || a < b ? a : b;
}

/* Whether ln v surely moves one way from f to g. Of
 *     d ln v/df = (dW/df)(d ln v/dW) + lift (1 - 2 f)
 * dW/df has one sign and is monotonic (a constant, or 1/(c + d f)^2), d ln v/dW
 * is positive and rises with W, and the last term is linear: each is least at
 * one of the ends, and the product of the least factors bounds the rest. */
static bool surely_steady(const struct mw_pair *pair, double f, double g)
{
    double sign = pair->w2 > pair->w1 ? 1 : -1;
    double dw = lesser(sign * pair_dw_df(pair, f), sign * pair_dw_df(pair, g));
    double slope = lesser(pair_slope(pair, f), pair_slope(pair, g));
    double bend = sign * pair->lift;
    double excess = lesser(bend * (1 - 2 * f), bend * (1 - 2 * g));
    return dw * slope + excess > 0;
}

/* the same over 0..1, in finer and finer parts until it is proven or not */
static bool steady(const struct mw_pair *pair)
{
    for (int parts = 1; parts <= 64; parts *= 8) {
        bool proven = true;
        for (int i = 0; i < parts && proven; i++) {
            proven =
                surely_steady(pair, (double)i / parts, (double)(i + 1) / parts);
        }
        if (proven) {
            return true;
        }
    }
    return false;
}

struct mw_pair mw_pair_of(const struct mw_line lines[2], const double v[2],
                          double x, enum mw_rule rule, double excess)
{
    double ln_ratio = log(v[1] / v[0]);
    struct mw_pair pair = {.rule = rule, .lift = excess * ln_ratio * ln_ratio};
    mw_walther_w(v[0], &pair.w1);
    mw_walther_w(v[1], &pair.w2);
    if (rule == MW_RULE_WRIGHT) {
        pair.a = lines[0].a / lines[0].b - x;
        pair.b = lines[1].a / lines[1].b - lines[0].a / lines[0].b;
        pair.c = 1 / lines[0].b;
        pair.d = 1 / lines[1].b - pair.c;
    }
    return pair;
}

/* -- The root ---------------------------------------------------------- */

struct search {
    const struct mw_pair *pair;
    double target;
};

/* a few units in the last place of W: it is not known better */
#define NOISE 1e-15

/* what the bracket is widened by, for the rounding of its ends: that of a
 * share, and that of W, which is much of the way between oils that are nearly
 * alike */
static double slack(const struct mw_pair *pair)
{
    return 1e-9 + 8 * NOISE / fabs(pair->w2 - pair->w1);
}

/* W that the plain rule must give, for the excess at this share to make it the
 * target. Out of range it stays at the end of the range, which the plain rule
 * does not leave: the sign of the miss is right there too. */
static double wanted_w(const struct search *search, double f)
{
    double v = search->target * exp(-search->pair->lift * f * (1 - f));
    double w;
    mw_walther_w(fmin(fmax(v, MW_VISCOSITY_MIN), MW_VISCOSITY_MAX), &w);
    return w;
}

/* in W, which is nearly straight in the share, so that few steps are needed */
static double miss(double f, void *params)
{
    const struct search *search = params;
    double by = pair_w(search->pair, f) - wanted_w(search, f);
    return fabs(by) <= NOISE ? 0 : by;
}

/* the same, no further than the oils themselves: there is no share beyond */
static double wanted_share(const struct search *search, double f)
{
    const struct mw_pair *pair = search->pair;
    double w = wanted_w(search, f);
    w = fmax(w, fmin(pair->w1, pair->w2));
    w = fmin(w, fmax(pair->w1, pair->w2));
    return pair_share_of_w(pair, w);
}

static double as_share(double f)
{
    return fmin(fmax(f, 0), 1);
}

/* The excess moves the share from that of the plain rule one way, and no
 * further than the largest f (1 - f) on that way does. */
static void bracket(const struct search *search, double plain, double *lower,
                    double *upper)
{
    const struct mw_pair *pair = search->pair;
    bool falls = (pair->lift > 0) == (pair->w2 > pair->w1);
    double most = falls ? fmin(plain, 0.5) : fmax(plain, 0.5);
    double moved = wanted_share(search, most);
    *lower = as_share((falls ? moved : plain) - slack(pair));
    *upper = as_share((falls ? plain : moved) + slack(pair));
}

enum mw_status mw_pair_share(const struct mw_pair *pair, double target,
                             double *share)
{
    struct search search = {pair, target};
    double w, lower, upper;
    *share = NAN;
    if (!steady(pair)) {
        return MW_ERR_EXCESS;
    }
    if (mw_walther_w(target, &w) != MW_OK ||
        !((w - pair->w1) * (pair->w2 - w) >= 0) ||
        fabs(pair->w2 - pair->w1) <= 8 * NOISE) {
        return MW_ERR_TARGET;
    }
    bracket(&search, pair_share_of_w(pair, w), &lower, &upper);
    return mw_root(miss, &search, lower, upper, share);
}
