/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "output/report.h"

#include <errno.h>
#include <math.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "midweight.h"
#include "util/utf8.h"
#include "util/xalloc.h"

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
        json_append(points, json_point(&oil->points[i]));
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
            json_append(list, json_string(mw_note_text(all_notes[i])));
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

void json_append(json_t *array, json_t *value)
{
    if (!value || json_array_append_new(array, value) != 0) {
        out_of_memory();
    }
}

void json_set(json_t *object, const char *key, json_t *value)
{
    if (!value || json_object_set_new(object, key, value) != 0) {
        out_of_memory();
    }
}

json_t *json_text(const char *text)
{
    char *cleaned = utf8_cleaned(text, true);
    json_t *json = json_string(cleaned);
    free(cleaned);
    return json;
}

/* JSON as jansson writes it, with the characters that a terminal must not see
 * escaped; they stand in strings only */
static void put_escaped(const char *text)
{
    for (size_t length; *text; text += length) {
        uint32_t code = 0;
        length = utf8_decode(text, &code);
        if (code == '\n' || !utf8_is_control(code)) {
            fwrite(text, 1, length, stdout);
        } else if (code < 0x10000) {
            printf("\\u%04x", (unsigned)code);
        } else {
            code -= 0x10000;
            printf("\\u%04x\\u%04x", 0xd800 | (unsigned)(code >> 10),
                   0xdc00 | (unsigned)(code & 0x3ff));
        }
    }
}

enum outcome print_json(json_t *json, struct problem *problem)
{
    if (!json) {
        return problem_set(problem, OUTCOME_OUTPUT,
                           "the answer cannot be written as JSON");
    }
    char *text = json_dumps(json, JSON_INDENT(2) | JSON_REAL_PRECISION(17));
    json_decref(json);
    if (!text) {
        out_of_memory();
    }
    /* a failed write shows in finish_output() */
    put_escaped(text);
    putchar('\n');
    free(text);
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
