/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "table/mix_uncertainty.h"

#include <gsl/gsl_pow_int.h>
#include <math.h>
#include <stdbool.h>
#include <string.h>

#include "base/range.h"
#include "fluid/oil_internal.h"

/* a mix whose inputs are moved one at a time, each by so much */
struct moved {
    const struct mw_oil *oils;
    const double *shares;
    size_t n;
    double t;
    struct mw_method method;
    double ln_v;            /* of the mix as it is */
    struct mw_oil *scratch; /* a copy of the oils, to be moved */
    size_t index;           /* of the oil or dose that is moved */
};

/* ln v of a mix with something in it moved by x; NaN where there is no v */
typedef double move(double x, struct moved *moved);

double mw_usual_excess_uncertainty(void)
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

/* one oil, by x in ln v */
static double move_oil(double x, struct moved *moved)
{
    struct mw_oil *oil = &moved->scratch[moved->index];
    mw_oil_scaled(&moved->oils[moved->index], exp(x), oil);
    double ln_v = ln_mixture(moved, moved->scratch, moved->shares, moved->t);
    *oil = moved->oils[moved->index];
    return ln_v;
}

/* K */
static double move_excess(double x, struct moved *moved)
{
    struct moved other = *moved;
    other.method.excess += x;
    return ln_mixture(&other, moved->oils, moved->shares, moved->t);
}

static double move_temperature(double x, struct moved *moved)
{
    return ln_mixture(moved, moved->oils, moved->shares, moved->t + x);
}

/* whether an oil is brought to t by the silicone law */
static bool by_law(const struct mw_oil *oil, double t)
{
    return !oil->has_line && oil->family == MW_SILICONE &&
           !mw_same_temperature(oil->points[0].temperature, t);
}

/* the activation energy of every oil under the law, by x in kJ/mol */
static double move_energy(double x, struct moved *moved)
{
    for (size_t i = 0; i < moved->n; i++) {
        const struct mw_oil *oil = &moved->oils[i];
        double rated = oil->points[0].temperature;
        if (by_law(oil, moved->t)) {
            mw_oil_scaled(oil, mw_energy_factor(x, rated, moved->t),
                          &moved->scratch[i]);
        }
    }
    double ln_v = ln_mixture(moved, moved->scratch, moved->shares, moved->t);
    memcpy(moved->scratch, moved->oils, moved->n * sizeof *moved->oils);
    return ln_v;
}

/* one dose, by x of the batch; a dose below zero is no share, so has no v */
static double move_dose(double x, struct moved *moved)
{
    double shares[MW_MIX_OILS_MAX];
    for (size_t i = 0; i < moved->n; i++) {
        shares[i] = (moved->shares[i] + (i == moved->index ? x : 0)) / (1 + x);
    }
    return ln_mixture(moved, moved->oils, shares, moved->t);
}

/* Half of how far ln v swings as something moves up and down by u; by the one
 * side alone where there is no v on the other. */
static double half_swing(double u, move *f, struct moved *moved)
{
    double up = f(u, moved) - moved->ln_v;
    double down = moved->ln_v - f(-u, moved);
    return isnan(up) ? down : isnan(down) ? up : (up + down) / 2;
}

static enum mw_status add_line(struct mw_budget *budget, const char *name,
                               double u, move *f, struct moved *moved)
{
    return u == 0 ? MW_OK
                  : mw_budget_add(budget, name, u, half_swing(u, f, moved) / u);
}

/* one of each oil, as one line of all */
static enum mw_status add_each(struct mw_budget *budget, const char *name,
                               const double *u, move *f, struct moved *moved)
{
    double sum = 0;
    for (size_t i = 0; i < moved->n; i++) {
        struct mw_budget one = {0};
        moved->index = i;
        enum mw_status status = add_line(&one, name, u[i], f, moved);
        if (status != MW_OK) {
            return status;
        }
        sum += gsl_pow_2(mw_budget_combined(&one));
    }
    return sum > 0 ? mw_budget_add(budget, name, sqrt(sum), 1) : MW_OK;
}

/* whether t is where an oil is rated: then it is not read off a thermometer */
static bool any_rated_at(const struct mw_oil *oils, size_t n, double t)
{
    for (size_t i = 0; i < n; i++) {
        if (mw_same_temperature(oils[i].points[0].temperature, t)) {
            return true;
        }
    }
    return false;
}

static bool any_by_law(const struct mw_oil *oils, size_t n, double t)
{
    for (size_t i = 0; i < n; i++) {
        if (by_law(&oils[i], t)) {
            return true;
        }
    }
    return false;
}

