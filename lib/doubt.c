/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "doubt.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

#include "walther.h"

/* kJ/(mol K): the molar gas constant, exact since 2019 (SI brochure) */
#define GAS_CONSTANT 8.31446261815324e-3

/* a mix whose inputs are moved one at a time */
struct moved {
    const struct mw_oil *oils;
    const double *shares;
    size_t n;
    double t;
    struct mw_method method;
    struct mw_oil *scratch; /* a copy of the oils, to be moved */
    size_t index;           /* of the oil or dose that is moved */
};

double mw_doubt_usual_excess(void)
{
    return (MW_EXCESS_HIGH - MW_EXCESS_LOW) / 2 / sqrt(3);
}

static double ln_mixture(const struct moved *moved, const struct mw_oil *oils,
                         const double *shares, double t)
{
    double v;
    mw_mixture(oils, shares, moved->n, t, &moved->method, &v, NULL);
    return log(v);
}

/* ln v with one oil moved by x in ln v */
static double with_oil(double x, void *params)
{
    struct moved *moved = params;
    struct mw_oil *oil = &moved->scratch[moved->index];
    mw_oil_scaled(&moved->oils[moved->index], exp(x), oil);
    double ln_v = ln_mixture(moved, moved->scratch, moved->shares, moved->t);
    *oil = moved->oils[moved->index];
    return ln_v;
}

static double with_excess(double k, void *params)
{
    struct moved moved = *(struct moved *)params;
    moved.method.excess = k;
    return ln_mixture(&moved, moved.oils, moved.shares, moved.t);
}

static double with_temperature(double t, void *params)
{
    const struct moved *moved = params;
    return ln_mixture(moved, moved->oils, moved->shares, t);
}

/* ln v with the activation energy of every oil under the law moved by x */
static double with_energy(double x, void *params)
{
    const struct moved *moved = params;
    double here = 1 / (moved->t - MW_ABSOLUTE_ZERO);
    for (size_t i = 0; i < moved->n; i++) {
        const struct mw_oil *oil = &moved->oils[i];
        double rated = 1 / (oil->points[0].temperature - MW_ABSOLUTE_ZERO);
        double ln_factor =
            oil->has_line ? 0 : x / GAS_CONSTANT * (here - rated);
        mw_oil_scaled(oil, exp(ln_factor), &moved->scratch[i]);
    }
    double ln_v = ln_mixture(moved, moved->scratch, moved->shares, moved->t);
    memcpy(moved->scratch, moved->oils, moved->n * sizeof *moved->oils);
    return ln_v;
}

/* ln v with x of the batch more of one oil */
static double with_dose(double x, void *params)
{
    const struct moved *moved = params;
    double shares[MW_DOUBT_OILS_MAX];
    for (size_t i = 0; i < moved->n; i++) {
        double dose = moved->shares[i] + (i == moved->index ? x : 0);
        shares[i] = fmax(dose, 0) / (1 + x);
    }
    return ln_mixture(moved, moved->oils, shares, moved->t);
}

/* what all oils contribute, as one line */
static enum mw_status add_oils(struct moved *moved, const double *uncertainty,
                               struct mw_budget *budget)
{
    double sum = 0;
    for (size_t i = 0; i < moved->n; i++) {
        struct mw_budget one = {0};
        moved->index = i;
        enum mw_status status = mw_budget_add_numeric(
            &one, MW_DOUBT_OILS, 0, uncertainty[i], with_oil, moved);
        if (status != MW_OK) {
            return status;
        }
        double u = mw_budget_combined(&one);
        sum += u * u;
    }
    return sum > 0 ? mw_budget_add(budget, MW_DOUBT_OILS, sqrt(sum), 1) : MW_OK;
}

static enum mw_status add_doses(struct moved *moved, const double *doses,
                                struct mw_budget *budget)
{
    double sum = 0;
    for (size_t i = 0; doses && i < moved->n; i++) {
        struct mw_budget one = {0};
        moved->index = i;
        enum mw_status status = mw_budget_add_numeric(
            &one, MW_DOUBT_DOSING, 0, doses[i], with_dose, moved);
        if (status != MW_OK) {
            return status;
        }
        double u = mw_budget_combined(&one);
        sum += u * u;
    }
    return sum > 0 ? mw_budget_add(budget, MW_DOUBT_DOSING, sqrt(sum), 1)
                   : MW_OK;
}

