/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * mix - the pieces of the command mix: what was asked (mix.c reads it), what
 * the library answers (mix_solve.c), and how it is told (mix_report.c).
 */
#ifndef CLI_MIX_H
#define CLI_MIX_H

#include <stdbool.h>
#include <stddef.h>

#include "literal.h"
#include "midweight.h"
#include "problem.h"
#include "quantity.h"

enum {
    MIX_OILS_MAX = 64 /* of one mix; far more than anybody pours together */
};

struct mix_request {
    size_t count;
    const char *names[MIX_OILS_MAX];
    struct mw_oil oils[MIX_OILS_MAX];
    bool has_amount[MIX_OILS_MAX];
    struct amount amounts[MIX_OILS_MAX];
    bool has_target;
    struct mw_point target; /* mm2/s at degC, when has_target */
    double temperature;     /* degC at which all is compared */
    bool has_make;
    double make_count, waste;
    struct amount make_each;
    struct mw_method method;
};

struct mix_answer {
    struct mw_oil_state states[MIX_OILS_MAX];
    double shares[MIX_OILS_MAX];
    double volumes[MIX_OILS_MAX]; /* ml, NaN when no batch is known */
    double masses[MIX_OILS_MAX];  /* g, likewise */
    double total_ml;              /* likewise */
    double viscosity;             /* mm2/s of the mix */
    unsigned notes;
    double plain_viscosity;            /* of these shares by the plain rule */
    double plain_shares[MIX_OILS_MAX]; /* for the target by the plain rule */
    double spread;                     /* of the rules on this mix */
    bool has_ratio;                    /* a small whole-number ratio exists */
    int ratio[2];
    double ratio_viscosity; /* mm2/s of that ratio */
    bool tops_up;           /* an amount was there and this is added: */
    size_t added;           /* index of the oil to add */
};

enum outcome mix_solve(const struct mix_request *request,
                       struct mix_answer *answer, struct problem *problem);

void mix_print(const struct mix_request *request,
               const struct mix_answer *answer);

enum outcome mix_print_json(const struct mix_request *request,
                            const struct mix_answer *answer,
                            struct problem *problem);

#endif
