#include "property/tiny_draft.hpp"

#include <algorithm>
#include <string>

#include "support/random.hpp"

namespace leastwise::support {
namespace {

/// low, low + step, ... up to high.
double in_steps(Random& random, double low, double high, double step) {
  return low + random.whole(0, static_cast<int>((high - low) / step)) * step;
}

void draw_materials(Random& random, ScenarioDraft& draft, int count) {
  for (int i = 0; i < count; ++i) {
    MaterialDraft material;
    material.name = std::string("good-") + static_cast<char>('a' + i);
    material.form = Form::granule;
    std::vector<Content> contents;
    if (random.chance(0.7)) contents.push_back({"N", in_steps(random, 10, 46, 1)});
    if (random.chance(0.5)) contents.push_back({"P2O5", in_steps(random, 5, 40, 1)});
    if (random.chance(0.3)) contents.push_back({"Zn", in_steps(random, 1, 30, 0.5)});
    if (i >= 2 && random.chance(0.25)) {
      material.form = Form::powder;
      contents = {{"Zn", in_steps(random, 30, 80, 1)}};
    } else if (random.chance(0.15)) {
      material.micronutrient_granule = true;
    }
    if (i == 0 && contents.empty()) contents.push_back({"N", 46});
    // Nitrogen without its form might be nitrate, which is kept from much.
    for (std::size_t c = 0, stated = contents.size(); c < stated; ++c)
      if (contents[c].name == "N") contents.push_back({"N-urea", contents[c].percent});
    material.contains_percent = contents;
    material.price_per_t = in_steps(random, 10, 200, 5);
    if (random.chance(0.2)) material.min_if_used_percent = in_steps(random, 2, 30, 1);
    if (random.chance(0.15)) material.share_percent = Limits{.max = in_steps(random, 30, 90, 5)};
    if (random.chance(0.1)) material.share_percent = Limits{.min = in_steps(random, 1, 20, 1)};
    draft.materials.push_back(material);
  }
}

bool contained(const ScenarioDraft& draft, const std::string& nutrient) {
  return std::any_of(draft.materials.begin(), draft.materials.end(), [&](const auto& material) {
    return std::any_of(material.contains_percent->begin(), material.contains_percent->end(),
                       [&](const Content& content) { return content.name == nutrient; });
  });
}

void draw_targets(Random& random, ScenarioDraft& draft) {
  const bool per_hectare = random.chance(0.5);
  auto& targets = per_hectare ? draft.rates_kg_per_ha : draft.grade_percent;
  const double size = per_hectare ? 2 : 1;
  for (const char* nutrient : {"N", "P2O5", "Zn"}) {
    if (!contained(draft, nutrient) || !(targets.empty() || random.chance(0.5))) continue;
    const double most = nutrient == std::string("Zn") ? 4 : 30;
    const double step = most / 20 * size;
    Limits limits{.min = random.whole(1, 14) * step};
    if (random.chance(0.3)) limits.max = limits.min + random.whole(0, 10) * step;
    targets.push_back({nutrient, limits});
  }
  if (targets.empty()) targets.push_back({"N", {.min = 0}});
  if (per_hectare && random.chance(0.6)) {
    draft.total_kg_per_ha = Limits{.max = in_steps(random, 40, 300, 10)};
    if (random.chance(0.3)) draft.total_kg_per_ha->min = draft.total_kg_per_ha->max / 2;
  }
  if (per_hectare && contained(draft, "P2O5") && random.chance(0.3))
    draft.grade_percent.push_back({"P2O5", {.min = in_steps(random, 1, 20, 1)}});
  if (contained(draft, "N") && contained(draft, "P2O5") && random.chance(0.3))
    draft.ratios.push_back({"N", "P2O5", {.min = in_steps(random, 0.1, 3, 0.1)}});
}

}  // namespace

ScenarioDraft tiny_draft(std::uint64_t seed) {
  Random random(seed * 7919 + 17);
  ScenarioDraft draft;
  draft.title = "tiny scenario " + std::to_string(seed);
  draft.currency = "USD";
  const int count = random.whole(2, 5);
  draw_materials(random, draft, count);
  draw_targets(random, draft);
  const auto name = [&](int i) { return draft.materials[static_cast<std::size_t>(i)].name; };
  if (count > 2 && random.chance(0.4)) {
    const int first = random.whole(0, count - 2);
    draft.incompatible.emplace_back(name(first), name(random.whole(first + 1, count - 1)));
  }
  if (random.chance(0.25)) draft.bins = random.whole(1, 2);
  if (random.chance(0.3)) draft.coating_percent = Limits{.max = random.whole(1, 10) * 1.0};
  if (random.chance(0.3)) draft.blending_fee_per_t = 20.0;
  return draft;
}

}  // namespace leastwise::support
