/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** details - what is known of a bottle, as the options of a command say it. */
#ifndef STOCK_DETAILS_H
#define STOCK_DETAILS_H

#include "command/options.h"
#include "store/bottle.h"

/** The options, by their index in value; others follow from DETAILS on. */
enum detail_option {
    DETAIL_FAMILY,
    DETAIL_TOLERANCE,
    DETAIL_DENSITY,
    DETAIL_LEFT,
    DETAIL_DROPS,
    DETAIL_NOTE,
    DETAILS
};

#define BOTTLE_OPTIONS                                                         \
    OPTION(DETAIL_FAMILY, "family", "FAMILY",                                  \
           "Take the oil as silicone or mineral"),                             \
        OPTION(DETAIL_TOLERANCE, "tolerance", "PERCENT",                       \
               "Allow the label this tolerance (default 5 %, over 1000 mm2/s " \
               "10 %)"),                                                       \
        OPTION(                                                                \
            DETAIL_DENSITY, "density", "D",                                    \
            "Take this density in g/ml (silicone at 25 C, mineral at 15 C)"),  \
        OPTION(DETAIL_LEFT, "left", "AMOUNT",                                  \
               "Keep how much is left: 31ml or 30g, or +5ml and -2ml of it"),  \
        OPTION(DETAIL_DROPS, "drops", "COUNT=AMOUNT",                          \
               "Find the size of a drop: 50=0.62g or 50=0.65ml"),              \
        OPTION(DETAIL_NOTE, "note", "TEXT", "Keep a note on the bottle")

/** Refuse to take more than is left; what is not known is enough. */
enum exit_code details_check_left(const struct bottle *bottle, double ml,
                                  struct error *error);

/** Read all but the family and the density into a bottle that has a label. */
enum exit_code details_read(const struct args *args, struct bottle *bottle,
                            struct error *error);

/** Print what became of a bottle: "Added Elm: 350 mm2/s ..."; done is the word
 * of the JSON answer. */
enum exit_code details_print(const struct args *args, const char *what,
                             const char *done, const struct bottle *bottle,
                             struct error *error);

#endif
