/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "oils/oil_ref.h"

#include <math.h>
#include <string.h>

#include "oils/best.h"
#include "oils/outlier.h"
#include "parse/viscosity.h"

static enum exit_code read_oil_spec(const char *word,
                                    const struct oil_defaults *defaults,
                                    struct oil_ref *ref, struct error *error)
{
    *ref = (struct oil_ref){.name = word, .left_ml = NAN, .drop_ml = NAN};
    enum exit_code code = parse_oil(word, defaults, &ref->oil, error);
    if (code == EXIT_DONE) {
        mw_label_uncertainty(ref->oil.points[0].viscosity, &ref->uncertainty);
    }
    return code;
}

struct oil_ref oil_ref_of(const struct bottle *bottle)
{
    return (struct oil_ref){.name = bottle->name,
                            .oil = bottle->best.oil,
                            .uncertainty = bottle->best.uncertainty,
                            .measured = bottle->reading_count > 0,
                            .id = bottle->id,
                            .left_ml = bottle->left_ml,
                            .drop_ml = bottle->drop_ml};
}

enum exit_code stock_handle_open(struct stock_handle *handle,
                                 struct error *error)
{
    if (!handle->opened) {
        handle->opened = true;
        return stock_open(&handle->stock, handle->file, error);
    }
    return EXIT_DONE;
}

enum exit_code stock_handle_begin(struct stock_handle *handle,
                                  struct error *error)
{
    handle->opened = true;
    return stock_begin_existing(&handle->stock, handle->file, error);
}

enum exit_code oil_ref_load(struct stock *stock, const char *word,
                            struct bottle *bottle, struct error *error)
{
    sqlite3_int64 id = 0;
    *bottle = (struct bottle){0};
    if (names_weight(word)) {
        enum exit_code code =
            stock->db ? bottle_id(stock, word, &id, error) : EXIT_DONE;
        if (code != EXIT_DONE || id == 0) {
            return code == EXIT_DONE ? refuse_weight(word, error) : code;
        }
    }
    return bottle_load(stock, word, bottle, error);
}

/* The name in the stock's own letters: upper or lower case apart they are those
 * that were written. argv belongs to the program (C11 5.1.2.2.1). */
static void respell(const char *word, const char *name)
{
    if (strlen(word) == strlen(name)) {
        memcpy((char *)word, name, strlen(name));
    }
}

static enum exit_code find(struct stock_handle *handle, const char *word,
                           const struct oil_defaults *defaults, bool adjusted,
                           struct oil_ref *ref, struct error *error)
{
    struct bottle bottle;
    if (is_oil_spec(word) || *word == '\0') {
        return read_oil_spec(word, defaults, ref, error);
    }
    enum exit_code code = stock_handle_open(handle, error);
    if (code != EXIT_DONE) {
        return code;
    }
    code = oil_ref_load(&handle->stock, word, &bottle, error);
    if (code == EXIT_DONE && isfinite(defaults->density)) {
        code = refuse(error,
                      "%.*s is a bottle, whose density is set by midweight "
                      "stock set; leave --density out",
                      QUOTED, word);
    }
    if (code == EXIT_DONE && adjusted) {
        code = bottle_adjust(&handle->stock, &bottle, error);
    }
    *ref = oil_ref_of(&bottle);
    if (code == EXIT_DONE) {
        respell(word, bottle.name);
    }
    /* the word outlives the record */
    ref->name = word;
    bottle_free(&bottle);
    return code;
}

enum exit_code oil_ref_find(struct stock_handle *handle, const char *word,
                            const struct oil_defaults *defaults,
                            struct oil_ref *ref, struct error *error)
{
    return find(handle, word, defaults, true, ref, error);
}

enum exit_code oil_ref_find_own(struct stock_handle *handle, const char *word,
                                const struct oil_defaults *defaults,
                                struct oil_ref *ref, struct error *error)
{
    return find(handle, word, defaults, false, ref, error);
}

void stock_handle_close(struct stock_handle *handle)
{
    if (handle->opened) {
        stock_close(&handle->stock);
        handle->opened = false;
    }
}

size_t oil_ref_node(struct stock_network *network, struct oil_ref *ref)
{
    if (!ref->joined) {
        ref->node = stock_network_node(network, ref->id, ref->name, &ref->oil,
                                       ref->uncertainty);
        ref->joined = true;
    }
    return ref->node;
}

size_t bottle_node(struct stock_network *network, const struct bottle *bottle)
{
    struct oil_ref ref = oil_ref_of(bottle);
    return oil_ref_node(network, &ref);
}

void oil_ref_adjust(const struct stock_network *network, size_t node,
                    struct oil_ref *ref, struct error *error)
{
    struct mw_oil oil;
    double u;
    if (mw_network_oil(network->network, node, &oil, &u) == MW_OK) {
        ref->oil = oil;
        ref->uncertainty = u;
    }
    outlier_remark(network, node, error);
}
