/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "blend/pair.h"

#include <math.h>
#include <stdbool.h>

#include "base/range.h"
#include "base/root.h"

/* the share at which the plain rule gives y: the inverse of mw_path_y() */
static double pair_share_of_y(const struct mw_pair *pair, double y)
{
    return (pair->path.a - pair->path.c * y) /
           (pair->path.d * y - pair->path.b);
}

/* d ln v/dy at a share */
static double pair_slope(const struct mw_pair *pair, double f)
{
    if (f == 0 || f == 1) {
        return f == 0 ? pair->slope1 : pair->slope2;
    }
    return pair->path.rule->slope(
        pair->path.rule->unscale(mw_path_y(&pair->path, f)));
}

/* the lesser of two, NaN if either is: fmin() would lose a NaN */
static double lesser(double a, double b)
{
    return isnan(a) || a < b ? a : b;
}

/* Whether ln v surely moves one way from f to g. Of
 *     d ln v/df = (dy/df)(d ln v/dy) + lift (1 - 2 f)
 * dy/df has one sign and is monotonic (1/(c + d f)^2), d ln v/dy is positive
 * and monotonic, and the last term is linear: each is least at one of the ends,
 * and the product of the least factors bounds the rest. */
static bool surely_steady(const struct mw_pair *pair, double f, double g)
{
    double sign = pair->path.y2 > pair->path.y1 ? 1 : -1;
    double dy = lesser(sign * mw_path_dy_df(&pair->path, f),
                       sign * mw_path_dy_df(&pair->path, g));
    double slope = lesser(pair_slope(pair, f), pair_slope(pair, g));
    double bend = sign * pair->lift;
    double excess = lesser(bend * (1 - 2 * f), bend * (1 - 2 * g));
    return dy * slope + excess > 0;
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

struct mw_pair_end mw_pair_end_of(const struct mw_rule_entry *rule,
                                  const struct mw_line *line, double v,
                                  double x)
{
    struct mw_pair_end end = {
        .ln_v = log(v), .y = rule->scale(v), .slope = rule->slope(v)};
    rule->weigh(end.y, line, x, &end.p, &end.q);
    return end;
}

struct mw_pair mw_pair_join(const struct mw_rule_entry *rule, double excess,
                            const struct mw_pair_end *first,
                            const struct mw_pair_end *second)
{
    double ln_ratio = second->ln_v - first->ln_v;
    double lift = excess * ln_ratio * ln_ratio;
    return (struct mw_pair){.path = {.rule = rule,
                                     .y1 = first->y,
                                     .y2 = second->y,
                                     .a = first->p,
                                     .b = second->p - first->p,
                                     .c = first->q,
                                     .d = second->q - first->q,
                                     .lift = {0, lift, -lift}},
                            .slope1 = first->slope,
                            .slope2 = second->slope,
                            .ln_ratio = ln_ratio,
                            .lift = lift};
}

struct mw_pair mw_pair_of(const struct mw_line lines[2], const double v[2],
                          double x, enum mw_rule rule, double excess)
{
    const struct mw_rule_entry *entry = mw_rule_entry(rule);
    const struct mw_pair_end first = mw_pair_end_of(entry, &lines[0], v[0], x);
    const struct mw_pair_end second = mw_pair_end_of(entry, &lines[1], v[1], x);
    return mw_pair_join(entry, excess, &first, &second);
}

enum mw_status mw_pair_plain_share(const struct mw_pair *pair, double target,
                                   double *share)
{
    double part = pair_share_of_y(pair, pair->path.rule->scale(target));
    bool between = part >= 0 && part <= 1;
    *share = between ? part : NAN;
    return between ? MW_OK : MW_ERR_TARGET;
}

struct mw_pair_swings mw_pair_swing(const struct mw_pair *pair, double excess,
                                    double share)
{
    double whole = pair->path.c + pair->path.d * share; /* sum f q */
    double slope = pair_slope(pair, share);
    double spread = share * (1 - share) * pair->ln_ratio;
    double bend = 2 * excess * spread;
    return (struct mw_pair_swings){
        {(1 - share) * pair->path.c / whole * slope / pair_slope(pair, 0) -
             bend,
         share * (pair->path.c + pair->path.d) / whole * slope /
                 pair_slope(pair, 1) +
             bend},
        spread * pair->ln_ratio};
}

/* -- The root ---------------------------------------------------------- */

struct search {
    const struct mw_pair *pair;
    double target;
};

/* a few units in the last place of y, which is not known better */
static double noise(const struct mw_pair *pair)
{
    return 1e-15 * fmax(1, fmax(fabs(pair->path.y1), fabs(pair->path.y2)));
}

/* what the bracket is widened by, for the rounding of its ends: that of a
 * share, and that of y, which is much of the way between oils that are nearly
 * alike */
static double slack(const struct mw_pair *pair)
{
    return 1e-9 + 8 * noise(pair) / fabs(pair->path.y2 - pair->path.y1);
}

/* y that the plain rule must give, for the excess at this share to make it the
 * target. Out of range it stays at the end of the range, which the plain rule
 * does not leave: the sign of the miss is right there too. */
static double wanted_y(const struct search *search, double f)
{
    double v = search->target * exp(-search->pair->lift * f * (1 - f));
    return search->pair->path.rule->scale(
        fmin(fmax(v, MW_VISCOSITY_MIN), MW_VISCOSITY_MAX));
}

/* in y, which is nearly straight in the share, so that few steps are needed */
static double miss(double f, void *params)
{
    const struct search *search = params;
    double by = mw_path_y(&search->pair->path, f) - wanted_y(search, f);
    return fabs(by) <= noise(search->pair) ? 0 : by;
}

/* the same, no further than the oils themselves: there is no share beyond */
static double wanted_share(const struct search *search, double f)
{
    const struct mw_pair *pair = search->pair;
    double y = wanted_y(search, f);
    y = fmax(y, fmin(pair->path.y1, pair->path.y2));
    y = fmin(y, fmax(pair->path.y1, pair->path.y2));
    return pair_share_of_y(pair, y);
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
    bool falls = (pair->lift > 0) == (pair->path.y2 > pair->path.y1);
    double most = falls ? fmin(plain, 0.5) : fmax(plain, 0.5);
    double moved = wanted_share(search, most);
    *lower = as_share((falls ? moved : plain) - slack(pair));
    *upper = as_share((falls ? plain : moved) + slack(pair));
}

enum mw_status mw_pair_share(const struct mw_pair *pair, double target,
                             double *share)
{
    struct search search = {pair, target};
    double lower, upper;
    *share = NAN;
    if (!steady(pair)) {
        return MW_ERR_EXCESS;
    }
    double y = pair->path.rule->scale(target);
    if (!((y - pair->path.y1) * (pair->path.y2 - y) >= 0) ||
        fabs(pair->path.y2 - pair->path.y1) <= 8 * noise(pair)) {
        return MW_ERR_TARGET;
    }
    bracket(&search, pair_share_of_y(pair, y), &lower, &upper);
    return mw_root(miss, &search, lower, upper, share);
}
