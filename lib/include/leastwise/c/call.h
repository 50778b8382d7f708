/* How a call is made: what the calling program decides. */
#ifndef LEASTWISE_C_CALL_H
#define LEASTWISE_C_CALL_H

#include <leastwise/c/error.h>
#include <leastwise/export.h>

#ifdef __cplusplus
extern "C" {
#endif

/* The settings of calls: a handle, so that later versions may add some. Calls take it as `const`;
 * NULL stands for the defaults: no limit, no files, nobody to tell. */
typedef struct leastwise_call leastwise_call;

/* The defaults. NULL when memory runs out. */
LEASTWISE_API leastwise_call *leastwise_call_new(void);
/* Frees it; not while a call with it is under way. */
LEASTWISE_API void leastwise_call_free(leastwise_call *call);

/* Seconds for a whole call, reading included; more than 0. */
LEASTWISE_API leastwise_result leastwise_call_time_limit(leastwise_call *call, double seconds);
/* Whether answers hold what needs solving again, such as intervals of shadow prices (default 1);
 * 0 is faster. For leastwise_formulate(). */
LEASTWISE_API leastwise_result leastwise_call_intervals(leastwise_call *call, int wanted);
/* How many threads leastwise_what_if_prices() uses; 0, the default: all. Changes nothing but the
 * time. */
LEASTWISE_API leastwise_result leastwise_call_threads(leastwise_call *call, unsigned count);
/* Where relative paths in a text start from (NULL: it may name no files), and whether it may name
 * files outside that folder. */
LEASTWISE_API leastwise_result leastwise_call_folder(leastwise_call *call, const char *folder,
                                                     int allow_outside);
/* What stands for the text in messages; default `scenario`. */
LEASTWISE_API leastwise_result leastwise_call_name(leastwise_call *call, const char *name);

/* Told now and then how far a call is: `done` of `all` things called `of`; `all` is 0 where their
 * number is not known. From any thread, one at a time. It must not throw or jump. */
typedef void (*leastwise_progress)(const char *of, long done, long all, void *context);
/* NULL: nobody. `context` is handed back as it is. */
LEASTWISE_API leastwise_result leastwise_call_progress(leastwise_call *call,
                                                       leastwise_progress progress, void *context);

/* Asks calls made with this handle to stop, those under way and those to come; from any thread, at
 * any time before leastwise_call_free(). */
LEASTWISE_API void leastwise_call_stop(leastwise_call *call);

#ifdef __cplusplus
}
#endif

#endif
