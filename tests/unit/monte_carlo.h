/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * monte_carlo - the uncertainty of ln v by drawing its inputs, to check the
 * linear budgets (JCGM 101:2008).
 */
#ifndef MONTE_CARLO_H
#define MONTE_CARLO_H

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stddef.h>

enum { MONTE_CARLO_DRAWS = 200000 };

/** A pointer to an input of the measurement, and its standard uncertainty. */
struct uncertain {
    double *input;
    double u;
};

/** The result of a measurement with its present inputs; NaN where there is
 * none. */
typedef double measured(const void *measurement);

/** Mean and standard deviation of f over the draws. */
struct drawn {
    double mean;
    double deviation;
};

/* draw normal inputs, from a fixed seed, and restore the inputs */
static inline struct drawn monte_carlo(measured *f, const void *measurement,
                                       const struct uncertain *inputs, size_t n)
{
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    gsl_rng_set(rng, 101);
    double mean = 0, squares = 0;
    for (int draw = 1; draw <= MONTE_CARLO_DRAWS; draw++) {
        double kept[16];
        for (size_t i = 0; i < n; i++) {
            kept[i] = *inputs[i].input;
            *inputs[i].input += gsl_ran_gaussian(rng, inputs[i].u);
        }
        double away = f(measurement) - mean;
        mean += away / draw;
        squares += away * away * (draw - 1) / draw;
        for (size_t i = 0; i < n; i++) {
            *inputs[i].input = kept[i];
        }
    }
    gsl_rng_free(rng);
    return (struct drawn){mean, sqrt(squares / (MONTE_CARLO_DRAWS - 1))};
}

#endif
