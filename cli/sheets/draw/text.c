/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheets/draw/text.h"

#include <math.h>
#include <pango/pangocairo.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "util/utf8.h"
#include "util/xalloc.h"

/* Debian's fontconfig, which cairo needs, brings this font unless another is
 * there already; fontconfig finds the nearest then, and others for letters that
 * it lacks. */
#define FONT "DejaVu Sans"

/* what the sheets write besides ASCII */
#define SIGNS      "\u00b0\u00b1\u00b2\u00b7\u00d7\u2013\u2026"
#define LINE_PITCH 1.25 /* of the size, between the lines of a paragraph */
#define THIN_SPACE "\u2009"

/* mm: letters are as wide as they are large, and fonts of one size are found
 * quickly */
#define MEASURED 100.0

enum {
    TEXT_BYTES = 2048,
    FEW_DIGITS = 4 /* so many are read without a space, ISO 80000-1 (from
                      memory) leaves it open */
};

/* on the context: how text is set; no font that will do was found; a text has
 * boxes */
static const cairo_user_data_key_t setting, fontless, boxed;

bool text_lacked_font(cairo_t *cr)
{
    return cairo_get_user_data(cr, &fontless) != NULL;
}

const char *text_boxed(cairo_t *cr)
{
    return cairo_get_user_data(cr, &boxed);
}

/* -- Fonts ------------------------------------------------------------- */

/* Whether there is a font that has all the signs. Where there is none, cairo
 * draws with lines of its own, which know no degree sign, and Pango would
 * complain for itself. */
static bool has_font(cairo_t *cr)
{
    cairo_glyph_t *glyphs = NULL;
    int count = 0;
    cairo_select_font_face(cr, FONT, CAIRO_FONT_SLANT_NORMAL,
                           CAIRO_FONT_WEIGHT_NORMAL);
    cairo_scaled_font_t *font = cairo_get_scaled_font(cr);
    bool good = cairo_scaled_font_get_type(font) != CAIRO_FONT_TYPE_USER;
    cairo_scaled_font_text_to_glyphs(font, 0, 0, SIGNS, -1, &glyphs, &count,
                                     NULL, NULL, NULL);
    for (int i = 0; i < count; i++) {
        good = good && glyphs[i].index != 0;
    }
    cairo_glyph_free(glyphs);
    return good;
}

/* made at the first text; NULL: there is no font */
static PangoContext *setting_of(cairo_t *cr)
{
    PangoContext *context = cairo_get_user_data(cr, &setting);
    if (context || text_lacked_font(cr)) {
        return context;
    }
    if (!has_font(cr)) {
        cairo_set_user_data(cr, &fontless, cr, NULL);
        return NULL;
    }
    cairo_font_options_t *options = cairo_font_options_create();
    cairo_get_font_options(cr, options);
    context = pango_cairo_create_context(cr);
    pango_cairo_context_set_font_options(context, options);
    cairo_font_options_destroy(options);
    pango_context_set_round_glyph_positions(context, FALSE);
    /* not that of the user, which chooses among fonts */
    pango_context_set_language(context, pango_language_from_string("en"));
    cairo_set_user_data(cr, &setting, context, g_object_unref);
    return context;
}

/* -- One line or more -------------------------------------------------- */

/* thin spaces into the whole numbers of a text: 10 900 */
static void space_thousands(char text[TEXT_BYTES])
{
    static const char figures[] = "0123456789";
    char spaced[TEXT_BYTES] = "";
    size_t used = 0, room = TEXT_BYTES - sizeof THIN_SPACE - 1;
    bool whole = true; /* not behind a point */
    for (const char *at = text; *at && used < room;) {
        size_t count = strspn(at, figures);
        for (size_t i = 0; i < count && used < room; i++) {
            if (whole && count > FEW_DIGITS && i > 0 && (count - i) % 3 == 0) {
                memcpy(spaced + used, THIN_SPACE, strlen(THIN_SPACE));
                used += strlen(THIN_SPACE);
            }
            spaced[used++] = at[i];
        }
        at += count;
        whole = *at != '.';
        if (count == 0) {
            spaced[used++] = *at++;
        }
    }
    spaced[used] = '\0';
    strcpy(text, spaced);
}

static void set_font(PangoLayout *layout, double size, bool bold)
{
    PangoFontDescription *font = pango_font_description_new();
    pango_font_description_set_family_static(font, FONT);
    pango_font_description_set_weight(font, bold ? PANGO_WEIGHT_BOLD
                                                 : PANGO_WEIGHT_NORMAL);
    pango_font_description_set_absolute_size(font, size * PANGO_SCALE);
    pango_layout_set_font_description(layout, font);
    pango_font_description_free(font);
}

