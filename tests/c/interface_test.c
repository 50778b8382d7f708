/* The C interface, used from C99 as a program would use it. */
#include <leastwise/leastwise.h>
#include <stdlib.h>

#include "check.h"

static const char starter[] =
    "leastwise: 1\n"
    "title: Starter\n"
    "currency: USD\n"
    "materials:\n"
    "  urea: {form: granule, contains_percent: {N: 46}, price_per_t: 460}\n"
    "  map: {form: granule, contains_percent: {N: 11, P2O5: 52}, price_per_t: 650}\n"
    "  clay: {form: granule, contains_percent: {}, price_per_t: 40}\n"
    "grade_percent:\n"
    "  N: {min: 23}\n"
    "  P2O5: {exactly: 10.4}\n";

static leastwise_scenario *parsed(const char *text) {
  leastwise_scenario *scenario = NULL;
  leastwise_error *error = NULL;
  if (leastwise_scenario_parse(text, strlen(text), NULL, &scenario, &error) != LEASTWISE_OK)
    fputs(leastwise_error_text(error), stderr);
  leastwise_error_free(error);
  CHECK(scenario != NULL);
  return scenario;
}

static double cost_of(const leastwise_scenario *scenario) {
  leastwise_answer *answer = NULL;
  double cost;
  CHECK(leastwise_formulate(scenario, NULL, &answer, NULL) == LEASTWISE_OK);
  cost = leastwise_answer_cost_per_t(answer);
  leastwise_answer_free(answer);
  return cost;
}

/* 200 kg of MAP carry all P2O5 and 22 kg of N; the other 208 kg of N come from urea. */
static const double urea_kg = 208 / 0.46;

static void test_blend(void) {
  leastwise_scenario *scenario = parsed(starter);
  leastwise_answer *answer = NULL;
  CHECK_TEXT(leastwise_scenario_title(scenario), "Starter");
  CHECK_TEXT(leastwise_scenario_currency(scenario), "USD");
  CHECK(leastwise_scenario_material_count(scenario) == 3);
  CHECK_TEXT(leastwise_scenario_material(scenario, 1), "map");
  CHECK(leastwise_scenario_price(scenario, 1) == 650);
  CHECK(leastwise_scenario_material(scenario, 3) == NULL);
  CHECK(isnan(leastwise_scenario_price(scenario, 3)));
  CHECK(leastwise_formulate(scenario, NULL, &answer, NULL) == LEASTWISE_OK);
  leastwise_scenario_free(scenario); /* the answer does not need it */

  CHECK(leastwise_answer_status(answer) == LEASTWISE_OPTIMAL);
  CHECK(leastwise_answer_cause(answer) == LEASTWISE_NOT_STOPPED);
  CHECK_NEAR(leastwise_answer_cost_per_t(answer),
             urea_kg * 0.46 + 200 * 0.65 + (800 - urea_kg) * 0.04);
  CHECK(isnan(leastwise_answer_cost_per_ha(answer)));
  CHECK(isnan(leastwise_answer_total_kg_per_ha(answer)));
  CHECK(isnan(leastwise_answer_lower_bound(answer)));
  CHECK(leastwise_answer_portion_count(answer) == 3);
  CHECK_TEXT(leastwise_answer_portion_material(answer, 0), "urea");
  CHECK_NEAR(leastwise_answer_portion_kg_per_t(answer, 0), urea_kg);
  CHECK(isnan(leastwise_answer_portion_kg_per_ha(answer, 0)));
  CHECK(leastwise_answer_portion_material(answer, 3) == NULL);
  CHECK(isnan(leastwise_answer_portion_kg_per_t(answer, 3)));
  CHECK(leastwise_answer_conflict_count(answer) == 0);
  CHECK(leastwise_answer_conflict_rule(answer, 0) == NULL);
  leastwise_answer_free(answer);
}

