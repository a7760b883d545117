/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * page - paper to draw on, in mm from its top left corner, and the PDF, SVG or
 * PNG file that it becomes.
 */
#ifndef SHEETS_DRAW_PAGE_H
#define SHEETS_DRAW_PAGE_H

#include <cairo.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

#include "util/error.h"

/** The paper that is a screen. */
#define PAPER_PHONE "phone"

/** A size of paper, upright. */
struct paper {
    const char *name;
    double width, height; /* mm */
    double dpi;           /* dots an inch of a PNG */
};

/** The paper with a name, whatever the case of its letters, or NULL. */
const struct paper *paper_find(const char *name);

enum page_format { PAGE_PDF, PAGE_SVG, PAGE_PNG };

/** What is wanted of a page. */
struct page_order {
    const char *path;   /* "-": stdout */
    const char *format; /* its name; NULL: by the ending of the path */
    const struct paper *paper;
    bool wide;  /* the longer side lies */
    bool force; /* an existing file is replaced */
    const char *title;
    const char *date; /* YYYY-MM-DD */
};

struct page {
    cairo_t *cr;
    double width, height; /* mm */
    double dpi;
    enum page_format format;
    size_t count; /* of pages so far */
    cairo_surface_t *surface;
    const char *path;
    bool force;
    FILE *stream; /* into bytes, what the file will hold */
    char *bytes;
    size_t size;
};

/** Whether a path stands for stdout. */
bool page_is_piped(const char *path);

/** The name of a format, "pdf", "svg" or "png". */
const char *page_format_name(enum page_format format);

/**
 * Begin a page, in its place until page_finish(), whatever the outcome. An
 * unknown file extension is EXIT_USAGE.
 */
enum exit_code page_begin(struct page *page, const struct page_order *order,
                          struct error *error);

/** Another page; EXIT_USAGE where the format has only one. */
enum exit_code page_next(struct page *page, struct error *error);

/**
 * Write the file, or leave nothing behind after a failure.
 *
 * Given: code  of what was drawn up to now
 *
 * Returned: code where that is a failure, else how writing went
 */
enum exit_code page_finish(struct page *page, enum exit_code code,
                           struct error *error);

/** Draw a straight line from x, y to x2, y2. */
void page_line(cairo_t *cr, double x, double y, double x2, double y2);

#endif
