/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "fluid/oil.h"

#include <math.h>
#include <string.h>

#include "base/range.h"
#include "base/root.h"
#include "fluid/oil_internal.h"
#include "fluid/silicone.h"
#include "fluid/viscosity_index.h"
#include "fluid/walther.h"

/* per degree and g/ml at 15 C: assumed, as the header says */
#define MINERAL_EXPANSION 7.2e-4
#define MINERAL_DENSITY   0.88

/* degC: the range the silicone law is commonly used in (spread +-3 % over 0 to
 * 50 C, from memory), and the grade below which slopes differ (from memory) */
#define USUAL_T_MIN   0.0
#define USUAL_T_MAX   60.0
#define USUAL_V25_MIN 50.0

static const struct {
    const char *name;
    double rating_t;
    double density_t;
} families[] = {
    [MW_SILICONE] = {"silicone", MW_SILICONE_RATED, MW_SILICONE_RATED},
    [MW_MINERAL] = {"mineral", 40.0, 15.0},
};

enum { FAMILIES = sizeof families / sizeof families[0] };

const char *mw_family_name(enum mw_family family)
{
    return (unsigned)family < FAMILIES ? families[family].name : "?";
}

enum mw_status mw_family_from_name(const char *name, enum mw_family *family)
{
    for (size_t i = 0; i < FAMILIES; i++) {
        if (strcmp(name, families[i].name) == 0) {
            *family = (enum mw_family)i;
            return MW_OK;
        }
    }
    return MW_ERR_NAME;
}

double mw_family_rating_t(enum mw_family family)
{
    return (unsigned)family < FAMILIES ? families[family].rating_t : NAN;
}

double mw_common_rating_t(const struct mw_oil *oils, size_t n)
{
    double first = oils[0].points[0].temperature;
    for (size_t i = 1; i < n; i++) {
        if (oils[i].points[0].temperature != first) {
            return mw_family_rating_t(oils[0].family);
        }
    }
    return first;
}

double mw_family_density_t(enum mw_family family)
{
    return (unsigned)family < FAMILIES ? families[family].density_t : NAN;
}

static enum mw_status check_point(const struct mw_point *point)
{
    if (!mw_temperature_in_range(point->temperature)) {
        return MW_ERR_TEMPERATURE;
    }
    return mw_viscosity_in_range(point->viscosity) ? MW_OK : MW_ERR_VISCOSITY;
}

/* an oil with no numbers in it */
static void clear(struct mw_oil *oil)
{
    *oil = (struct mw_oil){.line = {NAN, NAN},
                           .residual = NAN,
                           .t_low = NAN,
                           .t_high = NAN,
                           .density = NAN,
                           .index = NAN};
}

static void take_points(struct mw_oil *oil, const struct mw_point *points,
                        size_t count)
{
    oil->count = count;
    oil->t_low = points[0].temperature;
    oil->t_high = points[0].temperature;
    for (size_t i = 0; i < count; i++) {
        oil->points[i] = points[i];
        oil->t_low = fmin(oil->t_low, points[i].temperature);
        oil->t_high = fmax(oil->t_high, points[i].temperature);
    }
}

enum mw_status mw_oil_make(enum mw_family family, const struct mw_point *points,
                           size_t count, double density, struct mw_oil *oil)
{
    struct mw_line line = {NAN, NAN};
    double residual = NAN;
    clear(oil);
    if (count < 1 || (unsigned)family >= FAMILIES) {
        return count < 1 ? MW_ERR_POINTS : MW_ERR_FAMILY;
    }
    if (!isnan(density) && !mw_density_in_range(density)) {
        return MW_ERR_DENSITY;
    }
    enum mw_status status = count == 1
                                ? check_point(&points[0])
                                : mw_line_fit(points, count, &line, &residual);
    if (status != MW_OK) {
        return status;
    }
    oil->family = family;
    oil->has_line = count > 1;
    oil->line = line;
    oil->residual = residual;
    oil->density = density;
    take_points(oil, points, count);
    return MW_OK;
}

enum mw_status mw_oil_from_index(double v40, double index, double density,
                                 struct mw_oil *oil)
{
    double v100;
    clear(oil);
    enum mw_status status = mw_v100_from_index(v40, index, &v100);
    if (status != MW_OK) {
        return status;
    }
    const struct mw_point points[2] = {{v40, 40}, {v100, 100}};
    status = mw_oil_make(MW_MINERAL, points, 2, density, oil);
    if (status == MW_OK) {
        oil->index = index;
    }
    return status;
}

/* by the law, and by what the oil departs from it */
static enum mw_status silicone_at(const struct mw_oil *oil, double t, double *v)
{
    const struct mw_point *rating = &oil->points[0];
    enum mw_status status =
        mw_silicone_at(rating->viscosity, rating->temperature, t, v);
    if (status == MW_OK && oil->energy != 0) {
        *v *= mw_energy_factor(oil->energy, rating->temperature, t);
        if (!mw_viscosity_in_range(*v)) {
            *v = NAN;
            return MW_ERR_VISCOSITY;
        }
    }
    return status;
}

enum mw_status mw_oil_viscosity(const struct mw_oil *oil, double t, double *v)
{
    const struct mw_point *rating = &oil->points[0];
    *v = NAN;
    if (oil->has_line) {
        return mw_line_at(&oil->line, t, v);
    }
    if (mw_same_temperature(t, rating->temperature)) {
        *v = rating->viscosity;
        return MW_OK;
    }
    if (oil->family == MW_MINERAL) {
        return MW_ERR_ONE_POINT;
    }
    return silicone_at(oil, t, v);
}

