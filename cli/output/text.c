/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "output/text.h"

#include <errno.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "util/utf8.h"
#include "util/xalloc.h"

/* where the line that starts at text is to be broken */
static size_t line_length(const char *text)
{
    size_t most = utf8_bytes(text, REPORT_WIDTH);
    if (text[most] == '\0') {
        return most;
    }
    for (size_t i = most; i > 0; i--) {
        if (text[i] == ' ') {
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
    char *text = need_zeroed((size_t)length + 1, 1);
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

void paragraph(const char *format, ...)
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

const char *shortened(const char *name, size_t columns,
                      char buffer[SHORT_LENGTH])
{
    if (utf8_columns(name) <= columns) {
        snprintf(buffer, SHORT_LENGTH, "%s", name);
    } else {
        snprintf(buffer, SHORT_LENGTH, "%.*s..",
                 (int)utf8_bytes(name, columns - 2), name);
    }
    return buffer;
}

void print_padded(const char *text, size_t columns)
{
    size_t width = utf8_columns(text);
    print_text("%s%*s", text, width < columns ? (int)(columns - width) : 0, "");
}

static const enum mw_note all_notes[] = {
#define NOTE_VALUE(name, bit, text) name,
    MW_NOTE_LIST(NOTE_VALUE)
#undef NOTE_VALUE
};

enum { NOTES = sizeof all_notes / sizeof all_notes[0] };

void print_notes(unsigned notes)
{
    for (size_t i = 0; i < NOTES; i++) {
        if (notes & all_notes[i]) {
            paragraph("Warning: %s.", mw_note_text(all_notes[i]));
        }
    }
}

const char *notes_text(unsigned notes, char *buffer, size_t size)
{
    size_t length = 0;
    buffer[0] = '\0';
    for (size_t i = 0; i < NOTES && length < size; i++) {
        if (notes & all_notes[i]) {
            length +=
                (size_t)snprintf(buffer + length, size - length,
                                 " Warning: %s.", mw_note_text(all_notes[i]));
        }
    }
    return buffer;
}

enum outcome finish_output(struct problem *problem)
{
    errno = 0;
    bool failed = ferror(stdout) != 0;
    if (fclose(stdout) != 0 || failed) {
        return problem_set(problem, OUTCOME_OUTPUT,
                           "the answer could not be written: %s; %s",
                           errno ? strerror(errno) : "output failed",
                           problem->kept ? "the change of the stock is kept"
                                         : "free some room or send it "
                                           "elsewhere");
    }
    return problem->outcome;
}
