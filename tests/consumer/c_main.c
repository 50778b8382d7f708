/* 46 kg/ha of N from urea of 46 % N at 460 per t: 100 kg/ha for 46 per ha. */
#include <leastwise/leastwise.h>
#include <stdio.h>
#include <string.h>

static const char text[] =
    "leastwise: 1\n"
    "materials:\n"
    "  urea: {form: granule, contains_percent: {N: 46}, price_per_t: 460}\n"
    "rates_kg_per_ha: {N: {min: 46}}\n";

static int close_to(double a, double b) { return a - b < 1e-6 && b - a < 1e-6; }

int main(void) {
  leastwise_scenario *scenario = NULL;
  leastwise_answer *answer = NULL;
  int right;
  if (leastwise_scenario_parse(text, strlen(text), NULL, &scenario, NULL) != LEASTWISE_OK ||
      leastwise_formulate(scenario, NULL, &answer, NULL) != LEASTWISE_OK)
    return 1;
  right = close_to(leastwise_answer_portion_kg_per_ha(answer, 0), 100) &&
          close_to(leastwise_answer_cost_per_ha(answer), 46);
  printf("%s: %s\n", leastwise_version(), right ? "as expected" : "not the blend expected");
  leastwise_answer_free(answer);
  leastwise_scenario_free(scenario);
  return right ? 0 : 1;
}
