/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * relative - the viscosity of an oil against that of a known one: the same ball
 * in the same tube, the same cup, syringe or damper, at the same temperature.
 * Nothing need be known of them, nor of the ball but its density.
 *
 *     cup, syringe  v = v_known time/time_known
 *                       + B (time/time_known^2 - 1/time)
 *     damper        v = v_known time/time_known
 *     ball          mu = mu_known time (rho_ball - rho)
 *                        /(time_known (rho_ball - rho_known)),  mu = rho v
 *
 * The jet of a cup or of a holed syringe carries energy away: v = A t - B/t,
 * with A of the known oil's run; B is geometry, V/(8 pi L) for a volume V that
 * runs through a hole of length L. A damper and a ball have no jet. The wall's
 * part of a ball cancels; its inertia does so only as far as the times are
 * alike.
 *
 * Reference: the relative method of ISO 12058, as worked in NIST Technical Note
 * 1900, example E3 (read in print); the term B/t of ISO 2431 (read in print)
 */
#ifndef MIDWEIGHT_BENCH_RELATIVE_H
#define MIDWEIGHT_BENCH_RELATIVE_H

#include "base/status.h"
#include "uncertainty/budget.h"

#ifdef __cplusplus
extern "C" {
#endif

enum mw_against_how {
    MW_AGAINST_CUP,
    MW_AGAINST_SYRINGE,
    MW_AGAINST_BALL,
    MW_AGAINST_DAMPER
};

/* mm2: B of a cup or a syringe of which nothing is known lies between 0 and
 * this. 100 ml through a hole of 20 mm come to 199 (computed), and ISO 2431
 * prints 200 for its cups of 3 and 4 mm; our own judgement for all others. */
#define MW_JET_MOST 200.0

/* Ratio of the times from which on the known oil is too different (common
 * practice, no source). An ISO 4 cup at 40 s reads 4 % wrong by it already
 * (computed: there d ln v/d ln t = 1.20 instead of 1). */
#define MW_AGAINST_JET_RATIO  1.25 /* of a cup or a syringe */
#define MW_AGAINST_SLOW_RATIO 3.0  /* of a ball or a damper */

/** An oil and a known one, measured alike. */
struct mw_against_runs {
    enum mw_against_how how;
    double known;         /* mm2/s, the known oil at the runs' temperature */
    double known_time;    /* s, of the known oil */
    double time;          /* s, of the oil */
    double jet;           /* mm2: B; for a cup or a syringe only */
    double known_density; /* g/ml, of the known oil; for a ball only, like */
    double density;       /* g/ml, of the oil */
    double ball_density;  /* g/ml */
};

/** What a comparison depends on, as standard uncertainties. */
struct mw_against_uncertainty {
    double known;                                /* of ln v */
    double known_time, time;                     /* s */
    double jet;                                  /* mm2 */
    double known_density, density, ball_density; /* g/ml; for a ball only */
};

/**
 * The jet of a cup or a syringe of which nothing is known.
 *
 * Given:     nothing
 * Returned:  B       mm2, the middle of 0 to MW_JET_MOST
 *            u       mm2, its standard uncertainty, rectangular
 */
MW_API void mw_against_usual_jet(double *B, double *u);

/**
 * The viscosity of an oil from its time and that of a known one.
 *
 * Given:     runs    all of it; densities for a ball only, jet for a cup or
 *                    a syringe only
 * Returned:  v       mm2/s at the temperature of the runs
 *            warnings  MW_WARN_APART (times further apart than the ratio above)
 *                    and MW_WARN_SHORT_TIME (one of them is under 10 s) are
 *                    added; may be NULL
 * Failures:  MW_ERR_VISCOSITY  of the known oil or of the result
 *            MW_ERR_QUANTITY a time is not above zero, or no number; jet is
 *                    negative or no number
 *            MW_ERR_DENSITY  of an oil
 *            MW_ERR_BALL     not denser than both oils, or over 23 g/ml
 */
MW_API enum mw_status mw_against_viscosity(const struct mw_against_runs *runs,
                                           double *v, unsigned *warnings);

/**
 * Add what a comparison depends on to a budget.
 *
 * Given:     runs    all of it
 *            u       standard uncertainties
 *            budget  starts as all zero; what else matters, such as a
 *                    difference of temperature between the runs, is for the
 *                    caller to add
 * Returned:  budget  with them
 * Failures:  those of mw_against_viscosity() and mw_budget_add(); the budget is
 *            then unchanged
 * Reference: derivatives of the formulas above
 */
MW_API enum mw_status mw_against_budget(const struct mw_against_runs *runs,
                                        const struct mw_against_uncertainty *u,
                                        struct mw_budget *budget);

#ifdef __cplusplus
}
#endif

#endif
