/* Asks. */
#ifndef LEASTWISE_C_FORMULATE_H
#define LEASTWISE_C_FORMULATE_H

#include <leastwise/c/answer.h>
#include <leastwise/c/call.h>
#include <leastwise/c/error.h>
#include <leastwise/c/scenario.h>
#include <leastwise/export.h>
#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Finds the cheapest blend that obeys every rule. An impossible scenario is an answer. */
LEASTWISE_API leastwise_result leastwise_formulate(const leastwise_scenario *scenario,
                                                   const leastwise_call *call,
                                                   leastwise_answer **answer,
                                                   leastwise_error **error);

/* Answers many questions at once, each the scenario at other prices of some materials, as
 * leastwise_formulate() without intervals answers them, to the last bit.
 * `materials` names `material_count` materials; `prices_per_t` holds their prices for one question
 * after the other, `question_count` times `material_count` numbers. `costs` takes `question_count`
 * numbers, per ha or per t as the scenario is; NaN without a proved blend. `statuses` takes as many,
 * or is NULL. */
LEASTWISE_API leastwise_result leastwise_what_if_prices(
    const leastwise_scenario *scenario, size_t material_count, const char *const *materials,
    size_t question_count, const double *prices_per_t, const leastwise_call *call, double *costs,
    leastwise_status *statuses, leastwise_error **error);

#ifdef __cplusplus
}
#endif

#endif
