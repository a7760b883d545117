/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * midweight - the in-between oil, and what it is at today's temperature.
 *
 * The umbrella header. Each module's own header is its manual.
 *
 * Conventions of the whole library:
 *   - kinematic viscosity in mm2/s (1 cSt), dynamic viscosity in mPa.s,
 *     temperature in degrees Celsius, density in g/ml, volume in ml, mass in g;
 *     fractions and shares run from 0 to 1, and shares are of volume;
 *   - a function that can fail returns enum mw_status and leaves NaN behind
 *     every result pointer when it does; nothing is clamped silently;
 *   - nothing is printed or kept between calls, and nothing is allocated but by
 *     a network (network.h) and what makes one: every function is thread-safe;
 *   - GSL's process-wide error handler is left alone, and inputs are checked
 *     before GSL sees them.
 *
 * What is declared here is public; nothing else is exported or installed. Enums
 * and lists may grow at their ends with a minor version. Structs keep their
 * size while the N of libmidweight.so.N is the same: what ran with one of them
 * runs with every later one.
 */
#ifndef MIDWEIGHT_H
#define MIDWEIGHT_H

#include "advice/choose.h"
#include "advice/next_reading.h"
#include "advice/plan.h"
#include "advice/rank_readings.h"
#include "advice/trial_mix.h"
#include "base/range.h"
#include "base/status.h"
#include "bench/ball.h"
#include "bench/ball_choice.h"
#include "bench/cup.h"
#include "bench/outlier.h"
#include "bench/relative.h"
#include "bench/slope.h"
#include "bench/timing.h"
#include "blend/dose.h"
#include "blend/mix.h"
#include "blend/mixture.h"
#include "blend/recipe.h"
#include "blend/rule.h"
#include "damper/bubble.h"
#include "damper/damper.h"
#include "damper/match.h"
#include "fluid/chart.h"
#include "fluid/family.h"
#include "fluid/grade.h"
#include "fluid/oil.h"
#include "fluid/shear.h"
#include "fluid/units.h"
#include "table/bottle.h"
#include "table/dosing.h"
#include "table/mix_answer.h"
#include "table/network.h"
#include "uncertainty/budget.h"

#ifdef __cplusplus
extern "C" {
#endif

/** The version that a program is compiled with. */
#define MW_VERSION_MAJOR 0
#define MW_VERSION_MINOR 2
#define MW_VERSION_PATCH 0
#define MW_VERSION       "0.2.0"

/**
 * The version that a program runs with.
 *
 * Returned:  such as "0.2.0": that of the library, where MW_VERSION is that of
 *            the headers
 */
MW_API const char *mw_version(void);

#ifdef __cplusplus
}
#endif

#endif
