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

/* What became of a scenario: a handle. */
typedef struct leastwise_answer leastwise_answer;

/* Which of the three an answer is. */
typedef enum leastwise_status {
  LEASTWISE_OPTIMAL = 0,    /* a blend, proved to be the cheapest */
  LEASTWISE_INFEASIBLE = 1, /* no blend obeys every rule: see the conflict */
  LEASTWISE_STOPPED = 2     /* ended before a proof */
} leastwise_status;

/* Why a search ended before a proof. */
typedef enum leastwise_cause {
  LEASTWISE_NOT_STOPPED = -1, /* it did not */
  LEASTWISE_TIME_LIMIT = 0,   /* the limit of the options */
  LEASTWISE_CANCELLED = 1,    /* leastwise_stop_request() */
  LEASTWISE_NUMERICAL = 2     /* no answer passed its checks */
} leastwise_cause;

/* Frees an answer and every text that belongs to it. */
LEASTWISE_API void leastwise_answer_free(leastwise_answer *answer);

/* The answer as a page for a person. Yours to free; NULL when out of memory. */
LEASTWISE_API char *leastwise_answer_to_text(const leastwise_answer *answer);
/* The same as JSON, report format 1. */
LEASTWISE_API char *leastwise_answer_to_json(const leastwise_answer *answer);
/* The same as CSV. */
LEASTWISE_API char *leastwise_answer_to_csv(const leastwise_answer *answer);

/* Which of the three it is. */
LEASTWISE_API leastwise_status leastwise_answer_status(const leastwise_answer *answer);
/* Why the search ended early; LEASTWISE_NOT_STOPPED when it did not. */
LEASTWISE_API leastwise_cause leastwise_answer_cause(const leastwise_answer *answer);
/* Of the scenario; may be empty. */
LEASTWISE_API const char *leastwise_answer_title(const leastwise_answer *answer);
/* A label, as the scenario states it. */
LEASTWISE_API const char *leastwise_answer_currency(const leastwise_answer *answer);

/* What a tonne of product costs; NaN without a blend. A stopped search has the cost of its best
 * blend so far, in the unit of the scenario: per tonne or per hectare. */
LEASTWISE_API double leastwise_answer_cost_per_t(const leastwise_answer *answer);
/* The same per hectare; NaN also where the scenario asks for no rates. */
LEASTWISE_API double leastwise_answer_cost_per_ha(const leastwise_answer *answer);
/* All of the product; NaN where there is no blend or no rate. */
LEASTWISE_API double leastwise_answer_total_kg_per_ha(const leastwise_answer *answer);
/* Of a stopped search: no blend is cheaper. In the unit of the scenario. */
LEASTWISE_API double leastwise_answer_lower_bound(const leastwise_answer *answer);

/*
 * Parts of the answer. Each comes as a count and a function that fills a struct with one line,
 * from 0; LEASTWISE_BAD_ARGUMENT beyond the last. Texts belong to the answer.
 */

/* A material of the blend, largest first; of a stopped search, of its best blend so far. */
typedef struct leastwise_portion {
  const char *material; /* its name */
  leastwise_form form;  /* in which it enters */
  double kg_per_ha;     /* NaN per tonne */
  double kg_per_t;      /* per tonne of product */
  double cost_per_t;    /* price and freight in a tonne of product */
  double cost_per_ha;   /* NaN per tonne */
} leastwise_portion;
/* How many materials there are. */
LEASTWISE_API size_t leastwise_answer_portion_count(const leastwise_answer *answer);
/* Fills in portion `index`. */
LEASTWISE_API leastwise_result leastwise_answer_portion(const leastwise_answer *answer,
                                                        size_t index, leastwise_portion *portion);

/* The binder that holds powders on granules; kg_per_t is 0 without powders. */
typedef struct leastwise_binder_use {
  const char *material; /* empty: unnamed */
  double kg_per_ha;     /* NaN per tonne */
  double kg_per_t;      /* per tonne of product */
  double cost_per_t;    /* in a tonne of product */
} leastwise_binder_use;
/* Fills in what the coating needs; LEASTWISE_BAD_ARGUMENT without a blend. */
LEASTWISE_API leastwise_result leastwise_answer_binder(const leastwise_answer *answer,
                                                       leastwise_binder_use *binder);

