/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheets/draw/ink.h"

#include <errno.h>
#include <stddef.h>

static const cairo_user_data_key_t lacked;

bool ink_lacked(cairo_t *cr)
{
    return cairo_get_user_data(cr, &lacked) != NULL;
}

/* a mark on the context, by the errno that was 0 before */
static void mark(cairo_t *cr)
{
    if (errno == ENOMEM) {
        cairo_set_user_data(cr, &lacked, cr, NULL);
    }
}

void ink(cairo_t *cr, void (*draw)(cairo_t *))
{
    errno = 0;
    draw(cr);
    mark(cr);
}

void ink_line(cairo_t *cr, double x, double y, double x2, double y2)
{
    cairo_move_to(cr, x, y);
    cairo_line_to(cr, x2, y2);
    ink(cr, cairo_stroke);
}

void ink_text(cairo_t *cr, const char *text)
{
    errno = 0;
    cairo_show_text(cr, text);
    mark(cr);
}
