/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* a bottle as text */
#include <math.h>
#include <stdio.h>

#include "output/text.h"
#include "stock/show.h"
#include "util/format.h"

const char *show_agreement(enum mw_agreement agreement)
{
    static const char *const texts[] = {[MW_AGREES] = "counted",
                                        [MW_WIDENED] = "widened",
                                        [MW_SET_ASIDE] = "set aside"};
    return texts[agreement];
}

static void print_value(const struct bottle *bottle)
{
    const struct mw_point *best = &bottle->best.oil.points[0];
    char v[FORMAT_LENGTH];
    print_wrapped("%s is %s mm2/s at %.6g C, +-%.1f %% (k = 2).", bottle->name,
                  format_significant(best->viscosity, 3, v), best->temperature,
                  100 * MW_COVERAGE * bottle->best.uncertainty);
}

static void print_label(const struct shown *shown)
{
    const struct bottle *bottle = &shown->bottle;
    char v[FORMAT_LENGTH];
    print_text("  %-10s %s", bottle->mixed ? "calculated" : "label",
               mw_family_name(bottle->label.family));
    for (size_t i = 0; i < bottle->label.count; i++) {
        print_text(", %s mm2/s at %.6g C",
                   format_compact(bottle->label.points[i].viscosity, v),
                   bottle->label.points[i].temperature);
    }
    print_text(", +-%.2g %%; %s", 100 * bottle->tolerance, bottle->added);
    if (shown->label != MW_AGREES) {
        print_text(" (%s)", show_agreement(shown->label));
    }
    print_text("\n");
}

static void print_reading(const struct shown *shown, size_t i)
{
    const struct stock_reading *reading = &shown->bottle.readings[i];
    char v[FORMAT_LENGTH], method[TRUNCATED_LENGTH];
    print_text("  %-7s %2zu %s mm2/s at %.6g C, +-%.1f %%; %s", "reading",
               i + 1, format_compact(reading->value.viscosity, v),
               reading->value.temperature,
               100 * MW_COVERAGE * reading->value.uncertainty, reading->taken);
    if (*reading->method) {
        print_text(", %s", truncate_columns(reading->method, 24, method));
    }
    if (shown->readings[i] != MW_AGREES) {
        print_text(" (%s)", show_agreement(shown->readings[i]));
    }
    print_text("\n");
}

static void print_recipe(const struct recipe *recipe)
{
    char ml[FORMAT_LENGTH];
    for (size_t i = 0; i < recipe->count; i++) {
        print_text("  %-10s %s ml of %s; %s\n", i == 0 ? "made of" : "",
                   format_significant(recipe->parts[i].volume_ml, 3, ml),
                   recipe->parts[i].parent_name, recipe->made);
    }
}

/* what was taken from it, and what it was before */
static void print_journal(const struct shown *shown)
{
    const struct journal *journal = &shown->journal;
    char ml[FORMAT_LENGTH];
    for (size_t i = 0; i < journal->use_count; i++) {
        const struct use *use = &journal->uses[i];
        if (use->bottle == shown->bottle.id) {
            print_text("  %-10s %s ml; %s%s%s\n", "used",
                       format_significant(use->volume_ml, 3, ml), use->made,
                       *use->note ? ", " : "", use->note);
        }
    }
    /* the fills before it, one after the other; a hostile file may make them
     * circular */
    const struct fill *fill = journal_fill(journal, shown->bottle.id);
    for (size_t i = 0; fill && i < journal->fill_count; i++) {
        print_text("  %-10s %s; %s\n", "before", fill->previous_name,
                   fill->made);
        fill = journal_fill(journal, fill->previous);
    }
}

/* the mixes that it went into */
static void print_into(const struct shown *shown)
{
    char ml[FORMAT_LENGTH];
    for (size_t i = 0; i < shown->into_count; i++) {
        const struct recipe *recipe = &shown->into[i];
        for (size_t j = 0; j < recipe->count; j++) {
            if (recipe->parts[j].parent == shown->bottle.id) {
                print_text(
                    "  %-10s %s ml for %s; %s\n", "mixed",
                    format_significant(recipe->parts[j].volume_ml, 3, ml),
                    recipe->name, recipe->made);
            }
        }
    }
}

static void print_rest(const struct bottle *bottle)
{
    char ml[FORMAT_LENGTH];
    if (!isnan(bottle->left_ml)) {
        print_text("  %-10s %s ml\n", "left",
                   format_significant(bottle->left_ml, 3, ml));
    }
    if (!isnan(bottle->drop_ml)) {
        print_text("  %-10s %s ml\n", "drop",
                   format_significant(bottle->drop_ml, 3, ml));
    }
    if (*bottle->note) {
        print_text("  %-10s %s\n", "note", bottle->note);
    }
}

void show_print(const struct shown *shown)
{
    const struct bottle *bottle = &shown->bottle;
    print_value(bottle);
    print_text("\n");
    print_label(shown);
    for (size_t i = 0; i < bottle->reading_count; i++) {
        print_reading(shown, i);
    }
    print_recipe(&shown->recipe);
    print_into(shown);
    print_journal(shown);
    print_rest(bottle);
    print_text("\n");
    if (shown->explain) {
        oils_print_budget(&shown->network, &shown->uncertainty);
    } else {
        oils_print_uncertainty(&shown->network, &shown->uncertainty);
    }
    if (bottle->reading_count > 0) {
        print_wrapped("midweight stock reading NAME --delete K deletes reading "
                      "K.");
    }
}
