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
  if (leastwise_scenario_parse(text, strlen(text), NULL, NULL, &scenario, &error) != LEASTWISE_OK)
    fputs(leastwise_error_text(error), stderr);
  leastwise_error_free(error);
  CHECK(scenario != NULL);
  return scenario;
}

/* 200 kg of MAP carry all P2O5 and 22 kg of N; the other 208 kg of N come from urea. */
static void test_blend(void) {
  leastwise_scenario *scenario = parsed(starter);
  leastwise_answer *answer = NULL;
  leastwise_portion portion;
  leastwise_binding_rule rule;
  leastwise_supply supply;
  leastwise_binder_use binder;
  const double urea = 208 / 0.46;
  CHECK_TEXT(leastwise_scenario_title(scenario), "Starter");
  CHECK_TEXT(leastwise_scenario_currency(scenario), "USD");
  CHECK(leastwise_scenario_material_count(scenario) == 3);
  CHECK_TEXT(leastwise_scenario_material(scenario, 1), "map");
  CHECK(leastwise_scenario_material(scenario, 3) == NULL);
  CHECK(leastwise_formulate(scenario, NULL, &answer, NULL) == LEASTWISE_OK);
  leastwise_scenario_free(scenario); /* the answer does not need it */

  CHECK(leastwise_answer_status(answer) == LEASTWISE_OPTIMAL);
  CHECK(leastwise_answer_cause(answer) == LEASTWISE_NOT_STOPPED);
  CHECK_TEXT(leastwise_answer_title(answer), "Starter");
  CHECK_TEXT(leastwise_answer_currency(answer), "USD");
  CHECK_NEAR(leastwise_answer_cost_per_t(answer), urea * 0.46 + 200 * 0.65 + (800 - urea) * 0.04);
  CHECK(isnan(leastwise_answer_cost_per_ha(answer)));
  CHECK(isnan(leastwise_answer_total_kg_per_ha(answer)));
  CHECK(isnan(leastwise_answer_lower_bound(answer)));
  CHECK(leastwise_answer_portion_count(answer) == 3);
  CHECK(leastwise_answer_portion(answer, 0, &portion) == LEASTWISE_OK);
  CHECK_TEXT(portion.material, "urea");
  CHECK(portion.form == LEASTWISE_GRANULE);
  CHECK_NEAR(portion.kg_per_t, urea);
  CHECK_NEAR(portion.cost_per_t, urea * 0.46);
  CHECK(isnan(portion.kg_per_ha));
  CHECK(leastwise_answer_portion(answer, 3, &portion) == LEASTWISE_BAD_ARGUMENT);
  CHECK(leastwise_answer_binder(answer, &binder) == LEASTWISE_OK);
  CHECK(binder.kg_per_t == 0);
  CHECK(leastwise_answer_supply_count(answer) == 2);
  CHECK(leastwise_answer_supply(answer, 0, &supply) == LEASTWISE_OK);
  CHECK_TEXT(supply.nutrient, "N");
  CHECK_NEAR(supply.percent, 23);

  /* A percentage point is 10 kg of N in a tonne: 10 / 0.46 kg of clay become urea. */
  CHECK(leastwise_answer_binding_count(answer) == 2);
  CHECK(leastwise_answer_binding(answer, 0, &rule) == LEASTWISE_OK);
  CHECK_TEXT(rule.rule, "grade N min");
  CHECK_TEXT(rule.unit, "USD/t per %");
  CHECK_NEAR(rule.limit, 23);
  CHECK_NEAR(rule.shadow_price, 10 / 0.46 * 0.42);
  CHECK(rule.holds_from < 23 && rule.holds_to > 23);
  CHECK(rule.line == 9);
  CHECK(leastwise_answer_unused_count(answer) == 0);
  CHECK(leastwise_answer_conflict_count(answer) == 0);
  CHECK(leastwise_answer_nearest_count(answer) == 0);
  CHECK(leastwise_answer_note(answer, leastwise_answer_note_count(answer), NULL) == NULL);
  leastwise_answer_free(answer);
}

