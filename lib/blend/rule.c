/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "blend/rule.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

#include "blend/rule_entry.h"
#include "fluid/walther.h"

/* -- W of ASTM D341, the scale of both rules of D7152 ------------------- */

static double walther_scale(double v)
{
    double w;
    mw_walther_w(v, &w);
    return w;
}

static double walther_unscale(double w)
{
    double v;
    mw_walther_v(w, &v);
    return v;
}

static double walther_slope(double v)
{
    double slope;
    mw_walther_slope(v, &slope);
    return slope;
}

/* W = sum f W_i */
static void weigh_astm(double w, const struct mw_line *line, double x,
                       double *p, double *q)
{
    (void)line;
    (void)x;
    *p = w;
    *q = 1;
}

/* X = sum f (A - W)/B, solved for W */
static void weigh_wright(double w, const struct mw_line *line, double x,
                         double *p, double *q)
{
    (void)w;
    *p = line->a / line->b - x;
    *q = 1 / line->b;
}

/* -- The table ---------------------------------------------------------- */

static const struct mw_rule_entry rules[] = {
    [MW_RULE_ASTM] = {"astm", "ASTM D7152", false, weigh_astm, walther_scale,
                      walther_unscale, walther_slope},
    [MW_RULE_WRIGHT] = {"wright", "ASTM D7152", true, weigh_wright,
                        walther_scale, walther_unscale, walther_slope},
};

enum { RULES = sizeof rules / sizeof rules[0] };

const struct mw_rule_entry *mw_rule_entry(enum mw_rule rule)
{
    return (unsigned)rule < RULES ? &rules[rule] : NULL;
}

const char *mw_rule_name(enum mw_rule rule)
{
    const struct mw_rule_entry *entry = mw_rule_entry(rule);
    return entry ? entry->name : "?";
}

const char *mw_rule_standard(enum mw_rule rule)
{
    const struct mw_rule_entry *entry = mw_rule_entry(rule);
    return entry ? entry->standard : "?";
}

enum mw_status mw_rule_from_name(const char *name, enum mw_rule *rule)
{
    for (size_t i = 0; i < RULES; i++) {
        if (strcmp(name, rules[i].name) == 0) {
            *rule = (enum mw_rule)i;
            return MW_OK;
        }
    }
    return MW_ERR_NAME;
}