static enum mw_status add_all(struct moved *moved,
                              const struct mw_mix_inputs *inputs,
                              struct mw_budget *budget)
{
    double thermometer = 0;
    bool by_the_law = any_by_law(moved->oils, moved->n, moved->t);
    bool rated = any_rated_at(moved->oils, moved->n, moved->t);
    enum mw_status status = mw_rectangular(inputs->thermometer, &thermometer);
    if (status == MW_OK) {
        status = add_each(budget, MW_FROM_OILS, inputs->oils, move_oil, moved);
    }
    if (status == MW_OK) {
        status = add_line(budget, MW_FROM_EXCESS, inputs->excess, move_excess,
                          moved);
    }
    if (status == MW_OK) {
        status = add_line(budget, MW_FROM_TEMPERATURE, rated ? 0 : thermometer,
                          move_temperature, moved);
    }
    if (status == MW_OK) {
        status = add_line(budget, MW_FROM_LAW,
                          by_the_law ? MW_ENERGY_UNCERTAINTY : 0, move_energy,
                          moved);
    }
    if (status == MW_OK && inputs->doses) {
        status =
            add_each(budget, MW_FROM_DOSING, inputs->doses, move_dose, moved);
    }
    return status;
}

/* where everything is as it should be, to be moved from there */
static enum mw_status stand(const struct mw_oil *oils, const double *shares,
                            size_t n, double t, const struct mw_method *method,
                            struct mw_oil *scratch, struct moved *moved)
{
    double v;
    if (n > MW_MIX_OILS_MAX) {
        return MW_ERR_BUDGET;
    }
    enum mw_status status = mw_mixture(oils, shares, n, t, method, &v, NULL);
    if (status != MW_OK) {
        return status;
    }
    memcpy(scratch, oils, n * sizeof *oils);
    *moved = (struct moved){.oils = oils,
                            .shares = shares,
                            .n = n,
                            .t = t,
                            .method = *method,
                            .ln_v = log(v),
                            .scratch = scratch};
    return MW_OK;
}

enum mw_status mw_mixture_uncertainty(const struct mw_oil *oils,
                                      const double *shares, size_t n, double t,
                                      const struct mw_method *method,
                                      const struct mw_mix_inputs *inputs,
                                      struct mw_budget *budget)
{
    struct mw_oil scratch[MW_MIX_OILS_MAX];
    struct moved moved;
    *budget = (struct mw_budget){0};
    enum mw_status status = stand(oils, shares, n, t, method, scratch, &moved);
    if (status == MW_OK) {
        status = add_all(&moved, inputs, budget);
    }
    if (status != MW_OK) {
        *budget = (struct mw_budget){0};
    }
    return status;
}

enum mw_status mw_dose_uncertainty(double mark, double batch, double *u)
{
    *u = NAN;
    if (!(mark >= 0 && batch > 0 && isfinite(mark / batch))) {
        return MW_ERR_AMOUNT;
    }
    return mw_rectangular(mark / batch / 2, u);
}

/* of one oil, measured with its tool, in parts of the batch */
static double dose_of(const struct mw_mix *mix, size_t i)
{
    const struct mw_dose_tool *tool = &mix->tools[i];
    double u, draws = fmax(ceil(mix->volumes[i] / tool->draw_ml - 1e-9), 1);
    return mw_dose_uncertainty(tool->step_ml, mix->total_ml, &u) == MW_OK
               ? sqrt(draws) * u
               : 0;
}

static double smallest_share(const double *shares, size_t count)
{
    double smallest = INFINITY;
    for (size_t i = 0; i < count; i++) {
        smallest = shares[i] > 0 ? fmin(smallest, shares[i]) : smallest;
    }
    return smallest;
}

void mw_mix_doses(const struct mw_mix *mix, size_t count, double *doses)
{
    double unknown = MW_DOSE_UNKNOWN * smallest_share(mix->shares, count);
    for (size_t i = 0; i < count; i++) {
        doses[i] = !(mix->shares[i] > 0)                ? 0
                   : mix->tools[i].tool == MW_TOOL_NONE ? unknown
                                                        : dose_of(mix, i);
    }
}

enum mw_status mw_mix_uncertainty(const struct mw_mix_job *job,
                                  const struct mw_mix *mix,
                                  const struct mw_mix_inputs *inputs,
                                  struct mw_budget *budget)
{
    double doses[MW_MIX_OILS_MAX] = {0};
    struct mw_mix_inputs all = *inputs;
    mw_mix_doses(mix, job->count, doses);
    all.doses = doses;
    return mw_mixture_uncertainty(job->oils, mix->shares, job->count,
                                  job->temperature, &job->method, &all, budget);
}
