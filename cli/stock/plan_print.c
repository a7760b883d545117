/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* what a plan says, as text, CSV or JSON */
#include <math.h>
#include <stdio.h>

#include "output/csv.h"
#include "output/json.h"
#include "output/text.h"
#include "stock/plan.h"
#include "util/format.h"

/* -- Text -------------------------------------------------------------- */

static void print_reach(const struct planning *planning)
{
    const struct mw_plan *plan = &planning->plan;
    char low[FORMAT_LENGTH], high[FORMAT_LENGTH];
    if (isnan(plan->reach_low)) {
        print_wrapped("Nothing between %s and %s mm2/s at %g C can be mixed.",
                      format_compact(planning->low, low),
                      format_compact(planning->high, high), planning->rated);
    } else {
        print_wrapped("Mixes reach %s to %s mm2/s at %g C.",
                      format_significant(plan->reach_low, 3, low),
                      format_significant(plan->reach_high, 3, high),
                      planning->rated);
    }
}

/* the name of a mark, or "nothing" beyond the thinnest and the thickest */
static const char *mark_name(const struct planning *planning, size_t mark,
                             char name[TRUNCATED_LENGTH])
{
    return mark == MW_PLAN_EDGE
               ? "nothing"
               : truncate_columns(planning->places[mark].bottle->name, 24,
                                  name);
}

static void print_gap(const struct planning *planning)
{
    const struct mw_gap *gap = &planning->plan.widest;
    char thin[TRUNCATED_LENGTH], thick[TRUNCATED_LENGTH];
    char low[FORMAT_LENGTH], high[FORMAT_LENGTH], ratio[FORMAT_LENGTH];
    print_wrapped("The widest gap is %s to 1, from %s (%s) to %s (%s).",
                  format_significant(gap->ratio, 3, ratio),
                  format_significant(gap->low, 3, low),
                  mark_name(planning, gap->thin, thin),
                  format_significant(gap->high, 3, high),
                  mark_name(planning, gap->thick, thick));
    if (isfinite(planning->middle)) {
        print_wrapped(
            "A mix in the middle of it is known to +-%.1f %% (k = 2).",
            100 * MW_COVERAGE * planning->middle);
    }
}

/* the answer: which bottle to buy */
static void print_addition(const struct planning *planning)
{
    const struct mw_plan *plan = &planning->plan;
    const struct mw_gap *gap = &plan->widest;
    char v[FORMAT_LENGTH], now[FORMAT_LENGTH], then[FORMAT_LENGTH];
    format_significant(plan->addition, 2, v);
    if (gap->thin == MW_PLAN_EDGE || gap->thick == MW_PLAN_EDGE) {
        print_wrapped("One more bottle helps most near %s mm2/s at %g C, which "
                      "no mix reaches.",
                      v, planning->rated);
    } else {
        print_wrapped("One more bottle helps most near %s mm2/s at %g C: the "
                      "widest gap is then %s to 1, not %s.",
                      v, planning->rated,
                      format_significant(plan->addition_ratio, 3, then),
                      format_significant(gap->ratio, 3, now));
    }
}

static void print_spare(const struct planning *planning)
{
    const struct mw_plan *plan = &planning->plan;
    char ratio[FORMAT_LENGTH], name[TRUNCATED_LENGTH];
    if (plan->spare == MW_PLAN_EDGE) {
        print_wrapped(
            "No bottle can stay at home: each of them is needed to reach "
            "as far.");
    } else {
        print_wrapped("%s could stay at home: the widest gap is then %s to 1.",
                      truncate_columns(
                          planning->places[plan->spare].bottle->name, 24, name),
                      format_significant(plan->spare_ratio, 3, ratio));
    }
}

static void print_readings(const struct stock_network *network,
                           const struct mw_ranked_readings *ranked)
{
    char name[TRUNCATED_LENGTH];
    if (ranked->count == 0) {
        return;
    }
    print_wrapped("Mixes of this range are known to +-%.1f %% (k = 2). Timed "
                  "against a known oil (+-%.0f %%):",
                  100 * MW_COVERAGE * ranked->before,
                  100 * MW_COVERAGE * MW_CAREFUL_READING);
    for (size_t i = 0; i < ranked->count; i++) {
        const struct mw_ranked_reading *reading = &ranked->list[i];
        print_text("  ");
        print_padded(
            truncate_columns(stock_network_name(network, reading->bottle), 24,
                             name),
            24);
        print_text(" would make it +-%.1f %%\n",
                   100 * MW_COVERAGE * reading->after);
    }
}

/* -- JSON -------------------------------------------------------------- */

static json_t *json_readings(const struct stock_network *network,
                             const struct mw_ranked_readings *ranked)
{
    json_t *list = json_array();
    for (size_t i = 0; i < ranked->count; i++) {
        const struct mw_ranked_reading *reading = &ranked->list[i];
        json_append(list,
                    json_pack("{s:s, s:o}", "name",
                              stock_network_name(network, reading->bottle),
                              "expanded_percent",
                              json_number(100 * MW_COVERAGE * reading->after)));
    }
    return list;
}

static json_t *json_mark(const struct planning *planning, size_t mark)
{
    return mark == MW_PLAN_EDGE
               ? json_null()
               : json_string(planning->places[mark].bottle->name);
}

static enum exit_code print_as_json(const struct planning *planning,
                                    struct error *error)
{
    const struct mw_plan *plan = &planning->plan;
    const struct mw_gap *gap = &plan->widest;
    json_t *widest = json_pack(
        "{s:o, s:o, s:o, s:o, s:o, s:o}", "thin",
        json_mark(planning, gap->thin), "thick",
        json_mark(planning, gap->thick), "low", json_number(gap->low), "high",
        json_number(gap->high), "ratio", json_number(gap->ratio), "uncertainty",
        json_uncertainty_of(planning->middle,
                            mw_mixture_midway(gap->low, gap->high)));
    return print_json(
        "stock-plan",
        json_pack("{s:{s:o, s:o}, s:o, s:{s:o, s:o}, s:{s:o, s:o}, s:o}",
                  "reach", "low", json_number(plan->reach_low), "high",
                  json_number(plan->reach_high), "widest_gap", widest, "add",
                  "viscosity", json_number(plan->addition), "ratio",
                  json_number(plan->addition_ratio), "spare", "name",
                  json_mark(planning, plan->spare), "ratio",
                  json_number(plan->spare_ratio), "measure",
                  json_readings(&planning->network, &planning->readings)),
        error);
}

static void print_csv(const struct planning *planning)
{
    static const char *const titles[] = {"measure", "expanded_percent", NULL};
    csv_row(stdout, titles);
    for (size_t i = 0; i < planning->readings.count; i++) {
        const struct mw_ranked_reading *reading = &planning->readings.list[i];
        char percent[ROUNDTRIP_LENGTH];
        const char *const fields[] = {
            stock_network_name(&planning->network, reading->bottle),
            format_roundtrip(100 * MW_COVERAGE * reading->after, percent),
            NULL};
        csv_row(stdout, fields);
    }
}

enum exit_code plan_print(const struct args *args, bool csv,
                          const struct planning *planning, struct error *error)
{
    if (args->json) {
        return print_as_json(planning, error);
    }
    if (csv) {
        print_csv(planning);
        return EXIT_DONE;
    }
    print_addition(planning);
    print_reach(planning);
    print_gap(planning);
    print_spare(planning);
    print_readings(&planning->network, &planning->readings);
    return EXIT_DONE;
}
