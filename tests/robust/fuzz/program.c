/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
#include "program.h"

#include <stdbool.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "fuzz.h"

int midweight_main(int argc, char **argv);

const char program_stock[] = "stock.db";

/* whether stderr has only warnings, as it may after a success */
static bool only_warnings(const char *err)
{
    static const char start[] = "midweight: warning: ";
    for (; *err; err = strchr(err, '\n') + 1) {
        if (strncmp(err, start, strlen(start)) != 0 || !strchr(err, '\n')) {
            return false;
        }
    }
    return true;
}

/* whether a text is safe for a terminal: no control character except the
 * line ends and tabs of a CSV, and in UTF-8 no C1 control, no mark that
 * changes the direction of writing, no line separator */
static bool is_clean(const char *text)
{
    for (const unsigned char *at = (const unsigned char *)text; *at; at++) {
        if ((*at < 0x20 && !strchr("\n\r\t", *at)) || *at == 0x7f ||
            (at[0] == 0xc2 && at[1] >= 0x80 && at[1] <= 0x9f) ||
            (at[0] == 0xe2 && at[1] == 0x80 &&
             (at[2] == 0x8e || at[2] == 0x8f ||
              (at[2] >= 0xa8 && at[2] <= 0xae))) ||
            (at[0] == 0xe2 && at[1] == 0x81 && at[2] >= 0xa6 &&
             at[2] <= 0xa9)) {
            return false;
        }
    }
    return true;
}

struct program_run program_run(const char *const args[])
{
    struct program_run run = {0};
    char *argv[PROGRAM_WORDS_MAX + 2] = {strdup("midweight")};
    size_t sizes[2];
    int argc = 1;
    FILE *out = stdout, *err = stderr;
    for (; args[argc - 1]; argc++) {
        MUST(argc <= PROGRAM_WORDS_MAX);
        argv[argc] = strdup(args[argc - 1]);
    }
    stdout = open_memstream(&run.out, &sizes[0]);
    stderr = open_memstream(&run.err, &sizes[1]);
    MUST(stdout && stderr);
    run.code = midweight_main(argc, argv);
    for (int i = 0; i < argc; i++) {
        free(argv[i]);
    }
    fclose(stderr); /* the program has closed stdout */
    stdout = out;
    stderr = err;
    MUST(run.code >= 0 && run.code <= 3);
    MUST(is_clean(run.out) && is_clean(run.err));
    MUST(run.code == 0 ? only_warnings(run.err) : run.err[0] != '\0');
    MUST(strcmp(run.err, "midweight: out of memory\n") != 0);
    return run;
}

void program_free(struct program_run *run)
{
    free(run->out);
    free(run->err);
}

int program_code(const char *const args[])
{
    struct program_run run = program_run(args);
    program_free(&run);
    return run.code;
}

static char folder[] = "/dev/shm/midweight-fuzz-XXXXXX";

static void remove_folder(void)
{
    char command[80];
    snprintf(command, sizeof command, "rm -rf %s", folder);
    MUST(system(command) == 0);
}

void program_begin(void)
{
    static const char *const steps[][16] = {
        {"stock", "import", BOTTLES},
        {"stock", "reading", "Elm", "352@25C", "--date", "2026-10-03"},
        {"mix", "Elm", "Larch", "--target", "420", "--make", "10ml", "--record",
         "hall", "--date", "2026-10-03"},
        {"stock", "reading", "hall", "415@25C", "--date", "2026-10-03"},
        {"stock", "add", "Fir", "32@40C/5.4@100C", "--family", "mineral"},
        {"stock", "remove", "Larch", "--force"},
        {"measure", "calibrate", "100=21.4s", "350=71.8s", "--save", "Tin"},
    };
    MUST(mkdtemp(folder) && chdir(folder) == 0);
    atexit(remove_folder);
    MUST(freopen("/dev/null", "r", stdin));
    setenv("MIDWEIGHT_STOCK", program_stock, 1);
    setenv("TZ", "UTC", 1);
    for (size_t i = 0; i < sizeof steps / sizeof steps[0]; i++) {
        MUST(program_code(steps[i]) == 0);
    }
}

void program_write(const char *name, const void *data, size_t size)
{
    FILE *file = fopen(name, "wb");
    MUST(file && fwrite(data, 1, size, file) == size && fclose(file) == 0);
}

uint8_t *program_read(const char *name, size_t *size)
{
    struct stat status;
    FILE *file = fopen(name, "rb");
    MUST(file && stat(name, &status) == 0);
    *size = (size_t)status.st_size;
    uint8_t *data = malloc(*size + 1);
    MUST(data && fread(data, 1, *size, file) == *size && fclose(file) == 0);
    return data;
}