static void test_reports(void) {
  leastwise_scenario *scenario = parsed(starter);
  leastwise_answer *answer = NULL;
  char *text, *json, *csv;
  CHECK(leastwise_formulate(scenario, NULL, &answer, NULL) == LEASTWISE_OK);
  text = leastwise_answer_to_text(answer);
  json = leastwise_answer_to_json(answer);
  csv = leastwise_answer_to_csv(answer);
  CHECK(strncmp(text, "Starter\n=======\n", 16) == 0);
  CHECK(json[0] == '{' && strstr(json, "\"status\": \"optimal\"") != NULL);
  CHECK(strstr(csv, "urea") != NULL);
  leastwise_text_free(text);
  leastwise_text_free(json);
  leastwise_text_free(csv);
  leastwise_answer_free(answer);
  leastwise_scenario_free(scenario);
}

static leastwise_draft *starter_draft(void) {
  leastwise_draft *draft = leastwise_draft_new();
  CHECK(leastwise_draft_title(draft, "Starter") == LEASTWISE_OK);
  CHECK(leastwise_draft_currency(draft, "USD") == LEASTWISE_OK);
  CHECK(leastwise_draft_material(draft, "urea", 460) == LEASTWISE_OK);
  CHECK(leastwise_draft_form(draft, "urea", LEASTWISE_GRANULE) == LEASTWISE_OK);
  CHECK(leastwise_draft_contains(draft, "urea", "N", 46) == LEASTWISE_OK);
  CHECK(leastwise_draft_material(draft, "map", 650) == LEASTWISE_OK);
  CHECK(leastwise_draft_form(draft, "map", LEASTWISE_GRANULE) == LEASTWISE_OK);
  CHECK(leastwise_draft_contains(draft, "map", "N", 11) == LEASTWISE_OK);
  CHECK(leastwise_draft_contains(draft, "map", "P2O5", 50) == LEASTWISE_OK);
  CHECK(leastwise_draft_contains(draft, "map", "P2O5", 52) == LEASTWISE_OK); /* replaces */
  CHECK(leastwise_draft_material(draft, "clay", NAN) == LEASTWISE_OK);
  CHECK(leastwise_draft_form(draft, "clay", LEASTWISE_GRANULE) == LEASTWISE_OK);
  CHECK(leastwise_draft_contains(draft, "clay", "Si", 0) == LEASTWISE_OK);
  CHECK(leastwise_draft_quantity(draft, "clay", LEASTWISE_PRICE_PER_T, 40) == LEASTWISE_OK);
  CHECK(leastwise_draft_grade(draft, "N", 23, INFINITY) == LEASTWISE_OK);
  CHECK(leastwise_draft_grade(draft, "P2O5", 10.4, 10.4) == LEASTWISE_OK);
  return draft;
}

static double cost_of(const leastwise_scenario *scenario) {
  leastwise_answer *answer = NULL;
  double cost;
  CHECK(leastwise_formulate(scenario, NULL, &answer, NULL) == LEASTWISE_OK);
  cost = leastwise_answer_cost_per_t(answer);
  leastwise_answer_free(answer);
  return cost;
}

static void test_draft(void) {
  leastwise_scenario *read = parsed(starter), *built = NULL, *dearer = NULL;
  leastwise_draft *draft = starter_draft();
  leastwise_error *error = NULL;
  CHECK(leastwise_scenario_from_draft(draft, &built, &error) == LEASTWISE_OK);
  CHECK(error == NULL);
  leastwise_draft_free(draft);
  CHECK(cost_of(built) == cost_of(read));
  CHECK(leastwise_scenario_with_price(built, "map", 750, &dearer, NULL) == LEASTWISE_OK);
  CHECK_NEAR(cost_of(dearer), cost_of(read) + 20);
  CHECK(cost_of(built) == cost_of(read));
  leastwise_scenario_free(dearer);
  CHECK(leastwise_scenario_with_price(built, "gold", 750, &dearer, &error) ==
        LEASTWISE_BAD_ARGUMENT);
  CHECK(dearer == NULL);
  CHECK(strstr(leastwise_error_text(error), "'gold'") != NULL);
  leastwise_error_free(error);
  leastwise_scenario_free(built);
  leastwise_scenario_free(read);
}

