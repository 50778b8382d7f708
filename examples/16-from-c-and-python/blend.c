/* The library from C: read a scenario, ask, print. */
#include <leastwise/leastwise.h>
#include <stdio.h>

static void print_blend(const leastwise_answer *answer, const char *currency) {
  size_t i;
  for (i = 0; i < leastwise_answer_portion_count(answer); ++i)
    printf("  %s %.1f kg/ha\n", leastwise_answer_portion_material(answer, i),
           leastwise_answer_portion_kg_per_ha(answer, i));
  printf("  %.2f %s/ha\n", leastwise_answer_cost_per_ha(answer), currency);
}

static void print_conflict(const leastwise_answer *answer) {
  size_t i;
  puts("  no blend obeys every rule; these conflict:");
  for (i = 0; i < leastwise_answer_conflict_count(answer); ++i)
    printf("  %s\n", leastwise_answer_conflict_rule(answer, i));
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
  blended = leastwise_answer_status(answer) == LEASTWISE_OPTIMAL;
  if (blended)
    print_blend(answer, leastwise_scenario_currency(scenario));
  else
    print_conflict(answer);
  leastwise_scenario_free(scenario);
  leastwise_answer_free(answer);
  return blended ? 0 : 2;
}
