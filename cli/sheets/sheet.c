/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheets/sheet.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "midweight.h"
#include "output/json.h"
#include "output/text.h"
#include "parse/number.h"
#include "sheets/draw/text.h"
#include "util/xalloc.h"
#include "version.h"

enum outcome sheet_wanted(const struct words *words, struct problem *problem)
{
    return words->output
               ? OUTCOME_DONE
               : REFUSE("where to? give a file, such as -o card.pdf (or .svg, "
                        ".png)");
}

enum outcome sheet_begin(struct sheet *sheet, const struct words *words,
                         const char *paper, bool wide, const char *title,
                         struct problem *problem)
{
    const char *named = words->value[SHEET_PAPER];
    const struct paper *size = paper_find(named ? named : paper);
    *sheet = (struct sheet){.words = words};
    if (!size) {
        return REFUSE("\"%.*s\" is no paper here; write A4, A5, A6 or Letter",
                      QUOTED, named);
    }
    sheet->paper = size->name;
    if (parse_date(words->value[SHEET_DATE], sheet->date, problem) !=
        OUTCOME_DONE) {
        return problem->outcome;
    }
    const struct page_order order = {.path = words->output,
                                     .paper = size,
                                     .wide = wide,
                                     .force = words->value[SHEET_FORCE] != NULL,
                                     .title = title,
                                     .date = sheet->date};
    return page_begin(&sheet->page, &order, problem);
}

static enum outcome tell(const struct sheet *sheet, const char *boxed,
                         struct problem *problem)
{
    const struct page *page = &sheet->page;
    const char *format = page_format_name(page->format);
    if (sheet->words->json) {
        return print_json(json_pack("{s:s, s:s, s:s, s:i, s:f, s:f, s:s?}",
                                    "file", sheet->words->output, "format",
                                    format, "paper", sheet->paper, "pages",
                                    (int)page->count, "width_mm", page->width,
                                    "height_mm", page->height, "boxes_in",
                                    boxed),
                          problem);
    }
    paragraph("%s: %zu page%s %s, %g x %g mm", sheet->words->output,
              page->count, page->count == 1 ? "" : "s", sheet->paper,
              page->width, page->height);
    if (boxed) {
        paragraph("The font has no letters for all of \"%s\"; boxes stand in "
                  "their place.",
                  boxed);
    }
    return OUTCOME_DONE;
}

enum outcome sheet_end(struct sheet *sheet, struct problem *problem)
{
    /* begun or not, so that nothing is left behind */
    sheet->page.problem = problem;
    const char *text = sheet->page.cr ? text_boxed(sheet->page.cr) : NULL;
    char *boxed = text ? need_copy(text) : NULL;
    if (page_finish(&sheet->page) == OUTCOME_DONE) {
        tell(sheet, boxed, problem);
    }
    free(boxed);
    return problem->outcome;
}

double sheet_footer(struct sheet *sheet, const char *text, unsigned notes,
                    const char *caution, bool draw)
{
    char all[2000];
    char warnings[1000];
    double width = sheet->page.width - 2 * SHEET_MARGIN;
    snprintf(all, sizeof all, "%s%s %s midweight %s, %s.", text,
             notes_text(notes, warnings, sizeof warnings), caution,
             MIDWEIGHT_VERSION, sheet->date);
    double height = text_paragraph(sheet->page.cr, SHEET_MARGIN, 0, width,
                                   SHEET_SMALL, all, false);
    double top = sheet->page.height - SHEET_MARGIN - height;
    if (draw) {
        text_paragraph(sheet->page.cr, SHEET_MARGIN, top + SHEET_SMALL, width,
                       SHEET_SMALL, all, true);
    }
    return top;
}

const char *both_scales(double celsius, char buffer[BOTH_LENGTH])
{
    double fahrenheit;
    mw_from_celsius(celsius, MW_FAHRENHEIT, &fahrenheit);
    snprintf(buffer, BOTH_LENGTH, "%.4g \u00b0C / %.4g \u00b0F", celsius,
             fahrenheit);
    return buffer;
}
