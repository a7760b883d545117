/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* adapters: blends and their shares */
#include "../unit/rule_blend.h"
#include "fluid/silicone.h"
#include "reference_functions.h"

#include <math.h>
#include <stddef.h>

typedef reference_inputs inputs;

/* rule excess at in[0] and in[1] */
static enum mw_status method_of(inputs in, struct mw_method *method)
{
    method->excess = in[1].number;
    return mw_rule_from_name(in[0].name, &method->rule);
}

/* the method of in[0] and in[1], and two mineral oils as v t v t each */
static enum mw_status line_pair(inputs in, struct mw_method *method,
                                struct mw_oil pair[2])
{
    enum mw_status status = method_of(in, method);
    for (size_t i = 0; i < 2 && status == MW_OK; i++) {
        inputs p = in + 2 + 4 * i;
        const struct mw_point points[2] = {{p[0].number, p[1].number},
                                           {p[2].number, p[3].number}};
        status = mw_oil_make(MW_MINERAL, points, 2, NAN, &pair[i]);
    }
    return status;
}

/* ... then the share of the second, degC */
static enum mw_status line_mix(inputs in, double *got)
{
    const double shares[2] = {1 - in[10].number, in[10].number};
    struct mw_method method;
    struct mw_oil pair[2];
    *got = NAN;
    enum mw_status status = line_pair(in, &method, pair);
    return status == MW_OK
               ? mw_mixture(pair, shares, 2, in[11].number, &method, got, NULL)
               : status;
}

/* ... then mm2/s, degC */
static enum mw_status line_share(inputs in, double *got)
{
    struct mw_method method;
    struct mw_oil pair[2];
    *got = NAN;
    enum mw_status status = line_pair(in, &method, pair);
    return status == MW_OK ? mw_mixture_share(pair, in[10].number,
                                              in[11].number, &method, got, NULL)
                           : status;
}

/* two silicone oils known at 25 C */
static enum mw_status silicone_pair(inputs in, struct mw_oil pair[2])
{
    enum mw_status status = MW_OK;
    for (size_t i = 0; i < 2 && status == MW_OK; i++) {
        const struct mw_point rating = {in[i].number, MW_SILICONE_RATED};
        status = mw_oil_make(MW_SILICONE, &rating, 1, NAN, &pair[i]);
    }
    return status;
}

/* excess v v, share of the second; by ASTM, at 25 C */
static enum mw_status silicone_mix(inputs in, double *got)
{
    const struct mw_method method = {MW_RULE_ASTM, in[0].number};
    const double shares[2] = {1 - in[3].number, in[3].number};
    struct mw_oil pair[2];
    *got = NAN;
    enum mw_status status = silicone_pair(in + 1, pair);
    return status == MW_OK ? mw_mixture(pair, shares, 2, MW_SILICONE_RATED,
                                        &method, got, NULL)
                           : status;
}

/* excess v v, target; by ASTM, at 25 C */
static enum mw_status silicone_share(inputs in, double *got)
{
    const struct mw_method method = {MW_RULE_ASTM, in[0].number};
    struct mw_oil pair[2];
    *got = NAN;
    enum mw_status status = silicone_pair(in + 1, pair);
    return status == MW_OK
               ? mw_mixture_share(pair, in[3].number, MW_SILICONE_RATED,
                                  &method, got, NULL)
               : status;
}

/* v v, share of the second */
static enum mw_status blend_astm(inputs in, double *got)
{
    const double v[2] = {in[0].number, in[1].number};
    const double shares[2] = {1 - in[2].number, in[2].number};
    return rule_blend(MW_RULE_ASTM, v, NULL, shares, 2, NAN, 0, got);
}

/* v v, share of the second, K */
static enum mw_status blend_excess(inputs in, double *got)
{
    const double v[2] = {in[0].number, in[1].number};
    const double shares[2] = {1 - in[2].number, in[2].number};
    double plain;
    enum mw_status status =
        rule_blend(MW_RULE_ASTM, v, NULL, shares, 2, NAN, in[3].number, got);
    if (status == MW_OK) {
        rule_blend(MW_RULE_ASTM, v, NULL, shares, 2, NAN, 0, &plain);
        *got /= plain;
    }
    return status;
}

