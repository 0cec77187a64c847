/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Runs gnuplot: no shell, a bare environment, its own folder, a limit of time. */
#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <time.h>
#include <trunnion/plot.h>
#include <unistd.h>

enum { PATH_SIZE = 4096, SAID_MAX = 600, PICTURE_MAX = 64 << 20, USUAL_SECONDS = 30 };

static const char script_name[] = "script";
static const char picture_name[] = "plot"; /* the one that scripts write */

typedef struct job {
    char gnuplot[PATH_SIZE], folder[PATH_SIZE];
    int folder_fd, said_fd; /* said: the reading end of the child's stderr */
    pid_t child;
    char said[SAID_MAX];
    size_t said_length;
    trn_faults *faults;
} job;

static trn_status fail(const job *j, const char *doing, int error)
{
    char reason[128];
    if (strerror_r(error, reason, sizeof reason) != 0)
        (void)snprintf(reason, sizeof reason, "error %d", error);
    trn_fault_add(j->faults, "gnuplot", 0, NULL, "%s: %s", doing, reason);
    return error == ENOMEM ? TRN_E_MEMORY : TRN_E_IO;
}

/* Only absolute folders of PATH: a program that lies in the working folder is never run. */
static trn_status find_gnuplot(job *j)
{
    const char *path = getenv("PATH");
    for (const char *p = path ? path : "/usr/local/bin:/usr/bin:/bin"; *p;) {
        size_t n = strcspn(p, ":");
        struct stat s;
        int length = n > 0 && n < PATH_SIZE / 2
                         ? snprintf(j->gnuplot, PATH_SIZE, "%.*s/gnuplot", (int)n, p)
                         : -1;
        if (p[0] == '/' && length > 0 && stat(j->gnuplot, &s) == 0 && S_ISREG(s.st_mode) &&
            access(j->gnuplot, X_OK) == 0)
            return TRN_OK;
        p += n + (p[n] == ':');
    }
    trn_fault_add(j->faults, "gnuplot", 0, NULL,
                  "not found in PATH: install the package gnuplot (or gnuplot-nox) to get plots; "
                  "everything else goes on without");
    return TRN_E_MISSING;
}

