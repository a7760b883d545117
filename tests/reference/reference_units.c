/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* adapters: units, grades, the viscosity index */
#include "fluid/units_internal.h"
#include "fluid/viscosity_index.h"
#include "reference_functions.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

typedef reference_inputs inputs;

static enum mw_status viscosity_index(inputs in, double *got)
{
    return mw_viscosity_index(in[0].number, in[1].number, got);
}

static enum mw_status viscosity_index_l(inputs in, double *got)
{
    double h;
    return mw_viscosity_index_lh(in[0].number, got, &h);
}

static enum mw_status viscosity_index_h(inputs in, double *got)
{
    double l;
    return mw_viscosity_index_lh(in[0].number, &l, got);
}

static enum mw_status v100_from_index(inputs in, double *got)
{
    return mw_v100_from_index(in[0].number, in[1].number, got);
}

/* NaN instead of the 0 for no grade */
static enum mw_status iso_vg(inputs in, double *got)
{
    int vg;
    enum mw_status status = mw_iso_vg(in[0].number, &vg);
    *got = vg == 0 ? (double)NAN : vg;
    return status;
}

static enum mw_status sae_j300(inputs in, double *got)
{
    int grade;
    enum mw_status status = mw_sae_j300(in[0].number, &grade);
    *got = grade == 0 ? (double)NAN : grade;
    return status;
}

/* value unit g/ml degC */
static enum mw_status to_mm2_s(inputs in, double *got)
{
    enum mw_viscosity_unit unit;
    *got = NAN;
    enum mw_status status = mw_viscosity_unit_from_symbol(in[1].name, &unit);
    return status == MW_OK
               ? mw_viscosity_to_mm2_s(in[0].number, unit, in[2].number,
                                       in[3].number, got)
               : status;
}

/* mm2/s unit g/ml degC */
static enum mw_status from_mm2_s(inputs in, double *got)
{
    enum mw_viscosity_unit unit;
    *got = NAN;
    enum mw_status status = mw_viscosity_unit_from_symbol(in[1].name, &unit);
    return status == MW_OK
               ? mw_viscosity_from_mm2_s(in[0].number, unit, in[2].number,
                                         in[3].number, got)
               : status;
}

static enum mw_status temperature_scale(const char *name,
                                        enum mw_temperature_scale *scale)
{
    const char *const names[] = {"C", "F", "K"};
    for (size_t i = 0; i < 3; i++) {
        if (strcmp(name, names[i]) == 0) {
            *scale = (enum mw_temperature_scale)i;
            return MW_OK;
        }
    }
    return MW_ERR_NAME;
}

static enum mw_status celsius(inputs in, double *got)
{
    enum mw_temperature_scale scale;
    *got = NAN;
    enum mw_status status = temperature_scale(in[1].name, &scale);
    return status == MW_OK ? mw_celsius(in[0].number, scale, got) : status;
}

static enum mw_status from_celsius(inputs in, double *got)
{
    enum mw_temperature_scale scale;
    *got = NAN;
    enum mw_status status = temperature_scale(in[1].name, &scale);
    return status == MW_OK ? mw_from_celsius(in[0].number, scale, got) : status;
}

static enum mw_status sus(inputs in, double *got)
{
    return mw_sus(in[0].number, in[1].number, got);
}

/* mm2/s degC: seconds for one mm2/s */
static enum mw_status sus_factor(inputs in, double *got)
{
    enum mw_status status = mw_sus(in[0].number, in[1].number, got);
    *got /= in[0].number;
    return status;
}

const struct reference_function reference_unit_functions[] = {
    {"mw_viscosity_index", "nn", viscosity_index},
    {"viscosity_index_l", "n", viscosity_index_l},
    {"viscosity_index_h", "n", viscosity_index_h},
    {"mw_v100_from_index", "nn", v100_from_index},
    {"mw_iso_vg", "n", iso_vg},
    {"mw_sae_j300", "n", sae_j300},
    {"mw_viscosity_to_mm2_s", "nsnn", to_mm2_s},
    {"mw_viscosity_from_mm2_s", "nsnn", from_mm2_s},
    {"mw_celsius", "ns", celsius},
    {"mw_from_celsius", "ns", from_celsius},
    {"mw_sus", "nn", sus},
    {"sus_factor", "nn", sus_factor},
    {NULL, NULL, NULL},
};