/* The same fault in a text and in a draft: the same words, at a line and at a path. */
static void test_diagnostics(void) {
  static const char broken[] =
      "leastwise: 1\n"
      "materials:\n"
      "  urea: {form: granule, contains_percent: {N: 146}, price_per_t: 460}\n"
      "grade_percent: {N: {min: 50, max: 20}}\n";
  leastwise_scenario *scenario = NULL;
  leastwise_error *of_text = NULL, *of_draft = NULL;
  leastwise_draft *draft = leastwise_draft_new();
  leastwise_diagnostic a, b;
  size_t i, count;
  CHECK(leastwise_scenario_parse(broken, strlen(broken), "field.yaml", NULL, &scenario, &of_text) ==
        LEASTWISE_INPUT_REJECTED);
  CHECK(scenario == NULL);
  leastwise_draft_material(draft, "urea", 460);
  leastwise_draft_form(draft, "urea", LEASTWISE_GRANULE);
  leastwise_draft_contains(draft, "urea", "N", 146);
  leastwise_draft_grade(draft, "N", 50, 20);
  CHECK(leastwise_scenario_from_draft(draft, &scenario, &of_draft) == LEASTWISE_INPUT_REJECTED);
  leastwise_draft_free(draft);
  count = leastwise_error_diagnostic_count(of_text);
  CHECK(count == 2);
  CHECK(leastwise_error_diagnostic_count(of_draft) == count);
  for (i = 0; i < count; ++i) {
    CHECK(leastwise_error_diagnostic(of_text, i, &a) == LEASTWISE_OK);
    CHECK(leastwise_error_diagnostic(of_draft, i, &b) == LEASTWISE_OK);
    CHECK(a.severity == LEASTWISE_ERROR);
    CHECK_TEXT(a.source, "field.yaml");
    CHECK(a.line == (i == 0 ? 3 : 4) && a.column > 0 && a.width > 0);
    CHECK_TEXT(b.source, "");
    CHECK(b.line == 0);
    CHECK_TEXT(a.code, b.code);
    CHECK_TEXT(a.message, b.message);
    CHECK_TEXT(a.path, b.path);
    CHECK(strncmp(a.text, "field.yaml:", 11) == 0);
    CHECK(strncmp(b.text, b.path, strlen(b.path)) == 0);
  }
  CHECK(leastwise_error_diagnostic(of_text, count, &a) == LEASTWISE_BAD_ARGUMENT);
  CHECK(leastwise_error_result(of_text) == LEASTWISE_INPUT_REJECTED);
  CHECK(strstr(leastwise_error_text(of_text), "2 errors; nothing was solved\n") != NULL);
  leastwise_error_free(of_text);
  leastwise_error_free(of_draft);
}

static void test_conflict(void) {
  static const char impossible[] =
      "leastwise: 1\n"
      "materials:\n"
      "  urea: {form: granule, contains_percent: {N: 46}, price_per_t: 460}\n"
      "  clay: {form: granule, contains_percent: {}, price_per_t: 40}\n"
      "grade_percent: {N: {min: 50}}\n";
  leastwise_scenario *scenario = parsed(impossible);
  leastwise_answer *answer = NULL;
  leastwise_conflicting_rule rule;
  leastwise_change change;
  leastwise_portion portion;
  CHECK(leastwise_formulate(scenario, NULL, &answer, NULL) == LEASTWISE_OK);
  CHECK(leastwise_answer_status(answer) == LEASTWISE_INFEASIBLE);
  CHECK(leastwise_answer_portion_count(answer) == 0);
  CHECK(leastwise_answer_portion(answer, 0, &portion) == LEASTWISE_BAD_ARGUMENT);
  CHECK(isnan(leastwise_answer_cost_per_t(answer)));
  CHECK(leastwise_answer_irreducible(answer));
  CHECK(leastwise_answer_conflict_count(answer) == 1);
  CHECK(leastwise_answer_conflict(answer, 0, &rule) == LEASTWISE_OK);
  CHECK_TEXT(rule.rule, "grade N min");
  CHECK_NEAR(rule.limit, 50);
  CHECK_NEAR(rule.shortfall, 4);
  CHECK(rule.line == 5);
  CHECK(leastwise_answer_nearest_count(answer) == 1);
  CHECK(leastwise_answer_nearest(answer, 0, &change) == LEASTWISE_OK);
  CHECK_NEAR(change.to, 46);
  leastwise_answer_free(answer);
  leastwise_scenario_free(scenario);
}

