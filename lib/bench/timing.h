/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * timing - several readings made into one: repeated times, and a label with
 * the measurements of its oil.
 */
#ifndef MIDWEIGHT_BENCH_TIMING_H
#define MIDWEIGHT_BENCH_TIMING_H

#include <stddef.h>

#include "base/status.h"

#ifdef __cplusplus
extern "C" {
#endif

/* s: standard uncertainty of one time taken with a stopwatch by hand (common
 * practice, no source) */
#define MW_STOPWATCH 0.2

/* s: of a shorter time the stopwatch is more than 2 % */
#define MW_SHORT_TIME 10.0

/* of ln v; our own limits, so that no weight overflows or vanishes */
#define MW_ESTIMATE_MIN 1e-9
#define MW_ESTIMATE_MAX 10.0

/* degrees of freedom of MW_STOPWATCH: it is good to about a third (GUM G.4.2,
 * from memory); our own choice */
#define MW_STOPWATCH_FREEDOM 4.0

/** What repeated times say. */
struct mw_type_a {
    double mean;        /* s */
    double deviation;   /* s: standard deviation of a single time */
    double uncertainty; /* s: standard, of the mean */
};

/** A viscosity and how well it is known. */
struct mw_estimate {
    double viscosity;   /* mm2/s */
    double uncertainty; /* standard, of ln v; MW_ESTIMATE_MIN to _MAX */
};

/** Several estimates of one viscosity as one. */
struct mw_pooled {
    double viscosity;   /* mm2/s */
    double uncertainty; /* standard, of ln v, as the estimates claim it */
    double chi_squared; /* how far they disagree; about n - 1 is usual */
    double p_value;     /* 0..1, of disagreeing at least so far by accident */
    double widened;     /* the uncertainty times max(1, Birge ratio): what is
                           left to claim where the estimates disagree */
};

/**
 * One time or several, taken by hand, as one.
 *
 * Given:     times   s, each above zero
 *            n       1 or more
 * Returned:  mean    s
 *            u       s: standard uncertainty of the mean; MW_STOPWATCH for one
 * Failures:  MW_ERR_READINGS  no time, or an invalid one
 * Notes:     A few times alone say little of their scatter (two of them would
 *            be widened seven times by mw_type_a_of()), but how well people
 *            stop a watch is known beforehand. It counts like
 *            MW_STOPWATCH_FREEDOM times more: the variance of a single time is
 *            (f MW_STOPWATCH^2 + (n - 1) s^2)/(f + n - 1), and the mean is
 *            widened as in mw_type_a_of() for f + n - 1 degrees of freedom.
 * Reference: GUM 4.2, G.3 and G.4.2 (from memory): the pooled variance of a
 *            known and a new estimate
 */
MW_API enum mw_status mw_hand_time(const double *times, size_t n, double *mean,
                                   double *u);

/**
 * The tolerance that is usual for a bottle's label.
 *
 * Given:     v       mm2/s on the label
 * Returned:  a fraction with rectangular limits: 0.05 up to 1000 mm2/s, 0.10
 *            above and for NaN
 * Reference: tolerances usual on silicone oil, from memory
 */
MW_API double mw_usual_tolerance(double v);

/**
 * How well a bottle's label is known: to mw_usual_tolerance(), anywhere between
 * its limits.
 *
 * Given:     v       mm2/s, from the label
 * Returned:  u       standard, of ln v
 * Failures:  MW_ERR_VISCOSITY
 */
MW_API enum mw_status mw_label_uncertainty(double v, double *u);

#ifdef __cplusplus
}
#endif

#endif
