/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * error - how a command ended, and what went wrong if it failed.
 */
#ifndef UTIL_ERROR_H
#define UTIL_ERROR_H

#include <stdbool.h>
#include <stddef.h>

/** How a command ended; the number is the exit code. */
enum exit_code {
    EXIT_DONE = 0,
    EXIT_NO_ANSWER = 1, /* target outside the oils, families differ, ... */
    EXIT_USAGE = 2,     /* bad command line or value */
    EXIT_OUTPUT = 3,    /* file, stock or output failure */
};

enum {
    REMARKS_MAX = 8,
    REMARK_LENGTH = 240,
    DEFAULTS_MAX = 8,
    DEFAULT_LENGTH = 40
};

/**
 * What went wrong, in words for the user, and what an answer has to say of how
 * its words were read. Who calls owns it; whether a function failed says its
 * exit code alone.
 */
struct error {
    bool kept; /* a change of the stock is permanent already */
    char text[600];
    size_t remark_count;
    char remarks[REMARKS_MAX][REMARK_LENGTH];
    const char *remark_codes[REMARKS_MAX]; /* such as "outlier" */
    size_t default_count;
    struct {
        const char *name;
        char value[DEFAULT_LENGTH];
    } defaults[DEFAULTS_MAX]; /* options that the file of defaults gave */
    bool explained;           /* these are to be printed */
};

/**
 * Say what is wrong and what to do about it.
 *
 * Returned: exit_code
 */
__attribute__((format(printf, 3, 4))) enum exit_code
error_set(struct error *error, enum exit_code exit_code, const char *format,
          ...);

enum {
    QUOTED = 40 /* how much of a wrong text is shown again */
};

/** Refuse a value: error_set() with EXIT_USAGE. */
__attribute__((format(printf, 2, 3))) enum exit_code
refuse(struct error *error, const char *format, ...);

/**
 * Note how a word was read where it could have meant something else, or what
 * contradicts the rest: part of the answer, if there is one. The code is for
 * programs. The same is noted once; of more than REMARKS_MAX
 * the last says that there are others.
 */
__attribute__((format(printf, 3, 4))) void
error_remark(struct error *error, const char *code, const char *format, ...);

/** Note that an option has the value of the file of defaults; the name must
 * last as long as the program. */
void error_default(struct error *error, const char *name, const char *value);

/** Print the remarks as warnings, where an answer has no room for them. */
void warn_remarks(struct error *error);

/** Print a warning to stderr; the command goes on. */
__attribute__((format(printf, 1, 2))) void warn(const char *format, ...);

#endif
