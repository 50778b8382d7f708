/* The answer to a scenario. What is not here is in its JSON report. */
#ifndef LEASTWISE_C_ANSWER_H
#define LEASTWISE_C_ANSWER_H

#include <leastwise/c/error.h>
#include <leastwise/export.h>
#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/* A blend, a conflict or a stop: a handle. */
typedef struct leastwise_answer leastwise_answer;

/* Which of the three it is. */
typedef enum leastwise_status {
  LEASTWISE_OPTIMAL = 0,    /* a blend, proved to be the cheapest */
  LEASTWISE_INFEASIBLE = 1, /* no blend obeys every rule */
  LEASTWISE_STOPPED = 2     /* ended before a proof */
} leastwise_status;

/* Why it stopped. */
typedef enum leastwise_cause {
  LEASTWISE_NOT_STOPPED = -1, /* it did not */
  LEASTWISE_TIME_LIMIT = 0,   /* the limit of the call */
  LEASTWISE_CANCELLED = 1,    /* leastwise_call_stop() */
  LEASTWISE_NUMERICAL = 2     /* no answer passed its checks */
} leastwise_cause;

/* Frees an answer. */
LEASTWISE_API void leastwise_answer_free(leastwise_answer *answer);

/* The report as a page of plain text, as JSON or as CSV, to be freed by leastwise_text_free(). NULL
 * for NULL, and when memory runs out. */
LEASTWISE_API char *leastwise_answer_to_text(const leastwise_answer *answer);
/* As JSON. */
LEASTWISE_API char *leastwise_answer_to_json(const leastwise_answer *answer);
/* As CSV. */
LEASTWISE_API char *leastwise_answer_to_csv(const leastwise_answer *answer);

/* Which of the three it is; LEASTWISE_STOPPED for NULL. */
LEASTWISE_API leastwise_status leastwise_answer_status(const leastwise_answer *answer);
/* Why it stopped; LEASTWISE_NOT_STOPPED for another answer and for NULL. */
LEASTWISE_API leastwise_cause leastwise_answer_cause(const leastwise_answer *answer);

/* Money per tonne of product: of the blend, or of the best one so far; else NaN. */
LEASTWISE_API double leastwise_answer_cost_per_t(const leastwise_answer *answer);
/* Money per hectare; NaN where the scenario asks for no rates. */
LEASTWISE_API double leastwise_answer_cost_per_ha(const leastwise_answer *answer);
/* kg of product per hectare; NaN as above. */
LEASTWISE_API double leastwise_answer_total_kg_per_ha(const leastwise_answer *answer);
/* When stopped: no blend is cheaper; money per ha or per t. NaN when that is not known. */
LEASTWISE_API double leastwise_answer_lower_bound(const leastwise_answer *answer);

/* Materials of the blend, largest first; 0 without a proved blend. */
LEASTWISE_API size_t leastwise_answer_portion_count(const leastwise_answer *answer);
/* Its name; NULL beyond the last. */
LEASTWISE_API const char *leastwise_answer_portion_material(const leastwise_answer *answer,
                                                            size_t index);
/* kg per tonne of product; NaN beyond the last. */
LEASTWISE_API double leastwise_answer_portion_kg_per_t(const leastwise_answer *answer,
                                                       size_t index);
/* kg per hectare; NaN beyond the last, and where the scenario asks for no rates. */
LEASTWISE_API double leastwise_answer_portion_kg_per_ha(const leastwise_answer *answer,
                                                        size_t index);

/* Rules that conflict; 0 without a conflict. */
LEASTWISE_API size_t leastwise_answer_conflict_count(const leastwise_answer *answer);
/* Its name, `rate N min`; NULL beyond the last. */
LEASTWISE_API const char *leastwise_answer_conflict_rule(const leastwise_answer *answer,
                                                         size_t index);

#ifdef __cplusplus
}
#endif

#endif
