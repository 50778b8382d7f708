#pragma once
#include <leastwise/leastwise.h>
#include <leastwise/diagnostic.hpp>
#include <leastwise/formulation.hpp>
#include <leastwise/run.hpp>
#include <leastwise/scenario.hpp>

#include <stop_token>
#include <string>
#include <vector>

// What the opaque handles of the C interface hold: one value each, owned by nobody else.

struct leastwise_scenario {
  leastwise::Scenario value;
};

struct leastwise_answer {
  leastwise::Formulation value;
};

struct leastwise_call {
  leastwise::RunOptions value{};
  std::stop_source stop{};
  bool intervals = true;
  unsigned threads = 0;
};

struct leastwise_error {
  leastwise_result result = LEASTWISE_INTERNAL;
  std::string text{};
  std::vector<leastwise::Diagnostic> diagnostics{};
};
