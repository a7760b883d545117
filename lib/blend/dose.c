/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "blend/dose.h"

#include <math.h>
#include <stdbool.h>

#include "base/positive.h"
#include "blend/dose_internal.h"
#include "fluid/units.h"

static bool amount_is_good(double amount)
{
    return amount >= 0 && isfinite(amount);
}

enum mw_status mw_dose_shares(const double *amounts, size_t n, double *shares,
                              double *total)
{
    double sum = 0;
    bool good = true;
    for (size_t i = 0; i < n; i++) {
        good = good && amount_is_good(amounts[i]);
        sum += amounts[i];
    }
    good = good && sum > 0 && isfinite(sum);
    for (size_t i = 0; i < n; i++) {
        shares[i] = good ? amounts[i] / sum : NAN;
    }
    if (total) {
        *total = good ? sum : NAN;
    }
    return good ? MW_OK : MW_ERR_AMOUNT;
}

static enum mw_status check_amount(double amount, double density)
{
    if (!amount_is_good(amount)) {
        return MW_ERR_AMOUNT;
    }
    return mw_density_in_range(density) ? MW_OK : MW_ERR_DENSITY;
}

/* amounts so large that the result has left the range of a double are none */
static enum mw_status accept(double candidate, double *result)
{
    *result = amount_is_good(candidate) ? candidate : NAN;
    return amount_is_good(candidate) ? MW_OK : MW_ERR_AMOUNT;
}

enum mw_status mw_dose_volume(double mass, double density, double *volume)
{
    *volume = NAN;
    enum mw_status status = check_amount(mass, density);
    return status == MW_OK ? accept(mass / density, volume) : status;
}

enum mw_status mw_dose_batch(double count, double each, double waste,
                             double *batch)
{
    double whole = count * each * (1 + waste);
    bool good =
        count > 0 && each > 0 && waste >= 0 && waste < 1 && isfinite(whole);
    *batch = good ? whole : NAN;
    return good ? MW_OK : MW_ERR_AMOUNT;
}

/* what rounding makes of "all of it" */
#define ROUNDING 1e-9

enum mw_status mw_dose_largest(const double *volumes, const double *left,
                               size_t n, double *part, size_t *shortest)
{
    double least = 1;
    *part = NAN;
    *shortest = n;
    for (size_t i = 0; i < n; i++) {
        if (!(volumes[i] >= 0 && isfinite(volumes[i])) || left[i] < 0) {
            *shortest = n;
            return MW_ERR_AMOUNT;
        }
        /* of nothing there is always enough: 0/0 is no less than anything */
        double here = left[i] / volumes[i];
        if (here < least && here < 1 - ROUNDING) {
            least = here;
            *shortest = i;
        }
    }
    *part = least;
    return MW_OK;
}

enum mw_status mw_dose_ratio(double share, int most, int *first, int *second)
{
    double best = INFINITY;
    *first = 0;
    *second = 0;
    if (!(share >= 0 && share <= 1)) {
        return MW_ERR_SHARES;
    }
    if (most < 1 || most > MW_PARTS_MAX) {
        return MW_ERR_AMOUNT;
    }
    /* by rising sums, so that of equals the lowest terms come first */
    for (int sum = 1; sum <= 2 * most; sum++) {
        int b = (int)lround(share * sum);
        int a = sum - b;
        double miss = fabs((double)b / sum - share);
        /* what rounding makes of an equal ratio is not nearer */
        if (a <= most && b <= most && miss < best * (1 - 1e-9)) {
            best = miss;
            *first = a;
            *second = b;
        }
    }
    return MW_OK;
}
