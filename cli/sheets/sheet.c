/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheets/sheet.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "midweight.h"
#include "output/json.h"
#include "output/text.h"
#include "parse/number.h"
#include "sheets/draw/text.h"
#include "util/utf8.h"
#include "util/xalloc.h"
#include "version.h"

#define BOXED                                                                  \
    "The font has no letters for all of \"%s\"; boxes stand in their place."

#define PHONE_MARGIN 3.0   /* mm */
#define NARROW       140.0 /* mm, of paper */
#define METHOD_LINE  1.4   /* of a letter, between paragraphs */

bool sheet_is_phone(const struct sheet *sheet)
{
    return strcmp(sheet->paper, PAPER_PHONE) == 0;
}

bool sheet_is_narrow(const struct sheet *sheet)
{
    return fmin(sheet->page.width, sheet->page.height) < NARROW;
}

double sheet_letter(const struct sheet *sheet)
{
    return sheet_is_phone(sheet)    ? SHEET_PHONE
           : sheet_is_narrow(sheet) ? SHEET_NARROW
                                    : SHEET_WIDE;
}

enum exit_code sheet_wanted(const struct args *args, struct error *error)
{
    return args->output
               ? EXIT_DONE
               : refuse(error,
                        "where to? give a file, such as -o card.pdf (or .svg, "
                        ".png)");
}

/* whether the place that a sheet is to go to can take it */
static enum exit_code check_place(const struct args *args, struct error *error)
{
    bool piped = page_is_piped(args->output);
    if (piped && isatty(STDOUT_FILENO)) {
        return refuse(error, "a sheet says nothing on a terminal; pipe it on, "
                             "or give a file with -o");
    }
    if (args->json && piped) {
        return refuse(error, "--json would come into the same pipe as the "
                             "sheet; give a file with -o");
    }
    return EXIT_DONE;
}

enum exit_code sheet_begin(struct sheet *sheet, const struct args *args,
                           const char *paper, bool phone, bool wide,
                           const char *title, struct error *error)
{
    const char *named = args->value[SHEET_PAPER];
    const struct paper *size = paper_find(named ? named : paper);
    *sheet = (struct sheet){.args = args};
    if (!size) {
        return refuse(error,
                      "\"%.*s\" is no paper here; write A4, A5, A6, Letter or "
                      "phone",
                      QUOTED, named);
    }
    sheet->paper = size->name;
    if (sheet_is_phone(sheet) && !phone) {
        return refuse(error, "a phone shows a mix or temperatures; take A4, "
                             "A5, A6 or Letter");
    }
    sheet->margin = sheet_is_phone(sheet) ? PHONE_MARGIN : SHEET_MARGIN;
    enum exit_code code = check_place(args, error);
    if (code != EXIT_DONE ||
        (code = parse_date(args->value[SHEET_DATE], sheet->date, error)) !=
            EXIT_DONE) {
        return code;
    }
    const struct page_order order = {.path = args->output,
                                     .format = args->value[SHEET_FORMAT],
                                     .paper = size,
                                     .wide = wide,
                                     .force = args->value[SHEET_FORCE] != NULL,
                                     .title = title,
                                     .date = sheet->date};
    return page_begin(&sheet->page, &order, error);
}

/* what would be said behind the answer, where the sheet has stdout */
static void tell_aside(const char *boxed, struct error *error)
{
    if (boxed) {
        char *clean = utf8_cleaned(boxed, false);
        fprintf(stderr, "midweight: " BOXED "\n", clean);
        free(clean);
    }
    for (size_t i = 0; i < error->remark_count; i++) {
        char *clean = utf8_cleaned(error->remarks[i], false);
        fprintf(stderr, "midweight: %s\n", clean);
        free(clean);
    }
    error->remark_count = error->default_count = 0;
}

