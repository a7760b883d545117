/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* how a mix was calculated, and what was assumed */
#include <math.h>
#include <stdio.h>

#include "mix/mix.h"
#include "output/text.h"
#include "util/format.h"

/* the oil that was solved for, the last of two */
static size_t last_open(const struct mix_request *request,
                        const struct mix_answer *answer)
{
    const size_t *open = answer->result.mix.open;
    return open[1] < request->count ? open[1] : open[0];
}

static void print_method(const struct mix_request *request)
{
    const struct mw_method *method = &request->known->method;
    char excess[FORMAT_LENGTH], from[60] = "";
    if (mix_trial_mixes(request) > 0) {
        snprintf(from, sizeof from, ", from %zu of your mixes",
                 mix_trial_mixes(request));
    }
    if (method->excess != 0) {
        print_wrapped("Rule: %s (%s) with an excess of %s%s.",
                      mw_rule_standard(method->rule),
                      mw_rule_name(method->rule),
                      format_significant(method->excess, 2, excess), from);
    } else {
        print_wrapped("Rule: %s (%s).", mw_rule_standard(method->rule),
                      mw_rule_name(method->rule));
    }
    if (method->excess == MW_SILICONE_EXCESS) {
        print_wrapped(
            "The excess is chosen from four measured blends (0.12 to 0.25), "
            "none between 7 and 1000 mm2/s: a trial mix tells more.");
    }
}

/* what each rule of the standard gives by itself */
static void print_rules(const struct mix_answer *answer)
{
    const struct mw_mix *mix = &answer->result.mix;
    char astm[FORMAT_LENGTH], wright[FORMAT_LENGTH];
    if (isfinite(mix->by_rule[MW_RULE_WRIGHT])) {
        print_wrapped(
            "These shares by the rules alone: astm %s, wright %s mm2/s.",
            format_significant(mix->by_rule[MW_RULE_ASTM], 4, astm),
            format_significant(mix->by_rule[MW_RULE_WRIGHT], 4, wright));
    }
}

/* the standard alone, and how far the rules are apart */
static void print_plain(const struct mix_request *request,
                        const struct mix_answer *answer)
{
    char text[FORMAT_LENGTH], name[TRUNCATED_LENGTH];
    double spread = 100 * answer->result.mix.spread;
    if (request->has_target) {
        size_t solved = request->count == 2 ? 1 : last_open(request, answer);
        print_wrapped(
            "Plain D7152: %.1f %% of %s; the rules are %.1f %% apart.",
            100 * answer->result.plain_shares[solved],
            mix_name(request, solved, name), spread);
    } else {
        print_wrapped(
            "Plain D7152: %s mm2/s; the rules are %.1f %% apart.",
            format_significant(answer->result.mix.plain_viscosity, 3, text),
            spread);
    }
}

void mix_explain(const struct mix_request *request,
                 const struct mix_answer *answer)
{
    print_text("\n");
    print_method(request);
    print_plain(request, answer);
    print_rules(answer);
    oils_print_budget(&request->network, &answer->uncertainty);
    print_wrapped(
        "Assumed: %s oils; labels within their tolerance, rectangular; a dose "
        "without a tool to %.0f %% of the smallest; a thermometer to "
        "+-%.3g K. Where the constants come from stands in "
        "midweight-method(7).",
        mw_family_name(request->family), 100 * MW_DOSE_UNKNOWN,
        request->thermometer);
}
