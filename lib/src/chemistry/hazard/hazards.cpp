#include "chemistry/hazard/hazards.hpp"

#include <leastwise/catalogue.hpp>
#include <leastwise/compatibility.hpp>
#include <leastwise/nutrient.hpp>

#include <algorithm>
#include <array>
#include <map>
#include <tuple>
#include <utility>

#include "chemistry/hazard/binder_nature.hpp"
#include "chemistry/hazard/content_hazards.hpp"
#include "chemistry/hazard/folded_name.hpp"
#include "chemistry/hazard/formula_hazards.hpp"
#include "chemistry/hazard/hazard_table.hpp"
#include "chemistry/hazard/name_hazards.hpp"
#include "chemistry/materials/binders.hpp"

namespace leastwise {
namespace {

using KindSpelling = std::pair<HazardClass, std::string_view>;

constexpr std::array<KindSpelling, 11> kind_spellings{{
    {HazardClass::refused, "refused"},
    {HazardClass::oxidizer, "oxidizer"},
    {HazardClass::fuel, "fuel"},
    {HazardClass::reducer, "reducer"},
    {HazardClass::ammonium, "ammonium"},
    {HazardClass::urea, "urea"},
    {HazardClass::alkaline, "alkaline"},
    {HazardClass::acid, "acid"},
    {HazardClass::copper, "copper"},
    {HazardClass::hydrated_salt, "hydrated-salt"},
    {HazardClass::toxic_element, "toxic-element"},
}};

/// The material of the catalogue with that name, whatever its spelling; or null.
const Material* namesake(std::string_view name) {
  using ByKey = std::map<std::string, const Material*, std::less<>>;
  static const ByKey by_key = [] {
    ByKey keys;
    for (const auto& material : built_in_materials()) {
      keys.emplace(folded_key(material.name), &material);
    }
    return keys;
  }();
  const auto found = by_key.find(folded_key(name));
  return found == by_key.end() ? nullptr : found->second;
}

void add_rows_of_family(const std::string& family, Evidence evidence, const std::string& how,
                        Nature& nature) {
  for (const auto* row : rows_of_family(family)) {
    if (!row->has_hazard) continue;
    nature.hazards.push_back(
        {row->kind, evidence, how + ", and " + row->reason, row->source, row->detail});
  }
}

void add_binder_hazards(const Material& material, Nature& nature) {
  const BinderKind* binder = binder_called(material.name);
  if (binder == nullptr) return;
  nature.known = true;
  if (binder->nature != BinderNature::organic) return;
  nature.hazards.push_back({HazardClass::fuel, Evidence::catalogue,
                            "the table of binders knows it as organic", binder->source});
}

bool any_family_has(const Nature& nature, HazardClass kind) {
  return std::any_of(nature.families.begin(), nature.families.end(),
                     [kind](const std::string& family) { return family_has(family, kind); });
}

/// Families for the hazards that no family shows yet, so that the table speaks of them too.
void add_families_of_hazards(const Material& material, Nature& nature) {
  const auto lacks = [&](HazardClass kind) {
    return nature.has(kind) && !any_family_has(nature, kind);
  };
  const bool can_be_nitrate_or_urea =
      nature.has(HazardClass::urea) && nature.find(HazardClass::urea)->doubt;
  if (lacks(HazardClass::oxidizer)) {
    const auto holds = [&](std::string_view name, double percent) {
      return content_percent(material, name) >= percent;
    };
    const bool ammonium = nature.has(HazardClass::ammonium);
    add_family(ammonium           ? "ammonium-nitrate"
               : holds("K2O", 30) ? "potassium-nitrate"
               : holds("Na", 18)  ? "sodium-nitrate"
               : holds("Ca", 12)  ? "calcium-nitrate"
                                  : "ammonium-nitrate",
               nature);
  }
  if (lacks(HazardClass::urea) && !can_be_nitrate_or_urea) add_family("urea", nature);
  if (lacks(HazardClass::copper)) add_family("copper-compounds", nature);
  if (lacks(HazardClass::alkaline)) add_family("lime", nature);
}

/// Whether the contents are those of goods of the family: each nutrient that some material of the
/// catalogue holds plenty of, the material holds half of at least.
bool is_borne_out(const Material& material) {
  constexpr double plenty_percent = 5;
  return std::ranges::any_of(built_in_materials(), [&](const Material& known) {
    if (known.family != material.family) return false;
    bool any = false;
    for (const auto& content : known.contains_percent) {
      if (content.percent < plenty_percent || kind_of(content.name) == NameKind::form) continue;
      any = true;
      if (content_percent(material, content.name) < content.percent / 2) return false;
    }
    return any;
  });
}

/// One hazard for each class, and for each toxic element; the strongest evidence stays.
void sort_hazards(std::vector<Hazard>& hazards) {
  const auto key = [](const Hazard& hazard) { return std::pair(hazard.kind, hazard.detail); };
  std::ranges::stable_sort(hazards, [&](const Hazard& a, const Hazard& b) {
    return std::tuple(a.kind, a.detail, a.evidence) < std::tuple(b.kind, b.detail, b.evidence);
  });
  // A subrange, as std::ranges::unique gives, is beyond clang 14 with this standard library.
  hazards.erase(std::unique(hazards.begin(), hazards.end(),
                            [&](const Hazard& a, const Hazard& b) { return key(a) == key(b); }),
                hazards.end());
}

}  // namespace

std::string_view to_string(HazardClass kind) {
  const auto* const found = std::ranges::find(kind_spellings, kind, &KindSpelling::first);
  return found == kind_spellings.end() ? std::string_view() : found->second;
}

std::optional<HazardClass> hazard_class(std::string_view spelling) {
  const auto* const found = std::ranges::find(kind_spellings, spelling, &KindSpelling::second);
  if (found == kind_spellings.end()) return std::nullopt;
  return found->first;
}

std::string_view in_words(HazardClass kind) {
  switch (kind) {
    case HazardClass::refused:
      return "no fertilizer";
    case HazardClass::oxidizer:
      return "an oxidizer";
    case HazardClass::fuel:
      return "a fuel";
    case HazardClass::reducer:
      return "a reducer";
    case HazardClass::ammonium:
      return "an ammonium salt";
    case HazardClass::urea:
      return "urea";
    case HazardClass::alkaline:
      return "alkaline";
    case HazardClass::acid:
      return "a strong acid";
    case HazardClass::copper:
      return "a copper compound";
    case HazardClass::hydrated_salt:
      return "a salt with crystal water";
    case HazardClass::toxic_element:
      break;
  }
  return "toxic";
}

const Hazard* Nature::find(HazardClass kind) const {
  const auto found = std::ranges::find(hazards, kind, &Hazard::kind);
  return found == hazards.end() ? nullptr : &*found;
}

bool family_has(std::string_view family, HazardClass kind) {
  const auto rows = rows_of_family(family);
  return std::any_of(rows.begin(), rows.end(),
                     [kind](const HazardRow* row) { return row->has_hazard && row->kind == kind; });
}

std::string clear_family(const Material& material) {
  const Material* known = namesake(material.name);
  if (known != nullptr) return known->family;
  return material.formula.empty() ? std::string() : family_of_formula(material.formula);
}

Nature nature_of(const Material& material) {
  Nature nature;
  const bool listed = find_family(material.family) != nullptr;
  const Material* known = namesake(material.name);
  nature.known = listed || known != nullptr;
  add_family(material.family, nature);
  if (!material.formula.empty()) {
    add_family(family_of_formula(material.formula), nature);
    add_formula_hazards(material.formula, nature);
  }
  if (known != nullptr) {
    add_family(known->family, nature);
    add_rows_of_family(known->family, Evidence::catalogue,
                       "the catalogue knows it as of family " + known->family, nature);
  }
  add_binder_hazards(material, nature);
  add_name_hazards(material, material.name, "name", nature);
  if (listed) {
    add_rows_of_family(material.family, Evidence::family, "it is of family " + material.family,
                       nature);
  } else if (material.family != material.name) {
    add_name_hazards(material, material.family, "family", nature);
  }
  add_content_hazards(material, nature);
  nature.only_stated = listed && known == nullptr && material.formula.empty() &&
                       binder_called(material.name) == nullptr && nature.hazards.empty() &&
                       !is_called_mineral(folded_name(material.name)) && !is_borne_out(material);
  add_families_of_hazards(material, nature);
  nature.known = nature.known || nature.has(HazardClass::oxidizer) ||
                 nature.has(HazardClass::fuel) || nature.has(HazardClass::urea);
  sort_hazards(nature.hazards);
  return nature;
}

std::vector<Hazard> hazards_of(const Material& material) { return nature_of(material).hazards; }

}  // namespace leastwise
