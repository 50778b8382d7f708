#include "scenario/rules.hpp"

namespace leastwise::rules {
namespace {

/// A rule without sides, or with the side that its limits leave.
Origin origin(RuleKind kind, RuleSide side, const std::string& subject, const std::string& object,
              const std::string& path, const Limits* limits = nullptr) {
  if (limits == nullptr) return {{kind, subject, object, RuleSide::none}, path};
  const RuleSide stated = limits->exact() ? RuleSide::exactly : side;
  return {{kind, subject, object, stated}, path + "." + std::string(to_string(stated))};
}

}  // namespace

Origin origin_of(const Scenario& scenario, RuleKind kind, RuleSide side, std::size_t index) {
  const auto material = [&](const char* key, const Limits* limits = nullptr) {
    const std::string& name = scenario.materials()[index].name;
    return origin(kind, side, name, {}, "materials." + name + key, limits);
  };
  switch (kind) {
    case RuleKind::rate: {
      const Target& rate = scenario.rates()[index];
      return origin(kind, side, rate.nutrient, {}, rate.path, &rate.limits);
    }
    case RuleKind::grade: {
      const Target& grade = scenario.grades()[index];
      return origin(kind, side, grade.nutrient, {}, grade.path, &grade.limits);
    }
    case RuleKind::ratio: {
      const Ratio& ratio = scenario.ratios()[index];
      return origin(kind, side, ratio.of, ratio.to, ratio.path, &ratio.limits);
    }
    case RuleKind::total:
      return origin(kind, side, {}, {}, "blend.total_kg_per_ha", &scenario.total_kg_per_ha());
    case RuleKind::coating:
      return {{kind, {}, {}, RuleSide::max}, "blend.coating_percent.max"};
    case RuleKind::share:
      return material(".share_percent", &scenario.materials()[index].share_percent);
    case RuleKind::left_out:
      return material(".left_out");
    case RuleKind::stock:
      return material(".stock_kg");
    case RuleKind::minimum_if_used:
      return material(".min_if_used_percent");
    case RuleKind::minimum_lot:
      return material(".minimum_lot_t");
    case RuleKind::unasked:
      return material("");
    case RuleKind::ceiling: {
      const std::string& element = scenario.ceilings()[index].element;
      return origin(kind, side, element, {}, "rates_kg_per_ha." + element);
    }
    case RuleKind::exclusion: {
      const Exclusion& pair = scenario.exclusions()[index];
      return origin(kind, side, pair.family_a, pair.family_b, pair.path);
    }
    case RuleKind::bins:
      return origin(kind, side, {}, {}, "blend.bins");
  }
  return {};
}

}  // namespace leastwise::rules
