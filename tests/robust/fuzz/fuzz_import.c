/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/* A CSV file that is imported. What is accepted can be exported, importing
 * that export gives the same export, and all of its bottles are listed. */
#include <jansson.h>
#include <string.h>
#include <unistd.h>

#include "fuzz.h"
#include "output/json.h"
#include "program.h"

static void import(const char *stock, const char *file, bool skip)
{
    unlink(stock);
    const char *const args[] = {"stock",   "import", file,
                                "--stock", stock,    skip ? "--skip-bad" : NULL,
                                NULL};
    int code = program_code(args);
    MUST(code == 0 || code == 2);
}

static struct program_run export(const char *stock)
{
    const char *const args[] = {"stock", "export", "--stock", stock, NULL};
    struct program_run run = program_run(args);
    MUST(run.code == 0);
    return run;
}

/* the number of lines that begin with a text */
static size_t count_lines(const char *text, const char *start)
{
    size_t count = 0;
    for (const char *line = text; line;
         line = strchr(line, '\n') ? strchr(line, '\n') + 1 : NULL) {
        count += strncmp(line, start, strlen(start)) == 0;
    }
    return count;
}

static void check_list(const char *stock, const char *csv)
{
    const char *const args[] = {"stock",   "list", "--json",
                                "--stock", stock,  NULL};
    struct program_run run = program_run(args);
    json_t *answer = json_loads(run.out, 0, NULL);
    MUST(run.code == 0 && answer);
    MUST(json_array_size(json_object_get(answer, "oils")) ==
         count_lines(csv, "\"bottle\","));
    json_decref(answer);
    program_free(&run);
}

static void check(bool skip)
{
    import("one.db", "in.csv", skip);
    struct program_run first = export("one.db");
    program_write("out.csv", first.out, strlen(first.out));
    import("two.db", "out.csv", false);
    struct program_run second = export("two.db");
    MUST(strcmp(first.out, second.out) == 0);
    check_list("one.db", first.out);
    program_free(&first);
    program_free(&second);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static bool begun;
    if (!begun) {
        program_begin();
        begun = true;
    }
    program_write("in.csv", data, size);
    check(true);
    return 0;
}