static void test_reports(void) {
  leastwise_scenario *scenario = parsed(starter);
  leastwise_answer *answer = NULL;
  char *text, *json, *csv, *run;
  CHECK(leastwise_formulate(scenario, NULL, &answer, NULL) == LEASTWISE_OK);
  text = leastwise_answer_to_text(answer);
  json = leastwise_answer_to_json(answer);
  csv = leastwise_answer_to_csv(answer);
  run = leastwise_run("blend", starter, NULL, NULL);
  CHECK(strncmp(text, "Starter\n=======\n", 16) == 0);
  CHECK(json[0] == '{' && strstr(json, "\"status\": \"optimal\"") != NULL);
  CHECK(strstr(csv, "urea") != NULL);
  CHECK_TEXT(json, run); /* two ways to one report */
  leastwise_text_free(text);
  leastwise_text_free(json);
  leastwise_text_free(csv);
  leastwise_text_free(run);
  leastwise_answer_free(answer);
  leastwise_scenario_free(scenario);
}

/* What `run` answers holds `words`. */
static void check_run(const char *command, const char *scenario, const char *options,
                      const char *words) {
  char *report = leastwise_run(command, scenario, options, NULL);
  CHECK(report != NULL && report[0] == '{');
  if (report != NULL && strstr(report, words) == NULL) fputs(report, stderr);
  CHECK(report != NULL && strstr(report, words) != NULL);
  leastwise_text_free(report);
}

static void test_run(void) {
  check_run("check", starter, NULL, "\"status\": \"valid\"");
  check_run("prices", starter, "{\"vary\": {\"urea\": {\"from\": 300, \"to\": 700}}}",
            "\"report\": \"price_map\"");
  check_run("alternatives", starter, "{\"count\": 2}", "\"report\": \"alternatives\"");
  check_run("materials", "", NULL, "\"report\": \"materials\"");
  check_run("blend", "leastwise: 1\nx: 2\n", NULL, "\"status\": \"rejected\"");
  check_run("blnd", starter, NULL, "did you mean 'blend'?");
  check_run("blend", starter, "{\"stp_kg\": 1}", "did you mean 'step_kg'?");
  check_run("blend", "{\"leastwise\": 1,\n\t\"grade_percent\": {\"N\": {\"min\": 20}},\n"
                     "\t\"materials\": {\"urea\": {\"price_per_t\": 455}}}",
            NULL, "\"status\": \"optimal\"");
  CHECK(leastwise_run(NULL, starter, NULL, NULL) == NULL);
  CHECK(leastwise_run("blend", NULL, NULL, NULL) == NULL);
}

static void test_schema(void) {
  const char *const names[] = {"scenario", "trial", "reports", "blend", "rejected"};
  size_t i;
  for (i = 0; i < sizeof names / sizeof *names; ++i) {
    char *schema = leastwise_schema(names[i]);
    CHECK(schema != NULL && schema[0] == '{');
    leastwise_text_free(schema);
  }
  CHECK(leastwise_schema("nonsense") == NULL);
  CHECK(leastwise_schema(NULL) == NULL);
}

/* A tonne of urea 100 dearer costs as much more as there is urea in the blend. */
static void test_changes(void) {
  leastwise_scenario *scenario = parsed(starter);
  leastwise_scenario *changed = NULL;
  leastwise_error *error = NULL;
  const double before = cost_of(scenario);
  CHECK(leastwise_scenario_with_price(scenario, "urea", 560, &changed, NULL) == LEASTWISE_OK);
  CHECK_NEAR(cost_of(changed), before + urea_kg * 0.1);
  leastwise_scenario_free(changed);
  CHECK(leastwise_scenario_with_limit(scenario, "grade N min", 22, &changed, NULL) ==
        LEASTWISE_OK);
  CHECK_NEAR(cost_of(changed), before - 10 / 0.46 * 0.42);
  leastwise_scenario_free(changed);
  CHECK(leastwise_scenario_without(scenario, "clay", &changed, NULL) == LEASTWISE_OK);
  CHECK_NEAR(cost_of(changed), 200 * 0.65 + 800 * 0.46); /* urea in place of clay */
  leastwise_scenario_free(changed);
  CHECK(cost_of(scenario) == before);

  CHECK(leastwise_scenario_with_price(scenario, "ureaa", 1, &changed, &error) ==
        LEASTWISE_BAD_ARGUMENT);
  CHECK(changed == NULL);
  CHECK(strstr(leastwise_error_text(error), "did you mean 'urea'?") != NULL);
  leastwise_error_free(error);
  CHECK(leastwise_scenario_with_price(scenario, "urea", NAN, &changed, NULL) ==
        LEASTWISE_BAD_ARGUMENT);
  CHECK(leastwise_scenario_with_limit(scenario, "grade N max", 1, &changed, NULL) ==
        LEASTWISE_BAD_ARGUMENT);
  CHECK(leastwise_scenario_with_limit(scenario, "grade N min", -1, &changed, NULL) ==
        LEASTWISE_INPUT_REJECTED);
  CHECK(leastwise_scenario_without(scenario, "clayy", &changed, NULL) == LEASTWISE_BAD_ARGUMENT);
  leastwise_scenario_free(scenario);
}

