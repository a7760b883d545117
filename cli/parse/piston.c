/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "parse/damper.h"
#include "parse/number.h"
#include "parse/unit.h"

enum {
    HOLES_MAX = 1000, /* more is a slip */
    SIZES = 2         /* of a piston: its holes and its thickness */
};

#define PISTON_HINT "3x1.2mmx2mm (holes, diameter, thickness), before:after"

/* a piston as written: thickness without a value where it is left out */
struct written_piston {
    double holes;
    size_t count;
    struct unit_value sizes[SIZES];
};

static bool takes_cross(const char **at)
{
    bool cross = **at == 'x' || **at == 'X';
    *at += cross;
    return cross;
}

static enum exit_code
take_piston(const char **at, struct written_piston *piston, struct error *error)
{
    const char *start = *at;
    piston->count = 0;
    enum exit_code code = take_number(at, &piston->holes, error);
    if (code != EXIT_DONE) {
        return code;
    }
    while (piston->count < SIZES && takes_cross(at)) {
        struct unit_value *size = &piston->sizes[piston->count++];
        code = take_unit_value(at, size_units, size, error);
        if (code != EXIT_DONE) {
            return code;
        }
    }
    if (piston->count == 0 || (**at != ':' && **at != '\0')) {
        return refuse(error, "\"%.*s\" is not a piston; write " PISTON_HINT,
                      QUOTED, start);
    }
    if (!(piston->holes >= 1 && piston->holes <= HOLES_MAX &&
          piston->holes == floor(piston->holes))) {
        return refuse(error, "%.*s: a piston has 1 to %d holes", QUOTED, start,
                      (int)HOLES_MAX);
    }
    return EXIT_DONE;
}

/* the last unit that stands in a piston, 0 for none */
static double last_unit(const struct written_piston *piston, double before)
{
    for (size_t i = 0; i < piston->count; i++) {
        before = piston->sizes[i].unit > 0 ? piston->sizes[i].unit : before;
    }
    return before;
}

/* sizes without a unit have the one given */
static enum exit_code measure_piston(const struct written_piston *written,
                                     double unit, struct mw_piston *piston,
                                     struct error *error)
{
    double sizes[SIZES] = {NAN, NAN};
    for (size_t i = 0; i < written->count; i++) {
        struct unit_value size = written->sizes[i];
        size.unit = size.unit > 0 ? size.unit : unit;
        sizes[i] = in_unit(&size);
        if (!mw_length_in_range(sizes[i])) {
            return refuse(error,
                          "--piston: a size is 0.01 mm to 10 m, not %g mm",
                          1000 * sizes[i]);
        }
    }
    *piston = (struct mw_piston){(int)written->holes, sizes[0], sizes[1]};
    return EXIT_DONE;
}

enum exit_code parse_piston(const char *text, struct mw_piston *from,
                            struct mw_piston *to, struct error *error)
{
    const char *at = text;
    struct written_piston before, after;
    enum exit_code code = take_piston(&at, &before, error);
    if (code != EXIT_DONE) {
        return code;
    }
    after = before;
    if (*at == ':') {
        at = skip_spaces(at + 1);
        code = take_piston(&at, &after, error);
    }
    if (code != EXIT_DONE) {
        return code;
    }
    if (*at != '\0') {
        return refuse(error,
                      "\"%.*s\" is not a piston before and one after; "
                      "write " PISTON_HINT,
                      QUOTED, text);
    }
    double unit = last_unit(&after, last_unit(&before, 0));
    if (unit == 0) {
        return refuse(error, "\"%.*s\" has no unit; write " PISTON_HINT, QUOTED,
                      text);
    }
    if (before.count != after.count) {
        return refuse(error,
                      "\"%.*s\": give the thickness on both sides or on none",
                      QUOTED, text);
    }
    code = measure_piston(&before, unit, from, error);
    return code == EXIT_DONE ? measure_piston(&after, unit, to, error) : code;
}
