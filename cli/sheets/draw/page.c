/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheets/draw/page.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "parse/number.h"
#include "sheets/draw/text.h"
#include "util/atomic_file.h"
#include "util/xalloc.h"

#define MM_PER_INCH     25.4
#define POINTS_PER_INCH 72.0

#define PRINTER_DPI 300.0 /* what office printers resolve */
/* what a phone resolves, whose screen is 1080 x 2340 dots; common practice, no
 * source */
#define PHONE_DPI 400.0

/* ISO 216, and 8.5 x 11 in (ANSI/ASME Y14.1); both from memory */
static const struct paper papers[] = {
    {"A4", 210, 297, PRINTER_DPI},
    {"A5", 148, 210, PRINTER_DPI},
    {"A6", 105, 148, PRINTER_DPI},
    {"Letter", 215.9, 279.4, PRINTER_DPI},
    {PAPER_PHONE, 1080 * MM_PER_INCH / PHONE_DPI,
     2340 * MM_PER_INCH / PHONE_DPI, PHONE_DPI},
};

static const char *const format_names[] = {
    [PAGE_PDF] = "pdf", [PAGE_SVG] = "svg", [PAGE_PNG] = "png"};

const struct paper *paper_find(const char *name)
{
    for (size_t i = 0; i < sizeof papers / sizeof papers[0]; i++) {
        if (strcasecmp(papers[i].name, name) == 0) {
            return &papers[i];
        }
    }
    return NULL;
}

const char *page_format_name(enum page_format format)
{
    return format_names[format];
}

static bool read_format(const char *name, enum page_format *format)
{
    for (int i = PAGE_PDF; i <= PAGE_PNG; i++) {
        if (strcasecmp(name, format_names[i]) == 0) {
            *format = (enum page_format)i;
            return true;
        }
    }
    return false;
}

bool page_is_piped(const char *path)
{
    return strcmp(path, "-") == 0;
}

/* what is named, else by the ending of the path; PDF into a pipe */
static enum exit_code find_format(const struct page_order *order,
                                  enum page_format *format, struct error *error)
{
    const char *slash = strrchr(order->path, '/');
    const char *dot = strrchr(slash ? slash : order->path, '.');
    if (order->format) {
        return read_format(order->format, format)
                   ? EXIT_DONE
                   : refuse(error,
                            "\"%.*s\" is no format here; write pdf, svg or png",
                            QUOTED, order->format);
    }
    if (page_is_piped(order->path)) {
        *format = PAGE_PDF;
        return EXIT_DONE;
    }
    return dot && read_format(dot + 1, format)
               ? EXIT_DONE
               : refuse(error,
                        "\"%.200s\" does not say what to write; end it in "
                        ".pdf, .svg or .png, or add --format",
                        order->path);
}

static cairo_status_t keep(void *stream, const unsigned char *data,
                           unsigned length)
{
    return fwrite(data, 1, length, stream) == length ? CAIRO_STATUS_SUCCESS
                                                     : CAIRO_STATUS_NO_MEMORY;
}

static void set_metadata(cairo_surface_t *surface,
                         const struct page_order *order)
{
    char noon[40];
    snprintf(noon, sizeof noon, "%.10sT12:00:00Z", order->date);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE,
                                   order->title);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR,
                                   "midweight");
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE,
                                   noon);
}

static cairo_surface_t *make_surface(struct page *page,
                                     const struct page_order *order)
{
    double points = POINTS_PER_INCH / MM_PER_INCH;
    double dots = page->dpi / MM_PER_INCH;
    cairo_surface_t *surface;
    switch (page->format) {
    case PAGE_PDF:
        surface = cairo_pdf_surface_create_for_stream(
            keep, page->stream, page->width * points, page->height * points);
        set_metadata(surface, order);
        return surface;
    case PAGE_SVG:
        return cairo_svg_surface_create_for_stream(
            keep, page->stream, page->width * points, page->height * points);
    default:
        return cairo_image_surface_create(CAIRO_FORMAT_RGB24,
                                          (int)(page->width * dots + 0.5),
                                          (int)(page->height * dots + 0.5));
    }
}

