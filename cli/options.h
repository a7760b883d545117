/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * options - the command line of one command, read by argp.
 *
 * argp does the reading; this adds the house rules: help starts with examples,
 * negative numbers are values and not options, and every complaint is one
 * line that says what to do.
 */
#ifndef CLI_OPTIONS_H
#define CLI_OPTIONS_H

#include <argp.h>
#include <stdbool.h>

#include "problem.h"

/** A command of the program. */
struct command {
    const char *name;      /* such as "mix" */
    const char *summary;   /* one line for the list of commands */
    const char *examples;  /* the first thing its help shows */
    const char *arguments; /* for the usage line, as in argp */
    const char *notes;     /* last paragraph of the help; may be NULL */
    enum outcome (*run)(const struct command *command, int argc, char **argv,
                        struct problem *problem);
};

/** The options that every command has. */
struct common_options {
    bool helped; /* help was asked for and has been shown */
    bool json;
};

/** Take an option by its key, or an argument (ARGP_KEY_ARG). */
typedef enum outcome take_option(int key, const char *value, void *request,
                                 struct problem *problem);

/**
 * Read a command line.
 *
 * Given:     command   whose line it is
 *            options   as in argp, ended by an empty one
 *            take      called for every option and argument in order
 *            request   handed to take
 *            argc, argv  the command's own name first
 * Returned:  common    the options that every command has
 */
enum outcome options_read(const struct command *command,
                          const struct argp_option *options, take_option *take,
                          void *request, int argc, char **argv,
                          struct common_options *common,
                          struct problem *problem);

#endif
