/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "command/defaults.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "util/xalloc.h"

enum {
    PATH_LENGTH = 4096,
    FILE_MOST = 65536 /* bytes; our own limit */
};

static const char spaces[] = " \t\r";

/* what may stand there; a tool on the command line displaces all of them */
static const struct {
    const char *name;
    bool tool;
} keys[] = {{"syringe", true}, {"scale", true}, {"drop", true},
            {"waste", false},  {"make", false}, {"thermometer", false},
            {"paper", false},  {"stock", false}};

enum { KEYS = sizeof keys / sizeof keys[0] };

/* "" where there can be none */
static void find_path(char path[PATH_LENGTH], bool *named)
{
    const char *chosen = getenv("MIDWEIGHT_DEFAULTS");
    const char *config = getenv("XDG_CONFIG_HOME"), *home = getenv("HOME");
    *named = chosen && *chosen;
    path[0] = '\0';
    if (*named) {
        snprintf(path, PATH_LENGTH, "%s", chosen);
    } else if (config && *config == '/') {
        snprintf(path, PATH_LENGTH, "%s/midweight/defaults", config);
    } else if (home && *home) {
        snprintf(path, PATH_LENGTH, "%s/.config/midweight/defaults", home);
    }
}

/* all of the file; NULL where there is none */
static enum exit_code read_file(char **text, char path[PATH_LENGTH],
                                struct error *error)
{
    bool named;
    find_path(path, &named);
    FILE *file = *path ? fopen(path, "r") : NULL;
    if (!file) {
        return named ? error_set(error, EXIT_OUTPUT, "%.200s: %s", path,
                                 strerror(errno))
                     : EXIT_DONE;
    }
    *text = xcalloc(FILE_MOST + 1, 1);
    size_t length = fread(*text, 1, FILE_MOST + 1, file);
    bool failed = ferror(file) != 0;
    fclose(file);
    if (failed) {
        return error_set(error, EXIT_OUTPUT, "%.200s cannot be read", path);
    }
    return length <= FILE_MOST && strlen(*text) == length
               ? EXIT_DONE
               : refuse(error, "%.200s is no file of defaults", path);
}

/* a word without the spaces around it */
static char *trimmed(char *word)
{
    word += strspn(word, spaces);
    for (size_t length = strlen(word);
         length > 0 && strchr(spaces, word[length - 1]); length--) {
        word[length - 1] = '\0';
    }
    return word;
}

static const struct command_option *
find_option(const struct command_option *option, const char *name)
{
    for (; !command_option_ends(option); option++) {
        if (option->name && strcmp(option->name, name) == 0) {
            return option;
        }
    }
    return NULL;
}

/* whether a tool stands on the command line */
static bool names_tool(const struct command_option *own,
                       const struct args *args)
{
    bool named = false;
    for (size_t i = 0; i < KEYS; i++) {
        const struct command_option *option = find_option(own, keys[i].name);
        named = named || (keys[i].tool && option && args->value[option->index]);
    }
    return named;
}

static void take(const struct command_option *own, bool tools, size_t key,
                 const char *value, struct args *args, struct error *error)
{
    const char *name = keys[key].name;
    const struct command_option *option = find_option(own, name);
    const char *stock = getenv("MIDWEIGHT_STOCK");
    if (strcmp(name, "stock") == 0) {
        if (!args->stock && !(stock && *stock)) {
            args->stock = value;
        }
    } else if (option && !args->value[option->index] &&
               !(keys[key].tool && tools)) {
        args->value[option->index] = value;
        args->by_default[option->index] = true;
        error_default(error, name, value);
    }
}

static enum exit_code read_line(const struct command_option *own, bool tools,
                                char *line, size_t number, const char *path,
                                struct args *args, struct error *error)
{
    line[strcspn(line, "#")] = '\0';
    char *name = trimmed(line), *value = strchr(name, '=');
    size_t key = 0;
    if (*name == '\0') {
        return EXIT_DONE;
    }
    if (value) {
        *value++ = '\0';
        name = trimmed(name);
        value = trimmed(value);
    }
    while (key < KEYS && strcmp(keys[key].name, name) != 0) {
        key++;
    }
    if (key == KEYS || !value || !*value) {
        return refuse(error,
                      "%.200s, line %zu: write a default such as syringe = "
                      "0.2ml; there are syringe, scale, drop, waste, make, "
                      "thermometer, paper and stock",
                      path, number);
    }
    take(own, tools, key, value, args, error);
    return EXIT_DONE;
}

enum exit_code defaults_take(const struct command_option *own,
                             struct args *args, char **text,
                             struct error *error)
{
    char path[PATH_LENGTH];
    bool tools = names_tool(own, args);
    *text = NULL;
    enum exit_code code = read_file(text, path, error);
    char *line = *text;
    for (size_t number = 1; line && code == EXIT_DONE; number++) {
        char *end = strchr(line, '\n');
        if (end) {
            *end = '\0';
        }
        code = read_line(own, tools, line, number, path, args, error);
        line = end ? end + 1 : NULL;
    }
    return code;
}
