/* The library from C: read a scenario, ask, print. */
#include <leastwise/leastwise.h>
#include <stdio.h>

static void print_blend(const leastwise_answer *answer) {
  leastwise_portion portion;
  size_t i;
  for (i = 0; leastwise_answer_portion(answer, i, &portion) == LEASTWISE_OK; ++i)
    printf("  %s %.1f kg/ha\n", portion.material, portion.kg_per_ha);
  printf("  %.2f %s/ha\n", leastwise_answer_cost_per_ha(answer), leastwise_answer_currency(answer));
}

static void print_conflict(const leastwise_answer *answer) {
  leastwise_conflicting_rule rule;
  size_t i;
  puts("  no blend obeys every rule; these conflict:");
  for (i = 0; leastwise_answer_conflict(answer, i, &rule) == LEASTWISE_OK; ++i)
    printf("  %s\n", rule.rule);
}

int main(int count, char **words) {
  leastwise_scenario *scenario;
  leastwise_answer *answer;
  leastwise_error *error;
  int blended;
  if (count != 2) {
    fprintf(stderr, "usage: %s FILE\n", words[0]);
    return 64;
  }
  if (leastwise_scenario_load(words[1], 0, &scenario, &error) != LEASTWISE_OK ||
      leastwise_formulate(scenario, NULL, &answer, &error) != LEASTWISE_OK) {
    fputs(leastwise_error_text(error), stderr);
    leastwise_error_free(error);
    leastwise_scenario_free(scenario);
    return 1;
  }
  puts(leastwise_scenario_title(scenario));
  leastwise_scenario_free(scenario); /* the answer does not need it */
  blended = leastwise_answer_status(answer) == LEASTWISE_OPTIMAL;
  if (blended)
    print_blend(answer);
  else
    print_conflict(answer);
  leastwise_answer_free(answer);
  return blended ? 0 : 2;
}
