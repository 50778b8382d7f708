/* Claims of a C test: each that does not hold is printed with its line. */
#ifndef LEASTWISE_TESTS_C_CHECK_H
#define LEASTWISE_TESTS_C_CHECK_H

#include <math.h>
#include <stdio.h>
#include <string.h>

static int failures = 0;
static int claims = 0;

static void claim(int holds, const char *words, int line) {
  ++claims;
  if (holds) return;
  ++failures;
  fprintf(stderr, "line %d: %s does not hold\n", line, words);
}

static int near(double a, double b) { return fabs(a - b) <= 1e-9 * (fabs(b) + 1e-12); }

#define CHECK(words) claim((words) != 0, #words, __LINE__)
#define CHECK_TEXT(found, wanted) \
  claim(strcmp((found), (wanted)) == 0, #found " == " #wanted, __LINE__)
#define CHECK_NEAR(found, wanted) claim(near((found), (wanted)), #found " near " #wanted, __LINE__)

#endif
