/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * The time to choose two of 10 000 bottles, over that of a bare pass over them,
 * which only finds the viscosity of each. Fails where it is more than three
 * times as long, in any of several stocks.
 *
 *     meson test -C build --benchmark --verbose
 */
#include <math.h>
#include <stdlib.h>

#include "advice/choose.h"
#include "ratio.h"

enum { BOTTLES = 10000, RUNS = 5 };

#define LIMIT  3.0
#define TARGET 1000.0
#define HALL   22.0 /* degC */

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

static void fill(const struct stock *stock, struct mw_candidate *bottles,
                 struct mw_oil *oils)
{
    srand(2385);
    for (size_t i = 0; i < BOTTLES; i++) {
        double part = between(0, 1);
        if (stock->grades > 0) {
            part = floor(part * stock->grades) / (stock->grades - 1);
        }
        const struct mw_point rating = {100 * pow(100, part), 25};
        mw_oil_make(MW_SILICONE, &rating, 1, NAN, &oils[i]);
        bottles[i] = (struct mw_candidate){
            i, &oils[i], between(stock->best, stock->worst),
            between(stock->emptiest, stock->fullest)};
    }
}

static double bare_pass(const struct mw_candidate *bottles)
{
    double nearest = INFINITY;
    for (size_t i = 0; i < BOTTLES; i++) {
        double v;
        mw_oil_viscosity(bottles[i].oil, HALL, &v);
        nearest = fmin(nearest, fabs(log(v / TARGET)));
    }
    return nearest;
}

/* whether it is fast enough for one stock, best of a few runs each */
static bool measure(const struct stock *stock, struct mw_candidate *bottles,
                    struct mw_oil *oils)
{
    const struct mw_wish wish = {TARGET, HALL, 20, {0.2, 0.0577}};
    double chosen = INFINITY, bare = INFINITY, nearest = NAN;
    size_t count = 0;
    fill(stock, bottles, oils);
    for (int run = 0; run < RUNS; run++) {
        struct mw_choice choices[MW_CHOICES];
        double start = now();
        mw_choose(bottles, BOTTLES, &wish, choices, &count);
        double middle = now();
        nearest = bare_pass(bottles);
        chosen = fmin(chosen, middle - start);
        bare = fmin(bare, now() - middle);
    }
    printf("%zu found; the nearest is %.4f away\n", count, nearest);
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
    struct mw_oil *oils = malloc(BOTTLES * sizeof *oils);
    bool good = bottles && oils;
    for (size_t i = 0; bottles && oils && i < sizeof stocks / sizeof stocks[0];
         i++) {
        good &= measure(&stocks[i], bottles, oils);
    }
    free(oils);
    free(bottles);
    return good ? 0 : 1;
}
