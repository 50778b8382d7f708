/* What is asked: valid by construction, and never changed. */
#ifndef LEASTWISE_C_SCENARIO_H
#define LEASTWISE_C_SCENARIO_H

#include <leastwise/c/call.h>
#include <leastwise/c/error.h>
#include <leastwise/export.h>
#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/* A valid question: a handle. */
typedef struct leastwise_scenario leastwise_scenario;

/* Reads a scenario file and the files it names; these must lie in its folder unless
 * `allow_outside` is not 0. */
LEASTWISE_API leastwise_result leastwise_scenario_load(const char *file, int allow_outside,
                                                       leastwise_scenario **scenario,
                                                       leastwise_error **error);

/* Reads `length` bytes of YAML, or of JSON where they begin with `{"`. Of `call` it takes the name,
 * the folder and the request to stop. */
LEASTWISE_API leastwise_result leastwise_scenario_parse(const char *text, size_t length,
                                                        const leastwise_call *call,
                                                        leastwise_scenario **scenario,
                                                        leastwise_error **error);

/* The same scenario at another price, per tonne; the one given stays as it is. */
LEASTWISE_API leastwise_result leastwise_scenario_with_price(const leastwise_scenario *scenario,
                                                             const char *material,
                                                             double price_per_t,
                                                             leastwise_scenario **changed,
                                                             leastwise_error **error);
/* The same scenario with another limit of a rule, by its name in reports: `rate N min`. */
LEASTWISE_API leastwise_result leastwise_scenario_with_limit(const leastwise_scenario *scenario,
                                                             const char *rule, double limit,
                                                             leastwise_scenario **changed,
                                                             leastwise_error **error);
/* The same scenario without a material. */
LEASTWISE_API leastwise_result leastwise_scenario_without(const leastwise_scenario *scenario,
                                                          const char *material,
                                                          leastwise_scenario **changed,
                                                          leastwise_error **error);

/* Frees a scenario; answers to it stay. */
LEASTWISE_API void leastwise_scenario_free(leastwise_scenario *scenario);

/* What reports are headed with; may be empty. */
LEASTWISE_API const char *leastwise_scenario_title(const leastwise_scenario *scenario);
/* A label; nothing is converted. */
LEASTWISE_API const char *leastwise_scenario_currency(const leastwise_scenario *scenario);
/* Materials in play, in the order of definition. */
LEASTWISE_API size_t leastwise_scenario_material_count(const leastwise_scenario *scenario);
/* The name of material `index`; NULL beyond the last. */
LEASTWISE_API const char *leastwise_scenario_material(const leastwise_scenario *scenario,
                                                      size_t index);
/* Its price per tonne, without freight; NaN beyond the last. */
LEASTWISE_API double leastwise_scenario_price(const leastwise_scenario *scenario, size_t index);

#ifdef __cplusplus
}
#endif

#endif
