/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * oil - an oil as labelled, and what it is at a temperature.
 *
 * Silicone known at one temperature follows the silicone law; any oil known at
 * two or more follows its own D341 line; mineral oil known at one temperature
 * is known there only.
 */
#ifndef MIDWEIGHT_FLUID_OIL_H
#define MIDWEIGHT_FLUID_OIL_H

#include <stdbool.h>
#include <stddef.h>

#include "base/status.h"
#include "fluid/chart.h"
#include "fluid/units.h"

#ifdef __cplusplus
extern "C" {
#endif

enum mw_family { MW_SILICONE, MW_MINERAL };

/** An oil; made by mw_oil_make() and not changed by the caller afterwards. */
struct mw_oil {
    enum mw_family family;
    size_t count;
    struct mw_point points[MW_POINTS_MAX]; /* as given; the first is the
                                              rating */
    bool has_line;                         /* known at two temperatures */
    struct mw_line line;                   /* when has_line */
    double residual;                       /* of the line, as mw_line_fit() */
    double t_low, t_high; /* degC: the temperatures it was fed */
    double density;       /* g/ml at mw_family_density_t(); NaN: not known */
    double index;         /* the viscosity index that it was made of, which its
                             second point follows from; NaN: none */
    double energy; /* kJ/mol: activation energy beyond that of the silicone law,
                      of a silicone oil known at one temperature; 0 unless
                      readings say otherwise */
};

/** What an oil is at a temperature. */
struct mw_oil_state {
    double temperature; /* degC */
    double viscosity;   /* mm2/s */
    double dynamic;     /* mPa.s */
    double density;     /* g/ml */
    double factor;      /* viscosity against the rating's; 1 at the rating */
    double slope;       /* d ln v/dt per degree; NaN where it is not known */
    unsigned warnings;  /* a set of enum mw_warning */
};

/**
 * The name of a family.
 *
 * Given:     family  any family
 * Returned:  "silicone" or "mineral"; "?" for an invalid value
 */
MW_API const char *mw_family_name(enum mw_family family);

/**
 * The family with a name: the inverse of mw_family_name().
 *
 * Given:     name    "silicone" or "mineral"
 * Returned:  family  written on MW_OK only
 * Failures:  MW_ERR_NAME
 */
MW_API enum mw_status mw_family_from_name(const char *name,
                                          enum mw_family *family);

/**
 * The temperature at which bottles of a family are usually rated.
 *
 * Given:     family  any
 * Returned:  degC: 25 for silicone, 40 for mineral oil (common practice, no
 *            source)
 */
MW_API double mw_family_rating_t(enum mw_family family);

/**
 * The temperature at which several oils are compared where nothing else says.
 *
 * Given:     oils, n  made, of one family; n is 1 or more
 * Returned:  degC: where all of them are rated, or where their family usually
 *            is
 */
MW_API double mw_common_rating_t(const struct mw_oil *oils, size_t n);

/**
 * The temperature at which densities of a family are usually stated.
 *
 * Given:     family  any
 * Returned:  degC: 25 for silicone, 15 for mineral oil (common practice, no
 *            source)
 */
MW_API double mw_family_density_t(enum mw_family family);

/**
 * Make an oil from what its bottle says.
 *
 * Given:     family  MW_SILICONE or MW_MINERAL
 *            points  1 to MW_POINTS_MAX viscosities and their temperatures;
 *                    the first is the rating
 *            count   how many
 *            density g/ml at mw_family_density_t(), or NaN if not known
 * Returned:  oil     on MW_OK; its numbers are NaN otherwise
 * Failures:  MW_ERR_VISCOSITY, MW_ERR_TEMPERATURE, MW_ERR_DENSITY
 *            MW_ERR_POINTS  no point, too many, or several at one temperature
 *            MW_ERR_NOT_DECREASING  it would thicken as it gets warmer
 *            MW_ERR_FAMILY  no such family
 */
MW_API enum mw_status mw_oil_make(enum mw_family family,
                                  const struct mw_point *points, size_t count,
                                  double density, struct mw_oil *oil);

/**
 * Make a petroleum oil from its viscosity at 40 C and its viscosity index.
 *
 * Given:     v40     mm2/s at 40 C
 *            index   ASTM D2270
 *            density g/ml at 15 C, or NaN if not known
 * Returned:  oil     with points at 40 and 100 C, and its index
 * Failures:  those of mw_oil_make() and mw_v100_from_index()
 */
MW_API enum mw_status mw_oil_from_index(double v40, double index,
                                        double density, struct mw_oil *oil);

/**
 * The kinematic viscosity of an oil at a temperature.
 *
 * Given:     oil     made
 *            t       degC
 * Returned:  v       mm2/s
 * Failures:  MW_ERR_TEMPERATURE  no temperature a liquid has, or over 340 C
 *            MW_ERR_LAW_RANGE    silicone by the law, outside -20 to 100 C
 *            MW_ERR_ONE_POINT    mineral oil known at another temperature only
 *            MW_ERR_VISCOSITY    the oil would leave 0.21 to 2e7 mm2/s there
 * Notes:     at the rating temperature of an oil known at one temperature this
 *            is the rating itself, at any temperature up to 340 C
 */
MW_API enum mw_status mw_oil_viscosity(const struct mw_oil *oil, double t,
                                       double *v);

/**
 * The density of an oil at a temperature.
 *
 * Given:     oil     made
 *            t       degC
 * Returned:  density g/ml
 *            warnings  MW_WARN_DENSITY is added when it is an assumption; may
 *                    be NULL
 * Failures:  MW_ERR_TEMPERATURE, MW_ERR_LAW_RANGE, MW_ERR_VISCOSITY
 * Notes:     silicone as mw_silicone_density(); where its 25 C viscosity is
 *            not known (a line that ends short of 25 C) the rating stands in.
 *            Mineral oil: rho15 (1 - 7.2e-4 (t - 15)), and 0.88 g/ml at 15 C
 *            where the bottle does not say (an assumption for engine oils that
 *            went with published measurements, no better source).
 */
MW_API enum mw_status mw_oil_density(const struct mw_oil *oil, double t,
                                     double *density, unsigned *warnings);

/**
 * How far the viscosity of an oil at a temperature is out of what is tested.
 *
 * Given:     oil     made
 *            t       degC, at which mw_oil_viscosity() has a value
 * Returned:  a set of enum mw_warning; MW_WARN_DENSITY is never among them
 */
MW_API unsigned mw_oil_warnings(const struct mw_oil *oil, double t);

/**
 * Everything about an oil at a temperature.
 *
 * Given:     oil     made
 *            t       degC
 * Returned:  state   all of it; NaN and no warnings on failure
 * Failures:  those of mw_oil_viscosity() and mw_oil_density()
 */
MW_API enum mw_status mw_oil_at(const struct mw_oil *oil, double t,
                                struct mw_oil_state *state);

/**
 * The kinematic viscosity of an oil whose dynamic viscosity is known.
 *
 * Given:     family  MW_SILICONE or MW_MINERAL
 *            dynamic mPa.s at t
 *            t       degC
 *            density g/ml at mw_family_density_t(), or NaN if not known
 * Returned:  v       mm2/s at t
 * Failures:  MW_ERR_VISCOSITY, MW_ERR_DENSITY, MW_ERR_TEMPERATURE,
 *            MW_ERR_LAW_RANGE
 * Notes:     the usual density of silicone depends on the viscosity itself, so
 *            v is solved for
 */
MW_API enum mw_status mw_oil_from_dynamic(enum mw_family family, double dynamic,
                                          double t, double density, double *v);

#ifdef __cplusplus
}
#endif

#endif
