/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "sheets/table/mix_text.h"

#include <stdio.h>
#include <string.h>

#include "sheets/sheet.h"
#include "util/format.h"

void mix_batch_text(const struct dosing *dosing,
                    const struct recipe_rows *recipe_rows, char text[MIX_TEXT])
{
    char low[FORMAT_LENGTH], high[FORMAT_LENGTH], each[FORMAT_LENGTH];
    char asked[3 * FORMAT_LENGTH] = "", range[2 * FORMAT_LENGTH] = "";
    const char *unit = dosing->each.kind == MW_AMOUNT_G ? "g" : "ml";
    format_significant(recipe_rows->least_batch, 3, low);
    format_significant(recipe_rows->most_batch, 3, high);
    if (strcmp(low, high) != 0) {
        snprintf(range, sizeof range, " to %s", high);
    }
    if (dosing->count != 1) {
        snprintf(asked, sizeof asked, ", for %.6g \u00d7 %s %s", dosing->count,
                 format_compact(dosing->each.value, each), unit);
    }
    snprintf(text, MIX_TEXT, "makes %s%s %s%s", low, range, unit, asked);
}

static bool has_few(const struct recipe_rows *recipe_rows)
{
    for (size_t i = 0; i < recipe_rows->count; i++) {
        if (recipe_rows->list[i].few[0] || recipe_rows->list[i].few[1]) {
            return true;
        }
    }
    return false;
}

/* as the command mix says it */
static const char *flow_text(const struct blend_pair *pair)
{
    bool thick = pair->thick >= MW_SHEAR_THICK;
    return thick && pair->known.oils[0].family == MW_SILICONE
               ? " Thick silicone thins in fast flow, a wide mix earlier."
               : "";
}

void mix_foot_text(const struct blend_pair *pair, const struct dosing *dosing,
                   const struct recipe_rows *recipe_rows,
                   const struct mix_table *mix_table, char text[MIX_TEXT])
{
    bool shares = mix_table_has(mix_table, MIX_SHARE);
    char steps[160] = "", ratio[100] = "", step[60], number[FORMAT_LENGTH];
    if (dosing->tools.drop_ml > 0) {
        snprintf(step, sizeof step, "drops");
    } else {
        snprintf(step, sizeof step, "steps of %s %s",
                 format_compact(dose_step(dosing), number), dose_unit(dosing));
    }
    if (any_tool(&dosing->tools)) {
        snprintf(steps, sizeof steps,
                 " Doses are whole %s; they miss the target by up to %.2f %%.",
                 step, 100 * recipe_rows->worst_miss);
    }
    if (mix_table_has(mix_table, MIX_RATIO) &&
        !mix_table_has(mix_table, MIX_GIVES)) {
        snprintf(ratio, sizeof ratio, "; A : B meets the target within %.1f %%",
                 100 * recipe_rows->worst_ratio);
    }
    snprintf(text, MIX_TEXT, "%s%s%s%s%s%s%s",
             shares ? "Shares are of volume" : "", ratio, shares ? ". " : "",
             mix_table_has(mix_table, MIX_BAND) ? SHEET_BAND_MEANS
                                                : SHEET_DOUBT_MEANS,
             steps,
             has_few(recipe_rows)
                 ? " A dose with * is under ten graduations, hard to measure: "
                   "make a larger batch or use a finer tool."
                 : "",
             flow_text(pair));
}

void mix_method_text(const struct blend_pair *pair, char text[MIX_TEXT])
{
    char excess[120] = "", k[FORMAT_LENGTH], ref[SOURCE_LENGTH];
    bool lines = pair->known.oils[0].has_line || pair->known.oils[1].has_line;
    if (pair->known.method.excess != 0) {
        snprintf(excess, sizeof excess, " with an excess of %s (%s)",
                 format_significant(pair->known.method.excess, 2, k),
                 pair_excess_source(pair, ref));
    }
    snprintf(text, MIX_TEXT,
             "The viscosity of a mix is calculated by ASTM D7152 (%s)%s. "
             "Temperature: %s.\n"
             "Each recipe is what midweight mix answers. What the bottles, "
             "the excess and the doses are uncertain by is combined by the GUM "
             "(JCGM 100:2008), k = 2.\n"
             "A batch is up to %.0f %% larger than asked for where whole "
             "steps then meet the target better, and never smaller. The step "
             "from one recipe to the next is no finer than a quarter of the "
             "uncertainty, unless --step asks for it.",
             mw_rule_name(pair->known.method.rule), excess,
             lines ? "lines of ASTM D341"
                   : "the law of silicone (J. Phys. Conf. Ser. 327 (2011) "
                     "012029)",
             100 * MW_RECIPE_EXCESS);
}
