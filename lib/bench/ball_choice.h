/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * ball_choice - which ball, and how far it should fall, to measure an oil.
 *
 * Balls of usual sizes and materials are tried in the tube; what falls at a
 * pace that a stopwatch can follow and within the tested range of the law is
 * listed, the least uncertain first.
 */
#ifndef MIDWEIGHT_BENCH_BALL_CHOICE_H
#define MIDWEIGHT_BENCH_BALL_CHOICE_H

#include <stddef.h>

#include "base/status.h"
#include "bench/ball.h"

#ifdef __cplusplus
extern "C" {
#endif

/* common practice, no source */
#define MW_CHOICE_TIME_AIM   30.0  /* s: what the travel is cut for */
#define MW_CHOICE_TIME_MAX   180.0 /* s: the longest practical wait */
#define MW_CHOICE_TRAVEL_MIN 0.02  /* m: shorter, the marks decide */
#define MW_CHOICE_STEP       0.01  /* m: travels are whole multiples */

enum {
    MW_CHOICES_MAX = 8 /* the least uncertain are kept */
};

/** A ball and its travel. */
struct mw_ball_choice {
    const char *material; /* "ball" where only its density was given */
    double ball_density;  /* g/ml */
    double diameter;      /* m */
    double travel;        /* m, between the marks */
    double time;          /* s */
    double reynolds;
    double uncertainty; /* standard, of ln v, measured once with usual tools and
                           without the thermometer */
};

/**
 * The balls that measure an oil best.
 *
 * Given:     fall    tube, density of the oil and gravity; travel is the
 *                    longest there is room for, and ball_density NaN for every
 *                    usual material. Diameter, depth and time do not count.
 *            v       mm2/s, about that of the oil
 * Returned:  choices up to MW_CHOICES_MAX, the least uncertain first
 *            count   how many
 * Failures:  MW_ERR_VISCOSITY, MW_ERR_DENSITY
 *            MW_ERR_LENGTH   of tube or travel
 *            MW_ERR_BALL     the only ball is not denser than the oil
 *            MW_ERR_CHOICE     every ball is too fast or too slow, or too wide
 * Notes:     taken are times from MW_SHORT_TIME to MW_CHOICE_TIME_MAX, Reynolds
 *            numbers up to MW_BALL_RE_TESTED and balls up to a third of the
 *            tube. Densities of materials are usual ones, from memory.
 */
MW_API enum mw_status mw_ball_choose(const struct mw_ball_run *fall, double v,
                                     struct mw_ball_choice *choices,
                                     size_t *count);

#ifdef __cplusplus
}
#endif

#endif
