/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "command/options.h"

#include <ctype.h>
#include <getopt.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "command/defaults.h"
#include "command/help.h"
#include "command/suggest.h"

enum {
    KEY_OUTPUT = OUTPUT_OPTION,
    KEY_HELP,
    KEY_JSON,
    KEY_EXPLAIN,
    KEY_NO_DEFAULTS,
    KEY_STOCK,
    KEYS,
    KEY_FIRST = 256 /* above all letters */
};

static const struct command_option common_options[] = {
    {.name = "json",
     .index = KEY_JSON,
     .text = "Print the answer as JSON, at full precision"},
    {.name = "explain",
     .index = KEY_EXPLAIN,
     .text = "Explain the method, the uncertainty and what was assumed"},
    {.name = "no-defaults",
     .index = KEY_NO_DEFAULTS,
     .text = "Ignore the file of defaults"},
    {.name = "stock",
     .index = KEY_STOCK,
     .value = "FILE",
     .text = "Use this stock file"},
    {.name = "help",
     .index = KEY_HELP,
     .letter = 'h',
     .text = "Show this help"},
    {.name = NULL},
};

/* one command line on its way into args */
struct reading {
    const struct command *command;
    const struct command_option *own; /* its options */
    struct args *args;
    struct error *error;
    bool repeated[KEYS];
};

bool command_option_ends(const struct command_option *option)
{
    return !option->name && !option->text;
}

/* -- What there is ------------------------------------------------------- */

/* the options of a list as getopt_long wants them */
static size_t list_options(const struct command_option *option,
                           struct option *list, size_t count)
{
    for (; !command_option_ends(option); option++) {
        if (option->name) {
            list[count++] = (struct option){
                option->name, option->value ? required_argument : no_argument,
                NULL, KEY_FIRST + option->index};
        }
    }
    return count;
}

static const struct command_option *find_in(const struct command_option *option,
                                            int index)
{
    while (!command_option_ends(option) &&
           (!option->name || option->index != index)) {
        option++;
    }
    return command_option_ends(option) ? NULL : option;
}

static void suggest_of(struct suggestion *suggestion,
                       const struct command_option *option)
{
    for (; !command_option_ends(option); option++) {
        if (option->name && !option->hidden) {
            suggest(suggestion, option->name);
        }
    }
}

/* -- What is written ----------------------------------------------------- */

static enum exit_code take_argument(struct reading *reading, const char *word)
{
    struct args *args = reading->args;
    if (args->count == ARGS_POSITIONAL) {
        return refuse(reading->error, "more than %d arguments are too many",
                      (int)ARGS_POSITIONAL);
    }
    args->argument[args->count++] = word;
    return EXIT_DONE;
}

/* of two values one would be lost without a word */
static enum exit_code check_once(struct reading *reading, int index)
{
    const struct command_option *option = find_in(reading->own, index);
    if (!option) {
        option = find_in(common_options, index);
    }
    if (reading->repeated[index] && option->value) {
        return refuse(reading->error, "--%s was given twice; give it once",
                      option->name);
    }
    reading->repeated[index] = true;
    return EXIT_DONE;
}

static enum exit_code take_option(struct reading *reading, int index,
                                  const char *value)
{
    struct args *args = reading->args;
    enum exit_code code = check_once(reading, index);
    switch (index) {
    case KEY_HELP:
        args->helped = true;
        break;
    case KEY_JSON:
        args->json = true;
        break;
    case KEY_EXPLAIN:
        args->explain = true;
        break;
    case KEY_NO_DEFAULTS:
        args->no_defaults = true;
        break;
    case KEY_STOCK:
        args->stock = value;
        break;
    case KEY_OUTPUT:
        args->output = value;
        break;
    default:
        args->value[index] = value ? value : "";
        break;
    }
    return code;
}

/* an option that there is not, or that several begin with */
static enum exit_code refuse_unknown(const struct reading *reading,
                                     const char *word)
{
    char name[80];
    struct suggestion suggestion = {.word = name};
    snprintf(name, sizeof name, "%.*s", (int)strcspn(word + 1, "="), word + 1);
    if (name[0] == '-') {
        memmove(name, name + 1, strlen(name));
        suggest_of(&suggestion, reading->own);
        suggest_of(&suggestion, common_options);
    }
    const char *command = reading->command->name;
    return suggestion.nearest
               ? refuse(reading->error,
                        "unknown option \"%.60s\"; did you mean --%s? see "
                        "midweight %s --help",
                        word, suggestion.nearest, command)
               : refuse(reading->error,
                        "unknown option \"%.60s\"; see midweight %s --help",
                        word, command);
}

