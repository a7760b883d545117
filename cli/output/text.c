/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "output/text.h"

#include <errno.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "util/utf8.h"
#include "util/xalloc.h"

/* whether a space may end a line: "k = 2" and "25 C" stay together */
static bool is_break(const char *text, size_t i)
{
    return text[i] == ' ' && text[i - 1] != '=' && text[i + 1] != '=' &&
           !(text[i + 1] == 'C' && strchr(" .,:;)", text[i + 2]));
}

/* where the line that starts at text is to be broken */
static size_t line_length(const char *text)
{
    size_t most = utf8_bytes(text, REPORT_WIDTH);
    if (text[most] == '\0') {
        return most;
    }
    for (size_t i = most; i > 0; i--) {
        if (is_break(text, i)) {
            return i;
        }
    }
    return most;
}

/* a text of a format, cleaned of what a terminal must not see; to be freed */
static char *cleaned_text(const char *format, va_list arguments, bool lines)
{
    va_list again;
    va_copy(again, arguments);
    int length = vsnprintf(NULL, 0, format, again);
    va_end(again);
    char *text = xcalloc((size_t)length + 1, 1);
    vsnprintf(text, (size_t)length + 1, format, arguments);
    char *cleaned = utf8_cleaned(text, lines);
    free(text);
    return cleaned;
}

void print_text(const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    char *text = cleaned_text(format, arguments, true);
    va_end(arguments);
    fputs(text, stdout);
    free(text);
}

void print_wrapped(const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    char *text = cleaned_text(format, arguments, false);
    va_end(arguments);
    for (const char *at = text; *at; at += strspn(at, " ")) {
        size_t length = line_length(at);
        printf("%.*s\n", (int)length, at);
        at += length;
    }
    free(text);
}

const char *truncate_columns(const char *name, size_t columns,
                             char buffer[TRUNCATED_LENGTH])
{
    if (utf8_columns(name) <= columns) {
        snprintf(buffer, TRUNCATED_LENGTH, "%s", name);
    } else {
        snprintf(buffer, TRUNCATED_LENGTH, "%.*s..",
                 (int)utf8_bytes(name, columns - 2), name);
    }
    return buffer;
}

void print_padded(const char *text, size_t columns)
{
    size_t width = utf8_columns(text);
    print_text("%s%*s", text, width < columns ? (int)(columns - width) : 0, "");
}

static const enum mw_warning all_warnings[] = {
#define WARNING_VALUE(name, bit, code, text) name,
    MW_WARN_LIST(WARNING_VALUE)
#undef WARNING_VALUE
};

enum { WARNINGS = sizeof all_warnings / sizeof all_warnings[0] };

void print_warnings(unsigned warnings)
{
    for (size_t i = 0; i < WARNINGS; i++) {
        if (warnings & all_warnings[i]) {
            print_wrapped("Warning: %s.", mw_warning_text(all_warnings[i]));
        }
    }
}

void print_remarks(const struct error *error)
{
    for (size_t i = 0; i < error->remark_count; i++) {
        print_wrapped("Note: %s.", error->remarks[i]);
    }
    for (size_t i = 0; i < error->default_count && error->explained; i++) {
        print_wrapped("By default: --%s %s.", error->defaults[i].name,
                      error->defaults[i].value);
    }
}

const char *warnings_text(unsigned warnings, char *buffer, size_t size)
{
    size_t length = 0;
    buffer[0] = '\0';
    for (size_t i = 0; i < WARNINGS && length < size; i++) {
        if (warnings & all_warnings[i]) {
            length += (size_t)snprintf(buffer + length, size - length,
                                       " Warning: %s.",
                                       mw_warning_text(all_warnings[i]));
        }
    }
    return buffer;
}

static enum exit_code finish_output(struct error *error)
{
    errno = 0;
    bool failed = ferror(stdout) != 0;
    if (fclose(stdout) != 0 || failed) {
        return error_set(error, EXIT_OUTPUT,
                         "the answer could not be written: %s; %s",
                         errno ? strerror(errno) : "output failed",
                         error->kept ? "the change of the stock is kept"
                                     : "free some room or send it "
                                       "elsewhere");
    }
    return EXIT_DONE;
}

int end_program(enum exit_code code, struct error *error)
{
    struct error unwritten = {.kept = error->kept};
    if (code == EXIT_DONE) {
        print_remarks(error);
    }
    enum exit_code written = finish_output(&unwritten);
    if (code != EXIT_DONE || written != EXIT_DONE) {
        fprintf(stderr, "midweight: %s\n",
                code != EXIT_DONE ? error->text : unwritten.text);
    }
    return (int)(code != EXIT_DONE ? code : written);
}
