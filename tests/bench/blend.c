/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * The time to find a share by D7152 without an excess, over that of the
 * logarithms and exponentials that it needs: log10(log10(v + 0.7 + exp(...)))
 * for each of three viscosities, ASTM D341.
 */
#include <math.h>

#include "blend/pair.h"
#include "ratio.h"

enum { PAIRS = 1000, ROUNDS = 200 };

#define LIMIT 1.5

struct pair {
    double v[3]; /* thin, thick, target: mm2/s */
};

/* written to, so that the compiler cannot remove the computation */
static volatile double sink;

static void fill(struct pair pairs[PAIRS])
{
    for (int i = 0; i < PAIRS; i++) {
        double thin = 2.385 * pow(1e4, (double)i / PAIRS);
        pairs[i] = (struct pair){{thin, 1.43 * thin, 1.2 * thin}};
    }
}

static double time_shares(const struct pair pairs[PAIRS])
{
    const struct mw_line none[2] = {{NAN, NAN}, {NAN, NAN}};
    double sum = 0, share, start = now();
    for (int i = 0; i < PAIRS; i++) {
        const double *v = pairs[i].v;
        struct mw_pair pair = mw_pair_of(none, v, NAN, MW_RULE_ASTM, 0);
        mw_pair_plain_share(&pair, v[2], &share);
        sum += share;
    }
    sink = sum;
    return now() - start;
}

/* the calls alone, with their arguments */
static double time_bare(const struct pair pairs[PAIRS])
{
    double sum = 0, start = now();
    for (int i = 0; i < PAIRS; i++) {
        for (int j = 0; j < 3; j++) {
            double v = pairs[i].v[j];
            double thin = exp(-1.47 - 1.84 * v - 0.51 * v * v);
            sum += log10(log10(v + 0.7 + thin));
        }
    }
    sink = sum;
    return now() - start;
}

int main(void)
{
    static struct pair pairs[PAIRS];
    double shares = INFINITY, bare = INFINITY;
    fill(pairs);
    for (int round = 0; round < ROUNDS; round++) {
        shares = fmin(shares, time_shares(pairs));
        bare = fmin(bare, time_bare(pairs));
    }
    return within("1000 shares by D7152, no excess; bare calls", shares, bare,
                  LIMIT)
               ? 0
               : 1;
}