static void test_many_questions(void) {
  leastwise_scenario *scenario = parsed(starter);
  leastwise_call *call = leastwise_call_new();
  const char *const names[] = {"urea", "clay"};
  double prices[100], costs[50];
  leastwise_status statuses[50];
  int k;
  for (k = 0; k < 50; ++k) {
    prices[2 * k] = 400 + 5 * k;
    prices[2 * k + 1] = 40 + k;
  }
  CHECK(leastwise_call_threads(call, 3) == LEASTWISE_OK);
  CHECK(leastwise_what_if_prices(scenario, 2, names, 50, prices, call, costs, statuses, NULL) ==
        LEASTWISE_OK);
  for (k = 0; k < 50; k += 7) {
    leastwise_scenario *once = NULL, *twice = NULL;
    leastwise_scenario_with_price(scenario, "urea", prices[2 * k], &once, NULL);
    leastwise_scenario_with_price(once, "clay", prices[2 * k + 1], &twice, NULL);
    CHECK(costs[k] == cost_of(twice)); /* to the last bit */
    CHECK(statuses[k] == LEASTWISE_OPTIMAL);
    leastwise_scenario_free(once);
    leastwise_scenario_free(twice);
  }
  CHECK(leastwise_what_if_prices(scenario, 2, names, 50, prices, call, NULL, NULL, NULL) ==
        LEASTWISE_BAD_ARGUMENT);
  CHECK(leastwise_what_if_prices(scenario, 2, NULL, 50, prices, call, costs, NULL, NULL) ==
        LEASTWISE_BAD_ARGUMENT);
  CHECK(leastwise_what_if_prices(scenario, 0, NULL, 0, NULL, NULL, NULL, NULL, NULL) ==
        LEASTWISE_OK);
  CHECK(leastwise_what_if_prices(scenario, 0, NULL, 1, NULL, NULL, costs, NULL, NULL) ==
        LEASTWISE_OK);
  CHECK(costs[0] == cost_of(scenario));
  leastwise_call_free(call);
  leastwise_scenario_free(scenario);
}

static void test_errors(void) {
  static const char wrong[] = "leastwise: 1\nmaterials: {urea: {price_per_t: a}}\nrats: {}\n";
  leastwise_scenario *scenario = parsed(starter);
  leastwise_error *error = NULL;
  leastwise_call *call = leastwise_call_new();
  static const char with_file[] = "leastwise: 1\ncatalogue: [nosuch.yaml]\n";
  static const char no_text[] = "leastwise: 1\ntitle: \xfe\n";
  char *json;
  CHECK(leastwise_call_name(call, "field.yaml") == LEASTWISE_OK);
  leastwise_scenario_free(scenario);
  CHECK(leastwise_scenario_parse(wrong, strlen(wrong), call, &scenario, &error) ==
        LEASTWISE_INPUT_REJECTED);
  CHECK(scenario == NULL);
  CHECK(leastwise_error_result(error) == LEASTWISE_INPUT_REJECTED);
  CHECK(strstr(leastwise_error_text(error), "field.yaml:2:33: error: expected a number") != NULL);
  json = leastwise_error_to_json(error);
  CHECK(strstr(json, "\"code\": \"bad-number\"") != NULL);
  CHECK(strstr(json, "\"line\": 2") != NULL);
  CHECK(strstr(json, "\"errors\": 3") != NULL);
  leastwise_text_free(json);
  leastwise_error_free(error);

  /* A text may name files only where the caller says in which folder. */
  CHECK(leastwise_scenario_parse(with_file, strlen(with_file), NULL, &scenario, &error) == LEASTWISE_INPUT_REJECTED);
  CHECK(strstr(leastwise_error_text(error), "[no-folder]") != NULL);
  leastwise_error_free(error);
  CHECK(leastwise_call_folder(call, ".", 0) == LEASTWISE_OK);
  CHECK(leastwise_scenario_parse(with_file, strlen(with_file), call, &scenario, &error) == LEASTWISE_INPUT_REJECTED);
  CHECK(strstr(leastwise_error_text(error), "[file-missing]") != NULL);
  leastwise_error_free(error);
  CHECK(leastwise_scenario_load("/no/such/file", 0, &scenario, &error) == LEASTWISE_INPUT_REJECTED);
  leastwise_error_free(error);

  /* Bytes that are no UTF-8 are refused, and no message holds them. */
  CHECK(leastwise_scenario_parse(no_text, strlen(no_text), NULL, &scenario, &error) ==
        LEASTWISE_INPUT_REJECTED);
  CHECK(strchr(leastwise_error_text(error), '\xfe') == NULL);
  leastwise_error_free(error);
  leastwise_call_stop(call);
  CHECK(leastwise_scenario_parse(starter, strlen(starter), call, &scenario, &error) ==
        LEASTWISE_UNREAD);
  json = leastwise_error_to_json(error);
  CHECK(strstr(json, "stopped before") != NULL);
  leastwise_text_free(json);
  leastwise_error_free(error);
  leastwise_call_free(call);
}