/* v v, share of the second, measured blend: the K with which ASTM gives it */
static enum mw_status excess_met(inputs in, double *got)
{
    const struct reference_input unit_k[4] = {in[0], in[1], in[2], {1, NULL}};
    double astm, factor;
    *got = NAN;
    enum mw_status status = blend_astm(in, &astm);
    if (status == MW_OK) {
        status = blend_excess(unit_k, &factor);
    }
    if (status == MW_OK) {
        *got = log(in[3].number / astm) / log(factor);
    }
    return status;
}

/* v v, share, K, measured blend: ASTM with the excess over it, less 1 */
static enum mw_status excess_miss(inputs in, double *got)
{
    double astm, factor;
    *got = NAN;
    enum mw_status status = blend_astm(in, &astm);
    if (status == MW_OK) {
        status = blend_excess(in, &factor);
    }
    if (status == MW_OK) {
        *got = astm * factor / in[4].number - 1;
    }
    return status;
}

/* v v, target */
static enum mw_status blend_astm_share(inputs in, double *got)
{
    const struct mw_method method = {MW_RULE_ASTM, 0};
    struct mw_oil pair[2];
    *got = NAN;
    enum mw_status status = silicone_pair(in, pair);
    return status == MW_OK
               ? mw_mixture_share(pair, in[2].number, MW_SILICONE_RATED,
                                  &method, got, NULL)
               : status;
}

/* v v: the linear average of halves over the logarithmic one, less 1 */
static enum mw_status linear_over_log(inputs in, double *got)
{
    double midway = mw_mixture_midway(in[0].number, in[1].number);
    *got = (in[0].number + in[1].number) / 2 / midway - 1;
    return MW_OK;
}

/* v v, share of the second: the logarithmic average, which is no rule here */
static enum mw_status log_mix(inputs in, double *got)
{
    const double x = in[2].number;
    *got = pow(in[0].number, 1 - x) * pow(in[1].number, x);
    return MW_OK;
}

/* v v, then n times a share of the second and the measured blend: what a rule
 * misses, as part of it, in the mean */
static enum mw_status mean_miss(reference_adapter *rule, inputs in, size_t n,
                                double *got)
{
    double sum = 0;
    *got = NAN;
    for (size_t i = 0; i < n; i++) {
        const struct reference_input *point = &in[2 + 2 * i];
        const struct reference_input pair[3] = {in[0], in[1], point[0]};
        double blend;
        enum mw_status status = rule(pair, &blend);
        if (status != MW_OK) {
            return status;
        }
        sum += blend / point[1].number - 1;
    }
    *got = sum / (double)n;
    return MW_OK;
}

static enum mw_status astm_mean_6(inputs in, double *got)
{
    return mean_miss(blend_astm, in, 6, got);
}

static enum mw_status astm_mean_9(inputs in, double *got)
{
    return mean_miss(blend_astm, in, 9, got);
}

static enum mw_status log_mean_6(inputs in, double *got)
{
    return mean_miss(log_mix, in, 6, got);
}

static enum mw_status log_mean_9(inputs in, double *got)
{
    return mean_miss(log_mix, in, 9, got);
}

const struct reference_function reference_blend_functions[] = {
    {"line_mix", "snnnnnnnnnnn", line_mix},
    {"line_share", "snnnnnnnnnnn", line_share},
    {"silicone_mix", "nnnn", silicone_mix},
    {"silicone_share", "nnnn", silicone_share},
    {"astm_mix", "nnn", blend_astm},
    {"excess_factor", "nnnn", blend_excess},
    {"excess_met", "nnnn", excess_met},
    {"excess_miss", "nnnnn", excess_miss},
    {"astm_share", "nnn", blend_astm_share},
    {"log_mix", "nnn", log_mix},
    {"astm_mean_6", "nnnnnnnnnnnnnn", astm_mean_6},
    {"astm_mean_9", "nnnnnnnnnnnnnnnnnnnn", astm_mean_9},
    {"log_mean_6", "nnnnnnnnnnnnnn", log_mean_6},
    {"log_mean_9", "nnnnnnnnnnnnnnnnnnnn", log_mean_9},
    {"linear_over_log", "nn", linear_over_log},
    {NULL, NULL, NULL},
};