static void test_stopping(void) {
  leastwise_scenario *scenario = parsed(starter);
  leastwise_stop *stop = leastwise_stop_new();
  leastwise_options options = leastwise_default_options();
  leastwise_answer *answer = NULL;
  leastwise_error *error = NULL;
  options.stop = stop;
  options.time_limit_s = 60;
  CHECK(leastwise_formulate(scenario, &options, &answer, &error) == LEASTWISE_OK);
  CHECK(leastwise_answer_status(answer) == LEASTWISE_OPTIMAL);
  leastwise_answer_free(answer);
  leastwise_stop_request(stop);
  CHECK(leastwise_formulate(scenario, &options, &answer, &error) == LEASTWISE_OK);
  CHECK(leastwise_answer_status(answer) == LEASTWISE_STOPPED);
  CHECK(leastwise_answer_cause(answer) == LEASTWISE_CANCELLED);
  leastwise_answer_free(answer);
  options.stop = NULL;
  options.time_limit_s = 1e-9;
  CHECK(leastwise_formulate(scenario, &options, &answer, &error) == LEASTWISE_OK);
  CHECK(leastwise_answer_cause(answer) == LEASTWISE_TIME_LIMIT);
  leastwise_answer_free(answer);
  options.time_limit_s = -1;
  CHECK(leastwise_formulate(scenario, &options, &answer, &error) == LEASTWISE_BAD_ARGUMENT);
  CHECK(answer == NULL);
  leastwise_error_free(error);
  leastwise_stop_free(stop);
  leastwise_scenario_free(scenario);
}

static void test_proof(void) {
  leastwise_scenario *scenario = parsed(starter), *other = NULL;
  leastwise_answer *answer = NULL;
  leastwise_verdict verdict;
  leastwise_error *error = NULL;
  char *proof = NULL, *detail = NULL;
  CHECK(leastwise_formulate_with_proof(scenario, NULL, &answer, &proof, NULL) == LEASTWISE_OK);
  CHECK(proof != NULL);
  CHECK(leastwise_verify(proof, strlen(proof), scenario, &verdict, &detail, NULL) == LEASTWISE_OK);
  CHECK(verdict == LEASTWISE_PROVED_OPTIMAL);
  CHECK_TEXT(detail, "");
  leastwise_text_free(detail);
  CHECK(leastwise_scenario_with_price(scenario, "map", 651, &other, NULL) == LEASTWISE_OK);
  CHECK(leastwise_verify(proof, strlen(proof), other, &verdict, &detail, NULL) == LEASTWISE_OK);
  CHECK(verdict == LEASTWISE_NOT_PROVED);
  CHECK(strlen(detail) > 0);
  leastwise_text_free(detail);
  CHECK(leastwise_verify("{}", 2, scenario, &verdict, NULL, &error) == LEASTWISE_INPUT_REJECTED);
  leastwise_error_free(error);
  leastwise_text_free(proof);
  leastwise_answer_free(answer);
  leastwise_scenario_free(other);
  leastwise_scenario_free(scenario);
}

/* Whatever is NULL, the answer is a result code and nothing worse. */
static void test_null(void) {
  leastwise_scenario *scenario = NULL;
  leastwise_answer *answer = NULL;
  leastwise_error *error = NULL;
  leastwise_draft *draft = leastwise_draft_new();
  CHECK(leastwise_scenario_parse(NULL, 3, NULL, NULL, &scenario, &error) == LEASTWISE_BAD_ARGUMENT);
  CHECK(strstr(leastwise_error_text(error), "NULL") != NULL);
  leastwise_error_free(error);
  CHECK(leastwise_scenario_parse("x", 1, NULL, NULL, NULL, NULL) == LEASTWISE_BAD_ARGUMENT);
  CHECK(leastwise_scenario_load(NULL, 0, &scenario, NULL) == LEASTWISE_BAD_ARGUMENT);
  CHECK(leastwise_scenario_load("/no/such/file.yaml", 0, &scenario, NULL) ==
        LEASTWISE_INPUT_REJECTED);
  CHECK(leastwise_scenario_from_draft(NULL, &scenario, NULL) == LEASTWISE_BAD_ARGUMENT);
  CHECK(leastwise_formulate(NULL, NULL, &answer, NULL) == LEASTWISE_BAD_ARGUMENT);
  CHECK(leastwise_draft_title(NULL, "x") == LEASTWISE_BAD_ARGUMENT);
  CHECK(leastwise_draft_title(draft, NULL) == LEASTWISE_BAD_ARGUMENT);
  CHECK(leastwise_draft_form(draft, "urea", LEASTWISE_POWDER) == LEASTWISE_BAD_ARGUMENT);
  CHECK(leastwise_draft_rate_confidence(draft, "N", 0.9) == LEASTWISE_BAD_ARGUMENT);
  CHECK(leastwise_answer_to_json(NULL) == NULL);
  CHECK_TEXT(leastwise_answer_title(NULL), "");
  CHECK(leastwise_answer_portion_count(NULL) == 0);
  CHECK(leastwise_answer_note_count(NULL) == 0);
  CHECK(leastwise_error_diagnostic_count(NULL) == 0);
  CHECK_TEXT(leastwise_error_text(NULL), "");
  leastwise_draft_free(draft);
  leastwise_draft_free(NULL);
  leastwise_scenario_free(NULL);
  leastwise_answer_free(NULL);
  leastwise_error_free(NULL);
  leastwise_stop_free(NULL);
  leastwise_stop_request(NULL);
  leastwise_text_free(NULL);
}

