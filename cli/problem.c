/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "problem.h"

#include <stdarg.h>
#include <stdio.h>

enum outcome problem_set(struct problem *problem, enum outcome outcome,
                         const char *format, ...)
{
    if (problem->outcome == OUTCOME_DONE) {
        va_list arguments;
        va_start(arguments, format);
        vsnprintf(problem->text, sizeof problem->text, format, arguments);
        va_end(arguments);
        problem->outcome = outcome;
    }
    return problem->outcome;
}
