/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "parse/oil_spec.h"

#include <ctype.h>
#include <math.h>
#include <string.h>
#include <strings.h>

#include "parse/amount.h"
#include "parse/number.h"
#include "parse/viscosity.h"

/* an oil as written, before its family is known */
struct written {
    const char *text;
    size_t count;
    struct viscosity viscosities[MW_POINTS_MAX];
    bool has_index;
    double index;
};

static bool starts_index(const char *text)
{
    return strncasecmp(text, "VI", 2) == 0;
}

static enum exit_code take_index(const char **at, struct written *written,
                                 struct error *error)
{
    *at += 2;
    enum exit_code code = take_number(at, &written->index, error);
    if (code != EXIT_DONE) {
        return code;
    }
    written->has_index = true;
    return **at == '\0' ? EXIT_DONE
                        : refuse(error, "%.*s: a viscosity index comes last",
                                 QUOTED, written->text);
}

static enum exit_code read_points(const char *text, struct written *written,
                                  struct error *error)
{
    const char *at = text;
    *written = (struct written){.text = text};
    do {
        if (written->count > 0 && starts_index(at)) {
            return take_index(&at, written, error);
        }
        if (written->count == MW_POINTS_MAX) {
            return refuse(error, "%.*s...: an oil has at most %d points",
                          QUOTED, text, (int)MW_POINTS_MAX);
        }
        struct viscosity *next = &written->viscosities[written->count++];
        enum exit_code code = parse_viscosity_part(&at, next, error);
        if (code != EXIT_DONE) {
            return code;
        }
    } while (*at++ == '/');
    return EXIT_DONE;
}

