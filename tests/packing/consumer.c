/* The share of an oil of 500 mm2/s in one of 350 that gives 550 at 12 C. */
#include <math.h>
#include <midweight/midweight.h>
#include <stdio.h>

int main(void)
{
    const struct mw_point thin = {350, 25}, thick = {500, 25};
    struct mw_oil pair[2];
    struct mw_method method;
    double share;
    unsigned warnings;
    enum mw_status status = mw_oil_make(MW_SILICONE, &thin, 1, NAN, &pair[0]);
    if (status == MW_OK) {
        status = mw_oil_make(MW_SILICONE, &thick, 1, NAN, &pair[1]);
    }
    if (status == MW_OK) {
        status = mw_method_default(pair, 2, &method);
    }
    if (status == MW_OK) {
        status = mw_mixture_share(pair, 550, 12, &method, &share, &warnings);
    }
    if (status != MW_OK) {
        fprintf(stderr, "no such mix: %s\n", mw_status_text(status));
        return 1;
    }
    printf("%.1f %%, midweight %s\n", 100 * share, mw_version());
    return 0;
}