static enum mw_status add_line(struct moved *moved, const char *name,
                               double input, double u, mw_ln_viscosity *f,
                               struct mw_budget *budget)
{
    return u == 0 ? MW_OK
                  : mw_budget_add_numeric(budget, name, input, u, f, moved);
}

/* whether every oil is rated at t: then nothing is read off a thermometer */
static bool all_rated_at(const struct mw_oil *oils, size_t n, double t)
{
    for (size_t i = 0; i < n; i++) {
        if (!mw_same_temperature(oils[i].points[0].temperature, t)) {
            return false;
        }
    }
    return true;
}

/* whether an oil is brought to t by the silicone law */
static bool any_by_law(const struct mw_oil *oils, size_t n, double t)
{
    for (size_t i = 0; i < n; i++) {
        if (!oils[i].has_line && oils[i].family == MW_SILICONE &&
            !mw_same_temperature(oils[i].points[0].temperature, t)) {
            return true;
        }
    }
    return false;
}

static enum mw_status add_all(struct moved *moved, const struct mw_doubt *doubt,
                              struct mw_budget *budget)
{
    double energy = 0, thermometer = 0;
    bool rated = all_rated_at(moved->oils, moved->n, moved->t);
    enum mw_status status = mw_rectangular(doubt->thermometer, &thermometer);
    if (any_by_law(moved->oils, moved->n, moved->t)) {
        mw_rectangular((MW_ENERGY_HIGH - MW_ENERGY_LOW) / 2, &energy);
    }
    if (status == MW_OK) {
        status = add_oils(moved, doubt->oils, budget);
    }
    if (status == MW_OK) {
        status = add_line(moved, MW_DOUBT_EXCESS, moved->method.excess,
                          doubt->excess, with_excess, budget);
    }
    if (status == MW_OK) {
        status = add_line(moved, MW_DOUBT_TEMPERATURE, moved->t,
                          rated ? 0 : thermometer, with_temperature, budget);
    }
    if (status == MW_OK) {
        status = add_line(moved, MW_DOUBT_LAW, 0, energy, with_energy, budget);
    }
    return status == MW_OK ? add_doses(moved, doubt->doses, budget) : status;
}

enum mw_status mw_doubt_mixture(const struct mw_oil *oils, const double *shares,
                                size_t n, double t,
                                const struct mw_method *method,
                                const struct mw_doubt *doubt,
                                struct mw_budget *budget)
{
    struct mw_oil scratch[MW_DOUBT_OILS_MAX];
    double v;
    *budget = (struct mw_budget){0};
    if (n > MW_DOUBT_OILS_MAX) {
        return MW_ERR_BUDGET;
    }
    enum mw_status status = mw_mixture(oils, shares, n, t, method, &v, NULL);
    if (status != MW_OK) {
        return status;
    }
    memcpy(scratch, oils, n * sizeof *oils);
    struct moved moved = {oils, shares, n, t, *method, scratch, 0};
    status = add_all(&moved, doubt, budget);
    if (status != MW_OK) {
        *budget = (struct mw_budget){0};
    }
    return status;
}

enum mw_status mw_doubt_oil(const struct mw_oil *oil, double t,
                            double uncertainty, double thermometer,
                            struct mw_budget *budget)
{
    const struct mw_method plain = {MW_RULE_ASTM, 0};
    const struct mw_doubt doubt = {&uncertainty, 0, thermometer, NULL};
    const double whole = 1;
    return mw_doubt_mixture(oil, &whole, 1, t, &plain, &doubt, budget);
}

enum mw_status mw_doubt_dose(double mark, double batch, double *u)
{
    *u = NAN;
    if (!(mark >= 0 && batch > 0 && isfinite(mark / batch))) {
        return MW_ERR_AMOUNT;
    }
    return mw_rectangular(mark / batch / 2, u);
}
