/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdio.h>

#include "output/cautions.h"
#include "output/json.h"
#include "output/text.h"
#include "settle/settle.h"
#include "util/format.h"

enum { LABEL_COLUMNS = 30, LABEL_LENGTH = 64 };

#define MM 1000.0

const char *settle_advice_name(enum settle_advice advice)
{
    static const char *const names[] = {[ADVICE_STAND] = "stand",
                                        [ADVICE_WARM] = "warm",
                                        [ADVICE_PUMP] = "pump",
                                        [ADVICE_WAIT] = "wait"};
    return names[advice];
}

/* how much sooner, in per cent, a way is done than standing */
static double gain(const struct settle_answer *answer,
                   const struct mw_settle *way)
{
    return 100 * (1 - way->seconds / answer->still.seconds);
}

/* a gauge is not read to more than three figures */
static const char *kilopascals(const struct settle_request *request,
                               double pressure, char buffer[FORMAT_LENGTH])
{
    return request->by_gauge ? format_significant(pressure, 3, buffer)
                             : format_compact(pressure, buffer);
}

/* -- Text -------------------------------------------------------------- */

static void print_heading(const struct settle_request *request,
                          const struct settle_answer *answer)
{
    char time[FORMAT_LENGTH], bubble[FORMAT_LENGTH], depth[FORMAT_LENGTH];
    char pressure[FORMAT_LENGTH], viscosity[FORMAT_LENGTH];
    print_wrapped("Bubbles of %s mm are out of %s mm of oil in %s%s%s%s.",
                  format_compact(MM * request->bubble, bubble),
                  format_compact(MM * request->depth, depth),
                  format_duration(answer->asked.seconds, time),
                  request->has_pressure ? " at " : "",
                  request->has_pressure
                      ? kilopascals(request, request->pressure, pressure)
                      : "",
                  request->has_pressure ? " kPa absolute" : "");
    if (request->assumed && request->explain) {
        print_wrapped(
            "The size of the bubbles is our assumption: they are just "
            "seen. Half the size takes four times as long (--bubble).");
    }
    print_text("\n  the oil at %.6g C is %s mm2/s\n\n", request->temperature,
               format_significant(answer->viscosity, 3, viscosity));
}

static void print_way(const struct settle_answer *answer, const char *label,
                      const struct mw_settle *way)
{
    char slow[FORMAT_LENGTH], clean[FORMAT_LENGTH];
    print_text("  %-*s %10s %10s", (int)LABEL_COLUMNS, label,
               format_duration(way->seconds, slow),
               format_duration(way->clean_seconds, clean));
    if (way == &answer->still) {
        print_text("\n");
    } else {
        print_text("   %.0f %% %s\n", fabs(gain(answer, way)),
                   gain(answer, way) < 0 ? "longer" : "sooner");
    }
}

static void print_ways(const struct settle_request *request,
                       const struct settle_answer *answer)
{
    char label[LABEL_LENGTH], pressure[FORMAT_LENGTH];
    print_text("  %-*s %10s %10s\n", (int)LABEL_COLUMNS, "", "wait",
               "if mobile");
    print_way(answer, "stand", &answer->still);
    if (!isnan(answer->warm_t)) {
        snprintf(label, sizeof label, "stand, warmed to %.6g C",
                 answer->warm_t);
        print_way(answer, label, &answer->warm);
    }
    if (answer->vacuum) {
        snprintf(label, sizeof label, "pump to %s kPa absolute",
                 kilopascals(request, answer->pumped_kpa, pressure));
        print_way(answer, label, &answer->pumped);
    }
    if (request->has_pressure &&
        request->pressure >= MW_STANDARD_ATMOSPHERE_KPA) {
        snprintf(label, sizeof label, "at %s kPa absolute",
                 kilopascals(request, request->pressure, pressure));
        print_way(answer, label, &answer->asked);
    }
    print_text("\n");
}