static trn_status make_folder(job *j)
{
    const char *base = getenv("TMPDIR");
    if (!base || base[0] != '/' || strlen(base) > PATH_SIZE / 2)
        base = "/tmp";
    (void)snprintf(j->folder, PATH_SIZE, "%s/trunnion-plot-XXXXXX", base);
    if (!mkdtemp(j->folder)) {
        int error = errno;
        j->folder[0] = '\0';
        return fail(j, "no temporary folder can be made", error);
    }
    j->folder_fd = open(j->folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    return j->folder_fd < 0 ? fail(j, "the temporary folder cannot be opened", errno) : TRN_OK;
}

static void remove_folder(job *j)
{
    if (j->folder_fd >= 0) {
        (void)unlinkat(j->folder_fd, script_name, 0);
        (void)unlinkat(j->folder_fd, picture_name, 0);
        (void)close(j->folder_fd);
    }
    if (j->folder[0] != '\0')
        (void)rmdir(j->folder);
}

static bool write_all(int fd, const char *p, size_t n)
{
    while (n > 0) {
        ssize_t written = write(fd, p, n);
        if (written < 0 && errno == EINTR)
            continue;
        if (written <= 0)
            return false;
        p += written;
        n -= (size_t)written;
    }
    return true;
}

static trn_status write_script(const job *j, const char *script, const char *format)
{
    char head[32];
    (void)snprintf(head, sizeof head, "format = '%s'\n", format);
    int fd = openat(j->folder_fd, script_name, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0600);
    bool good = fd >= 0 && write_all(fd, head, strlen(head)) &&
                write_all(fd, script, strlen(script));
    int error = errno;
    if (fd >= 0 && close(fd) != 0 && good) {
        error = errno;
        good = false;
    }
    return good ? TRN_OK : fail(j, "the script cannot be written", error);
}

/* Between fork and exec only calls that are safe after a signal. */
static void become_gnuplot(job *j, int null_fd, int said)
{
    static char name[] = "gnuplot", defaults[] = "-d", path[] = "PATH=/usr/bin:/bin",
                home[] = "HOME=/nonexistent", locale[] = "LC_ALL=C.UTF-8";
    char script[sizeof script_name];
    memcpy(script, script_name, sizeof script_name);
    char *const arguments[] = {name, defaults, script, NULL};
    char *const environment[] = {path, home, locale, NULL};
    struct sigaction usual;
    sigset_t none;
    memset(&usual, 0, sizeof usual);
    usual.sa_handler = SIG_DFL;
    (void)sigaction(SIGPIPE, &usual, NULL);
    (void)sigemptyset(&none);
    (void)sigprocmask(SIG_SETMASK, &none, NULL);
    if (dup2(null_fd, 0) == 0 && dup2(null_fd, 1) == 1 && dup2(said, 2) == 2 &&
        fchdir(j->folder_fd) == 0)
        (void)execve(j->gnuplot, arguments, environment);
    static const char sorry[] = "it cannot be started";
    (void)!write(said, sorry, sizeof sorry - 1);
    _exit(127);
}

/* A descriptor above the three that the child gives away. */
static int above_standard(int fd)
{
    if (fd < 0 || fd > 2)
        return fd;
    int other = fcntl(fd, F_DUPFD_CLOEXEC, 3);
    (void)close(fd);
    return other;
}

static trn_status start(job *j)
{
    int ends[2] = {-1, -1};
    int null_fd = above_standard(open("/dev/null", O_RDWR | O_CLOEXEC));
    if (null_fd < 0 || pipe(ends) != 0) {
        int error = errno;
        if (null_fd >= 0)
            (void)close(null_fd);
        return fail(j, "it cannot be started", error);
    }
    j->said_fd = above_standard(ends[0]);
    int said = above_standard(ends[1]);
    (void)fcntl(j->said_fd, F_SETFD, FD_CLOEXEC);
    (void)fcntl(said, F_SETFD, FD_CLOEXEC);
    j->child = j->said_fd >= 0 && said >= 0 ? fork() : -1;
    int error = errno;
    if (j->child == 0)
        become_gnuplot(j, null_fd, said);
    (void)close(null_fd);
    (void)close(said);
    return j->child < 0 ? fail(j, "it cannot be started", error) : TRN_OK;
}

static long milliseconds_left(const struct timespec *end)
{
    struct timespec now;
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    long left = (long)(end->tv_sec - now.tv_sec) * 1000 + (end->tv_nsec - now.tv_nsec) / 1000000;
    return left > 0 ? left : 0;
}

/* Reads what the child says until it closes the pipe; false when the time is over. */
static bool listen_to(job *j, const struct timespec *end)
{
    char piece[512];
    for (;;) {
        struct pollfd p = {.fd = j->said_fd, .events = POLLIN};
        long left = milliseconds_left(end);
        int ready = poll(&p, 1, (int)left);
        if (ready < 0 && errno == EINTR)
            continue;
        if (ready <= 0)
            return false;
        ssize_t n = read(j->said_fd, piece, sizeof piece);
        if (n < 0 && errno == EINTR)
            continue;
        if (n <= 0)
            return true;
        for (ssize_t i = 0; i < n; i++) { /* blanks and newlines in a row become one blank */
            bool blank = piece[i] == ' ' || piece[i] == '\n' || piece[i] == '\t';
            bool after = j->said_length == 0 || j->said[j->said_length - 1] == ' ';
            if (j->said_length + 1 < sizeof j->said && !(blank && after))
                j->said[j->said_length++] = blank ? ' ' : piece[i];
        }
    }
}

/* Exit code of the child; -1: killed because the time was over; -2: ended by a signal. */
static int wait_for(job *j, unsigned seconds)
{
    struct timespec end;
    (void)clock_gettime(CLOCK_MONOTONIC, &end);
    end.tv_sec += (time_t)seconds;
    bool over = !listen_to(j, &end);
    (void)close(j->said_fd);
    for (;;) {
        int state = 0;
        if (over)
            (void)kill(j->child, SIGKILL);
        pid_t pid = waitpid(j->child, &state, over ? 0 : WNOHANG);
        if (pid < 0 && errno != EINTR)
            return over ? -1 : 0; /* the host program ignores its children: look at the picture */
        if (pid == j->child)
            return over ? -1 : WIFEXITED(state) ? WEXITSTATUS(state) : -2;
        if (pid == 0) {
            (void)nanosleep(&(struct timespec){.tv_nsec = 2000000}, NULL);
            over = milliseconds_left(&end) == 0;
        }
    }
}

static trn_status read_picture(const job *j, trn_buffer *bytes)
{
    int fd = openat(j->folder_fd, picture_name, O_RDONLY | O_CLOEXEC | O_NOFOLLOW);
    struct stat s;
    if (fd < 0 || fstat(fd, &s) != 0 || s.st_size == 0 || s.st_size > PICTURE_MAX) {
        trn_fault_add(j->faults, "gnuplot", 0, NULL, "it wrote no picture%s%s",
                      j->said_length ? ": " : "", j->said);
        if (fd >= 0)
            (void)close(fd);
        return TRN_E_IO;
    }
    trn_buffer whole = {0};
    char piece[16384];
    ssize_t n = 0;
    while ((n = read(fd, piece, sizeof piece)) > 0 || (n < 0 && errno == EINTR))
        if (n > 0)
            trn_buffer_add_n(&whole, piece, (size_t)n);
    int error = errno;
    (void)close(fd);
    trn_status status = n < 0 ? fail(j, "the picture cannot be read", error) : TRN_OK;
    if (status == TRN_OK && !whole.failed)
        trn_buffer_add_n(bytes, whole.text, whole.length);
    if (status == TRN_OK && (whole.failed || bytes->failed))
        status = TRN_E_MEMORY;
    trn_buffer_free(&whole);
    return status;
}

static trn_status work(job *j, const char *script, const char *format, unsigned seconds,
                       trn_buffer *bytes)
{
    trn_status status = find_gnuplot(j);
    if (status == TRN_OK)
        status = make_folder(j);
    if (status == TRN_OK)
        status = write_script(j, script, format);
    if (status == TRN_OK)
        status = start(j);
    if (status != TRN_OK)
        return status;
    int code = wait_for(j, seconds);
    j->said[j->said_length] = '\0';
    if (code == 0)
        return read_picture(j, bytes);
    if (code == -1)
        trn_fault_add(j->faults, "gnuplot", 0, NULL, "stopped after %u s without a picture",
                      seconds);
    else
        trn_fault_add(j->faults, "gnuplot", 0, NULL, "it failed: %s",
                      j->said_length ? j->said : "it said nothing");
    return TRN_E_IO;
}

trn_status trn_plot_run_within(const char *script, const char *format, unsigned seconds,
                               trn_buffer *bytes, trn_faults *faults)
{
    if (strcmp(format, "svg") != 0 && strcmp(format, "png") != 0) {
        trn_fault_add(faults, "gnuplot", 0, NULL, "`%s` is neither svg nor png", format);
        return TRN_E_USAGE;
    }
    job *j = calloc(1, sizeof *j);
    if (!j)
        return TRN_E_MEMORY;
    j->folder_fd = -1;
    j->faults = faults;
    trn_status status = work(j, script, format, seconds, bytes);
    remove_folder(j);
    free(j);
    return status;
}

trn_status trn_plot_run(const char *script, const char *format, trn_buffer *bytes,
                        trn_faults *faults)
{
    return trn_plot_run_within(script, format, USUAL_SECONDS, bytes, faults);
}
