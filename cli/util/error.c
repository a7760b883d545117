/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "util/error.h"

#include <stdarg.h>
#include <stdio.h>

#include "util/utf8.h"

enum outcome problem_set(struct problem *problem, enum outcome outcome,
                         const char *format, ...)
{
    if (problem->outcome == OUTCOME_DONE) {
        va_list arguments;
        va_start(arguments, format);
        vsnprintf(problem->text, sizeof problem->text, format, arguments);
        va_end(arguments);
        utf8_clean(problem->text, sizeof problem->text);
        problem->outcome = outcome;
    }
    return problem->outcome;
}

void warn(const char *format, ...)
{
    char text[sizeof((struct problem *)0)->text];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    utf8_clean(text, sizeof text);
    fprintf(stderr, "midweight: warning: %s\n", text);
}
