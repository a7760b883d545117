/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "output/json.h"
#include "output/text.h"
#include "output/uncertainty.h"

/* what would shrink each line of the budget */
static const char *remedy(const char *contribution)
{
    static const struct {
        const char *name, *remedy;
    } remedies[] = {
        {MW_FROM_OILS, "measure the bottles"},
        {MW_FROM_EXCESS, "measure a trial mix"},
        {MW_FROM_TEMPERATURE, "a better thermometer, and --thermometer"},
        {MW_FROM_LAW, "measure the bottles at this temperature"},
        {MW_FROM_DOSING, "a finer tool or a larger batch"},
    };
    for (size_t i = 0; i < sizeof remedies / sizeof remedies[0]; i++) {
        if (strcmp(contribution, remedies[i].name) == 0) {
            return remedies[i].remedy;
        }
    }
    return "measure it";
}

void print_uncertainty(const struct mw_budget *budget)
{
    const char *largest = mw_budget_dominant(budget);
    for (size_t i = 0; largest && i < budget->count; i++) {
        double percent;
        if (budget->parts[i].name == largest &&
            mw_budget_share(budget, i, &percent) == MW_OK) {
            print_wrapped("Most of the doubt: %s (%.0f %%). What helps: %s.",
                          largest, percent, remedy(largest));
            return;
        }
    }
}

json_t *json_budget(const struct mw_budget *budget)
{
    json_t *list = json_array();
    for (size_t i = 0; i < budget->count; i++) {
        double percent;
        mw_budget_share(budget, i, &percent);
        json_append(list, json_pack("{s:s, s:o}", "name", budget->parts[i].name,
                                    "percent", json_number(percent)));
    }
    return list;
}
