/* A disk that fails when it is told to, for tests: loaded before the C library (LD_PRELOAD), it counts the calls that
 * change anything below one folder, and at the one that is asked for it fails, stays full, or ends the process. */
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/types.h>
#include <unistd.h>

enum { NEVER, ONCE, FROM_THEN_ON, DEATH };

static char folder[PATH_MAX];
static long at, seen;
static int how, code;

void disk_fails(const char *below, long call, int manner, int error)
{
    strncpy(folder, below, sizeof folder - 1);
    at = call, how = manner, code = error, seen = 0;
}

long disk_calls(void) { return seen; }

static int is_below(const char *path)
{
    return how != NEVER && path && folder[0] && strncmp(path, folder, strlen(folder)) == 0;
}

static int is_handle_below(int fd)
{
    char link[64], path[PATH_MAX];
    if (how == NEVER) return 0;
    snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
    ssize_t length = readlink(link, path, sizeof path - 1);
    if (length <= 0) return 0;
    path[length] = 0;
    return is_below(path);
}

static int is_below_at(int dir, const char *path)
{
    return path && path[0] != '/' && dir != AT_FDCWD ? is_handle_below(dir) : is_below(path);
}

/* needs_room: what a full disk refuses; giving room back and renaming go on there. */
static int fails(int concerned, int needs_room)
{
    if (!concerned) return 0;
    seen++;
    if (how == DEATH && seen == at) kill(getpid(), SIGKILL);
    if ((how == ONCE && seen == at) || (how == FROM_THEN_ON && seen >= at && needs_room)) {
        errno = code;
        return 1;
    }
    return 0;
}

#define REAL(name) ((__typeof__(&name))dlsym(RTLD_NEXT, #name))
#define WRITES(flags) ((flags) & (O_CREAT | O_TRUNC))
#define MODE(flags) \
    mode_t mode = 0; \
    if ((flags) & (O_CREAT | O_TMPFILE)) { va_list rest; va_start(rest, flags); mode = va_arg(rest, mode_t); va_end(rest); }

int open(const char *path, int flags, ...)
{ MODE(flags) return fails(WRITES(flags) && is_below(path), 1) ? -1 : REAL(open)(path, flags, mode); }
int open64(const char *path, int flags, ...)
{ MODE(flags) return fails(WRITES(flags) && is_below(path), 1) ? -1 : REAL(open64)(path, flags, mode); }
int openat(int dir, const char *path, int flags, ...)
{ MODE(flags) return fails(WRITES(flags) && is_below_at(dir, path), 1) ? -1 : REAL(openat)(dir, path, flags, mode); }
int openat64(int dir, const char *path, int flags, ...)
{ MODE(flags) return fails(WRITES(flags) && is_below_at(dir, path), 1) ? -1 : REAL(openat64)(dir, path, flags, mode); }
ssize_t write(int fd, const void *data, size_t size)
{ return fails(is_handle_below(fd), 1) ? -1 : REAL(write)(fd, data, size); }
ssize_t pwrite(int fd, const void *data, size_t size, off_t where)
{ return fails(is_handle_below(fd), 1) ? -1 : REAL(pwrite)(fd, data, size, where); }
ssize_t pwrite64(int fd, const void *data, size_t size, off64_t where)
{ return fails(is_handle_below(fd), 1) ? -1 : REAL(pwrite64)(fd, data, size, where); }
int ftruncate(int fd, off_t size) { return fails(is_handle_below(fd), 0) ? -1 : REAL(ftruncate)(fd, size); }
int ftruncate64(int fd, off64_t size) { return fails(is_handle_below(fd), 0) ? -1 : REAL(ftruncate64)(fd, size); }
int fsync(int fd) { return fails(is_handle_below(fd), 1) ? -1 : REAL(fsync)(fd); }
int fdatasync(int fd) { return fails(is_handle_below(fd), 1) ? -1 : REAL(fdatasync)(fd); }
int rename(const char *from, const char *to) { return fails(is_below(to), 0) ? -1 : REAL(rename)(from, to); }
int mkdir(const char *path, mode_t mode) { return fails(is_below(path), 1) ? -1 : REAL(mkdir)(path, mode); }
int unlink(const char *path) { return fails(is_below(path), 0) ? -1 : REAL(unlink)(path); }
int unlinkat(int dir, const char *path, int flags)
{ return fails(is_below_at(dir, path), 0) ? -1 : REAL(unlinkat)(dir, path, flags); }
int rmdir(const char *path) { return fails(is_below(path), 0) ? -1 : REAL(rmdir)(path); }
int chmod(const char *path, mode_t mode) { return fails(is_below(path), 0) ? -1 : REAL(chmod)(path, mode); }