static void test_conflict(void) {
  leastwise_scenario *scenario = parsed(
      "leastwise: 1\n"
      "materials:\n"
      "  urea: {form: granule, contains_percent: {N: 46}, price_per_t: 460}\n"
      "grade_percent: {N: {max: 40}}\n");
  leastwise_answer *answer = NULL;
  CHECK(leastwise_formulate(scenario, NULL, &answer, NULL) == LEASTWISE_OK);
  CHECK(leastwise_answer_status(answer) == LEASTWISE_INFEASIBLE);
  CHECK(isnan(leastwise_answer_cost_per_t(answer)));
  CHECK(leastwise_answer_portion_count(answer) == 0);
  CHECK(leastwise_answer_conflict_count(answer) == 1);
  CHECK_TEXT(leastwise_answer_conflict_rule(answer, 0), "grade N max");
  leastwise_answer_free(answer);
  leastwise_scenario_free(scenario);
}

static void count_calls(const char *of, long done, long all, void *context) {
  CHECK(of != NULL && done >= 0 && all >= 0);
  ++*(int *)context;
}

static void test_stopping(void) {
  leastwise_scenario *scenario = parsed(starter);
  leastwise_answer *answer = NULL;
  leastwise_call *call = leastwise_call_new();
  char *report;
  int told = 0;
  CHECK(leastwise_call_progress(call, count_calls, &told) == LEASTWISE_OK);
  CHECK(leastwise_formulate(scenario, call, &answer, NULL) == LEASTWISE_OK);
  CHECK(leastwise_answer_status(answer) == LEASTWISE_OPTIMAL);
  CHECK(told > 0);
  leastwise_answer_free(answer);
  CHECK(leastwise_call_progress(call, NULL, NULL) == LEASTWISE_OK);
  CHECK(leastwise_call_intervals(call, 0) == LEASTWISE_OK);
  CHECK(leastwise_call_time_limit(call, 1e-9) == LEASTWISE_OK);
  CHECK(leastwise_formulate(scenario, call, &answer, NULL) == LEASTWISE_OK);
  CHECK(leastwise_answer_status(answer) == LEASTWISE_STOPPED);
  CHECK(leastwise_answer_cause(answer) == LEASTWISE_TIME_LIMIT);
  leastwise_answer_free(answer);
  CHECK(leastwise_call_time_limit(call, INFINITY) == LEASTWISE_OK);
  leastwise_call_stop(call);
  CHECK(leastwise_formulate(scenario, call, &answer, NULL) == LEASTWISE_OK);
  CHECK(leastwise_answer_cause(answer) == LEASTWISE_CANCELLED);
  leastwise_answer_free(answer);
  report = leastwise_run("blend", starter, NULL, call);
  CHECK(strstr(report, "\"status\": \"unread\"") != NULL);
  CHECK(strstr(report, "\"cause\": \"cancelled\"") != NULL);
  leastwise_text_free(report);
  CHECK(leastwise_call_time_limit(call, 0) == LEASTWISE_BAD_ARGUMENT);
  CHECK(leastwise_call_time_limit(call, -1) == LEASTWISE_BAD_ARGUMENT);
  CHECK(leastwise_call_time_limit(call, NAN) == LEASTWISE_BAD_ARGUMENT);
  leastwise_call_free(call);
  leastwise_scenario_free(scenario);
}

