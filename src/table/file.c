/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Atomic writing of sets of files: temporaries first, then renames. */
#include <errno.h>
#include <fcntl.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <trunnion/file.h>
#include <unistd.h>

enum { TEMPORARY_MAX = 80, ATTEMPTS = 100 };

typedef struct batch {
    const char *folder;
    const trn_file *files;
    size_t count;
    trn_faults *faults;
    int fd;                          /* of the folder */
    char (*temporary)[TEMPORARY_MAX]; /* "" where there is none (any more) */
} batch;

static void why(char *text, size_t size, int error)
{
    if (strerror_r(error, text, size) != 0)
        (void)snprintf(text, size, "error %d", error);
}

static trn_status fail(trn_faults *faults, const char *folder, const char *name, int error,
                       const char *doing)
{
    trn_buffer path = {0};
    if (name && strcmp(folder, ".") == 0)
        trn_buffer_add(&path, name);
    else if (name)
        trn_buffer_print(&path, "%s%s%s", folder, folder[strlen(folder) - 1] == '/' ? "" : "/",
                         name);
    else
        trn_buffer_add(&path, folder);
    char reason[128];
    why(reason, sizeof reason, error);
    trn_fault_add(faults, path.text ? path.text : "", 0, NULL, "%s: %s", doing, reason);
    trn_buffer_free(&path);
    return error == ENOMEM ? TRN_E_MEMORY : TRN_E_IO;
}

static bool is_folder(const char *path)
{
    struct stat s;
    return stat(path, &s) == 0 && S_ISDIR(s.st_mode);
}

trn_status trn_folder_make(const char *path, trn_faults *faults)
{
    char *p = trn_text_copy(path);
    if (!p)
        return TRN_E_MEMORY;
    trn_status status = TRN_OK;
    size_t n = strlen(p);
    for (size_t i = 1; i <= n && status == TRN_OK; i++) {
        if (p[i] != '/' && p[i] != '\0')
            continue;
        char end = p[i];
        p[i] = '\0';
        if (mkdir(p, 0777) != 0) {
            int error = errno;
            if (!is_folder(p))
                status = fail(faults, p, NULL, error == EEXIST ? ENOTDIR : error,
                              "the folder cannot be made");
        }
        p[i] = end;
    }
    if (status == TRN_OK && n == 0)
        status = fail(faults, "", NULL, ENOENT, "the folder cannot be made");
    free(p);
    return status;
}

static bool name_good(const char *name)
{
    return name[0] != '\0' && !strchr(name, '/') && strcmp(name, ".") != 0 &&
           strcmp(name, "..") != 0;
}

/* What is to be replaced must be a file (or a link, which goes), or not be there. */
static trn_status check_targets(const batch *b)
{
    for (size_t i = 0; i < b->count; i++) {
        const char *name = b->files[i].name;
        int error = name_good(name) ? 0 : EINVAL;
        for (size_t k = 0; k < i; k++)
            if (strcmp(b->files[k].name, name) == 0)
                error = EEXIST;
        struct stat s;
        if (error == 0 && fstatat(b->fd, name, &s, AT_SYMLINK_NOFOLLOW) == 0 &&
            !S_ISREG(s.st_mode) && !S_ISLNK(s.st_mode))
            error = S_ISDIR(s.st_mode) ? EISDIR : EEXIST;
        if (error != 0)
            return fail(b->faults, b->folder, name, error, "the file cannot be written");
    }
    return TRN_OK;
}

/* A new file of a name that nobody has; its descriptor, or -1 with errno. */
static int open_temporary(const batch *b, size_t i)
{
    for (unsigned attempt = 0; attempt < ATTEMPTS; attempt++) {
        (void)snprintf(b->temporary[i], TEMPORARY_MAX, ".trunnion-%ld-%zu-%u.tmp", (long)getpid(),
                       i, attempt);
        int fd = openat(b->fd, b->temporary[i], O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
        if (fd >= 0)
            return fd;
        int error = errno;
        b->temporary[i][0] = '\0';
        errno = error;
        if (error != EEXIST)
            break;
    }
    return -1;
}

static bool write_all(int fd, const char *p, size_t n)
{
    while (n > 0) {
        ssize_t written = write(fd, p, n);
        if (written < 0 && errno == EINTR)
            continue;
        if (written == 0)
            errno = EIO;
        if (written <= 0)
            return false;
        p += written;
        n -= (size_t)written;
    }
    return true;
}

static trn_status write_temporary(const batch *b, size_t i)
{
    const trn_file *file = &b->files[i];
    int fd = open_temporary(b, i);
    if (fd < 0)
        return fail(b->faults, b->folder, file->name, errno, "the file cannot be written");
    struct stat s;
    bool good = true;
    if (fstatat(b->fd, file->name, &s, AT_SYMLINK_NOFOLLOW) == 0 && S_ISREG(s.st_mode))
        good = fchmod(fd, s.st_mode & 0777) == 0;
    good = good && write_all(fd, file->bytes, file->size) && fsync(fd) == 0;
    int error = errno;
    if (close(fd) != 0 && good) {
        error = errno;
        good = false;
    }
    return good ? TRN_OK
                : fail(b->faults, b->folder, file->name, error, "the file cannot be written");
}

static trn_status rename_all(const batch *b)
{
    for (size_t i = 0; i < b->count; i++) {
        if (renameat(b->fd, b->temporary[i], b->fd, b->files[i].name) != 0)
            return fail(b->faults, b->folder, b->files[i].name, errno,
                        i == 0 ? "the file cannot be replaced"
                               : "the file cannot be replaced (files before it are new already)");
        b->temporary[i][0] = '\0';
    }
    /* the names, too, are to be on the disk; file systems without that say so */
    (void)fsync(b->fd);
    return TRN_OK;
}

static trn_status write_batch(batch *b)
{
    b->fd = open(b->folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (b->fd < 0)
        return fail(b->faults, b->folder, NULL, errno, "the folder cannot be opened");
    b->temporary = calloc(b->count + 1, sizeof *b->temporary);
    trn_status status = b->temporary ? check_targets(b) : TRN_E_MEMORY;
    for (size_t i = 0; i < b->count && status == TRN_OK; i++)
        status = write_temporary(b, i);
    if (status == TRN_OK)
        status = rename_all(b);
    for (size_t i = 0; b->temporary && i < b->count; i++)
        if (b->temporary[i][0] != '\0')
            (void)unlinkat(b->fd, b->temporary[i], 0);
    free(b->temporary);
    (void)close(b->fd);
    return status;
}

trn_status trn_files_write(const char *folder, const trn_file *files, size_t count,
                           trn_faults *faults)
{
    trn_status status = trn_folder_make(folder, faults);
    batch b = {.folder = folder, .files = files, .count = count, .faults = faults};
    return status == TRN_OK ? write_batch(&b) : status;
}

trn_status trn_file_write(const char *path, const void *bytes, size_t size, trn_faults *faults)
{
    const char *slash = strrchr(path, '/');
    char *folder = slash ? trn_text_copy_n(path, (size_t)(slash - path) + (slash == path))
                         : trn_text_copy(".");
    if (!folder)
        return TRN_E_MEMORY;
    trn_file file = {slash ? slash + 1 : path, bytes, size};
    batch b = {.folder = folder, .files = &file, .count = 1, .faults = faults};
    trn_status status = write_batch(&b);
    free(folder);
    return status;
}
