#include "support/naming.hpp"

#include <leastwise/compatibility.hpp>
#include <leastwise/material.hpp>

#include <algorithm>
#include <array>
#include <set>
#include <string>
#include <vector>

#include "support/random.hpp"

namespace leastwise::support {
namespace {

// No word of a chemical is among them: a name tells what a material is.
constexpr std::array<const char*, 20> endings{
    " / east", ":N",     " per tonne",  " \"gross\"",  " 'b'",
    " min",    " max",   " exactly",    " (2)",        " 46-0-0",
    " = 5",    " 3,5 %", " with boron", " (oxidizer)", " limited compatibility",
    " bins",   "; bulk", " toxic",      ": caution",   " either left out"};
constexpr std::array<const char*, 6> beginnings{"share ", "without ", "min if used ",
                                                "total ", "apart ",   "rate N "};

std::string disguised(Random& random, const std::string& name) {
  if (random.chance(0.3)) return beginnings[random.index(beginnings.size())] + name;
  return name + endings[random.index(endings.size())];
}

void rename_material(ScenarioDraft& draft, MaterialDraft& material, const std::string& name) {
  for (PriceDraft& line : draft.prices)
    if (line.material == material.name) line.material = name;
  if (draft.use) std::ranges::replace(*draft.use, material.name, name);
  if (!material.family) material.family = material.name;
  material.name = name;
}

bool feeds_a_fire(const ScenarioDraft& draft, const std::string& name) {
  const Family* family = find_family(name);
  if ((family != nullptr && family->oxidizer) || name.find("nitrate") != std::string::npos)
    return true;
  return std::ranges::any_of(draft.materials, [&](const MaterialDraft& material) {
    return material.family == name && material.contains_percent &&
           std::ranges::count(*material.contains_percent, "N-nitrate", &Content::name) > 0;
  });
}

/// Beside an oxidizer a family that no table knows is an error; fuels are told by their families.
bool may_be_renamed(const std::string& name, bool beside_oxidizer) {
  constexpr std::array<const char*, 4> fuels{"chelates", "coated-urea", "elemental-sulfur",
                                             "organic-matter"};
  return !beside_oxidizer && std::ranges::count(fuels, name) == 0;
}

void rename_family(ScenarioDraft& draft, const std::string& old_name, const std::string& name) {
  for (MaterialDraft& material : draft.materials)
    if (material.family == old_name) material.family = name;
  for (auto* pairs : {&draft.incompatible, &draft.limited})
    for (auto& [a, b] : *pairs) {
      if (a == old_name) a = name;
      if (b == old_name) b = name;
    }
  // No built-in rule is left that could be lifted.
  std::erase_if(draft.compatible, [&](const auto& pair) {
    return pair.first == old_name || pair.second == old_name;
  });
}

void rename_property(ScenarioDraft& draft, const std::string& old_name, const std::string& name) {
  for (MaterialDraft& material : draft.materials)
    if (material.contains_percent)
      for (Content& content : *material.contains_percent)
        if (content.name == old_name) content.name = name;
  for (auto* targets : {&draft.rates_kg_per_ha, &draft.grade_percent})
    for (TargetDraft& target : *targets)
      if (target.nutrient == old_name) target.nutrient = name;
  for (RatioDraft& ratio : draft.ratios) {
    if (ratio.of == old_name) ratio.of = name;
    if (ratio.to == old_name) ratio.to = name;
  }
}

}  // namespace

void draw_names(std::uint64_t seed, ScenarioDraft& draft) {
  Random random(seed ^ 0x6E616D65U);
  for (MaterialDraft& material : draft.materials)
    if (random.chance(0.25)) rename_material(draft, material, disguised(random, material.name));
  std::set<std::string> families;
  for (const MaterialDraft& material : draft.materials)
    if (material.family) families.insert(*material.family);
  const bool beside_oxidizer = std::ranges::any_of(
      families, [&](const std::string& family) { return feeds_a_fire(draft, family); });
  for (const std::string& family : families)
    if (random.chance(0.15) && may_be_renamed(family, beside_oxidizer))
      rename_family(draft, family, disguised(random, family));
  for (const char* property : {"biuret", "Cd"})
    if (random.chance(0.3)) rename_property(draft, property, disguised(random, property));
  if (random.chance(0.3)) draft.currency = random.chance(0.5) ? "cents per dollar" : "N / \"K\"";
}

}  // namespace leastwise::support