/* A word such as -5C is a number, not an option. */
static bool is_option(const char *word)
{
    return word[0] == '-' && word[1] != '\0' &&
           !isdigit((unsigned char)word[1]) && word[1] != '.' && word[1] != ',';
}

/* the option that optind stands at */
static enum exit_code read_option(struct reading *reading, int argc,
                                  char **argv, const struct option *list)
{
    const char *word = argv[optind];
    int key = getopt_long(argc, argv, "+:ho:", list, NULL);
    switch (key) {
    case '?':
        return refuse_unknown(reading, word);
    case ':':
        return refuse(reading->error,
                      "%.60s needs a value; see midweight %s "
                      "--help",
                      word, reading->command->name);
    case 'h':
        return take_option(reading, KEY_HELP, NULL);
    case 'o':
        return find_in(reading->own, KEY_OUTPUT)
                   ? take_option(reading, KEY_OUTPUT, optarg)
                   : refuse_unknown(reading, word);
    default:
        return take_option(reading, key - KEY_FIRST, optarg);
    }
}

static enum exit_code read_args(struct reading *reading, int argc, char **argv)
{
    struct option list[ARGS_OPTIONS + KEYS] = {{0}};
    enum exit_code code = EXIT_DONE;
    bool options = true;
    list_options(common_options, list, list_options(reading->own, list, 0));
    optind = 1;
    opterr = 0;
    while (optind < argc && code == EXIT_DONE && !reading->args->helped) {
        const char *word = argv[optind];
        if (options && strcmp(word, "--") == 0) {
            options = false;
            optind++;
        } else if (options && is_option(word)) {
            code = read_option(reading, argc, argv, list);
        } else {
            code = take_argument(reading, word);
            optind++;
        }
    }
    return code;
}

/* -- Commands ------------------------------------------------------------ */

enum exit_code command_start(const struct command *command, int argc,
                             char **argv, struct error *error)
{
    static const struct command_option none[] = {{.name = NULL}};
    struct args args = {0};
    if (command->start) {
        return command->start(command, argc, argv, error);
    }
    struct reading reading = {.command = command,
                              .own = command->options ? command->options : none,
                              .args = &args,
                              .error = error};
    enum exit_code code = read_args(&reading, argc, argv);
    if (code == EXIT_DONE && args.helped) {
        help_print(command, reading.own, common_options);
        return EXIT_DONE;
    }
    char *text = NULL;
    error->explained = args.explain;
    if (code == EXIT_DONE && !args.no_defaults) {
        code = defaults_take(reading.own, &args, &text, error);
    }
    if (code == EXIT_DONE) {
        code = command->run(&args, error);
    }
    free(text);
    return code;
}

/* the last word of its name */
static const char *own_name(const struct command *command)
{
    const char *last = strrchr(command->name, ' ');
    return last ? last + 1 : command->name;
}

const struct command *command_find(const struct command *const *commands,
                                   const char *name)
{
    while (*commands && strcmp(name, own_name(*commands)) != 0) {
        commands++;
    }
    return *commands;
}

enum exit_code command_refuse(const struct command *const *commands,
                              const char *group, const char *name,
                              struct error *error)
{
    struct suggestion suggestion = {.word = name};
    for (const struct command *const *one = commands; *one; one++) {
        suggest(&suggestion, own_name(*one));
    }
    const char *space = *group ? " " : "";
    return suggestion.nearest
               ? refuse(error,
                        "unknown command \"%s%s%.60s\"; did you mean "
                        "midweight %s%s%s?",
                        group, space, name, group, space, suggestion.nearest)
               : refuse(error,
                        "unknown command \"%s%s%.60s\"; see midweight %s%s"
                        "--help",
                        group, space, name, group, space);
}

enum exit_code command_run(const struct command *const *commands,
                           const char *group, int argc, char **argv,
                           struct error *error)
{
    const struct command *found = command_find(commands, argv[1]);
    return found ? command_start(found, argc - 1, argv + 1, error)
                 : command_refuse(commands, group, argv[1], error);
}

void command_list(const struct command *const *commands)
{
    for (; *commands; commands++) {
        printf("  %-18s %s\n", (*commands)->name, (*commands)->summary);
    }
}
