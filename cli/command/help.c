/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "command/help.h"

#include <stdio.h>
#include <string.h>

enum { WIDTH = 79, TEXT_COLUMN = 29 };

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

static void print_option(const struct argp_option *option)
{
    char left[80];
    bool has_letter = option->key > 0 && option->key < 128;
    int used = snprintf(left, sizeof left, has_letter ? "  -%c, " : "      ",
                        option->key);
    used += snprintf(left + used, sizeof left - (size_t)used, "--%s%s%s",
                     option->name, option->arg ? "=" : "",
                     option->arg ? option->arg : "");
    size_t column = used + 2 < TEXT_COLUMN ? TEXT_COLUMN : (size_t)used + 3;
    printf("%-*s", (int)column, left);
    print_words(option->doc, column, TEXT_COLUMN);
}

void help_print(const struct command *command,
                const struct argp_option *options,
                const struct argp_option *common)
{
    printf("Examples:\n%s\nUsage: midweight %s [OPTION...]%s%s\n\n",
           command->examples, command->name, command->arguments ? " " : "",
           command->arguments ? command->arguments : "");
    for (; options->name; options++) {
        /* what is hidden is another spelling of an option */
        if (!(options->flags & OPTION_HIDDEN)) {
            print_option(options);
        }
    }
    for (; common->name; common++) {
        print_option(common);
    }
    if (command->notes) {
        putchar('\n');
        print_words(command->notes + strspn(command->notes, "\v"), 0, 0);
    }
}
