#include "analysis/compare/compare_indices.hpp"

#include <leastwise/catalogue.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <optional>

#include "base/embedded.hpp"
#include "chemistry/nutrients/data_table.hpp"
#include "scenario/units.hpp"

namespace leastwise::analysis {
namespace {

/// Which published substance a built-in material is a fertilizer grade of.
struct Grade {
  std::string_view built_in;
  std::string_view salt_substance;
  std::string_view acidity_substance;
};

constexpr std::array<Grade, 22> grades{{
    {"urea", "urea", "urea"},
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
    {"mop", "potassium-chloride", "potassium-chloride"},
    {"sop", "potassium-sulfate", "potassium-sulfate"},
    {"potassium-nitrate", "potassium-nitrate", "potassium-nitrate"},
    {"gypsum", "calcium-sulfate", "gypsum"},
    {"potassium-magnesium-sulfate", "", "potassium-magnesium-sulfate"},
    {"polyhalite", "", "potassium-magnesium-sulfate"},
    {"kieserite", "", "kieserite"},
    {"limestone-filler", "calcium-carbonate", "limestone-filler"},
    {"dolomite-filler", "calcium-carbonate", "dolomite-filler"},
    {"sulfur-bentonite", "", "sulfur-bentonite"},
}};

/// Matter that reacts with nothing and dissolves in nothing counts 0 in both.
constexpr std::string_view inert_family = "filler";

/// A lot may differ from the typical grade by so many percentage points of N, P2O5 or K2O.
constexpr double same_grade = 1.5;
/// Of MgO it may be more; what tells dolomite from limestone is far more than that.
constexpr double same_magnesia = 5;

bool is_of_grade(const Material& material, const Grade& grade) {
  const Material* typical = find_built_in_material(grade.built_in);
  if (typical == nullptr || typical->family != material.family) return false;
  const auto within = [&](std::string_view nutrient, double points) {
    return std::fabs(content_percent(material, nutrient) - content_percent(*typical, nutrient)) <=
           points;
  };
  return within("N", same_grade) && within("P2O5", same_grade) && within("K2O", same_grade) &&
         within("MgO", same_magnesia);
}

using Published = std::map<std::string, double, std::less<>>;

Published read(std::string_view file, std::string_view text, std::string_view column) {
  const Table table(file, text);
  Published published;
  for (std::size_t row = 0; row < table.size(); ++row)
    if (const auto value = table.optional_number(row, column))
      published.emplace(table.text(row, "substance"), *value);
  return published;
}

BlendIndex index_of(const Scenario& scenario, const Blend& blend, const Published& published,
                    std::string_view Grade::*substance) {
  BlendIndex index;
  double sum = 0;
  for (const auto& portion : blend.portions) {
    const auto& material = scenario.materials()[*scenario.index_of(portion.material)];
    std::optional<double> value;
    if (material.family == inert_family) value = 0;
    for (const auto& grade : grades) {
      if ((grade.*substance).empty() || !is_of_grade(material, grade)) continue;
      const auto found = published.find(grade.*substance);
      if (found != published.end()) value = found->second;
    }
    if (!value) {
      index.unknown.push_back(portion.material);
      continue;
    }
    sum += *value * portion.kg_per_t;
    index.known_percent += portion.kg_per_t / 10;
  }
  if (index.known_percent > 0) index.value = sum / kg_per_tonne;
  return index;
}

}  // namespace

BlendIndex salt_index_of(const Scenario& scenario, const Blend& blend) {
  static const Published published =
      read("salt_index.csv", embedded::salt_index_csv(), "salt_index");
  return index_of(scenario, blend, published, &Grade::salt_substance);
}

BlendIndex acidity_of(const Scenario& scenario, const Blend& blend) {
  static const Published published =
      read("acidity.csv", embedded::acidity_csv(), "kg_caco3_per_100_kg");
  return index_of(scenario, blend, published, &Grade::acidity_substance);
}

}  // namespace leastwise::analysis
