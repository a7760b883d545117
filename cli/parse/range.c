/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "parse/range.h"

#include <stdio.h>
#include <string.h>

#include "parse/number.h"

enum {
    TABLE_ROWS_MAX = 10000 /* more is a slip of the step */
};

enum exit_code count_steps(const char *text, double from, double to,
                           double step, unsigned *count, struct error *error)
{
    if (!(step > 0 && to >= from)) {
        return refuse(error,
                      "\"%.*s\": TO is not below FROM, and STEP is above zero",
                      QUOTED, text);
    }
    /* a step may miss TO by rounding */
    double rows = (to - from) / step * (1 + 1e-12) + 1;
    if (!(rows <= TABLE_ROWS_MAX)) {
        return refuse(error,
                      "\"%.*s\" makes more than %d rows; take a larger STEP",
                      QUOTED, text, (int)TABLE_ROWS_MAX);
    }
    *count = (unsigned)rows;
    return EXIT_DONE;
}

enum exit_code parse_target_range(const char *text, struct target_range *range,
                                  struct error *error)
{
    const char *at = strchr(text, '@');
    size_t length = at ? (size_t)(at - text) : strlen(text);
    const char *first = strchr(text, ':');
    const char *second = first ? strchr(first + 1, ':') : NULL;
    char step[TARGET_LENGTH];
    if (!second || (at && second > at) || strlen(text) >= TARGET_LENGTH) {
        return refuse(error, "\"%.*s\" is not FROM:TO:STEP, such as 360:490:10",
                      QUOTED, text);
    }
    at = text + length;
    snprintf(range->from, TARGET_LENGTH, "%.*s%s", (int)(first - text), text,
             at);
    snprintf(range->to, TARGET_LENGTH, "%.*s%s", (int)(second - first - 1),
             first + 1, at);
    snprintf(step, TARGET_LENGTH, "%.*s", (int)(at - second - 1), second + 1);
    return parse_number(step, &range->step, error);
}
