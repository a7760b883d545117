/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdlib.h>

#include "mix/mix.h"
#include "util/xalloc.h"

/* The parts of each oil's error; the label of an oil written out is its
 * own, under a number that no bottle has. To be freed. */
static struct mw_shared *find_shared(const struct mix_request *request)
{
    struct mw_shared *shared = xcalloc(request->all, sizeof shared[0]);
    for (size_t i = 0; i < request->all; i++) {
        shared[i] = request->refs[i].shared;
        if (shared[i].count == 0) {
            mw_shared_complete(&shared[i], -1 - (long long)i,
                               request->uncertainty[i]);
        }
    }
    return shared;
}

/* the sources of uncertainty: labels or readings, the excess, the
 * thermometer, the silicone law, the graduations of the tool */
enum exit_code mix_find_uncertainty(const struct mix_request *request,
                                    const struct mw_mix_job *job,
                                    struct mix_answer *answer,
                                    struct error *error)
{
    struct mw_shared *shared = find_shared(request);
    const struct mw_mix_inputs inputs = {request->uncertainty,
                                         request->excess_uncertainty,
                                         request->thermometer, NULL, shared};
    enum mw_status status =
        mw_mix_uncertainty(job, &answer->mix, &inputs, &answer->budget);
    free(shared);
    if (status == MW_OK) {
        status = mw_budget_band(&answer->budget, answer->mix.viscosity,
                                &answer->low, &answer->high);
    }
    if (status == MW_ERR_UNCERTAINTY || status == MW_ERR_VISCOSITY) {
        /* so near an end of a range that the uncertainty reaches beyond it */
        answer->low = NAN;
        answer->high = NAN;
        status = MW_OK;
    }
    return status == MW_OK ? EXIT_DONE
                           : mix_refuse(request, answer, status, error);
}
