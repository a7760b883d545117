/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * temperature_layout - the table of oils and temperatures: few oils stand side
 * by side, with the temperatures going down; many stand below each other, with
 * the temperatures going across.
 */
#ifndef SHEETS_TABLE_TEMPERATURE_LAYOUT_H
#define SHEETS_TABLE_TEMPERATURE_LAYOUT_H

#include "sheets/draw/table.h"
#include "sheets/model/day.h"
#include "sheets/sheet.h"
#include "store/bottle.h"
#include "util/format.h"

struct day_card {
    struct sheet sheet;
    const struct bottles *oil_list;
    const struct day *day;
    const struct day_layout *layout;
    struct day_temperatures temperatures;
    struct table table;
    double name;   /* the longest in the first column, in letters; 0: none */
    double letter; /* mm */
    double pitch;  /* mm, of the rows */
    double top;    /* of the first row */
    double foot;   /* upper edge of the small print */
    bool gaps;     /* something is not known */
    unsigned warnings;
};

/** A way to set the table. */
struct day_layout {
    bool down;  /* the temperatures */
    bool above; /* names stand over their numbers */
    /* the height of a row and of the titles over them, in letters */
    double (*row)(const struct day_card *card);
    double (*titles)(const struct day_card *card);
    /* the columns, as wide as what stands in them */
    void (*widen)(struct day_card *card);
    void (*draw_titles)(struct day_card *card);
    /* row i, its upper edge at y */
    void (*draw_row)(struct day_card *card, size_t i, double y);
};

extern const struct day_layout day_layout_down, day_layout_above,
    day_layout_across;

/** Of a letter: the size of what explains a number. */
#define DAY_SMALL 0.8

/** What an oil is rated as, such as "350 at 25 °C ±5.8 %"; where the
 * temperature is said elsewhere "350 ±5.8 %". */
void day_about(const struct bottle *bottle, bool brief, char *text,
               size_t size);

/** Whether all oils are rated at one temperature, and at which. */
bool day_rated_alike(const struct day_card *card, double *t);

/** A viscosity, and a rating in brackets; "–" where either is not known. */
const char *day_viscosity_text(struct day_card *card,
                               const struct bottle *bottle, double t,
                               char text[FORMAT_LENGTH]);
const char *day_rating_text(struct day_card *card, const struct bottle *bottle,
                            double t, char text[FORMAT_LENGTH]);

/** A temperature as a number of either scale. */
const char *day_degrees(double t, bool fahrenheit, char text[FORMAT_LENGTH]);

/** A grey ground, for what is today. */
void day_ground(const struct day_card *card, double left, double top,
                double right, double bottom);

#endif
