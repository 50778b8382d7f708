/* Which rules of a scenario fight, and what would end it. Texts belong to the answer. */
#ifndef LEASTWISE_C_CONFLICT_H
#define LEASTWISE_C_CONFLICT_H

#include <leastwise/c/answer.h>
#include <leastwise/c/error.h>
#include <leastwise/export.h>
#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/* A rule of the conflict. */
typedef struct leastwise_conflicting_rule {
  const char *rule;
  double limit;     /* NaN for an either-or rule */
  double shortfall; /* how far it alone must give way; NaN: that cannot end the conflict */
  const char *unit;
  const char *detail; /* for an either-or rule: the reason */
  int line;           /* where the rule stands in the scenario; 0 when built in code */
} leastwise_conflicting_rule;
LEASTWISE_API size_t leastwise_answer_conflict_count(const leastwise_answer *answer);
LEASTWISE_API leastwise_result leastwise_answer_conflict(const leastwise_answer *answer,
                                                         size_t index,
                                                         leastwise_conflicting_rule *rule);
/* Not 0: drop any one rule of the conflict and the rest agree. */
LEASTWISE_API int leastwise_answer_irreducible(const leastwise_answer *answer);

/* A limit to change, and to what, so that there is a blend. */
typedef struct leastwise_change {
  const char *rule;
  double from;
  double to;
  const char *unit;
  int line;
} leastwise_change;
LEASTWISE_API size_t leastwise_answer_nearest_count(const leastwise_answer *answer);
LEASTWISE_API leastwise_result leastwise_answer_nearest(const leastwise_answer *answer,
                                                        size_t index, leastwise_change *change);

#ifdef __cplusplus
}
#endif

#endif