/* NULL is refused or means nothing, and never more. */
static void test_null(void) {
  leastwise_scenario *scenario = NULL;
  leastwise_answer *answer = NULL;
  leastwise_error *error = NULL;
  CHECK(leastwise_scenario_parse(NULL, 0, NULL, &scenario, &error) == LEASTWISE_BAD_ARGUMENT);
  CHECK(strstr(leastwise_error_text(error), "expected a text, found NULL") != NULL);
  leastwise_error_free(error);
  CHECK(leastwise_scenario_parse(starter, 3, NULL, NULL, NULL) == LEASTWISE_BAD_ARGUMENT);
  CHECK(leastwise_scenario_load(NULL, 0, &scenario, NULL) == LEASTWISE_BAD_ARGUMENT);
  CHECK(leastwise_formulate(NULL, NULL, &answer, NULL) == LEASTWISE_BAD_ARGUMENT);
  CHECK(answer == NULL);
  CHECK(leastwise_scenario_with_price(NULL, "urea", 1, &scenario, NULL) == LEASTWISE_BAD_ARGUMENT);
  CHECK(leastwise_scenario_without(NULL, NULL, &scenario, NULL) == LEASTWISE_BAD_ARGUMENT);
  CHECK(leastwise_call_intervals(NULL, 1) == LEASTWISE_BAD_ARGUMENT);
  CHECK(leastwise_call_threads(NULL, 1) == LEASTWISE_BAD_ARGUMENT);
  CHECK(leastwise_call_time_limit(NULL, 1) == LEASTWISE_BAD_ARGUMENT);
  CHECK(leastwise_call_folder(NULL, NULL, 0) == LEASTWISE_BAD_ARGUMENT);
  CHECK(leastwise_call_name(NULL, NULL) == LEASTWISE_BAD_ARGUMENT);
  CHECK(leastwise_call_progress(NULL, NULL, NULL) == LEASTWISE_BAD_ARGUMENT);
  CHECK(leastwise_answer_status(NULL) == LEASTWISE_STOPPED);
  CHECK(leastwise_answer_cause(NULL) == LEASTWISE_NOT_STOPPED);
  CHECK(isnan(leastwise_answer_cost_per_t(NULL)));
  CHECK(isnan(leastwise_answer_cost_per_ha(NULL)));
  CHECK(isnan(leastwise_answer_lower_bound(NULL)));
  CHECK(isnan(leastwise_answer_portion_kg_per_ha(NULL, 0)));
  CHECK(leastwise_answer_portion_count(NULL) == 0);
  CHECK(leastwise_answer_conflict_count(NULL) == 0);
  CHECK(leastwise_answer_to_text(NULL) == NULL);
  CHECK(leastwise_answer_to_json(NULL) == NULL);
  CHECK(leastwise_error_to_json(NULL) == NULL);
  CHECK(leastwise_error_result(NULL) == LEASTWISE_OK);
  CHECK_TEXT(leastwise_error_text(NULL), "");
  CHECK_TEXT(leastwise_scenario_title(NULL), "");
  CHECK(leastwise_scenario_material_count(NULL) == 0);
  leastwise_call_stop(NULL);
  leastwise_call_free(NULL);
  leastwise_answer_free(NULL);
  leastwise_scenario_free(NULL);
  leastwise_error_free(NULL);
  leastwise_text_free(NULL);
}

int main(void) {
  char version[32];
  snprintf(version, sizeof version, "%d.%d.%d", LEASTWISE_VERSION_MAJOR, LEASTWISE_VERSION_MINOR,
           LEASTWISE_VERSION_PATCH);
  CHECK_TEXT(leastwise_version(), version);
  test_blend();
  test_reports();
  test_run();
  test_schema();
  test_changes();
  test_many_questions();
  test_errors();
  test_conflict();
  test_stopping();
  test_null();
  printf("%d claims, %d do not hold\n", claims, failures);
  return failures == 0 && claims > 140 ? EXIT_SUCCESS : EXIT_FAILURE;
}
