/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* a quadratic form, which is less work than a solution */
#include <gsl/gsl_blas.h>
#include <gsl/gsl_permute_vector.h>
#include <stdbool.h>
#include <string.h>

#include "uncertainty/normal.h"

/* b' A^-1 b by the factors P A P' = L D L': |D^-1/2 L^-1 P b|^2, half the work
 * of a solution. b is lost. */
static double form_with(const double *factored, size_t size,
                        const size_t *order, double *b)
{
    gsl_matrix_const_view view =
        gsl_matrix_const_view_array(factored, size, size);
    gsl_vector_view x = gsl_vector_view_array(b, size);
    const gsl_permutation permutation = {size, (size_t *)order};
    double sum = 0;
    gsl_permute_vector(&permutation, &x.vector);
    gsl_blas_dtrsv(CblasLower, CblasNoTrans, CblasUnit, &view.matrix,
                   &x.vector);
    for (size_t i = 0; i < size; i++) {
        sum += b[i] * b[i] / factored[i * size + i];
    }
    return sum;
}

/* whether an entry is the first of its block, block 0 aside */
static bool is_first(const struct mw_normal *normal,
                     const struct mw_gradient *c, size_t entry)
{
    size_t block = normal->places[c->unknowns[entry]].block;
    bool first = block < normal->blocks;
    for (size_t i = 0; i < entry; i++) {
        first = first && normal->places[c->unknowns[i]].block != block;
    }
    return first;
}

/* c_i' D^-1 c_i of a block; s loses C' D^-1 c_i */
static double block_form(const struct mw_normal *normal,
                         const struct mw_gradient *c, size_t index, double *s)
{
    const struct mw_normal_block *block = &normal->list[index];
    double own[MW_BLOCK_MAX] = {0};
    for (size_t i = 0; i < c->count; i++) {
        const struct mw_normal_place *place = &normal->places[c->unknowns[i]];
        if (place->block == index) {
            own[place->row] = c->slopes[i];
        }
    }
    for (size_t i = 0; i < block->size; i++) {
        for (size_t j = 0; j < normal->shared; j++) {
            s[j] -= block->coupling[i * normal->shared + j] * own[i];
        }
    }
    return form_with(block->diagonal, block->size, block->order, own);
}

double mw_normal_form(const struct mw_normal *normal,
                      const struct mw_gradient *c)
{
    size_t shared = normal->shared;
    double *s = normal->scratch, sum = 0;
    memset(s, 0, shared * sizeof s[0]);
    for (size_t i = 0; i < c->count; i++) {
        const struct mw_normal_place *place = &normal->places[c->unknowns[i]];
        if (place->block == normal->blocks) {
            s[place->row] += c->slopes[i];
        } else if (is_first(normal, c, i)) {
            sum += block_form(normal, c, place->block, s);
        }
    }
    if (shared == 0) {
        return sum;
    }
    gsl_vector_const_view view = gsl_vector_const_view_array(s, shared);
    if (gsl_vector_isnull(&view.vector)) {
        return sum;
    }
    return sum + form_with(normal->dense, shared, normal->order, s);
}
