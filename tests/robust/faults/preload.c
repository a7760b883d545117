/* Copyright the midweight authors. SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * preload - loaded before libc into the program under test: counts its
 * allocations and its file calls, and lets a chosen one fail.
 *
 * MIDWEIGHT_TALLY names a file that receives the counts (struct tally), also
 * when the process is killed. MIDWEIGHT_FAULT says which call is to fail:
 *
 *     memory ENOMEM 12 once     the 12th allocation
 *     memory ENOMEM 12 ever     the 12th and all that follow
 *     file EIO 7 once           the 7th file call; also ENOSPC
 *     file kill 7 once          the process is killed right before it
 *     file tear 7 once          the same, but half of a write arrives
 *     write EIO 7 once          the 7th of the file calls that change something
 *
 * libc's own streams call the system from inside, where nothing can be put
 * between; so stdin, stdout and what fopen() opens become streams of ours. A
 * program that this one starts counts on.
 * For Linux with glibc and 64 bits: calls go to the system by number.
 */
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/syscall.h>
#include <sys/time.h>
#include <time.h>
#include <unistd.h>

_Static_assert(sizeof(long) == 8, "file offsets fit into one argument");

/* glibc's own allocator, under the names that it keeps for it */
void *__libc_malloc(size_t size);
void *__libc_calloc(size_t count, size_t size);
void *__libc_realloc(void *block, size_t size);
void *__libc_memalign(size_t alignment, size_t size);
void __libc_free(void *block);
void __libc_freeres(void);

/* of the files, WRITES are those that change something */
enum kind { MEMORY, FILES, WRITES, KINDS };

/* read by run_faults.py */
struct tally {
    uint64_t calls[KINDS];
    uint64_t failed; /* calls that were made to fail */
    int64_t held;    /* blocks in use, at the end those that were leaked */
    uint64_t ended;  /* by exit(), so that held means something */
};

static struct {
    enum kind kind;
    int error; /* what errno becomes; 0: the process is killed */
    bool tear;
    bool once;
    uint64_t number; /* 0: none */
} plan;

static struct tally *tally;

/* -- Whether this call fails ------------------------------------------- */

static bool is_chosen(enum kind kind)
{
    if (!tally) {
        return false;
    }
    uint64_t call = ++tally->calls[kind];
    return plan.number > 0 && kind == plan.kind && call >= plan.number &&
           !(plan.once && call > plan.number);
}

static bool fails(enum kind kind)
{
    if (!is_chosen(kind)) {
        return false;
    }
    tally->failed++;
    if (plan.error == 0) {
        kill(getpid(), SIGKILL);
    }
    errno = plan.error;
    return true;
}

/* one call, which is counted as a file call and as a write */
static bool fails_to_write(void)
{
    bool failed = fails(FILES);
    return fails(WRITES) || failed;
}

/* -- Memory ------------------------------------------------------------ */

static void *held(void *block)
{
    if (tally && block) {
        tally->held++;
    }
    return block;
}

void *malloc(size_t size)
{
    return fails(MEMORY) ? NULL : held(__libc_malloc(size));
}

void *calloc(size_t count, size_t size)
{
    return fails(MEMORY) ? NULL : held(__libc_calloc(count, size));
}

void free(void *block)
{
    if (tally && block) {
        tally->held--;
    }
    __libc_free(block);
}

void *realloc(void *block, size_t size)
{
    if (!block) {
        return malloc(size);
    }
    if (size == 0) {
        free(block);
        return NULL;
    }
    return fails(MEMORY) ? NULL : __libc_realloc(block, size);
}

void *aligned_alloc(size_t alignment, size_t size)
{
    return fails(MEMORY) ? NULL : held(__libc_memalign(alignment, size));
}

int posix_memalign(void **block, size_t alignment, size_t size)
{
    *block = aligned_alloc(alignment, size);
    return *block ? 0 : ENOMEM;
}

/* -- Files ------------------------------------------------------------- */

/* half of a write arrives, then the end */
static void tear(long call, int file, const void *data, size_t size,
                 off_t offset)
{
    if (plan.tear && tally && tally->calls[plan.kind] + 1 == plan.number) {
        syscall(call, file, data, size / 2, offset);
    }
}

ssize_t read(int file, void *data, size_t size)
{
    return fails(FILES) ? -1 : syscall(SYS_read, file, data, size);
}

ssize_t write(int file, const void *data, size_t size)
{
    tear(SYS_write, file, data, size, 0);
    return fails_to_write() ? -1 : syscall(SYS_write, file, data, size);
}

ssize_t pread64(int file, void *data, size_t size, off_t offset)
{
    return fails(FILES) ? -1 : syscall(SYS_pread64, file, data, size, offset);
}

ssize_t pwrite64(int file, const void *data, size_t size, off_t offset)
{
    tear(SYS_pwrite64, file, data, size, offset);
    return fails_to_write() ? -1
                            : syscall(SYS_pwrite64, file, data, size, offset);
}

int fsync(int file)
{
    return fails_to_write() ? -1 : (int)syscall(SYS_fsync, file);
}

int fdatasync(int file)
{
    return fails_to_write() ? -1 : (int)syscall(SYS_fdatasync, file);
}

int ftruncate64(int file, off_t size)
{
    return fails_to_write() ? -1 : (int)syscall(SYS_ftruncate, file, size);
}

int rename(const char *from, const char *to)
{
    return fails_to_write()
               ? -1
               : (int)syscall(SYS_renameat2, AT_FDCWD, from, AT_FDCWD, to, 0);
}

