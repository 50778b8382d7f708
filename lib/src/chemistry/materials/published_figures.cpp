#include "chemistry/materials/published_figures.hpp"

#include <leastwise/catalogue.hpp>

#include <algorithm>
#include <cmath>
#include <map>

#include "base/embedded.hpp"
#include "chemistry/nutrients/data_table.hpp"

namespace leastwise {
namespace {

/// Which published substance a built-in material is a fertilizer grade of.
struct Grade {
  std::string_view built_in;
  std::string_view salt_substance;
  std::string_view acidity_substance;
};

constexpr std::array<Grade, 24> grades{{
    {"urea", "urea", "urea"},
    {"sulfur-coated-urea", "", "sulfur-coated-urea"},
    {"ammonium-nitrate", "ammonium-nitrate", "ammonium-nitrate"},
    {"ammonium-sulfate", "ammonium-sulfate", "ammonium-sulfate"},
    {"calcium-nitrate", "calcium-nitrate", "calcium-nitrate"},
    {"sodium-nitrate", "sodium-nitrate", "sodium-nitrate"},
    {"map", "monoammonium-phosphate", "monoammonium-phosphate"},
    {"dap", "diammonium-phosphate", "diammonium-phosphate"},
    {"calcium-ammonium-nitrate", "", "calcium-ammonium-nitrate"},
    {"ammonium-sulfate-nitrate", "", "ammonium-sulfate-nitrate"},
    {"tsp", "triple-superphosphate", "triple-superphosphate"},
    {"ssp", "single-superphosphate", "single-superphosphate"},
    {"rock-phosphate", "", "rock-phosphate"},
    {"mkp-crystal", "monopotassium-phosphate", ""},
    {"mop", "potassium-chloride", "potassium-chloride"},
    {"sop", "potassium-sulfate", "potassium-sulfate"},
    {"potassium-nitrate", "potassium-nitrate", "potassium-nitrate"},
    {"gypsum", "calcium-sulfate", "gypsum"},
    {"potassium-magnesium-sulfate", "", "potassium-magnesium-sulfate"},
    {"polyhalite", "", "potassium-magnesium-sulfate"},
    {"kieserite", "", "kieserite"},
    {"epsom-salt", "", "epsom-salt"},
    {"limestone-filler", "calcium-carbonate", ""},
    {"dolomite-filler", "calcium-carbonate", ""},
}};

constexpr std::string_view inert_family = "filler";

/// kg of calcium carbonate as strong as a kg of calcium or magnesium in a carbonate or in free
/// lime. Source: molar masses, 100.09 to 40.08 and to 24.31, computed.
constexpr double carbonate_per_calcium = 100.09 / 40.08;
constexpr double carbonate_per_magnesium = 100.09 / 24.305;

/// A lot may differ from the typical grade by so many percentage points of N, P2O5 or K2O.
constexpr double same_grade = 1.5;
/// Of lime and magnesia it may be more; what tells dolomite from limestone is far more than that.
constexpr double same_lime = 5;

bool is_of_grade(const Material& material, const Grade& grade) {
  const Material* typical = find_built_in_material(grade.built_in);
  if (typical == nullptr || typical->family != material.family) return false;
  const auto within = [&](std::string_view nutrient, double points) {
    return std::fabs(content_percent(material, nutrient) - content_percent(*typical, nutrient)) <=
           points;
  };
  return within("N", same_grade) && within("P2O5", same_grade) && within("K2O", same_grade) &&
         within("MgO", same_lime);
}

using Published = std::map<std::string, double, std::less<>>;

Published read(std::string_view file, std::string_view text, std::string_view column,
               double times) {
  const Table table(file, text);
  Published published;
  for (std::size_t row = 0; row < table.size(); ++row)
    if (const auto value = table.optional_number(row, column))
      published.emplace(table.text(row, "substance"), times * *value);
  return published;
}

/// A table by name of substance.
const Published& published(std::string_view name) {
  static const Published salt = read("salt_index.csv", embedded::salt_index_csv(), "salt_index", 1);
  static const Published lime =
      read("acidity.csv", embedded::acidity_csv(), "kg_caco3_per_100_kg", -1);
  return name == salt_index_name ? salt : lime;
}

/// Of goods whose contents tell their lime need by stoichiometry.
std::optional<double> computed_lime_need(const Material& material) {
  if (material.family == "elemental-sulfur")
    return published(lime_need_name).at("sulfur") * content_percent(material, "S") / 100;
  if (material.family != "limestone" && material.family != "lime") return std::nullopt;
  const double strength = carbonate_per_calcium * content_percent(material, "Ca") +
                          carbonate_per_magnesium * content_percent(material, "Mg");
  return strength > 0 ? std::optional(-strength) : std::nullopt;
}

}  // namespace

bool is_published_figure(std::string_view name) {
  return std::ranges::find(published_figure_names, name) != published_figure_names.end();
}

std::optional<double> published_figure(const Material& material, std::string_view name) {
  const auto own = std::ranges::find(material.contains_percent, name, &Content::name);
  if (own != material.contains_percent.end()) return own->percent;
  if (material.family == inert_family) return 0;
  const auto substance =
      name == salt_index_name ? &Grade::salt_substance : &Grade::acidity_substance;
  std::optional<double> value;
  if (name == lime_need_name) value = computed_lime_need(material);
  for (const Grade& grade : grades) {
    if ((grade.*substance).empty() || !is_of_grade(material, grade)) continue;
    const auto found = published(name).find(grade.*substance);
    if (found != published(name).end()) value = found->second;
  }
  return value;
}

}  // namespace leastwise
