#include "model/model.hpp"

namespace leastwise::model {
namespace {

/// The limits a rule was made from; tells `exactly` from a lone side.
const Limits* limits_of(const Rule& rule, const Scenario& scenario) {
  switch (rule.kind) {
    case RuleKind::rate:
      return &scenario.rates()[rule.index].limits;
    case RuleKind::grade:
      return &scenario.grades()[rule.index].limits;
    case RuleKind::ratio:
      return &scenario.ratios()[rule.index].limits;
    case RuleKind::total:
      return &scenario.total_kg_per_ha();
    case RuleKind::share:
      return &scenario.materials()[rule.index].share_percent;
    case RuleKind::coating:
    case RuleKind::left_out:
    case RuleKind::stock:
    case RuleKind::minimum_if_used:
    case RuleKind::exclusion:
    case RuleKind::bins:
    case RuleKind::unasked:
    case RuleKind::ceiling:
      break;
  }
  return nullptr;
}

RuleSide side_of(const Rule& rule, const Scenario& scenario) {
  const Limits* limits = limits_of(rule, scenario);
  return limits != nullptr && limits->exact() ? RuleSide::exactly : rule.side;
}

/// The key under which the limit stands, or its mapping when the key is another one.
std::string side_path(const std::string& parent, const Rule& rule, const Scenario& scenario) {
  return parent + "." + std::string(to_string(side_of(rule, scenario)));
}

std::string material_path(const Scenario& scenario, std::size_t index) {
  return "materials." + scenario.materials()[index].name;
}

}  // namespace

RuleId id_of(const Rule& rule, const Scenario& scenario) {
  const RuleSide side = side_of(rule, scenario);
  switch (rule.kind) {
    case RuleKind::rate:
      return {rule.kind, scenario.rates()[rule.index].nutrient, {}, side};
    case RuleKind::grade:
      return {rule.kind, scenario.grades()[rule.index].nutrient, {}, side};
    case RuleKind::ratio:
      return {rule.kind, scenario.ratios()[rule.index].of, scenario.ratios()[rule.index].to, side};
    case RuleKind::total:
    case RuleKind::coating:
      return {rule.kind, {}, {}, side};
    case RuleKind::share:
      return {rule.kind, scenario.materials()[rule.index].name, {}, side};
    case RuleKind::ceiling:
      return {rule.kind, scenario.ceilings()[rule.index].element, {}, RuleSide::none};
    case RuleKind::left_out:
    case RuleKind::unasked:
    case RuleKind::stock:
      return {rule.kind, scenario.materials()[rule.index].name, {}, RuleSide::none};
    case RuleKind::minimum_if_used:
    case RuleKind::exclusion:
    case RuleKind::bins:
      break;
  }
  return {};
}

RuleId id_of(const MinimumIfUsed& minimum, const Scenario& scenario) {
  return {RuleKind::minimum_if_used, scenario.materials()[minimum.material].name, {}, {}};
}

RuleId id_of(const Apart& apart, const Scenario& scenario) {
  const auto& exclusion = scenario.exclusions()[apart.exclusion];
  return {RuleKind::exclusion, exclusion.family_a, exclusion.family_b, RuleSide::none};
}

std::optional<double> declared_of(const Rule& rule, const Scenario& scenario) {
  if (rule.kind != RuleKind::grade || rule.side != RuleSide::min) return std::nullopt;
  return scenario.grades()[rule.index].guarantee;
}

std::string path_of(const Rule& rule, const Scenario& scenario) {
  switch (rule.kind) {
    case RuleKind::rate:
      return side_path(scenario.rates()[rule.index].path, rule, scenario);
    case RuleKind::grade:
      return side_path(scenario.grades()[rule.index].path, rule, scenario);
    case RuleKind::ratio:
      return side_path(scenario.ratios()[rule.index].path, rule, scenario);
    case RuleKind::total:
      return side_path("blend.total_kg_per_ha", rule, scenario);
    case RuleKind::coating:
      return "blend.coating_percent.max";
    case RuleKind::share:
      return side_path(material_path(scenario, rule.index) + ".share_percent", rule, scenario);
    case RuleKind::left_out:
      return material_path(scenario, rule.index) + ".left_out";
    case RuleKind::stock:
      return material_path(scenario, rule.index) + ".stock_kg";
    case RuleKind::unasked:
      return material_path(scenario, rule.index);
    case RuleKind::ceiling:
      return "rates_kg_per_ha." + scenario.ceilings()[rule.index].element;
    case RuleKind::minimum_if_used:
    case RuleKind::exclusion:
    case RuleKind::bins:
      break;
  }
  return {};
}

std::string path_of(const MinimumIfUsed& minimum, const Scenario& scenario) {
  return material_path(scenario, minimum.material) + ".min_if_used_percent";
}

}  // namespace leastwise::model
