/* The one question: which blend obeys every rule at the least cost? */
#ifndef LEASTWISE_C_FORMULATE_H
#define LEASTWISE_C_FORMULATE_H

#include <leastwise/c/answer.h>
#include <leastwise/c/error.h>
#include <leastwise/c/scenario.h>
#include <leastwise/export.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Asks a running call to end early. One may serve many calls; once requested it stays so. */
typedef struct leastwise_stop leastwise_stop;

/* One that nobody has asked yet; NULL when out of memory. */
LEASTWISE_API leastwise_stop *leastwise_stop_new(void);
/* Frees it, when no call uses it any more. */
LEASTWISE_API void leastwise_stop_free(leastwise_stop *stop);
/* Asks, from any thread and as often as wanted; not from a signal handler. */
LEASTWISE_API void leastwise_stop_request(leastwise_stop *stop);

/* Take leastwise_default_options() and change what is to be different. */
typedef struct leastwise_options {
  double time_limit_s;        /* for the whole call; 0: none */
  int intervals;              /* 0: leave out what needs solving again, and be faster */
  const leastwise_stop *stop; /* NULL: nobody will ask to stop; must outlast the call */
} leastwise_options;

/* No limit, with intervals. */
LEASTWISE_API leastwise_options leastwise_default_options(void);

/* Finds the cheapest blend. `options` may be NULL for the default.
 *
 * A scenario that has no blend, and a search that was stopped, are answers and LEASTWISE_OK: ask
 * leastwise_answer_status(). Equal input gives equal bytes, on any thread. */
LEASTWISE_API leastwise_result leastwise_formulate(const leastwise_scenario *scenario,
                                                   const leastwise_options *options,
                                                   leastwise_answer **answer,
                                                   leastwise_error **error);

#ifdef __cplusplus
}
#endif

#endif
