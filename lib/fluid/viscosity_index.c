/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "fluid/viscosity_index.h"

#include <math.h>
#include <stdbool.h>
#include <stddef.h>

#include "base/range.h"
#include "base/root.h"
#include "fluid/oil_internal.h"

/* reference/d2270_lh.csv, turned into rows by the build */
static const struct {
    double v100, l, h;
} table[] = {
#include "d2270_rows.h"
};

enum { ROWS = sizeof table / sizeof table[0] };

/* ASTM D2270, defined from here up */
#define V100_MIN 2.0

/* of an index: what twelve printed digits leave (our own choice) */
#define ROUNDED 1e-11

static size_t row_above(double v100)
{
    size_t low = 0, high = ROWS - 1;
    while (high - low > 1) {
        size_t middle = (low + high) / 2;
        if (v100 < table[middle].v100) {
            high = middle;
        } else {
            low = middle;
        }
    }
    return high;
}

enum mw_status mw_viscosity_index_lh(double v100, double *l, double *h)
{
    *l = NAN;
    *h = NAN;
    if (!(v100 >= V100_MIN && v100 <= MW_VISCOSITY_MAX)) {
        return MW_ERR_INDEX;
    }
    if (v100 > table[ROWS - 1].v100) {
        /* ASTM D2270, above 70 mm2/s */
        *l = (0.8353 * v100 + 14.67) * v100 - 216;
        *h = (0.1684 * v100 + 11.85) * v100 - 97;
        return MW_OK;
    }
    size_t i = row_above(v100);
    double part =
        (v100 - table[i - 1].v100) / (table[i].v100 - table[i - 1].v100);
    *l = table[i - 1].l + part * (table[i].l - table[i - 1].l);
    *h = table[i - 1].h + part * (table[i].h - table[i - 1].h);
    return MW_OK;
}

enum mw_status mw_viscosity_index(double v40, double v100, double *index)
{
    double l, h;
    *index = NAN;
    enum mw_status status = mw_viscosity_index_lh(v100, &l, &h);
    if (status != MW_OK) {
        return status;
    }
    if (!(v40 > v100 && v40 <= MW_VISCOSITY_MAX)) {
        return MW_ERR_INDEX;
    }
    if (v40 >= h) {
        *index = 100 * (l - v40) / (l - h); /* procedure A */
    } else {
        double n = (log10(h) - log10(v40)) / log10(v100);
        *index = (pow(10, n) - 1) / 0.00715 + 100; /* procedure B */
    }
    return MW_OK;
}

struct index_target {
    double v40;
    double index;
};

static double index_miss(double v100, void *params)
{
    const struct index_target *target = params;
    double index;
    mw_viscosity_index(target->v40, v100, &index);
    return index - target->index;
}

enum mw_status mw_v100_from_index(double v40, double index, double *v100)
{
    struct index_target target = {v40, index};
    /* rounding of a printed index may carry it just below the end */
    if (isfinite(index) &&
        fabs(index_miss(V100_MIN, &target)) <= ROUNDED * fmax(1, fabs(index))) {
        *v100 = V100_MIN;
        return MW_OK;
    }
    /* an oil that is as thick at 100 C as at 40 C has no index: stop short */
    double thickest = v40 * (1 - 1e-9);
    return mw_root(index_miss, &target, V100_MIN, thickest, v100) == MW_OK
               ? MW_OK
               : MW_ERR_INDEX;
}

void mw_index_slopes(double v40, double v100, double *along, double *across)
{
    /* of ln v: small against a label's error, large against rounding (our own
     * choice) */
    const double step = 1e-4;
    double index, thicker, thicker_hot;
    mw_viscosity_index(v40, v100, &index);
    mw_viscosity_index(v40 * exp(step), v100, &thicker);
    mw_viscosity_index(v40, v100 * exp(step), &thicker_hot);
    *across = step / (thicker_hot - index);
    *along = (index - thicker) / (thicker_hot - index);
}
