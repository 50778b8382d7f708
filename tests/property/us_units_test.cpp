#include <doctest/doctest.h>
#include <leastwise/formulate.hpp>
#include <leastwise/load.hpp>

#include <charconv>
#include <cmath>
#include <cstdlib>
#include <string>

#include "support/generator.hpp"

// The same question in metric and in US units has the same answer. The conversion is worked here
// with the factors of NIST Handbook 44, Appendix C, not by the library.

using namespace leastwise;
using namespace leastwise::support;

namespace {

constexpr double kg_per_lb = 0.45359237;
constexpr double t_per_short_ton = 0.90718474;
constexpr double ha_per_acre = 0.40468564224;

int compared_scenarios() {
  const char* more = std::getenv("LEASTWISE_UNIT_SCENARIOS");
  return more == nullptr ? 1000 : std::atoi(more);
}

std::string digits(double value) {
  char text[40];
  const auto end = std::to_chars(text, text + sizeof text, value, std::chars_format::fixed).ptr;
  return {text, end};
}

/// A name as YAML text between single quotes.
std::string quoted(const std::string& text) {
  std::string safe = "'";
  for (const char c : text) safe += c == '\'' ? std::string("''") : std::string(1, c);
  return safe + "'";
}

/// Writes a draft as a scenario file, in one system of units or the other.
class ScenarioFile {
 public:
  explicit ScenarioFile(bool us) : us_(us) {}

  std::string written(const ScenarioDraft& draft) {
    text_ = "leastwise: 1\n";
    if (us_) text_ += "units: us\n";
    text_ += "materials:\n";
    for (const MaterialDraft& material : draft.materials) write(material, draft);
    if (draft.use) text_ += "use: [" + names(*draft.use) + "]\n";
    write_targets(key("rates_kg_per_ha", "rates_lb_per_acre"), draft.rates_kg_per_ha, rate());
    write_targets("grade_percent", draft.grade_percent, 1);
    if (!draft.ratios.empty()) text_ += "ratios:\n";
    for (const RatioDraft& ratio : draft.ratios)
      text_ += "  - {of: " + quoted(ratio.of) + ", to: " + quoted(ratio.to) + ", " +
               sides(ratio.limits, 1) + "}\n";
    write_blend(draft);
    write_compatibility(draft);
    if (draft.make_hectares)
      text_ +=
          key("make: {hectares: ", "make: {acres: ") + number(*draft.make_hectares, ha()) + "}\n";
    if (draft.make_tonnes)
      text_ +=
          key("make: {tonnes: ", "make: {short_tons: ") + number(*draft.make_tonnes, ton()) + "}\n";
    return std::move(text_);
  }

 private:
  [[nodiscard]] std::string key(const char* metric, const char* us) const {
    return us_ ? us : metric;
  }
  /// How many metric units are one of the file.
  [[nodiscard]] double rate() const { return us_ ? kg_per_lb / ha_per_acre : 1; }
  [[nodiscard]] double ton() const { return us_ ? t_per_short_ton : 1; }
  [[nodiscard]] double ha() const { return us_ ? ha_per_acre : 1; }
  [[nodiscard]] double price() const { return 1 / ton(); }

