#include <doctest/doctest.h>
#include <leastwise/nutrient.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "model/model.hpp"
#include "proof/exact_rows.hpp"
#include "report/words/rule_words.hpp"
#include "scenario/rules.hpp"
#include "solve/audit.hpp"
#include "support/generator.hpp"
#include "support/random.hpp"
#include "trial/achieved.hpp"
#include "verify/checker.hpp"

// Each rule is written down once, in scenario/rules.cpp, and once more in `verify`. What a blend
// comes to under it is the same by the one measure, by the model's rows, by the exact rows of
// proofs and by `verify`, for blends that keep the rule and for blends that break it.

using namespace leastwise;
using namespace leastwise::support;

namespace {

/// By how much a row is missed, and the size of its terms.
struct Miss {
  double amount = 0;
  double size = 0;
};

/// `terms` up to `limit`, missed from below or from above.
Miss miss_of(const std::vector<double>& terms, double limit, bool is_maximum) {
  Miss miss{limit, std::fabs(limit)};
  for (const double term : terms) {
    miss.amount -= term;
    miss.size += std::fabs(term);
  }
  if (is_maximum) miss.amount = -miss.amount;
  return miss;
}

/// Every kind of rule that there is.
std::vector<RuleKind> kinds() {
  std::vector<RuleKind> all;
  while (!to_string(static_cast<RuleKind>(all.size())).empty())
    all.push_back(static_cast<RuleKind>(all.size()));
  return all;
}

/// Some analyses that spread, with limits that are sure in 9 lots of 10.
void make_uncertain(ScenarioDraft& draft) {
  for (auto& material : draft.materials) {
    if (!material.contains_percent) continue;
    material.spread_percent.emplace();
    for (const auto& content : *material.contains_percent)
      if (content.percent > 1 && kind_of(content.name) != NameKind::form)
        material.spread_percent->push_back({content.name, 0.3});
  }
  for (auto* targets : {&draft.rates_kg_per_ha, &draft.grade_percent})
    for (auto& target : *targets)
      if (!target.limits.exact() && target.nutrient != "lime-need") target.confidence = 0.9;
}

/// The seeds draw every kind of rule but materials left out by a variant.
ScenarioDraft rule_draft(std::uint64_t seed) {
  auto draft = random_draft(seed, {.materials = static_cast<int>(6 + seed % 20), .sabotage = 0.3});
  if (seed % 3 == 0) make_uncertain(draft);
  if (seed % 5 == 0) {
    draft.of_variant = true;
    draft.materials[seed % draft.materials.size()].left_out = true;
  }
  return draft;
}

/// A few materials, some with next to nothing; 1000 kg in all in the per-tonne basis.
std::vector<double> drawn_amounts(const Scenario& scenario, Random& random) {
  const auto materials = scenario.materials();
  std::vector<double> kg(materials.size(), 0.0);
  double total = 0;
  for (std::size_t i = 0; i < kg.size(); ++i) {
    if (!materials[i].can_enter() || !random.chance(0.35)) continue;
    const bool powder = materials[i].form_used() == Form::powder;
    kg[i] = random.between(0.01, powder && random.chance(0.8) ? 3 : 150);
    total += scenario.mass_factor(i) * kg[i];
  }
  if (total > 0 && scenario.basis() == Basis::per_tonne)
    for (double& amount : kg) amount *= 1000 / total;
  return kg;
}

/// One scenario, one blend, every rule in each of the places that know it.
class RuleComparison {
 public:
  explicit RuleComparison(const Scenario& scenario)
      : scenario_(scenario),
        rules_(rules::rules_of(scenario)),
        model_(model::build(scenario)),
        exact_(proof::exact_rows(scenario, model_)),
        verified_(checker::rules_of(scenario, [] {})) {}

  /// Each rule has its place in the model, and a name in words.
  void check_places() const {
    std::size_t either_or = 0;
    for (const auto& rule : rules_) {
      either_or += rule.is_either_or();
      CHECK(!report::rule_in_words(rule.id, rule.limit, limit_unit(rule.id)).empty());
    }
    CHECK(rules_.size() ==
          model_.rules.size() + model_.minima.size() + model_.apart.size() + (model_.bins ? 1 : 0));
    CHECK(either_or == model_.minima.size() + model_.apart.size() + (model_.bins ? 1 : 0));
    CHECK(either_or - model_.minima.size() ==
          verified_apart() + static_cast<std::size_t>(verified_.bins.has_value()));
  }

