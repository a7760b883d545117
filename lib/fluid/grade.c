/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "fluid/grade.h"

#include <math.h>
#include <stddef.h>

/* ISO 3448: grade and its midpoint in mm2/s at 40 C; the last two as ASTM D2422
 * has them (both read in print) */
static const struct {
    int vg;
    double midpoint;
} grades[] = {
    {2, 2.2},   {3, 3.2},     {5, 4.6},     {7, 6.8},     {10, 10},
    {15, 15},   {22, 22},     {32, 32},     {46, 46},     {68, 68},
    {100, 100}, {150, 150},   {220, 220},   {320, 320},   {460, 460},
    {680, 680}, {1000, 1000}, {1500, 1500}, {2200, 2200}, {3200, 3200},
};

/* ISO 3448: +-10 % of the midpoint; the last digits are for rounding, so that
 * the limit itself (50.6 for VG 46) belongs to the grade */
#define TOLERANCE (0.10 + 1e-12)

enum mw_status mw_iso_vg(double v40, int *vg)
{
    *vg = 0;
    for (size_t i = 0; i < sizeof grades / sizeof grades[0]; i++) {
        double midpoint = grades[i].midpoint;
        if (fabs(v40 - midpoint) <= TOLERANCE * midpoint) {
            *vg = grades[i].vg;
            return MW_OK;
        }
    }
    return MW_ERR_GRADE;
}

/* SAE J300: from this viscosity at 100 C up to the next */
static const struct {
    double least;
    int grade;
} engine_grades[] = {
    {6.9, 20}, {9.3, 30}, {12.5, 40}, {16.3, 50}, {21.9, 60}, {26.1, 0},
};

enum { ENGINE_ROWS = sizeof engine_grades / sizeof engine_grades[0] };

enum mw_status mw_sae_j300(double v100, int *grade)
{
    *grade = 0;
    for (size_t i = 0; i + 1 < ENGINE_ROWS; i++) {
        if (v100 >= engine_grades[i].least &&
            v100 < engine_grades[i + 1].least) {
            *grade = engine_grades[i].grade;
            return MW_OK;
        }
    }
    return MW_ERR_GRADE;
}
