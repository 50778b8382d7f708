#include <limits>
#include <optional>

#include "c/guard.hpp"
#include "c/handles.hpp"
#include "c/parts.hpp"

using namespace leastwise::c;

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

int as_flag(const std::optional<bool>& known) {
  if (!known) return -1;
  return *known ? 1 : 0;
}

const std::vector<leastwise::Portion>* portions_of(const leastwise_answer* answer) {
  if (answer == nullptr) return nullptr;
  if (const auto* blend = answer->value.blend()) return &blend->portions;
  const auto* stopped = answer->value.stopped();
  return stopped == nullptr ? nullptr : &stopped->best_portions;
}

/// A list of the blend; null for an answer without one.
template <class Line>
const std::vector<Line>* list_of(const leastwise_answer* answer,
                                 std::vector<Line> leastwise::Blend::*list) {
  const auto* blend = blend_of(answer);
  return blend == nullptr ? nullptr : &(blend->*list);
}

leastwise_portion view(const leastwise::Portion& portion) {
  return {portion.material.c_str(),  static_cast<leastwise_form>(portion.form),
          or_nan(portion.kg_per_ha), portion.kg_per_t,
          portion.cost_per_t,        or_nan(portion.cost_per_ha)};
}

leastwise_supply view(const leastwise::Supply& supply) {
  return {supply.nutrient.c_str(), or_nan(supply.kg_per_ha), or_nan(supply.effective_kg_per_ha),
          supply.percent};
}

leastwise_binding_rule view(const leastwise::BindingRule& rule) {
  return {rule.rule.c_str(),
          rule.limit,
          rule.shadow_price,
          rule.unit.c_str(),
          or_infinite(rule.holds_from, -infinite),
          or_infinite(rule.holds_to, infinite),
          or_infinite(rule.price_below, -infinite),
          or_infinite(rule.price_above, infinite),
          as_flag(rule.unique),
          static_cast<leastwise_known_sides>(known_sides(rule)),
          rule.place.line};
}

leastwise_unused_material view(const leastwise::UnusedMaterial& material) {
  return {material.material.c_str(), material.price_per_t,
          or_infinite(material.enters_below_price_per_t, -infinite), material.why.c_str()};
}

}  // namespace

size_t leastwise_answer_portion_count(const leastwise_answer* answer) {
  return count_of(portions_of(answer));
}

leastwise_result leastwise_answer_portion(const leastwise_answer* answer, size_t index,
                                          leastwise_portion* portion) {
  return line_of(portions_of(answer), index, portion, [](const auto& line) { return view(line); });
}

leastwise_result leastwise_answer_binder(const leastwise_answer* answer,
                                         leastwise_binder_use* binder) {
  const auto* blend = blend_of(answer);
  if (blend == nullptr || binder == nullptr) return LEASTWISE_BAD_ARGUMENT;
  const leastwise::BinderUse& use = blend->binder;
  *binder = {use.material.c_str(), or_nan(use.kg_per_ha), use.kg_per_t, use.cost_per_t};
  return LEASTWISE_OK;
}

size_t leastwise_answer_supply_count(const leastwise_answer* answer) {
  return count_of(list_of(answer, &leastwise::Blend::supply));
}

leastwise_result leastwise_answer_supply(const leastwise_answer* answer, size_t index,
                                         leastwise_supply* supply) {
  return line_of(list_of(answer, &leastwise::Blend::supply), index, supply,
                 [](const auto& line) { return view(line); });
}

size_t leastwise_answer_binding_count(const leastwise_answer* answer) {
  return count_of(list_of(answer, &leastwise::Blend::binding));
}

leastwise_result leastwise_answer_binding(const leastwise_answer* answer, size_t index,
                                          leastwise_binding_rule* rule) {
  return line_of(list_of(answer, &leastwise::Blend::binding), index, rule,
                 [](const auto& line) { return view(line); });
}

size_t leastwise_answer_unused_count(const leastwise_answer* answer) {
  return count_of(list_of(answer, &leastwise::Blend::unused));
}

leastwise_result leastwise_answer_unused(const leastwise_answer* answer, size_t index,
                                         leastwise_unused_material* material) {
  return line_of(list_of(answer, &leastwise::Blend::unused), index, material,
                 [](const auto& line) { return view(line); });
}
