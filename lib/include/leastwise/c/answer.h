/* The answer to a scenario: a blend, a conflict, or a search that was stopped. */
#ifndef LEASTWISE_C_ANSWER_H
#define LEASTWISE_C_ANSWER_H

#include <leastwise/c/draft.h>
#include <leastwise/c/error.h>
#include <leastwise/export.h>
#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef struct leastwise_answer leastwise_answer;

typedef enum leastwise_status {
  LEASTWISE_OPTIMAL = 0,    /* a blend, proved to be the cheapest */
  LEASTWISE_INFEASIBLE = 1, /* no blend obeys every rule: see the conflict */
  LEASTWISE_STOPPED = 2     /* ended before a proof */
} leastwise_status;

typedef enum leastwise_cause {
  LEASTWISE_NOT_STOPPED = -1,
  LEASTWISE_TIME_LIMIT = 0,
  LEASTWISE_CANCELLED = 1,
  LEASTWISE_NUMERICAL = 2
} leastwise_cause;

LEASTWISE_API void leastwise_answer_free(leastwise_answer *answer);

/* The answer as a page for a person, as JSON (report format 1) and as CSV. Yours to free; NULL when
 * out of memory. */
LEASTWISE_API char *leastwise_answer_to_text(const leastwise_answer *answer);
LEASTWISE_API char *leastwise_answer_to_json(const leastwise_answer *answer);
LEASTWISE_API char *leastwise_answer_to_csv(const leastwise_answer *answer);

LEASTWISE_API leastwise_status leastwise_answer_status(const leastwise_answer *answer);
LEASTWISE_API leastwise_cause leastwise_answer_cause(const leastwise_answer *answer);
LEASTWISE_API const char *leastwise_answer_title(const leastwise_answer *answer);
LEASTWISE_API const char *leastwise_answer_currency(const leastwise_answer *answer);

/* NaN without a blend; per hectare also where the scenario asks for no rates. A stopped search has
 * the cost of its best blend so far in the unit of the scenario, and no blend is cheaper than the
 * lower bound. */
LEASTWISE_API double leastwise_answer_cost_per_t(const leastwise_answer *answer);
LEASTWISE_API double leastwise_answer_cost_per_ha(const leastwise_answer *answer);
LEASTWISE_API double leastwise_answer_total_kg_per_ha(const leastwise_answer *answer);
LEASTWISE_API double leastwise_answer_lower_bound(const leastwise_answer *answer);

/* Parts of the answer. Each comes as a count and a function that fills a struct with one line,
 * from 0; LEASTWISE_BAD_ARGUMENT beyond the last. Texts belong to the answer. */

/* A material of the blend, largest first; of a stopped search, of its best blend so far. */
typedef struct leastwise_portion {
  const char *material;
  leastwise_form form; /* in which it enters */
  double kg_per_ha;
  double kg_per_t;   /* per tonne of product */
  double cost_per_t; /* price and freight in a tonne of product */
  double cost_per_ha;
} leastwise_portion;
LEASTWISE_API size_t leastwise_answer_portion_count(const leastwise_answer *answer);
LEASTWISE_API leastwise_result leastwise_answer_portion(const leastwise_answer *answer,
                                                        size_t index, leastwise_portion *portion);

/* The binder that holds powders on granules; kg_per_t is 0 without powders. */
typedef struct leastwise_binder_use {
  const char *material; /* empty: unnamed */
  double kg_per_ha;
  double kg_per_t;
  double cost_per_t;
} leastwise_binder_use;
LEASTWISE_API leastwise_result leastwise_answer_binder(const leastwise_answer *answer,
                                                       leastwise_binder_use *binder);

/* A nutrient or property that the blend supplies. */
typedef struct leastwise_supply {
  const char *nutrient;
  double kg_per_ha;           /* all that is there */
  double effective_kg_per_ha; /* what a minimum counts */
  double percent;             /* of the product, by mass */
} leastwise_supply;
LEASTWISE_API size_t leastwise_answer_supply_count(const leastwise_answer *answer);
LEASTWISE_API leastwise_result leastwise_answer_supply(const leastwise_answer *answer, size_t index,
                                                       leastwise_supply *supply);

/* A limit that sets the price. The shadow price is how much the cost rises when the limit is raised
 * by one of its units: a minimum that binds has one of at least 0, a maximum one of at most 0. */
typedef struct leastwise_binding_rule {
  const char *rule; /* `rate N min` */
  double limit;
  double shadow_price;
  const char *unit;   /* `USD/ha per kg/ha` */
  double holds_from;  /* the price is the same for limits in this interval; infinite: no end, or */
  double holds_to;    /* intervals were not asked for */
  double price_below; /* just below the limit; NaN: no blend there, or not asked for */
  double price_above;
  int unique; /* 0: the limit lies where the price changes */
  int line;   /* where the rule stands in the scenario; 0 when built in code */
} leastwise_binding_rule;
LEASTWISE_API size_t leastwise_answer_binding_count(const leastwise_answer *answer);
LEASTWISE_API leastwise_result leastwise_answer_binding(const leastwise_answer *answer,
                                                        size_t index, leastwise_binding_rule *rule);

/* A material left out. */
typedef struct leastwise_unused_material {
  const char *material;
  double price_per_t;
  double enters_below_price_per_t; /* NaN: at no price, or not asked for */
  const char *why;                 /* `price`, `form`, `exclusion`, `bins` ... */
} leastwise_unused_material;
LEASTWISE_API size_t leastwise_answer_unused_count(const leastwise_answer *answer);
LEASTWISE_API leastwise_result leastwise_answer_unused(const leastwise_answer *answer, size_t index,
                                                       leastwise_unused_material *material);

/* A remark: mind it. */
typedef enum leastwise_note_level {
  LEASTWISE_NOTE_INFO = 0,
  LEASTWISE_NOTE_CAUTION = 1,
  LEASTWISE_NOTE_WARNING = 2
} leastwise_note_level;
LEASTWISE_API size_t leastwise_answer_note_count(const leastwise_answer *answer);
/* The text of a note, and its level unless `level` is NULL; NULL beyond the last. */
LEASTWISE_API const char *leastwise_answer_note(const leastwise_answer *answer, size_t index,
                                                leastwise_note_level *level);

#ifdef __cplusplus
}
#endif

#endif
