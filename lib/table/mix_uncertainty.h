/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * mix_uncertainty - the uncertainty of the viscosity of an oil or a mix.
 *
 * A GUM budget (uncertainty.h) in ln v with up to five lines:
 *
 *   MW_FROM_OILS         labels or readings of the oils
 *   MW_FROM_EXCESS       K of the excess
 *   MW_FROM_TEMPERATURE  the thermometer, unless one of the oils is rated at
 *                         the temperature: a rating is by definition, the
 *                         temperature of a hall is read
 *   MW_FROM_LAW          the silicone law, which grows away from the rating
 *                         temperature; oils with a line of their own have none
 *   MW_FROM_DOSING       the marks of the tool
 */
#ifndef MIDWEIGHT_TABLE_MIX_UNCERTAINTY_H
#define MIDWEIGHT_TABLE_MIX_UNCERTAINTY_H

#include <stddef.h>

#include "base/status.h"
#include "blend/mix.h"
#include "blend/mixture.h"
#include "fluid/oil.h"
#include "uncertainty/budget.h"

#ifdef __cplusplus
extern "C" {
#endif

#define MW_FROM_OILS        "bottles"
#define MW_FROM_EXCESS      "excess"
#define MW_FROM_TEMPERATURE "temperature"
#define MW_FROM_LAW         "silicone law"
#define MW_FROM_DOSING      "dosing"

/* K: limits of the excess of silicone, as stated at MW_SILICONE_EXCESS */
#define MW_EXCESS_LOW  0.10
#define MW_EXCESS_HIGH 0.30

/* K: limits of a pocket thermometer (common practice, no source) */
#define MW_THERMOMETER 1.0

/* kJ/mol: standard uncertainty of a silicone oil's activation energy: the root
 * mean square distance of 14 to 16.5, the limits in the literature (from
 * memory), from the law's own 14.61. The standard deviation of these limits
 * themselves, 0.72, held 84 of 100 in the cold (by simulation). */
#define MW_ENERGY_UNCERTAINTY 0.97

/* of the smallest dose: standard uncertainty of a dose whose tool is not known
 * (our assumption) */
#define MW_DOSE_UNKNOWN 0.01

/** What is uncertain about a mix. */
struct mw_mix_inputs {
    const double *oils;  /* n standard uncertainties of ln v, one an oil, at the
                            temperature it is rated at */
    double excess;       /* standard uncertainty of K */
    double thermometer;  /* K: limits of its reading, rectangular */
    const double *doses; /* n standard uncertainties, of parts of the batch
                            (ml/ml); NULL: dosed exactly */
};

/**
 * The uncertainty of K without trial mixes.
 *
 * Returned:  standard uncertainty of K: its limits, rectangular
 */
MW_API double mw_usual_excess_uncertainty(void);

/**
 * The budget of a mix.
 *
 * Given:     oils, shares, n, t, method  as for mw_mixture()
 *            inputs  what is uncertain; every number zero or more
 * Returned:  budget  its lines in the order above, those of which nothing is
 *                    uncertain left out; empty on failure
 * Failures:  those of mw_mixture()
 *            MW_ERR_UNCERTAINTY  one is negative, no number, or so large that
 *                    the mix has no viscosity either way
 *            MW_ERR_BUDGET  over MW_MIX_OILS_MAX oils
 * Notes:     sensitivities are found by trying, each input up and down by its
 *            own uncertainty. At the end of what the laws reach (-20 C, a dose
 *            below its marks, oils 1000 to 1 apart) the inward step counts.
 *            What the oils contribute is one line, the root of the sum of their
 *            squares; so with the doses. Asymmetric limits are taken by GUM
 *            4.3.8 as half their width over sqrt 3.
 * Reference: JCGM 100:2008 (GUM), 4.3.7, 4.3.8, 5.1
 */
MW_API enum mw_status mw_mixture_uncertainty(const struct mw_oil *oils,
                                             const double *shares, size_t n,
                                             double t,
                                             const struct mw_method *method,
                                             const struct mw_mix_inputs *inputs,
                                             struct mw_budget *budget);

/**
 * The standard uncertainty of each dose of a mix: it ends anywhere within half
 * a step of its tool, each draw of a syringe anew, so that a dose of n draws
 * has the square root of n times the uncertainty of one. Without a tool it is
 * MW_DOSE_UNKNOWN of the smallest dose.
 *
 * Given:     mix     of mw_mix_solve()
 *            count   of its oils
 * Returned:  doses   in parts of the batch; 0 of an oil that is not poured
 */
MW_API void mw_mix_doses(const struct mw_mix *mix, size_t count, double *doses);

/**
 * The budget of a mix that was solved.
 *
 * Given:     job     with its tools
 *            mix     of mw_mix_solve()
 *            inputs  what is uncertain; doses is not used
 * Returned:  budget  as above, with mw_mix_doses()
 * Failures:  as above
 */
MW_API enum mw_status mw_mix_uncertainty(const struct mw_mix_job *job,
                                         const struct mw_mix *mix,
                                         const struct mw_mix_inputs *inputs,
                                         struct mw_budget *budget);

/**
 * The standard uncertainty of a dose from the marks of the tool: it ends
 * anywhere within half a mark.
 *
 * Given:     mark    ml of one mark, zero or more
 *            batch   ml, above zero
 * Returned:  u       standard, in parts of the batch (ml/ml)
 * Failures:  MW_ERR_AMOUNT
 * Reference: GUM 4.3.7, limits of half a mark (GUM F.2.2.1: resolution)
 */
MW_API enum mw_status mw_dose_uncertainty(double mark, double batch, double *u);

#ifdef __cplusplus
}
#endif

#endif