/* A nutrient or property that the blend supplies. */
typedef struct leastwise_supply {
  const char *nutrient;       /* its name */
  double kg_per_ha;           /* all that is there */
  double effective_kg_per_ha; /* what a minimum counts */
  double percent;             /* of the product, by mass */
} leastwise_supply;
/* How many nutrients and properties are listed. */
LEASTWISE_API size_t leastwise_answer_supply_count(const leastwise_answer *answer);
/* Fills in supply `index`. */
LEASTWISE_API leastwise_result leastwise_answer_supply(const leastwise_answer *answer, size_t index,
                                                       leastwise_supply *supply);

/* On which sides of its limit a price was looked for. */
typedef enum leastwise_known_sides {
  LEASTWISE_SIDES_NONE = 0,  /* on neither */
  LEASTWISE_SIDES_BELOW = 1, /* only the price of less is known */
  LEASTWISE_SIDES_ABOVE = 2, /* only the price of more is known */
  LEASTWISE_SIDES_BOTH = 3   /* both are */
} leastwise_known_sides;

/* A limit that sets the price. The shadow price is how much the cost rises when the limit is raised
 * by one of its units: a minimum that binds has one of at least 0, a maximum one of at most 0. */
typedef struct leastwise_binding_rule {
  const char *rule;    /* `rate N min` */
  double limit;        /* as the scenario states it */
  double shadow_price; /* in `unit` */
  const char *unit;    /* `USD/ha per kg/ha` */
  double holds_from;   /* the price holds from here; -infinity: no end; NaN: not computed */
  double holds_to;     /* to here; infinity: no end; NaN: not computed */
  double price_below;  /* just below the limit; -infinity: no blend there; NaN: not computed */
  double price_above;  /* just above it; infinity: no blend there; NaN: not computed */
  int unique;          /* 0: the limit lies where the price changes; -1: not computed */
  leastwise_known_sides known_sides; /* whether price_below and price_above are computed */
  int line; /* where the rule stands in the scenario; 0 when built in code */
} leastwise_binding_rule;
/* How many limits set the price. */
LEASTWISE_API size_t leastwise_answer_binding_count(const leastwise_answer *answer);
/* Fills in rule `index`. */
LEASTWISE_API leastwise_result leastwise_answer_binding(const leastwise_answer *answer,
                                                        size_t index, leastwise_binding_rule *rule);

/* A material left out. */
typedef struct leastwise_unused_material {
  const char *material;            /* its name */
  double price_per_t;              /* as stated, without freight */
  double enters_below_price_per_t; /* -infinity: at no price; NaN: not computed */
  const char *why;                 /* `price`, `form`, `exclusion`, `bins` ... */
} leastwise_unused_material;
/* How many materials are left out. */
LEASTWISE_API size_t leastwise_answer_unused_count(const leastwise_answer *answer);
/* Fills in material `index`. */
LEASTWISE_API leastwise_result leastwise_answer_unused(const leastwise_answer *answer, size_t index,
                                                       leastwise_unused_material *material);

/* A remark: mind it. */
typedef enum leastwise_note_level {
  LEASTWISE_NOTE_INFO = 0,    /* good to know */
  LEASTWISE_NOTE_CAUTION = 1, /* mind it while working */
  LEASTWISE_NOTE_WARNING = 2  /* probably not what was meant */
} leastwise_note_level;
/* How many remarks there are. */
LEASTWISE_API size_t leastwise_answer_note_count(const leastwise_answer *answer);
/* The text of a note, and its level unless `level` is NULL; NULL beyond the last. */
LEASTWISE_API const char *leastwise_answer_note(const leastwise_answer *answer, size_t index,
                                                leastwise_note_level *level);

#ifdef __cplusplus
}
#endif

#endif
