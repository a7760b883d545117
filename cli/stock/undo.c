/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* stock undo and redo: one change back, and forward again */
#include <math.h>

#include "oils/bottle_json.h"
#include "output/text.h"
#include "parse/number.h"
#include "stock/commands.h"
#include "store/stock.h"
#include "store/undo.h"

typedef enum exit_code step(struct stock *stock, char *what, size_t size,
                            struct error *error);

static enum exit_code run(const struct args *args, step *take, const char *done,
                          const char *said, struct error *error)
{
    enum exit_code code = EXIT_DONE;
    struct stock stock;
    char what[QUOTED * 4];
    if (args->count != 0) {
        return refuse(error, "undo and redo are about the last change and "
                             "nothing else");
    }
    if ((code = stock_begin_existing(&stock, args->stock, error)) ==
            EXIT_DONE &&
        (code = take(&stock, what, sizeof what, error)) == EXIT_DONE) {
        code = stock_commit(&stock, NULL, error);
    }
    stock_close(&stock);
    if (code == EXIT_DONE && args->json) {
        code = print_change_json(done, what, NULL, NAN, NAN, error);
    } else if (code == EXIT_DONE) {
        print_wrapped("%s: %s.", said, what);
    }
    return code;
}

static enum exit_code run_undo(const struct args *args, struct error *error)
{
    return run(args, stock_undo, "undone", "Undone", error);
}

static enum exit_code run_redo(const struct args *args, struct error *error)
{
    return run(args, stock_redo, "redone", "Redone", error);
}

const struct command command_stock_undo = {
    .name = "stock undo",
    .summary = "undo the last change; repeat to go further back",
    .examples = "  midweight stock undo\n",
    .run = run_undo,
};

const struct command command_stock_redo = {
    .name = "stock redo",
    .summary = "redo what was undone last, until something else is changed",
    .examples = "  midweight stock undo\n"
                "  midweight stock redo\n",
    .run = run_redo,
};
