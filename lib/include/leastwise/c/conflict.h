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
  const char *rule; /* `rate N min` */
  double limit;     /* NaN for an either-or rule */
  double shortfall; /* how far it alone must give way; infinity: that cannot end the conflict; NaN:
                       not computed */
  const char *unit; /* of the limit */
  const char *detail; /* for an either-or rule: the reason */
  int line;           /* where the rule stands in the scenario; 0 when built in code */
} leastwise_conflicting_rule;
/* How many rules the conflict has; 0 without one. */
LEASTWISE_API size_t leastwise_answer_conflict_count(const leastwise_answer *answer);
/* Fills in rule `index`; LEASTWISE_BAD_ARGUMENT beyond the last. */
LEASTWISE_API leastwise_result leastwise_answer_conflict(const leastwise_answer *answer,
                                                         size_t index,
                                                         leastwise_conflicting_rule *rule);
/* Not 0: drop any one rule of the conflict and the rest agree. */
LEASTWISE_API int leastwise_answer_irreducible(const leastwise_answer *answer);

/* A limit to change, and to what, so that there is a blend. */
typedef struct leastwise_change {
  const char *rule; /* `rate N min` */
  double from;      /* as the scenario states it */
  double to;        /* what makes a blend possible */
  const char *unit; /* of both */
  int line;         /* as above */
} leastwise_change;
/* How many limits the nearest order changes. */
LEASTWISE_API size_t leastwise_answer_nearest_count(const leastwise_answer *answer);
/* Fills in change `index`; LEASTWISE_BAD_ARGUMENT beyond the last. */
LEASTWISE_API leastwise_result leastwise_answer_nearest(const leastwise_answer *answer,
                                                        size_t index, leastwise_change *change);

#ifdef __cplusplus
}
#endif

#endif
