/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report.h"

#include <errno.h>
#include <math.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "midweight.h"

enum {
    PLAIN_DIGITS = 15 /* before or behind the point, without an exponent */
};

const char *figures(double value, int significant, char buffer[FIGURES_LENGTH])
{
    char rounded[FIGURES_LENGTH];
    /* the exponent after rounding, so that 999.6 becomes 1000 */
    snprintf(rounded, sizeof rounded, "%.*e", significant - 1, value);
    const char *exponent = strchr(rounded, 'e');
    int magnitude = 0;
    double round_value = value;
    if (exponent) {
        magnitude = (int)strtol(exponent + 1, NULL, 10);
        round_value = strtod(rounded, NULL);
    }
    /* what is beyond all measure is written short rather than cut */
    if (abs(magnitude) > PLAIN_DIGITS) {
        snprintf(buffer, FIGURES_LENGTH, "%s", rounded);
        return buffer;
    }
    int decimals = significant - 1 - magnitude;
    snprintf(buffer, FIGURES_LENGTH, "%.*f", decimals > 0 ? decimals : 0,
             round_value);
    return buffer;
}

const char *as_given(double value, char buffer[FIGURES_LENGTH])
{
    figures(value, 6, buffer);
    if (strchr(buffer, '.') && !strchr(buffer, 'e')) {
        char *last = buffer + strlen(buffer) - 1;
        while (*last == '0') {
            *last-- = '\0';
        }
        if (*last == '.') {
            *last = '\0';
        }
    }
    return buffer;
}

const char *duration(double seconds, char buffer[FIGURES_LENGTH])
{
    static const struct {
        double size, most; /* s; how many of it are said */
        const char *symbol;
    } units[] = {{1, 100, "s"}, {60, 100, "min"}, {3600, 48, "h"}};
    char number[FIGURES_LENGTH];
    double size = 86400;
    const char *symbol = "days";
    for (size_t i = sizeof units / sizeof units[0]; i-- > 0;) {
        if (seconds < units[i].most * units[i].size) {
            size = units[i].size;
            symbol = units[i].symbol;
        }
    }
    snprintf(buffer, FIGURES_LENGTH, "%s %s",
             figures(seconds / size, 2, number), symbol);
    return buffer;
}

const char *with_decimals_of(double value, const char *written,
                             char buffer[FIGURES_LENGTH])
{
    const char *point = strchr(written, '.');
    snprintf(buffer, FIGURES_LENGTH, "%.*f", point ? (int)strlen(point + 1) : 0,
             value);
    return buffer;
}

/* where the line that starts at text is to be broken */
static size_t line_length(const char *text)
{
    size_t length = strlen(text);
    if (length <= REPORT_WIDTH) {
        return length;
    }
    for (size_t i = REPORT_WIDTH; i > 0; i--) {
        if (text[i] == ' ') {
            return i;
        }
    }
    return REPORT_WIDTH;
}

void paragraph(const char *format, ...)
{
    char text[1024];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    const char *at = text;
    while (*at) {
        size_t length = line_length(at);
        printf("%.*s\n", (int)length, at);
        at += length;
        at += strspn(at, " ");
    }
}

/* characters of UTF-8: a byte that continues one does not count */
static size_t count_columns(const char *text)
{
    size_t columns = 0;
    for (; *text; text++) {
        columns += ((unsigned char)*text & 0xc0) != 0x80;
    }
    return columns;
}

/* how many bytes the first so many characters take */
static size_t bytes_of(const char *text, size_t columns)
{
    size_t bytes = 0;
    while (text[bytes] && columns > 0) {
        bytes++;
        while (((unsigned char)text[bytes] & 0xc0) == 0x80) {
            bytes++;
        }
        columns--;
    }
    return bytes;
}

const char *shortened(const char *name, size_t columns,
                      char buffer[SHORT_LENGTH])
{
    if (count_columns(name) <= columns) {
        snprintf(buffer, SHORT_LENGTH, "%s", name);
    } else {
        snprintf(buffer, SHORT_LENGTH, "%.*s..",
                 (int)bytes_of(name, columns - 2), name);
    }
    return buffer;
}

void print_padded(const char *text, size_t columns)
{
    size_t width = count_columns(text);
    printf("%s%*s", text, width < columns ? (int)(columns - width) : 0, "");
}

json_t *json_number(double value)
{
    return isfinite(value) ? json_real(value) : json_null();
}

json_t *json_point(const struct mw_point *point)
{
    return json_pack("{s:o, s:o}", "viscosity", json_number(point->viscosity),
                     "temperature", json_number(point->temperature));
}

json_t *json_points(const struct mw_oil *oil)
{
    json_t *points = json_array();
    for (size_t i = 0; i < oil->count; i++) {
        json_array_append_new(points, json_point(&oil->points[i]));
    }
    return points;
}

static const enum mw_note all_notes[] = {
#define NOTE_VALUE(name, bit, text) name,
    MW_NOTE_LIST(NOTE_VALUE)
#undef NOTE_VALUE
};

enum { NOTES = sizeof all_notes / sizeof all_notes[0] };

json_t *json_notes(unsigned notes)
{
    json_t *list = json_array();
    for (size_t i = 0; i < NOTES; i++) {
        if (notes & all_notes[i]) {
            json_array_append_new(list,
                                  json_string(mw_note_text(all_notes[i])));
        }
    }
    return list;
}

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

enum outcome print_json(json_t *json, struct problem *problem)
{
    if (!json) {
        return problem_set(problem, OUTCOME_OUTPUT, "out of memory");
    }
    /* a failed write shows in finish_output() */
    json_dumpf(json, stdout, JSON_INDENT(2) | JSON_REAL_PRECISION(17));
    putchar('\n');
    json_decref(json);
    return problem->outcome;
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
