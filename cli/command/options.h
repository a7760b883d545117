/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * options - the command line of one command, read by argp.
 *
 * argp does the reading; this adds the house rules: help starts with examples,
 * negative numbers are values and not options, and every complaint is one
 * line that says what to do.
 */
#ifndef COMMAND_OPTIONS_H
#define COMMAND_OPTIONS_H

#include <argp.h>
#include <stdbool.h>
#include <stddef.h>

#include "util/error.h"

enum {
    ARGS_OPTIONS = 24,    /* options of one command */
    ARGS_POSITIONAL = 80, /* far more than anybody writes */
    OPTION_KEY = 256      /* above the keys of short options */
};

/** An option of a command, by its index in args.value; NULL value: a flag. */
#define OPTION(index, option_name, value_name, text)                           \
    {                                                                          \
        .name = (option_name), .key = OPTION_KEY + (index),                    \
        .arg = (value_name), .doc = (text)                                     \
    }

/** The option -o FILE, for args.output. */
#define OPTION_OUTPUT(text)                                                    \
    {                                                                          \
        .name = "output", .key = 'o', .arg = "FILE", .doc = (text)             \
    }

/** A command line, taken apart but not yet understood. */
struct args {
    const char *value[ARGS_OPTIONS]; /* NULL: not given; "" for a flag */
    const char *argument[ARGS_POSITIONAL];
    size_t count;       /* of arguments */
    const char *stock;  /* --stock, or NULL */
    const char *output; /* -o, or NULL */
    bool json;
    bool helped; /* help was asked for and has been shown */
};

/**
 * A command of the program. The dispatcher reads the line by the options and
 * calls run(); a command that has commands of its own, or starts a program, has
 * start() in place of both.
 */
struct command {
    const char *name;      /* such as "mix" or "stock add" */
    const char *summary;   /* one line for the list of commands */
    const char *examples;  /* the first thing its help shows */
    const char *arguments; /* for the usage line, as in argp */
    const char *notes;     /* last paragraph of the help, after a \v */
    /* OPTION()s, ended by an empty one; NULL: none of its own */
    const struct argp_option *options;
    enum exit_code (*run)(const struct args *args, struct error *error);
    enum exit_code (*start)(const struct command *command, int argc,
                            char **argv, struct error *error);
};

/**
 * Read the line of a command and run it, or show its help.
 *
 * Given: argc, argv  the command's own name first
 */
enum exit_code command_start(const struct command *command, int argc,
                             char **argv, struct error *error);

/** The command with a name, or NULL. */
const struct command *command_find(const struct command *const *commands,
                                   const char *name);

/**
 * Run the sub-command that argv[1] names; EXIT_USAGE where there is none.
 *
 * Given: group  what the sub-commands belong to, such as "stock"
 */
enum exit_code command_run(const struct command *const *commands,
                           const char *group, int argc, char **argv,
                           struct error *error);

/** Print a line for each command of a list that NULL ends. */
void command_list(const struct command *const *commands);

#endif
