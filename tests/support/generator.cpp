#include "support/generator.hpp"

#include <leastwise/nutrient.hpp>

#include <algorithm>
#include <cmath>
#include <set>
#include <string>
#include <vector>

#include "support/chemistry.hpp"
#include "support/hidden_blend.hpp"
#include "support/naming.hpp"
#include "support/random.hpp"
#include "support/reading.hpp"
#include "support/rule_drawing.hpp"

namespace leastwise::support {
namespace {

bool is_fuel(const std::string& family) {
  return family == "elemental-sulfur" || family == "coated-urea";
}

bool is_oxidizer(const std::string& name) {
  const Family* family = find_family(name);
  return family != nullptr && family->oxidizer;
}

double to_price(double value) { return std::round(value * 2) / 2; }

/// How the chemistries are mixed: suppliers of bulk goods first, then the rest.
std::vector<const Chemistry*> draw_chemistries(Random& random, int count,
                                               const ScenarioKind& kind) {
  std::vector<const Chemistry*> bulk, micro, coating, out;
  for (const Chemistry& chemistry : chemistries()) {
    // An oxidizer is kept apart from much, whatever families are called: no place in a pure LP.
    if (!kind.either_or && (is_fuel(chemistry.family) || is_oxidizer(chemistry.family))) continue;
    const Form form = chemistry.ground ? Form::powder : chemistry.form;
    if (form == Form::powder)
      coating.push_back(&chemistry);
    else if (form != Form::granule)
      out.push_back(&chemistry);
    else
      (chemistry.micronutrient_granule ? micro : bulk).push_back(&chemistry);
  }
  std::vector<const Chemistry*> drawn;
  for (auto* list : {&bulk, &micro, &coating}) random.shuffle(*list);
  for (int i = 0; i < count; ++i) {
    const double lot = random.between(0, 1);
    if (lot < 0.72 || i < 5)
      drawn.push_back(bulk[static_cast<std::size_t>(i) % bulk.size()]);
    else if (lot < 0.84)
      drawn.push_back(random.one_of<const Chemistry*>(micro));
    else if (lot < 0.96 || !kind.frills)
      drawn.push_back(random.one_of<const Chemistry*>(coating));
    else
      drawn.push_back(random.one_of<const Chemistry*>(out));
  }
  return drawn;
}

/// One supplier's offer: its own price and, within a few percent, its own analysis.
MaterialDraft draw_offer(Random& random, const Chemistry& chemistry, int number, bool pure_lp) {
  MaterialDraft offer;
  offer.name = chemistry.name + "-" + std::to_string(number);
  offer.form = chemistry.form;
  offer.family = pure_lp ? "lone-" + offer.name : chemistry.family;
  if (!chemistry.formula.empty()) {
    offer.formula = chemistry.formula;
    offer.purity_percent = chemistry.purity_percent - std::round(random.between(0, 40)) / 10;
  } else {
    const double strength = 1 - random.between(0, 0.06) * random.whole(0, 1);
    std::vector<Content> contents = chemistry.contains_percent;
    for (Content& content : contents)
      content.percent = std::floor(content.percent * strength * 1000) / 1000;
    offer.contains_percent = contents;
  }
  if (chemistry.ground) offer.ground = true;
  if (chemistry.micronutrient_granule) offer.micronutrient_granule = true;
  offer.price_per_t = to_price(chemistry.price_per_t * random.between(0.75, 1.3));
  if (random.chance(0.4)) offer.freight_per_t = to_price(random.between(2, 45));
  if (random.chance(0.3)) offer.sgn = std::round(random.between(180, 340));
  return offer;
}

Material resolved(const MaterialDraft& offer) {
  Material good;
  good.name = offer.name;
  good.form = *offer.form;
  good.family = *offer.family;
  good.contains_percent = offer.formula ? contents_of_formula(*offer.formula, *offer.purity_percent)
                                        : *offer.contains_percent;
  good.ground = offer.ground.value_or(false);
  good.micronutrient_granule = offer.micronutrient_granule.value_or(false);
  return good;
}

bool any_oxidizer(const std::vector<Material>& goods) {
  return std::any_of(goods.begin(), goods.end(),
                     [](const Material& good) { return content_percent(good, "N-nitrate") > 0; });
}

void draw_blend_settings(Random& random, const std::vector<Material>& goods, ScenarioDraft& draft) {
  // An oxidizer never meets oil; an unnamed binder is not known to be harmless either.
  const bool oxidizer = any_oxidizer(goods);
  if (oxidizer || random.chance(0.6)) {
    BinderDraft binder;
    binder.material = oxidizer ? "silicate-solution" : "canola-oil";
    binder.organic = !oxidizer;
    if (random.chance(0.7)) binder.percent_of_powder = std::round(random.between(30, 45));
    if (random.chance(0.8)) binder.price_per_t = to_price(random.between(200, 1600));
    draft.binder = binder;
  }
  if (random.chance(0.5)) draft.coating_percent = Limits{.max = random.whole(4, 16) / 4.0};
  if (random.chance(0.4)) draft.granular_micronutrient_factor = random.whole(4, 8) / 2.0;
  if (random.chance(0.3)) draft.granular_micronutrient_factors = {{"B", 2}};
  if (random.chance(0.5)) draft.blending_fee_per_t = to_price(random.between(5, 40));
}

/// The scenario's own word on compatibility, on top of the built-in table.
void draw_compatibility(Random& random, const std::vector<Material>& goods, ScenarioDraft& draft) {
  if (random.chance(0.25)) draft.limited_compatibility = LimitedCompatibility::forbid;
  std::set<std::string> names;
  for (const Material& good : goods) names.insert(good.family);
  const std::vector<std::string> families(names.begin(), names.end());
  std::set<std::pair<std::string, std::string>> said;
  const int pairs = random.whole(0, 4);
  for (int k = 0; k < pairs; ++k) {
    std::string a = random.one_of<std::string>(families);
    std::string b = random.one_of<std::string>(families);
    if (a > b) std::swap(a, b);
    if (a == b || (is_fuel(a) && is_oxidizer(b)) || (is_fuel(b) && is_oxidizer(a))) continue;
    if (!said.insert({a, b}).second) continue;
    const CompatibilityRule* rule = find_compatibility(a, b);
    if (rule == nullptr || rule->level != Compatibility::incompatible)
      (random.chance(0.7) ? draft.incompatible : draft.limited).emplace_back(a, b);
    else if (random.chance(0.5))
      draft.compatible.emplace_back(a, b);
  }
}

void draw_frills(Random& random, ScenarioDraft& draft) {
  if (random.chance(0.1)) {
    const MaterialDraft& offer = random.one_of<MaterialDraft>(draft.materials);
    PriceDraft line{offer.name, to_price(*offer.price_per_t * random.between(0.8, 1.2))};
    if (random.chance(0.5)) line.freight_per_t = to_price(random.between(0, 30));
    draft.prices.push_back(line);
  }
  const bool bounded =
      draft.rates_kg_per_ha.empty() || (draft.total_kg_per_ha && draft.total_kg_per_ha->has_max());
  if (bounded && random.chance(0.1))
    random.chance(0.5) ? draft.materials[0].price_per_t = -to_price(random.between(1, 15))
                       : draft.materials[random.index(draft.materials.size())].price_per_t = 0.0;
}

}  // namespace

ScenarioDraft random_draft(std::uint64_t seed, const ScenarioKind& kind) {
  Random random(seed);
  ScenarioDraft draft;
  draft.title = "random scenario " + std::to_string(seed);
  draft.currency = "USD";
  const int count = kind.materials > 0 ? kind.materials : random.whole(12, 40);
  std::vector<Material> goods;
  int number = 0;
  for (const Chemistry* chemistry : draw_chemistries(random, count, kind)) {
    draft.materials.push_back(draw_offer(random, *chemistry, ++number, !kind.either_or));
    goods.push_back(resolved(draft.materials.back()));
  }
  draw_blend_settings(random, goods, draft);
  if (kind.either_or) draw_compatibility(random, goods, draft);
  const double coating_percent = draft.coating_percent ? draft.coating_percent->max : 2.0;
  const double binder_share = draft.binder && draft.binder->percent_of_powder
                                  ? *draft.binder->percent_of_powder / 100
                                  : 0.375;
  HiddenBlend hidden = draw_hidden_blend(random, draft, goods, coating_percent, binder_share);
  hidden.factor = draft.granular_micronutrient_factor.value_or(unstated_factor("Zn"));
  hidden.boron_factor = draft.granular_micronutrient_factors.empty()
                            ? draft.granular_micronutrient_factor.value_or(unstated_factor("B"))
                            : 2;
  RuleDrawing{random, goods, hidden, kind, draft}.draw();
  if (kind.frills) draw_frills(random, draft);
  draw_names(seed, draft);
  return draft;
}

Scenario random_scenario(std::uint64_t seed, const ScenarioKind& kind) {
  return Scenario(random_draft(seed, kind));
}

}  // namespace leastwise::support
