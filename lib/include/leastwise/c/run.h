/* One question as text, one answer as JSON: every command of the tool through one function. */
#ifndef LEASTWISE_C_RUN_H
#define LEASTWISE_C_RUN_H

#include <leastwise/c/call.h>
#include <leastwise/export.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Answers `command` (`blend`, `quote`, `check`, `compare`, `prices`, `risk`, `alternatives`, `batch`,
 * `plan`, `season`, `materials`, `verify`) about a scenario, a trial or a season, given as YAML or
 * JSON text. `options` is a JSON object with the options of the command, or NULL.
 * Returns: a JSON report, to be freed by leastwise_text_free(); what is wrong with the input is a
 * report too, with the status `rejected`. NULL only when memory runs out or a text is missing. */
LEASTWISE_API char *leastwise_run(const char *command, const char *scenario, const char *options,
                                  const leastwise_call *call);

/* The JSON Schema of `scenario`, `trial`, `season`, `reports` or one kind of report, to be freed by
 * leastwise_text_free(); NULL for a name there is not, and when memory runs out. */
LEASTWISE_API char *leastwise_schema(const char *name);

#ifdef __cplusplus
}
#endif

#endif
