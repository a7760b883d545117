/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * ball - the viscosity of an oil from the time a ball takes to fall in it.
 *
 *     Stokes    S = g d^2 (rho_ball - rho_oil) time/(18 travel)
 *     all       mu = S/(1/F + 0.15 Re^0.687),  Re = rho_oil u d/mu
 *
 * F < 1 is how much the wall of the tube slows the ball, Re brings in the
 * inertia of the oil; mu stands on both sides and is solved for. The ball falls
 * in the middle of an upright tube, at its final speed, between two marks.
 *
 * Reference:
 *   F up to x = d/tube = 0.32: H. Faxen 1923 (read in print);
 *   F above, up to 0.8: W. L. Haberman and R. M. Sayre, David Taylor Model
 *     Basin Report 1143, 1958 (read in print). It is 0.26 % below the former
 *     where they meet.
 *   Inertia: L. Schiller and A. Naumann, 1933 (from memory). Adding it to 1/F
 *     is this library's; reference/heidelberg_balls.csv holds it against nine
 *     balls.
 *   Ends: R. I. Tanner, J. Fluid Mech. 17 (1963) 161: below 0.5 % where the
 *     marks are more than a tube radius from surface and bottom (read in
 *     print).
 */
#ifndef MIDWEIGHT_BENCH_BALL_H
#define MIDWEIGHT_BENCH_BALL_H

#include "base/status.h"
#include "fluid/units.h"
#include "uncertainty/budget.h"

#ifdef __cplusplus
extern "C" {
#endif

#define MW_GRAVITY_MIN      9.76 /* m/s2: no less on the earth's ground */
#define MW_GRAVITY_MAX      9.84 /* m/s2: no more */
#define MW_BALL_X_MAX       0.8  /* ball over tube, Haberman and Sayre */
#define MW_BALL_DENSITY_MAX 23.0 /* g/ml: over osmium, a slip of the unit */

/* Reynolds number: the largest of the nine balls is 2.40 (computed) */
#define MW_BALL_RE_TESTED 2.5
/* Reynolds number: end of Schiller and Naumann's law, from memory */
#define MW_BALL_RE_MAX 800.0

/* of ln v: what the law misses. It is how far single balls of the nine lie off
 * their mean (standard deviation 3.3 %, computed). */
#define MW_BALL_LAW 0.033

/** A ball that fell. */
struct mw_ball_run {
    double diameter;     /* m, of the ball */
    double tube;         /* m, inner diameter; INFINITY: no wall near */
    double travel;       /* m, between the marks */
    double depth;        /* m of oil, the marks midway; NaN: not known */
    double time;         /* s */
    double ball_density; /* g/ml */
    double density;      /* g/ml, of the oil at the temperature of the run */
    double gravity;      /* m/s2; MW_GRAVITY where it is not known better */
};

/** What the ball says of the oil. */
struct mw_ball_result {
    double viscosity; /* mm2/s, at the temperature of the run */
    double dynamic;   /* mPa.s */
    double stokes;    /* mPa.s by Stokes alone, to compare */
    double wall;      /* F, 1 where there is no wall */
    double reynolds;
    double rate;       /* 1/s, the largest shear at the ball: 3 V/d, as in the
                          flow of Stokes (from memory) */
    unsigned warnings; /* a set of enum mw_warning */
};

/** What a ball's reading depends on, as standard uncertainties. */
struct mw_ball_uncertainty {
    double diameter, tube, travel; /* m; that of no tube does not count */
    double time;                   /* s */
    double ball_density, density;  /* g/ml */
    double gravity;                /* m/s2 */
    double law;                    /* of ln v, such as MW_BALL_LAW */
};

/**
 * The viscosity of an oil in which a ball took a time to fall.
 *
 * Given:     run     all of it
 * Returned:  result  all of it; NaN and no warnings on failure
 * Failures:  MW_ERR_LENGTH   a length outside 0.01 mm to 10 m, or oil less deep
 *                            than the travel
 *            MW_ERR_TUBE     the ball is wider than 0.8 of the tube
 *            MW_ERR_DENSITY  of the oil
 *            MW_ERR_BALL     the ball is not denser than the oil, or over
 *                            23 g/ml
 *            MW_ERR_GRAVITY  outside 9.76 to 9.84 m/s2
 *            MW_ERR_QUANTITY the time is not above zero, or no number
 *            MW_ERR_REYNOLDS the ball fell so fast that Re is over 800
 *            MW_ERR_VISCOSITY
 * Notes:     MW_WARN_REYNOLDS    Re over 2.5, where the law was not checked
 *            MW_WARN_MARKS       marks within a tube radius of the ends
 *            MW_WARN_SHORT_TIME  under 10 s
 */
MW_API enum mw_status mw_ball_viscosity(const struct mw_ball_run *run,
                                        struct mw_ball_result *result);

/**
 * Add what a ball's reading depends on to a budget.
 *
 * Given:     run     all of it
 *            u       standard uncertainties
 *            budget  starts as all zero; what else matters, such as the
 *                    temperature, is for the caller to add
 * Returned:  budget  with them
 * Failures:  those of mw_ball_viscosity() and mw_budget_add_numeric(); the
 *            budget is then unchanged
 */
MW_API enum mw_status mw_ball_budget(const struct mw_ball_run *run,
                                     const struct mw_ball_uncertainty *u,
                                     struct mw_budget *budget);

#ifdef __cplusplus
}
#endif

#endif
