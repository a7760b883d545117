/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* adapters: D341 lines, oils, silicone */
#include "base/range.h"
#include "fluid/shear.h"
#include "fluid/silicone.h"
#include "fluid/walther.h"
#include "reference_functions.h"

#include <math.h>
#include <stddef.h>

typedef reference_inputs inputs;

/* SI brochure, 9th edition: exact */
#define GAS_CONSTANT 8.31446261815324 /* J/(mol K) */

/* v t v t at in[0] to in[3] */
static enum mw_status line_of(inputs in, struct mw_line *line)
{
    const struct mw_point p = {in[0].number, in[1].number};
    const struct mw_point q = {in[2].number, in[3].number};
    return mw_line_through(&p, &q, line);
}

static enum mw_status line_a(inputs in, double *got)
{
    struct mw_line line;
    enum mw_status status = line_of(in, &line);
    *got = line.a;
    return status;
}

static enum mw_status line_b(inputs in, double *got)
{
    struct mw_line line;
    enum mw_status status = line_of(in, &line);
    *got = line.b;
    return status;
}

static enum mw_status line_viscosity(inputs in, double *got)
{
    struct mw_line line;
    enum mw_status status = line_of(in, &line);
    *got = NAN;
    return status == MW_OK ? mw_line_at(&line, in[4].number, got) : status;
}

/* mPa.s g/ml degC of two points, then g/ml degC of the third */
static enum mw_status line_dynamic(inputs in, double *got)
{
    struct mw_line line;
    struct mw_point points[2];
    *got = NAN;
    for (size_t i = 0; i < 2; i++) {
        points[i].temperature = in[3 * i + 2].number;
        enum mw_status status = mw_viscosity_to_mm2_s(
            in[3 * i].number, MW_MPA_S, in[3 * i + 1].number,
            points[i].temperature, &points[i].viscosity);
        if (status != MW_OK) {
            return status;
        }
    }
    enum mw_status status = mw_line_through(&points[0], &points[1], &line);
    if (status == MW_OK) {
        status = mw_line_at(&line, in[7].number, got);
        *got *= in[6].number;
    }
    return status;
}

/* mPa.s degC of two points, then degC: mineral oil of the usual density */
static enum mw_status mineral_dynamic(inputs in, double *got)
{
    struct mw_point points[2];
    struct mw_oil oil;
    struct mw_oil_state state;
    *got = NAN;
    for (size_t i = 0; i < 2; i++) {
        points[i].temperature = in[2 * i + 1].number;
        enum mw_status status = mw_oil_from_dynamic(
            MW_MINERAL, in[2 * i].number, points[i].temperature, NAN,
            &points[i].viscosity);
        if (status != MW_OK) {
            return status;
        }
    }
    enum mw_status status = mw_oil_make(MW_MINERAL, points, 2, NAN, &oil);
    if (status == MW_OK) {
        status = mw_oil_at(&oil, in[4].number, &state);
        *got = state.dynamic;
    }
    return status;
}

static enum mw_status walther_w(inputs in, double *got)
{
    return mw_walther_w(in[0].number, got);
}

static enum mw_status silicone_factor(inputs in, double *got)
{
    return mw_silicone_factor(in[0].number, got);
}

static enum mw_status silicone_slope(inputs in, double *got)
{
    return mw_silicone_slope(in[0].number, got);
}

/* activation energy of an Arrhenius law: -d ln v/dt R T^2, in kJ/mol */
static enum mw_status silicone_activation(inputs in, double *got)
{
    double kelvin = in[0].number - MW_ABSOLUTE_ZERO;
    enum mw_status status = mw_silicone_slope(in[0].number, got);
    *got *= -GAS_CONSTANT * kelvin * kelvin / 1000;
    return status;
}

static enum mw_status silicone_state(double v25, double t,
                                     struct mw_oil_state *state)
{
    const struct mw_point rating = {v25, MW_SILICONE_RATED};
    struct mw_oil oil;
    *state = (struct mw_oil_state){.dynamic = NAN};
    enum mw_status status = mw_oil_make(MW_SILICONE, &rating, 1, NAN, &oil);
    return status == MW_OK ? mw_oil_at(&oil, t, state) : status;
}

/* mm2/s at 25 C, degC: mPa.s */
static enum mw_status silicone_dynamic(inputs in, double *got)
{
    struct mw_oil_state state;
    enum mw_status status = silicone_state(in[0].number, in[1].number, &state);
    *got = state.dynamic;
    return status;
}

/* mm2/s at 25 C, degC: mPa.s over mPa.s at 25 C */
static enum mw_status silicone_dynamic_factor(inputs in, double *got)
{
    struct mw_oil_state here, rated;
    enum mw_status status = silicone_state(in[0].number, in[1].number, &here);
    *got = NAN;
    if (status == MW_OK) {
        status = silicone_state(in[0].number, MW_SILICONE_RATED, &rated);
        *got = here.dynamic / rated.dynamic;
    }
    return status;
}

/* mm2/s at 25 C, degC: d ln(dynamic viscosity)/dt, by a difference over 1 K */
static enum mw_status silicone_dynamic_slope(inputs in, double *got)
{
    struct mw_oil_state colder, warmer;
    *got = NAN;
    enum mw_status status =
        silicone_state(in[0].number, in[1].number - 0.5, &colder);
    if (status == MW_OK) {
        status = silicone_state(in[0].number, in[1].number + 0.5, &warmer);
        *got = log(warmer.dynamic / colder.dynamic);
    }
    return status;
}

static enum mw_status silicone_density(inputs in, double *got)
{
    return mw_silicone_density(in[0].number, in[1].number, got, NULL);
}

static enum mw_status silicone_expand(inputs in, double *got)
{
    return mw_silicone_expand(in[0].number, in[1].number, got);
}

static enum mw_status shear_stress(inputs in, double *got)
{
    *got = mw_shear_stress(in[0].number, in[1].number, in[2].number);
    return MW_OK;
}

/* the rate at 25 C of a grade */
static enum mw_status shear_rate(inputs in, double *got)
{
    const struct mw_point point = {in[0].number, 25};
    struct mw_oil oil;
    struct mw_shear onset;
    enum mw_status status = mw_oil_make(MW_SILICONE, &point, 1, NAN, &oil);
    if (status == MW_OK) {
        status = mw_shear_onset(&oil, 25, &onset);
    }
    *got = status == MW_OK ? onset.rate : (double)NAN;
    return status;
}

const struct reference_function reference_oil_functions[] = {
    {"line_a", "nnnn", line_a},
    {"line_b", "nnnn", line_b},
    {"line_viscosity", "nnnnn", line_viscosity},
    {"line_dynamic", "nnnnnnnn", line_dynamic},
    {"mineral_dynamic", "nnnnn", mineral_dynamic},
    {"mw_walther_w", "n", walther_w},
    {"mw_silicone_factor", "n", silicone_factor},
    {"mw_silicone_slope", "n", silicone_slope},
    {"silicone_activation", "n", silicone_activation},
    {"silicone_dynamic", "nn", silicone_dynamic},
    {"silicone_dynamic_factor", "nn", silicone_dynamic_factor},
    {"silicone_dynamic_slope", "nn", silicone_dynamic_slope},
    {"mw_silicone_density", "nn", silicone_density},
    {"mw_silicone_expand", "nn", silicone_expand},
    {"mw_shear_stress", "nnn", shear_stress},
    {"shear_rate", "n", shear_rate},
    {NULL, NULL, NULL},
};
