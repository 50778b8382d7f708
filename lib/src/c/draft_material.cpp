#include <algorithm>
#include <cmath>
#include <utility>

#include "c/draft_changes.hpp"

using leastwise::Content;
using leastwise::MaterialDraft;
using leastwise::ScenarioDraft;
using namespace leastwise::c;

namespace {

MaterialDraft* find_material(ScenarioDraft& draft, const std::string& name) {
  const auto found = std::ranges::find(draft.materials, name, &MaterialDraft::name);
  return found == draft.materials.end() ? nullptr : &*found;
}

MaterialDraft& material_of(ScenarioDraft& draft, const char* name) {
  MaterialDraft* found = find_material(draft, text_of(name, "material"));
  if (found == nullptr)
    throw CallerFault("the draft has no material '" + std::string(name) + "' yet");
  return *found;
}

/// `list` with the percentage of one name set.
std::vector<Content> with(std::optional<std::vector<Content>> list, std::string name,
                          double percent) {
  std::vector<Content> contents = std::move(list).value_or(std::vector<Content>{});
  const auto found = std::ranges::find(contents, name, &Content::name);
  if (found != contents.end())
    found->percent = percent;
  else
    contents.push_back({std::move(name), percent});
  return contents;
}

std::optional<double>& quantity_of(MaterialDraft& material, leastwise_quantity which) {
  switch (which) {
    case LEASTWISE_PRICE_PER_T:
      return material.price_per_t;
    case LEASTWISE_FREIGHT_PER_T:
      return material.freight_per_t;
    case LEASTWISE_MIN_IF_USED_PERCENT:
      return material.min_if_used_percent;
    case LEASTWISE_STOCK_KG:
      return material.stock_kg;
    case LEASTWISE_SGN:
      return material.sgn;
    case LEASTWISE_UI:
      return material.ui;
    case LEASTWISE_BULK_DENSITY_KG_PER_M3:
      return material.bulk_density_kg_per_m3;
  }
  throw CallerFault("a material has no such quantity");
}

leastwise::Form form_of(leastwise_form form) {
  switch (form) {
    case LEASTWISE_GRANULE:
      return leastwise::Form::granule;
    case LEASTWISE_POWDER:
      return leastwise::Form::powder;
    case LEASTWISE_CRYSTAL:
      return leastwise::Form::crystal;
    case LEASTWISE_FINES:
      return leastwise::Form::fines;
  }
  throw CallerFault("there is no such form");
}

}  // namespace

leastwise_result leastwise_draft_material(leastwise_draft* draft, const char* name,
                                          double price_per_t) {
  return changed(draft, [&](ScenarioDraft& value) {
    MaterialDraft material;
    material.name = text_of(name, "material");
    if (!std::isnan(price_per_t)) material.price_per_t = price_per_t;
    if (MaterialDraft* found = find_material(value, material.name))
      found->price_per_t = material.price_per_t;
    else
      value.materials.push_back(std::move(material));
  });
}

leastwise_result leastwise_draft_form(leastwise_draft* draft, const char* material,
                                      leastwise_form form) {
  return changed(draft,
                 [&](ScenarioDraft& value) { material_of(value, material).form = form_of(form); });
}

leastwise_result leastwise_draft_family(leastwise_draft* draft, const char* material,
                                        const char* family) {
  return changed(draft, [&](ScenarioDraft& value) {
    material_of(value, material).family = text_of(family, "family");
  });
}

leastwise_result leastwise_draft_contains(leastwise_draft* draft, const char* material,
                                          const char* nutrient, double percent) {
  return changed(draft, [&](ScenarioDraft& value) {
    auto& list = material_of(value, material).contains_percent;
    list = with(list, text_of(nutrient, "nutrient"), percent);
  });
}

leastwise_result leastwise_draft_spread(leastwise_draft* draft, const char* material,
                                        const char* nutrient, double points) {
  return changed(draft, [&](ScenarioDraft& value) {
    auto& list = material_of(value, material).spread_percent;
    list = with(list, text_of(nutrient, "nutrient"), points);
  });
}

leastwise_result leastwise_draft_formula(leastwise_draft* draft, const char* material,
                                         const char* formula, double purity_percent) {
  return changed(draft, [&](ScenarioDraft& value) {
    MaterialDraft& found = material_of(value, material);
    found.formula = text_of(formula, "formula");
    found.purity_percent = purity_percent;
  });
}

leastwise_result leastwise_draft_share(leastwise_draft* draft, const char* material,
                                       double min_percent, double max_percent) {
  return changed(draft, [&](ScenarioDraft& value) {
    auto& share = material_of(value, material).share_percent;
    share = limits_of(min_percent, max_percent);
    if (share == leastwise::Limits{}) share.reset();
  });
}

leastwise_result leastwise_draft_quantity(leastwise_draft* draft, const char* material,
                                          leastwise_quantity which, double value) {
  return changed(draft, [&](ScenarioDraft& whole) {
    auto& quantity = quantity_of(material_of(whole, material), which);
    quantity = value;
    if (which == LEASTWISE_PRICE_PER_T && std::isnan(value)) quantity.reset();
  });
}

leastwise_result leastwise_draft_ground(leastwise_draft* draft, const char* material, int ground) {
  return changed(draft,
                 [&](ScenarioDraft& value) { material_of(value, material).ground = ground != 0; });
}

leastwise_result leastwise_draft_micronutrient_granule(leastwise_draft* draft, const char* material,
                                                       int dedicated) {
  return changed(draft, [&](ScenarioDraft& value) {
    material_of(value, material).micronutrient_granule = dedicated != 0;
  });
}
