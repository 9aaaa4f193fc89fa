#include "photo/confine.h"

#include <errno.h>
#include <fcntl.h>
#include <sched.h>
#include <seccomp.h>
#include <signal.h>
#include <stddef.h>
#include <sys/mman.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

static bool bound(int what, rlim_t to) {
    struct rlimit l = {to, to}, now;
    if (getrlimit((__rlimit_resource_t)what, &now)) return false;
    if (now.rlim_max < to) l.rlim_cur = l.rlim_max = now.rlim_max;
    return !setrlimit((__rlimit_resource_t)what, &l);
}

/* A sanitizer keeps shadows of all memory: terabytes of addresses that are never used. */
static bool bound_memory(void) {
#if defined(__SANITIZE_ADDRESS__)
    return true;
#elif defined(__has_feature)
#if __has_feature(address_sanitizer) || __has_feature(memory_sanitizer)
    return true;
#else
    return bound(RLIMIT_AS, (rlim_t)CONFINE_MEMORY_MB << 20);
#endif
#else
    return bound(RLIMIT_AS, (rlim_t)CONFINE_MEMORY_MB << 20);
#endif
}

/* What decoders need: memory, threads of their own (one decodes while another unpacks), time. */
static bool allow_all(scmp_filter_ctx f) {
    static const int calls[] = {SCMP_SYS(read),
                                SCMP_SYS(write),
                                SCMP_SYS(close),
                                SCMP_SYS(munmap),
                                SCMP_SYS(mremap),
                                SCMP_SYS(madvise),
                                SCMP_SYS(brk),
                                SCMP_SYS(futex),
                                SCMP_SYS(set_robust_list),
                                SCMP_SYS(rseq),
                                SCMP_SYS(rt_sigprocmask),
                                SCMP_SYS(rt_sigreturn),
                                SCMP_SYS(sigaltstack),
                                SCMP_SYS(exit),
                                SCMP_SYS(exit_group),
                                SCMP_SYS(sched_yield),
                                SCMP_SYS(sched_getaffinity),
                                SCMP_SYS(clock_gettime),
                                SCMP_SYS(gettimeofday),
                                SCMP_SYS(getrandom),
                                SCMP_SYS(gettid),
                                SCMP_SYS(getpid),
                                SCMP_SYS(restart_syscall)};
    for (size_t i = 0; i < sizeof calls / sizeof *calls; i++)
        if (seccomp_rule_add(f, SCMP_ACT_ALLOW, calls[i], 0)) return false;
    /* memory that is not code, backed by nothing */
    if (seccomp_rule_add(f, SCMP_ACT_ALLOW, SCMP_SYS(mmap), 2,
                         SCMP_A2(SCMP_CMP_MASKED_EQ, PROT_EXEC, 0),
                         SCMP_A3(SCMP_CMP_MASKED_EQ, MAP_ANONYMOUS, MAP_ANONYMOUS)) ||
        seccomp_rule_add(f, SCMP_ACT_ALLOW, SCMP_SYS(mprotect), 1,
                         SCMP_A2(SCMP_CMP_MASKED_EQ, PROT_EXEC, 0)))
        return false;
    /* a thread, never a process; clone3 hides its flags in memory, without it clone is taken */
    return !seccomp_rule_add(
               f, SCMP_ACT_ALLOW, SCMP_SYS(clone), 1,
               SCMP_A0(SCMP_CMP_MASKED_EQ, CLONE_THREAD | CLONE_VM, CLONE_THREAD | CLONE_VM)) &&
           !seccomp_rule_add(f, SCMP_ACT_ERRNO(ENOSYS), SCMP_SYS(clone3), 0);
}

bool confine(void) {
    /* refused, not killed: libraries look for things that they can do without */
    scmp_filter_ctx f = seccomp_init(SCMP_ACT_ERRNO(EPERM));
    bool good = f && allow_all(f) && !prctl(PR_SET_DUMPABLE, 0) && bound_memory() &&
                bound(RLIMIT_CPU, CONFINE_SECONDS) && bound(RLIMIT_FSIZE, 0) &&
                bound(RLIMIT_CORE, 0) && bound(RLIMIT_NOFILE, 0) &&
                !seccomp_attr_set(f, SCMP_FLTATR_CTL_TSYNC, 1) && !seccomp_load(f);
    if (f) seccomp_release(f);
    return good;
}

const char *confine_leak(void) {
    static char *const nothing[] = {NULL};
    struct stat s;
    int pair[2];
    if (open("/etc/passwd", O_RDONLY) >= 0 || errno != EPERM) return "open";
    if (open("/tmp/coatwright-leak", O_WRONLY | O_CREAT, 0600) >= 0) return "create";
    if (!stat("/", &s) || errno != EPERM) return "stat";
    if (!unlink("/tmp/coatwright-leak") || errno != EPERM) return "unlink";
    if (socket(AF_INET, SOCK_STREAM, 0) >= 0 || errno != EPERM) return "socket";
    if (socket(AF_UNIX, SOCK_DGRAM, 0) >= 0 || errno != EPERM) return "socket of this machine";
    if (!pipe(pair) || errno != EPERM) return "pipe";
    if (!kill(getppid(), 0)) return "kill";
    if (!execve("/bin/true", nothing, nothing) || errno != EPERM) return "exec";
    pid_t child = fork();
    if (!child) _exit(0);
    if (child > 0) return "fork";
    void *code = mmap(NULL, 4096, PROT_READ | PROT_EXEC, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
    if (code != MAP_FAILED) return "code";
    if (prctl(PR_GET_DUMPABLE) != -1) return "prctl";
    return NULL;
}
