/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Round trips through every law that has an inverse, over all doubles. A
 * result is finite if and only if the status is MW_OK, and the round trip
 * closes within the stated tolerance.
 *
 * An input is a list of numbers, each after a byte for its encoding: 0 for the
 * 8 bytes of a double; else 2 bytes of a viscosity (1), a temperature (2) or a
 * share (3), so that plausible values occur too.
 */
#include <float.h>
#include <math.h>
#include <string.h>

#include "bench/ball_internal.h"
#include "blend/dose_internal.h"
#include "blend/mixture_internal.h"
#include "fluid/silicone.h"
#include "fluid/viscosity_index.h"
#include "fluid/walther.h"
#include "fuzz.h"
#include "midweight.h"

struct input {
    const uint8_t *data;
    size_t size;
};

static double next(struct input *input)
{
    uint8_t bytes[9] = {0};
    size_t used = input->size < 9 ? input->size : 9;
    if (used > 0) {
        memcpy(bytes, input->data, used);
    }
    used = bytes[0] % 4 == 0 || used < 3 ? used : 3;
    input->data += used;
    input->size -= used;
    double part = (bytes[1] | bytes[2] << 8) / 65535.0, number;
    switch (bytes[0] % 4) {
    case 1:
        return MW_VISCOSITY_MIN *
               pow(MW_VISCOSITY_MAX / MW_VISCOSITY_MIN, part);
    case 2:
        return -60 + 420 * part;
    case 3:
        return part;
    default:
        memcpy(&number, bytes + 1, sizeof number);
        return number;
    }
}

/* whether there is a result; it is finite if and only if the status is MW_OK */
static bool known(enum mw_status status, const double *result)
{
    MUST(status == MW_OK ? isfinite(*result) : isnan(*result));
    return status == MW_OK;
}

static bool near(double found, double wanted, double relative)
{
    return fabs(found - wanted) <= relative * fabs(wanted);
}

/* in range, with a margin for rounding at the ends */
static bool is_inside(double v)
{
    return v > MW_VISCOSITY_MIN * (1 + 1e-9) &&
           v < MW_VISCOSITY_MAX * (1 - 1e-9);
}

/* -- Laws -------------------------------------------------------------- */

static void walther(struct input *input)
{
    double v = next(input), w = next(input), there, back, slope;
    if (known(mw_walther_w(v, &there), &there)) {
        MUST(known(mw_walther_v(there, &back), &back));
        MUST(near(back, v, 1e-12)); /* walther.h */
        MUST(known(mw_walther_slope(v, &slope), &slope) && slope > 0);
    }
    if (known(mw_walther_v(w, &back), &back)) {
        MUST(known(mw_walther_w(back, &there), &there));
        /* the error of W is the relative error of v, divided by the slope */
        MUST(known(mw_walther_slope(back, &slope), &slope));
        MUST(fabs(there - w) <= 1e-12 / slope + 4 * DBL_EPSILON * fabs(w));
    }
    known(mw_walther_v_printed(w, &back), &back);
}

static void silicone(struct input *input)
{
    double v = next(input), t = next(input), u = next(input), there, back;
    if (known(mw_silicone_at(v, t, u, &there), &there) && is_inside(v) &&
        mw_viscosity_in_range(there)) {
        MUST(known(mw_silicone_at(there, u, t, &back), &back));
        MUST(near(back, v, 1e-13));
    }
    double density, slope;
    known(mw_silicone_density(v, t, &density, NULL), &density);
    known(mw_silicone_expand(v, t, &density), &density);
    known(mw_silicone_slope(t, &slope), &slope);
}

static void units(struct input *input)
{
    double value = next(input), density = next(input), t = next(input);
    double there, back;
    for (int i = MW_CELSIUS; i <= MW_KELVIN; i++) {
        if (known(mw_celsius(value, (enum mw_temperature_scale)i, &there),
                  &there)) {
            MUST(known(
                mw_from_celsius(there, (enum mw_temperature_scale)i, &back),
                &back));
            /* kelvin loses digits that are small against 273.15 */
            MUST(fabs(back - value) <= 1e-12 + 1e-14 * fabs(value));
        }
    }
    for (int i = MW_MM2_S; i <= MW_SUS; i++) {
        enum mw_viscosity_unit unit = (enum mw_viscosity_unit)i;
        if (known(mw_viscosity_to_mm2_s(value, unit, density, t, &there),
                  &there) &&
            there > 1e6 * DBL_MIN && value > 1e6 * DBL_MIN) {
            enum mw_status status =
                mw_viscosity_from_mm2_s(there, unit, density, t, &back);
            MUST(known(status, &back) || value > DBL_MAX / 1e13);
            MUST(isnan(back) || near(back, value, 1e-12));
        }
    }
}

static bool make_oil(struct input *input, struct mw_oil *oil)
{
    struct mw_point points[3];
    double number = next(input);
    size_t count = number < 1.0 / 3 ? 1 : number < 2.0 / 3 ? 2 : 3;
    enum mw_family family = next(input) < 0.5 ? MW_SILICONE : MW_MINERAL;
    for (size_t i = 0; i < count; i++) {
        points[i] = (struct mw_point){next(input), next(input)};
    }
    return mw_oil_make(family, points, count, next(input), oil) == MW_OK;
}

static void line(struct input *input)
{
    struct mw_point p = {next(input), next(input)};
    struct mw_point q = {next(input), next(input)};
    struct mw_line line = {NAN, NAN};
    double u = next(input), v, slope;
    if (mw_line_through(&p, &q, &line) == MW_OK && is_inside(p.viscosity) &&
        fabs(p.temperature - q.temperature) > 1) {
        MUST(isfinite(line.a) && line.b > 0);
        MUST(known(mw_line_at(&line, p.temperature, &v), &v));
        MUST(near(v, p.viscosity, 1e-9));
        MUST(known(mw_line_slope(&line, p.temperature, &slope), &slope));
        MUST(slope < 0);
    }
    known(mw_line_at(&line, u, &v), &v);
}

