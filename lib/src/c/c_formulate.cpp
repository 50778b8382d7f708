#include <leastwise/formulate.hpp>
#include <leastwise/what_if.hpp>

#include <span>
#include <string>
#include <vector>

#include "c/enums.hpp"
#include "c/guard.hpp"
#include "c/handles.hpp"

using namespace leastwise::c;

namespace {

/// What `call` allows; everything for null.
leastwise::SolveLimits limits_of(const leastwise_call* call) {
  if (call == nullptr) return {};
  leastwise::SolveLimits limits = call->value.limits;
  limits.stop = call->stop.get_token();
  return limits;
}

std::vector<leastwise::WhatIf> questions_of(std::span<const char* const> materials,
                                            std::size_t count, const double* prices) {
  std::vector<leastwise::WhatIf> questions(count);
  for (auto& question : questions)
    for (const char* material : materials)
      question.prices.push_back({text_of(material, "material"), *prices++});
  return questions;
}

}  // namespace

leastwise_result leastwise_formulate(const leastwise_scenario* scenario, const leastwise_call* call,
                                     leastwise_answer** answer, leastwise_error** error) {
  return guarded(error, [&] {
    auto& out = cleared(answer);
    const leastwise::SolveLimits limits = limits_of(call);
    out = new leastwise_answer{
        leastwise::formulate(required(scenario, "scenario").value,
                             {.time_limit = limits.time_limit,
                              .stop = limits.stop,
                              .intervals = call == nullptr || call->intervals,
                              .progress = limits.progress})};
  });
}

leastwise_result leastwise_what_if_prices(const leastwise_scenario* scenario, size_t material_count,
                                          const char* const* materials, size_t question_count,
                                          const double* prices_per_t, const leastwise_call* call,
                                          double* costs, leastwise_status* statuses,
                                          leastwise_error** error) {
  return guarded(error, [&] {
    if (question_count == 0) return;
    const auto& asked = required(scenario, "scenario").value;
    static_cast<void>(required(costs, "place for the costs"));
    if (material_count > 0) {
      static_cast<void>(required(materials, "list of materials"));
      static_cast<void>(required(prices_per_t, "list of prices"));
    }
    const auto questions =
        questions_of({materials, material_count}, question_count, prices_per_t);
    const auto answers = leastwise::what_if(asked, questions, call == nullptr ? 0 : call->threads,
                                            limits_of(call));
    for (std::size_t k = 0; k < answers.size(); ++k) {
      costs[k] = answers[k].cost;
      if (statuses != nullptr) statuses[k] = status_of(answers[k].status);
    }
  });
}
