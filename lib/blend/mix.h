/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * mix - a mix as one job: any number of oils, one unknown, and what comes of
 * it.
 *
 * Each oil has an amount, a fixed share of the whole, or is open. What is
 * already in the cup, such as oil that stays on the walls of a damper, is an
 * oil of the mix like all others.
 *
 * Questions that a job can ask:
 *   - no oil is open, no target: what was made;
 *   - one oil is open, and a target: how much of it;
 *   - two are open, all others have fixed shares (or the batch is known), and a
 *     target: the shares of these two.
 *
 * Volumes are taken to add up.
 */
#ifndef MIDWEIGHT_BLEND_MIX_H
#define MIDWEIGHT_BLEND_MIX_H

#include <stdbool.h>
#include <stddef.h>

#include "base/status.h"
#include "blend/mixture.h"
#include "blend/tool.h"
#include "fluid/oil.h"

#ifdef __cplusplus
extern "C" {
#endif

enum {
    MW_MIX_OILS_MAX = 64 /* our own limit; their copies stand on the stack */
};

/** How the amount of an oil is given. */
enum mw_amount_kind {
    MW_AMOUNT_OPEN, /* not: it is solved for */
    MW_AMOUNT_ML,
    MW_AMOUNT_G,
    MW_AMOUNT_DROPS,
    MW_AMOUNT_PARTS, /* by volume; of all oils or of none */
    MW_AMOUNT_SHARE  /* of the whole, 0 to 1 */
};

/** The amount of an oil of a mix. */
struct mw_mix_part {
    enum mw_amount_kind kind;
    double amount;  /* in the unit of its kind */
    double drop_ml; /* of one drop; NaN: not known */
};

/** What the oils of a mix are made of, where some of them are mixes. */
struct mw_mix_bases {
    size_t count;              /* 1 to MW_MIX_OILS_MAX */
    const struct mw_oil *oils; /* that all are made of */
    const double *made;        /* for each oil of the mix count shares */
    const double *excess; /* count x count: K of each pair, where the method has
                             an excess at all; NULL: that of the method */
};

/** What is asked. */
struct mw_mix_job {
    size_t count;                    /* of oils, 1 to MW_MIX_OILS_MAX */
    const struct mw_oil *oils;       /* of one family */
    const struct mw_mix_part *parts; /* as many */
    size_t in_cup;      /* so many of the last are in the cup already, by ml */
    double temperature; /* degC, at which all is compared */
    double thermometer; /* K: limits of how that is known */
    bool read;          /* off a thermometer, at a rating too */
    double target;      /* mm2/s there; NaN: what comes of it */
    struct mw_method method;
    double batch_ml;                  /* the whole; NaN: not given */
    double batch_g;                   /* likewise; one of the two at most */
    const struct mw_mix_bases *bases; /* NULL: each oil is what it is */
    struct mw_tools tools;            /* {0}: none */
    const double *left_ml; /* what the bottle of each oil holds, NaN: not known;
                              NULL: of none */
};

/** What comes of it. */
struct mw_mix {
    struct mw_oil_state states[MW_MIX_OILS_MAX]; /* at the temperature */
    double shares[MW_MIX_OILS_MAX];
    double volumes[MW_MIX_OILS_MAX]; /* ml; NaN where no amount is known */
    double masses[MW_MIX_OILS_MAX];  /* g; likewise */
    double total_ml;                 /* likewise */
    double viscosity;                /* mm2/s */
    double by_rule[MW_RULES]; /* mm2/s, of the same shares by each rule without
                                 an excess; NaN where it is not for these */
    double plain_viscosity;   /* that of the rule of the job */
    double spread;            /* of all these: largest/smallest - 1 */
    int ratio[2];           /* of two oils, the nearest of small whole numbers;
                               0 where that leaves one of them out */
    double ratio_viscosity; /* mm2/s of that ratio; NaN: out of range */
    size_t open[2];         /* oils that were solved for; count: none */
    double other_ml;        /* a second amount of the open oil that gives the
                               target too, larger; NaN: there is none */
    double other_share; /* likewise, the share of open[0], or of open[1] where
                               two are open */
    struct mw_dose_tool tools[MW_MIX_OILS_MAX]; /* of each oil */
    size_t shortest;   /* the oil whose bottle limits the batch; count: none */
    double largest_ml; /* the largest batch that the bottles hold, at most
                           total_ml */
    unsigned warnings; /* a set of enum mw_warning */
    size_t fault;      /* the oil that a failure is about; count: none */
};

/**
 * Solve a mix.
 *
 * Given:     job     as above
 * Returned:  mix     all of it; on failure numbers are NaN but the states,
 *                    which are good up to the oil fault
 * Failures:  MW_ERR_FAMILY, MW_ERR_NO_LINE, MW_ERR_RATIO, MW_ERR_EXCESS
 *            MW_ERR_AMOUNT   an amount is negative, a batch not above zero,
 *                    fixed shares come to more than the whole, or parts stand
 *                    beside other amounts
 *            MW_ERR_DROP     drops of the oil fault, of unknown volume
 *            MW_ERR_UNKNOWNS not one of the questions: too much is open, or
 *                    nothing is left to be solved for
 *            MW_ERR_BUDGET   no oil, or over MW_MIX_OILS_MAX
 *            MW_ERR_TARGET   no amount reaches the target
 *            MW_ERR_EQUAL_VISCOSITY  every amount gives the same viscosity
 *            those of mw_oil_at(), of the oil fault
 * Notes:     with an excess more than one amount can give a target: the
 *            smallest is returned, and the next one beside it
 */
MW_API enum mw_status mw_mix_solve(const struct mw_mix_job *job,
                                   struct mw_mix *mix);

#ifdef __cplusplus
}
#endif

#endif
