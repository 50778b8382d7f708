#include <leastwise/formulate.hpp>
#include <leastwise/question.hpp>

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "c/enums.hpp"
#include "c/guard.hpp"
#include "c/handles.hpp"

using namespace leastwise::c;

namespace {

/// What `call` allows; everything for null.
leastwise::SolveOptions limits_of(const leastwise_call* call) {
  if (call == nullptr) return {};
  leastwise::SolveOptions limits = call->value.limits;
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

/// Throws: CallerFault for a question that does not fit.
std::vector<leastwise::Formulation> answers_to(const leastwise::Scenario& scenario,
                                               std::span<const leastwise::WhatIf> questions,
                                               const leastwise_call* call) {
  try {
    return leastwise::ask_many(leastwise::PreparedBlend(scenario), questions,
                               call == nullptr ? 0 : call->threads, limits_of(call));
  } catch (const leastwise::QuestionError& fault) {
    throw CallerFault(fault.option() + " " + fault.what());
  }
}

}  // namespace

leastwise_result leastwise_formulate(const leastwise_scenario* scenario, const leastwise_call* call,
                                     leastwise_answer** answer, leastwise_error** error) {
  return guarded(error, [&] {
    auto& out = cleared(answer);
    const leastwise::SolveOptions limits = limits_of(call);
    out = new leastwise_answer{leastwise::formulate(
        required(scenario, "scenario").value, {.time_limit = limits.time_limit,
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
    const auto questions = questions_of({materials, material_count}, question_count, prices_per_t);
    const auto answers = answers_to(asked, questions, call);
    for (std::size_t k = 0; k < answers.size(); ++k) {
      const leastwise::Blend* blend = answers[k].blend();
      costs[k] = or_nan(blend == nullptr ? std::optional<double>()
                                         : blend->cost_per_ha.value_or(blend->cost_per_t));
      if (statuses != nullptr) statuses[k] = status_of(answers[k].status());
    }
  });
}
