/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "exchange/import_titles.h"

#include <string.h>

enum { TITLE_LENGTH = 40 };

/* A unit in a title is one that the column has: cSt is mm2/s. */
static const struct {
    const char *title;
    enum stock_column column;
} written[] = {
#define STOCK_COLUMN_TITLE(name, title) {title, COLUMN_##name},
    STOCK_COLUMNS(STOCK_COLUMN_TITLE)
#undef STOCK_COLUMN_TITLE
        {"bottle", COLUMN_NAME},
    {"oil", COLUMN_NAME},
    {"cst", COLUMN_VISCOSITY},
    {"mm2/s", COLUMN_VISCOSITY},
    {"mm\xc2\xb2/s", COLUMN_VISCOSITY},
    {"viscosity cst", COLUMN_VISCOSITY},
    {"viscosity mm2/s", COLUMN_VISCOSITY},
    {"viscosity mm\xc2\xb2/s", COLUMN_VISCOSITY},
    {"kinematic viscosity", COLUMN_VISCOSITY},
    {"rating", COLUMN_VISCOSITY},
    {"temp", COLUMN_TEMPERATURE},
    {"temperature c", COLUMN_TEMPERATURE},
    {"temp c", COLUMN_TEMPERATURE},
    {"rating temperature", COLUMN_TEMPERATURE},
    {"tolerance", COLUMN_TOLERANCE},
    {"density g/ml", COLUMN_DENSITY},
    {"density g/cm3", COLUMN_DENSITY},
    {"left", COLUMN_LEFT},
    {"ml", COLUMN_LEFT},
    {"ml left", COLUMN_LEFT},
    {"remaining", COLUMN_LEFT},
    {"remaining ml", COLUMN_LEFT},
    {"drop", COLUMN_DROP},
    {"type", COLUMN_FAMILY},
    {"notes", COLUMN_NOTE},
    {"comment", COLUMN_NOTE},
    {"comments", COLUMN_NOTE},
    {"remark", COLUMN_NOTE},
    {"remarks", COLUMN_NOTE},
    {"added", COLUMN_DATE},
};

/* its letters and digits, small; cut where it is longer than any title */
static void simplify(const char *title, char simple[TITLE_LENGTH])
{
    static const char letters[] = "abcdefghijklmnopqrstuvwxyz0123456789"
                                  "ABCDEFGHIJKLMNOPQRSTUVWXYZ";
    enum { CAPITALS = 36 };
    size_t used = 0;
    for (; *title && used + 1 < TITLE_LENGTH; title++) {
        const char *letter = strchr(letters, *title);
        if (letter) {
            letter -= letter - letters >= CAPITALS ? CAPITALS : 0;
            simple[used++] = *letter;
        }
    }
    simple[used] = '\0';
}

enum stock_column import_title(const char *title)
{
    char wanted[TITLE_LENGTH], here[TITLE_LENGTH];
    simplify(title, wanted);
    for (size_t i = 0; i < sizeof written / sizeof written[0]; i++) {
        simplify(written[i].title, here);
        if (*wanted && strcmp(wanted, here) == 0) {
            return written[i].column;
        }
    }
    return STOCK_COLUMN_COUNT;
}

bool import_title_is_idle(const char *title)
{
    char simple[TITLE_LENGTH];
    simplify(title, simple);
    return strcmp(simple, "viscosity25c") == 0 || *simple == '\0';
}
