/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/against_how.h"

#include <string.h>

#include "measure/cups.h"

static const struct {
    const char *name;
    enum mw_against_how how;
} hows[] = {{"cup", MW_AGAINST_CUP},
            {"syringe", MW_AGAINST_SYRINGE},
            {"ball", MW_AGAINST_BALL},
            {"damper", MW_AGAINST_DAMPER}};

bool against_how_find(const char *name, enum mw_against_how *how)
{
    for (size_t i = 0; i < sizeof hows / sizeof hows[0]; i++) {
        if (strcmp(hows[i].name, name) == 0) {
            *how = hows[i].how;
            return true;
        }
    }
    return false;
}

const char *against_how_name(enum mw_against_how how)
{
    size_t i = 0;
    while (hows[i].how != how) {
        i++;
    }
    return hows[i].name;
}

enum exit_code against_how_jet(const char *constants, enum mw_against_how how,
                               double *B, double *u, struct error *error)
{
    struct mw_cup cup;
    mw_against_usual_jet(B, u);
    if (!constants) {
        return EXIT_DONE;
    }
    if (how != MW_AGAINST_CUP && how != MW_AGAINST_SYRINGE) {
        return refuse(error, "--constants are those of a cup or a syringe");
    }
    enum exit_code code =
        parse_cup_constants("--constants", constants, &cup, error);
    *B = cup.b;
    *u = 0;
    return code;
}
