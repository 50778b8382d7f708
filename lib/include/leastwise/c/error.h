/* How a call ended, and what was wrong. */
#ifndef LEASTWISE_C_ERROR_H
#define LEASTWISE_C_ERROR_H

#include <leastwise/export.h>

#ifdef __cplusplus
extern "C" {
#endif

/* How a call ended. */
typedef enum leastwise_result {
  LEASTWISE_OK = 0,             /* as asked */
  LEASTWISE_INPUT_REJECTED = 1, /* the error holds every diagnostic */
  LEASTWISE_BAD_ARGUMENT = 2,   /* a fault of the caller: NULL, or a name or place there is not */
  LEASTWISE_OUT_OF_MEMORY = 3,  /* nothing was changed */
  LEASTWISE_INTERNAL = 4,       /* a fault of the library */
  LEASTWISE_UNREAD = 5          /* asked to stop before all was read */
} leastwise_result;

/* What was wrong: a handle. */
typedef struct leastwise_error leastwise_error;

/* Frees an error. */
LEASTWISE_API void leastwise_error_free(leastwise_error *error);
/* How the call ended; LEASTWISE_OK for NULL. */
LEASTWISE_API leastwise_result leastwise_error_result(const leastwise_error *error);
/* All of it for a person, with the lines in question; ends in a newline. Empty for NULL. */
LEASTWISE_API const char *leastwise_error_text(const leastwise_error *error);
/* All of it for a program: a JSON report of the kind `rejected`, to be freed by
 * leastwise_text_free(). NULL for NULL, and when memory runs out. */
LEASTWISE_API char *leastwise_error_to_json(const leastwise_error *error);

#ifdef __cplusplus
}
#endif

#endif
