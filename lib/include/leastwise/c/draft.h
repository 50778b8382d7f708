/* A scenario built call by call. Each call says what one key of the file format says. */
#ifndef LEASTWISE_C_DRAFT_H
#define LEASTWISE_C_DRAFT_H

#include <leastwise/c/error.h>
#include <leastwise/export.h>

#ifdef __cplusplus
extern "C" {
#endif

/* A scenario in the making: a handle.
 *
 * Nothing is judged before leastwise_scenario_from_draft(), which says all that is wrong at once.
 * What is said again replaces what was said before.
 * A call that fails, with LEASTWISE_BAD_ARGUMENT or LEASTWISE_OUT_OF_MEMORY, changes nothing.
 * Variants and price risk are stated in a file only. */
typedef struct leastwise_draft leastwise_draft;

/* One that says nothing yet; NULL when out of memory. */
LEASTWISE_API leastwise_draft *leastwise_draft_new(void);
/* Frees a draft; scenarios made of it stay. */
LEASTWISE_API void leastwise_draft_free(leastwise_draft *draft);

/* `title`: what reports are headed with. */
LEASTWISE_API leastwise_result leastwise_draft_title(leastwise_draft *draft, const char *title);
/* `currency`: a label; nothing is converted. */
LEASTWISE_API leastwise_result leastwise_draft_currency(leastwise_draft *draft, const char *label);
/* `use`: restricts the blend to this and the other materials so named. */
LEASTWISE_API leastwise_result leastwise_draft_use(leastwise_draft *draft, const char *material);

/*
 * Materials. What a built-in material of that name does not get told, it takes from the catalogue.
 * The functions below name a material that leastwise_draft_material() has added. A price of NaN is
 * not stated yet.
 */

/* How a material is bought: the keys of `form`. */
typedef enum leastwise_form LEASTWISE_ANY_VALUE {
  LEASTWISE_GRANULE = 0, /* may enter the bulk */
  LEASTWISE_POWDER = 1,  /* only as a coating */
  LEASTWISE_CRYSTAL = 2, /* never, unless ground */
  LEASTWISE_FINES = 3    /* never, unless ground */
} leastwise_form;
/* Adds a material, with its price per tonne. */
LEASTWISE_API leastwise_result leastwise_draft_material(leastwise_draft *draft, const char *name,
                                                        double price_per_t);
/* `form`: how the material is bought. */
LEASTWISE_API leastwise_result leastwise_draft_form(leastwise_draft *draft, const char *material,
                                                    leastwise_form form);
/* `family`, for the compatibility table. */
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
/* `share_percent` of the product; an infinite side is no limit, two take back what was said. */
LEASTWISE_API leastwise_result leastwise_draft_share(leastwise_draft *draft, const char *material,
                                                     double min_percent, double max_percent);

/* The keys of a material that take a number. */
typedef enum leastwise_quantity LEASTWISE_ANY_VALUE {
  LEASTWISE_PRICE_PER_T = 0,           /* currency per tonne */
  LEASTWISE_FREIGHT_PER_T = 1,         /* on top of the price */
  LEASTWISE_MIN_IF_USED_PERCENT = 2,   /* none, or at least this share */
  LEASTWISE_STOCK_KG = 3,              /* at hand; a rule with `make` */
  LEASTWISE_SGN = 4,                   /* median diameter in mm x 100 */
  LEASTWISE_UI = 5,                    /* uniformity index, 0 to 100 */
  LEASTWISE_BULK_DENSITY_KG_PER_M3 = 6 /* loose */
} leastwise_quantity;
/* One of those keys. Units are those of its name; a price of NaN takes back what was said. */
LEASTWISE_API leastwise_result leastwise_draft_quantity(leastwise_draft *draft,
                                                        const char *material,
                                                        leastwise_quantity which, double value);
/* `ground`: crystal or fines that will be ground to a powder. */
LEASTWISE_API leastwise_result leastwise_draft_ground(leastwise_draft *draft, const char *material,
                                                      int ground);
/* `micronutrient_granule`: not 0, the factor applies to it. */
LEASTWISE_API leastwise_result leastwise_draft_micronutrient_granule(leastwise_draft *draft,
                                                                     const char *material,
                                                                     int dedicated);

/*
 * Limits. Give INFINITY or -INFINITY for a side that has none, twice the same number for `exactly`.
 */

/* `rates_kg_per_ha`: limits on a nutrient, kg per hectare. */
LEASTWISE_API leastwise_result leastwise_draft_rate(leastwise_draft *draft, const char *nutrient,
                                                    double min_kg_per_ha, double max_kg_per_ha);
/* `grade_percent`: limits on the product, percent by mass. */
LEASTWISE_API leastwise_result leastwise_draft_grade(leastwise_draft *draft, const char *nutrient,
                                                     double min_percent, double max_percent);
/* `confidence` of a rate or grade stated before: the share of lots in which it must hold. */
LEASTWISE_API leastwise_result leastwise_draft_rate_confidence(leastwise_draft *draft,
                                                               const char *nutrient, double share);
/* The same for a grade. */
LEASTWISE_API leastwise_result leastwise_draft_grade_confidence(leastwise_draft *draft,
                                                                const char *nutrient, double share);
/* `tolerance` of a grade stated before: `aafco` or `eu-2019-1009`. */
LEASTWISE_API leastwise_result leastwise_draft_grade_tolerance(leastwise_draft *draft,
                                                               const char *nutrient,
                                                               const char *scheme);
/* `ratios`: the mass of one divided by the mass of the other. */
LEASTWISE_API leastwise_result leastwise_draft_ratio(leastwise_draft *draft, const char *of,
                                                     const char *to, double min, double max);

/* `total_kg_per_ha`: limits on the whole product. */
LEASTWISE_API leastwise_result leastwise_draft_total(leastwise_draft *draft, double min_kg_per_ha,
                                                     double max_kg_per_ha);
/* `bins`: at most so many granular materials. */
LEASTWISE_API leastwise_result leastwise_draft_bins(leastwise_draft *draft, int at_most);
/* `coating_percent`: powders with binder, percent of the granules. */
LEASTWISE_API leastwise_result leastwise_draft_coating(leastwise_draft *draft, double max_percent);
/* `binder`: what holds powders on granules. `organic`: 1 yes, 0 no, -1 as the built-in table has
 * it. */
LEASTWISE_API leastwise_result leastwise_draft_binder(leastwise_draft *draft, const char *material,
                                                      double percent_of_powder, double price_per_t,
                                                      int organic);
/* `granular_micronutrient_factor` of one nutrient, or by default (NULL). */
LEASTWISE_API leastwise_result leastwise_draft_granular_factor(leastwise_draft *draft,
                                                               const char *nutrient, double factor);
/* `confirm_high_rate`: a rate of this micronutrient far above what is usual is meant. */
LEASTWISE_API leastwise_result leastwise_draft_confirm_high_rate(leastwise_draft *draft,
                                                                 const char *element);
/* `blending_fee_per_t`: per tonne of product. */
LEASTWISE_API leastwise_result leastwise_draft_blending_fee(leastwise_draft *draft, double per_t);

/* What two families do to each other, where it is to differ from the built-in table. */
typedef enum leastwise_compatibility LEASTWISE_ANY_VALUE {
  LEASTWISE_COMPATIBLE = 0,  /* may lie together */
  LEASTWISE_LIMITED = 1,     /* mix and spread at once */
  LEASTWISE_INCOMPATIBLE = 2 /* never in one blend */
} leastwise_compatibility;
/* `compatibility`: one pair of families, in either order. */
LEASTWISE_API leastwise_result leastwise_draft_pair(leastwise_draft *draft, const char *family_a,
                                                    const char *family_b,
                                                    leastwise_compatibility level);
/* `limited_compatibility`: not 0 keeps limited pairs apart as well. */
LEASTWISE_API leastwise_result leastwise_draft_forbid_limited(leastwise_draft *draft, int forbid);

/* `make`: how much land is to be supplied; what stock is held against. */
LEASTWISE_API leastwise_result leastwise_draft_make_hectares(leastwise_draft *draft,
                                                             double hectares);
/* The same in tonnes of product; one of both. */
LEASTWISE_API leastwise_result leastwise_draft_make_tonnes(leastwise_draft *draft, double tonnes);

#ifdef __cplusplus
}
#endif

#endif