/* Every key that a file may hold, said call by call. */
static void test_every_call(void) {
  leastwise_draft *draft = leastwise_draft_new();
  leastwise_scenario *scenario = NULL;
  leastwise_error *error = NULL;
  leastwise_answer *answer = NULL;
  leastwise_binder_use binder;
  CHECK(leastwise_draft_material(draft, "urea", 455) == LEASTWISE_OK); /* built in */
  CHECK(leastwise_draft_material(draft, "map", 665) == LEASTWISE_OK);
  CHECK(leastwise_draft_material(draft, "dust", 3100) == LEASTWISE_OK);
  CHECK(leastwise_draft_form(draft, "dust", LEASTWISE_CRYSTAL) == LEASTWISE_OK);
  CHECK(leastwise_draft_ground(draft, "dust", 1) == LEASTWISE_OK);
  CHECK(leastwise_draft_formula(draft, "dust", "ZnO", 97) == LEASTWISE_OK);
  CHECK(leastwise_draft_family(draft, "dust", "oxides of zinc") == LEASTWISE_OK);
  CHECK(leastwise_draft_material(draft, "zinc granule", 1500) == LEASTWISE_OK);
  CHECK(leastwise_draft_form(draft, "zinc granule", LEASTWISE_GRANULE) == LEASTWISE_OK);
  CHECK(leastwise_draft_contains(draft, "zinc granule", "Zn", 20) == LEASTWISE_OK);
  CHECK(leastwise_draft_spread(draft, "zinc granule", "Zn", 0.2) == LEASTWISE_OK);
  CHECK(leastwise_draft_micronutrient_granule(draft, "zinc granule", 1) == LEASTWISE_OK);
  CHECK(leastwise_draft_share(draft, "urea", 0, 60) == LEASTWISE_OK);
  CHECK(leastwise_draft_quantity(draft, "urea", LEASTWISE_FREIGHT_PER_T, 12) == LEASTWISE_OK);
  CHECK(leastwise_draft_quantity(draft, "urea", LEASTWISE_MIN_IF_USED_PERCENT, 2.5) ==
        LEASTWISE_OK);
  CHECK(leastwise_draft_quantity(draft, "urea", LEASTWISE_STOCK_KG, 5000) == LEASTWISE_OK);
  CHECK(leastwise_draft_quantity(draft, "urea", LEASTWISE_SGN, 300) == LEASTWISE_OK);
  CHECK(leastwise_draft_quantity(draft, "urea", LEASTWISE_UI, 50) == LEASTWISE_OK);
  CHECK(leastwise_draft_quantity(draft, "urea", LEASTWISE_BULK_DENSITY_KG_PER_M3, 750) ==
        LEASTWISE_OK);
  CHECK(leastwise_draft_quantity(draft, "urea", (leastwise_quantity)99, 1) ==
        LEASTWISE_BAD_ARGUMENT);
  CHECK(leastwise_draft_form(draft, "urea", (leastwise_form)4) == LEASTWISE_BAD_ARGUMENT);
  CHECK(leastwise_draft_pair(draft, "urea", "sulfate", (leastwise_compatibility)77) ==
        LEASTWISE_BAD_ARGUMENT);
  CHECK(leastwise_draft_use(draft, "urea") == LEASTWISE_OK);
  CHECK(leastwise_draft_use(draft, "map") == LEASTWISE_OK);
  CHECK(leastwise_draft_use(draft, "dust") == LEASTWISE_OK);
  CHECK(leastwise_draft_rate(draft, "N", 60, 66) == LEASTWISE_OK);
  CHECK(leastwise_draft_rate_confidence(draft, "N", 0.9) == LEASTWISE_OK);
  CHECK(leastwise_draft_rate(draft, "P2O5", 46, INFINITY) == LEASTWISE_OK);
  CHECK(leastwise_draft_rate(draft, "Zn", 1, INFINITY) == LEASTWISE_OK);
  CHECK(leastwise_draft_grade(draft, "P2O5", 20, INFINITY) == LEASTWISE_OK);
  CHECK(leastwise_draft_grade_tolerance(draft, "P2O5", "aafco") == LEASTWISE_OK);
  CHECK(leastwise_draft_grade_confidence(draft, "P2O5", 0.9) == LEASTWISE_OK);
  CHECK(leastwise_draft_ratio(draft, "N", "P2O5", 0.5, INFINITY) == LEASTWISE_OK);
  CHECK(leastwise_draft_total(draft, 100, 400) == LEASTWISE_OK);
  CHECK(leastwise_draft_bins(draft, 3) == LEASTWISE_OK);
  CHECK(leastwise_draft_coating(draft, 2) == LEASTWISE_OK);
  CHECK(leastwise_draft_binder(draft, "canola-oil", 40, 1400, -1) == LEASTWISE_OK);
  CHECK(leastwise_draft_granular_factor(draft, NULL, 3) == LEASTWISE_OK);
  CHECK(leastwise_draft_granular_factor(draft, "Zn", 2) == LEASTWISE_OK);
  CHECK(leastwise_draft_confirm_high_rate(draft, "Zn") == LEASTWISE_OK);
  CHECK(leastwise_draft_blending_fee(draft, 18) == LEASTWISE_OK);
  CHECK(leastwise_draft_pair(draft, "urea", "oxides of zinc", LEASTWISE_COMPATIBLE) ==
        LEASTWISE_OK);
  CHECK(leastwise_draft_forbid_limited(draft, 0) == LEASTWISE_OK);
  CHECK(leastwise_draft_make_hectares(draft, 12) == LEASTWISE_OK);
  CHECK(leastwise_scenario_from_draft(draft, &scenario, &error) == LEASTWISE_OK);
  if (scenario == NULL) fputs(leastwise_error_text(error), stderr);
  leastwise_error_free(error);
  CHECK(leastwise_formulate(scenario, NULL, &answer, NULL) == LEASTWISE_OK);
  CHECK(leastwise_answer_status(answer) == LEASTWISE_OPTIMAL);
  CHECK(leastwise_answer_binder(answer, &binder) == LEASTWISE_OK);
  CHECK_TEXT(binder.material, "canola-oil");
  CHECK(binder.kg_per_ha > 0);
  CHECK(!isnan(leastwise_answer_cost_per_ha(answer)));
  leastwise_answer_free(answer);
  leastwise_scenario_free(scenario);
  CHECK(leastwise_draft_make_tonnes(draft, 5) == LEASTWISE_OK); /* hectares were said already */
  CHECK(leastwise_scenario_from_draft(draft, &scenario, NULL) == LEASTWISE_INPUT_REJECTED);
  leastwise_draft_free(draft);
}

