/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "blend/path.h"

#include <math.h>
#include <stdbool.h>

#include "base/root.h"

enum {
    HALVINGS = 45 /* of a piece that is not proven: 3e-14 of the path is left */
};

struct mw_path mw_path_of(const struct mw_rule_entry *rule, double excess,
                          const struct mw_sums ends[2])
{
    const struct mw_sums *first = &ends[0], *second = &ends[1];
    double apart = first->mean - second->mean;
    double square = apart * apart;
    return (struct mw_path){
        .rule = rule,
        .y1 = first->p / first->q,
        .y2 = second->p / second->q,
        .a = first->p,
        .b = second->p - first->p,
        .c = first->q,
        .d = second->q - first->q,
        .lift = {excess * first->variance,
                 excess * (second->variance - first->variance + square),
                 -excess * square}};
}

/* rounding must not carry the ends past what they are */
double mw_path_y(const struct mw_path *path, double f)
{
    if (f == 0 || f == 1) {
        return f == 0 ? path->y1 : path->y2;
    }
    return (path->a + path->b * f) / (path->c + path->d * f);
}

static double lift_at(const struct mw_path *path, double f)
{
    return path->lift[0] + f * (path->lift[1] + f * path->lift[2]);
}

static double plain_ln_v(const struct mw_path *path, double f)
{
    return log(path->rule->unscale(mw_path_y(path, f)));
}

double mw_path_ln_v(const struct mw_path *path, double f)
{
    return plain_ln_v(path, f) + lift_at(path, f);
}

/* -- Bounds over a piece of the path ------------------------------------ */

struct range {
    double low, high;
};

/* of two values; NaN is in no range, which proves nothing */
static struct range range_of(double x, double y)
{
    return x < y ? (struct range){x, y} : (struct range){y, x};
}

/* of a quadratic: its ends, and its summit where that is between them */
static struct range lift_range(const struct mw_path *path, double f, double g)
{
    struct range range = range_of(lift_at(path, f), lift_at(path, g));
    double summit = -path->lift[1] / (2 * path->lift[2]);
    if (summit > f && summit < g) {
        double value = lift_at(path, summit);
        range.low = fmin(range.low, value);
        range.high = fmax(range.high, value);
    }
    return range;
}

double mw_path_dy_df(const struct mw_path *path, double f)
{
    double under = path->c + path->d * f;
    return (path->b * path->c - path->a * path->d) / (under * under);
}

static double slope_at(const struct mw_path *path, double f)
{
    return path->rule->slope(path->rule->unscale(mw_path_y(path, f)));
}

/* Of d ln v/df = (dy/df)(d ln v/dy) + lift': dy/df has one sign and is
 * monotonic, d ln v/dy is positive and monotonic, and lift' is linear, so that
 * each is least and most at an end of the piece. */
static struct range slope_range(const struct mw_path *path, double f, double g)
{
    struct range dy =
        range_of(fabs(mw_path_dy_df(path, f)), fabs(mw_path_dy_df(path, g)));
    struct range slope = range_of(slope_at(path, f), slope_at(path, g));
    struct range plain =
        path->y2 >= path->y1
            ? (struct range){dy.low * slope.low, dy.high * slope.high}
            : (struct range){-dy.high * slope.high, -dy.low * slope.low};
    struct range lift = range_of(path->lift[1] + 2 * f * path->lift[2],
                                 path->lift[1] + 2 * g * path->lift[2]);
    return (struct range){plain.low + lift.low, plain.high + lift.high};
}

/* -- The search --------------------------------------------------------- */

struct search {
    const struct mw_path *path;
    double ln_target;
    double roots[MW_PATH_ROOTS];
    size_t count;
};

/* a few units in the last place of ln v, which is not known better */
static double noise(const struct search *search)
{
    return 4e-16 * fmax(1, fabs(search->ln_target));
}

static double miss(double f, void *params)
{
    const struct search *search = params;
    double by = mw_path_ln_v(search->path, f) - search->ln_target;
    return fabs(by) <= noise(search) ? 0 : by;
}

/* What is not told apart from the root before is the same: neighbouring pieces
 * share an end, and where the path only touches the target it is met about
 * there.
 */
static void keep(struct search *search, double root)
{
    size_t count = search->count;
    bool same =
        count > 0 && miss((search->roots[count - 1] + root) / 2, search) == 0;
    if (!same) {
        search->roots[search->count++] = root;
    }
}

static bool may_meet(const struct search *search, double f, double g)
{
    struct range plain =
        range_of(plain_ln_v(search->path, f), plain_ln_v(search->path, g));
    struct range lift = lift_range(search->path, f, g);
    double slack = noise(search);
    return !(plain.low + lift.low > search->ln_target + slack ||
             plain.high + lift.high < search->ln_target - slack);
}

/* a piece on which ln v moves one way */
static void solve_piece(struct search *search, double f, double g)
{
    double root;
    if (miss(f, search) * miss(g, search) <= 0) {
        mw_root(miss, search, f, g, &root);
        keep(search, root);
    }
}

/* the same viscosity all along, but for rounding: it would be met everywhere */
static bool is_flat(const struct search *search)
{
    struct range plain =
        range_of(plain_ln_v(search->path, 0), plain_ln_v(search->path, 1));
    struct range lift = lift_range(search->path, 0, 1);
    return plain.high - plain.low + lift.high - lift.low <= noise(search);
}

/* Pieces that may still hold a root stand on a stack, the first on top. */
static void search_path(struct search *search)
{
    struct range stack[HALVINGS + 1] = {{0, 1}};
    for (size_t depth = 1; depth > 0 && search->count < MW_PATH_ROOTS;) {
        struct range piece = stack[--depth];
        if (!may_meet(search, piece.low, piece.high)) {
            continue;
        }
        struct range slope = slope_range(search->path, piece.low, piece.high);
        double middle = (piece.low + piece.high) / 2;
        if (slope.low > 0 || slope.high < 0) {
            solve_piece(search, piece.low, piece.high);
        } else if (piece.high - piece.low <= ldexp(1, -HALVINGS)) {
            keep(search, middle); /* it touches the target there */
        } else {
            stack[depth++] = (struct range){middle, piece.high};
            stack[depth++] = (struct range){piece.low, middle};
        }
    }
}

enum mw_status mw_path_roots(const struct mw_path *path, double target,
                             double roots[MW_PATH_ROOTS], size_t *count)
{
    struct search search = {.path = path, .ln_target = log(target)};
    *count = 0;
    if (!isfinite(miss(0, &search)) || !isfinite(miss(1, &search))) {
        return MW_ERR_VISCOSITY;
    }
    if (is_flat(&search)) {
        return MW_ERR_EQUAL_VISCOSITY;
    }
    search_path(&search);
    for (size_t i = 0; i < search.count; i++) {
        roots[i] = search.roots[i];
    }
    *count = search.count;
    return MW_OK;
}
