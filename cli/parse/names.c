/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "parse/names.h"

#include <stdbool.h>
#include <stddef.h>
#include <string.h>
#include <time.h>

#include "parse/number.h"
#include "parse/oil_spec.h"
#include "util/platform.h"
#include "util/utf8.h"

/* the length in characters; false for what is not UTF-8, or holds a control
 * character (line breaks and tabs aside, where they are allowed) */
static bool count_characters(const char *text, bool lines, size_t *count)
{
    for (*count = 0; *text; (*count)++) {
        uint32_t code = 0;
        size_t length = utf8_decode(text, &code);
        bool line = code == '\n' || code == '\r' || code == '\t';
        if (length == 0 || (utf8_is_control(code) && !(lines && line))) {
            return false;
        }
        text += length;
    }
    return true;
}

enum exit_code check_text(const char *text, struct error *error)
{
    size_t characters;
    if (!count_characters(text, true, &characters)) {
        return refuse(
            error, "a note or a method is plain text (UTF-8) without control "
                   "characters");
    }
    return characters <= TEXT_MAX_CHARACTERS
               ? EXIT_DONE
               : refuse(error,
                        "a text of %zu characters is too long; %d are enough",
                        characters, (int)TEXT_MAX_CHARACTERS);
}

enum exit_code check_line(const char *text, struct error *error)
{
    size_t characters;
    return count_characters(text, false, &characters) && characters > 0
               ? EXIT_DONE
               : refuse(error,
                        "a name is plain text (UTF-8) on one line, without "
                        "control characters");
}

enum exit_code check_retired_name(const char *name, struct error *error)
{
    size_t characters = 0;
    enum exit_code code = check_line(name, error);
    if (code != EXIT_DONE) {
        return code;
    }
    count_characters(name, false, &characters);
    return characters <= RETIRED_MAX_CHARACTERS
               ? EXIT_DONE
               : refuse(error, "a name of %zu characters is too long",
                        characters);
}

enum exit_code check_name(const char *name, struct error *error)
{
    size_t characters;
    if (*name == '\0') {
        return refuse(error, "a bottle needs a name");
    }
    enum exit_code code = check_line(name, error);
    if (code != EXIT_DONE) {
        return code;
    }
    count_characters(name, false, &characters);
    if (characters > NAME_MAX_CHARACTERS) {
        return refuse(error,
                      "a name of %zu characters is too long; %d are enough",
                      characters, (int)NAME_MAX_CHARACTERS);
    }
    if (*name == ' ' || name[strlen(name) - 1] == ' ') {
        return refuse(error,
                      "\"%.*s\": a name neither starts nor ends with a space",
                      QUOTED, name);
    }
    if (*name == '-') {
        return refuse(error,
                      "\"%.*s\": a name does not start with -, which would be "
                      "an option",
                      QUOTED, name);
    }
    if (strchr(name, '=')) {
        return refuse(error,
                      "\"%.*s\": a name has no =, which starts an amount",
                      QUOTED, name);
    }
    if (is_oil_spec(name)) {
        return refuse(error,
                      "\"%.*s\" would be taken for a viscosity; put a letter "
                      "first",
                      QUOTED, name);
    }
    return EXIT_DONE;
}

enum exit_code parse_date(const char *text, char date[DATE_LENGTH],
                          struct error *error)
{
    struct tm day = {0};
    time_t now = time(NULL);
    if (!text) {
        localtime_r(&now, &day);
        strftime(date, DATE_LENGTH, "%Y-%m-%d", &day);
        return EXIT_DONE;
    }
    if (!is_calendar_day(text)) {
        return refuse(error, "\"%.*s\" is not a date; write 2026-10-03", QUOTED,
                      text);
    }
    memcpy(date, text, DATE_LENGTH);
    return EXIT_DONE;
}
