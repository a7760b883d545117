/* There are 12 ml of 380 mm2/s, and 0.5 ml of 1000 stay on the walls: how much
 * of 300 makes it 350, and how sure is that? */
#include <math.h>
#include <midweight/midweight.h>
#include <stdio.h>

enum { OILS = 3 };

int main(void)
{
    const struct mw_point labels[OILS] = {{380, 25}, {300, 25}, {1000, 25}};
    const struct mw_mix_part parts[OILS] = {{MW_AMOUNT_ML, 12, NAN},
                                            {MW_AMOUNT_OPEN, NAN, NAN},
                                            {MW_AMOUNT_ML, 0.5, NAN}};
    /* labels good to 5 %, a thermometer good to 1 degree */
    const double u[OILS] = {0.029, 0.029, 0.029};
    const struct mw_mix_inputs inputs = {u, mw_usual_excess_uncertainty(),
                                         MW_THERMOMETER, NULL};
    const struct mw_tools syringe = {0.2, 5, 0, 0};
    struct mw_mix_job job = {OILS, NULL, parts, 25,      350, {MW_RULE_ASTM, 0},
                             NAN,  NAN,  NULL,  syringe, NULL};
    struct mw_oil oils[OILS];
    struct mw_mix mix;
    struct mw_budget budget;
    struct mw_recipe recipe;
    double low, high;
    enum mw_status status = MW_OK;
    for (int i = 0; i < OILS && status == MW_OK; i++) {
        status = mw_oil_make(MW_SILICONE, &labels[i], 1, NAN, &oils[i]);
    }
    job.oils = oils;
    if (status != MW_OK ||
        (status = mw_method_default(oils, OILS, &job.method)) != MW_OK ||
        (status = mw_mix_solve(&job, &mix)) != MW_OK ||
        (status = mw_mix_uncertainty(&job, &mix, &inputs, &budget)) != MW_OK ||
        (status = mw_recipe(&job, &mix, 2 * mw_budget_combined(&budget),
                            &recipe)) != MW_OK ||
        (status = mw_budget_band(&budget, recipe.viscosity, &low, &high)) !=
            MW_OK) {
        fprintf(stderr, "no such mix: %s\n", mw_status_text(status));
        return 1;
    }
    printf("%.1f ml, %.0f to %.0f mm2/s, midweight %s\n",
           recipe.doses[1].volume_ml, low, high, mw_version());
    return 0;
}
