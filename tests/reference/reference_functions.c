/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "reference_functions.h"

#include <stddef.h>
#include <string.h>

static const struct reference_function *const tables[] = {
    reference_oil_functions,     reference_unit_functions,
    reference_blend_functions,   reference_damper_functions,
    reference_measure_functions,
};

const struct reference_function *reference_find(const char *name)
{
    for (size_t i = 0; i < sizeof tables / sizeof tables[0]; i++) {
        for (const struct reference_function *f = tables[i]; f->name; f++) {
            if (strcmp(name, f->name) == 0) {
                return f;
            }
        }
    }
    return NULL;
}
