/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * cup - cups of one's own in the stock, v = a t - b/t, as records.
 */
#ifndef OILS_CUP_H
#define OILS_CUP_H

#include <stdbool.h>

#include "midweight.h"
#include "parse/names.h"
#include "store/stock.h"

/** A known oil that a cup was calibrated with. */
struct own_cup_run {
    sqlite3_int64 bottle; /* 0: an oil that was written out */
    double temperature;   /* degC */
    double uncertainty;   /* standard, of ln v: of an oil written out, and of
                             its temperature; of a bottle the stock knows it */
    struct mw_cup_run run;
};

struct own_cup {
    char *name;
    double a;           /* mm2/s2 */
    double b;           /* mm2 */
    double uncertainty; /* of its formula; standard, of ln v */
    char made[DATE_LENGTH];
    size_t run_count; /* 0: not known, as of a cup of an older stock */
    struct own_cup_run runs[MW_CUP_RUNS_MAX];
};

/** What its readings are known by: its name and formula, so that they stay with
 * the calibration they were made by. */
void own_cup_instrument(const struct own_cup *cup, char *text, size_t size);

/** Take each cup, by name; stops at a failure. */
typedef enum exit_code take_own_cup(struct own_cup *cup, void *context,
                                    struct error *error);

enum exit_code own_cups_each(struct stock *stock, take_own_cup *take,
                             void *context, struct error *error);

/** The cup with a name, if there is one. own_cup_free() it. */
enum exit_code own_cup_load(struct stock *stock, const char *name,
                            struct own_cup *cup, bool *found,
                            struct error *error);

/** Check the name of a cup: none of a standard one, and what a bottle may be
 * called. */
enum exit_code check_cup_name(const char *name, struct error *error);

/** Whether there is a cup with a name. */
enum exit_code own_cup_exists(struct stock *stock, const char *name,
                              bool *exists, struct error *error);

/** Store a cup, in place of one of the same name. EXIT_USAGE for constants
 * that no cup has, or an uncertainty of zero. */
enum exit_code own_cup_store(struct stock *stock, const struct own_cup *cup,
                             struct error *error);

/** Delete the cup with a name. */
enum exit_code own_cup_delete(struct stock *stock, const char *name,
                              struct error *error);

void own_cup_free(struct own_cup *cup);

#endif
