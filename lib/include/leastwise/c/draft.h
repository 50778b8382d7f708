/* A scenario built call by call. Each call says what one key of the file format says. */
#ifndef LEASTWISE_C_DRAFT_H
#define LEASTWISE_C_DRAFT_H

#include <leastwise/c/error.h>
#include <leastwise/export.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Nothing is judged before leastwise_scenario_from_draft(), which says all that is wrong at once.
 * What is said again replaces what was said before.
 * A call that fails, with LEASTWISE_BAD_ARGUMENT or LEASTWISE_OUT_OF_MEMORY, changes nothing.
 * Variants and price risk are stated in a file only. */
typedef struct leastwise_draft leastwise_draft;

/* NULL when out of memory. */
LEASTWISE_API leastwise_draft *leastwise_draft_new(void);
LEASTWISE_API void leastwise_draft_free(leastwise_draft *draft);

LEASTWISE_API leastwise_result leastwise_draft_title(leastwise_draft *draft, const char *title);
LEASTWISE_API leastwise_result leastwise_draft_currency(leastwise_draft *draft, const char *label);
/* `use`: restricts the blend to this and the other materials so named. */
LEASTWISE_API leastwise_result leastwise_draft_use(leastwise_draft *draft, const char *material);

/* Materials. What a built-in material of that name does not get told, it takes from the catalogue.
 * The functions below name a material that leastwise_draft_material() has added. A price of NaN is
 * not stated yet. */
typedef enum leastwise_form {
  LEASTWISE_GRANULE = 0,
  LEASTWISE_POWDER = 1,
  LEASTWISE_CRYSTAL = 2,
  LEASTWISE_FINES = 3
} leastwise_form;
LEASTWISE_API leastwise_result leastwise_draft_material(leastwise_draft *draft, const char *name,
                                                        double price_per_t);
LEASTWISE_API leastwise_result leastwise_draft_form(leastwise_draft *draft, const char *material,
                                                    leastwise_form form);
LEASTWISE_API leastwise_result leastwise_draft_family(leastwise_draft *draft, const char *material,
                                                      const char *family);
/* `contains_percent`: one nutrient, form or property of it. */
LEASTWISE_API leastwise_result leastwise_draft_contains(leastwise_draft *draft,
                                                        const char *material, const char *nutrient,
                                                        double percent);
/* `spread_percent`: standard deviation of that content, in percentage points. */
LEASTWISE_API leastwise_result leastwise_draft_spread(leastwise_draft *draft, const char *material,
                                                      const char *nutrient, double points);
/* `formula` and `purity_percent` in place of contents. */
LEASTWISE_API leastwise_result leastwise_draft_formula(leastwise_draft *draft, const char *material,
                                                       const char *formula, double purity_percent);
/* `share_percent` of the product; an infinite side is no limit. */
LEASTWISE_API leastwise_result leastwise_draft_share(leastwise_draft *draft, const char *material,
                                                     double min_percent, double max_percent);

/* The keys of a material that take a number. */
typedef enum leastwise_quantity {
  LEASTWISE_PRICE_PER_T = 0,
  LEASTWISE_FREIGHT_PER_T = 1,
  LEASTWISE_MIN_IF_USED_PERCENT = 2,
  LEASTWISE_STOCK_KG = 3,
  LEASTWISE_SGN = 4,
  LEASTWISE_UI = 5,
  LEASTWISE_BULK_DENSITY_KG_PER_M3 = 6
} leastwise_quantity;
LEASTWISE_API leastwise_result leastwise_draft_quantity(leastwise_draft *draft,
                                                        const char *material,
                                                        leastwise_quantity which, double value);
/* `ground`: crystal or fines that will be ground to a powder. */
LEASTWISE_API leastwise_result leastwise_draft_ground(leastwise_draft *draft, const char *material,
                                                      int ground);
LEASTWISE_API leastwise_result leastwise_draft_micronutrient_granule(leastwise_draft *draft,
                                                                     const char *material,
                                                                     int dedicated);

/* Limits. Give INFINITY or -INFINITY for a side that has none, twice the same for `exactly`. */
LEASTWISE_API leastwise_result leastwise_draft_rate(leastwise_draft *draft, const char *nutrient,
                                                    double min_kg_per_ha, double max_kg_per_ha);
LEASTWISE_API leastwise_result leastwise_draft_grade(leastwise_draft *draft, const char *nutrient,
                                                     double min_percent, double max_percent);
/* `confidence` of a rate or grade stated before: the share of lots in which it must hold. */
LEASTWISE_API leastwise_result leastwise_draft_rate_confidence(leastwise_draft *draft,
                                                               const char *nutrient, double share);
LEASTWISE_API leastwise_result leastwise_draft_grade_confidence(leastwise_draft *draft,
                                                                const char *nutrient, double share);
/* `tolerance` of a grade stated before: `aafco` or `eu-2019-1009`. */
LEASTWISE_API leastwise_result leastwise_draft_grade_tolerance(leastwise_draft *draft,
                                                               const char *nutrient,
                                                               const char *scheme);
LEASTWISE_API leastwise_result leastwise_draft_ratio(leastwise_draft *draft, const char *of,
                                                     const char *to, double min, double max);

/* How the blend is made. */
LEASTWISE_API leastwise_result leastwise_draft_total(leastwise_draft *draft, double min_kg_per_ha,
                                                     double max_kg_per_ha);
LEASTWISE_API leastwise_result leastwise_draft_bins(leastwise_draft *draft, int at_most);
LEASTWISE_API leastwise_result leastwise_draft_coating(leastwise_draft *draft, double max_percent);
/* `organic`: 1 yes, 0 no, -1 as the built-in table has it. */
LEASTWISE_API leastwise_result leastwise_draft_binder(leastwise_draft *draft, const char *material,
                                                      double percent_of_powder, double price_per_t,
                                                      int organic);
/* `granular_micronutrient_factor` of one nutrient, or by default (NULL). */
LEASTWISE_API leastwise_result leastwise_draft_granular_factor(leastwise_draft *draft,
                                                               const char *nutrient, double factor);
LEASTWISE_API leastwise_result leastwise_draft_blending_fee(leastwise_draft *draft, double per_t);

/* What two families do to each other, where it is to differ from the built-in table. */
typedef enum leastwise_compatibility {
  LEASTWISE_COMPATIBLE = 0,
  LEASTWISE_LIMITED = 1,
  LEASTWISE_INCOMPATIBLE = 2
} leastwise_compatibility;
LEASTWISE_API leastwise_result leastwise_draft_pair(leastwise_draft *draft, const char *family_a,
                                                    const char *family_b,
                                                    leastwise_compatibility level);
/* `limited_compatibility`: not 0 keeps limited pairs apart as well. */
LEASTWISE_API leastwise_result leastwise_draft_forbid_limited(leastwise_draft *draft, int forbid);

/* `make`: what stock is held against. */
LEASTWISE_API leastwise_result leastwise_draft_make_hectares(leastwise_draft *draft,
                                                             double hectares);
LEASTWISE_API leastwise_result leastwise_draft_make_tonnes(leastwise_draft *draft, double tonnes);

#ifdef __cplusplus
}
#endif

#endif
