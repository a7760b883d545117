/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench/cup.h"

#include <ctype.h>
#include <gsl/gsl_fit.h>
#include <gsl/gsl_pow_int.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <stdbool.h>

#include "base/positive.h"
#include "base/range.h"

#define ISO  "ISO 2431"
#define FORD "ASTM D1200"
#define ZAHN "ASTM D4212"

/* of ln v: known oils a factor of e off the law that fits them best are no
 * calibration (our own limit) */
#define RESIDUAL_MOST 1.0

/* what was read in print and what is from memory: see the header */
static const struct mw_cup cups[] = {
    {"ISO 3", ISO, 0.443, 0, 200, 30, 100, 0.03},
    {"ISO 4", ISO, 1.37, 0, 200, 30, 100, 0.03},
    {"ISO 5", ISO, 3.28, 0, 220, 30, 100, 0.03},
    {"ISO 6", ISO, 6.90, 0, 570, 30, 100, 0.03},
    {"Ford 1", FORD, 0.49, 35, 0, 55, 100, 0.08},
    {"Ford 2", FORD, 1.44, 18, 0, 40, 100, 0.08},
    {"Ford 3", FORD, 2.31, 6.58, 0, 20, 100, 0.08},
    {"Ford 4", FORD, 3.85, 4.49, 0, 20, 100, 0.04},
    {"Ford 5", FORD, 12.1, 2, 0, 20, 100, 0.08},
    {"Zahn 1", ZAHN, 1.1, 29, 0, 35, 80, 0.10},
    {"Zahn 2", ZAHN, 3.5, 14, 0, 20, 80, 0.10},
    {"Zahn 3", ZAHN, 11.7, 7.5, 0, 20, 80, 0.10},
    {"Zahn 4", ZAHN, 14.8, 5, 0, 20, 80, 0.10},
    {"Zahn 5", ZAHN, 23, 0, 0, 20, 80, 0.10},
};

enum { CUPS = sizeof cups / sizeof cups[0] };

size_t mw_cup_count(void)
{
    return CUPS;
}

const struct mw_cup *mw_cup_by_index(size_t index)
{
    return index < CUPS ? &cups[index] : NULL;
}

/* the next letter or digit that matters, in lower case; '\0' at the end */
static int next_of(const char **name)
{
    while (**name == ' ' || **name == '-') {
        ++*name;
    }
    return **name ? tolower((unsigned char)*(*name)++) : '\0';
}

static bool same_name(const char *one, const char *other)
{
    int letter;
    do {
        letter = next_of(&one);
        if (letter != next_of(&other)) {
            return false;
        }
    } while (letter);
    return true;
}

enum mw_status mw_cup_by_name(const char *name, struct mw_cup *cup)
{
    for (size_t i = 0; i < CUPS; i++) {
        if (same_name(name, cups[i].name)) {
            *cup = cups[i];
            return MW_OK;
        }
    }
    return MW_ERR_NAME;
}

static double law(const struct mw_cup *cup, double time)
{
    return cup->a * (time - cup->dead) - cup->b / time;
}

static bool in_window(const struct mw_cup *cup, double time)
{
    return mw_is_positive(time) && time >= cup->time_min &&
           time <= cup->time_max;
}

enum mw_status mw_cup_viscosity(const struct mw_cup *cup, double time,
                                double *v)
{
    *v = NAN;
    if (!in_window(cup, time)) {
        return MW_ERR_CUP_TIME;
    }
    if (!mw_viscosity_in_range(law(cup, time))) {
        return MW_ERR_VISCOSITY;
    }
    *v = law(cup, time);
    return MW_OK;
}

/* rounding may carry an end of the window, there and back, just outside it */
static double onto_end(double time, double end)
{
    const double slack = 1e-12;
    return fabs(time - end) <= slack * time ? end : time;
}

enum mw_status mw_cup_time(const struct mw_cup *cup, double v, double *time)
{
    *time = NAN;
    if (!mw_viscosity_in_range(v)) {
        return MW_ERR_VISCOSITY;
    }
    /* the positive root of a t^2 - (a dead + v) t - b = 0 */
    double middle = cup->a * cup->dead + v;
    double root = sqrt(middle * middle + 4 * cup->a * cup->b);
    double t = (middle + root) / (2 * cup->a);
    t = onto_end(onto_end(t, cup->time_min), cup->time_max);
    if (!in_window(cup, t)) {
        return MW_ERR_CUP_TIME;
    }
    *time = t;
    return MW_OK;
}

enum mw_status mw_cup_own(double a, double b, struct mw_cup *cup)
{
    bool good = mw_is_positive(a) && b >= 0 && isfinite(b);
    *cup = (struct mw_cup){
        .name = "own cup", .standard = "own calibration", .law = NAN};
    cup->a = good ? a : NAN;
    cup->b = good ? b : NAN;
    cup->dead = cup->time_min = good ? 0 : NAN;
    cup->time_max = good ? INFINITY : NAN;
    return good ? MW_OK : MW_ERR_CALIBRATION;
}

static enum mw_status check_runs(const struct mw_cup_run *runs, size_t n)
{
    size_t shortest = 0, longest = 0;
    if (n < 2 || n > MW_CUP_RUNS_MAX) {
        return MW_ERR_READINGS;
    }
    for (size_t i = 0; i < n; i++) {
        if (!mw_is_positive(runs[i].time)) {
            return MW_ERR_READINGS;
        }
        if (!mw_viscosity_in_range(runs[i].viscosity)) {
            return MW_ERR_VISCOSITY;
        }
        shortest = runs[i].time < runs[shortest].time ? i : shortest;
        longest = runs[i].time > runs[longest].time ? i : longest;
    }
    bool rising = runs[longest].time > runs[shortest].time &&
                  runs[longest].viscosity > runs[shortest].viscosity;
    return rising ? MW_OK : MW_ERR_CALIBRATION;
}

