/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheets/draw/text.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "util/xalloc.h"

/* Debian's fontconfig, which cairo needs, brings this font unless another is
 * there already; fontconfig finds the nearest then. */
#define FONT "DejaVu Sans"

#define ELLIPSIS "\u2026"
/* what the sheets write besides ASCII */
#define SIGNS      "\u00b0\u00b1\u00b2\u00b7\u00d7\u2013" ELLIPSIS
#define LINE_PITCH 1.25 /* of the size, between the lines of a paragraph */

/* drawn as a gap, so that the font need not have it */
#define THIN_SPACE "\u2009"
#define THIN       0.2 /* of the size */

enum {
    TEXT_BYTES = 2048,
    TEXT_ROOM = TEXT_BYTES + sizeof ELLIPSIS,
    FEW_DIGITS = 4 /* so many are read without a space, ISO 80000-1 (from
                      memory) leaves it open */
};

/* marks on the context: no font that will do was found; a text has boxes */
static const cairo_user_data_key_t fontless, boxed;

bool text_lacked_font(cairo_t *cr)
{
    return cairo_get_user_data(cr, &fontless) != NULL;
}

const char *text_boxed(cairo_t *cr)
{
    return cairo_get_user_data(cr, &boxed);
}

/* false where a box stands for a character that the font does not have */
static bool has_letters(cairo_t *cr, const char *text)
{
    cairo_glyph_t *glyphs = NULL;
    int count = 0;
    bool all = true;
    cairo_scaled_font_text_to_glyphs(cairo_get_scaled_font(cr), 0, 0, text, -1,
                                     &glyphs, &count, NULL, NULL, NULL);
    for (int i = 0; i < count; i++) {
        all = all && glyphs[i].index != 0;
    }
    cairo_glyph_free(glyphs);
    return all;
}

/* where there is no font, cairo draws with lines of its own, which know no
 * degree sign */
static void mark_fontless(cairo_t *cr)
{
    cairo_scaled_font_t *font = cairo_get_scaled_font(cr);
    if (cairo_scaled_font_get_type(font) == CAIRO_FONT_TYPE_USER ||
        !has_letters(cr, SIGNS)) {
        cairo_set_user_data(cr, &fontless, cr, NULL);
    }
}

/* what stands before a thin space, and what behind it; NULL: nothing */
static const char *take_piece(const char *text, char piece[TEXT_ROOM])
{
    const char *space = strstr(text, THIN_SPACE);
    size_t length = space ? (size_t)(space - text) : strlen(text);
    snprintf(piece, TEXT_ROOM, "%.*s", (int)length, text);
    return space ? space + strlen(THIN_SPACE) : NULL;
}

static void mark_boxed(cairo_t *cr, const char *text)
{
    char piece[TEXT_ROOM];
    for (const char *at = text; at && !text_boxed(cr);) {
        at = take_piece(at, piece);
        if (!has_letters(cr, piece)) {
            cairo_set_user_data(cr, &boxed, xstrdup(text), free);
        }
    }
}

static void choose(cairo_t *cr, double size, bool bold)
{
    cairo_select_font_face(cr, FONT, CAIRO_FONT_SLANT_NORMAL,
                           bold ? CAIRO_FONT_WEIGHT_BOLD
                                : CAIRO_FONT_WEIGHT_NORMAL);
    cairo_set_font_size(cr, size);
    mark_fontless(cr);
}

static double size_of(cairo_t *cr)
{
    cairo_matrix_t matrix;
    cairo_get_font_matrix(cr, &matrix);
    return matrix.xx;
}

static double advance(cairo_t *cr, const char *text)
{
    cairo_text_extents_t extents;
    char piece[TEXT_ROOM];
    double width = 0;
    while (text) {
        text = take_piece(text, piece);
        cairo_text_extents(cr, piece, &extents);
        width += extents.x_advance + (text ? THIN * size_of(cr) : 0);
    }
    return width;
}

static void show(cairo_t *cr, double x, double y, const char *text)
{
    char piece[TEXT_ROOM];
    while (text) {
        text = take_piece(text, piece);
        cairo_move_to(cr, x, y);
        cairo_show_text(cr, piece);
        x += advance(cr, piece) + THIN * size_of(cr);
    }
    cairo_new_path(cr);
}

