/* SPDX-License-Identifier: GPL-3.0-or-later */
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

static enum outcome take_index(const char **at, struct written *written,
                               struct problem *problem)
{
    *at += 2;
    if (take_number(at, &written->index, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    written->has_index = true;
    return **at == '\0' ? OUTCOME_DONE
                        : REFUSE("%.*s: a viscosity index comes last", QUOTED,
                                 written->text);
}

static enum outcome read_points(const char *text, struct written *written,
                                struct problem *problem)
{
    const char *at = text;
    *written = (struct written){.text = text};
    do {
        if (written->count > 0 && starts_index(at)) {
            return take_index(&at, written, problem);
        }
        if (written->count == MW_POINTS_MAX) {
            return REFUSE("%.*s...: an oil has at most %d points", QUOTED, text,
                          (int)MW_POINTS_MAX);
        }
        struct viscosity *next = &written->viscosities[written->count++];
        if (parse_viscosity_part(&at, next, problem) != OUTCOME_DONE) {
            return problem->outcome;
        }
    } while (*at++ == '/');
    return OUTCOME_DONE;
}

static enum outcome oil_of_index(const struct written *written,
                                 const struct oil_habits *habits,
                                 struct mw_oil *oil, struct problem *problem)
{
    struct mw_point rating;
    if (habits->has_family && habits->family != MW_MINERAL) {
        return REFUSE("%.*s: a viscosity index belongs to mineral oil; leave "
                      "--family out",
                      QUOTED, written->text);
    }
    if (resolve_viscosity(&written->viscosities[0], MW_MINERAL, habits->density,
                          mw_family_rating_t(MW_MINERAL), &rating,
                          problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    if (written->count > 1 ||
        rating.temperature != mw_family_rating_t(MW_MINERAL)) {
        return REFUSE("%.*s: a viscosity index goes with one viscosity at 40 C",
                      QUOTED, written->text);
    }
    enum mw_status status = mw_oil_from_index(rating.viscosity, written->index,
                                              habits->density, oil);
    return status == MW_OK ? OUTCOME_DONE
                           : REFUSE("%.*s: %s", QUOTED, written->text,
                                    mw_status_text(status));
}

/* the family of an oil whose user names none, from its points; those in mPa.s
 * as silicone would have them, which is near enough for that */
static enum outcome find_family(const struct written *written,
                                const struct oil_habits *habits,
                                enum mw_family *family, struct problem *problem)
{
    struct mw_point points[MW_POINTS_MAX];
    for (size_t i = 0; i < written->count; i++) {
        if (written->count > 1 && !written->viscosities[i].has_temperature) {
            return REFUSE("%.*s: each of several points has a temperature, "
                          "such as 32@40C/5.4@100C",
                          QUOTED, written->text);
        }
        if (resolve_viscosity(&written->viscosities[i], MW_SILICONE,
                              habits->density, MW_SILICONE_RATED, &points[i],
                              problem) != OUTCOME_DONE) {
            return problem->outcome;
        }
    }
    enum mw_status status =
        mw_family_from_points(points, written->count, family);
    return status == MW_OK
               ? OUTCOME_DONE
               : REFUSE("%.*s: %s; say --family silicone or --family mineral",
                        QUOTED, written->text, mw_status_text(status));
}

static enum outcome oil_of_points(const struct written *written,
                                  const struct oil_habits *habits,
                                  struct mw_oil *oil, struct problem *problem)
{
    struct mw_point points[MW_POINTS_MAX];
    enum mw_family family = habits->family;
    if (!habits->has_family &&
        find_family(written, habits, &family, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    for (size_t i = 0; i < written->count; i++) {
        if (resolve_viscosity(&written->viscosities[i], family, habits->density,
                              mw_family_rating_t(family), &points[i],
                              problem) != OUTCOME_DONE) {
            return problem->outcome;
        }
    }
    enum mw_status status =
        mw_oil_make(family, points, written->count, habits->density, oil);
    return status == MW_OK ? OUTCOME_DONE
                           : REFUSE("%.*s: %s", QUOTED, written->text,
                                    mw_status_text(status));
}

bool is_literal(const char *text)
{
    return isdigit((unsigned char)text[strspn(text, "+-.,")]) != 0;
}

bool names_weight(const char *text)
{
    if (strncasecmp(text, "SAE", 3) != 0) {
        return false;
    }
    return isdigit((unsigned char)text[3 + strspn(text + 3, " -")]) != 0;
}

enum outcome parse_oil(const char *text, const struct oil_habits *habits,
                       struct mw_oil *oil, struct problem *problem)
{
    struct written written;
    if (!is_literal(text)) {
        return REFUSE("\"%.*s\" is not an oil; write 350, 350@40C, "
                      "32@40C/5.4@100C or 46@40C/VI150",
                      QUOTED, text);
    }
    if (read_points(text, &written, problem) != OUTCOME_DONE) {
        return problem->outcome;
    }
    return written.has_index ? oil_of_index(&written, habits, oil, problem)
                             : oil_of_points(&written, habits, oil, problem);
}

enum outcome parse_habits(const char *family, const char *density,
                          struct oil_habits *habits, struct problem *problem)
{
    *habits = (struct oil_habits){.density = NAN};
    if (family) {
        habits->has_family = true;
        if (mw_family_from_name(family, &habits->family) != MW_OK) {
            return REFUSE("\"%.*s\" is not a family; write silicone or "
                          "mineral",
                          QUOTED, family);
        }
    }
    return density ? parse_density(density, &habits->density, problem)
                   : OUTCOME_DONE;
}

enum outcome explain_oil_status(const char *name, const struct mw_oil *oil,
                                double t, enum mw_status status,
                                struct problem *problem)
{
    double known = oil->points[0].temperature;
    if (status == MW_OK) {
        return OUTCOME_DONE;
    }
    if (status == MW_ERR_ONE_POINT) {
        return REFUSE("%.*s is known at %.6g C only; give a second point "
                      "(32@40C/5.4@100C), an index (46@40C/VI150) or ask at "
                      "%.6g C",
                      QUOTED, name, known, known);
    }
    return problem_set(problem, OUTCOME_NO_ANSWER, "%.*s at %.6g C: %s", QUOTED,
                       name, t, mw_status_text(status));
}