/* What is said again replaces, two infinite sides or a price of NaN take back. */
static void test_said_again(void) {
  leastwise_draft *draft = starter_draft();
  leastwise_scenario *scenario = NULL;
  leastwise_error *error = NULL;
  double before, apart;
  CHECK(leastwise_draft_family(draft, "urea", "white") == LEASTWISE_OK);
  CHECK(leastwise_draft_family(draft, "clay", "brown") == LEASTWISE_OK);
  CHECK(leastwise_scenario_from_draft(draft, &scenario, NULL) == LEASTWISE_OK);
  before = cost_of(scenario);
  leastwise_scenario_free(scenario);

  CHECK(leastwise_draft_pair(draft, "white", "brown", LEASTWISE_COMPATIBLE) == LEASTWISE_OK);
  CHECK(leastwise_draft_pair(draft, "brown", "white", LEASTWISE_LIMITED) == LEASTWISE_OK);
  CHECK(leastwise_draft_pair(draft, "white", "brown", LEASTWISE_INCOMPATIBLE) == LEASTWISE_OK);
  CHECK(leastwise_draft_pair(draft, "white", "brown", LEASTWISE_INCOMPATIBLE) == LEASTWISE_OK);
  CHECK(leastwise_draft_pair(draft, "white", "brown", (leastwise_compatibility)9) ==
        LEASTWISE_BAD_ARGUMENT);
  CHECK(leastwise_scenario_from_draft(draft, &scenario, NULL) == LEASTWISE_OK);
  apart = cost_of(scenario);
  CHECK_NEAR(apart, 200 * 0.65 + 800 * 0.46); /* urea in place of clay */
  leastwise_scenario_free(scenario);
  CHECK(leastwise_draft_pair(draft, "brown", "white", LEASTWISE_COMPATIBLE) == LEASTWISE_OK);
  CHECK(leastwise_scenario_from_draft(draft, &scenario, NULL) == LEASTWISE_OK);
  CHECK(cost_of(scenario) == before);
  leastwise_scenario_free(scenario);

  CHECK(leastwise_draft_share(draft, "urea", 0, 10) == LEASTWISE_OK);
  CHECK(leastwise_draft_share(draft, "urea", -INFINITY, INFINITY) == LEASTWISE_OK);
  CHECK(leastwise_scenario_from_draft(draft, &scenario, NULL) == LEASTWISE_OK);
  CHECK(cost_of(scenario) == before);
  leastwise_scenario_free(scenario);

  /* INFINITY is a side that has none, whichever side it is given for. */
  CHECK(leastwise_draft_grade(draft, "K2O", INFINITY, 20) == LEASTWISE_OK);
  CHECK(leastwise_draft_ratio(draft, "N", "P2O5", 0.1, -INFINITY) == LEASTWISE_OK);
  CHECK(leastwise_draft_share(draft, "map", INFINITY, 90) == LEASTWISE_OK);
  CHECK(leastwise_scenario_from_draft(draft, &scenario, &error) == LEASTWISE_OK);
  if (scenario == NULL) fputs(leastwise_error_text(error), stderr);
  leastwise_error_free(error);
  CHECK(cost_of(scenario) == before);
  leastwise_scenario_free(scenario);

  CHECK(leastwise_draft_share(draft, "map", NAN, INFINITY) == LEASTWISE_OK);
  CHECK(leastwise_draft_quantity(draft, "urea", LEASTWISE_PRICE_PER_T, NAN) == LEASTWISE_OK);
  CHECK(leastwise_scenario_from_draft(draft, &scenario, &error) == LEASTWISE_INPUT_REJECTED);
  CHECK(strstr(leastwise_error_text(error), "[missing-price]") != NULL);
  CHECK(strstr(leastwise_error_text(error), "found no number") != NULL); /* the share */
  leastwise_error_free(error);
  leastwise_draft_free(draft);
}

