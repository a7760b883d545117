/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * options - the command line of one command.
 *
 * getopt_long() reads the options; this adds the house rules: help starts with
 * examples, negative numbers are values and not options, nothing is given
 * twice, and every complaint is one line that says what to do.
 */
#ifndef COMMAND_OPTIONS_H
#define COMMAND_OPTIONS_H

#include <stdbool.h>
#include <stddef.h>

#include "util/error.h"

enum {
    ARGS_OPTIONS = 24,            /* options of one command */
    OUTPUT_OPTION = ARGS_OPTIONS, /* the index of -o */
    ARGS_POSITIONAL = 80          /* far more than anybody writes */
};

/** An option; without a name the heading of those that follow. The last of a
 * list has neither name nor text. */
struct command_option {
    const char *name;
    int index;         /* in args.value */
    const char *value; /* what stands for it in the help; NULL: a flag */
    const char *text;
    char letter; /* of its short form; '\0': none */
    bool hidden; /* another spelling of an option */
};

/** What --thermometer says in the help of a command that has it.
 *
 * Given: at  the option of the command that takes the temperature, a literal
 */
#define THERMOMETER_HELP(at)                                                   \
    "Allow for this error of the thermometer (default +-1 degree); --" at      \
    " 22C+-0.5C says the same"

/** An option of a command; NULL value: a flag. */
#define OPTION(option_index, option_name, value_name, help)                    \
    {                                                                          \
        .name = (option_name), .index = (option_index), .value = (value_name), \
        .text = (help)                                                         \
    }

/** Whether a list of options ends there. */
bool command_option_ends(const struct command_option *option);

/** A heading among options. */
#define OPTION_GROUP(heading)                                                  \
    {                                                                          \
        .text = (heading)                                                      \
    }

/** The option -o FILE, for args.output. */
#define OPTION_OUTPUT(help)                                                    \
    {                                                                          \
        .name = "output", .index = OUTPUT_OPTION, .value = "FILE",             \
        .letter = 'o', .text = (help)                                          \
    }

/** A command line, taken apart but not yet understood. */
struct args {
    const char *value[ARGS_OPTIONS]; /* NULL: not given; "" for a flag */
    const char *argument[ARGS_POSITIONAL];
    bool by_default[ARGS_OPTIONS]; /* the value is one of the defaults */
    size_t count;                  /* of arguments */
    const char *stock;             /* --stock, or NULL */
    const char *output;            /* -o, or NULL */
    bool json;
    bool explain;
    bool no_defaults;
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
    const char *arguments; /* for the usage line */
    const char *notes;     /* last paragraph of the help */
    /* OPTION()s, ended by an empty one; NULL: none of its own */
    const struct command_option *options;
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
 * Refuse a command that there is not, with the nearest that there is.
 *
 * Given: group  what the commands belong to, such as "stock"; "" for none
 */
enum exit_code command_refuse(const struct command *const *commands,
                              const char *group, const char *name,
                              struct error *error);

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
