/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * bottle - the bottles of the stock as records: loading, checking, storing.
 */
#ifndef STORE_BOTTLE_H
#define STORE_BOTTLE_H

#include <stdbool.h>
#include <stddef.h>

#include "midweight.h"
#include "parse/names.h"
#include "store/stock.h"

/* a fraction: no reading and no label is surer (our own limit, which keeps the
 * sums of an adjustment in the range of doubles) */
#define UNCERTAINTY_MIN 1e-6

/** What a reading is uncertain by, in parts. */
struct reading_source {
    bool known;                 /* else all of it is random */
    char *instrument;           /* that others share; "": none */
    double random, systematic;  /* standard, of ln v */
    double thermometer;         /* K, limits */
    sqlite3_int64 reference;    /* the bottle it was compared with; 0: none */
    char *reference_name;       /* NULL: none */
    double reference_viscosity; /* mm2/s, what that was taken to be */
};

struct stock_reading {
    sqlite3_int64 id; /* 0: not stored yet */
    struct mw_reading value;
    struct reading_source source;
    char *method;
    char taken[DATE_LENGTH];
};

struct bottle {
    sqlite3_int64 id; /* 0: not stored yet */
    char *name;
    struct mw_oil label;
    double tolerance; /* of the label, a fraction */
    double left_ml;   /* NaN: not known */
    double drop_ml;   /* of one drop, from drops weighed; NaN: not known */
    char *note;
    char added[DATE_LENGTH];
    bool mixed;   /* a recipe is recorded */
    bool retired; /* removed, but it stands in a recipe */
    bool damaged; /* set aside: nothing but its id, name and flags is good */
    size_t reading_count;
    size_t set_aside; /* readings that do not count: by bottle_adjust() */
    struct stock_reading *readings;
    struct mw_bottle best;
    double was, was_uncertainty; /* mm2/s where it is rated, and of ln v, before
                                    a reading was added; 0: it was not asked */
};

struct bottles {
    size_t count;
    struct bottle *list;
};

/** All bottles in the order they were added, removed ones too, but for those
 * that are damaged: they are set aside, as stock_set_aside() says. */
enum exit_code bottles_load_all(struct stock *stock, struct bottles *bottles,
                                struct error *error);

/** Those that have readings or stand in recipes, removed or not, unsorted. */
enum exit_code bottles_load_evidence(struct stock *stock,
                                     struct bottles *bottles,
                                     struct error *error);

/** Those that are there and have a label alone, unsorted. */
enum exit_code bottles_load_labels(struct stock *stock, struct bottles *bottles,
                                   struct error *error);

/** The bottle with a name; EXIT_USAGE where there is none, EXIT_OUTPUT
 * where it is damaged. */
enum exit_code bottle_load(struct stock *stock, const char *name,
                           struct bottle *bottle, struct error *error);

/** The bottle with an id, removed or not, damaged or not. */
enum exit_code bottle_load_id(struct stock *stock, sqlite3_int64 id,
                              struct bottle *bottle, struct error *error);

/** Take ml off what is left of a bottle; what is not known stays so, and more
 * than is left is EXIT_NO_ANSWER. */
enum exit_code bottle_take(struct stock *stock, sqlite3_int64 id, double ml,
                           struct error *error);

/** The id of the bottle with a name, retired or not; 0 where there is none. */
enum exit_code bottle_id(struct stock *stock, const char *name,
                         sqlite3_int64 *id, struct error *error);

/** Take what the bottle holds from its label, and refuse what cannot be. What
 * all readings say of it comes later (oils/best.h). */
enum exit_code bottle_estimate(struct bottle *bottle, struct error *error);

/** Store a new bottle, its label and readings; id is set. */
enum exit_code bottle_insert(struct stock *stock, struct bottle *bottle,
                             struct error *error);

/** Store what a loaded bottle has become, readings aside. */
enum exit_code bottle_update(struct stock *stock, const struct bottle *bottle,
                             struct error *error);

/** Release what a reading holds. */
void stock_reading_free(struct stock_reading *reading);

/** Delete a bottle that stands in no recipe and is no reference, with all that
 * is known of it. */
enum exit_code bottle_delete(struct stock *stock, const struct bottle *bottle,
                             struct error *error);

/**
 * Take a bottle off the list but keep it for the recipes it stands in, under a
 * name of its own such as "Elm (removed)", so that its name is free again.
 *
 * Given: why  a word of up to 8 letters, such as "removed"
 */
enum exit_code bottle_retire(struct stock *stock, const struct bottle *bottle,
                             const char *why, struct error *error);

/** Take a reading off the list of a loaded bottle. */
void bottle_forget_reading(struct bottle *bottle, size_t which);

/** Delete a stored reading. */
enum exit_code bottle_delete_reading(struct stock *stock,
                                     const struct stock_reading *reading,
                                     struct error *error);

/** Add a reading to a stored bottle. */
enum exit_code bottle_add_reading(struct stock *stock, sqlite3_int64 id,
                                  const struct stock_reading *reading,
                                  struct error *error);

/** Sort by the viscosity at t degC, thin to thick; what is not known there
 * comes last. */
void bottles_sort(struct bottles *bottles, double t);

/** The family of a stock: silicone, unless all of it is mineral oil. */
enum mw_family bottles_family(const struct bottles *bottles);

/**
 * The bottles of a family, to choose from.
 *
 * Returned: how many; the candidates' id is the index of the bottle, and there
 *           is room for all bottles
 */
size_t bottles_candidates(const struct bottles *bottles, enum mw_family family,
                          struct mw_candidate candidates[]);

void bottle_free(struct bottle *bottle);
void bottles_free(struct bottles *bottles);

#endif