static enum exit_code oil_of_index(const struct written *written,
                                   const struct oil_defaults *defaults,
                                   struct mw_oil *oil, struct error *error)
{
    struct mw_point rating;
    if (defaults->has_family && defaults->family != MW_MINERAL) {
        return refuse(error,
                      "%.*s: a viscosity index belongs to mineral oil; leave "
                      "--family out",
                      QUOTED, written->text);
    }
    enum exit_code code = resolve_viscosity(
        &written->viscosities[0], MW_MINERAL, defaults->density,
        mw_family_rating_t(MW_MINERAL), &rating, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if (written->count > 1 ||
        rating.temperature != mw_family_rating_t(MW_MINERAL)) {
        return refuse(error,
                      "%.*s: a viscosity index goes with one viscosity at 40 C",
                      QUOTED, written->text);
    }
    enum mw_status status = mw_oil_from_index(rating.viscosity, written->index,
                                              defaults->density, oil);
    return status == MW_OK ? EXIT_DONE
                           : refuse(error, "%.*s: %s", QUOTED, written->text,
                                    mw_status_text(status));
}

/* the points of an oil of a family */
static enum exit_code resolve_points(const struct written *written,
                                     const struct oil_defaults *defaults,
                                     enum mw_family family,
                                     struct mw_point points[MW_POINTS_MAX],
                                     struct error *error)
{
    enum exit_code code = EXIT_DONE;
    for (size_t i = 0; i < written->count && code == EXIT_DONE; i++) {
        code = resolve_viscosity(&written->viscosities[i], family,
                                 defaults->density, mw_family_rating_t(family),
                                 &points[i], error);
    }
    return code;
}

/* Whether an oil, read as one of a family, thins as one: a point in mPa.s
 * depends on the density, and that on the family. */
static enum exit_code try_family(const struct written *written,
                                 const struct oil_defaults *defaults,
                                 enum mw_family family, bool *fits,
                                 struct error *error)
{
    struct mw_point points[MW_POINTS_MAX];
    enum mw_family found;
    *fits = false;
    enum exit_code code =
        resolve_points(written, defaults, family, points, error);
    if (code != EXIT_DONE) {
        return code;
    }
    enum mw_status status =
        mw_family_from_points(points, written->count, &found);
    *fits = status == MW_OK && found == family;
    return status == MW_OK || status == MW_ERR_NO_FAMILY
               ? EXIT_DONE
               : refuse(error, "%.*s: %s", QUOTED, written->text,
                        mw_status_text(status));
}

/* the family of an oil whose user names none, from its points */
static enum exit_code find_family(const struct written *written,
                                  const struct oil_defaults *defaults,
                                  enum mw_family *family, struct error *error)
{
    /* what the law of silicone does not reach may still be mineral oil */
    struct error as_silicone = {0};
    bool silicone, mineral;
    *family = MW_SILICONE;
    if (written->count == 1) {
        return EXIT_DONE;
    }
    for (size_t i = 0; i < written->count; i++) {
        if (!written->viscosities[i].has_temperature) {
            return refuse(error,
                          "%.*s: each of several points has a temperature, "
                          "such as 32@40C/5.4@100C",
                          QUOTED, written->text);
        }
    }
    (void)try_family(written, defaults, MW_SILICONE, &silicone, &as_silicone);
    enum exit_code code =
        try_family(written, defaults, MW_MINERAL, &mineral, error);
    if (code != EXIT_DONE) {
        return code;
    }
    if (silicone == mineral) {
        return refuse(error,
                      "%.*s: %s; say --family silicone or --family mineral",
                      QUOTED, written->text, mw_status_text(MW_ERR_NO_FAMILY));
    }
    *family = mineral ? MW_MINERAL : MW_SILICONE;
    error_remark(error, "family_found",
                 "%.*s taken as %s oil (--family corrects)", QUOTED,
                 written->text, mw_family_name(*family));
    return EXIT_DONE;
}

static enum exit_code oil_of_points(const struct written *written,
                                    const struct oil_defaults *defaults,
                                    struct mw_oil *oil, struct error *error)
{
    struct mw_point points[MW_POINTS_MAX];
    enum mw_family family = defaults->family;
    enum exit_code code = defaults->has_family
                              ? EXIT_DONE
                              : find_family(written, defaults, &family, error);
    if (code == EXIT_DONE) {
        code = resolve_points(written, defaults, family, points, error);
    }
    if (code != EXIT_DONE) {
        return code;
    }
    enum mw_status status =
        mw_oil_make(family, points, written->count, defaults->density, oil);
    return status == MW_OK ? EXIT_DONE
                           : refuse(error, "%.*s: %s", QUOTED, written->text,
                                    mw_status_text(status));
}

bool is_oil_spec(const char *text)
{
    return isdigit((unsigned char)text[strspn(text, "+-.,")]) != 0;
}

enum exit_code parse_oil(const char *text, const struct oil_defaults *defaults,
                         struct mw_oil *oil, struct error *error)
{
    struct written written;
    if (names_weight(text)) {
        return refuse_weight(text, error);
    }
    if (!is_oil_spec(text)) {
        return refuse(error,
                      "\"%.*s\" is not an oil; write 350, 350@40C, "
                      "32@40C/5.4@100C or 46@40C/VI150",
                      QUOTED, text);
    }
    enum exit_code code = read_points(text, &written, error);
    if (code != EXIT_DONE) {
        return code;
    }
    return written.has_index ? oil_of_index(&written, defaults, oil, error)
                             : oil_of_points(&written, defaults, oil, error);
}

enum exit_code parse_oil_defaults(const char *family, const char *density,
                                  struct oil_defaults *defaults,
                                  struct error *error)
{
    *defaults = (struct oil_defaults){.density = NAN};
    if (family) {
        defaults->has_family = true;
        if (mw_family_from_name(family, &defaults->family) != MW_OK) {
            return refuse(error,
                          "\"%.*s\" is not a family; write silicone or "
                          "mineral",
                          QUOTED, family);
        }
    }
    return density ? parse_density(density, &defaults->density, error)
                   : EXIT_DONE;
}

enum exit_code explain_oil_status(const char *name, const struct mw_oil *oil,
                                  double t, enum mw_status status,
                                  struct error *error)
{
    double known = oil->points[0].temperature;
    if (status == MW_OK) {
        return EXIT_DONE;
    }
    if (status == MW_ERR_ONE_POINT) {
        return refuse(error,
                      "%.*s is known at %.6g C only; give a second point "
                      "(32@40C/5.4@100C), an index (46@40C/VI150) or ask at "
                      "%.6g C",
                      QUOTED, name, known, known);
    }
    return error_set(error, EXIT_NO_ANSWER, "%.*s at %.6g C: %s", QUOTED, name,
                     t, mw_status_text(status));
}

enum exit_code oil_at(const char *name, const struct mw_oil *oil, double t,
                      struct mw_oil_state *state, struct error *error)
{
    return explain_oil_status(name, oil, t, mw_oil_at(oil, t, state), error);
}

enum exit_code oil_viscosity_at(const char *name, const struct mw_oil *oil,
                                double t, double *v, struct error *error)
{
    return explain_oil_status(name, oil, t, mw_oil_viscosity(oil, t, v), error);
}