/* Bytes that are no UTF-8 are refused, and no message holds them. */
static void test_no_text(void) {
  leastwise_draft *draft = starter_draft();
  leastwise_scenario *scenario = NULL;
  leastwise_error *error = NULL;
  CHECK(leastwise_draft_title(draft, "bad \xff title") == LEASTWISE_OK);
  CHECK(leastwise_draft_currency(draft, "\xc3") == LEASTWISE_OK);
  CHECK(leastwise_draft_material(draft, "\xfe", 3) == LEASTWISE_OK);
  CHECK(leastwise_scenario_from_draft(draft, &scenario, &error) == LEASTWISE_INPUT_REJECTED);
  CHECK(scenario == NULL);
  CHECK(strstr(leastwise_error_text(error), "the title must be UTF-8 text") != NULL);
  CHECK(strstr(leastwise_error_text(error), "the currency must be UTF-8 text") != NULL);
  CHECK(strstr(leastwise_error_text(error), "the name of a material must be UTF-8") != NULL);
  CHECK(strchr(leastwise_error_text(error), '\xfe') == NULL);
  leastwise_error_free(error);
  leastwise_draft_free(draft);
}

int main(void) {
  char version[32];
  snprintf(version, sizeof version, "%d.%d.%d", LEASTWISE_VERSION_MAJOR, LEASTWISE_VERSION_MINOR,
           LEASTWISE_VERSION_PATCH);
  CHECK_TEXT(leastwise_version(), version);
  CHECK(leastwise_scenario_schema()[0] == '{');
  test_blend();
  test_reports();
  test_draft();
  test_diagnostics();
  test_conflict();
  test_stopping();
  test_proof();
  test_null();
  test_every_call();
  test_said_again();
  test_no_text();
  printf("%d claims, %d do not hold\n", claims, failures);
  return failures == 0 && claims > 180 ? EXIT_SUCCESS : EXIT_FAILURE;
}
