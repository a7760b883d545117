/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "command/help.h"

#include <stdio.h>
#include <string.h>

enum { WIDTH = 72, TEXT_COLUMN = 29 };

/* the words of a text, from a column on; new lines start at the indent */
static void print_words(const char *text, size_t column, size_t indent)
{
    size_t length = strcspn(text, " ");
    printf("%.*s", (int)length, text);
    for (column += length; text[length]; column += 1 + length) {
        text += length + 1;
        length = strcspn(text, " ");
        if (column + 1 + length <= WIDTH) {
            putchar(' ');
        } else {
            printf("\n%*s", (int)indent, "");
            column = indent - 1;
        }
        printf("%.*s", (int)length, text);
    }
    putchar('\n');
}

static void print_option(const struct command_option *option)
{
    char left[80];
    int used = snprintf(left, sizeof left,
                        option->letter ? "  -%c, " : "      ", option->letter);
    used += snprintf(left + used, sizeof left - (size_t)used, "--%s%s%s",
                     option->name, option->value ? "=" : "",
                     option->value ? option->value : "");
    size_t column = used + 2 < TEXT_COLUMN ? TEXT_COLUMN : (size_t)used + 3;
    printf("%-*s", (int)column, left);
    print_words(option->text, column, TEXT_COLUMN);
}

static void print_options(const struct command_option *option)
{
    for (; !command_option_ends(option); option++) {
        if (!option->name) {
            printf("%s:\n", option->text);
        } else if (!option->hidden) {
            print_option(option);
        }
    }
}

void help_print(const struct command *command,
                const struct command_option *options,
                const struct command_option *common)
{
    printf("Examples:\n%s\nUsage: midweight %s [OPTION...]%s%s\n\n",
           command->examples, command->name, command->arguments ? " " : "",
           command->arguments ? command->arguments : "");
    print_options(options);
    print_options(common);
    if (command->notes) {
        putchar('\n');
        print_words(command->notes, 0, 0);
    }
}