  void check(const std::vector<double>& kg, std::map<RuleKind, int>& broken) {
    read(kg);
    const auto all = rules::measure(scenario_, {kg});
    bool holds = true;
    for (const auto& achieved : all) {
      CAPTURE(to_string(achieved.rule.id));
      const double relative = achieved.relative_shortfall();
      if (relative > 1e-6) ++broken[achieved.rule.id.kind];
      holds = holds && relative <= 1e-9;
      if (achieved.rule.is_linear())
        check_linear(achieved);
      else
        check_choice(achieved, kg);
    }
    check_load(kg, all);
    if (holds) CHECK(solve_audit(kg) < 1e-7);
    if (!holds && worst(all) > 1e-5) CHECK(solve_audit(kg) > 1e-7);
  }

 private:
  [[nodiscard]] double solve_audit(const std::vector<double>& kg) const {
    return solve::audit(scenario_, kg);
  }
  static double worst(const std::vector<rules::Achieved>& all) {
    double most = 0;
    for (const auto& achieved : all) most = std::max(most, achieved.relative_shortfall());
    return most;
  }
  [[nodiscard]] std::size_t verified_apart() const {
    const auto enters = [&](const std::string& family) {
      return std::ranges::count(verified_.families, family) > 0;
    };
    return static_cast<std::size_t>(std::ranges::count_if(verified_.apart, [&](const auto& pair) {
      return enters(pair.first) && enters(pair.second);
    }));
  }

  /// What a load of the blend is told to keep and to break.
  void check_load(const std::vector<double>& kg, const std::vector<rules::Achieved>& all) const {
    trial::Contents contents{kg, 0};
    double total = 0;
    for (std::size_t i = 0; i < kg.size(); ++i) {
      contents.binder_kg += (scenario_.mass_factor(i) - 1) * kg[i];
      total += scenario_.mass_factor(i) * kg[i];
    }
    const auto checks = trial::rule_checks(scenario_, contents, total, false);
    for (const auto& achieved : all) {
      const double relative = achieved.relative_shortfall();
      if (total <= 0 || (relative > 1e-12 && relative < 1e-6)) continue;
      const auto found = std::ranges::find_if(checks, [&](const RuleCheck& check) {
        return check.id == achieved.rule.id && check.limit == achieved.rule.limit;
      });
      CAPTURE(to_string(achieved.rule.id));
      if (relative >= 1e-6) {
        REQUIRE(found != checks.end());
        CHECK(found->verdict != leastwise::Verdict::holds);
      } else if (found != checks.end() && found->id.side != RuleSide::exactly) {
        CHECK(found->verdict == leastwise::Verdict::holds);
      }
    }
  }

  void read(const std::vector<double>& kg) {
    x_.clear();
    for (const int i : model_.material_of)
      x_.push_back(i < 0 ? 0 : kg[static_cast<std::size_t>(i)]);
    if (model_.total_column >= 0)
      x_[static_cast<std::size_t>(model_.total_column)] = model::total_mass(scenario_, model_, x_);
  }

  [[nodiscard]] std::vector<double> row_terms(int row, int column) const {
    if (row < 0) return {x_[static_cast<std::size_t>(column)]};
    std::vector<double> terms;
    const auto r = static_cast<std::size_t>(row);
    for (int e = model_.row_start[r]; e < model_.row_start[r + 1]; ++e) {
      const auto& entry = model_.entries[static_cast<std::size_t>(e)];
      terms.push_back(entry.value * x_[static_cast<std::size_t>(entry.column)]);
    }
    return terms;
  }

  /// The measured miss against that of a row in the same units.
  static void agrees(double measured, const Miss& row, const char* where) {
    CAPTURE(where);
    CAPTURE(measured);
    CAPTURE(row.amount);
    CHECK(std::fabs(measured - row.amount) <= 1e-9 * std::max(row.size, 1e-9));
  }

  void check_linear(const rules::Achieved& achieved) {
    for (const bool is_maximum : {false, true}) {
      const RuleSide side = is_maximum ? RuleSide::max : RuleSide::min;
      if (achieved.rule.side != side && achieved.rule.side != RuleSide::exactly) continue;
      const double lacks = achieved.needed() - achieved.of;
      const double measured = is_maximum ? -lacks : lacks;
      check_model(achieved, measured, is_maximum);
      agrees(measured, exact_miss(achieved.rule, is_maximum), "exact rows");
      agrees(measured, verified_miss(achieved.rule, is_maximum), "verify");
    }
  }

