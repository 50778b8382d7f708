#include "scenario/material_fields.hpp"

#include <leastwise/catalogue.hpp>

#include <algorithm>
#include <optional>
#include <set>
#include <utility>

#include "base/codes.hpp"
#include "base/suggest.hpp"
#include "base/text/wording.hpp"
#include "chemistry/hazard/hazards.hpp"
#include "chemistry/nutrients/synonyms.hpp"
#include "scenario/contents.hpp"

namespace leastwise {
namespace {

constexpr Range spread_range{0, 100, false, "percentage points"};
constexpr Range purity_range{0, 100, true, "percent"};
constexpr Range ui_range{0, 100, false, ""};
constexpr Range bulk_density_range{
    0, 10000, true, "kg per cubic metre", Measure::density, "lb per cubic foot"};

void check_share(const MaterialDraft& draft, const std::string& path, const std::string& owner,
                 Checks& checks, DiagnosticSink& diagnostics) {
  const std::string share_path = below(path, "share_percent");
  const bool share_is_good =
      draft.share_percent &&
      checks.limits(share_path, "the share" + owner, *draft.share_percent, percent_range);
  if (!draft.min_if_used_percent) return;
  const double least = *draft.min_if_used_percent;
  const std::string least_path = below(path, "min_if_used_percent");
  if (!checks.number(least_path, "the minimum if used" + owner, least, percent_range)) return;
  if (!share_is_good || least <= draft.share_percent->max) return;
  diagnostics.error(codes::min_over_max, least_path,
                    "the minimum if used" + owner + " must not be over the maximum of its share, " +
                        number_text(draft.share_percent->max) + " percent, found " +
                        number_text(least));
}

void check_spread(const MaterialDraft& draft, const std::string& path, const std::string& owner,
                  Checks& checks, DiagnosticSink& diagnostics) {
  if (!draft.spread_percent) return;
  const std::string list = below(path, "spread_percent");
  std::set<std::string_view> seen;
  for (const auto& spread : *draft.spread_percent) {
    const std::string place = below(list, spread.name);
    checks.number(place, "the spread of " + in_quotes(spread.name) + owner, spread.percent,
                  spread_range);
    if (!seen.insert(spread.name).second)
      diagnostics.error(codes::duplicate_name, place,
                        "the spread of " + in_quotes(spread.name) + owner + " is stated twice");
  }
}

std::vector<Content> contents_from_formula(const MaterialDraft& draft, const std::string& path,
                                           DiagnosticSink& diagnostics) {
  try {
    return contents_of_formula(*draft.formula, draft.purity_percent.value_or(100));
  } catch (const FormulaError& error) {
    const std::string_view formula = *draft.formula;
    const std::size_t offset = std::min(error.offset(), formula.size());
    diagnostics.error_inside(
        codes::bad_formula, below(path, "formula"),
        "the formula of material " + in_quotes(draft.name) + " cannot be read: " + error.what(),
        code_points(formula.substr(0, offset)), 1);
    return {};
  }
}

}  // namespace

void check_material_fields(const MaterialDraft& draft, const std::string& path, Checks& checks,
                           DiagnosticSink& diagnostics) {
  const std::string owner = " of material " + in_quotes(draft.name);
  const auto check = [&](std::string_view key, const std::string& what,
                         const std::optional<double>& value, const Range& range) {
    if (value) checks.number(below(path, key), what + owner, *value, range);
  };
  check("price_per_t", "the price", draft.price_per_t, price_range);
  check("freight_per_t", "the freight", draft.freight_per_t, charge_range);
  check("purity_percent", "the purity", draft.purity_percent, purity_range);
  check("stock_kg", "the stock", draft.stock_kg, stock_range);
  check("sgn", "the size guide number", draft.sgn, sgn_range);
  check("ui", "the uniformity index", draft.ui, ui_range);
  check("bulk_density_kg_per_m3", "the bulk density", draft.bulk_density_kg_per_m3,
        bulk_density_range);
  check_share(draft, path, owner, checks, diagnostics);
  check_spread(draft, path, owner, checks, diagnostics);
  if (draft.family) checks.name(below(path, "family"), "the family" + owner, *draft.family);
  if (draft.contains_percent && draft.formula) {
    diagnostics.error(codes::contents_and_formula, below(path, "formula"),
                      "the contents" + owner +
                          " must come from contains_percent or from formula, found both; keep one");
  }
  if (draft.purity_percent && !draft.formula && !diagnostics.touched(below(path, "formula"))) {
    diagnostics.error(codes::purity_without_formula, below(path, "purity_percent"),
                      "purity_percent" + owner +
                          " needs a formula to apply to, found none; contains_percent already "
                          "states the goods as they are");
  }
}

Suggestion meant_material(std::string_view name) {
  Suggestion suggestion(name);
  for (const auto& material : built_in_materials()) suggestion.offer(material.name);
  if (const auto meant = meaning_of(SynonymOf::material, name)) suggestion.settle(*meant);
  return suggestion;
}

void check_material_is_complete(const MaterialDraft& draft, const std::string& path,
                                bool states_contents, DiagnosticSink& diagnostics) {
  if (!states_contents) {
    const Suggestion suggestion = meant_material(draft.name);
    diagnostics.error(codes::missing_contents, below(path, "contains_percent"),
                      "material " + in_quotes(draft.name) +
                          " must state contains_percent or formula, found neither, and no built-in "
                          "material has that name" +
                          suggestion.question());
    return;
  }
  if (draft.form) return;
  diagnostics.error(codes::missing_key, below(path, "form"),
                    "material " + in_quotes(draft.name) +
                        " states its own contents and must state its form too; add form: granule, "
                        "powder, crystal or fines");
}

std::vector<Content> material_contents(const MaterialDraft& draft, const std::string& path,
                                       Checks& checks, DiagnosticSink& diagnostics) {
  if (draft.contains_percent) {
    check_contents(*draft.contains_percent, below(path, "contains_percent"), draft.name, checks,
                   diagnostics);
    return *draft.contains_percent;
  }
  if (!draft.formula) return {};
  const double purity = draft.purity_percent.value_or(100);
  if (!(purity > 0 && purity <= 100)) return {};
  return contents_from_formula(draft, path, diagnostics);
}

void leave_out(Material& material) {
  material.left_out = true;
  material.min_if_used_percent = 0;
  if (material.share_percent.min <= 0) material.share_percent.min = Limits{}.min;
  material.share_percent.max = 0;
}

Material merged(const MaterialDraft& draft, const Material* built_in,
                std::vector<Content> contents) {
  Material material = built_in != nullptr ? *built_in : Material{};
  material.name = draft.name;
  if (built_in == nullptr) {
    material.family = draft.name;
    material.contains_percent = std::move(contents);
    material.formula = draft.formula.value_or("");
    const std::string clear = clear_family(material);
    if (!clear.empty()) material.family = clear;
  }
  const auto take = [](auto& field, const auto& stated) {
    if (stated) field = *stated;
  };
  take(material.form, draft.form);
  take(material.family, draft.family);
  take(material.price_per_t, draft.price_per_t);
  take(material.freight_per_t, draft.freight_per_t);
  take(material.share_percent, draft.share_percent);
  take(material.min_if_used_percent, draft.min_if_used_percent);
  if (draft.stock_kg) material.stock_kg = draft.stock_kg;
  if (draft.sgn) material.sgn = draft.sgn;
  if (draft.ui) material.ui = draft.ui;
  if (draft.bulk_density_kg_per_m3) {
    material.bulk_density_kg_per_m3 = draft.bulk_density_kg_per_m3;
  }
  if (draft.left_out) leave_out(material);
  take(material.ground, draft.ground);
  if (draft.spread_percent) material.spread_percent = *draft.spread_percent;
  take(material.micronutrient_granule, draft.micronutrient_granule);
  return material;
}

void check_spread_is_of_contents(const Material& material, const std::string& path,
                                 DiagnosticSink& diagnostics) {
  if (diagnostics.touched(below(path, "contains_percent")) ||
      diagnostics.touched(below(path, "formula")))
    return;
  for (const auto& spread : material.spread_percent) {
    if (content_percent(material, spread.name) > 0) continue;
    Suggestion suggestion(spread.name);
    for (const auto& content : material.contains_percent) suggestion.offer(content.name);
    diagnostics.error(codes::spread_without_content,
                      below(below(path, "spread_percent"), spread.name),
                      "a spread must be of something that material " + in_quotes(material.name) +
                          " contains, found " + in_quotes(spread.name) + suggestion.question());
  }
}

void check_form_agrees(const Material& material, const std::string& path,
                       DiagnosticSink& diagnostics) {
  const std::string form = "found form " + std::string(to_string(material.form));
  if (material.ground && material.form != Form::crystal && material.form != Form::fines) {
    diagnostics.error(codes::bad_choice, below(path, "ground"),
                      "ground: true is for crystal and fines that will be ground to a powder, " +
                          form + " of material " + in_quotes(material.name));
  }
  if (material.micronutrient_granule && material.form != Form::granule) {
    diagnostics.error(codes::bad_choice, below(path, "micronutrient_granule"),
                      "micronutrient_granule: true is for granules, " + form + " of material " +
                          in_quotes(material.name) + "; a coating needs no such factor");
  }
}

}  // namespace leastwise
