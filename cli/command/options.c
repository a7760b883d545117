/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "command/options.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>

#include "command/help.h"

/* what argp hands to the parsers below */
struct reading {
    const struct command *command;
    const struct argp_option *options;
    struct args *args;
    struct error *error;
    enum exit_code code; /* of the words up to now */
};

enum { KEY_HELP = 'h', KEY_OUTPUT = 'o', KEY_JSON = 1000, KEY_STOCK };

/* A word such as -5C is a number, not options: each digit is a hidden
 * option, with the rest of the word as its value. */
#define NUMBER_OPTION(digit)                                                   \
    {                                                                          \
        .key = (digit), .arg = "REST",                                         \
        .flags = OPTION_ARG_OPTIONAL | OPTION_HIDDEN,                          \
        .doc = "a negative number"                                             \
    }

static const struct argp_option common_options[] = {
    {.name = "help", .key = KEY_HELP, .doc = "Show this help", .group = -1},
    {.name = "json",
     .key = KEY_JSON,
     .doc = "Print the answer as JSON, at full precision",
     .group = -1},
    {.name = "stock",
     .key = KEY_STOCK,
     .arg = "FILE",
     .doc = "The stock file to use",
     .group = -1},
    NUMBER_OPTION('0'),
    NUMBER_OPTION('1'),
    NUMBER_OPTION('2'),
    NUMBER_OPTION('3'),
    NUMBER_OPTION('4'),
    NUMBER_OPTION('5'),
    NUMBER_OPTION('6'),
    NUMBER_OPTION('7'),
    NUMBER_OPTION('8'),
    NUMBER_OPTION('9'),
    NUMBER_OPTION('.'),
    NUMBER_OPTION(','),
    {0},
};

static error_t take_argument(struct reading *reading, const char *word)
{
    struct args *args = reading->args;
    if (args->count == ARGS_POSITIONAL) {
        reading->code =
            refuse(reading->error, "more than %d arguments are too many",
                   (int)ARGS_POSITIONAL);
        return EINVAL;
    }
    args->argument[args->count++] = word;
    return 0;
}

/* NOLINTNEXTLINE(readability-non-const-parameter): the type is argp's */
static error_t parse_common(int key, char *arg, struct argp_state *state)
{
    struct reading *reading = state->input;
    switch (key) {
    case KEY_HELP:
        reading->args->helped = true;
        return ECANCELED;
    case KEY_JSON:
        reading->args->json = true;
        return 0;
    case KEY_STOCK:
        reading->args->stock = arg;
        return 0;
    default:
        return key > 0 && key < 128 && strchr("0123456789.,", key)
                   ? take_argument(reading, state->argv[state->next - 1])
                   : ARGP_ERR_UNKNOWN;
    }
}

static bool wants_value(const struct reading *reading, const char *word)
{
    for (const struct argp_option *option = reading->options; option->name;
         option++) {
        if (option->arg && strncmp(word, "--", 2) == 0 &&
            strncmp(word + 2, option->name, strlen(word + 2)) == 0) {
            return true;
        }
        if (word[0] == '-' && word[1] == option->key && word[2] == '\0') {
            return true;
        }
    }
    return false;
}

/* argp has met an option it does not know, or one without its value */
static enum exit_code refuse_option(const struct reading *reading,
                                    const struct argp_state *state)
{
    const char *name = reading->command->name;
    const char *word = state->argv[state->next - 1];
    return wants_value(reading, word) && state->next == state->argc
               ? refuse(reading->error,
                        "%s needs a value; see midweight %s --help", word, name)
               : refuse(reading->error,
                        "unknown option \"%.60s\"; see midweight %s --help",
                        word, name);
}

/* of two values one would be lost without a word */
static error_t take_value(struct reading *reading, int key, const char *value)
{
    const char **place = &reading->args->value[key - OPTION_KEY];
    const struct argp_option *option = reading->options;
    while (option->key != key) {
        option++;
    }
    if (*place && option->arg) {
        reading->code = refuse(
            reading->error, "--%s was given twice; give it once", option->name);
        return EINVAL;
    }
    *place = value ? value : "";
    return 0;
}

static error_t parse_own(int key, char *arg, struct argp_state *state)
{
    struct reading *reading = state->input;
    switch (key) {
    case ARGP_KEY_INIT:
        state->child_inputs[0] = reading;
        return 0;
    case ARGP_KEY_ARG:
        return take_argument(reading, arg);
    case KEY_OUTPUT:
        reading->args->output = arg;
        return 0;
    case ARGP_KEY_ERROR:
        if (!reading->args->helped && reading->code == EXIT_DONE) {
            reading->code = refuse_option(reading, state);
        }
        return 0;
    default:
        return key >= OPTION_KEY && key < OPTION_KEY + ARGS_OPTIONS
                   ? take_value(reading, key, arg)
                   : ARGP_ERR_UNKNOWN;
    }
}

static enum exit_code read_args(const struct command *command, int argc,
                                char **argv, struct args *args,
                                struct error *error)
{
    static const struct argp_option none[] = {{0}};
    const struct argp_option *options =
        command->options ? command->options : none;
    const struct argp shared = {.options = common_options,
                                .parser = parse_common};
    const struct argp_child children[] = {{.argp = &shared}, {0}};
    const struct argp argp = {
        .options = options, .parser = parse_own, .children = children};
    struct reading reading = {command, options, args, error, EXIT_DONE};
    *args = (struct args){0};
    error_t failure =
        argp_parse(&argp, argc, argv,
                   ARGP_NO_ERRS | ARGP_NO_EXIT | ARGP_NO_HELP | ARGP_IN_ORDER,
                   NULL, &reading);
    if (args->helped) {
        help_print(command, options, common_options);
        return EXIT_DONE;
    }
    return failure == ENOMEM ? error_set(error, EXIT_OUTPUT, "out of memory")
                             : reading.code;
}

enum exit_code command_start(const struct command *command, int argc,
                             char **argv, struct error *error)
{
    struct args args;
    if (command->start) {
        return command->start(command, argc, argv, error);
    }
    enum exit_code code = read_args(command, argc, argv, &args, error);
    return code != EXIT_DONE || args.helped ? code : command->run(&args, error);
}

const struct command *command_find(const struct command *const *commands,
                                   const char *name)
{
    for (; *commands; commands++) {
        const char *last = strrchr((*commands)->name, ' ');
        if (strcmp(name, last ? last + 1 : (*commands)->name) == 0) {
            return *commands;
        }
    }
    return NULL;
}

enum exit_code command_run(const struct command *const *commands,
                           const char *group, int argc, char **argv,
                           struct error *error)
{
    const struct command *found = command_find(commands, argv[1]);
    return found ? command_start(found, argc - 1, argv + 1, error)
                 : error_set(error, EXIT_USAGE,
                             "unknown command \"%s %.60s\"; see midweight "
                             "%s --help",
                             group, argv[1], group);
}

void command_list(const struct command *const *commands)
{
    for (; *commands; commands++) {
        printf("  %-18s %s\n", (*commands)->name, (*commands)->summary);
    }
}