  void check_model(const rules::Achieved& achieved, double measured, bool is_maximum) const {
    if (achieved.rule.if_used) {
      const auto found =
          std::ranges::find(model_.minima, achieved.rule.index, &model::MinimumIfUsed::material);
      REQUIRE(found != model_.minima.end());
      return agrees(
          measured,
          miss_of(row_terms(found->row, found->column), found->row < 0 ? found->kg : 0, is_maximum),
          "minima of the model");
    }
    const auto found = std::ranges::find_if(model_.rules, [&](const model::Rule& rule) {
      return rule.kind == achieved.rule.id.kind && rule.index == achieved.rule.index &&
             rule.side == achieved.rule.side;
    });
    REQUIRE(found != model_.rules.end());
    CHECK(model::origin_of(*found, scenario_).id == achieved.rule.id);
    CHECK(found->limit == achieved.rule.limit);
    agrees(measured,
           miss_of(row_terms(found->row, found->column), found->rhs_derivative * found->limit,
                   is_maximum),
           "rows of the model");
  }

  [[nodiscard]] Miss exact_miss(const rules::Rule& rule, bool is_maximum) const {
    const auto found = std::ranges::find_if(exact_, [&](const proof::ExactRow& row) {
      return row.rule == name_of(rule) && row.is_maximum == is_maximum;
    });
    REQUIRE(found != exact_.end());
    CHECK((found->minimum >= 0) == rule.if_used);
    std::vector<double> terms;
    for (const auto& [j, value] : found->entries)
      terms.push_back(value.convert_to<double>() * x_[j]);
    return miss_of(terms, found->limit.convert_to<double>(), false);
  }

  [[nodiscard]] Miss verified_miss(const rules::Rule& rule, bool is_maximum) const {
    const auto found = std::ranges::find_if(verified_.rules, [&](const checker::Rule& row) {
      return row.name == name_of(rule) && row.is_maximum == is_maximum;
    });
    REQUIRE(found != verified_.rules.end());
    CHECK(found->if_used.has_value() == rule.if_used);
    std::vector<double> terms;
    for (std::size_t j = 0; j < found->coefficient.size(); ++j)
      terms.push_back(found->coefficient[j].convert_to<double>() * x_[j]);
    return miss_of(terms, found->limit.convert_to<double>(), is_maximum);
  }

  /// As proofs name it: the second rule of a name is `NAME (2)`.
  [[nodiscard]] std::string name_of(const rules::Rule& rule) const {
    std::set<std::size_t> before;
    for (const auto& other : rules_)
      if (to_string(other.id) == to_string(rule.id) && other.index < rule.index)
        before.insert(other.index);
    return to_string(rule.id) +
           (before.empty() ? "" : " (" + std::to_string(before.size() + 1) + ")");
  }

  void check_choice(const rules::Achieved& achieved, const std::vector<double>& kg) const {
    int granules = 0;
    std::set<std::string> families;
    for (std::size_t i = 0; i < kg.size(); ++i) {
      if (kg[i] <= 0) continue;
      granules += scenario_.materials()[i].form_used() == Form::granule;
      families.insert(scenario_.materials()[i].family);
    }
    const bool bins = achieved.rule.id.kind == RuleKind::bins;
    const int both = static_cast<int>(families.count(achieved.rule.id.subject) +
                                      families.count(achieved.rule.id.object));
    CHECK(achieved.of == (bins ? granules : both));
    CHECK((achieved.shortfall() > 0) == (bins ? granules > *scenario_.bins() : both == 2));
  }

  const Scenario& scenario_;
  std::vector<rules::Rule> rules_;
  model::Model model_;
  std::vector<proof::ExactRow> exact_;
  checker::Rules verified_;
  std::vector<double> x_{};
};

}  // namespace

TEST_SUITE("measure") {
  TEST_CASE("every rule is the same in the measure, the model, proofs and their checker") {
    std::map<RuleKind, int> broken;
    for (std::uint64_t seed = 410'000; seed < 410'240; ++seed) {
      CAPTURE(seed);
      const Scenario scenario(rule_draft(seed));
      RuleComparison comparison(scenario);
      comparison.check_places();
      Random random(seed);
      for (int k = 0; k < 12; ++k) {
        const auto kg = drawn_amounts(scenario, random);
        if (std::ranges::any_of(kg, [](double amount) { return amount > 0; }))
          comparison.check(kg, broken);
      }
    }
    // A kind that the scenarios above never break is not checked by them.
    for (const RuleKind kind : kinds()) {
      // Proofs refuse minimum lots, so there is nothing to compare: `purchases` holds them to CBC.
      if (kind == RuleKind::minimum_lot) continue;
      CAPTURE(std::string(to_string(kind)));
      CHECK(broken[kind] > 0);
    }
  }
}
