/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * sheet - what all sheets have in common: options, heading, footer, and the
 * answer that is printed when they are done.
 */
#ifndef SHEETS_SHEET_H
#define SHEETS_SHEET_H

#include "command/options.h"
#include "parse/names.h"
#include "sheets/draw/page.h"

#define SHEET_MARGIN 6.0 /* mm; what office printers leave white */

/* sizes of type in mm: what is read at a pit wall; our own choice */
#define POINT        (25.4 / 72)
#define SHEET_SMALL  (7 * POINT) /* of the small print on A6 */
#define SHEET_FOOT   (8 * POINT) /* of the small print on A5 and larger */
#define SHEET_NARROW (9 * POINT) /* of numbers, at least; on A6 */
#define SHEET_PHONE  (10 * POINT)
#define SHEET_WIDE   (11 * POINT) /* on A5 and larger */

/** What the column of an uncertainty, or of low to high, means. */
#define SHEET_DOUBT_MEANS                                                      \
    "\u00b1 holds the truth about 95 times of 100 (k = 2)."
#define SHEET_BAND_MEANS                                                       \
    "Low to high holds the truth about 95 times of 100 (k = 2)."

/* the shared options, behind a sheet's own in words.value */
enum { SHEET_PAPER = 16, SHEET_FORMAT, SHEET_FORCE, SHEET_DATE };

#define SHEET_OPTIONS                                                          \
    OPTION_OUTPUT("The file to write: .pdf, .svg or .png (300 dots an inch); " \
                  "- for a pipe"),                                             \
        OPTION(SHEET_FORMAT, "format", "FORMAT",                               \
               "pdf, svg or png (default: by the file's ending, pdf for a "    \
               "pipe)"),                                                       \
        OPTION(SHEET_PAPER, "paper", "SIZE",                                   \
               "A4, A5, A6 or Letter; phone for a mix or temperatures "        \
               "(1080 x 2340 dots)"),                                          \
        OPTION(SHEET_FORCE, "force", NULL, "Replace an existing file"),        \
        OPTION(SHEET_DATE, "date", "YYYY-MM-DD",                               \
               "Date to print (default: today)")

struct sheet {
    struct page page;
    const struct args *args;
    const char *paper;
    double margin; /* mm */
    char date[DATE_LENGTH];
};

/** Whether the paper is a phone, or so narrow that columns are left out. */
bool sheet_is_phone(const struct sheet *sheet);
bool sheet_is_narrow(const struct sheet *sheet);

/** The least size of numbers on the paper, in mm. */
double sheet_letter(const struct sheet *sheet);

/** Whether a sheet is to be written; EXIT_USAGE where -o is missing. */
enum exit_code sheet_wanted(const struct args *args, struct error *error);

/**
 * Begin a sheet. sheet_end() it whatever the outcome.
 *
 * Given: paper  the usual one, where --paper names no other
 *        phone  it can be drawn for one too
 *        wide   the longer side lies
 *        title  of the document
 */
enum exit_code sheet_begin(struct sheet *sheet, const struct args *args,
                           const char *paper, bool phone, bool wide,
                           const char *title, struct error *error);

/**
 * Write the sheet, and say where it is.
 *
 * Given: code  of what was drawn up to now; a failure leaves no file
 *
 * Returned: code where that is a failure, else how writing went
 */
enum exit_code sheet_end(struct sheet *sheet, enum exit_code code,
                         struct error *error);

/**
 * The small print at the foot of the page: what is said, the notes, a caution,
 * and the program's name and date.
 *
 * Given:    draw  whether it is drawn, or measured only
 * Returned: y of its upper edge, in mm
 */
double sheet_footer(struct sheet *sheet, const char *text, unsigned warnings,
                    const char *caution, bool draw);

/**
 * The page that --explain adds, where it was asked for.
 *
 * Given: text  a paragraph a line
 */
enum exit_code sheet_explain(struct sheet *sheet, const char *text,
                             struct error *error);

enum { BOTH_LENGTH = 64 };

/** A temperature in both scales, such as "25 °C / 77 °F". */
const char *both_scales(double celsius, char buffer[BOTH_LENGTH]);

#endif
