#include <limits>

#include "c/guard.hpp"
#include "c/handles.hpp"
#include "c/parts.hpp"

using namespace leastwise::c;

namespace {

const leastwise::Conflict* conflict_of(const leastwise_answer* answer) {
  return answer == nullptr ? nullptr : answer->value.conflict();
}

const std::vector<leastwise::ConflictingRule>* rules_of(const leastwise_answer* answer) {
  const auto* conflict = conflict_of(answer);
  return conflict == nullptr ? nullptr : &conflict->rules;
}

const std::vector<leastwise::Change>* nearest_of(const leastwise_answer* answer) {
  const auto* conflict = conflict_of(answer);
  return conflict == nullptr ? nullptr : &conflict->nearest;
}

}  // namespace

size_t leastwise_answer_conflict_count(const leastwise_answer* answer) {
  return count_of(rules_of(answer));
}

leastwise_result leastwise_answer_conflict(const leastwise_answer* answer, size_t index,
                                           leastwise_conflicting_rule* rule) {
  return line_of(rules_of(answer), index, rule, [](const leastwise::ConflictingRule& line) {
    return leastwise_conflicting_rule{
        line.rule.c_str(),
        or_nan(line.limit),
        or_infinite(line.shortfall, std::numeric_limits<double>::infinity()),
        to_string(line.unit).data(),
        line.detail.c_str(),
        line.place.line};
  });
}

int leastwise_answer_irreducible(const leastwise_answer* answer) {
  const auto* conflict = conflict_of(answer);
  return conflict != nullptr && conflict->irreducible ? 1 : 0;
}

size_t leastwise_answer_nearest_count(const leastwise_answer* answer) {
  return count_of(nearest_of(answer));
}

leastwise_result leastwise_answer_nearest(const leastwise_answer* answer, size_t index,
                                          leastwise_change* change) {
  return line_of(nearest_of(answer), index, change, [](const leastwise::Change& line) {
    return leastwise_change{line.rule.c_str(), line.from, line.to, to_string(line.unit).data(),
                            line.place.line};
  });
}
