#include "support/hidden_blend.hpp"

#include <leastwise/compatibility.hpp>
#include <leastwise/nutrient.hpp>

#include <algorithm>
#include <numeric>
#include <utility>

namespace leastwise::support {
namespace {

using Pairs = std::vector<std::pair<std::string, std::string>>;

bool holds(const Pairs& pairs, const std::string& a, const std::string& b) {
  return std::any_of(pairs.begin(), pairs.end(), [&](const auto& pair) {
    return (pair.first == a && pair.second == b) || (pair.first == b && pair.second == a);
  });
}

bool fits(const ScenarioDraft& draft, const std::vector<Material>& goods,
          const std::vector<std::size_t>& chosen, std::size_t candidate) {
  return std::all_of(chosen.begin(), chosen.end(), [&](std::size_t other) {
    return may_lie_together(draft, goods[candidate].family, goods[other].family);
  });
}

}  // namespace

bool may_lie_together(const ScenarioDraft& draft, const std::string& family_a,
                      const std::string& family_b) {
  if (family_a == family_b || holds(draft.compatible, family_a, family_b)) return true;
  if (holds(draft.incompatible, family_a, family_b)) return false;
  const bool strict = draft.limited_compatibility == LimitedCompatibility::forbid;
  if (holds(draft.limited, family_a, family_b)) return !strict;
  const CompatibilityRule* rule = find_compatibility(family_a, family_b);
  if (rule == nullptr || rule->level == Compatibility::compatible) return true;
  return rule->level == Compatibility::limited && !strict;
}

double percent_in(const HiddenBlend& blend, const std::vector<Material>& goods,
                  std::string_view name, bool reached) {
  double percent = 0;
  for (std::size_t i = 0; i < goods.size(); ++i) {
    if (!blend.uses(i)) continue;
    const bool partly = reached && goods[i].micronutrient_granule && is_micronutrient(name);
    const double factor = !partly ? 1 : name == "B" ? blend.boron_factor : blend.factor;
    percent += content_percent(goods[i], name) / factor * blend.kg_per_t[i] / 1000;
  }
  return percent;
}

HiddenBlend draw_hidden_blend(Random& random, const ScenarioDraft& draft,
                              const std::vector<Material>& goods, double coating_percent,
                              double binder_share) {
  HiddenBlend blend{std::vector<double>(goods.size(), 0.0), binder_share};
  std::vector<std::size_t> order(goods.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  random.shuffle(order);
  std::vector<std::size_t> chosen;
  const int granules_wanted = random.whole(3, 6);
  int granules = 0;
  for (const std::size_t i : order) {
    if (goods[i].form_used() != Form::granule || granules == granules_wanted) continue;
    if (!fits(draft, goods, chosen, i)) continue;
    chosen.push_back(i);
    ++granules;
    blend.kg_per_t[i] = random.between(0.5, 4) * (goods[i].micronutrient_granule ? 0.1 : 1.0);
  }
  const double granule_weight = std::accumulate(blend.kg_per_t.begin(), blend.kg_per_t.end(), 0.0);
  double coating_left = granule_weight * coating_percent / 100 * random.between(0.2, 0.95);
  for (const std::size_t i : order) {
    if (goods[i].form_used() != Form::powder || !random.chance(0.5)) continue;
    if (!fits(draft, goods, chosen, i)) continue;
    chosen.push_back(i);
    const double product = coating_left * random.between(0.3, 0.8);
    blend.kg_per_t[i] = product / (1 + binder_share);
    coating_left -= product;
  }
  double total = 0;
  for (std::size_t i = 0; i < goods.size(); ++i)
    total += blend.kg_per_t[i] * (goods[i].form_used() == Form::powder ? 1 + binder_share : 1);
  for (double& kg : blend.kg_per_t) kg *= 1000 / total;
  return blend;
}

}  // namespace leastwise::support
