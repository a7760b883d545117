/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/** names - what bottles may be called, and the days things happened. */
#ifndef PARSE_NAMES_H
#define PARSE_NAMES_H

#include "util/error.h"

enum {
    DATE_LENGTH = 11, /* "2026-10-03" and its end */
    NAME_MAX_CHARACTERS = 200,
    RETIRED_MAX_CHARACTERS = 220,
    TEXT_MAX_CHARACTERS = 2000
};

/** Check a name: 1 to 200 characters of UTF-8 that look neither like an oil
 * nor like an option. EXIT_USAGE otherwise. */
enum exit_code check_name(const char *name, struct error *error);

/** Text on one line, of any length above 0, without control characters. */
enum exit_code check_line(const char *text, struct error *error);

/** The name of a bottle that was removed: what a name has to be, and room for
 * what removing adds. */
enum exit_code check_retired_name(const char *name, struct error *error);

/** A note or a method: up to 2000 characters of UTF-8, line breaks allowed. */
enum exit_code check_text(const char *text, struct error *error);

/** A date as YYYY-MM-DD, or today's where text is NULL. */
enum exit_code parse_date(const char *text, char date[DATE_LENGTH],
                          struct error *error);

#endif
