/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * relative - the viscosity of an oil against that of a known one: the same ball
 * in the same tube, or the same cup, at the same temperature. Nothing need be
 * known of the cup, nor of the ball but its density.
 *
 *     cup   v = v_known time/time_known
 *     ball  mu = mu_known time (rho_ball - rho)
 *                /(time_known (rho_ball - rho_known)),  mu = rho v
 *
 * The wall's part cancels; inertia and a cup's jet do so only as far as the
 * times are alike.
 *
 * Reference: the relative method of ISO 12058, as worked in NIST Technical Note
 * 1900, example E3 (read in print); for the cup: common practice, no source
 */
#ifndef MIDWEIGHT_BENCH_RELATIVE_H
#define MIDWEIGHT_BENCH_RELATIVE_H

#include "base/status.h"
#include "uncertainty/budget.h"

#ifdef __cplusplus
extern "C" {
#endif

enum mw_against_how { MW_AGAINST_CUP, MW_AGAINST_BALL };

/* Ratio of the times from which on the known oil is too different (common
 * practice, no source). An ISO 4 cup at 40 s reads 4 % wrong by it already
 * (computed: there d ln v/d ln t = 1.20 instead of 1). */
#define MW_AGAINST_CUP_RATIO  1.25
#define MW_AGAINST_BALL_RATIO 3.0

/** An oil and a known one, measured alike. */
struct mw_against_runs {
    enum mw_against_how how;
    double known;         /* mm2/s, the known oil at the runs' temperature */
    double known_time;    /* s, of the known oil */
    double time;          /* s, of the oil */
    double known_density; /* g/ml, of the known oil; for a ball only, like */
    double density;       /* g/ml, of the oil */
    double ball_density;  /* g/ml */
};

/** What a comparison depends on, as standard uncertainties. */
struct mw_against_uncertainty {
    double known;                                /* of ln v */
    double known_time, time;                     /* s */
    double known_density, density, ball_density; /* g/ml; for a ball only */
};

/**
 * The viscosity of an oil from its time and that of a known one.
 *
 * Given:     runs    all of it, for a cup without the densities
 * Returned:  v       mm2/s at the temperature of the runs
 *            warnings  MW_WARN_APART (times further apart than the ratio above)
 *                    and MW_WARN_SHORT_TIME (one of them is under 10 s) are
 *                    added; may be NULL
 * Failures:  MW_ERR_VISCOSITY  of the known oil or of the result
 *            MW_ERR_QUANTITY a time is not above zero, or no number
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
