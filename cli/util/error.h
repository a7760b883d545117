/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * error - how a command ended, and what to tell the user if not well.
 */
#ifndef CLI_PROBLEM_H
#define CLI_PROBLEM_H

#include <stdbool.h>

/** How a command ended; the number is the exit code. */
enum exit_code {
    EXIT_DONE = 0,
    EXIT_NO_ANSWER = 1, /* target outside the oils, families differ, ... */
    EXIT_USAGE = 2,     /* bad command line or value */
    EXIT_OUTPUT = 3,    /* file, stock or output failure */
};

/** The first thing that went wrong, in words for the user. */
struct error {
    enum exit_code exit_code;
    bool kept; /* a change of the stock lasts already */
    char text[600];
};

/**
 * Note what is wrong and what to do about it. The first error stands; later
 * ones are not written over it.
 *
 * Returned: the outcome of the error that stands
 */
__attribute__((format(printf, 3, 4))) enum exit_code
error_set(struct error *error, enum exit_code exit_code, const char *format,
          ...);

enum {
    QUOTED = 40 /* how much of a wrong text is shown again */
};

/** Refuse a value: the command line is at fault. */
#define REFUSE(...) error_set(error, EXIT_USAGE, __VA_ARGS__)

/** Print a warning to stderr; the command goes on. */
__attribute__((format(printf, 1, 2))) void warn(const char *format, ...);

#endif