/* Letters keep their measured widths at every scale. */
static void set_up(struct page *page)
{
    double unit = page->format == PAGE_PNG ? page->dpi : POINTS_PER_INCH;
    cairo_font_options_t *options = cairo_font_options_create();
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_set_font_options(page->cr, options);
    cairo_font_options_destroy(options);
    cairo_scale(page->cr, unit / MM_PER_INCH, unit / MM_PER_INCH);
    if (page->format != PAGE_PDF) {
        cairo_set_source_rgb(page->cr, 1, 1, 1);
        cairo_paint(page->cr);
    }
    cairo_set_source_rgb(page->cr, 0, 0, 0);
}

enum exit_code page_begin(struct page *page, const struct page_order *order,
                          struct error *error)
{
    double width = order->paper->width, height = order->paper->height;
    *page = (struct page){.width = order->wide ? height : width,
                          .height = order->wide ? width : height,
                          .dpi = order->paper->dpi,
                          .count = 1,
                          .path = order->path,
                          .force = order->force};
    enum exit_code code = find_format(order, &page->format, error);
    if (code != EXIT_DONE) {
        return code;
    }
    page->stream = open_memstream(&page->bytes, &page->size);
    if (!page->stream) {
        out_of_memory();
    }
    page->surface = make_surface(page, order);
    page->cr = cairo_create(page->surface);
    set_up(page);
    return EXIT_DONE;
}

/* what cairo could not draw */
static enum exit_code check(cairo_status_t status, struct error *error)
{
    return status == CAIRO_STATUS_SUCCESS
               ? EXIT_DONE
               : error_set(error, EXIT_OUTPUT, "the sheet failed: %s",
                           cairo_status_to_string(status));
}

enum exit_code page_next(struct page *page, struct error *error)
{
    if (page->format != PAGE_PDF) {
        return refuse(error,
                      "all of it does not fit on one page; write a .pdf, take "
                      "larger paper with --paper, or name fewer");
    }
    cairo_show_page(page->cr);
    page->count++;
    return check(cairo_status(page->cr), error);
}

static enum exit_code check_drawing(struct page *page, struct error *error)
{
    enum exit_code code = check(cairo_status(page->cr), error);
    return code == EXIT_DONE && text_lacked_font(page->cr)
               ? error_set(error, EXIT_OUTPUT,
                           "the sheet failed: there is no font to write "
                           "with; install one, such as fonts-dejavu-core")
               : code;
}

/* the first failure counts, of what was drawn or here */
static enum exit_code end_drawing(struct page *page, enum exit_code code,
                                  struct error *error)
{
    if (code == EXIT_DONE) {
        code = check_drawing(page, error);
    }
    cairo_destroy(page->cr);
    if (page->format == PAGE_PNG && code == EXIT_DONE) {
        code = check(cairo_surface_write_to_png_stream(page->surface, keep,
                                                       page->stream),
                     error);
    }
    cairo_surface_finish(page->surface);
    if (code == EXIT_DONE) {
        code = check(cairo_surface_status(page->surface), error);
    }
    cairo_surface_destroy(page->surface);
    return code;
}

enum exit_code page_finish(struct page *page, enum exit_code code,
                           struct error *error)
{
    if (page->surface) {
        code = end_drawing(page, code, error);
    }
    if (page->stream && fclose(page->stream) != 0) {
        out_of_memory();
    }
    if (code == EXIT_DONE && page_is_piped(page->path)) {
        /* end_program() sees whether that went well */
        fwrite(page->bytes, 1, page->size, stdout);
    } else if (code == EXIT_DONE) {
        code =
            new_file(page->path, page->force, page->bytes, page->size, error);
    }
    free(page->bytes);
    return code;
}

void page_line(cairo_t *cr, double x, double y, double x2, double y2)
{
    cairo_move_to(cr, x, y);
    cairo_line_to(cr, x2, y2);
    cairo_stroke(cr);
}
