/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "uncertainty/normal.h"

#include <gsl/gsl_linalg.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

/* -- Setting up ----------------------------------------------------------- */

/* where each unknown stands, and how large the blocks are */
static enum mw_status place_all(const struct mw_unknown *unknowns,
                                struct mw_normal *normal)
{
    size_t last = 0;
    for (size_t i = 0; i < normal->n; i++) {
        size_t number = unknowns[i].block;
        if (number == 0) {
            normal->places[i].row = normal->shared++;
            continue;
        }
        if (i == 0 || unknowns[i - 1].block != number) {
            normal->blocks++;
            if (number <= last) {
                return MW_ERR_BUDGET;
            }
            last = number;
        }
        struct mw_normal_block *block = &normal->list[normal->blocks - 1];
        normal->places[i].block = normal->blocks - 1;
        normal->places[i].row = block->size++;
        if (block->size > MW_BLOCK_MAX) {
            return MW_ERR_BUDGET;
        }
    }
    return MW_OK;
}

static size_t memory_of(const struct mw_normal *normal)
{
    size_t size = normal->shared * (normal->shared + 1) + 1;
    for (size_t i = 0; i < normal->blocks; i++) {
        size_t rows = normal->list[i].size;
        size += rows * rows + rows * normal->shared;
    }
    return size;
}

static void divide_memory(struct mw_normal *normal)
{
    double *next = normal->memory;
    size_t *order = normal->orders;
    normal->order = order;
    order += normal->shared;
    normal->dense = next;
    next += normal->shared * normal->shared;
    normal->scratch = next;
    next += normal->shared;
    for (size_t i = 0; i < normal->blocks; i++) {
        struct mw_normal_block *block = &normal->list[i];
        block->diagonal = next;
        next += block->size * block->size;
        block->coupling = next;
        next += block->size * normal->shared;
        block->order = order;
        order += block->size;
    }
}

enum mw_status mw_normal_make(const struct mw_unknown *unknowns, size_t n,
                              struct mw_normal *normal)
{
    *normal = (struct mw_normal){.n = n};
    normal->places = calloc(n + 1, sizeof normal->places[0]);
    normal->list = calloc(n + 1, sizeof normal->list[0]);
    normal->orders = calloc(n + 1, sizeof normal->orders[0]);
    if (!normal->places || !normal->list || !normal->orders) {
        return MW_ERR_MEMORY;
    }
    enum mw_status status = place_all(unknowns, normal);
    if (status != MW_OK) {
        return status;
    }
    for (size_t i = 0; i < n; i++) {
        if (unknowns[i].block == 0) {
            normal->places[i].block = normal->blocks;
        }
    }
    if (normal->shared > MW_SHARED_MAX) {
        return MW_ERR_BUDGET;
    }
    normal->memory = calloc(memory_of(normal), sizeof normal->memory[0]);
    if (!normal->memory) {
        return MW_ERR_MEMORY;
    }
    divide_memory(normal);
    return MW_OK;
}

void mw_normal_free(struct mw_normal *normal)
{
    free(normal->places);
    free(normal->list);
    free(normal->orders);
    free(normal->memory);
    *normal = (struct mw_normal){0};
}

void mw_normal_clear(struct mw_normal *normal)
{
    memset(normal->memory, 0, memory_of(normal) * sizeof normal->memory[0]);
}

/* -- Adding up ------------------------------------------------------------ */

/* to the place of two unknowns: in a block, in block 0, or between them */
static void add_at(struct mw_normal *normal, size_t i, size_t j, double value)
{
    const struct mw_normal_place *a = &normal->places[i];
    const struct mw_normal_place *b = &normal->places[j];
    if (a->block == normal->blocks && b->block == normal->blocks) {
        normal->dense[a->row * normal->shared + b->row] += value;
    } else if (a->block == b->block) {
        struct mw_normal_block *block = &normal->list[a->block];
        block->diagonal[a->row * block->size + b->row] += value;
    } else if (b->block == normal->blocks) {
        struct mw_normal_block *block = &normal->list[a->block];
        block->coupling[a->row * normal->shared + b->row] += value;
    }
}

void mw_normal_add_diagonal(struct mw_normal *normal, size_t index,
                            double weight)
{
    add_at(normal, index, index, weight);
}

void mw_normal_add(struct mw_normal *normal, const struct mw_gradient *h,
                   double weight)
{
    for (size_t i = 0; i < h->count; i++) {
        for (size_t j = 0; j < h->count; j++) {
            add_at(normal, h->unknowns[i], h->unknowns[j],
                   weight * h->slopes[i] * h->slopes[j]);
        }
    }
}

/* -- Factors -------------------------------------------------------------- */