/* what was assumed, and why */
static void explain(const struct settle_answer *answer)
{
    print_wrapped(
        "The wait is for bubbles with a rigid surface (Stokes), the slow "
        "bound; with a mobile surface they are a third faster.");
    if (answer->advice == ADVICE_WAIT) {
        print_wrapped(
            "Thick oil stands overnight in common practice (no source).");
    }
    if (answer->vacuum && answer->pumped.seconds <= SETTLE_PRACTICE) {
        print_wrapped("Pumping 20 to 30 s in place of minutes of standing is "
                      "common practice (no source).");
    }
    if (answer->vacuum) {
        print_wrapped("%s", CAUTION_VACUUM);
    }
}

static void print_advice(const struct settle_answer *answer)
{
    static const char *const advice[] = {
        [ADVICE_STAND] = "Let it stand: that is soon enough.",
        [ADVICE_WARM] = "Warm it and let it stand.",
        [ADVICE_PUMP] = "Pump, or let it stand and come back.",
        [ADVICE_WAIT] = "Allow several hours; pumping or warming saves time.",
    };
    print_wrapped("%s", advice[answer->advice]);
}

static void print_pressure_notes(const struct settle_request *request)
{
    if (request->by_gauge) {
        print_wrapped(
            "The gauge is read against standard air, %.6g kPa. The "
            "weather moves that by about 3 kPa, and 1000 m of height "
            "take about 11.5 kPa off it (from memory): near the end of "
            "the scale that is much.",
            MW_STANDARD_ATMOSPHERE_KPA);
    }
}

void settle_print(const struct settle_request *request,
                  const struct settle_answer *answer)
{
    print_heading(request, answer);
    print_ways(request, answer);
    print_advice(answer);
    print_pressure_notes(request);
    print_warnings(answer->warnings);
    if (request->explain) {
        explain(answer);
    } else if (answer->vacuum) {
        print_wrapped("%s", CAUTION_PUMP);
    }
    print_wrapped("%s", CAUTION_SETTLE);
}

/* -- JSON -------------------------------------------------------------- */

static json_t *json_way(const struct mw_settle *way)
{
    return json_pack("{s:o, s:o}", "seconds", json_number(way->seconds),
                     "clean_seconds", json_number(way->clean_seconds));
}

static json_t *json_warm(const struct settle_answer *answer)
{
    json_t *warm = json_null();
    if (!isnan(answer->warm_t)) {
        warm = json_way(&answer->warm);
        json_set(warm, "temperature", json_number(answer->warm_t));
    }
    return warm;
}

static json_t *json_pumped(const struct settle_answer *answer)
{
    json_t *pumped = json_null();
    if (answer->vacuum) {
        pumped = json_way(&answer->pumped);
        json_set(pumped, "pressure_kpa", json_number(answer->pumped_kpa));
    }
    return pumped;
}

static json_t *json_asked(const struct settle_request *request,
                          const struct settle_answer *answer)
{
    return json_pack(
        "{s:s, s:s, s:o, s:o, s:o, s:o, s:b, s:o}", "name", request->ref.name,
        "family", mw_family_name(request->ref.oil.family), "temperature",
        json_number(request->temperature), "viscosity",
        json_number(answer->viscosity), "depth_m", json_number(request->depth),
        "bubble_m", json_number(request->bubble), "bubble_assumed",
        request->assumed, "pressure_kpa", json_number(request->pressure));
}

enum exit_code settle_print_json(const struct settle_request *request,
                                 const struct settle_answer *answer,
                                 struct error *error)
{
    json_t *json = json_asked(request, answer);
    json_t *times = json_pack(
        "{s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:o, s:s, s:o, s:o}", "seconds",
        json_number(answer->asked.seconds), "clean_seconds",
        json_number(answer->asked.clean_seconds), "still_seconds",
        json_number(answer->still.seconds), "clean_still_seconds",
        json_number(answer->still.clean_seconds), "growth",
        json_number(answer->asked.growth), "reynolds",
        json_number(answer->asked.reynolds), "warm", json_warm(answer),
        "pumped", json_pumped(answer), "advice",
        settle_advice_name(answer->advice), "warnings",
        json_warnings(answer->warnings), "cautions",
        answer->vacuum ? json_pack("[s]", CAUTION_VACUUM) : json_array());
    json_object_update_missing(json, times);
    json_decref(times);
    return print_json("settle", json, error);
}