int renameat2(int from_folder, const char *from, int to_folder, const char *to,
              unsigned flags)
{
    return fails_to_write() ? -1
                            : (int)syscall(SYS_renameat2, from_folder, from,
                                           to_folder, to, flags);
}

int unlink(const char *path)
{
    return fails_to_write() ? -1
                            : (int)syscall(SYS_unlinkat, AT_FDCWD, path, 0);
}

int mkdir(const char *path, mode_t mode)
{
    return fails_to_write() ? -1
                            : (int)syscall(SYS_mkdirat, AT_FDCWD, path, mode);
}

static int open_as(const char *path, int flags, mode_t mode)
{
    return fails(FILES) ? -1
                        : (int)syscall(SYS_openat, AT_FDCWD, path, flags, mode);
}

int open64(const char *path, int flags, ...)
{
    va_list arguments;
    va_start(arguments, flags);
    mode_t mode = flags & O_CREAT ? va_arg(arguments, mode_t) : 0;
    va_end(arguments);
    return open_as(path, flags, mode);
}

/* with 64 bits these are the same functions under another name */
int open(const char *path, int flags, ...) __attribute__((alias("open64")));
ssize_t pread(int file, void *data, size_t size, off_t offset)
    __attribute__((alias("pread64")));
ssize_t pwrite(int file, const void *data, size_t size, off_t offset)
    __attribute__((alias("pwrite64")));
int ftruncate(int file, off_t size) __attribute__((alias("ftruncate64")));

/* -- Streams ----------------------------------------------------------- */

static ssize_t stream_read(void *cookie, char *data, size_t size)
{
    return read((int)(intptr_t)cookie, data, size);
}

/* fopencookie() wants 0, not -1, after a failure */
static ssize_t stream_write(void *cookie, const char *data, size_t size)
{
    ssize_t written = write((int)(intptr_t)cookie, data, size);
    return written < 0 ? 0 : written;
}

static int stream_close(void *cookie)
{
    return close((int)(intptr_t)cookie);
}

/* which stream a file has, since fileno() knows nothing of ours */
static FILE *streams[16];

static FILE *stream(int file, const char *mode)
{
    FILE *made = fopencookie((void *)(intptr_t)file, mode,
                             (cookie_io_functions_t){.read = stream_read,
                                                     .write = stream_write,
                                                     .close = stream_close});
    if (file >= 0 && file < (int)(sizeof streams / sizeof streams[0])) {
        streams[file] = made;
    }
    return made;
}

int fileno(FILE *stream)
{
    for (int file = 0; file < (int)(sizeof streams / sizeof streams[0]);
         file++) {
        if (streams[file] == stream) {
            return file;
        }
    }
    return fileno_unlocked(stream);
}

FILE *fopen(const char *path, const char *mode)
{
    int flags = *mode == 'r'   ? O_RDONLY
                : *mode == 'a' ? O_WRONLY | O_CREAT | O_APPEND
                               : O_WRONLY | O_CREAT | O_TRUNC;
    int file = open_as(path, flags, 0666);
    return file < 0 ? NULL : stream(file, mode);
}

FILE *fdopen(int file, const char *mode)
{
    return stream(file, mode);
}

FILE *fopen64(const char *path, const char *mode)
    __attribute__((alias("fopen")));

/* -- The clock: no sweep crosses midnight, or waits for long ----------- */

unsigned alarm(unsigned seconds)
{
    struct itimerval timer = {.it_value.tv_sec = seconds > 0 ? 2 : 0};
    return setitimer(ITIMER_REAL, &timer, NULL) == 0 ? 0 : seconds;
}

time_t time(time_t *now)
{
    const time_t fixed = 1790942400; /* 2026-10-02, noon */
    if (now) {
        *now = fixed;
    }
    return fixed;
}

/* -- Start and end ----------------------------------------------------- */

static void read_plan(const char *text)
{
    char kind[8], action[8], reach[8];
    unsigned long number;
    if (sscanf(text, "%7s %7s %lu %7s", kind, action, &number, reach) != 4) {
        _exit(99);
    }
    plan.kind = strcmp(kind, "memory") == 0 ? MEMORY
                : strcmp(kind, "file") == 0 ? FILES
                                            : WRITES;
    plan.error = strcmp(action, "ENOMEM") == 0   ? ENOMEM
                 : strcmp(action, "EIO") == 0    ? EIO
                 : strcmp(action, "ENOSPC") == 0 ? ENOSPC
                                                 : 0;
    plan.tear = strcmp(action, "tear") == 0;
    plan.once = strcmp(reach, "once") == 0;
    plan.number = number;
}

static void __attribute__((constructor)) begin(void)
{
    const char *path = getenv("MIDWEIGHT_TALLY");
    const char *fault = getenv("MIDWEIGHT_FAULT");
    if (!path) {
        return;
    }
    if (fault) {
        read_plan(fault);
    }
    int file = (int)syscall(SYS_openat, AT_FDCWD, path, O_RDWR, 0);
    void *shared =
        mmap(NULL, sizeof *tally, PROT_READ | PROT_WRITE, MAP_SHARED, file, 0);
    if (file < 0 || shared == MAP_FAILED) {
        _exit(99);
    }
    close(file);
    stdin = stream(STDIN_FILENO, "r");
    stdout = stream(STDOUT_FILENO, "w");
    tally = shared;
}

static void __attribute__((destructor)) end(void)
{
    if (tally) {
        plan.number = 0;
        __libc_freeres();
        tally->ended = 1;
    }
}
