#pragma once
#include <leastwise/leastwise.h>
#include <leastwise/draft.hpp>
#include <leastwise/formulation.hpp>
#include <leastwise/scenario.hpp>

#include <stop_token>
#include <string>
#include <vector>

// What the opaque handles of the C interface hold: one value each, owned by nobody else.

struct leastwise_draft {
  leastwise::ScenarioDraft value{};
};

struct leastwise_scenario {
  leastwise::Scenario value;
};

struct leastwise_answer {
  leastwise::Formulation value;
};

struct leastwise_stop {
  std::stop_source value{};
};

struct leastwise_error {
  leastwise_result result = LEASTWISE_INTERNAL;
  std::string text{};
  std::vector<leastwise::Diagnostic> diagnostics{};
  std::vector<std::string> pages{};  ///< each diagnostic with the user's line and a caret
};
