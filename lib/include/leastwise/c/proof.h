/* An answer with a certificate in exact arithmetic, and the check that trusts neither. */
#ifndef LEASTWISE_C_PROOF_H
#define LEASTWISE_C_PROOF_H

#include <leastwise/c/error.h>
#include <leastwise/c/formulate.h>
#include <leastwise/c/scenario.h>
#include <leastwise/export.h>
#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/* As leastwise_formulate(), with a proof as JSON in `proof`; that is NULL where there is none, for
 * instance because the search was stopped. */
LEASTWISE_API leastwise_result leastwise_formulate_with_proof(const leastwise_scenario *scenario,
                                                              const leastwise_options *options,
                                                              leastwise_answer **answer,
                                                              char **proof,
                                                              leastwise_error **error);

/* What a checked proof shows. */
typedef enum leastwise_verdict {
  LEASTWISE_PROVED_OPTIMAL = 0,     /* exactly: nothing is cheaper */
  LEASTWISE_PROVED_WITHIN_1E_9 = 1, /* nothing is cheaper by more than a billionth of the cost */
  LEASTWISE_PROVED_INFEASIBLE = 2,  /* no blend obeys every rule */
  LEASTWISE_NOT_PROVED = 3          /* the detail says what is wrong */
} leastwise_verdict;

/* Checks `length` bytes of a proof against a scenario. `detail`, unless NULL, is given what is
 * wrong in words, empty when it is proved. A text that is no proof at all is an input rejected.
 * There is no time limit and no way to stop it: the longer the proof, the longer it takes. */
LEASTWISE_API leastwise_result leastwise_verify(const char *proof, size_t length,
                                                const leastwise_scenario *scenario,
                                                leastwise_verdict *verdict, char **detail,
                                                leastwise_error **error);

#ifdef __cplusplus
}
#endif

#endif