  [[nodiscard]] static std::string number(double value, double unit) {
    return digits(value / unit);
  }
  static std::string names(const std::vector<std::string>& list) {
    std::string text;
    for (const auto& name : list) text += (text.empty() ? "" : ", ") + quoted(name);
    return text;
  }
  static std::string sides(const Limits& limits, double unit) {
    if (limits.exact()) return "exactly: " + number(limits.min, unit);
    std::string text;
    if (limits.has_min()) text += "min: " + number(limits.min, unit);
    if (limits.has_max()) text += (text.empty() ? "max: " : ", max: ") + number(limits.max, unit);
    return text;
  }
  void write_targets(const std::string& name, const std::vector<TargetDraft>& targets,
                     double unit) {
    if (targets.empty()) return;
    text_ += name + ":\n";
    for (const TargetDraft& target : targets) {
      text_ += "  " + quoted(target.nutrient) + ": {" + sides(target.limits, unit);
      if (target.confidence) text_ += ", confidence: " + digits(*target.confidence);
      if (!target.tolerance.empty()) text_ += ", tolerance: " + target.tolerance;
      text_ += "}\n";
    }
  }
  void field(const std::string& name, const std::optional<double>& value, double unit = 1) {
    if (value) text_ += ", " + name + ": " + number(*value, unit);
  }
  static std::string contents(const std::vector<Content>& list) {
    std::string text;
    for (const Content& content : list)
      text += (text.empty() ? "" : ", ") + quoted(content.name) + ": " + digits(content.percent);
    return "{" + text + "}";
  }
  void write(const MaterialDraft& material, const ScenarioDraft& draft) {
    text_ += "  " + quoted(material.name) +
             ": {ground: " + (material.ground.value_or(false) ? "true" : "false");
    if (material.form) text_ += ", form: " + std::string(to_string(*material.form));
    if (material.family) text_ += ", family: " + quoted(*material.family);
    if (material.contains_percent)
      text_ += ", contains_percent: " + contents(*material.contains_percent);
    if (material.contains_also_percent)
      text_ += ", contains_also_percent: " + contents(*material.contains_also_percent);
    if (material.spread_percent) text_ += ", spread_percent: " + contents(*material.spread_percent);
    if (material.formula) text_ += ", formula: " + quoted(*material.formula);
    field("purity_percent", material.purity_percent);
    auto per_t = material.price_per_t;
    auto freight = material.freight_per_t;
    for (const PriceDraft& listed : draft.prices)
      if (listed.material == material.name) {
        per_t = listed.price_per_t;
        if (listed.freight_per_t) freight = listed.freight_per_t;
      }
    field(key("price_per_t", "price_per_short_ton"), per_t, price());
    field(key("freight_per_t", "freight_per_short_ton"), freight, price());
    if (material.share_percent)
      text_ += ", share_percent: {" + sides(*material.share_percent, 1) + "}";
    field("min_if_used_percent", material.min_if_used_percent);
    field(key("stock_kg", "stock_lb"), material.stock_kg, us_ ? kg_per_lb : 1);
    if (material.micronutrient_granule) text_ += ", micronutrient_granule: true";
    text_ += "}\n";
  }
  void write_blend(const ScenarioDraft& draft) {
    text_ += "blend:\n  limited_compatibility: ";
    text_ += draft.limited_compatibility == LimitedCompatibility::allow ? "allow\n" : "forbid\n";
    if (draft.total_kg_per_ha)
      text_ += "  " + key("total_kg_per_ha", "total_lb_per_acre") + ": {" +
               sides(*draft.total_kg_per_ha, rate()) + "}\n";
    if (draft.bins) text_ += "  bins: " + std::to_string(*draft.bins) + "\n";
    if (draft.coating_percent)
      text_ += "  coating_percent: {" + sides(*draft.coating_percent, 1) + "}\n";
    if (draft.binder) {
      text_ += "  binder: {material: " + quoted(draft.binder->material);
      field("percent_of_powder", draft.binder->percent_of_powder);
      field(key("price_per_t", "price_per_short_ton"), draft.binder->price_per_t, price());
      if (draft.binder->organic)
        text_ += std::string(", organic: ") + (*draft.binder->organic ? "true" : "false");
      text_ += "}\n";
    }
    std::string factors;
    if (draft.granular_micronutrient_factor)
      factors += "default: " + digits(*draft.granular_micronutrient_factor);
    for (const auto& [name, factor] : draft.granular_micronutrient_factors)
      factors += (factors.empty() ? "" : ", ") + name + ": " + digits(factor);
    if (!factors.empty()) text_ += "  granular_micronutrient_factor: {" + factors + "}\n";
    if (!draft.confirm_high_rate.empty())
      text_ += "  confirm_high_rate: [" + names(draft.confirm_high_rate) + "]\n";
    if (draft.blending_fee_per_t)
      text_ += "  " + key("blending_fee_per_t", "blending_fee_per_short_ton") + ": " +
               number(*draft.blending_fee_per_t, price()) + "\n";
  }
  void write_compatibility(const ScenarioDraft& draft) {
    const auto pairs = [&](const char* name, const auto& list) {
      text_ += std::string("  ") + name + ": [";
      for (const auto& [a, b] : list)
        text_ += (&a == &list.front().first ? "[" : ", [") + quoted(a) + ", " + quoted(b) + "]";
      text_ += "]\n";
    };
    text_ += "compatibility:\n";
    pairs("incompatible", draft.incompatible);
    pairs("limited", draft.limited);
    pairs("compatible", draft.compatible);
  }

  bool us_;
  std::string text_{};
};

bool are_near(double a, double b) {
  return std::fabs(a - b) <= 1e-9 * std::max({1.0, std::fabs(a), std::fabs(b)});
}

}  // namespace

TEST_SUITE_BEGIN("US units");

TEST_CASE("a question in US units has the answer of the metric one") {
  SolveOptions quick;
  quick.intervals = false;
  int blends = 0;
  int conflicts = 0;
  for (int seed = 1; seed <= compared_scenarios(); ++seed) {
    CAPTURE(seed);
    const ScenarioDraft draft =
        random_draft(static_cast<std::uint64_t>(seed), {.materials = 12 + seed % 12});
    const Scenario metric = parse_scenario(ScenarioFile(false).written(draft), "metric.yaml");
    const Scenario us = parse_scenario(ScenarioFile(true).written(draft), "us.yaml");
    const Formulation a = formulate(metric, quick);
    const Formulation b = formulate(us, quick);
    REQUIRE(a.status() == b.status());
    if (a.blend() == nullptr) {
      ++conflicts;
      continue;
    }
    ++blends;
    CHECK(are_near(a.blend()->cost_per_t, b.blend()->cost_per_t));
    CHECK(are_near(a.blend()->cost_per_ha.value_or(0), b.blend()->cost_per_ha.value_or(0)));
  }
  CHECK(blends > compared_scenarios() / 2);
  CHECK(conflicts > 0);
}

TEST_SUITE_END();
