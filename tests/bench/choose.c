/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * The time to choose two of 10 000 bottles, over that of a bare loop over all
 * pairs, which only finds the least uncertain pair by the plain rule. Fails
 * where it is more than three times as long, in any of several stocks.
 *
 *     meson test -C build --benchmark --verbose
 */
#include <math.h>
#include <stdlib.h>

#include "advice/choose.h"
#include "fluid/walther.h"
#include "ratio.h"

enum { BOTTLES = 10000, RUNS = 3 };

#define LIMIT  3.0
#define TARGET 1000.0

/* bottles from 100 to 10 000 mm2/s */
struct stock {
    const char *name;
    double grades;            /* number of different labels; 0: all differ */
    double best, worst;       /* standard uncertainties of ln v */
    double emptiest, fullest; /* ml */
};

static double between(double low, double high)
{
    return low + (high - low) * rand() / RAND_MAX;
}

static void fill(const struct stock *stock, struct mw_candidate *bottles)
{
    srand(2385);
    for (size_t i = 0; i < BOTTLES; i++) {
        double part = between(0, 1);
        if (stock->grades > 0) {
            part = floor(part * stock->grades) / (stock->grades - 1);
        }
        bottles[i] = (struct mw_candidate){
            .id = i,
            .viscosity = 100 * pow(100, part),
            .uncertainty = between(stock->best, stock->worst),
            .left = between(stock->emptiest, stock->fullest)};
    }
}

/* W, slope and ln v are in the bottles already */
static double least_variance(const struct mw_candidate *bottles, double w,
                             double slope, double excess_uncertainty)
{
    double least = INFINITY;
    for (size_t i = 0; i < BOTTLES; i++) {
        for (size_t j = i + 1; j < BOTTLES; j++) {
            const struct mw_candidate *a = &bottles[i], *b = &bottles[j];
            if ((a->viscosity < TARGET) == (b->viscosity < TARGET)) {
                continue;
            }
            double f = (w - a->w) / (b->w - a->w), ratio = b->ln_v - a->ln_v;
            double by_a = (1 - f) * slope / a->slope * a->uncertainty;
            double by_b = f * slope / b->slope * b->uncertainty;
            double by_k = excess_uncertainty * f * (1 - f) * ratio * ratio;
            least = fmin(least, by_a * by_a + by_b * by_b + by_k * by_k);
        }
    }
    return least;
}

/* whether it is fast enough for one stock, best of a few runs each */
static bool measure(const struct stock *stock, struct mw_candidate *bottles)
{
    const struct mw_excess excess = {0.2, 0.0577};
    double chosen = INFINITY, bare = INFINITY, w, slope, least = NAN;
    size_t count = 0;
    mw_walther_w(TARGET, &w);
    mw_walther_slope(TARGET, &slope);
    for (int run = 0; run < RUNS; run++) {
        struct mw_choice choices[MW_CHOICES];
        fill(stock, bottles);
        double start = now();
        mw_choose(bottles, BOTTLES, TARGET, 20, &excess, choices, &count);
        double middle = now();
        least = least_variance(bottles, w, slope, excess.uncertainty);
        chosen = fmin(chosen, middle - start);
        bare = fmin(bare, now() - middle);
    }
    printf("%zu found; the least is %.4f\n", count, sqrt(least));
    return within(stock->name, chosen, bare, LIMIT);
}

int main(void)
{
    const struct stock stocks[] = {
        {"all different", 0, 0.003, 0.06, 1, 100},
        {"twelve labels, all alike", 12, 0.0289, 0.0289, 30, 30},
        {"nearly all too empty", 0, 0.003, 0.06, 0.1, 10.1},
        {"all too empty", 0, 0.003, 0.06, 0.1, 5},
    };
    struct mw_candidate *bottles = malloc(BOTTLES * sizeof *bottles);
    bool good = bottles != NULL;
    for (size_t i = 0; bottles && i < sizeof stocks / sizeof stocks[0]; i++) {
        good &= measure(&stocks[i], bottles);
    }
    free(bottles);
    return good ? 0 : 1;
}