/* thin spaces into the whole numbers of a text: 10 900 */
static void space_thousands(char text[TEXT_ROOM])
{
    static const char figures[] = "0123456789";
    char spaced[TEXT_ROOM] = "";
    size_t used = 0;
    bool whole = true; /* not behind a point */
    for (const char *at = text; *at && used + 8 < TEXT_BYTES;) {
        size_t count = strspn(at, figures);
        for (size_t i = 0; i < count && used + 8 < TEXT_BYTES; i++) {
            if (whole && count > FEW_DIGITS && i > 0 && (count - i) % 3 == 0) {
                used += (size_t)sprintf(spaced + used, THIN_SPACE);
            }
            spaced[used++] = at[i];
        }
        at += count;
        whole = *at != '.';
        if (count == 0) {
            spaced[used++] = *at++;
        }
        spaced[used] = '\0';
    }
    strcpy(text, spaced);
}

/* the last character of a text of UTF-8 goes, and a space before it */
static void drop_last(char *text)
{
    size_t length = strlen(text);
    while (length > 0 && ((unsigned char)text[--length] & 0xc0) == 0x80) {
    }
    while (length > 0 && text[length - 1] == ' ') {
        length--;
    }
    text[length] = '\0';
}

/* cut text, in a buffer that has room for an ellipsis more, to a width */
static void cut(cairo_t *cr, char *text, double room)
{
    bool fits = advance(cr, text) <= room;
    while (!fits) {
        drop_last(text);
        size_t length = strlen(text);
        strcpy(text + length, ELLIPSIS);
        fits = length == 0 || advance(cr, text) <= room;
        if (!fits) {
            text[length] = '\0';
        }
    }
}

static void prepare(cairo_t *cr, char text[TEXT_ROOM],
                    const struct lettering *how)
{
    if (how->number) {
        space_thousands(text);
    }
    choose(cr, how->size, how->bold);
}

double text_width(cairo_t *cr, const struct lettering *how, const char *text)
{
    char copy[TEXT_ROOM];
    snprintf(copy, TEXT_BYTES, "%s", text);
    prepare(cr, copy, how);
    return advance(cr, copy);
}

static void fit(cairo_t *cr, char *text, const struct lettering *how)
{
    double width;
    prepare(cr, text, how);
    mark_boxed(cr, text);
    if (how->room <= 0) {
        return;
    }
    if (!how->number) {
        cut(cr, text, how->room);
    } else if ((width = advance(cr, text)) > how->room) {
        choose(cr, how->size * how->room / width, how->bold);
    }
}

void text_line(cairo_t *cr, double x, double y, const struct lettering *how,
               const char *format, ...)
{
    char text[TEXT_ROOM];
    va_list arguments;
    va_start(arguments, format);
    if (vsnprintf(text, TEXT_BYTES, format, arguments) >= TEXT_BYTES) {
        drop_last(text); /* which may be half a character */
    }
    va_end(arguments);
    fit(cr, text, how);
    double width = advance(cr, text);
    double left = how->side == TEXT_LEFT    ? x
                  : how->side == TEXT_RIGHT ? x - width
                                            : x - width / 2;
    show(cr, left, y, text);
}

/* how much of a text goes on a line: words that fit, one at least */
static size_t words_that_fit(cairo_t *cr, const char *text, double width)
{
    char line[TEXT_BYTES];
    size_t fits = 0;
    for (size_t end = 0; end < sizeof line - 1 && text[end];) {
        end += strspn(text + end, " ");
        end += strcspn(text + end, " ");
        snprintf(line, sizeof line, "%.*s", (int)end, text);
        if (fits > 0 && advance(cr, line) > width) {
            break;
        }
        fits = end;
    }
    return fits;
}

double text_paragraph(cairo_t *cr, double x, double y, double width,
                      double size, const char *text, bool draw)
{
    double height = 0;
    choose(cr, size, false);
    text += strspn(text, " ");
    while (*text) {
        size_t length = words_that_fit(cr, text, width);
        if (draw) {
            struct lettering how = {.size = size, .room = width};
            text_line(cr, x, y + height, &how, "%.*s", (int)length, text);
        }
        height += size * LINE_PITCH;
        text += length;
        text += strspn(text, " ");
    }
    return height;
}
