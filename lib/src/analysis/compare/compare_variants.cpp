#include "analysis/compare/compare_variants.hpp"

#include <leastwise/compare.hpp>

#include <algorithm>
#include <utility>

#include "base/codes.hpp"
#include "base/suggest.hpp"
#include "base/text/wording.hpp"
#include "scenario/supply_notes.hpp"
#include "scenario/values_read.hpp"

namespace leastwise {
namespace analysis {
namespace {

/// Applies one variant to a copy of a draft.
class Variation {
 public:
  Variation(const Scenario& scenario, const VariantDraft& variant, DiagnosticSink& diagnostics)
      : scenario_(scenario),
        variant_(variant),
        diagnostics_(diagnostics),
        path_(variant.name.empty() ? "change" : below("variants", variant.name)),
        draft_(scenario.draft()) {}

  ScenarioDraft run() {
    draft_.variants.clear();
    draft_.of_variant = true;
    if (!variant_.name.empty()) draft_.title += (draft_.title.empty() ? "" : ": ") + variant_.name;
    if (variant_.use) {
      draft_.use = variant_.use;
      move_places("use");
    }
    prices();
    targets(draft_.rates_kg_per_ha, variant_.rates_kg_per_ha, "rates_kg_per_ha");
    targets(draft_.grade_percent, variant_.grade_percent, "grade_percent");
    ratios();
    blend();
    sources();
    for (std::size_t i = 0; i < variant_.without.size(); ++i)
      leave_out(variant_.without[i], below(below(path_, "without"), std::to_string(i)));
    for (std::size_t i = 0; i < variant_.drop.size(); ++i) drop(i);
    // The places are those of the variant now; one that no file states has none to give.
    if (scenario_.draft().places.contains(path_)) remember_values(draft_);
    return std::move(draft_);
  }

 private:
  /// What stands at `variants.NAME.KEY...` is from now on the place of `KEY...`.
  void move_places(const std::string& key) { move_places(key, key); }
  void move_places(const std::string& from, const std::string& to) {
    const std::string source = below(path_, from);
    for (const auto& [path, place] : scenario_.draft().places) {
      if (path != source && path.rfind(source + ".", 0) != 0) continue;
      draft_.places.insert_or_assign(to + path.substr(source.size()), place);
    }
  }

  [[nodiscard]] bool known(const std::string& material, const std::string& path) {
    if (scenario_.index_of(material) ||
        (variant_.use &&
         std::find(variant_.use->begin(), variant_.use->end(), material) != variant_.use->end()))
      return true;
    Suggestion suggestion(material);
    for (const auto& m : scenario_.materials()) suggestion.offer(m.name);
    diagnostics_.error(codes::unknown_material, path,
                       "a variant must name materials of its scenario, found " +
                           in_quotes(material) + suggestion.question());
    return false;
  }

  void prices() {
    for (const auto& price : variant_.prices) {
      const std::string path = below(below(path_, "prices"), price.material);
      if (!known(price.material, path)) continue;
      const auto listed =
          std::find_if(draft_.prices.begin(), draft_.prices.end(),
                       [&](const PriceDraft& p) { return p.material == price.material; });
      if (listed == draft_.prices.end()) {
        draft_.prices.push_back(price);
      } else {
        listed->price_per_t = price.price_per_t;
        listed->price_tiers = price.price_tiers;
        listed->path = price.path;
      }
    }
  }

  void targets(std::vector<TargetDraft>& list, const std::vector<TargetDraft>& own,
               const std::string& key) {
    for (const auto& target : own) {
      const auto same = std::find_if(list.begin(), list.end(), [&](const TargetDraft& t) {
        return t.nutrient == target.nutrient;
      });
      if (same == list.end())
        list.push_back(target);
      else
        *same = target;
      move_places(below(key, target.nutrient));
    }
  }

  void ratios() {
    for (std::size_t i = 0; i < variant_.ratios.size(); ++i) {
      const auto& ratio = variant_.ratios[i];
      auto same =
          std::find_if(draft_.ratios.begin(), draft_.ratios.end(),
                       [&](const RatioDraft& r) { return r.of == ratio.of && r.to == ratio.to; });
      if (same == draft_.ratios.end())
        same = draft_.ratios.insert(draft_.ratios.end(), ratio);
      else
        same->limits = ratio.limits;
      move_places(below("ratios", std::to_string(i)),
                  below("ratios", std::to_string(same - draft_.ratios.begin())));
    }
  }

  void blend() {
    const auto take = [](auto& to, const auto& from) {
      if (from) to = *from;
    };
    take(draft_.total_kg_per_ha, variant_.total_kg_per_ha);
    take(draft_.bins, variant_.bins);
    take(draft_.coating_percent, variant_.coating_percent);
    take(draft_.binder, variant_.binder);
    take(draft_.granular_micronutrient_factor, variant_.granular_micronutrient_factor);
    take(draft_.sgn, variant_.sgn);
    take(draft_.dry_up_to_humidity_percent, variant_.dry_up_to_humidity_percent);
    take(draft_.blending_fee_per_t, variant_.blending_fee_per_t);
    take(draft_.limited_compatibility, variant_.limited_compatibility);
    for (const auto& factor : variant_.granular_micronutrient_factors) {
      auto& list = draft_.granular_micronutrient_factors;
      const auto same = std::find_if(list.begin(), list.end(),
                                     [&](const auto& f) { return f.first == factor.first; });
      if (same == list.end())
        list.push_back(factor);
      else
        same->second = factor.second;
    }
    for (const auto& element : variant_.confirm_high_rate)
      if (!confirms_high_rate(draft_, element)) draft_.confirm_high_rate.push_back(element);
    move_places("blend");
  }

