/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The library neither parses nor prints numbers, so a locale must change
 * nothing. The test is skipped where no locale with a decimal comma is
 * installed.
 */
#include <locale.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#include "check.h"
#include "fluid/units_internal.h"
#include "fluid/viscosity_index.h"
#include "midweight.h"

static bool set_decimal_comma(void)
{
    const char *const names[] = {"de_DE.UTF-8", "fr_FR.UTF-8", "nl_NL.UTF-8",
                                 "cs_CZ.UTF-8"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        if (setlocale(LC_ALL, names[i]) &&
            strcmp(localeconv()->decimal_point, ",") == 0) {
            return true;
        }
    }
    return false;
}

enum { RESULTS = 8 };

/* one result of each kind of computation in the library */
static void compute(double results[RESULTS])
{
    const struct mw_point p = {238.5, 25}, q = {385.2, 25};
    const struct mw_method method = {MW_RULE_ASTM, 0.2};
    const double shares[2] = {0.385, 0.615};
    enum mw_viscosity_unit unit = MW_POISE;
    struct mw_oil pair[2];
    check_ok(mw_oil_make(MW_SILICONE, &p, 1, NAN, &pair[0]));
    check_ok(mw_oil_make(MW_SILICONE, &q, 1, NAN, &pair[1]));
    check_ok(mw_mixture(pair, shares, 2, 18.5, &method, &results[0], NULL));
    check_ok(mw_mixture_share(pair, 300, 25, &method, &results[1], NULL));
    check_ok(mw_oil_density(&pair[0], 18.5, &results[2], NULL));
    check_ok(mw_viscosity_index(73.3, 8.86, &results[3]));
    check_ok(mw_v100_from_index(32.5, 98.5, &results[4]));
    check_ok(mw_sus(23.85, 38.5, &results[5]));
    check_ok(mw_walther_w(2.385, &results[6]));
    check_ok(mw_viscosity_unit_from_symbol("MPA.S", &unit));
    results[7] = unit;
}

static void a_decimal_comma_changes_nothing(void **state)
{
    double plain[RESULTS], comma[RESULTS];
    (void)state;
    compute(comma);
    setlocale(LC_ALL, "C");
    compute(plain);
    for (size_t i = 0; i < RESULTS; i++) {
        check_near(comma[i], plain[i], 0);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_decimal_comma_changes_nothing),
    };
    if (!set_decimal_comma()) {
        puts("1..0 # SKIP no locale with a decimal comma");
        return 0;
    }
    return cmocka_run_group_tests_name("locale", tests, NULL, NULL);
}