/* the grade of a silicone oil; where its own line does not reach 25 C, the
 * rating stands in, which is good enough for a density and a warning */
static double silicone_v25(const struct mw_oil *oil)
{
    double v25;
    return mw_oil_viscosity(oil, MW_SILICONE_RATED, &v25) == MW_OK
               ? v25
               : oil->points[0].viscosity;
}

static enum mw_status mineral_density(double density15, double t,
                                      double *density)
{
    *density = NAN;
    if (!mw_temperature_in_range(t)) {
        return MW_ERR_TEMPERATURE;
    }
    *density = density15 *
               (1 - MINERAL_EXPANSION * (t - families[MW_MINERAL].density_t));
    return MW_OK;
}

enum mw_status mw_oil_density(const struct mw_oil *oil, double t,
                              double *density, unsigned *warnings)
{
    bool known = !isnan(oil->density);
    if (oil->family == MW_SILICONE) {
        return known ? mw_silicone_expand(oil->density, t, density)
                     : mw_silicone_density(silicone_v25(oil), t, density,
                                           warnings);
    }
    if (warnings && !known) {
        *warnings |= MW_WARN_DENSITY;
    }
    return mineral_density(known ? oil->density : MINERAL_DENSITY, t, density);
}

/* within low and high, or at one of them */
static bool within(double t, double low, double high)
{
    return (t >= low && t <= high) || mw_same_temperature(t, low) ||
           mw_same_temperature(t, high);
}

unsigned mw_oil_warnings(const struct mw_oil *oil, double t)
{
    unsigned warnings = 0;
    if (oil->has_line && !within(t, oil->t_low, oil->t_high)) {
        warnings |= MW_WARN_EXTRAPOLATED;
    }
    if (oil->family == MW_SILICONE) {
        if (silicone_v25(oil) < USUAL_V25_MIN) {
            warnings |= MW_WARN_THIN_SILICONE;
        }
        if (!within(t, USUAL_T_MIN, USUAL_T_MAX)) {
            warnings |= MW_WARN_TEMPERATURE;
        }
    }
    return warnings;
}

static double slope_at(const struct mw_oil *oil, double t)
{
    double slope = NAN;
    if (oil->has_line) {
        mw_line_slope(&oil->line, t, &slope);
    } else if (oil->family == MW_SILICONE) {
        double kelvin = t - MW_ABSOLUTE_ZERO;
        mw_silicone_slope(t, &slope);
        slope -= oil->energy / (MW_GAS_CONSTANT * kelvin * kelvin);
    }
    return slope;
}

enum mw_status mw_oil_at(const struct mw_oil *oil, double t,
                         struct mw_oil_state *state)
{
    const struct mw_oil_state nothing = {NAN, NAN, NAN, NAN, NAN, NAN, 0};
    double v, rated, density;
    unsigned warnings = 0;
    *state = nothing;
    enum mw_status status = mw_oil_viscosity(oil, t, &v);
    if (status == MW_OK) {
        status = mw_oil_viscosity(oil, oil->points[0].temperature, &rated);
    }
    if (status == MW_OK) {
        status = mw_oil_density(oil, t, &density, &warnings);
    }
    if (status != MW_OK) {
        return status;
    }
    *state =
        (struct mw_oil_state){.temperature = t,
                              .viscosity = v,
                              .dynamic = v * density,
                              .density = density,
                              .factor = v / rated,
                              .slope = slope_at(oil, t),
                              .warnings = warnings | mw_oil_warnings(oil, t)};
    return MW_OK;
}

struct dynamic_target {
    double dynamic;
    double t;
};

static double dynamic_miss(double v, void *params)
{
    const struct dynamic_target *target = params;
    double v25, density;
    /* the caller has checked t; a grade at the edge of the range has the
     * density of that edge */
    mw_silicone_factor(target->t, &v25);
    v25 = fmin(fmax(v / v25, MW_VISCOSITY_MIN), MW_VISCOSITY_MAX);
    mw_silicone_density(v25, target->t, &density, NULL);
    return v * density - target->dynamic;
}

/* silicone whose density follows from the viscosity that is sought */
static enum mw_status silicone_from_dynamic(double dynamic, double t, double *v)
{
    struct dynamic_target target = {dynamic, t};
    double factor;
    /* g/ml; every silicone oil from -20 to 100 C lies between */
    const double lightest = 0.8, heaviest = 1.1;
    enum mw_status status = mw_silicone_factor(t, &factor);
    if (status != MW_OK) {
        return status;
    }
    status = mw_root(dynamic_miss, &target, dynamic / heaviest,
                     dynamic / lightest, v);
    return status == MW_OK ? MW_OK : MW_ERR_VISCOSITY;
}

enum mw_status mw_oil_from_dynamic(enum mw_family family, double dynamic,
                                   double t, double density, double *v)
{
    /* density depends on the viscosity only through the table of silicone */
    const struct mw_oil oil = {.family = family, .density = density};
    double known, result = NAN;
    enum mw_status status;
    *v = NAN;
    if (!isnan(density) && !mw_density_in_range(density)) {
        return MW_ERR_DENSITY;
    }
    if (family == MW_SILICONE && isnan(density)) {
        status = silicone_from_dynamic(dynamic, t, &result);
    } else {
        status = mw_oil_density(&oil, t, &known, NULL);
        result = dynamic / known;
    }
    if (status != MW_OK) {
        return status;
    }
    if (!mw_viscosity_in_range(result)) {
        return MW_ERR_VISCOSITY;
    }
    *v = result;
    return MW_OK;
}