  void sources() {
    for (const auto& [nutrient, material] : variant_.only_source_of) {
      const std::string path = below(below(path_, "only_source_of"), nutrient);
      if (!known(material, path)) continue;
      const auto candidates = sources_of(scenario_, nutrient);
      if (std::find(candidates.begin(), candidates.end(), material) == candidates.end()) {
        diagnostics_.error(codes::unknown_nutrient, path,
                           "a source of " + in_quotes(nutrient) +
                               " must hold at least 1 % of it and be able to enter, found " +
                               in_quotes(material));
        continue;
      }
      for (const auto& other : candidates)
        if (other != material) leave_out(other, path);
    }
  }

  void leave_out(const std::string& material, const std::string& path) {
    if (!known(material, path)) return;
    auto own = std::find_if(draft_.materials.begin(), draft_.materials.end(),
                            [&](const MaterialDraft& m) { return m.name == material; });
    if (own == draft_.materials.end()) {
      own = draft_.materials.insert(draft_.materials.end(), MaterialDraft{});
      own->name = material;
    }
    own->left_out = true;
    if (const Place place = scenario_.place_of(path))
      draft_.places.insert_or_assign(below(below("materials", material), "left_out"), place);
  }

  void drop(std::size_t i) {
    const std::string& name = variant_.drop[i];
    const std::string path = below(below(path_, "drop"), std::to_string(i));
    const auto rules = rules_to_drop(draft_);
    std::vector<const DraftRule*> meant;
    for (const auto& rule : rules)
      if (to_string(rule.id) == name) meant.push_back(&rule);
    if (meant.size() == 1) return meant.front()->drop();
    if (meant.empty()) return complain_of_unknown(name, path, rules);
    diagnostics_.error(codes::ambiguous_rule, path,
                       "expected the name of one rule of the scenario, found " + in_quotes(name) +
                           ", which is the name of " + std::to_string(meant.size()) +
                           "; state other limits in the variant instead");
    for (const auto* rule : meant)
      diagnostics_.also(rule->path, "one of them: " + spelt_out(rule->id));
  }

  void complain_of_unknown(const std::string& name, const std::string& path,
                           const std::vector<DraftRule>& rules) {
    Suggestion suggestion(name);
    for (const auto& rule : rules) suggestion.offer(to_string(rule.id));
    diagnostics_.error(codes::unknown_rule, path,
                       "expected the name of a rule of the scenario as reports give it, such as " +
                           to_string(rules.front().id) + ", found " + in_quotes(name) +
                           suggestion.question());
  }

  /// With the names of the scenario in quotes, so that a colon or a word in them misleads nobody.
  [[nodiscard]] static std::string spelt_out(const RuleId& id) {
    std::string text(to_string(id.kind));
    if (!id.subject.empty()) text += " of " + in_quotes(id.subject);
    if (!id.object.empty()) text += " to " + in_quotes(id.object);
    if (id.side != RuleSide::none) text += ", " + std::string(to_string(id.side));
    return text;
  }

  const Scenario& scenario_;
  const VariantDraft& variant_;
  DiagnosticSink& diagnostics_;
  std::string path_;
  ScenarioDraft draft_;
};

}  // namespace

std::vector<std::string> sources_of(const Scenario& scenario, std::string_view nutrient) {
  std::vector<std::string> names;
  for (const auto& material : scenario.materials())
    if (material.can_enter() && content_percent(material, nutrient) >= source_percent)
      names.push_back(material.name);
  return names;
}

ScenarioDraft varied_draft(const Scenario& scenario, const VariantDraft& variant,
                           DiagnosticSink& diagnostics) {
  return Variation(scenario, variant, diagnostics).run();
}

}  // namespace analysis

namespace {

constexpr std::string_view as_written = "as written";

}  // namespace

Scenario varied(const Scenario& scenario, const VariantDraft& variant) {
  DiagnosticSink diagnostics(scenario.draft(), {});
  auto draft = analysis::varied_draft(scenario, variant, diagnostics);
  if (!diagnostics.empty()) throw InputError(diagnostics.take());
  return Scenario(draft);
}

std::vector<NamedScenario> with_variants(const Scenario& scenario) {
  std::vector<NamedScenario> list{{std::string(as_written), scenario}};
  std::vector<Diagnostic> wrong;
  for (const auto& variant : scenario.draft().variants) {
    try {
      list.push_back({variant.name, varied(scenario, variant)});
      if (variant.name == as_written) list.back().name += " (variant)";
    } catch (const InputError& error) {
      wrong.insert(wrong.end(), error.diagnostics().begin(), error.diagnostics().end());
    }
  }
  if (!wrong.empty()) throw InputError(std::move(wrong));
  return list;
}

}  // namespace leastwise
