/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * cup - the viscosity of an oil from the time a cup takes to run out.
 *
 * Every cup here follows v = a (t - dead) - b/t: the ISO cups without the dead
 * time, the Ford and Zahn cups without the term b/t (the energy that the jet
 * carries away). The formulas are for Newtonian liquids, which silicone and
 * mineral oils are at the pace of a cup.
 *
 * Reference:
 *   ISO 2431, flow cups of 3, 4, 5 and 6 mm. Formulas and the window of 30 to
 *     100 s read in print; the 5 mm cup's b = 220 is from memory, and a page
 *     that prints 200 for it was seen.
 *   ASTM D1200, Ford cups 1 to 5. Cups 1 and 2 and the window of 3 to 5 (11.2)
 *     read in print, the formulas of 3 to 5 from memory.
 *   ASTM D4212, Zahn cups 1 to 5. Formulas and windows read in print (10.1: 20
 *     to 80 s for cups 2 to 5).
 *   How well a cup follows its formula is our own judgement: 3 % for ISO 2431,
 *     4 % for Ford 4, 8 % for the other Ford cups, 10 % for the Zahn cups.
 *     D4212, section 13, prints a coefficient of variation of 3.7 % within a
 *     laboratory and 11.5 % between laboratories (read in print); a printed
 *     table of cups (reference/cup_table.csv) departs by 3 to 38 % from these
 *     formulas: cups of one name are not one cup. It is one error of each cup,
 *     in all its readings; a known oil in the same cup brings it down to that
 *     of the oil.
 */
#ifndef MIDWEIGHT_BENCH_CUP_H
#define MIDWEIGHT_BENCH_CUP_H

#include <stddef.h>

#include "base/status.h"
#include "uncertainty/budget.h"

