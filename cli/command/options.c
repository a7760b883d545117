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
    struct words *words;
    struct problem *problem;
};

enum { KEY_HELP = 'h', KEY_OUTPUT = 'o', KEY_JSON = 1000, KEY_STOCK };

/* A word such as -5C is a number, not options: each digit is an option that
 * nobody sees, with the rest of the word as its value. */
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
     .doc = "Answer as JSON, in full digits",
     .group = -1},
    {.name = "stock",
     .key = KEY_STOCK,
     .arg = "FILE",
     .doc = "The table of oils to use",
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

static error_t take_argument(const struct reading *reading, const char *word)
{
    struct words *words = reading->words;
    if (words->count == WORDS_ARGUMENTS) {
        problem_set(reading->problem, OUTCOME_USAGE,
                    "more than %d arguments are too many",
                    (int)WORDS_ARGUMENTS);
        return EINVAL;
    }
    words->argument[words->count++] = word;
    return 0;
}

/* NOLINTNEXTLINE(readability-non-const-parameter): the type is argp's */
static error_t parse_common(int key, char *arg, struct argp_state *state)
{
    struct reading *reading = state->input;
    switch (key) {
    case KEY_HELP:
        reading->words->helped = true;
        return ECANCELED;
    case KEY_JSON:
        reading->words->json = true;
        return 0;
    case KEY_STOCK:
        reading->words->stock = arg;
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
static void explain(const struct reading *reading,
                    const struct argp_state *state)
{
    const char *name = reading->command->name;
    const char *word = state->argv[state->next - 1];
    if (wants_value(reading, word) && state->next == state->argc) {
        problem_set(reading->problem, OUTCOME_USAGE,
                    "%s needs a value; see midweight %s --help", word, name);
    }
    problem_set(reading->problem, OUTCOME_USAGE,
                "unknown option \"%.60s\"; see midweight %s --help", word,
                name);
}

/* of two values one would be lost without a word */
static error_t take_value(const struct reading *reading, int key,
                          const char *value)
{
    const char **place = &reading->words->value[key - OPTION_KEY];
    const struct argp_option *option = reading->options;
    while (option->key != key) {
        option++;
    }
    if (*place && option->arg) {
        problem_set(reading->problem, OUTCOME_USAGE,
                    "--%s was given twice; give it once", option->name);
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
        reading->words->output = arg;
        return 0;
    case ARGP_KEY_ERROR:
        if (!reading->words->helped) {
            explain(reading, state);
        }
        return 0;
    default:
        return key >= OPTION_KEY && key < OPTION_KEY + WORDS_OPTIONS
                   ? take_value(reading, key, arg)
                   : ARGP_ERR_UNKNOWN;
    }
}

enum outcome options_read(const struct command *command,
                          const struct argp_option *options, int argc,
                          char **argv, struct words *words,
                          struct problem *problem)
{
    const struct argp shared = {.options = common_options,
                                .parser = parse_common};
    const struct argp_child children[] = {{.argp = &shared}, {0}};
    const struct argp argp = {
        .options = options, .parser = parse_own, .children = children};
    struct reading reading = {command, options, words, problem};
    *words = (struct words){0};
    error_t error =
        argp_parse(&argp, argc, argv,
                   ARGP_NO_ERRS | ARGP_NO_EXIT | ARGP_NO_HELP | ARGP_IN_ORDER,
                   NULL, &reading);
    if (words->helped) {
        help_print(command, options, common_options);
        return OUTCOME_DONE;
    }
    if (error == ENOMEM) {
        return problem_set(problem, OUTCOME_OUTPUT, "out of memory");
    }
    return problem->outcome;
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

enum outcome command_run(const struct command *const *commands,
                         const char *group, int argc, char **argv,
                         struct problem *problem)
{
    const struct command *found = command_find(commands, argv[1]);
    return found ? found->run(found, argc - 1, argv + 1, problem)
                 : problem_set(problem, OUTCOME_USAGE,
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