/* the constants by least squares for numbers in place of v/t, b where there is
 * a jet */
static void fit_line(const struct mw_cup_run *runs, size_t n, const double *y,
                     bool jet, double *a, double *b)
{
    double x[MW_CUP_RUNS_MAX], weights[MW_CUP_RUNS_MAX], gradient;
    double ignored[4]; /* the covariances of the fit and its chi-square */
    for (size_t i = 0; i < n; i++) {
        x[i] = 1 / gsl_pow_2(runs[i].time);
        weights[i] = gsl_pow_2(runs[i].time / runs[i].viscosity);
    }
    gsl_fit_wlinear(x, 1, weights, 1, y, 1, n, a, &gradient, &ignored[0],
                    &ignored[1], &ignored[2], &ignored[3]);
    *b = -gradient;
    if (!jet) {
        *a = gsl_stats_wmean(weights, 1, y, 1, n);
        *b = 0;
    }
}

/* the constants by least squares, with b >= 0 */
static void fit(const struct mw_cup_run *runs, size_t n, double *a, double *b)
{
    double y[MW_CUP_RUNS_MAX];
    for (size_t i = 0; i < n; i++) {
        y[i] = runs[i].viscosity / runs[i].time;
    }
    fit_line(runs, n, y, true, a, b);
    if (*b <= 0) {
        fit_line(runs, n, y, false, a, b);
    }
}

/* not finite where the constants give one of the oils no viscosity */
static double residual_of(const struct mw_cup *cup,
                          const struct mw_cup_run *runs, size_t n)
{
    size_t constants = cup->b > 0 ? 2 : 1;
    double sum = 0;
    for (size_t i = 0; i < n; i++) {
        double v = law(cup, runs[i].time);
        if (!mw_viscosity_in_range(v)) {
            return NAN;
        }
        sum += gsl_pow_2(log(runs[i].viscosity / v));
    }
    return n > constants ? sqrt(sum / (double)(n - constants)) : 0;
}

enum mw_status mw_cup_calibrate(const struct mw_cup_run *runs, size_t n,
                                struct mw_cup *cup, double *residual,
                                unsigned *warnings)
{
    double a = NAN, b = NAN;
    enum mw_status status = check_runs(runs, n);
    if (status == MW_OK) {
        fit(runs, n, &a, &b);
    }
    enum mw_status made = mw_cup_own(a, b, cup);
    *residual = made == MW_OK ? residual_of(cup, runs, n) : NAN;
    if (made == MW_OK && !(*residual <= RESIDUAL_MOST)) {
        *residual = NAN;
        made = mw_cup_own(NAN, NAN, cup);
    }
    if (warnings && made == MW_OK && b == 0) {
        *warnings |= MW_WARN_NO_JET;
    }
    return status == MW_OK ? made : status;
}

enum mw_status mw_cup_weights(const struct mw_cup_run *runs, size_t n,
                              double time, double *weights)
{
    struct mw_cup cup;
    double residual, v = NAN;
    enum mw_status status = mw_cup_calibrate(runs, n, &cup, &residual, NULL);
    if (status == MW_OK) {
        status = mw_cup_viscosity(&cup, time, &v);
    }
    for (size_t i = 0; i < n; i++) {
        double y[MW_CUP_RUNS_MAX] = {0}, a, b;
        weights[i] = NAN;
        if (status == MW_OK) {
            /* the fit is linear: this is what one oil brings to it */
            y[i] = runs[i].viscosity / runs[i].time;
            fit_line(runs, n, y, cup.b > 0, &a, &b);
            weights[i] = (a * time - b / time) / v;
        }
    }
    return status;
}

/* d ln v/dt of a cup */
static double rise_of(const struct mw_cup *cup, double time)
{
    return (cup->a + cup->b / gsl_pow_2(time)) / law(cup, time);
}

enum mw_status mw_cup_own_law(const struct mw_cup *cup,
                              const struct mw_cup_run *runs,
                              const double *known, size_t n, double residual,
                              double *of_ln_v)
{
    double sum = 0;
    *of_ln_v = NAN;
    if (n < 1 || n > MW_CUP_RUNS_MAX) {
        return MW_ERR_READINGS;
    }
    for (size_t i = 0; i < n; i++) {
        double timed = rise_of(cup, runs[i].time) * runs[i].time_uncertainty;
        if (!(known[i] >= 0 && timed >= 0)) {
            return MW_ERR_UNCERTAINTY;
        }
        sum += gsl_pow_2(known[i]) + gsl_pow_2(timed);
    }
    double u = hypot(sqrt(sum / (double)n), residual);
    if (!(residual >= 0 && isfinite(u))) {
        return MW_ERR_UNCERTAINTY;
    }
    *of_ln_v = u;
    return MW_OK;
}

enum mw_status mw_cup_budget(const struct mw_cup *cup, double time,
                             const struct mw_cup_uncertainty *u,
                             struct mw_budget *budget)
{
    double v;
    struct mw_budget grown = *budget;
    enum mw_status status = mw_cup_viscosity(cup, time, &v);
    if (status == MW_OK) {
        status = mw_budget_add(&grown, "time", u->time, rise_of(cup, time));
    }
    if (status == MW_OK) {
        status = mw_budget_add(&grown, "cup's formula", u->law, 1);
    }
    if (status == MW_OK) {
        *budget = grown;
    }
    return status;
}
