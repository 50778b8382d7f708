#include <leastwise/report.hpp>

#include "c/guard.hpp"
#include "c/handles.hpp"
#include "c/parts.hpp"

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

/// `part` of the blend, the conflict or the stop, whichever the answer is; `otherwise` for null.
template <class Value, class Part>
Value of_any(const leastwise_answer* answer, Value otherwise, const Part& part) {
  if (answer == nullptr) return otherwise;
  if (const auto* blend = answer->value.blend()) return part(*blend);
  if (const auto* conflict = answer->value.conflict()) return part(*conflict);
  return part(*answer->value.stopped());
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
  return answer == nullptr ? LEASTWISE_STOPPED
                           : static_cast<leastwise_status>(answer->value.status());
}

leastwise_cause leastwise_answer_cause(const leastwise_answer* answer) {
  const auto* stopped = stop_of(answer);
  return stopped == nullptr ? LEASTWISE_NOT_STOPPED : static_cast<leastwise_cause>(stopped->cause);
}

const char* leastwise_answer_title(const leastwise_answer* answer) {
  return of_any(answer, "", [](const auto& value) { return value.title.c_str(); });
}

const char* leastwise_answer_currency(const leastwise_answer* answer) {
  return of_any(answer, "", [](const auto& value) { return value.currency.c_str(); });
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

size_t leastwise_answer_note_count(const leastwise_answer* answer) {
  return of_any(answer, size_t{0}, [](const auto& value) { return value.notes.size(); });
}

const char* leastwise_answer_note(const leastwise_answer* answer, size_t index,
                                  leastwise_note_level* level) {
  if (index >= leastwise_answer_note_count(answer)) return nullptr;
  const auto* note = of_any(answer, static_cast<const leastwise::Note*>(nullptr),
                            [index](const auto& value) { return &value.notes[index]; });
  if (level != nullptr) *level = static_cast<leastwise_note_level>(note->level);
  return note->text.c_str();
}
