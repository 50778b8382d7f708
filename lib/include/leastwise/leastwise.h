/*
 * leastwise for programs in C, and in languages that call C.
 *
 *   char *report = leastwise_run("blend", text, "{\"time_limit_s\": 5}", NULL);
 *   ... parse the JSON ...
 *   leastwise_text_free(report);
 *
 * or, to change a scenario and to ask it often:
 *
 *   leastwise_scenario *scenario;
 *   leastwise_answer *answer;
 *   leastwise_error *error;
 *   if (leastwise_scenario_load("starter.yaml", 0, &scenario, &error) != LEASTWISE_OK) {
 *     fputs(leastwise_error_text(error), stderr);
 *     leastwise_error_free(error);
 *     return 1;
 *   }
 *   if (leastwise_formulate(scenario, NULL, &answer, NULL) == LEASTWISE_OK &&
 *       leastwise_answer_status(answer) == LEASTWISE_OPTIMAL)
 *     printf("%g per tonne\n", leastwise_answer_cost_per_t(answer));
 *   leastwise_answer_free(answer);
 *   leastwise_scenario_free(scenario);
 *
 * Text is UTF-8 and ends in a zero byte. Amounts that do not apply are NaN, limits that are absent
 * are infinite; units stand at the end of each name. Wherever an error is reported, NULL may be
 * given by those who do not want to know more.
 *
 * Who frees what. A function that gives out a handle gives it away: free it with the function of
 * its name, once. Handles do not depend on one another: a scenario may be freed before its answer.
 * `char *` that a function returns is yours, to be freed by leastwise_text_free(). `const char *`
 * belongs to the handle it was asked of and lasts as long as that handle. NULL may be freed, and
 * what was not asked for with success is NULL.
 *
 * Threads. Nothing is shared between handles. One handle may be read on many threads at once;
 * settings of calls are changed while no call uses them; a handle is freed when no thread uses it.
 * leastwise_call_stop() may be called on any thread at any time before leastwise_call_free().
 *
 * No C++ exception leaves these functions, no signal handler is set, nothing is printed. Memory that
 * runs out is a result code, or NULL. The solver underneath does not survive that one of its own
 * allocations fails, so what it will need is asked for before; should another thread take that
 * memory in between, leastwise_formulate() may end the process. So may leastwise_answer_to_json()
 * when memory runs out in it.
 *
 * What stays. Every release 0.1.x keeps the functions of this header with their parameters and
 * meaning, and the values of its enumerations; a program built against one release runs with a later
 * one. Functions, values at the end of an enumeration, and names in JSON reports may be added: treat
 * a value you do not know as you would a failure. A handle is opaque, so that what it holds may grow.
 * A new minor version may change this interface; the name of the shared library (soname) changes
 * with it.
 */
#ifndef LEASTWISE_LEASTWISE_H
#define LEASTWISE_LEASTWISE_H

#include <leastwise/c/answer.h>
#include <leastwise/c/call.h>
#include <leastwise/c/error.h>
#include <leastwise/c/formulate.h>
#include <leastwise/c/run.h>
#include <leastwise/c/scenario.h>
#include <leastwise/version.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Version of the library at run time, `major.minor.patch`. */
LEASTWISE_API const char *leastwise_version(void);

/* Frees a text that a function gave away. */
LEASTWISE_API void leastwise_text_free(char *text);

#ifdef __cplusplus
}
#endif

#endif
