/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The work that a share with an excess takes: the evaluations of the forward
 * rule (of W) are counted by wrapping mw_walther_w() when this program is
 * linked.
 */
#include "blend/pair.h"
#include "check.h"

enum { MOST = 12 };

static int evaluations;

enum mw_status __real_mw_walther_w(double v, double *w);
enum mw_status __wrap_mw_walther_w(double v, double *w);

enum mw_status __wrap_mw_walther_w(double v, double *w)
{
    evaluations++;
    return __real_mw_walther_w(v, w);
}

/* the evaluations for a target, beyond those of the two oils; 0 where the
 * excess is too large for the pair */
static int count(double v1, double v2, double target, double excess)
{
    const struct mw_line no_lines[2] = {{NAN, NAN}, {NAN, NAN}};
    const double v[2] = {v1, v2};
    double share;
    struct mw_pair pair = mw_pair_of(no_lines, v, NAN, MW_RULE_ASTM, excess);
    evaluations = 0;
    enum mw_status status = mw_pair_share(&pair, target, &share);
    assert_true(status == MW_OK || status == MW_ERR_EXCESS);
    return status == MW_OK ? evaluations : 0;
}

/* K of silicone and the ends of its band (mixture.h); oils up to 100 : 1 */
static void a_share_takes_few_evaluations(void **state)
{
    const double excesses[] = {0.10, 0.20, 0.30};
    int most = 0;
    (void)state;
    for (size_t i = 0; i < sizeof excesses / sizeof excesses[0]; i++) {
        for (double v = 2.385; v < 1e6; v *= 1.37) {
            for (double r = 1.007; r < 100 && r * v < 1e6; r *= 1.13) {
                for (double part = 0.0137; part < 1; part += 0.0231) {
                    int here = count(v, r * v, v * pow(r, part), excesses[i]);
                    most = here > most ? here : most;
                }
            }
        }
    }
    assert_in_range(most, 1, MOST);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_share_takes_few_evaluations),
    };
    return cmocka_run_group_tests_name("pair_steps", tests, NULL, NULL);
}
