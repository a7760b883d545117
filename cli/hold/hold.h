/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * hold - the pieces of the command hold: what was asked (hold.c reads it), what
 * the library answers (hold_solve.c), what of the stock comes nearest
 * (pour.c), and how it is printed (print.c, json.c).
 */
#ifndef HOLD_HOLD_H
#define HOLD_HOLD_H

#include <stdbool.h>

#include "midweight.h"
#include "oils/oil_ref.h"
#include "parse/damper.h"
#include "util/error.h"

struct hold_request {
    struct oil_ref ref;
    bool has_temperatures;
    double t_from, t_to; /* degC */
    double thermometer;  /* K: limits of how t_to is read */
    bool has_spring, has_mass, has_piston;
    struct change spring, mass;
    struct mw_piston piston_from, piston_to;
    bool has_damper;    /* bore and shaft are known */
    double bore, shaft; /* m */
    double gap;         /* m, all round the piston; 0: not asked */
    double speed;       /* m/s; NaN: not asked */
    const char *stock;  /* file, or NULL */
    bool explain;       /* the factors are wanted too */
};

/* before, and after with the same oil and with the one wanted */
enum { HOLD_BEFORE, HOLD_SAME_OIL, HOLD_WANTED, HOLD_STATES };

/** A damper in one of these states; NaN where it is not known. */
struct hold_damper {
    double damping; /* N s/m */
    double ratio;
    double leak;               /* past the piston, of the flow of its holes */
    struct mw_damper_state at; /* at the speed asked about */
    double thins_at; /* m/s of the shaft, where the oil begins to thin */
};

/** The bottle of the stock that comes nearest. */
struct hold_bottle {
    char *name;             /* NULL: none; to be freed */
    struct mw_point rating; /* at its best value */
    double uncertainty;     /* standard, of ln v at the rating */
    double viscosity;       /* mm2/s after */
    double change;          /* of the damping ratio against the one to keep */
    double miss;            /* ln(1 + change) */
    double left_ml;         /* NaN: not known */
};

/** The two bottles of the stock that make the wanted oil best. */
struct hold_mix {
    char *names[2];     /* NULL: none; to be freed */
    double share;       /* volume fraction of the second */
    double uncertainty; /* standard, of ln v of the mix */
};

struct hold_answer {
    struct mw_oil_state before;
    struct mw_oil_state same_oil; /* after; NaN: not known there */
    struct mw_hold hold;
    bool matters;           /* the change with the same oil */
    struct mw_point wanted; /* mm2/s after */
    struct mw_point rating; /* what to look for on the bottle */
    bool rated;             /* else no law leads from wanted to a rating */
    double f_temperature, f_spring, f_mass, f_piston; /* 1: no change */
    double f_all;                                     /* their product */
    struct hold_damper dampers[HOLD_STATES];
    unsigned warnings;
    bool has_stock; /* with a bottle in it at least */
    struct hold_bottle bottle;
    struct hold_mix mix;
    char stock_trouble[600]; /* "": none */
};

/** Whether the piston after is another one than before. */
bool hold_piston_changes(const struct hold_request *request);

enum exit_code hold_solve(const struct hold_request *request,
                          struct hold_answer *answer, struct error *error);

/**
 * What of the stock to pour. Without a stock there is nothing to pour, which is
 * no failure.
 */
enum exit_code hold_pour(const struct hold_request *request,
                         struct hold_answer *answer, struct error *error);

/** Free what hold_pour() found. */
void hold_answer_free(struct hold_answer *answer);

void hold_print(const struct hold_request *request,
                const struct hold_answer *answer);

enum exit_code hold_print_json(const struct hold_request *request,
                               const struct hold_answer *answer,
                               struct error *error);

#endif
