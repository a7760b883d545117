/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "util/error.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "util/utf8.h"

static void set_text(struct error *error, const char *format, va_list arguments)
{
    vsnprintf(error->text, sizeof error->text, format, arguments);
    utf8_clean(error->text, sizeof error->text);
}

enum exit_code error_set(struct error *error, enum exit_code exit_code,
                         const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    set_text(error, format, arguments);
    va_end(arguments);
    return exit_code;
}

enum exit_code refuse(struct error *error, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    set_text(error, format, arguments);
    va_end(arguments);
    return EXIT_USAGE;
}

void error_remark(struct error *error, const char *code, const char *format,
                  ...)
{
    char text[REMARK_LENGTH];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    utf8_clean(text, sizeof text);
    for (size_t i = 0; i < error->remark_count; i++) {
        if (strcmp(error->remarks[i], text) == 0) {
            return;
        }
    }
    if (error->remark_count == REMARKS_MAX) {
        strcpy(error->remarks[REMARKS_MAX - 1], "and others likewise");
        return;
    }
    error->remark_codes[error->remark_count] = code;
    strcpy(error->remarks[error->remark_count++], text);
}

void warn(const char *format, ...)
{
    char text[sizeof((struct error *)0)->text];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    utf8_clean(text, sizeof text);
    fprintf(stderr, "midweight: warning: %s\n", text);
}

void warn_remarks(struct error *error)
{
    for (size_t i = 0; i < error->remark_count; i++) {
        warn("%s", error->remarks[i]);
    }
    error->remark_count = 0;
}

void error_default(struct error *error, const char *name, const char *value)
{
    if (error->default_count < DEFAULTS_MAX) {
        size_t i = error->default_count++;
        error->defaults[i].name = name;
        snprintf(error->defaults[i].value, DEFAULT_LENGTH, "%s", value);
        utf8_clean(error->defaults[i].value, DEFAULT_LENGTH);
    }
}