/* to be released with g_object_unref(); NULL: there is no font */
static PangoLayout *make_layout(cairo_t *cr, const struct lettering *how,
                                const char *text)
{
    PangoContext *context = setting_of(cr);
    if (!context) {
        return NULL;
    }
    char spaced[TEXT_BYTES];
    PangoLayout *layout = pango_layout_new(context);
    snprintf(spaced, sizeof spaced, "%s", text);
    if (how->number) {
        space_thousands(spaced);
    }
    char *clean = utf8_cleaned(spaced, false);
    set_font(layout, how->size, how->bold);
    pango_layout_set_single_paragraph_mode(layout, TRUE);
    pango_layout_set_text(layout, clean, -1);
    free(clean);
    if (!text_boxed(cr) && pango_layout_get_unknown_glyphs_count(layout) > 0) {
        cairo_set_user_data(cr, &boxed, xstrdup(text), free);
    }
    return layout;
}

static double width_of(PangoLayoutLine *line)
{
    PangoRectangle logical;
    pango_layout_line_get_extents(line, NULL, &logical);
    return (double)logical.width / PANGO_SCALE;
}

double text_width(cairo_t *cr, const struct lettering *how, const char *text)
{
    struct lettering large = *how;
    large.size = MEASURED;
    PangoLayout *layout = make_layout(cr, &large, text);
    if (!layout) {
        return 0;
    }
    double width = width_of(pango_layout_get_line_readonly(layout, 0));
    g_object_unref(layout);
    return width * how->size / MEASURED;
}

/* a name is cut, a number set smaller */
static void fit(PangoLayout *layout, const struct lettering *how)
{
    double width = width_of(pango_layout_get_line_readonly(layout, 0));
    if (how->room <= 0 || width <= how->room) {
        return;
    }
    if (how->number) {
        set_font(layout, how->size * how->room / width, how->bold);
    } else {
        pango_layout_set_ellipsize(layout, PANGO_ELLIPSIZE_END);
        pango_layout_set_width(layout, (int)(how->room * PANGO_SCALE));
    }
}

void text_line(cairo_t *cr, double x, double y, const struct lettering *how,
               const char *format, ...)
{
    char text[TEXT_BYTES];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    PangoLayout *layout = make_layout(cr, how, text);
    if (!layout) {
        return;
    }
    fit(layout, how);
    PangoLayoutLine *line = pango_layout_get_line_readonly(layout, 0);
    double width = width_of(line);
    cairo_move_to(cr,
                  how->side == TEXT_LEFT    ? x
                  : how->side == TEXT_RIGHT ? x - width
                                            : x - width / 2,
                  y);
    pango_cairo_show_layout_line(cr, line);
    cairo_new_path(cr);
    g_object_unref(layout);
}

/* no line ends within a unit */
static void keep_units(PangoLayout *layout)
{
    static const char unit[] = "mm\u00b2/s";
    const char *text = pango_layout_get_text(layout), *at = text;
    PangoAttrList *list = pango_attr_list_new();
    while ((at = strstr(at, unit))) {
        PangoAttribute *whole = pango_attr_allow_breaks_new(FALSE);
        whole->start_index = (guint)(at - text);
        at += strlen(unit);
        whole->end_index = (guint)(at - text);
        pango_attr_list_insert(list, whole);
    }
    pango_layout_set_attributes(layout, list);
    pango_attr_list_unref(list);
}

double text_paragraph(cairo_t *cr, double x, double y, double width,
                      double size, const char *text, bool draw)
{
    const struct lettering how = {.size = size};
    PangoLayout *layout = make_layout(cr, &how, text + strspn(text, " "));
    if (!layout) {
        return 0;
    }
    pango_layout_set_width(layout, (int)(width * PANGO_SCALE));
    pango_layout_set_wrap(layout, PANGO_WRAP_WORD_CHAR);
    keep_units(layout);
    int count = pango_layout_get_line_count(layout);
    for (int i = 0; i < count && draw; i++) {
        cairo_move_to(cr, x, y + i * size * LINE_PITCH);
        pango_cairo_show_layout_line(cr,
                                     pango_layout_get_line_readonly(layout, i));
        cairo_new_path(cr);
    }
    g_object_unref(layout);
    return count * size * LINE_PITCH;
}