static enum exit_code print_answer(const struct sheet *sheet, const char *boxed,
                                   struct error *error)
{
    const struct page *page = &sheet->page;
    const char *format = page_format_name(page->format);
    if (sheet->args->json) {
        return print_json("card",
                          json_pack("{s:s, s:s, s:s, s:i, s:f, s:f, s:s?}",
                                    "file", sheet->args->output, "format",
                                    format, "paper", sheet->paper, "pages",
                                    (int)page->count, "width_mm", page->width,
                                    "height_mm", page->height, "boxes_in",
                                    boxed),
                          error);
    }
    print_wrapped("%s: %zu page%s %s, %g x %g mm", sheet->args->output,
                  page->count, page->count == 1 ? "" : "s", sheet->paper,
                  page->width, page->height);
    if (boxed) {
        print_wrapped(BOXED, boxed);
    }
    return EXIT_DONE;
}

enum exit_code sheet_end(struct sheet *sheet, enum exit_code code,
                         struct error *error)
{
    /* begun or not, so that nothing is left behind */
    const char *text = sheet->page.cr ? text_boxed(sheet->page.cr) : NULL;
    char *boxed = text ? xstrdup(text) : NULL;
    code = page_finish(&sheet->page, code, error);
    if (code == EXIT_DONE && page_is_piped(sheet->args->output)) {
        tell_aside(boxed, error);
    } else if (code == EXIT_DONE) {
        code = print_answer(sheet, boxed, error);
    }
    free(boxed);
    return code;
}

/* as sheets have it, of which one is for many oils */
static void put_for_sheet(char *text, size_t size)
{
    static const char *const words[][2] = {{"mm2/s", "mm\u00b2/s"},
                                           {"for this oil", "for every oil"}};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        char *at = text;
        size_t before = strlen(words[i][0]), after = strlen(words[i][1]);
        while ((at = strstr(at, words[i][0])) &&
               strlen(text) + after - before < size) {
            memmove(at + after, at + before, strlen(at + before) + 1);
            memcpy(at, words[i][1], after);
            at += after;
        }
    }
}

double sheet_footer(struct sheet *sheet, const char *text, unsigned warnings,
                    const char *caution, bool draw)
{
    char all[2000];
    char buffer[1000];
    double width = sheet->page.width - 2 * sheet->margin;
    double size = sheet_is_narrow(sheet) ? SHEET_SMALL : SHEET_FOOT;
    snprintf(all, sizeof all, "%s%s %s midweight %s, %s.", text,
             warnings_text(warnings, buffer, sizeof buffer), caution,
             MIDWEIGHT_VERSION, sheet->date);
    put_for_sheet(all, sizeof all);
    double height = text_paragraph(sheet->page.cr, sheet->margin, 0, width,
                                   size, all, false);
    double top = sheet->page.height - sheet->margin - height;
    if (draw) {
        text_paragraph(sheet->page.cr, sheet->margin, top + size, width, size,
                       all, true);
    }
    return top;
}

enum exit_code sheet_explain(struct sheet *sheet, const char *text,
                             struct error *error)
{
    cairo_t *cr = sheet->page.cr;
    double size = SHEET_NARROW, y = sheet->margin + 2 * size;
    double width = sheet->page.width - 2 * sheet->margin;
    const struct lettering title = {.size = 1.3 * size, .bold = true};
    enum exit_code code;
    if (!sheet->args->explain) {
        return EXIT_DONE;
    }
    if (sheet->page.format != PAGE_PDF) {
        return refuse(error, "--explain adds a page; write a .pdf");
    }
    if ((code = page_next(&sheet->page, error)) != EXIT_DONE) {
        return code;
    }
    text_line(cr, sheet->margin, y, &title, "Method");
    y += 2 * size;
    while (*text) {
        char paragraph[1000];
        size_t length = strcspn(text, "\n");
        snprintf(paragraph, sizeof paragraph, "%.*s", (int)length, text);
        y += text_paragraph(cr, sheet->margin, y, width, size, paragraph, true);
        y += (METHOD_LINE - 1) * size;
        text += length;
        text += strspn(text, "\n");
    }
    return EXIT_DONE;
}

const char *both_scales(double celsius, char buffer[BOTH_LENGTH])
{
    double fahrenheit;
    mw_from_celsius(celsius, MW_FAHRENHEIT, &fahrenheit);
    snprintf(buffer, BOTH_LENGTH, "%.4g \u00b0C / %.4g \u00b0F", celsius,
             fahrenheit);
    return buffer;
}
