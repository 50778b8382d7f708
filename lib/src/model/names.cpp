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
    case RuleKind::stock:
      break;
  }
  return nullptr;
}

std::string side_of(const Rule& rule, const Scenario& scenario) {
  const Limits* limits = limits_of(rule, scenario);
  if (rule.side == Side::exactly || (limits != nullptr && limits->exact())) return "exactly";
  return rule.side == Side::min ? "min" : "max";
}

/// The key under which the limit stands, or its mapping when the key is another one.
std::string side_path(const std::string& parent, const Rule& rule, const Scenario& scenario) {
  const std::string side = side_of(rule, scenario);
  return parent + "." + side;
}

/// A variant leaves the material out: nobody wrote a limit on its share.
bool leaves_out(const Rule& rule, const Scenario& scenario) {
  return rule.kind == RuleKind::share && rule.side == Side::max &&
         scenario.materials()[rule.index].left_out;
}

std::string material_path(const Scenario& scenario, std::size_t index) {
  return "materials." + scenario.materials()[index].name;
}

}  // namespace

std::string name_of(const Rule& rule, const Scenario& scenario) {
  const std::string side = side_of(rule, scenario);
  switch (rule.kind) {
    case RuleKind::rate:
      return "rate " + scenario.rates()[rule.index].nutrient + " " + side;
    case RuleKind::grade:
      return "grade " + scenario.grades()[rule.index].nutrient + " " + side;
    case RuleKind::ratio: {
      const auto& ratio = scenario.ratios()[rule.index];
      return "ratio " + ratio.of + ":" + ratio.to + " " + side;
    }
    case RuleKind::total:
      return "total " + side;
    case RuleKind::coating:
      return "coating max";
    case RuleKind::share:
      return (leaves_out(rule, scenario) ? "without " : "share ") +
             scenario.materials()[rule.index].name + (leaves_out(rule, scenario) ? "" : " " + side);
    case RuleKind::stock:
      return "stock " + scenario.materials()[rule.index].name;
  }
  return {};
}

std::string name_of(const MinimumIfUsed& minimum, const Scenario& scenario) {
  return "min if used " + scenario.materials()[minimum.material].name;
}

std::string name_of(const Apart& apart, const Scenario& scenario) {
  const auto& exclusion = scenario.exclusions()[apart.exclusion];
  return "apart " + exclusion.family_a + " / " + exclusion.family_b;
}

std::string unit_of(const Rule& rule) {
  switch (rule.kind) {
    case RuleKind::rate:
    case RuleKind::total:
      return "kg/ha";
    case RuleKind::grade:
    case RuleKind::coating:
    case RuleKind::share:
      return "%";
    case RuleKind::stock:
      return "kg";
    case RuleKind::ratio:
      break;
  }
  return "";
}

std::optional<double> declared_of(const Rule& rule, const Scenario& scenario) {
  if (rule.kind != RuleKind::grade || rule.side != Side::min) return std::nullopt;
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
      if (leaves_out(rule, scenario)) return material_path(scenario, rule.index) + ".left_out";
      return side_path(material_path(scenario, rule.index) + ".share_percent", rule, scenario);
    case RuleKind::stock:
      return material_path(scenario, rule.index) + ".stock_kg";
  }
  return {};
}

std::string path_of(const MinimumIfUsed& minimum, const Scenario& scenario) {
  return material_path(scenario, minimum.material) + ".min_if_used_percent";
}

}  // namespace leastwise::model
