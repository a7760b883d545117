/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* adapters: dampers, the oil that holds their damping, bubbles */
#include "damper/bubble_internal.h"
#include "damper/damper_internal.h"
#include "fluid/silicone.h"
#include "reference_functions.h"

#include <math.h>
#include <stddef.h>

typedef reference_inputs inputs;

static enum mw_status pressure_drop(inputs in, double *got)
{
    return mw_pressure_drop(in[0].number, in[1].number, in[2].number,
                            in[3].number, got);
}

/* holes, m, m */
static struct mw_piston piston_of(inputs in)
{
    return (struct mw_piston){(int)in[0].number, in[1].number, in[2].number};
}

/* holes, m, m, bore m, shaft m */
static struct mw_damper damper_of(inputs in)
{
    return (struct mw_damper){piston_of(in), in[3].number, in[4].number, 0};
}

/* mm2/s at 25 C, g/ml at 25 C, degC: mPa.s of silicone by law and expansion */
static enum mw_status silicone_dynamic(inputs in, double *dynamic)
{
    double v, density;
    *dynamic = NAN;
    enum mw_status status = mw_silicone_at(in[0].number, 25, in[2].number, &v);
    if (status == MW_OK) {
        status = mw_silicone_expand(in[1].number, in[2].number, &density);
    }
    if (status == MW_OK) {
        *dynamic = v * density;
    }
    return status;
}

/* damper, silicone, degC */
static enum mw_status damping(inputs in, double *got)
{
    const struct mw_damper damper = damper_of(in);
    double dynamic;
    *got = NAN;
    enum mw_status status = silicone_dynamic(in + 5, &dynamic);
    return status == MW_OK ? mw_damping(&damper, dynamic, got) : status;
}

/* the same, from the pressure along the bare holes at 1 m/s */
static enum mw_status damping_without_ends(inputs in, double *got)
{
    const struct mw_damper damper = damper_of(in);
    double dynamic, area;
    *got = NAN;
    enum mw_status status = silicone_dynamic(in + 5, &dynamic);
    if (status == MW_OK) {
        status = mw_damper_area(&damper, &area);
    }
    if (status == MW_OK) {
        status = mw_pressure_drop(dynamic, damper.piston.diameter,
                                  damper.piston.thickness,
                                  area / damper.piston.holes, got);
        *got *= area;
    }
    return status;
}

/* damper, mPa.s, g/ml, m/s */
static enum mw_status at_speed(inputs in, struct mw_damper_state *state)
{
    const struct mw_damper damper = damper_of(in);
    return mw_damper_at(&damper, in[5].number, in[6].number, in[7].number,
                        state);
}

static enum mw_status reynolds(inputs in, double *got)
{
    struct mw_damper_state state;
    enum mw_status status = at_speed(in, &state);
    *got = state.reynolds;
    return status;
}

static enum mw_status viscous(inputs in, double *got)
{
    struct mw_damper_state state;
    enum mw_status status = at_speed(in, &state);
    *got = state.viscous;
    return status;
}

static enum mw_status kinetic(inputs in, double *got)
{
    struct mw_damper_state state;
    enum mw_status status = at_speed(in, &state);
    *got = state.kinetic;
    return status;
}

static enum mw_status hold_factor(inputs in, double *got)
{
    return mw_hold_factor(in[0].number, in[1].number, got);
}

static enum mw_status hold_piston(inputs in, double *got)
{
    const struct mw_piston from = piston_of(in), to = piston_of(in + 3);
    return mw_hold_piston(&from, &to, got, NULL);
}

/* mm2/s at 25 C, g/ml at 25 C, degC before, degC after, factor: the rating */
static enum mw_status hold_rating(inputs in, double *got)
{
    const struct mw_point point = {in[0].number, 25};
    struct mw_oil oil;
    struct mw_hold hold;
    *got = NAN;
    enum mw_status status =
        mw_oil_make(MW_SILICONE, &point, 1, in[1].number, &oil);
    if (status == MW_OK) {
        status =
            mw_hold_oil(&oil, in[2].number, in[3].number, in[4].number, &hold);
    }
    return status == MW_OK
               ? mw_hold_rating(&oil, hold.viscosity, in[3].number, 25, got)
               : status;
}

/* mm2/s, m, m, kPa */
static enum mw_status settle_seconds(inputs in, double *got)
{
    struct mw_settle settle;
    enum mw_status status = mw_settle(in[0].number, in[1].number, in[2].number,
                                      in[3].number, &settle);
    *got = settle.seconds;
    return status;
}

static enum mw_status settle_clean_seconds(inputs in, double *got)
{
    struct mw_settle settle;
    enum mw_status status = mw_settle(in[0].number, in[1].number, in[2].number,
                                      in[3].number, &settle);
    *got = settle.clean_seconds;
    return status;
}

/* kPa: how much faster a bubble rises */
static enum mw_status bubble_gain(inputs in, double *got)
{
    enum mw_status status = mw_bubble_growth(in[0].number, got);
    *got *= *got;
    return status;
}

/* n d L bore, shaft gap: per cent of the flow of the holes */
static enum mw_status leak_percent(inputs in, double *got)
{
    const struct mw_damper damper = {piston_of(in), in[3].number, in[4].number,
                                     in[5].number};
    enum mw_status status = mw_damper_leak(&damper, got);
    *got *= 100;
    return status;
}

const struct reference_function reference_damper_functions[] = {
    {"mw_pressure_drop", "nnnn", pressure_drop},
    {"damping", "nnnnnnnn", damping},
    {"damping_without_ends", "nnnnnnnn", damping_without_ends},
    {"damper_reynolds", "nnnnnnnn", reynolds},
    {"damper_viscous", "nnnnnnnn", viscous},
    {"damper_kinetic", "nnnnnnnn", kinetic},
    {"leak_percent", "nnnnnn", leak_percent},
    {"mw_hold_factor", "nn", hold_factor},
    {"mw_hold_piston", "nnnnnn", hold_piston},
    {"hold_rating", "nnnnn", hold_rating},
    {"settle_seconds", "nnnn", settle_seconds},
    {"settle_clean_seconds", "nnnn", settle_clean_seconds},
    {"bubble_gain", "n", bubble_gain},
    {NULL, NULL, NULL},
};