/* NOLINTNEXTLINE(readability-non-const-parameter): it is permuted */
static enum mw_status factor(double *matrix, size_t size, size_t *order)
{
    bool positive = true;
    if (size == 0) {
        return MW_OK;
    }
    gsl_matrix_view view = gsl_matrix_view_array(matrix, size, size);
    gsl_permutation permutation = {size, order};
    gsl_linalg_pcholesky_decomp(&view.matrix, &permutation);
    for (size_t i = 0; i < size; i++) {
        positive = positive && matrix[i * size + i] > 0;
    }
    return positive ? MW_OK : MW_ERR_UNCERTAINTY;
}

static void solve_with(const double *factored, size_t size, const size_t *order,
                       double *b, size_t stride)
{
    gsl_matrix_const_view view =
        gsl_matrix_const_view_array(factored, size, size);
    gsl_vector_view x = gsl_vector_view_array_with_stride(b, stride, size);
    const gsl_permutation permutation = {size, (size_t *)order};
    gsl_linalg_pcholesky_svx(&view.matrix, &permutation, &x.vector);
}

/* the columns of a coupling that are not all zero: a block shares few unknowns
 */
static size_t used_columns(const struct mw_normal_block *block, size_t shared,
                           size_t columns[MW_SHARED_MAX])
{
    size_t count = 0;
    for (size_t j = 0; j < shared; j++) {
        bool used = false;
        for (size_t i = 0; i < block->size; i++) {
            used = used || block->coupling[i * shared + j] != 0;
        }
        if (used) {
            columns[count++] = j;
        }
    }
    return count;
}

/* S -= C' D^-1 C, and the coupling becomes D^-1 C */
static enum mw_status eliminate(struct mw_normal *normal,
                                struct mw_normal_block *block)
{
    double before[MW_BLOCK_MAX];
    size_t columns[MW_SHARED_MAX], shared = normal->shared;
    size_t count = used_columns(block, shared, columns);
    enum mw_status status = factor(block->diagonal, block->size, block->order);
    for (size_t m = 0; m < count && status == MW_OK; m++) {
        size_t j = columns[m];
        for (size_t i = 0; i < block->size; i++) {
            before[i] = block->coupling[i * shared + j];
        }
        solve_with(block->diagonal, block->size, block->order,
                   block->coupling + j, shared);
        /* columns from j on are still C, those before it are D^-1 C */
        for (size_t l = 0; l <= m; l++) {
            size_t k = columns[l];
            double sum = 0;
            for (size_t i = 0; i < block->size; i++) {
                sum += before[i] * block->coupling[i * shared + k];
            }
            normal->dense[j * shared + k] -= sum;
            normal->dense[k * shared + j] -= k < j ? sum : 0;
        }
    }
    return status;
}

enum mw_status mw_normal_factor(struct mw_normal *normal)
{
    enum mw_status status = MW_OK;
    for (size_t i = 0; i < normal->blocks && status == MW_OK; i++) {
        status = eliminate(normal, &normal->list[i]);
    }
    return status == MW_OK
               ? factor(normal->dense, normal->shared, normal->order)
               : status;
}

/* -- Solving -------------------------------------------------------------- */

/* block 0 of b, less what the blocks bring: s = b_0 - C' D^-1 b_i */
static void gather(const struct mw_normal *normal, const double *b, double *s)
{
    size_t shared = normal->shared;
    memset(s, 0, shared * sizeof s[0]);
    for (size_t i = 0; i < normal->n; i++) {
        const struct mw_normal_place *place = &normal->places[i];
        if (place->block == normal->blocks) {
            s[place->row] += b[i];
            continue;
        }
        const double *coupling =
            normal->list[place->block].coupling + place->row * shared;
        for (size_t j = 0; j < shared && b[i] != 0; j++) {
            s[j] -= coupling[j] * b[i];
        }
    }
}

/* what is left of a block once block 0 is known: D^-1 b - D^-1 C z */
static void put_back(const struct mw_normal *normal, const double *s, double *b)
{
    size_t shared = normal->shared;
    for (size_t i = 0; i < normal->n; i++) {
        const struct mw_normal_place *place = &normal->places[i];
        if (place->block == normal->blocks) {
            b[i] = s[place->row];
            continue;
        }
        const struct mw_normal_block *block = &normal->list[place->block];
        if (place->row == 0) {
            solve_with(block->diagonal, block->size, block->order, b + i, 1);
        }
        for (size_t j = 0; j < shared; j++) {
            b[i] -= block->coupling[place->row * shared + j] * s[j];
        }
    }
}

void mw_normal_solve(const struct mw_normal *normal, double *b)
{
    double *s = normal->scratch;
    gather(normal, b, s);
    if (normal->shared > 0) {
        solve_with(normal->dense, normal->shared, normal->order, s, 1);
    }
    put_back(normal, s, b);
}
