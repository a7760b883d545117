/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <string.h>

#include "check.h"
#include "midweight.h"

/* the version is the same in the build, as a string and as numbers */
static void one_version(void **state)
{
    char numbers[32];
    (void)state;
    snprintf(numbers, sizeof numbers, "%d.%d.%d", MW_VERSION_MAJOR,
             MW_VERSION_MINOR, MW_VERSION_PATCH);
    assert_string_equal(MW_VERSION, VERSION);
    assert_string_equal(numbers, VERSION);
    assert_string_equal(mw_version(), VERSION);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_version),
    };
    return cmocka_run_group_tests_name("version", tests, NULL, NULL);
}