#ifdef __cplusplus
extern "C" {
#endif

enum {
    MW_CUP_RUNS_MAX = 32 /* known oils of one calibration; our own limit */
};

/** A cup; found, enumerated or made by the functions below. */
struct mw_cup {
    const char *name;          /* such as "ISO 4" */
    const char *standard;      /* such as "ISO 2431" */
    double a;                  /* mm2/s2 */
    double dead;               /* s */
    double b;                  /* mm2 */
    double time_min, time_max; /* s: the standard's window; an own cup's is 0 to
                                  infinity */
    double law;                /* of ln v, standard: how well a cup that its
                                  owner has not calibrated follows the formula;
                                  NaN of an own cup */
};

/** A known oil run through a cup. */
struct mw_cup_run {
    double viscosity;        /* mm2/s, at the temperature of the run */
    double time;             /* s */
    double time_uncertainty; /* s, standard */
};

/** What a cup's reading depends on, as standard uncertainties. */
struct mw_cup_uncertainty {
    double time; /* s */
    double law;  /* of ln v: that of a standard cup; for an own cup that of the
                    oils it was calibrated with, and its residual */
};

/**
 * How many standard cups there are.
 *
 * Returned:  the number of indices that mw_cup_by_index() takes
 */
MW_API size_t mw_cup_count(void);

/**
 * One of the standard cups.
 *
 * Given:     index   from 0
 * Returned:  the cup; NULL past the last
 */
MW_API const struct mw_cup *mw_cup_by_index(size_t index);

/**
 * The standard cup with a name.
 *
 * Given:     name    such as "ISO4", "Ford 3" or "zahn-2"; case, spaces and
 *                    hyphens do not matter
 * Returned:  cup     written on MW_OK only
 * Failures:  MW_ERR_NAME
 */
MW_API enum mw_status mw_cup_by_name(const char *name, struct mw_cup *cup);

/**
 * The viscosity of an oil that takes a time to run out.
 *
 * Given:     cup     any
 *            time    s, within the cup's window
 * Returned:  v       mm2/s, at the temperature of the run
 * Failures:  MW_ERR_CUP_TIME   outside the window of the cup's standard
 *            MW_ERR_VISCOSITY  no viscosity, as an own cup gives to a time too
 *                              short for it
 */
MW_API enum mw_status mw_cup_viscosity(const struct mw_cup *cup, double time,
                                       double *v);

/**
 * The time an oil takes to run out: the inverse of mw_cup_viscosity().
 *
 * Given:     cup     any
 *            v       mm2/s
 * Returned:  time    s
 * Failures:  MW_ERR_VISCOSITY
 *            MW_ERR_CUP_TIME  too thin or too thick for this cup
 */
MW_API enum mw_status mw_cup_time(const struct mw_cup *cup, double v,
                                  double *time);

/**
 * An own cup with known constants, v = a t - b/t.
 *
 * Given:     a       mm2/s2, above zero
 *            b       mm2, 0 or more
 * Returned:  cup     NaN on failure
 * Failures:  MW_ERR_CALIBRATION  a or b is out of range
 */
MW_API enum mw_status mw_cup_own(double a, double b, struct mw_cup *cup);

/**
 * Calibrate an own cup with known oils.
 *
 * Given:     runs    2 or more oils of different viscosity, up to
 *                    MW_CUP_RUNS_MAX
 *            n       how many
 * Returned:  cup     v = a t - b/t; NaN on failure
 *            residual  standard residual of ln v, sqrt(sum of squares/(n - the
 *                    constants found)); 0 where that divides by zero
 *            warnings  MW_WARN_NO_JET is added when b is 0; may be NULL
 * Failures:  MW_ERR_READINGS   fewer than 2, more than MW_CUP_RUNS_MAX, or a
 *                              time not above zero
 *            MW_ERR_VISCOSITY
 *            MW_ERR_CALIBRATION  all times are equal, or the oil with the
 *                              longest is not thicker than the one with the
 *                              shortest, or no cup is anywhere near the oils (a
 *                              residual over 1, or an oil that it gives no
 *                              viscosity)
 * Notes:     v/t = a - b/t^2 is a straight line over 1/t^2. Each run weighs
 *            (t/v)^2, which makes the sum that of the relative errors of v,
 *            alike for all known oils. A negative b is no cup's, it comes of
 *            errors; the least squares under b >= 0 are then those of
 *            v = a t, and the residual says how well they fit.
 * Reference: GSL, gsl_fit_wlinear()
 */
MW_API enum mw_status mw_cup_calibrate(const struct mw_cup_run *runs, size_t n,
                                       struct mw_cup *cup, double *residual,
                                       unsigned *warnings);

/**
 * How a calibrated cup passes on the errors of the oils it was calibrated with.
 *
 * Given:     runs, n as for mw_cup_calibrate()
 *            time    s, of another oil that runs out of that cup
 * Returned:  weights n numbers, d ln v of the other oil/d ln v of each known
 *                    one; they add up to 1. Above 1 or negative where it is
 *                    thicker or thinner than all of them. NaN on failure
 * Failures:  those of mw_cup_calibrate() and mw_cup_viscosity()
 * Notes:     with the weighting of the fit taken as fixed, as its residuals are
 *            small
 */
MW_API enum mw_status mw_cup_weights(const struct mw_cup_run *runs, size_t n,
                                     double time, double *weights);

/**
 * How well the formula of a calibrated own cup is known: the uncertainty of the
 * known oils and times (root mean square) and the residual, in quadrature.
 *
 * Given:     cup, residual  from mw_cup_calibrate()
 *            runs, n the same; n is 1 to MW_CUP_RUNS_MAX
 *            known   n standard uncertainties of ln v, of the known oils
 * Returned:  law     standard, of ln v
 * Failures:  MW_ERR_READINGS  no oil, or too many
 *            MW_ERR_UNCERTAINTY  one, or that of a time, is negative or no
 *            number
 * Notes:     several labels may be off together, so that their mean is taken to
 *            be no better than one of them
 */
MW_API enum mw_status mw_cup_own_law(const struct mw_cup *cup,
                                     const struct mw_cup_run *runs,
                                     const double *known, size_t n,
                                     double residual, double *law);

/**
 * Add what a cup's reading depends on to a budget.
 *
 * Given:     cup, time  as for mw_cup_viscosity()
 *            u       standard uncertainties
 *            budget  starts as all zero; what else matters, such as the
 *                    temperature, is for the caller to add
 * Returned:  budget  with them
 * Failures:  those of mw_cup_viscosity() and mw_budget_add(); the budget is
 *            then unchanged
 * Reference: d ln v/dt = (a + b/t^2)/v
 */
MW_API enum mw_status mw_cup_budget(const struct mw_cup *cup, double time,
                                    const struct mw_cup_uncertainty *u,
                                    struct mw_budget *budget);

#ifdef __cplusplus
}
#endif

#endif
