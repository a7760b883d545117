/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** suggest - the word that was meant where one is misspelt. */
#ifndef COMMAND_SUGGEST_H
#define COMMAND_SUGGEST_H

#include <stddef.h>

/** The best of several words so far. */
struct suggestion {
    const char *word;    /* what was written */
    const char *nearest; /* NULL: none is near enough */
    unsigned distance;   /* of the nearest */
};

/** Try one of the words there are; it must outlive the suggestion. */
void suggest(struct suggestion *suggestion, const char *candidate);

/**
 * How many letters must be added, deleted, changed or swapped with the next one
 * to make one word of another.
 *
 * Reference: optimal string alignment, F. J. Damerau, Communications of the ACM
 * 7 (1964) 171 (from memory)
 */
unsigned edit_distance(const char *one, const char *other);

#endif
