/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * reference_functions - the functions that a row of a reference file can name.
 *
 * A new function is one adapter and one row of the table at the end of its
 * file; a new file of adapters is one line here and one in
 * reference_functions.c. Functions of the library keep their names; one that
 * combines several has a name without mw_.
 */
#ifndef REFERENCE_FUNCTIONS_H
#define REFERENCE_FUNCTIONS_H

#include "midweight.h"

enum { REFERENCE_INPUTS_MAX = 20 };

/** One input of a row: a number, or a name such as "wright". */
struct reference_input {
    double number; /* NaN for a name */
    const char *name;
};

typedef const struct reference_input *reference_inputs;

/**
 * Run one function of the library.
 *
 * Given:     in      as many inputs as the table says
 * Returned:  got     the result as the library left it, failed or not
 * Failures:  those of the function
 */
typedef enum mw_status reference_adapter(reference_inputs in, double *got);

struct reference_function {
    const char *name;
    const char *kinds; /* a letter for each input: n: a number, s: a name */
    reference_adapter *adapter;
};

/* one table in each file of adapters, ended by a row of NULLs */
extern const struct reference_function reference_oil_functions[];
extern const struct reference_function reference_unit_functions[];
extern const struct reference_function reference_blend_functions[];
extern const struct reference_function reference_damper_functions[];
extern const struct reference_function reference_measure_functions[];

/** The function with a name, NULL when there is none. */
const struct reference_function *reference_find(const char *name);

#endif
