/* How a call ended, and what was wrong. */
#ifndef LEASTWISE_C_ERROR_H
#define LEASTWISE_C_ERROR_H

#include <leastwise/export.h>
#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/* How a call ended. */
typedef enum leastwise_result {
  LEASTWISE_OK = 0,             /* as asked */
  LEASTWISE_INPUT_REJECTED = 1, /* the error holds every diagnostic */
  LEASTWISE_BAD_ARGUMENT = 2,   /* a fault of the caller: NULL, or a name or place there is not */
  LEASTWISE_OUT_OF_MEMORY = 3,  /* nothing was changed */
  LEASTWISE_INTERNAL = 4        /* a fault of the library */
} leastwise_result;

/* How bad a finding is: only an error rejects the input. */
typedef enum leastwise_severity {
  LEASTWISE_ERROR = 0,   /* the input is rejected */
  LEASTWISE_WARNING = 1, /* probably not what was meant */
  LEASTWISE_NOTE = 2     /* belongs to the error before it */
} leastwise_severity;

/* One finding about an input. Texts belong to the error. */
typedef struct leastwise_diagnostic {
  leastwise_severity severity; /* how bad it is */
  const char *code;            /* stable: `unknown-key` */
  const char *message;         /* expected, found, and the fix when certain */
  const char *path;            /* dotted path of the field: `materials.urea.price_per_t` */
  const char *source;          /* the file or name the text came from; empty for a draft */
  int line;                    /* from 1; 0 when there is no text */
  int column;                  /* from 1, in characters; 0 when there is no text */
  int width;                   /* columns to underline */
  const char *text; /* the whole finding with the user's line and a caret, no newline at the end */
} leastwise_diagnostic;

/* What went wrong in one call. */
typedef struct leastwise_error leastwise_error;

/* Frees an error and every text that belongs to it. */
LEASTWISE_API void leastwise_error_free(leastwise_error *error);
/* What the call returned; LEASTWISE_OK for NULL. */
LEASTWISE_API leastwise_result leastwise_error_result(const leastwise_error *error);
/* Everything in words, for a person, ending in a newline; empty for NULL. */
LEASTWISE_API const char *leastwise_error_text(const leastwise_error *error);
/* Findings sorted by place; 0 unless the input was rejected. At most 50 are listed. */
LEASTWISE_API size_t leastwise_error_diagnostic_count(const leastwise_error *error);
/* Fills in finding `index`; LEASTWISE_BAD_ARGUMENT beyond the last. */
LEASTWISE_API leastwise_result leastwise_error_diagnostic(const leastwise_error *error,
                                                          size_t index,
                                                          leastwise_diagnostic *diagnostic);

#ifdef __cplusplus
}
#endif

#endif
