#include <leastwise/report.hpp>

#include "c/enums.hpp"
#include "c/guard.hpp"
#include "c/handles.hpp"

using namespace leastwise::c;

namespace {

/// What `report` makes of the answer; null for a null answer and when memory runs out.
template <class Report>
char* reported(const leastwise_answer* answer, const Report& report) noexcept {
  if (answer == nullptr) return nullptr;
  try {
    return given_away(report(answer->value));
  } catch (...) {
    return nullptr;
  }
}

/// The blend of an answer; null for another answer, and for null.
const leastwise::Blend* blend_of(const leastwise_answer* answer) {
  return answer == nullptr ? nullptr : answer->value.blend();
}

/// One portion of the blend; null where there is none.
const leastwise::Portion* portion_of(const leastwise_answer* answer, std::size_t index) {
  const auto* blend = blend_of(answer);
  return blend == nullptr || index >= blend->portions.size() ? nullptr : &blend->portions[index];
}

const leastwise::Conflict* conflict_of(const leastwise_answer* answer) {
  return answer == nullptr ? nullptr : answer->value.conflict();
}

const leastwise::Stopped* stop_of(const leastwise_answer* answer) {
  return answer == nullptr ? nullptr : answer->value.stopped();
}

/// Cost of the best blend of a stopped search, where the scenario has this basis.
double best_cost(const leastwise_answer* answer, leastwise::Basis basis) {
  const auto* stopped = stop_of(answer);
  return or_nan(stopped != nullptr && stopped->basis == basis ? stopped->best_cost
                                                              : std::optional<double>());
}

}  // namespace

void leastwise_answer_free(leastwise_answer* answer) { delete answer; }

char* leastwise_answer_to_text(const leastwise_answer* answer) {
  return reported(answer, [](const auto& value) { return leastwise::to_text(value); });
}

char* leastwise_answer_to_json(const leastwise_answer* answer) {
  return reported(answer, [](const auto& value) { return leastwise::to_json(value); });
}

char* leastwise_answer_to_csv(const leastwise_answer* answer) {
  return reported(answer, [](const auto& value) { return leastwise::to_csv(value); });
}

leastwise_status leastwise_answer_status(const leastwise_answer* answer) {
  return answer == nullptr ? LEASTWISE_STOPPED : status_of(answer->value.status());
}

leastwise_cause leastwise_answer_cause(const leastwise_answer* answer) {
  const auto* stopped = stop_of(answer);
  return stopped == nullptr ? LEASTWISE_NOT_STOPPED : cause_of(stopped->cause);
}

double leastwise_answer_cost_per_t(const leastwise_answer* answer) {
  if (const auto* blend = blend_of(answer)) return blend->cost_per_t;
  return best_cost(answer, leastwise::Basis::per_tonne);
}

double leastwise_answer_cost_per_ha(const leastwise_answer* answer) {
  if (const auto* blend = blend_of(answer)) return or_nan(blend->cost_per_ha);
  return best_cost(answer, leastwise::Basis::per_hectare);
}

double leastwise_answer_total_kg_per_ha(const leastwise_answer* answer) {
  const auto* blend = blend_of(answer);
  return or_nan(blend == nullptr ? std::optional<double>() : blend->total_kg_per_ha);
}

double leastwise_answer_lower_bound(const leastwise_answer* answer) {
  const auto* stopped = stop_of(answer);
  return or_nan(stopped == nullptr ? std::optional<double>() : stopped->lower_bound);
}

size_t leastwise_answer_portion_count(const leastwise_answer* answer) {
  const auto* blend = blend_of(answer);
  return blend == nullptr ? 0 : blend->portions.size();
}

const char* leastwise_answer_portion_material(const leastwise_answer* answer, size_t index) {
  const auto* portion = portion_of(answer, index);
  return portion == nullptr ? nullptr : portion->material.c_str();
}

double leastwise_answer_portion_kg_per_t(const leastwise_answer* answer, size_t index) {
  const auto* portion = portion_of(answer, index);
  return or_nan(portion == nullptr ? std::optional<double>() : portion->kg_per_t);
}

double leastwise_answer_portion_kg_per_ha(const leastwise_answer* answer, size_t index) {
  const auto* portion = portion_of(answer, index);
  return or_nan(portion == nullptr ? std::optional<double>() : portion->kg_per_ha);
}

size_t leastwise_answer_conflict_count(const leastwise_answer* answer) {
  const auto* conflict = conflict_of(answer);
  return conflict == nullptr ? 0 : conflict->rules.size();
}

const char* leastwise_answer_conflict_rule(const leastwise_answer* answer, size_t index) {
  if (index >= leastwise_answer_conflict_count(answer)) return nullptr;
  return conflict_of(answer)->rules[index].rule.c_str();
}