static void oil(struct input *input)
{
    struct mw_oil oil;
    struct mw_oil_state state;
    if (!make_oil(input, &oil)) {
        MUST(isnan(oil.line.a));
        return;
    }
    double t = next(input), v, rated;
    if (known(mw_oil_at(&oil, t, &state), &state.viscosity)) {
        MUST(state.viscosity > 0 && state.density > 0 && state.dynamic > 0);
        /* an oil without a law at a temperature has no rating from there */
        if (known(mw_hold_rating(&oil, state.viscosity, t,
                                 oil.points[0].temperature, &rated),
                  &rated) &&
            !oil.has_line) {
            MUST(near(rated, oil.points[0].viscosity, 1e-12));
        }
    }
    double dynamic = next(input);
    if (known(mw_oil_from_dynamic(oil.family, dynamic, t, oil.density, &v),
              &v)) {
        struct mw_point point = {v, t};
        struct mw_oil made;
        if (mw_oil_make(oil.family, &point, 1, oil.density, &made) == MW_OK &&
            mw_oil_at(&made, t, &state) == MW_OK) {
            MUST(near(state.dynamic, dynamic, 1e-10));
        }
    }
}

/* a line through points that are less than 1 K apart */
static bool is_steep(const struct mw_oil *oil)
{
    return oil->has_line && oil->t_high - oil->t_low < 1;
}

static void mixture(struct input *input)
{
    struct mw_oil pair[2];
    if (!make_oil(input, &pair[0]) || !make_oil(input, &pair[1])) {
        return;
    }
    struct mw_method method;
    double target = next(input), t = next(input), share, v;
    if (mw_method_default(pair, 2, &method) != MW_OK) {
        return;
    }
    method.rule = next(input) < 0.5 ? method.rule : MW_RULE_WRIGHT;
    method.excess = next(input) < 0.5 ? method.excess : next(input);
    if (known(mw_mixture_share(pair, target, t, &method, &share, NULL),
              &share)) {
        MUST(share >= 0 && share <= 1);
        const double shares[] = {1 - share, share};
        MUST(known(mw_mixture(pair, shares, 2, t, &method, &v, NULL), &v));
        MUST(near(v, target, 1e-10) || is_steep(&pair[0]) ||
             is_steep(&pair[1])); /* mixture.h */
    }
    const double given[] = {next(input), next(input)};
    known(mw_mixture(pair, given, 2, t, &method, &v, NULL), &v);
}

static void cup(struct input *input)
{
    struct mw_cup cup;
    double time = next(input), which = next(input), v, back;
    double a = next(input), b = next(input);
    if (which <= 1 && which >= 0) {
        cup = *mw_cup_by_index((size_t)(which * 1000) % mw_cup_count());
    } else if (mw_cup_own(a, b, &cup) != MW_OK) {
        return;
    }
    if (known(mw_cup_viscosity(&cup, time, &v), &v)) {
        MUST(known(mw_cup_time(&cup, v, &back), &back));
        MUST(near(back, time, 1e-9));
    }
}

static void ball(struct input *input)
{
    struct mw_ball_run run = {next(input), next(input), next(input), NAN, NAN,
                              next(input), next(input), MW_GRAVITY};
    struct mw_ball_result result;
    double v = next(input), time, beside;
    if (known(mw_ball_time(&run, v, &time), &time)) {
        run.time = time;
        /* at the end of a range, rounding may exceed it */
        bool edge = mw_ball_time(&run, v * (1 - 1e-9), &beside) != MW_OK ||
                    mw_ball_time(&run, v * (1 + 1e-9), &beside) != MW_OK;
        if (known(mw_ball_viscosity(&run, &result), &result.viscosity)) {
            MUST(near(result.viscosity, v, 1e-9));
        } else {
            MUST(edge);
        }
    }
}

static void doses(struct input *input)
{
    double amount = next(input), density = next(input), there;
    if (known(mw_dose_volume(amount, density, &there), &there) &&
        there > 1e6 * DBL_MIN && there < DBL_MAX / 100) {
        MUST(near(there * density, amount, 1e-14));
    }
    double share = next(input);
    double limit = fabs(next(input));
    int first, second, most = limit <= 1 ? 1 + (int)(9999 * limit) : 100;
    if (mw_dose_ratio(share, most, &first, &second) == MW_OK) {
        MUST(first >= 0 && second >= 0 && first <= most && second <= most);
        MUST(fabs((double)second / (first + second) - share) <= 1.0 / most);
    }
}

static void viscosity_index(struct input *input)
{
    double v40 = next(input), v100 = next(input), index, back;
    if (known(mw_viscosity_index(v40, v100, &index), &index) && v100 < 70) {
        /* for a thick oil the index hardly depends on v100; above 100 it is
         * steep */
        if (known(mw_v100_from_index(v40, index, &back), &back)) {
            double again;
            MUST(known(mw_viscosity_index(v40, back, &again), &again));
            MUST(fabs(again - index) <= 1e-6 * (1 + fabs(index)));
        }
    }
    known(mw_v100_from_index(v40, next(input), &back), &back);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static void (*const laws[])(struct input * input) = {
        walther, silicone, units, line,  oil,
        mixture, cup,      ball,  doses, viscosity_index};
    if (size > 0) {
        struct input input = {data + 1, size - 1};
        laws[data[0] % (sizeof laws / sizeof laws[0])](&input);
    }
    return 0;
}
