/* The clock moved by as many seconds as MOVED_BY says, for every program that loads this first (LD_PRELOAD on Linux).

   Only what is said to the question what time it is changes: what waits goes on in real seconds, the clock that only
   counts on stays, and so do the stamps that the system puts on files. */

#define _GNU_SOURCE
#include <stdlib.h>
#include <sys/syscall.h>
#include <sys/time.h>
#include <time.h>
#include <unistd.h>

static time_t moved_by;

__attribute__((constructor)) static void read_moved_by(void)
{
    const char *seconds = getenv("MOVED_BY");
    moved_by = seconds ? atoll(seconds) : 0;
}

int clock_gettime(clockid_t clock, struct timespec *now)
{
    int failed = (int)syscall(SYS_clock_gettime, clock, now);
    if (!failed && (clock == CLOCK_REALTIME || clock == CLOCK_REALTIME_COARSE))
        now->tv_sec += moved_by;
    return failed;
}

int gettimeofday(struct timeval *restrict now, void *restrict zone)
{
    struct timespec moment;
    int failed = clock_gettime(CLOCK_REALTIME, &moment);
    (void)zone;
    now->tv_sec = moment.tv_sec;
    now->tv_usec = moment.tv_nsec / 1000;
    return failed;
}

time_t time(time_t *now)
{
    struct timespec moment;
    clock_gettime(CLOCK_REALTIME, &moment);
    if (now)
        *now = moment.tv_sec;
    return moment.tv_sec;
}
