/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * settle - the pieces of the command settle: what was asked and what the
 * library answers (settle.c), and how it is printed (print.c).
 */
#ifndef SETTLE_SETTLE_H
#define SETTLE_SETTLE_H

#include <stdbool.h>

#include "midweight.h"
#include "oils/oil_ref.h"
#include "util/error.h"

/* s: the longest practical wait at the bench; our own limit between the several
 * minutes and the night of common practice (no source) */
#define SETTLE_PATIENCE 600.0

/* s: up to here the pumping of common practice is mentioned */
#define SETTLE_PRACTICE 100.0

/* K: what warm water does; our own example */
#define SETTLE_WARMING 20.0

/* kPa, absolute: what a small pump reaches; our own example */
#define SETTLE_PUMPED 10.0

struct settle_request {
    struct oil_ref ref;
    double temperature; /* degC */
    double depth;       /* m */
    double bubble;      /* m */
    bool assumed;       /* no bubble was given: it is MW_USUAL_BUBBLE */
    bool explain;       /* what was assumed is wanted too */
    bool has_pressure;
    bool by_gauge;   /* what was given is a gauge's reading */
    double pressure; /* kPa, absolute; MW_STANDARD_ATMOSPHERE_KPA without one */
};

enum settle_advice { ADVICE_STAND, ADVICE_WARM, ADVICE_PUMP, ADVICE_WAIT };

struct settle_answer {
    double viscosity;       /* mm2/s */
    struct mw_settle asked; /* under the pressure asked about */
    struct mw_settle still; /* standing */
    double warm_t;          /* degC; NaN: the oil is not known there */
    struct mw_settle warm;  /* standing */
    double pumped_kpa;      /* of the next */
    struct mw_settle pumped;
    enum settle_advice advice;
    bool vacuum; /* the answer speaks of one */
    unsigned warnings;
};

/** "stand", "warm", "pump" or "wait". */
const char *settle_advice_name(enum settle_advice advice);

void settle_print(const struct settle_request *request,
                  const struct settle_answer *answer);

enum exit_code settle_print_json(const struct settle_request *request,
                                 const struct settle_answer *answer,
                                 struct error *error);

#endif
