/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "oil/fit.h"

#include <math.h>
#include <stdio.h>

#include "output/json.h"
#include "output/text.h"
#include "util/format.h"

/* -- Finding ----------------------------------------------------------- */

static void fit_line(const struct mw_oil *oil, struct fit *fit)
{
    if (oil->count < 3) {
        return;
    }
    fit->count = fit->labels = oil->count;
    for (size_t i = 0; i < oil->count; i++) {
        fit->points[i] = oil->points[i];
    }
    mw_line_residuals(fit->points, fit->count, fit->residuals, &fit->outlier);
}

/* label and readings against what the bottle is thought to be */
static void fit_bottle(const struct bottle *bottle, const struct mw_oil *best,
                       int outlier, struct fit *fit)
{
    const struct mw_oil *label = &bottle->label;
    fit->labels = label->count;
    fit->count = label->count + bottle->reading_count;
    for (size_t i = 0; i < fit->count; i++) {
        if (i < fit->labels) {
            fit->points[i] = label->points[i];
        } else {
            const struct mw_reading *value =
                &bottle->readings[i - fit->labels].value;
            fit->points[i] =
                (struct mw_point){value->viscosity, value->temperature};
        }
        fit->residuals[i].standard = NAN;
        mw_oil_residual(best, &fit->points[i], &fit->residuals[i].residual);
    }
    fit->outlier = outlier == MW_NO_OUTLIER      ? MW_NO_OUTLIER
                   : outlier == MW_LABEL_OUTLIER ? 0
                                                 : (int)fit->labels + outlier;
}

void fit_find(const struct stock_network *network, size_t node,
              const struct oil_ref *ref, struct fit *fit)
{
    *fit = (struct fit){.outlier = MW_NO_OUTLIER};
    if (ref->measured) {
        fit_bottle(&network->bottles.list[node], &ref->oil,
                   mw_network_outlier(network->network, node), fit);
    } else {
        fit_line(&ref->oil, fit);
    }
}

/* -- Printing ----------------------------------------------------------- */

static const char *kind_of(const struct fit *fit, size_t i)
{
    return fit->count == fit->labels ? "point"
           : i < fit->labels         ? "label"
                                     : "reading";
}

static void print_point(const struct fit *fit, size_t i)
{
    char text[FORMAT_LENGTH];
    const struct mw_residual *residual = &fit->residuals[i];
    print_text("  %-10s %10s %8.6g %+8.2f %%", kind_of(fit, i),
               format_significant(fit->points[i].viscosity, 3, text),
               fit->points[i].temperature, 100 * expm1(residual->residual));
    if (isfinite(residual->standard)) {
        print_text(" %+10.1f", residual->standard);
    }
    print_text("%s\n", fit->outlier == (int)i ? "  does not belong" : "");
}

static void print_outlier(const struct fit *fit)
{
    char text[FORMAT_LENGTH];
    size_t outlier = (size_t)fit->outlier;
    const struct mw_point *point = &fit->points[outlier];
    if (isfinite(fit->residuals[outlier].standard)) {
        print_wrapped(
            "Warning: %s mm2/s at %.6g C does not belong: it is %.1f "
            "standard residuals off the line of the others. Check it, "
            "or leave it out.",
            format_compact(point->viscosity, text), point->temperature,
            fabs(fit->residuals[outlier].standard));
    } else {
        print_wrapped(
            "Warning: the %s %s mm2/s at %.6g C disagrees with the rest.",
            kind_of(fit, outlier),
            format_significant(point->viscosity, 3, text), point->temperature);
    }
}

void fit_print(const struct fit *fit)
{
    if (fit->count == 0) {
        return;
    }
    print_text("  %-10s %10s %8s %10s%s\n", "", "mm2/s", "C", "off",
               isfinite(fit->residuals[0].standard) ? "   standard" : "");
    for (size_t i = 0; i < fit->count; i++) {
        print_point(fit, i);
    }
    print_text("\n");
    if (fit->outlier != MW_NO_OUTLIER) {
        print_outlier(fit);
    }
}

json_t *json_fit(const struct fit *fit)
{
    json_t *list = json_array();
    for (size_t i = 0; i < fit->count; i++) {
        const struct mw_residual *residual = &fit->residuals[i];
        json_t *point = json_point(&fit->points[i]);
        json_set(point, "kind", json_string(kind_of(fit, i)));
        json_set(point, "residual_percent",
                 json_number(100 * expm1(residual->residual)));
        json_set(point, "standard_residuals", json_number(residual->standard));
        json_set(point, "outlier", json_boolean(fit->outlier == (int)i));
        json_append(list, point);
    }
    return list;
}
