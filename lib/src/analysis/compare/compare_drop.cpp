#include <leastwise/rule_id.hpp>

#include <algorithm>
#include <utility>

#include "analysis/compare/compare_variants.hpp"

namespace leastwise::analysis {
namespace {

/// Lists what can be taken out of a draft.
class DraftRules {
 public:
  explicit DraftRules(ScenarioDraft& draft) : draft_(draft) {}

  std::vector<DraftRule> list() && {
    targets(draft_.rates_kg_per_ha, RuleKind::rate, "rates_kg_per_ha");
    targets(draft_.grade_percent, RuleKind::grade, "grade_percent");
    ratios();
    if (draft_.total_kg_per_ha)
      sides(*draft_.total_kg_per_ha, {.kind = RuleKind::total}, "blend.total_kg_per_ha",
            [this] { draft_.total_kg_per_ha.reset(); });
    add({.kind = RuleKind::coating, .side = RuleSide::max}, "blend.coating_percent",
        [this] { draft_.coating_percent = Limits{.max = 100}; });
    if (draft_.bins) add({.kind = RuleKind::bins}, "blend.bins", [this] { draft_.bins.reset(); });
    for (auto& material : draft_.materials) of_material(material);
    return std::move(rules_);
  }

 private:
  void add(RuleId id, std::string path, std::function<void()> drop) {
    rules_.push_back({std::move(id), std::move(path), std::move(drop)});
  }

  /// The sides of `limits`; `drop_all` when none is left.
  template <class DropAll>
  void sides(Limits& limits, RuleId id, const std::string& path, DropAll drop_all) {
    const auto side = [&](RuleSide which, Limits left) {
      id.side = which;
      add(id, path, [&limits, left, drop_all] {
        limits = left;
        if (limits == Limits{}) drop_all();
      });
    };
    if (limits.exact()) return side(RuleSide::exactly, {});
    if (limits.has_min()) side(RuleSide::min, {.max = limits.max});
    if (limits.has_max()) side(RuleSide::max, {.min = limits.min});
  }

  void targets(std::vector<TargetDraft>& targets, RuleKind kind, const std::string& list) {
    for (std::size_t k = 0; k < targets.size(); ++k)
      sides(targets[k].limits, {kind, targets[k].nutrient, {}, {}},
            below(list, targets[k].nutrient),
            [&targets, k] { targets.erase(targets.begin() + static_cast<std::ptrdiff_t>(k)); });
  }

  void ratios() {
    auto& ratios = draft_.ratios;
    for (std::size_t k = 0; k < ratios.size(); ++k)
      sides(ratios[k].limits, {RuleKind::ratio, ratios[k].of, ratios[k].to, {}},
            below("ratios", std::to_string(k)),
            [&ratios, k] { ratios.erase(ratios.begin() + static_cast<std::ptrdiff_t>(k)); });
  }

  void of_material(MaterialDraft& material) {
    const std::string path = below("materials", material.name);
    if (material.share_percent)
      sides(*material.share_percent, {RuleKind::share, material.name, {}, {}},
            below(path, "share_percent"), [&material] { material.share_percent.reset(); });
    if (material.stock_kg)
      add({RuleKind::stock, material.name, {}, {}}, below(path, "stock_kg"),
          [&material] { material.stock_kg.reset(); });
    if (material.min_if_used_percent)
      add({RuleKind::minimum_if_used, material.name, {}, {}}, below(path, "min_if_used_percent"),
          [&material] { material.min_if_used_percent.reset(); });
    if (material.minimum_lot_t)
      add({RuleKind::minimum_lot, material.name, {}, {}}, below(path, "minimum_lot_t"),
          [&material] { material.minimum_lot_t.reset(); });
  }

  ScenarioDraft& draft_;
  std::vector<DraftRule> rules_{};
};

}  // namespace

std::vector<DraftRule> rules_to_drop(ScenarioDraft& draft) { return DraftRules(draft).list(); }

}  // namespace leastwise::analysis
